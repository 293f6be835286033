//! The soil with its defaults.

use crate::file::SoilFile;
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use evenfall_core::soil::{Soil, SoilProblem};

/// The soil, and how much of its available water is missing at planting.
pub(crate) fn soil(given: &SoilFile, notes: &mut Notes<'_>) -> Option<(Soil, f64)> {
    let at = &given.at.pointer;
    let start_depletion =
        SoilFile::start_depletion.or_start(Some(&given.start_depletion), at, notes);
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
