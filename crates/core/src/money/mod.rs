//! Money: what an alternative costs and brings against the baseline, season by season.
//!
//! One season, per field (differences, alternative less baseline; a gain is above zero):
//!
//! ```text
//! yield      crop price · potential yield · area · (relative yield − baseline's)
//! water      water price  · (baseline's gross water − gross water)
//! energy     energy price · (baseline's gross water − r · gross water)
//! labor     labor price · (baseline's hours − hours)
//! equipment  Σ price · (baseline's pieces − pieces) · capital recovery factor
//! ```
//!
//! r is the energy that a cubic meter takes, beside the baseline's, where it is worked out of lift and
//! pressure (`pumping`), else 1: the price of energy stands for the baseline's cubic meter. Pieces are
//! joints, outlets, and whatever the user buys by a name of their own.
//!
//! The capital recovery factor and discounting are those of engineering economics (`capital`).
//! Inside, everything is SI: hectares, tonnes, cubic meters, hours. The currency is the
//! caller's and has no name here. One season is one year.
//!
//! Every price may be missing. A missing price *matters* where alternative and baseline differ in
//! what it is a price of (the life of what is bought, water where the gross water differs, labor
//! where the moves or the time of one do …); what matters and is missing leaves no net return and no
//! verdict, and is asked for by name (`Ledger::missing`). It is never taken as nothing: who pays
//! nothing for it enters 0. What makes no difference is not asked for. An alternative that stands
//! farther from its outlets, of which nobody said what it needs for that, waits for that too.
//! Every price may be a marked placeholder; those that had a part in the result are named too.
//!
//! Neglected: taxes, inflation (the rate is the real one), repair, resale, the quality of the crop.

mod amount;
mod balance;
mod capital;
mod ledger;
mod price;
mod prices;
mod problem;
mod pumping;
mod used;

pub use amount::{FieldTotal, PerArea};
pub use balance::{Balance, BalancePart, BreakEven};
pub use capital::CashYear;
pub(crate) use ledger::Ledger;
pub use price::{Price, PriceEntry, PriceRow, PriceUnit};
pub use prices::{Missing, PriceKey, PriceWords, Prices, Purchase, PurchasePart};
pub use problem::{MoneyProblem, MoneyProblems};
pub use pumping::Pumping;
pub use used::{Equipment, SeasonUse};

#[cfg(test)]
mod purchase_tests;
#[cfg(test)]
mod tests;
