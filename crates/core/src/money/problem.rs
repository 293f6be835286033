//! What can be wrong with prices and quantities: all of it at once, in words to act on.

use super::price::PriceUnit;
use super::prices::{PriceKey, Prices};
use super::used::{Equipment, SeasonUse};
use crate::range::{self, OutOfRange};
use std::fmt;

/// A number that money cannot be computed with.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum MoneyProblem {
    /// Below the lowest, above the highest, or no number.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Below zero, or no number.
    #[error("{quantity} is {value}; it must be 0 or more")]
    Negative {
        /// Name.
        quantity: &'static str,
        /// What was given.
        value: f64,
    },
    /// Zero, below, or no number.
    #[error("{quantity} is {value}; it must be above 0")]
    NotPositive {
        /// Name.
        quantity: &'static str,
        /// What was given.
        value: f64,
    },
}

/// Everything that is wrong, in the order of the numbers; never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct MoneyProblems(pub Vec<MoneyProblem>);

impl fmt::Display for MoneyProblems {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (place, problem) in self.0.iter().enumerate() {
            let gap = if place == 0 { "" } else { "; " };
            write!(out, "{gap}{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for MoneyProblems {}

/// Lives that are taken, years: at least the season bought for, and no longer than a century.
const LIFE_YEARS: (f64, f64) = (1.0, 100.0);

fn not_negative(quantity: &'static str, value: f64) -> Option<MoneyProblem> {
    let is_good = value >= 0.0 && value.is_finite();
    (!is_good).then_some(MoneyProblem::Negative { quantity, value })
}

fn positive(quantity: &'static str, value: f64) -> Option<MoneyProblem> {
    let is_good = value > 0.0 && value.is_finite();
    (!is_good).then_some(MoneyProblem::NotPositive { quantity, value })
}

fn within(
    quantity: &'static str,
    value: f64,
    (lowest, highest): (f64, f64),
) -> Option<MoneyProblem> {
    range::within(quantity, value, lowest, highest).err().map(MoneyProblem::from)
}

/// What is wrong with the value of `price`.
fn price_problem(price: PriceKey, value: f64) -> Option<MoneyProblem> {
    let label = price.common_label();
    match price.unit() {
        PriceUnit::TonnesPerHa => positive(label, value),
        PriceUnit::Years => within(label, value, LIFE_YEARS),
        // Above 1 somebody wrote percent.
        PriceUnit::FractionPerYear => within(label, value, (0.0, 1.0)),
        _ => not_negative(label, value),
    }
}

fn collected(problems: Vec<MoneyProblem>) -> Result<(), MoneyProblems> {
    if problems.is_empty() { Ok(()) } else { Err(MoneyProblems(problems)) }
}

/// Checks what holds for all seasons.
pub(super) fn check(prices: &Prices, equipment: [&Equipment; 2]) -> Result<(), MoneyProblems> {
    let of_prices = prices.known().filter_map(|(price, entry)| price_problem(price, entry.value));
    let of_equipment = equipment.into_iter().filter_map(|equipment| {
        not_negative("extra labor per move, h", equipment.extra_labor_per_move_h)
    });
    collected(of_prices.chain(of_equipment).collect())
}

/// Slack on the highest relative yield: means of cells round.
const ROUND_OFF: f64 = 1e-9;

/// Checks one season of both.
pub(super) fn check_season(uses: [&SeasonUse; 2]) -> Result<(), MoneyProblems> {
    let of_each = |used: &SeasonUse| {
        [
            within("relative yield, fraction", used.relative_yield, (0.0, 1.0 + ROUND_OFF)),
            not_negative("gross water, mm", used.gross_mm),
        ]
    };
    collected(uses.into_iter().flat_map(of_each).flatten().collect())
}
