//! Seasons for a precision that is asked for: the two-stage rule on the paired differences.
//!
//! The first seasons are those that the terms name; every alternative's difference against the
//! baseline must come out as precise as asked, so the one that scatters most decides.

use super::against::{nets_per_ha, yield_gains};
use super::inputs::Economics;
use super::precision::{HalfWidth, Precision, Reached};
use crate::model::Scenario;
use crate::seasons::Seasons;
use crate::two_stage::{FirstStage, LEAST_FIRST};

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
