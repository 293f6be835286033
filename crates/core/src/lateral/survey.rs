//! A survey of a lateral's sprinklers: pitot pressures, bores and caught flows turned into discharges.
//!
//! A nozzle delivers q = q₀ (d/d₀)² √(P/P₀): the orifice equation q = Cd A √(2P/ρ) with the same
//! coefficient (SCS NEH 15-11; Keller & Bliesner 1990: q = Kd √P; from memory, high). d₀ and P₀ are bore
//! and pressure for which q₀ is stated; flow control takes the place of √(P/P₀). A flow caught at
//! pressure P says the same of the nozzle without its bore, and goes before it. Where a sprinkler has
//! several nozzles, the bore is that of the first; the others deliver as stated.
//!
//! Sprinklers that were not read have the mean nozzle of those that were (plugged ones left out), and
//! the pressure between their neighbors by place; beyond the last reading, that reading. Neglected:
//! that a worn bore has another coefficient and a coarser spray, and that radius follows pressure: the
//! pattern keeps its shape.

use super::discharges::Discharges;
use super::hydraulics::PressureLine;
use crate::sprinkler::Sprinkler;

/// Discharge over nominal from which a nozzle counts as worn: common practice, no source.
pub const WORN: f64 = 0.05;

/// What was read at one sprinkler.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reading {
    /// Its number, from 0 along x.
    pub sprinkler: usize,
    /// Pitot pressure at the nozzle, kPa.
    pub pressure_kpa: Option<f64>,
    /// Bore over that of the nozzle as stated.
    pub bore: Option<f64>,
    /// Flow caught, L/s.
    pub flow_l_s: Option<f64>,
    /// Whether it is plugged.
    pub is_plugged: bool,
    /// Whether it leans.
    pub is_leaning: bool,
}

/// The readings of one lateral.
#[derive(Clone, Debug, PartialEq)]
pub struct Survey {
    /// One for each sprinkler that was read, rising by number.
    pub readings: Vec<Reading>,
    /// Sprinklers on the lateral.
    pub sprinklers: usize,
    /// How far a reading of the gauge may be off, kPa.
    pub gauge_error_kpa: f64,
}

/// What a survey found.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyFound {
    /// Sprinklers that were read.
    pub surveyed: usize,
    /// Sprinklers on the lateral.
    pub sprinklers: usize,
    /// Pressures read, kPa, each with its sprinkler's number from 0.
    pub pressures_kpa: Vec<(usize, f64)>,
    /// How far a reading of the gauge may be off, kPa.
    pub gauge_error_kpa: f64,
    /// Nozzles by bore or caught flow: discharge over the stated one at the same pressure, plugged ones
    /// left out; empty where none was measured.
    pub nozzles: Vec<f64>,
    /// Plugged sprinklers.
    pub plugged: usize,
    /// Leaning ones.
    pub leaning: usize,
    /// Flow of the line as surveyed, those not read among them, over that of its nozzles as stated.
    pub flow_over_stated: f64,
}

/// Pitot readings beside the pressures calculated along a pipe.
#[derive(Clone, Debug, PartialEq)]
pub struct BesidePipe {
    /// Read less calculated, kPa, with the sprinkler's number from 0: at the first, the middle and the
    /// last one read.
    pub at: Vec<(usize, f64)>,
    /// Root of the mean square over all readings, kPa.
    pub off_kpa: f64,
}

impl Survey {
    /// Whether any reading measures an open nozzle: a bore or a caught flow.
    pub fn measures_nozzles(&self) -> bool {
        self.readings.iter().any(|reading| reading.bore.is_some() || reading.flow_l_s.is_some())
    }

    /// Whether every sprinkler's nozzle was read.
    pub fn reads_every_nozzle(&self) -> bool {
        let says = |r: &&Reading| r.is_plugged || r.bore.is_some() || r.flow_l_s.is_some();
        self.readings.iter().filter(says).count() == self.sprinklers
    }

    /// Pressure at a sprinkler, kPa; `None` where none was read.
    pub fn pressure_kpa(&self, sprinkler: usize) -> Option<f64> {
        let read = || self.readings.iter().filter_map(|r| Some((r.sprinkler, r.pressure_kpa?)));
        let before = read().rfind(|(at, _)| *at <= sprinkler);
        let after = read().find(|(at, _)| *at >= sprinkler);
        match (before, after) {
            (Some((low, low_kpa)), Some((high, high_kpa))) if high > low => {
                let share = (sprinkler - low) as f64 / (high - low) as f64;
                Some(low_kpa + share * (high_kpa - low_kpa))
            }
            (Some((_, kpa)), _) | (None, Some((_, kpa))) => Some(kpa),
            (None, None) => None,
        }
    }

    /// What the pressure at a sprinkler makes of its discharge.
    fn share_of_pressure(&self, sprinkler: usize, nozzle: &Sprinkler) -> f64 {
        self.pressure_kpa(sprinkler).map_or(1.0, |kpa| nozzle.share_at(kpa))
    }

    /// The nozzle that was read, as its discharge over the stated one at the same pressure; `None`
    /// where the reading says nothing of it.
    fn nozzle(&self, reading: &Reading, stated: &Sprinkler) -> Option<f64> {
        if reading.is_plugged {
            return Some(0.0);
        }
        if let Some(flow_l_s) = reading.flow_l_s {
            let share = self.share_of_pressure(reading.sprinkler, stated);
            return Some(flow_l_s / (stated.discharge_l_s() * share));
        }
        let first = stated.jets.first().map_or(0.0, |jet| jet.leg().discharge_l_s());
        let main = first / stated.discharge_l_s();
        reading.bore.map(|bore| 1.0 + main * (bore * bore - 1.0))
    }

    /// All nozzles that were read and are open.
    fn open_nozzles(&self, stated: &Sprinkler) -> Vec<f64> {
        let open = self.readings.iter().filter(|reading| !reading.is_plugged);
        open.filter_map(|reading| self.nozzle(reading, stated)).collect()
    }

    /// The discharges of the lateral: `others` has scatter and odd sprinklers, which hold where the
    /// survey says nothing of a nozzle. With `is_piped`, pressures are the pipe's and only nozzles
    /// count.
    pub fn discharges(
        &self,
        stated: &Sprinkler,
        others: &Discharges,
        is_piped: bool,
    ) -> Discharges {
        let pressure = |sprinkler: usize| {
            if is_piped { 1.0 } else { self.share_of_pressure(sprinkler, stated) }
        };
        let open = self.open_nozzles(stated);
        let mean = if open.is_empty() { 1.0 } else { mean(&open) };
        let read: Vec<(usize, f64)> = self
            .readings
            .iter()
            .filter_map(|r| Some((r.sprinkler, self.nozzle(r, stated)? * pressure(r.sprinkler))))
            .collect();
        let is_read = |number: usize| read.iter().any(|(at, _)| *at == number);
        let odd = others.single.iter().filter(|(number, _)| !is_read(*number)).copied();
        let single = read.iter().copied().chain(odd).collect();
        let means: Vec<f64> = (0..self.sprinklers).map(|at| mean * pressure(at)).collect();
        let is_plain = means.iter().all(|share| *share == 1.0);
        Discharges { single, means: if is_plain { Vec::new() } else { means }, ..others.clone() }
    }

    /// The summary; `discharges` without a pipe's pressures, so that the flow is that of the survey.
    pub fn found(&self, stated: &Sprinkler, discharges: &Discharges) -> SurveyFound {
        let count = |is: fn(&Reading) -> bool| self.readings.iter().filter(|r| is(r)).count();
        let pressures = self.readings.iter().filter_map(|r| Some((r.sprinkler, r.pressure_kpa?)));
        let factors = discharges.factors(self.sprinklers);
        SurveyFound {
            surveyed: self.readings.len(),
            sprinklers: self.sprinklers,
            pressures_kpa: pressures.collect(),
            gauge_error_kpa: self.gauge_error_kpa,
            nozzles: self.open_nozzles(stated),
            plugged: count(|reading| reading.is_plugged),
            leaning: count(|reading| reading.is_leaning),
            flow_over_stated: factors.map_or(1.0, |factors| mean(&factors)),
        }
    }
}

impl SurveyFound {
    /// Lowest and highest pressure read, kPa.
    pub fn range_kpa(&self) -> Option<(f64, f64)> {
        let read = || self.pressures_kpa.iter().map(|(_, kpa)| *kpa);
        let (least, most) = (read().fold(f64::INFINITY, f64::min), read().fold(0.0, f64::max));
        (most > 0.0).then_some((least, most))
    }

    /// Nozzles that deliver more than [`WORN`] over what they are stated to.
    pub fn worn(&self) -> usize {
        self.nozzles.iter().filter(|share| **share > 1.0 + WORN + 1e-9).count()
    }

    /// The readings beside the pressures along `line`; `None` where none was read.
    pub fn beside(&self, line: &PressureLine) -> Option<BesidePipe> {
        let off = |(at, kpa): &(usize, f64)| Some((*at, kpa - line.outlets.get(*at)?.nozzle_kpa));
        let all: Vec<(usize, f64)> = self.pressures_kpa.iter().filter_map(off).collect();
        let square: f64 = all.iter().map(|(_, kpa)| kpa * kpa).sum();
        let mut at = vec![*all.first()?, all[all.len() / 2], *all.last()?];
        at.dedup();
        Some(BesidePipe { at, off_kpa: (square / all.len() as f64).sqrt() })
    }
}

impl BesidePipe {
    /// Whether readings and calculation differ by no more than the gauge may be off.
    pub fn agrees(&self, gauge_error_kpa: f64) -> bool {
        self.off_kpa <= gauge_error_kpa
    }
}

fn mean(all: &[f64]) -> f64 {
    all.iter().sum::<f64>() / all.len().max(1) as f64
}

#[cfg(test)]
#[path = "survey_tests.rs"]
mod tests;
