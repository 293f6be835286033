//! Seasons of alternatives taken over from an earlier run.
//!
//! Whoever moves a stop changes one alternative. The others meet the same hours with the same sprinklers, so
//! their season is the same to the last bit and need not be laid again. All that a season follows from is
//! kept with it ([`Origin`]); only where every part of that is equal is the season taken over, so it never
//! changes a digit. A part that is not a number is equal to nothing, and its season is laid again.

use super::hours::{WindRange, needed_hours};
use super::layout::Layout;
use super::outcome::{AlternativeOutcome, Laid};
use super::prepare::PreparedSeason;
use crate::model::{Alternative, Field, Scenario};
use crate::schedule::Plan;
use crate::sprinkler::footprint::WindSlice;
use std::sync::Arc;

/// What is made of a pass as it is laid, on the thread that laid it.
pub type OfPass<'a, T> = &'a (dyn Fn(Laid<'_>) -> T + Sync);

/// The season of one alternative, with what was made of each of its passes.
#[derive(Debug)]
pub struct AlternativeSeason<T> {
    pub(super) origin: Origin,
    pub(super) outcome: AlternativeOutcome,
    /// What was made of its passes, in order.
    pub passes: Arc<Vec<T>>,
}

/// The seasons of all alternatives, in the scenario's order; a later run may share them.
pub type Seasons<T> = Vec<Arc<AlternativeSeason<T>>>;

impl<T> AlternativeSeason<T> {
    /// Whether it follows from this.
    pub(super) fn is_of(&self, origin: &Origin, plan: &Plan) -> bool {
        self.outcome.plan == *plan && self.origin == *origin
    }
}

/// What the alternatives of a run have in common.
#[derive(Debug, PartialEq)]
pub(super) struct Common {
    field: Field,
    margin_m: f64,
    winds: WindRange,
    canopy_m: Option<f64>,
    keeps_first: bool,
}

/// What an alternative's season follows from, beside its plan.
#[derive(Debug, PartialEq)]
pub(super) struct Origin {
    common: Arc<Common>,
    alternative: Alternative,
    /// Wind and losses of each hour in which its plan runs water.
    hours: Vec<WindSlice>,
    /// Of how few footprints the laterals that use each of its sprinklers make their blends.
    nodes: Vec<usize>,
}

impl Common {
    pub(super) fn of(
        scenario: &Scenario,
        prepared: &PreparedSeason<'_>,
        (margin_m, keeps_first): (f64, bool),
    ) -> Arc<Self> {
        Arc::new(Self {
            field: scenario.field.clone(),
            margin_m,
            winds: prepared.hours.wind_range(),
            canopy_m: scenario.canopy_height_m,
            keeps_first,
        })
    }
}

impl Origin {
    pub(super) fn of(
        common: &Arc<Common>,
        prepared: &PreparedSeason<'_>,
        layout: &Layout<'_>,
    ) -> Self {
        let needed = needed_hours(std::slice::from_ref(&layout.plan));
        Self {
            common: Arc::clone(common),
            alternative: layout.alternative.clone(),
            hours: prepared.hours.slices_in(&needed),
            nodes: prepared.nodes_of(layout.index),
        }
    }
}

#[cfg(test)]
#[path = "changed_tests.rs"]
mod tests;
