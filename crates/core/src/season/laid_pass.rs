//! The footprints of one pass.

use crate::sprinkler::footprint::Footprint;
use std::sync::Arc;

/// The footprints of one pass: distinct ones, and per alternative and set which of them it is (one
/// for each node of pressure).
#[derive(Debug)]
pub(crate) struct LaidPass {
    pub(super) footprints: Vec<Arc<Footprint>>,
    pub(super) of_set: Vec<Vec<Vec<usize>>>,
    /// Per alternative, hours of discharge that drifted off or evaporated.
    pub(super) lost_hours: Vec<f64>,
}

impl LaidPass {
    /// The footprint of set `set` of alternative `alternative` at node `node` of pressure.
    pub(crate) fn footprint(&self, alternative: usize, set: usize, node: usize) -> &Footprint {
        &self.footprints[self.of_set[alternative][set][node]]
    }

    /// Every distinct footprint.
    pub(crate) fn footprints(&self) -> impl Iterator<Item = &Footprint> {
        self.footprints.iter().map(AsRef::as_ref)
    }

    /// Hours of a sprinkler's discharge that were lost in the pass, over all its sets.
    pub(crate) fn lost_hours(&self, alternative: usize) -> f64 {
        self.lost_hours[alternative]
    }
}
