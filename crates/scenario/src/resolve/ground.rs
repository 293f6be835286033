//! Soil and climate with their defaults.

use super::{Notes, decimals};
use crate::file::{ClimateFile, Et0File, SoilFile};
use crate::issue::Issue;
use evenfall_core::soil::{Soil, SoilProblem};
use evenfall_core::worth::{Et0, RainDay};

/// The soil, and how much of its available water is missing at planting.
pub(crate) fn soil(given: &SoilFile, notes: &mut Notes<'_>) -> Option<(Soil, f64)> {
    let at = &given.at.pointer;
    let start_depletion = given.start_depletion.as_ref().map_or_else(
        || {
            let why = "the soil is taken as full on the day of planting";
            notes.assume(&format!("{at}/start_depletion"), "0 %", why);
            0.0
        },
        |share| share.value,
    );
    let soil = match &given.texture {
        Some(texture) => {
            let soil = texture.0.soil();
            let why = "middle of the ranges of FAO-56 (Allen et al. 1998), Table 19";
            let contents =
                [("field_capacity", soil.field_capacity), ("wilting_point", soil.wilting_point)];
            for (key, content) in contents {
                notes.assume(&format!("{at}/{key}"), decimals(content, 4), why);
            }
            soil
        }
        // The reader has seen to it that both are there.
        None => Soil {
            field_capacity: given.field_capacity.as_ref()?.value,
            wilting_point: given.wilting_point.as_ref()?.value,
        },
    };
    let problems = soil.problems();
    for problem in &problems {
        notes.issues.push(told(given, *problem));
    }
    problems.is_empty().then_some((soil, start_depletion))
}

fn told(given: &SoilFile, problem: SoilProblem) -> Issue {
    let at = given.wilting_point.as_ref().map_or(&given.at, |content| &content.at);
    let issue = Issue::new(at, problem.to_string());
    match problem {
        SoilProblem::NothingAvailable { .. } => {
            issue.allowed("less than `field_capacity`").hint("Are the two mixed up?")
        }
        SoilProblem::OutOfRange { .. } => issue,
    }
}

/// Reference evapotranspiration and rain.
pub(crate) fn climate(given: &ClimateFile, notes: &mut Notes<'_>) -> (Et0, Vec<RainDay>) {
    let et0 = match &given.et0 {
        Et0File::Constant(rate) => Et0::Constant(rate.value * 24.0),
        Et0File::Ways(ways) => Et0::Monthly(ways.monthly.0.map(|rate| rate * 24.0)),
    };
    let Some(rain) = &given.rain else {
        let what = format!("{}/rain", given.at.pointer);
        notes.assume(&what, "none", "a season without rain");
        return (et0, Vec::new());
    };
    let mut days: Vec<RainDay> = Vec::with_capacity(rain.items.len());
    for rain in &rain.items {
        let date = rain.date.value;
        if days.iter().any(|known| known.date == date) {
            notes.warn(format!("rain is given more than once for {date}: the depths add up"));
        }
        days.push(RainDay { date, depth_mm: rain.depth.value * 1000.0 });
    }
    (et0, days)
}
