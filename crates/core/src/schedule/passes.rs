//! Sets and passes, and the stops that they take.

use crate::lateral::{EdgeTreatment, Lines, Machine, Outlets, Side};
use crate::rotation::{Rotation, Shift};

/// Where a lateral stands, pass by pass.
#[derive(Clone, Copy, Debug)]
pub struct Stops<'a> {
    /// How it moves.
    pub machine: &'a Machine,
    /// Its outlets.
    pub outlets: &'a Outlets,
    /// Its rotation.
    pub rotation: &'a Rotation,
    /// What shifted passes do at the edges.
    pub edges: EdgeTreatment,
    /// Lines that share the field.
    pub lines: Lines,
}

/// One watering at one stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPlan {
    /// Line (from 0).
    pub line: usize,
    /// Side of the mainline.
    pub side: Side,
    /// Outlet (from 0).
    pub outlet: usize,
    /// The shift that it takes: that of its pass, or of the next where the order of sets says so.
    pub shift: Shift,
    /// y of the lateral, m.
    pub place_across_m: f64,
    /// How far whole turns of the wheels end past the set's mark, m (− before it).
    pub drift_m: f64,
    /// Start, h from midnight of the first day.
    pub start_h: f64,
    /// End, h from midnight of the first day.
    pub end_h: f64,
}

/// All sets across the field once.
#[derive(Clone, Debug, PartialEq)]
pub struct PassPlan {
    /// The shift taken in this pass.
    pub shift: Shift,
    /// Letter of that shift.
    pub letter: char,
    /// The sets in order of time.
    pub sets: Vec<SetPlan>,
}

impl PassPlan {
    /// Start of the first set and end of the one that ends last, h.
    pub fn span_h(&self) -> (f64, f64) {
        let start_h = self.sets.first().map_or(0.0, |set| set.start_h);
        (start_h, self.sets.iter().map(|set| set.end_h).fold(start_h, f64::max))
    }
}
