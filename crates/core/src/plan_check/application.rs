//! Gross and net depth of a set, and the rate at which it falls.
//!
//! Rate = q / (a · b): 96.3 · gpm / (ft · ft) in/h (NMSU Soils 456; Klickitat PUD has 96.25), or
//! 3600 · L/s / (m · m) mm/h, with the mean discharge q of the line's sprinklers, the sprinkler spacing a
//! and the outlet spacing b. Depth = rate · set time; net = gross · the share that reaches the ground.
//!
//! Means over the strip that a set serves. Neglected: that it rains harder near a sprinkler than
//! between two, and the first minutes while the pipe fills.

use crate::lateral::hydraulics::PressureLine;
use crate::model::Alternative;
use crate::schedule::Plan;

/// What a set puts on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Application {
    /// Mean discharge of a sprinkler, L/s.
    pub sprinkler_l_s: f64,
    /// Flow through the nozzles of the whole line, L/s.
    pub line_l_s: f64,
    /// Flow into the line, leaks included, L/s.
    pub inflow_l_s: f64,
    /// Water into the line in the season of the plan, m³.
    pub season_m3: f64,
    /// Mean time that water runs in a set, h.
    pub set_time_h: f64,
    /// Application rate as it leaves the nozzles, mm/h.
    pub rate_mm_h: f64,
    /// Gross depth of a set, mm.
    pub gross_mm: f64,
    /// Net depth of a set, mm.
    pub net_mm: f64,
}

impl Application {
    /// That of `alternative`, whose sets are those of `plan`; `None` where no set runs.
    pub(super) fn of(
        alternative: &Alternative,
        pressures: Option<&PressureLine>,
        plan: &Plan,
        net_share: f64,
    ) -> Option<Self> {
        let stated_l_s = alternative.sprinkler.discharge_l_s() * alternative.stated_sprinklers();
        let line_l_s = pressures.map_or(stated_l_s, PressureLine::discharge_l_s);
        let inflow_l_s = line_l_s * (1.0 + alternative.condition.leaked_over_delivered());
        let sprinkler_l_s = line_l_s / alternative.lateral.sprinklers as f64;
        let spacing_m = (alternative.lateral.sprinkler_spacing_m, alternative.outlets.spacing_m);
        let set_times = plan.passes.iter().flat_map(|pass| &pass.sets);
        let set_times: Vec<f64> = set_times.map(|set| set.end_h - set.start_h).collect();
        if set_times.is_empty() {
            return None;
        }
        let season_h = set_times.iter().sum::<f64>();
        let set_time_h = season_h / set_times.len() as f64;
        let rate_mm_h = rate_mm_h(sprinkler_l_s, spacing_m);
        let gross_mm = rate_mm_h * set_time_h;
        let net_mm = gross_mm * net_share;
        Some(Self {
            sprinkler_l_s,
            line_l_s,
            inflow_l_s,
            season_m3: 3.6 * inflow_l_s * season_h,
            set_time_h,
            rate_mm_h,
            gross_mm,
            net_mm,
        })
    }

    /// The longest set that puts on no more than `net_mm`, h.
    pub fn set_time_for_h(&self, net_mm: f64) -> f64 {
        self.set_time_h * net_mm / self.net_mm
    }
}

/// Application rate of sprinklers of `discharge_l_s` at such spacings (along the pipe, across it), mm/h.
pub(super) fn rate_mm_h(discharge_l_s: f64, (along_m, across_m): (f64, f64)) -> f64 {
    3600.0 * discharge_l_s / (along_m * across_m)
}
