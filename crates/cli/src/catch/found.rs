//! Everything that is found in one test.

use super::asked::Asked;
use super::overlaps::of_outlets;
use crate::failure::Failure;
use crate::inputs::option;
use evenfall_core::catch::compare::{Comparison, compare};
use evenfall_core::catch::confidence::{Limits, limits};
use evenfall_core::catch::fit::{Fit, FitOptions, K1Found, fit};
use evenfall_core::catch::judge::{Judgment, judge};
use evenfall_core::catch::outliers::outliers;
use evenfall_core::catch::overlap::{TestPattern, overlap};
use evenfall_core::catch::procedure::requirements;
use evenfall_core::catch::rig::{Rig, simulate};
use evenfall_core::catch::{CatchProblem, CatchTest, Kind, Lines, volume};
use evenfall_core::model::{Alternative, Scenario};
use evenfall_figures::{CatchEntry, CatchOverlap};
use evenfall_scenario::catch::CatchFile;
use evenfall_scenario::options as keys;
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
    let (comparison, judgment) = compared(asked, test, units, &mut notes)?;
    Ok(CatchEntry {
        file: file_name.to_owned(),
        limits,
        outliers: outliers(&test.cans, test.can_spacing_m().unwrap_or(1.0)),
        requirements: requirements(test),
        volume: volume::of_grid(test).ok(),
        overlaps,
        fit,
        comparison,
        judgment,
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
    if !asked.options.fit {
        return None;
    }
    if matches!(file.test.kind, Kind::Lines(_)) {
        notes.push(
            "not fitted: under a lateral the sprinklers’ water has run together, so their leg and K1 \
             cannot be fitted can by can; --calibrate with a scenario narrows its doubts by such a test"
                .to_owned(),
        );
        return None;
    }
    let radius_m = asked.fit.radius_m.or(file.wetted_radius_m);
    let options = FitOptions { radius_m, ..asked.fit };
    match fit(&file.test, &options) {
        Ok(found) => {
            notes.extend(notes_of_fit(&found, &file.test, &options));
            Some(found)
        }
        Err(problem) => {
            notes.push(format!("no fit: {problem}"));
            None
        }
    }
}

/// What has to be known of a fit.
fn notes_of_fit(found: &Fit, test: &CatchTest, options: &FitOptions) -> Vec<String> {
    let mut notes = Vec::new();
    if found.explains_nothing() {
        notes.push(format!(
            "these cans cannot be fitted: the best leg explains {} % of what they differ by; do not use it",
            (100.0 * found.r_squared).max(0.0).round()
        ));
    }
    let held = found.rate_intervals.iter().filter(|i| i.is_none()).count();
    if held > 0 {
        notes.push(format!("{held} rates of the leg came out below 0 and are set to 0"));
    }
    let Some(k1) = &found.k1 else {
        notes.push(without_k1(test).to_owned());
        return notes;
    };
    notes.push(format!(
        "K1 fitted with K2 {}, turbulence {} and jet length {} m held fixed",
        options.drag.k2, options.drag.turbulence, options.drag.jet_length_m
    ));
    match k1.found {
        K1Found::Determined => {}
        K1Found::TooWide => notes.push(
            "these cans do not pin down K1: very different values fit them as well; do not use it \
             elsewhere"
                .to_owned(),
        ),
        K1Found::AtEnd => notes.push(
            "K1 could not be fitted: the best value lies at the end of what was tried; do not use it"
                .to_owned(),
        ),
    }
    notes
}

/// Why no K1 was fitted.
fn without_k1(test: &CatchTest) -> &'static str {
    match (&test.kind, test.mean_wind()) {
        (_, None) => "no wind noted: fitted as if in still air, and K1 not at all",
        (Kind::Leg, Some((speed_m_s, _))) if speed_m_s > 0.0 => {
            "a leg is fitted as if in still air; what the wind that you noted did to it is in the leg, \
             and K1 is not fitted"
        }
        _ => "still air: K1 acts in wind alone and is not fitted",
    }
}

/// The lines that water the cans, as an alternative of the scenario has them.
pub(super) fn rig<'a>(scenario: &Scenario, alternative: &'a Alternative) -> Rig<'a> {
    Rig {
        sprinkler: &alternative.sprinkler,
        sprinkler_spacing_m: alternative.lateral.sprinkler_spacing_m,
        losses: scenario.losses,
        losses_factor: scenario.losses_factor(),
        assumed_air: scenario.assumed_air,
    }
}

/// The cans against the simulated pass, and whether the model passes.
type Compared = (Option<Comparison>, Option<Judgment>);

fn compared(
    asked: &Asked<'_>,
    test: &CatchTest,
    units: UnitSystem,
    notes: &mut Vec<String>,
) -> Result<Compared, Failure> {
    let (Some(loaded), Kind::Lines(lines)) = (&asked.scenario, &test.kind) else {
        return Ok((None, None));
    };
    let scenario = &loaded.resolved.scenario;
    let alternative = asked.alternative(loaded)?;
    if lines.at_m.is_empty() {
        let problem = CatchProblem::NotNoted("laterals at");
        notes.push(format!("not compared with the simulated pass: {problem}"));
        return Ok((None, None));
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
    let rig = rig(scenario, alternative);
    let level = asked.fit.confidence_level;
    let across_m = across_m(asked, lines, alternative.outlets.spacing_m)?;
    let both = simulate(test, &rig).and_then(|depths_mm| {
        Ok((compare(test, &depths_mm, level)?, judge(test, &depths_mm, Some(across_m), level)))
    });
    match both {
        Ok((comparison, judgment)) => {
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
            if let Err(problem) = &judgment {
                notes.push(format!("no pass to judge the model by: {problem}"));
            }
            Ok((Some(comparison), judgment.ok()))
        }
        Err(problem) => {
            notes.push(format!("not compared with the simulated pass: {problem}"));
            Ok((None, None))
        }
    }
}

/// The spacing at which one lateral's cans are overlapped: asked for, noted in the file, or else the
/// scenario's.
pub(super) fn across_m(asked: &Asked<'_>, lines: &Lines, scenario_m: f64) -> Result<f64, Failure> {
    match &asked.options.outlet_spacing {
        Some(text) => option("outlet-spacing", text, keys::outlet_spacing),
        None => Ok(lines.outlet_spacing_m.unwrap_or(scenario_m)),
    }
}
