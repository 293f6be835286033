//! Everything that is found in one test.

use super::asked::Asked;
use super::overlaps::of_outlets;
use crate::failure::Failure;
use evenfall_core::catch::compare::{Comparison, compare};
use evenfall_core::catch::confidence::{Limits, limits};
use evenfall_core::catch::fit::{Fit, FitOptions, K1Found, fit};
use evenfall_core::catch::outliers::outliers;
use evenfall_core::catch::overlap::{TestPattern, overlap};
use evenfall_core::catch::procedure::requirements;
use evenfall_core::catch::rig::{Rig, simulate};
use evenfall_core::catch::{CatchProblem, CatchTest, Kind, volume};
use evenfall_figures::{CatchEntry, CatchOverlap};
use evenfall_scenario::catch::CatchFile;
use evenfall_view::UnitSystem;
use evenfall_view::units::Quantity;

/// Works up a test as the options ask; what cannot be found becomes a note.
pub(super) fn of(
    asked: &Asked<'_>,
    file_name: &str,
    file: &CatchFile,
    units: UnitSystem,
) -> Result<CatchEntry, Failure> {
    let test = &file.test;
    let mut notes = notes_of(file);
    let limits = uniformity(test, asked.fit.confidence_level, &mut notes);
    let overlaps = overlaps(asked, test, units, &mut notes);
    let fit = fitted(asked, file, &mut notes);
    let comparison = compared(asked, test, units, &mut notes)?;
    Ok(CatchEntry {
        file: file_name.to_owned(),
        limits,
        outliers: outliers(&test.cans, test.can_spacing_m().unwrap_or(1.0)),
        requirements: requirements(test),
        volume: volume::of_grid(test).ok(),
        overlaps,
        fit,
        comparison,
        notes,
        test: test.clone(),
    })
}

/// What the file left open.
fn notes_of(file: &CatchFile) -> Vec<String> {
    let mut notes = file.warnings.clone();
    let assumed =
        |a: &evenfall_scenario::Assumption| format!("{} taken as {} ({})", a.what, a.value, a.why);
    notes.extend(file.assumptions.iter().map(assumed));
    match (file.test.missing(), file.test.blanks_as_dry) {
        (0, 0) => {}
        (0, dry) => notes.push(format!("blank cans counted as dry, as the file says: {dry}")),
        (missing, _) => {
            notes.push(format!("blank cans left out as missing, as the file says: {missing}"));
        }
    }
    notes
}

/// CU and DUlq of cans under laterals; around one sprinkler they mean nothing before an overlap.
fn uniformity(test: &CatchTest, level: f64, notes: &mut Vec<String>) -> Option<Limits> {
    let Kind::Lines(lines) = &test.kind else { return None };
    if lines.at_m.len() == 1 {
        notes.push(
            "cans under one lateral only: CU and DUlq come from its overlap (--outlet-spacing, or `outlet \
             spacing` in the file)"
                .to_owned(),
        );
        return None;
    }
    match limits(&test.depths_mm(), level) {
        Ok(found) => {
            if found.cu.is_none() {
                notes.push(
                    "too few cans (or all alike) for confidence intervals of CU and DUlq"
                        .to_owned(),
                );
            }
            Some(found)
        }
        Err(problem) => {
            notes.push(format!("no CU and DUlq: {problem}"));
            None
        }
    }
}

fn overlaps(
    asked: &Asked<'_>,
    test: &CatchTest,
    units: UnitSystem,
    notes: &mut Vec<String>,
) -> Vec<CatchOverlap> {
    let of_lateral = matches!(test.kind, Kind::Lines(_));
    let is_one_line = matches!(&test.kind, Kind::Lines(lines) if lines.at_m.len() == 1);
    // Cans under several laterals hold their sum already: nothing to overlap.
    if of_lateral && !is_one_line {
        return Vec::new();
    }
    let wanted = match &test.kind {
        Kind::Lines(lines) if asked.overlaps.is_empty() => {
            of_outlets(lines.outlet_spacing_m, units)
        }
        _ => asked.overlaps.clone(),
    };
    if wanted.is_empty() {
        return Vec::new();
    }
    let pattern = match TestPattern::of(test) {
        Ok(pattern) => pattern,
        Err(problem) => {
            notes.push(format!("not overlapped: {problem}"));
            return Vec::new();
        }
    };
    if pattern.is_cut_off(!of_lateral) {
        notes.push(
            "cans at the edge are wet: water that fell beyond them is missing from the overlap and from \
             the volume caught"
                .to_owned(),
        );
    }
    let mut found = Vec::new();
    for wanted in &wanted {
        let Some(spacing) = wanted.spacing(of_lateral) else {
            notes.push("not overlapped: --sprinkler-spacing is missing".to_owned());
            return found;
        };
        match overlap(&pattern, spacing, &wanted.shifts) {
            Ok(overlapped) => {
                found.push(CatchOverlap { words: wanted.words.clone(), overlapped });
            }
            Err(problem) => notes.push(format!("{}: {problem}", wanted.words)),
        }
    }
    found
}

fn fitted(asked: &Asked<'_>, file: &CatchFile, notes: &mut Vec<String>) -> Option<Fit> {
    if !asked.options.fit || matches!(file.test.kind, Kind::Lines(_)) {
        return None;
    }
    let radius_m = asked.fit.radius_m.or(file.wetted_radius_m);
    let options = FitOptions { radius_m, ..asked.fit };
    match fit(&file.test, &options) {
        Ok(found) => {
            let held = found.rate_intervals.iter().filter(|i| i.is_none()).count();
            if held > 0 {
                notes.push(format!("{held} rates of the leg came out below 0 and are set to 0"));
            }
            if let Some(k1) = &found.k1 {
                notes.push(format!(
                    "K1 fitted with K2 {}, turbulence {} and jet length {} m held fixed",
                    options.drag.k2, options.drag.turbulence, options.drag.jet_length_m
                ));
                if k1.found != K1Found::Determined {
                    notes.push("these cans do not pin down K1; do not use it elsewhere".to_owned());
                }
            }
            Some(found)
        }
        Err(problem) => {
            notes.push(format!("no fit: {problem}"));
            None
        }
    }
}

fn compared(
    asked: &Asked<'_>,
    test: &CatchTest,
    units: UnitSystem,
    notes: &mut Vec<String>,
) -> Result<Option<Comparison>, Failure> {
    let (Some(loaded), Kind::Lines(lines)) = (&asked.scenario, &test.kind) else {
        return Ok(None);
    };
    let scenario = &loaded.resolved.scenario;
    let number = asked.options.alternative;
    let Some(alternative) = scenario.alternatives.get(usize::from(number).saturating_sub(1)) else {
        let has = scenario.alternatives.len();
        return Err(Failure::Usage(format!("--alternative {number}: the scenario has {has}")));
    };
    if lines.at_m.is_empty() {
        let problem = CatchProblem::NotNoted("laterals at");
        notes.push(format!("not compared with the simulated pass: {problem}"));
        return Ok(None);
    }
    let spacing_m = alternative.lateral.sprinkler_spacing_m;
    if let Some(noted_m) = lines.sprinkler_spacing_m
        && (noted_m - spacing_m).abs() > 0.01
    {
        notes.push(format!(
            "the file gives a sprinkler spacing of {}, the scenario {}; the scenario’s is used",
            units.text(Quantity::Length, noted_m, 1),
            units.text(Quantity::Length, spacing_m, 1)
        ));
    }
    let rig = Rig {
        sprinkler: &alternative.sprinkler,
        sprinkler_spacing_m: spacing_m,
        losses: scenario.losses,
        assumed_air: scenario.assumed_air,
    };
    let compared = simulate(test, &rig).and_then(|d| compare(test, &d, asked.fit.confidence_level));
    match compared {
        Ok(comparison) => {
            notes.push(format!(
                "simulated as in “{}” in the wind you noted; losses: {}",
                alternative.name,
                scenario.losses.name()
            ));
            if test.wind.is_empty() {
                notes.push("no wind noted: simulated in still air".to_owned());
            }
            if test.air.by_day.is_none() {
                notes.push("no `start` noted: daytime losses used".to_owned());
            }
            Ok(Some(comparison))
        }
        Err(problem) => {
            notes.push(format!("not compared with the simulated pass: {problem}"));
            Ok(None)
        }
    }
}
