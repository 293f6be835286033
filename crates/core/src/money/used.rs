//! What an alternative needs, and what a season of it uses and brings.

/// What an alternative needs beyond the bare machine. The baseline commonly needs nothing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Equipment {
    /// Swing joints or hoses to buy, pieces.
    pub joints: u32,
    /// Outlets to add to the mainline, pieces.
    pub outlets: u32,
    /// Pieces to buy of each purchase of [`super::Prices::purchases`], in that order; none of those
    /// beyond the end.
    pub purchases: Vec<u32>,
    /// Extra sets a pass that its schedule does not hold, such as one on the opened side: each is
    /// one more move. Their water is not added here: it must be in the gross water.
    pub extra_sets_per_pass: u32,
    /// Labor for one move beyond the common one, such as swinging the joint, h.
    pub extra_labor_per_move_h: f64,
    /// It stands farther from its outlets than the baseline does, and nobody has said whether that
    /// needs longer hoses or joints.
    pub is_reach_open: bool,
}

impl Equipment {
    /// Pieces to buy of the purchase at place `at` of the prices.
    pub fn pieces(&self, at: usize) -> u32 {
        self.purchases.get(at).copied().unwrap_or(0)
    }
}

/// What one season of one alternative used and brought, mean or sum over the field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonUse {
    /// Mean yield over the field as a fraction of the potential yield, 0–1.
    pub relative_yield: f64,
    /// Water that left the nozzles, mm over the field.
    pub gross_mm: f64,
    /// Moves of the lateral (sets laid) in the schedule; a mean need not be whole.
    pub moves: f64,
    /// Passes.
    pub passes: f64,
    /// Time in which the lateral is moved without watering, beyond the usual moves, h.
    pub dry_way_h: f64,
}
