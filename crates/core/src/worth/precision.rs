//! Seasons for a precision that is asked for: the two-stage rule on the paired differences.
//!
//! The first seasons are those that the terms name; every alternative's difference against the
//! baseline must come out as precise as asked, so the one that scatters most decides.

use super::Economics;
use super::against::{nets_per_ha, yield_gains};
use crate::model::Scenario;
use crate::money::PerArea;
use crate::seasons::Seasons;
use crate::two_stage::{FirstStage, LEAST_FIRST};

/// A precision that is asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precision {
    /// Half-width of the interval of the difference against the baseline.
    pub half_width: HalfWidth,
    /// Seasons at the most.
    pub most: usize,
}

impl Precision {
    /// Seasons at the most where nobody says; judgment.
    pub const MOST: usize = 1000;
}

/// What is to be known how well.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum HalfWidth {
    /// Net return a year.
    Net(PerArea),
    /// Yield, as a fraction of that without stress.
    Yield(f64),
}

impl HalfWidth {
    /// The number: currency a hectare, or a fraction.
    pub fn value(self) -> f64 {
        match self {
            Self::Net(net) => net.per_ha(),
            Self::Yield(value) => value,
        }
    }
}

/// How far a precision that was asked for has been reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// What was asked.
    pub asked: Precision,
    /// Seasons of the first stage.
    pub first: usize,
    /// Half-width of the widest two-stage interval, in the unit asked in.
    pub half_width: f64,
}

impl Reached {
    /// Whether it is as narrow as asked.
    pub fn is_reached(&self) -> bool {
        // The number of seasons was made for just this; rounding must not undo it.
        self.half_width <= self.asked.half_width.value() * (1.0 + 1e-12)
    }
}

/// Seasons of the first stage.
pub(super) fn first_stage(economics: &Economics, precision: &Precision) -> usize {
    economics.seasons.max(LEAST_FIRST).min(precision.most)
}

/// Seasons wanted, as far as the finished ones tell.
pub(super) fn wanted(
    scenario: &Scenario,
    economics: &Economics,
    precision: &Precision,
    seasons: &Seasons,
) -> usize {
    let first = first_stage(economics, precision);
    if seasons.finished() < first {
        return first;
    }
    let needed = stages(scenario, economics, precision, seasons, first);
    let needed = needed.map(|stage| stage.seasons(precision.half_width.value(), precision.most));
    needed.max().unwrap_or(first)
}

/// What was reached; `None` if the first stage was not finished.
pub(super) fn reached(
    scenario: &Scenario,
    economics: &Economics,
    precision: Precision,
    seasons: &Seasons,
) -> Option<Reached> {
    let first = first_stage(economics, &precision);
    if seasons.finished() < first {
        return None;
    }
    let half_width = stages(scenario, economics, &precision, seasons, first)
        .map(|stage| stage.half_width(seasons.finished()))
        .fold(0.0, f64::max);
    Some(Reached { asked: precision, first, half_width })
}

/// The first stage of each alternative beside the baseline. Prices that make no sense are told
/// when the balance is drawn.
fn stages<'a>(
    scenario: &'a Scenario,
    economics: &'a Economics,
    precision: &'a Precision,
    seasons: &'a Seasons,
    first: usize,
) -> impl Iterator<Item = FirstStage> + 'a {
    (1..scenario.alternatives.len()).filter_map(move |index| {
        let values = match precision.half_width {
            HalfWidth::Net(_) => nets_per_ha(scenario, economics, seasons, index).ok()?,
            HalfWidth::Yield(_) => yield_gains(seasons, index),
        };
        FirstStage::of(values.get(..first)?, economics.confidence_level).ok()
    })
}
