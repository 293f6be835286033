//! Money: what an alternative costs and brings against the baseline, season by season.
//!
//! One season, per field (differences, alternative less baseline; a gain is above zero):
//!
//! ```text
//! yield      crop price · potential yield · area · (relative yield − baseline's)
//! water      water price  · (baseline's gross water − gross water)
//! energy     energy price · (baseline's gross water − gross water)
//! labor     labor price · (baseline's hours − hours)
//! equipment  Σ price · (baseline's pieces − pieces) · capital recovery factor
//! ```
//!
//! The capital recovery factor and discounting are those of engineering economics (`capital`).
//! Inside, everything is SI: hectares, tonnes, cubic meters, hours. The currency is the
//! caller's and has no name here. One season is one year.
//!
//! Every price may be missing. A missing price *matters* where alternative and baseline differ in
//! what it is a price of (the life of what is bought, water where the gross water differs, labor
//! where the moves or the time of one do …); what matters and is missing leaves no net return and no
//! verdict, and is asked for by name ([`Ledger::missing`]). It is never taken as nothing: who pays
//! nothing for it enters 0. What makes no difference is not asked for.
//! Every price may be a marked placeholder; those that had a part in the result are named too.
//!
//! Neglected: taxes, inflation (the rate is the real one), repair, resale, the quality of the crop.

mod amount;
mod capital;
mod ledger;
mod price;
mod problem;

pub use amount::{FieldTotal, PerArea};
pub use capital::{CashYear, Purchase, capital_recovery_factor};
pub use ledger::{Balance, BalancePart, BreakEven, Ledger};
pub use price::{Price, PriceEntry, PriceRow, PriceUnit, Prices};
pub use problem::{MoneyProblem, MoneyProblems};

/// What an alternative needs beyond the bare machine. The baseline commonly needs nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Equipment {
    /// Swing joints or hoses to buy, pieces.
    pub joints: u32,
    /// Outlets to add to the mainline, pieces.
    pub outlets: u32,
    /// Extra sets a pass that its schedule does not hold, such as one on the opened side: each is
    /// one more move. Their water is not added here: it must be in the gross water.
    pub extra_sets_per_pass: u32,
    /// Labor for one move beyond the common one, such as swinging the joint, h.
    pub extra_labor_per_move_h: f64,
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
}

#[cfg(test)]
mod tests;
