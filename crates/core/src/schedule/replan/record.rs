//! What is known of the season so far.

/// Which set is meant: pass and outlet from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SetName {
    /// Pass, from 0.
    pub pass: usize,
    /// Outlet, from 0.
    pub outlet: usize,
    /// The set more at an edge, where the outlet has two sets in the pass.
    pub is_extra: bool,
}

/// One thing that really happened. Times are hours from midnight of the season's first day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Happened {
    /// A set was done.
    Done {
        /// Which.
        set: SetName,
        /// Start and end, h; `None`: as planned.
        span_h: Option<(f64, f64)>,
        /// How far from its outlet it really stood, m; `None`: as planned.
        at_m: Option<f64>,
    },
    /// A set was not done.
    Missed(SetName),
    /// Nothing could run.
    Breakdown {
        /// Start, h.
        from_h: f64,
        /// End, h.
        to_h: f64,
    },
}

/// What becomes of missed sets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum MissedRule {
    /// They come next, before the pass goes on.
    #[default]
    CatchUp,
    /// Their places wait for the next pass.
    Leave,
}

/// What is known of the season so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// Up to when, h.
    pub now_h: f64,
    /// What becomes of missed sets.
    pub missed: MissedRule,
    /// What happened, in any order.
    pub events: Vec<Happened>,
}
