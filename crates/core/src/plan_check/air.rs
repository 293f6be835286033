//! The air that a plan's sets meet: the share of the water that reaches the ground, and the wind.
//!
//! Means over the hours with water of the first season, by time. The wind is brought to 2 m over grass
//! (FAO-56 equation 47), the height of the losses' formulas; tables of spacing against wind do not say
//! at which height they mean it.

use crate::schedule::Plan;
use crate::season::hours::SeasonHours;
use crate::weather::profile::speed_at_2_m;

/// What the air does to the water of a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AirMet {
    /// Share of the water that reaches the ground, 0–1: one less wind drift and evaporation.
    pub net_share: f64,
    /// Mean wind in the hours with water, m/s at 2 m.
    pub wind_2_m_s: f64,
}

impl AirMet {
    /// That of `plan`, whose hours are among `hours`; `None` where no water runs.
    pub(super) fn of(hours: &SeasonHours, plan: &Plan) -> Option<Self> {
        let (mut time_h, mut net_h, mut path) = (0.0, 0.0, 0.0);
        for set in plan.passes.iter().flat_map(|pass| &pass.sets) {
            for slice in hours.slices_of(set) {
                time_h += slice.hours;
                net_h += slice.hours * slice.net;
                path += slice.hours * slice.speed_m_s;
            }
        }
        let wind_2_m_s = speed_at_2_m(path / time_h, hours.wind_range().measured_at_m)?;
        (time_h > 0.0).then_some(Self { net_share: net_h / time_h, wind_2_m_s })
    }
}
