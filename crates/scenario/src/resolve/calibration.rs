//! Catch tests put to use: the sprinklers of the point used, and the points for the doubts.

use crate::file::{CalibrationFile, PointFile, ScenarioFile, TestFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, sha256};
use crate::read::optional;
use evenfall_core::calibration::{Calibration, SprinklerPoint, TestName};
use evenfall_core::doubt::apply::at_point;
use evenfall_core::model::Alternative;
use evenfall_core::sprinkler::{DragCorrection, Sprinkler};
use std::fmt::Write as _;
use std::sync::Arc;

/// Parts of the radius at which a pattern is looked at.
const LOOKS: usize = 20;

/// Fingerprint of what a calibration holds for: how the water leaves, what the pattern lays in still air,
/// and what K1 and K2 mean. Hexadecimal SHA-256 of numbers to six digits, so that units do not matter.
pub fn sprinkler_fingerprint(sprinkler: &Sprinkler) -> String {
    let drag = &sprinkler.drag;
    let mut text = format!("{:?} {}", drag.form, drag.flattens);
    for jet in &sprinkler.jets {
        let (leg, launch) = (jet.leg(), &jet.launch);
        let radius_m = leg.radius_m();
        let rates = (0..LOOKS).map(|look| leg.rate_at(radius_m * look as f64 / LOOKS as f64));
        let numbers = [
            launch.pressure_kpa,
            launch.trajectory_angle_deg,
            launch.nozzle_height_m,
            radius_m,
            leg.discharge_l_s(),
        ];
        for number in numbers.into_iter().chain(rates) {
            // Writing to a String cannot fail.
            let _ = write!(text, " {number:.5e}");
        }
    }
    sha256(text.as_bytes())
}

/// The calibration, its point used put into the sprinklers of `alternatives`; `None` without one, or with
/// one that does not go with the sprinklers.
pub(super) fn resolve(
    file: &ScenarioFile,
    alternatives: &mut [Alternative],
    notes: &mut Notes<'_>,
) -> Option<Arc<Calibration>> {
    let given = optional(&file.calibration)?;
    let tests = given.tests.items.iter().map(test).collect();
    let points = given.points.items.iter().map(point).collect();
    let calibration = Calibration::new(tests, points)?;
    let tested = |alternative: &Alternative| {
        sprinkler_fingerprint(&alternative.sprinkler) == given.sprinkler_sha256.value
    };
    let Some(stated) = alternatives.iter().find(|own| tested(own)).map(|own| own.sprinkler.drag)
    else {
        refuse(given, notes);
        return None;
    };
    let used = *calibration.used();
    for alternative in alternatives.iter_mut() {
        if !tested(alternative) {
            notes.warn(format!(
                "{}: its sprinkler is not the one that was tested; the tests’ numbers are taken for it too",
                alternative.name
            ));
        }
        let drag =
            with_own(used.drag(alternative.sprinkler.drag), &alternative.sprinkler.drag, &stated);
        match at_point(&alternative.sprinkler, drag, used.radius) {
            Ok(sprinkler) => alternative.sprinkler = sprinkler,
            Err(problem) => {
                let at = &given.points.at;
                notes.issues.push(Issue::new(&at.opening(), problem.to_string()));
            }
        }
    }
    tell(&calibration, notes);
    Some(Arc::new(calibration))
}

fn test(given: &TestFile) -> TestName {
    TestName {
        title: given.title.value.clone(),
        file_name: given.file_name.value.clone(),
        date: given.date.as_ref().map(|date| date.value.clone()),
        sha256: given.sha256.value.clone(),
    }
}

fn point(given: &PointFile) -> SprinklerPoint {
    SprinklerPoint {
        k1: given.k1.value,
        k2: given.k2.value,
        turbulence: given.turbulence.value,
        jet_length_m: given.jet_length.value,
        radius: given.radius.value,
        losses: given.losses.value,
    }
}

/// `drag` with what sets a sprinkler with a drag of its own apart from the one that was tested.
fn with_own(drag: DragCorrection, own: &DragCorrection, stated: &DragCorrection) -> DragCorrection {
    DragCorrection {
        k1: (drag.k1 + own.k1 - stated.k1).max(0.0),
        k2: (drag.k2 + own.k2 - stated.k2).clamp(0.0, 0.95),
        turbulence: (drag.turbulence + own.turbulence - stated.turbulence).max(0.0),
        jet_length_m: (drag.jet_length_m + own.jet_length_m - stated.jet_length_m).max(0.0),
        ..drag
    }
}

fn refuse(given: &CalibrationFile, notes: &mut Notes<'_>) {
    let problem = "the calibration was made for another sprinkler: nozzle or pattern, pressure, height, \
                   angle or form of the drag differ from those that were tested";
    let hint =
        "Run `evenfall catch --calibrate` again with this sprinkler, or remove `calibration`.";
    notes.issues.push(Issue::new(&given.sprinkler_sha256.at, problem).hint(hint));
}

/// Tells whose numbers are used.
fn tell(calibration: &Calibration, notes: &mut Notes<'_>) {
    let used = calibration.used();
    let with = calibration.words();
    let numbers = [
        ("k1", decimals(used.k1, 2)),
        ("k2", decimals(used.k2, 2)),
        ("turbulence", decimals(used.turbulence, 3)),
        ("jet_length", decimals(used.jet_length_m, 2) + " m"),
    ];
    let is_of_drag = |what: &str| what.contains("/drag/") && !what.ends_with("/form");
    notes.assumptions.retain(|assumption| !is_of_drag(&assumption.what));
    for (key, value) in numbers {
        notes.assume(&format!("/sprinkler/drag/{key}"), value, with.clone());
    }
    notes.warn(format!(
        "{with}: K1 {}, K2 {}, turbulence {}, jet length {} m, radius {} % and losses {} % of those stated. \
         `evenfall worth` draws these doubts from the {} points that your tests leave",
        decimals(used.k1, 2),
        decimals(used.k2, 2),
        decimals(used.turbulence, 3),
        decimals(used.jet_length_m, 2),
        decimals(100.0 * used.radius, 1),
        decimals(100.0 * used.losses, 0),
        calibration.points().len()
    ));
}
