//! What many seasons are run on.

use crate::doubt::draws::Ranges;
use crate::model::Scenario;
use crate::root_zone::ground::Ground;
use crate::season::HoursLaid;

/// What many seasons are run on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Subject<'a> {
    /// The scenario.
    pub(crate) scenario: &'a Scenario,
    /// Crop and soil.
    pub(crate) ground: &'a Ground,
    /// What is drawn anew for every two seasons; `None` where all is taken as it stands.
    pub(crate) doubts: Option<&'a Ranges>,
    /// How the water of every hour is laid.
    pub(crate) hours_laid: HoursLaid,
    /// Number of the season to begin with, from 0.
    pub(crate) first: usize,
    /// Whether maps are averaged over the seasons; figures alone are cheaper.
    pub(crate) keeps_maps: bool,
}
