//! The crop: a table's entry with the scenario's own keys laid over, or a crop of one's own.

use super::crop_names::{self, Named};
use crate::file::{CropFile, KcFile, RootsFile, StagesFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, length};
use crate::read_quantity::Quantity;
use evenfall_core::crop::table::{CROPS, CropEntry};
use evenfall_core::crop::{Crop, CropCoefficients, CropProblem, RootDepth, StageLengths};

/// The crop; `None` if something about it is bad.
pub(crate) fn resolve(given: &CropFile, notes: &mut Notes<'_>) -> Option<Crop> {
    let named = crop_names::of(given);
    if let Some(Named { entry, why: Some(why) }) = &named {
        notes.assume(&format!("{}/name", given.at.pointer), entry.name, why.as_str());
    }
    let named = named.map(|named| named.entry);
    let tabulated = named.map(CropEntry::crop);
    match (named, &tabulated) {
        (Some(entry), Some(crop)) => tell(given, entry, crop, notes),
        _ => check_own(given, notes)?,
    }
    let stages = given.stages.as_ref().map(|stages| {
        let cuts: Vec<_> = stages.cuts.iter().map(|cut| lengths(cut, notes)).collect();
        cuts.into_iter().collect::<Option<Vec<_>>>()
    });
    let table = tabulated.as_ref();
    let crop = Crop {
        kc: given.kc.as_ref().map(coefficients).or(table.map(|crop| crop.kc))?,
        cycles: stages.unwrap_or_else(|| table.map(|crop| crop.cycles.clone()))?,
        roots: given.roots.as_ref().map(depths).or(table.map(|crop| crop.roots))?,
        depletion_fraction: given
            .allowable_depletion
            .as_ref()
            .map(|fraction| fraction.value)
            .or(table.map(|crop| crop.depletion_fraction))?,
        yield_response: given
            .yield_response
            .as_ref()
            .map(|response| response.value)
            .or(table.map(|crop| crop.yield_response))?,
    };
    let problems = crop.problems();
    for problem in &problems {
        notes.issues.push(told(given, problem));
    }
    problems.is_empty().then_some(crop)
}

/// What the tables call the crop, or else its own name.
pub(super) fn name(given: &CropFile) -> &str {
    match crop_names::of(given) {
        Some(Named { entry, why: Some(_) }) => entry.name,
        _ => &given.name.value,
    }
}

/// A crop that is in no table must have all its keys.
fn check_own(given: &CropFile, notes: &mut Notes<'_>) -> Option<()> {
    let missing = crop_names::missing_keys(given);
    if missing.is_empty() {
        return Some(());
    }
    let quoted = |name: &str| format!("\"{name}\"");
    let near: Vec<String> = crop_names::near(&given.name.value).into_iter().map(quoted).collect();
    let near = if near.is_empty() {
        String::new()
    } else {
        format!("Did you mean {}? ", near.join(" or "))
    };
    let list = CROPS.iter().map(|entry| quoted(entry.name)).collect::<Vec<_>>().join(", ");
    let problem = format!("the crop \"{}\" is not in the tables", given.name.value);
    let hint = format!(
        "{near}A crop of your own also needs the keys {}.",
        missing.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(", ")
    );
    notes.issues.push(Issue::new(&given.name.at, problem).allowed(list).hint(hint));
    None
}

/// Tells what comes from the tables.
fn tell(given: &CropFile, entry: &CropEntry, crop: &Crop, notes: &mut Notes<'_>) {
    let mut assume = |key: &str, is_given: bool, value: String, why: String| {
        if !is_given {
            let note = if entry.note.is_empty() { "" } else { "; " };
            notes.assume(
                &format!("{}/{key}", given.at.pointer),
                value,
                format!("FAO-56 (Allen et al. 1998), {why}{note}{}", entry.note),
            );
        }
    };
    let CropCoefficients { ini, mid, end } = crop.kc;
    assume(
        "kc",
        given.kc.is_some(),
        format!("{ini} initial, {mid} in mid-season, {end} at the end"),
        "Table 12, not adjusted to the climate of the place".to_owned(),
    );
    let cuts: Vec<String> = crop.cycles.iter().map(days_of).collect();
    assume(
        "stages",
        given.stages.is_some(),
        format!("{} days", cuts.join(" | ")),
        format!("Table 11 ({})", entry.region),
    );
    assume(
        "roots",
        given.roots.is_some(),
        format!("{} to {}", length(crop.roots.at_planting_m), length(crop.roots.full_m)),
        "Table 22, the smaller end; depth at planting assumed".to_owned(),
    );
    assume(
        "allowable_depletion",
        given.allowable_depletion.is_some(),
        crop.depletion_fraction.to_string(),
        "Table 22".to_owned(),
    );
    assume(
        "yield_response",
        given.yield_response.is_some(),
        crop.yield_response.to_string(),
        "Table 24 (after FAO-33, Doorenbos & Kassam 1979)".to_owned(),
    );
}

fn days_of(stages: &StageLengths) -> String {
    let StageLengths { initial_days, development_days, mid_days, late_days } = stages;
    format!("{initial_days} + {development_days} + {mid_days} + {late_days}")
}

fn coefficients(given: &KcFile) -> CropCoefficients {
    CropCoefficients { ini: given.ini.value, mid: given.mid.value, end: given.end.value }
}

fn depths(given: &RootsFile) -> RootDepth {
    RootDepth { at_planting_m: given.at_planting.value, full_m: given.full.value }
}

fn lengths(given: &StagesFile, notes: &mut Notes<'_>) -> Option<StageLengths> {
    let mut whole = |length: &Quantity<crate::limits::StageLength>| {
        let days = length.value / 24.0;
        if (days - days.round()).abs() > 1e-6 {
            let problem = format!("\"{}\" is {} days", length.text, decimals(days, 3));
            notes.issues.push(Issue::new(&length.at, problem).allowed("whole days"));
            return None;
        }
        Some(days.round() as u32)
    };
    let (initial, development) = (whole(&given.initial), whole(&given.development));
    let (mid, late) = (whole(&given.mid), whole(&given.late));
    Some(StageLengths {
        initial_days: initial?,
        development_days: development?,
        mid_days: mid?,
        late_days: late?,
    })
}

/// The core's problem at the key it comes from.
fn told(given: &CropFile, problem: &CropProblem) -> Issue {
    let at = match problem {
        CropProblem::SeasonLength { .. } => given.stages.as_ref().map(|stages| stages.at.opening()),
        CropProblem::RootsShrink { .. } => {
            given.roots.as_ref().map(|roots| roots.at_planting.at.clone())
        }
        CropProblem::OutOfRange { .. } => None,
    };
    Issue::new(&at.unwrap_or_else(|| given.at.opening()), problem.to_string())
}
