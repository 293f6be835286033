//! Pressure between the sprinklers of a lateral beside the 20 % rule.
//!
//! The pressure along a lateral should vary by no more than 20 % of the sprinklers' stated pressure
//! (Merkley & Allen, Utah State University lectures on sprinkle and trickle irrigation, lecture 7; SCS
//! NEH 15-11). Where no pipe is described, pitot readings of a survey are judged in its place.
//!
//! What unequal pressure takes in water: for the weakest nozzle to get what the mean gets, sets must run
//! longer by mean over lowest discharge.

use super::yardstick::Yardstick;
use crate::lateral::hydraulics::{PRESSURE_RULE, PressureLine};
use crate::model::Alternative;

/// Pressures along a lateral.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressureSpread {
    /// Lowest pressure at a nozzle, kPa.
    pub lowest_kpa: f64,
    /// Highest pressure at a nozzle, kPa.
    pub highest_kpa: f64,
    /// Their difference over the stated pressure, a fraction, against the rule.
    pub against_rule: Yardstick,
    /// Whether the pressures were read, not calculated.
    pub is_read: bool,
    /// Water more for the weakest nozzle to get what the mean gets, a fraction.
    pub extra_water: f64,
}

impl PressureSpread {
    /// Those of a line, or else those read; `None` without either, or with one reading.
    pub(super) fn of(alternative: &Alternative, line: Option<&PressureLine>) -> Option<Self> {
        let survey = alternative.condition.survey.as_ref();
        let read = survey.map(|survey| survey.pressures_kpa.iter().map(|(_, kpa)| *kpa).collect());
        let calculated = line.map(|line| line.outlets.iter().map(|at| at.nozzle_kpa).collect());
        let all_kpa: Vec<f64> = calculated.or(read).filter(|all: &Vec<f64>| all.len() > 1)?;
        let lowest_kpa = all_kpa.iter().copied().fold(f64::INFINITY, f64::min);
        let highest_kpa = all_kpa.iter().copied().fold(0.0, f64::max);
        let sprinkler = &alternative.sprinkler;
        let share = (highest_kpa - lowest_kpa) / sprinkler.stated_kpa();
        let sum: f64 = all_kpa.iter().map(|kpa| sprinkler.share_at(*kpa)).sum();
        Some(Self {
            lowest_kpa,
            highest_kpa,
            against_rule: Yardstick::at_most(share, PRESSURE_RULE),
            is_read: line.is_none(),
            extra_water: sum / all_kpa.len() as f64 / sprinkler.share_at(lowest_kpa) - 1.0,
        })
    }
}
