//! The space that is searched, and what of it no schedule can hold.

use super::clocks::ClockChange;
use super::rotations::{HandGrid, RotationRule};
use crate::lateral::{EdgeTreatment, SetOrder, Wheel, WheelSize};

/// The space that is searched: which rotations, layouts, clocks and edges become candidates.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchSpace {
    /// Which rotations over the stops.
    pub rotations: RotationRule,
    /// Stops of a hand-moved lateral.
    pub hand: HandGrid,
    /// Edge treatments.
    pub edges: Vec<EdgeTreatment>,
    /// Orders of sets; none for the scenario's own alone.
    pub orders: Vec<SetOrder>,
    /// Clocks.
    pub clocks: Vec<ClockChange>,
    /// Distances by which the first outlet is moved into the field (−: out), beside 0, m.
    pub insets_m: Vec<f64>,
    /// Numbers of outlets beside the scenario's own.
    pub outlet_counts: Vec<usize>,
    /// Wheels by the trade's name for them; without these and travels the scenario's own wheel alone.
    pub sizes: Vec<WheelSize>,
    /// Travels of a wheel in one turn, m.
    pub travels_m: Vec<f64>,
    /// Distances between outlets, m; none for the scenario's own alone.
    pub spacings_m: Vec<f64>,
}

impl SearchSpace {
    /// How far the wheels that are compared roll in one turn, m: those by name first.
    pub(super) fn wheel_travels_m(&self) -> impl Iterator<Item = f64> {
        let named = self.sizes.iter().map(|size| size.travel_per_turn_m());
        named.chain(self.travels_m.iter().copied())
    }

    /// The trade's name for `wheel` where it is compared by that; `None` where its travel was given.
    pub fn size_of(&self, wheel: &Wheel) -> Option<WheelSize> {
        let rolls = |travel_m: f64| travel_m == wheel.travel_per_turn_m;
        let named = self.sizes.iter().copied().find(|size| rolls(size.travel_per_turn_m()));
        named.filter(|_| !self.travels_m.iter().copied().any(rolls))
    }
}

/// Most candidates that are described before equal ones are merged.
pub(super) const MOST_CANDIDATES: usize = 20_000;

/// A kind of candidate that no schedule holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// How many.
    pub count: usize,
    /// Why.
    pub why: String,
}
