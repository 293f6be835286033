//! Studies as finished pages: their pictures drawn and laid in.

use crate::drawing::pictures::{edge_profile, tilt};
use crate::error::DrawError;
use crate::reports::study::{self, EdgeStudy, Study};
use crate::scenes::{Scene, TiltStudy};
use evenfall_view::{ReportNotes, UnitSystem};

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
