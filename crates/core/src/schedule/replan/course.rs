//! A season with what happened and what is still to come.

use crate::schedule::passes::SetPlan;
use crate::schedule::plan::Plan;

/// How a set of a re-planned season stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Done, as the record says.
    Recorded,
    /// Done as planned, as nothing else is recorded.
    TakenAsDone,
    /// Still to come.
    ToCome,
    /// Still to come, out of its turn because it was missed.
    CatchUp,
}

/// A season with what happened and what is still to come.
#[derive(Clone, Debug, PartialEq)]
pub struct Replanned {
    /// The sets as they were and will be.
    pub plan: Plan,
    /// Per pass of the plan, its number in the season as first planned (from 0).
    pub numbers: Vec<usize>,
    /// Per pass, per set, how it stands; empty where nothing is recorded.
    pub standing: Vec<Vec<Standing>>,
    /// Sets that stay without water: pass (from 0) and the set as it was planned.
    pub left: Vec<(usize, SetPlan)>,
    /// Passes that no longer fit before the season's end.
    pub dropped_passes: usize,
}

impl Replanned {
    /// A season of which nothing is recorded: all of `plan` is to come, and no set has a standing.
    pub fn as_planned(plan: &Plan) -> Self {
        Self {
            plan: plan.clone(),
            numbers: (0..plan.passes.len()).collect(),
            standing: Vec::new(),
            left: Vec::new(),
            dropped_passes: 0,
        }
    }
}
