//! A lateral under pressure: the state at every sprinkler, and what the handbook says of it.
//!
//! - A lateral is well laid out while its pressures differ by at most 20 % of the nominal sprinkler
//!   pressure (SCS NEH 15-11 1983; Merkley & Allen lecture 7): about 10 % of discharge.
//! - System uniformity from that of one pattern: CU (1 + √(Pn/Pa)) / 2 and DU (1 + 3 √(Pn/Pa)) / 4,
//!   lowest and mean pressure (SCS NEH 15-11; Keller & Bliesner 1990; from memory, high).
//! - Friction by rule, F · J · L, holds for equal discharges in one size of pipe fed at its end.

use super::feed::{Feed, PRESSURE_RULE};
use super::friction::adjusted_f;

/// What one sprinkler gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutletState {
    /// Its place, m from the field's edge.
    pub place_m: f64,
    /// Height of the ground there, m.
    pub height_m: f64,
    /// Length of pipe from the sprinkler before it (or the inlet), m.
    pub length_m: f64,
    /// Flow in that length, L/s.
    pub flow_l_s: f64,
    /// Fastest flow in that length, m/s.
    pub velocity_m_s: f64,
    /// Friction in that length, kPa.
    pub friction_kpa: f64,
    /// Pressure in the pipe at the sprinkler, kPa.
    pub pipe_kpa: f64,
    /// Pressure at its nozzle, kPa.
    pub nozzle_kpa: f64,
    /// Pressure that makes its pattern, kPa: that of the nozzle, or what flow control makes of it.
    pub jet_kpa: f64,
    /// What it delivers, L/s.
    pub discharge_l_s: f64,
    /// What the coupler at its place leaks, L/s.
    pub leak_l_s: f64,
}

/// A solved lateral.
#[derive(Clone, Debug, PartialEq)]
pub struct PressureLine {
    /// What was asked.
    pub feed: Feed,
    /// Stated pressure of the sprinklers, kPa.
    pub nominal_kpa: f64,
    /// Pressure in the pipe at the inlet, kPa.
    pub inlet_kpa: f64,
    /// Height of the ground at the inlet, m.
    pub inlet_height_m: f64,
    /// Every sprinkler, from the field's edge on.
    pub outlets: Vec<OutletState>,
}

/// Christiansen's rule beside the solution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrictionRule {
    /// F, for where the first sprinkler stands.
    pub factor: f64,
    /// Friction from the inlet to the last sprinkler by rule, kPa.
    pub by_rule_kpa: f64,
    /// The same as solved, kPa.
    pub solved_kpa: f64,
}

impl PressureLine {
    /// Flow at the inlet, leaks included, L/s.
    pub fn flow_l_s(&self) -> f64 {
        self.outlets.iter().map(|outlet| outlet.discharge_l_s + outlet.leak_l_s).sum()
    }

    /// What the nozzles deliver together, L/s.
    pub fn discharge_l_s(&self) -> f64 {
        self.outlets.iter().map(|outlet| outlet.discharge_l_s).sum()
    }

    /// The sprinkler with the lowest pressure at its nozzle (the first of equals): its number from
    /// 0, and its state.
    pub fn lowest(&self) -> (usize, &OutletState) {
        self.most(|a, b| a.nozzle_kpa < b.nozzle_kpa)
    }

    /// The sprinkler with the highest pressure at its nozzle (the first of equals).
    pub fn highest(&self) -> (usize, &OutletState) {
        self.most(|a, b| a.nozzle_kpa > b.nozzle_kpa)
    }

    fn most(&self, beats: impl Fn(&OutletState, &OutletState) -> bool) -> (usize, &OutletState) {
        let mut best = 0;
        for (index, outlet) in self.outlets.iter().enumerate() {
            if beats(outlet, &self.outlets[best]) {
                best = index;
            }
        }
        (best, &self.outlets[best])
    }

    /// Mean pressure of the nozzles, kPa.
    pub fn mean_kpa(&self) -> f64 {
        let sum: f64 = self.outlets.iter().map(|outlet| outlet.nozzle_kpa).sum();
        sum / self.outlets.len() as f64
    }

    /// Highest less lowest nozzle pressure, as a share of the nominal sprinkler pressure.
    pub fn pressure_variation(&self) -> f64 {
        (self.highest().1.nozzle_kpa - self.lowest().1.nozzle_kpa) / self.nominal_kpa
    }

    /// Highest less lowest discharge, as a share of the mean.
    pub fn discharge_variation(&self) -> f64 {
        let of = |outlet: &OutletState| outlet.discharge_l_s;
        let most = self.outlets.iter().map(of).fold(0.0, f64::max);
        let least = self.outlets.iter().map(of).fold(f64::INFINITY, f64::min);
        (most - least) * self.outlets.len() as f64 / self.discharge_l_s()
    }

    /// Whether the 20 % rule is kept.
    pub fn keeps_rule(&self) -> bool {
        self.pressure_variation() <= PRESSURE_RULE
    }

    /// Fastest flow in the pipe, m/s.
    pub fn fastest_m_s(&self) -> f64 {
        self.outlets.iter().map(|outlet| outlet.velocity_m_s).fold(0.0, f64::max)
    }

    /// Friction from the inlet to each end that has sprinklers, kPa: towards −x, towards +x.
    pub fn friction_kpa(&self) -> [f64; 2] {
        let beyond = |near: bool| {
            let of = self.outlets.iter().filter(|o| (o.place_m < self.feed.inlet_m) == near);
            of.map(|outlet| outlet.friction_kpa).sum()
        };
        [beyond(true), beyond(false)]
    }

    /// √(lowest / mean nozzle pressure): the handbook's measure of a system's pressures.
    fn root_of_pressures(&self) -> f64 {
        (self.lowest().1.nozzle_kpa / self.mean_kpa()).sqrt()
    }

    /// What a pattern's CU is multiplied by for the system's, by rule of thumb.
    pub fn system_cu_factor(&self) -> f64 {
        0.5 * (1.0 + self.root_of_pressures())
    }

    /// What a pattern's DU is multiplied by for the system's, by rule of thumb.
    pub fn system_du_factor(&self) -> f64 {
        0.25 * (1.0 + 3.0 * self.root_of_pressures())
    }

    /// Christiansen's rule, where it applies: one size, fed at an end no farther than one spacing
    /// from the first sprinkler, two sprinklers or more.
    pub fn friction_rule(&self) -> Option<FrictionRule> {
        let size = self.feed.pipe.near;
        let [before, after] = self.friction_kpa();
        let (nearest, last) = match (before > 0.0, after > 0.0) {
            (true, false) => (self.outlets.last()?, self.outlets.first()?),
            (false, true) => (self.outlets.first()?, self.outlets.last()?),
            _ => return None,
        };
        let sprinklers = self.outlets.len();
        let span_m = (last.place_m - nearest.place_m).abs();
        let spacing_m = span_m / (sprinklers.checked_sub(1).filter(|gaps| *gaps > 0)?) as f64;
        let first = nearest.length_m / spacing_m;
        if self.feed.pipe.far.is_some() || first > 1.0 + 1e-9 {
            return None;
        }
        let factor = adjusted_f(sprinklers, first.min(1.0));
        let length_m = span_m + nearest.length_m;
        let by_rule_kpa = factor * size.loss_kpa(self.flow_l_s(), length_m);
        Some(FrictionRule { factor, by_rule_kpa, solved_kpa: before + after })
    }
}
