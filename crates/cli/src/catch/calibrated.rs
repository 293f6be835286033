//! Tests put to use: the doubts about a scenario's sprinkler narrowed by them, and written beside it.

use super::asked::Asked;
use super::found::{across_m, rig};
use crate::failure::Failure;
use crate::inputs::{Loaded, option, shown};
use crate::stopping;
use crate::terminal::Voice;
use crate::whole;
use evenfall_core::calibration::{Calibration, SprinklerPoint};
use evenfall_core::catch::calibrate::{
    Calibrated, CalibrationOptions, CalibrationProblem, calibrate,
};
use evenfall_core::catch::judge::{Judgment, judge};
use evenfall_core::catch::rig::{Rig, simulate};
use evenfall_core::catch::{CatchTest, Kind};
use evenfall_core::doubt::apply::at_point;
use evenfall_core::model::Alternative;
use evenfall_figures::CatchCalibration;
use evenfall_scenario::catch::CatchFile;
use evenfall_scenario::{options as keys, sprinkler_fingerprint};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// What a run counts.
const RUNS: (&str, &str) = ("Simulating your tests", "runs");

/// Calibrates by all tests together, and writes the scenario if that is asked for.
pub(super) fn find(
    asked: &Asked<'_>,
    files: &[PathBuf],
    read: &[CatchFile],
    voice: Voice,
) -> Result<CatchCalibration, Failure> {
    let Some(loaded) = &asked.scenario else {
        return Err(Failure::Usage("--calibrate needs --scenario".to_owned()));
    };
    let alternative = asked.alternative(loaded)?;
    if loaded.resolved.scenario.calibration.is_some() {
        return Err(Failure::Usage(
            "--calibrate: the scenario is calibrated already. Start from the one without `calibration`, and \
             give all tests together: each would otherwise count twice"
                .to_owned(),
        ));
    }
    let target = asked.options.calibrated.as_deref();
    if let Some(target) = target {
        check(target, loaded)?;
    }
    let tests: Vec<CatchTest> = read.iter().map(|file| file.test.clone()).collect();
    let can_error = asked.options.can_error.as_ref();
    let can_error = can_error.map(|text| option("can-error", text, keys::can_error)).transpose()?;
    let options = CalibrationOptions { can_error, ..CalibrationOptions::default() };
    let rig = rig(&loaded.resolved.scenario, alternative);
    let stop = stopping::flag()?;
    let found = voice
        .watched(RUNS, &stop, |go_on| calibrate(&rig, &tests, &options, go_on))
        .map_err(|problem| refused(&problem, read))?;
    let calibration = Calibration::new(Vec::new(), found.points.clone())
        .ok_or_else(|| Failure::Fault("a calibration without points".to_owned()))?;
    let judged = tests
        .iter()
        .map(|test| judged(asked, test, &rig, alternative, calibration.used()))
        .collect::<Result<_, Failure>>()?;
    if let Some(target) = target {
        let names = test_names(files, read);
        save(target, &with_section(loaded, alternative, &found, &names)?)?;
    }
    Ok(CatchCalibration {
        found,
        alternative: alternative.name.clone(),
        judged,
        saved: target.map(|target| target.display().to_string()),
    })
}

fn refused(problem: &CalibrationProblem, read: &[CatchFile]) -> Failure {
    if let CalibrationProblem::Stopped { done, total } = problem {
        return Failure::Interrupted(format!("after run {done} of {total}. Nothing was written"));
    }
    let titles: Vec<&str> = read.iter().map(|file| file.test.title.as_str()).collect();
    Failure::Season(format!("not calibrated by “{}”: {problem}", titles.join("”, “")))
}

/// Whether the model passes a test with the numbers of the point used.
fn judged(
    asked: &Asked<'_>,
    test: &CatchTest,
    rig: &Rig<'_>,
    alternative: &Alternative,
    used: &SprinklerPoint,
) -> Result<Option<Judgment>, Failure> {
    let Kind::Lines(lines) = &test.kind else { return Ok(None) };
    let across_m = across_m(asked, lines, alternative.outlets.spacing_m)?;
    let stated = rig.sprinkler;
    let Ok(sprinkler) = at_point(stated, used.drag(stated.drag), used.radius) else {
        return Ok(None);
    };
    let losses_factor = rig.losses_factor * used.losses;
    let rig = Rig { sprinkler: &sprinkler, losses_factor, ..*rig };
    let level = asked.fit.confidence_level;
    Ok(simulate(test, &rig).and_then(|depths| judge(test, &depths, Some(across_m), level)).ok())
}

/// A new file in the scenario's own folder: the files that it names lie there, and nothing that was there
/// is replaced.
fn check(target: &Path, loaded: &Loaded) -> Result<(), Failure> {
    let shown = target.display();
    if target.exists() {
        return Err(Failure::Files(format!("`{shown}` exists already: name another file")));
    }
    let folder = |path: &Path| {
        let folder = if path.as_os_str().is_empty() { Path::new(".") } else { path };
        folder.canonicalize().ok()
    };
    let beside = folder(&loaded.folder);
    if folder(target.parent().unwrap_or(Path::new("."))) != beside {
        return Err(Failure::Usage(format!(
            "--calibrated {shown}: name a file in the scenario’s own folder, where the files that it names lie"
        )));
    }
    Ok(())
}

/// The tests as the scenario names them.
fn test_names(files: &[PathBuf], read: &[CatchFile]) -> Vec<Value> {
    let name = |(path, file): (&PathBuf, &CatchFile)| {
        let mut test = json!({ "title": file.test.title, "file_name": shown(path) });
        if let Some(start) = &file.start {
            test["date"] = start.as_str().into();
        }
        test["sha256"] = file.sha256.as_str().into();
        test
    };
    files.iter().zip(read).map(name).collect()
}

/// The scenario's text with the section `calibration`, a point to a line.
fn with_section(
    loaded: &Loaded,
    alternative: &Alternative,
    found: &Calibrated,
    tests: &[Value],
) -> Result<String, Failure> {
    let fault = |error: serde_json::Error| Failure::Fault(format!("the calibration: {error}"));
    let mut scenario: Value = serde_json::from_str(&loaded.text).map_err(fault)?;
    scenario["calibration"] = json!({
        "tests": tests,
        "sprinkler_sha256": sprinkler_fingerprint(&alternative.sprinkler),
        "points": POINTS,
    });
    let text = serde_json::to_string_pretty(&scenario).map_err(fault)?;
    let points: Vec<String> = found.points.iter().map(line).collect();
    let points = format!("[\n      {}\n    ]", points.join(",\n      "));
    Ok(text.replacen(&format!("\"{POINTS}\""), &points, 1) + "\n")
}

/// Stands for the points until the rest is laid out.
const POINTS: &str = "the points, one to a line";

fn line(point: &SprinklerPoint) -> String {
    format!(
        "{{ \"k1\": {:.4}, \"k2\": {:.4}, \"turbulence\": {:.5}, \"jet_length\": \"{:.3} m\", \
         \"radius\": \"{:.2} %\", \"losses\": \"{:.1} %\" }}",
        point.k1,
        point.k2,
        point.turbulence,
        point.jet_length_m,
        100.0 * point.radius,
        100.0 * point.losses
    )
}

fn save(target: &Path, text: &str) -> Result<(), Failure> {
    whole::write_new(target, text.as_bytes()).map_err(|error| {
        let shown = target.display();
        Failure::Files(format!("cannot write `{shown}`: {error}. Nothing is left behind"))
    })
}
