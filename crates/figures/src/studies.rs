//! Studies as finished pages: their pictures drawn and laid in.

use crate::drawing::pictures::{edge_profile, season_map, tilt};
use crate::reports::study::{self, AsItWasStudy, EdgeStudy, FitStudy, Study};
use crate::scenes::{Scene, TiltStudy};
use evenfall_canvas::DrawError;
use evenfall_view::{ReportNotes, UnitSystem};

/// The page of a season as it was beside its plan.
///
/// # Errors
/// If a library refuses.
pub fn as_it_was_study(
    study: &AsItWasStudy<'_>,
    notes: &ReportNotes,
    units: UnitSystem,
) -> Result<Study, DrawError> {
    study::as_it_was::study(study, notes, units)
}

/// The page of a trial of edges.
///
/// # Errors
/// If the trial does not fit together, or a library refuses.
pub fn edges_study(
    study: &EdgeStudy<'_>,
    notes: &ReportNotes,
    units: UnitSystem,
) -> Result<Study, DrawError> {
    let scene = Scene::new(&study.trial.scenario, &study.trial.outcome, units)?;
    let pictures = vec![edge_profile::overlay(&scene)?, edge_profile::draw(&scene)?];
    study::edges::study(study, &scene, notes, pictures)
}

/// The page of a trial of ways out where whole turns do not end at the outlets.
///
/// # Errors
/// If the trial does not fit together, or a library refuses.
pub fn fit_study(
    study: &FitStudy<'_>,
    notes: &ReportNotes,
    units: UnitSystem,
) -> Result<Study, DrawError> {
    let scene = Scene::new(&study.trial.scenario, &study.trial.outcome, units)?;
    let pictures = vec![season_map::depth(&scene)?];
    study::fit::study(study, &scene, notes, pictures)
}

/// The page of a trial of tilts.
///
/// # Errors
/// If the trial does not fit together, or a library refuses.
pub fn tilt_study(
    study: &TiltStudy<'_>,
    notes: &ReportNotes,
    units: UnitSystem,
) -> Result<Study, DrawError> {
    study::tilt::study(study, notes, tilt::draw(study, units)?, units)
}
