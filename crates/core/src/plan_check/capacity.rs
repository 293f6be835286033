//! Flow per area of the line, with the share of the time that it runs, beside the crop's peak use.
//!
//! Capacity = flow · hours with water / (hours between irrigations · area of the sets); needed is ETc of
//! the peak week over the share of the water that reaches the ground (SCS NEH 15-11; Keller & Bliesner
//! 1990: gross capacity from peak use and application efficiency, from memory, high). 1 L/s on a
//! hectare is 8.64 mm a day; 1 gpm on an acre 0.0530 in a day. Flow is that into the line, and the
//! efficiency holds leaks, wind drift and evaporation; uneven water and runoff ask for more.

use super::application::Application;
use super::interval::Interval;
use super::peak::PeakUse;
use super::yardstick::Yardstick;
use crate::model::Alternative;
use crate::schedule::Plan;

/// mm a day of 1 L/s on a hectare.
const MM_D_PER_L_S_HA: f64 = 8.64;

/// Flow per area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capacity {
    /// Area that the sets of a pass serve, m².
    pub area_m2: f64,
    /// Flow of all lines that water at once while water runs, L/s per hectare of that area.
    pub running_l_s_ha: f64,
    /// Share of the time that water runs, 0–1.
    pub running_share: f64,
    /// Flow with the time it runs against the need at peak use, L/s per hectare; `None` without crop
    /// and soil.
    pub against_peak: Option<Yardstick>,
    /// Days between irrigations at which the same sets meet the peak, days.
    pub interval_that_meets_days: Option<f64>,
}

impl Capacity {
    pub(super) fn of(
        alternative: &Alternative,
        plan: &Plan,
        (application, interval): (&Application, &Interval),
        (peak, net_share): (Option<&PeakUse>, f64),
    ) -> Self {
        let (lateral, outlets) = (&alternative.lateral, &alternative.outlets);
        let sides = lateral.lines.sides().len() as f64;
        let length_m = sides * lateral.sprinklers as f64 * lateral.sprinkler_spacing_m;
        let area_m2 = length_m * outlets.count as f64 * outlets.spacing_m;
        let sets = plan.passes.iter().map(|pass| pass.sets.len()).sum::<usize>();
        let sets_a_pass = sets as f64 / plan.passes.len().max(1) as f64;
        let at_once = lateral.lines.at_once() as f64;
        let running_share = sets_a_pass / at_once * application.set_time_h / (24.0 * interval.days);
        let running_l_s_ha = 1e4 * at_once * application.inflow_l_s / area_m2;
        let reaches = net_share * (application.line_l_s / application.inflow_l_s);
        let needed = |peak: &PeakUse| peak.etc_mm_d / reaches / MM_D_PER_L_S_HA;
        let has = running_l_s_ha * running_share;
        Self {
            area_m2,
            running_l_s_ha,
            running_share,
            against_peak: peak.map(|peak| Yardstick::at_least(has, needed(peak))),
            interval_that_meets_days: peak.map(|peak| application.net_mm / peak.etc_mm_d),
        }
    }

    /// Flow with the time it runs, L/s per hectare.
    pub fn planned_l_s_ha(&self) -> f64 {
        self.running_l_s_ha * self.running_share
    }
}
