//! Capital over time: annual cost, payback, cash per year.
//!
//! Source: standard engineering economics (Grant, Ireson & Leavenworth, Principles of Engineering
//! Economy; from memory, high). Purchases are paid at the start, gains come at the end of each year.
//! A gain A a year at rate r is worth A (1 − (1 + r)⁻ⁿ)/r after n years; its inverse, the capital
//! recovery factor r/(1 − (1 + r)⁻ⁿ), turns a price into a cost a year. At r = 0 these are A n and
//! 1/n. What wears out is bought again at the same price.
//!
//! Payback inside a year is read from the same formulas with a broken n.

use super::amount::FieldTotal;
use libm::{expm1, log1p, pow};

/// Something bought at the start and again whenever its life is over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Outlay {
    /// Price of all pieces, currency; below zero where the alternative saves them.
    pub price: f64,
    /// Life, years, at least 1.
    pub life_years: f64,
}

/// Share of a price that one year of `life_years` (above 0) costs at `rate` (fraction, 0 or more).
pub(super) fn capital_recovery_factor(rate: f64, life_years: f64) -> f64 {
    if rate == 0.0 { 1.0 / life_years } else { rate / -expm1(-life_years * log1p(rate)) }
}

/// Cost a year of `outlays` at `rate` (fraction), currency.
pub(super) fn annual_cost(outlays: &[Outlay], rate: f64) -> f64 {
    outlays
        .iter()
        .map(|outlay| outlay.price * capital_recovery_factor(rate, outlay.life_years))
        .sum()
}

/// Every payment (time in years, price) before `horizon_years`, in order of time.
fn payments(outlays: &[Outlay], horizon_years: f64) -> Vec<(f64, f64)> {
    let mut payments: Vec<(f64, f64)> = Vec::new();
    for outlay in outlays {
        let times = (0..).map(|k| f64::from(k) * outlay.life_years.max(1.0));
        let times = times.take_while(|time| *time == 0.0 || *time < horizon_years - 1e-9);
        payments.extend(times.map(|time| (time, outlay.price)));
    }
    payments.sort_by(|a, b| a.0.total_cmp(&b.0));
    payments
}

/// Years until a gain of `annual_gain` (currency) has paid for `outlays` and for what had to be
/// bought again till then. `None`: never within the longest life of what was bought. 0 where there
/// is nothing to pay for; `None` where there is no gain either.
pub(super) fn simple_payback(outlays: &[Outlay], annual_gain: f64) -> Option<f64> {
    discounted_payback(outlays, annual_gain, 0.0)
}

/// The same with gains and purchases discounted at `rate` (fraction, 0 or more).
pub(super) fn discounted_payback(outlays: &[Outlay], annual_gain: f64, rate: f64) -> Option<f64> {
    if !(annual_gain > 0.0) {
        return None;
    }
    let horizon = outlays.iter().map(|outlay| outlay.life_years).fold(0.0, f64::max);
    let payments = payments(outlays, horizon);
    let mut spent = 0.0;
    for (place, (time, price)) in payments.iter().enumerate() {
        spent += price * pow(1.0 + rate, -time);
        // Payments of the same moment belong together.
        let next = payments.get(place + 1).map_or(horizon, |payment| payment.0);
        if next == *time && place + 1 < payments.len() {
            continue;
        }
        if let Some(years) = years_to_earn(spent, annual_gain, rate)
            && years.max(*time) <= next
        {
            return Some(years.max(*time));
        }
    }
    payments.is_empty().then_some(0.0)
}

/// Years in which `annual_gain` earns the present value `spent`; `None` if it never does.
fn years_to_earn(spent: f64, annual_gain: f64, rate: f64) -> Option<f64> {
    let share = spent / annual_gain;
    if share <= 0.0 {
        Some(0.0)
    } else if rate == 0.0 {
        Some(share)
    } else {
        (rate * share < 1.0).then(|| -log1p(-rate * share) / log1p(rate))
    }
}

/// Money in and out in one year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CashYear {
    /// Year; 0 is the day of buying.
    pub year: u32,
    /// Gain less what is bought in this year.
    pub cash: FieldTotal,
    /// Sum up to this year.
    pub cumulative: FieldTotal,
    /// The same with every payment discounted to year 0.
    pub cumulative_discounted: FieldTotal,
}

/// Cash of years 0 to `years` with a gain of `annual_gain` a year and `outlays`, at `rate`
/// (fraction). What wears out within a year is bought again at that year's end; nothing is bought
/// again in the last year, and what then still has life left is worth nothing.
pub(super) fn cash_per_year(
    outlays: &[Outlay],
    annual_gain: f64,
    rate: f64,
    years: u32,
) -> Vec<CashYear> {
    let payments = payments(outlays, f64::from(years));
    let (mut cumulative, mut cumulative_discounted) = (0.0, 0.0);
    let mut cash_of = |year: u32| {
        let bought: f64 = payments
            .iter()
            .filter(|(time, _)| (time - 1e-9).ceil().max(0.0) == f64::from(year))
            .map(|(_, price)| price)
            .sum();
        let gain = if year == 0 { 0.0 } else { annual_gain };
        let cash = gain - bought;
        cumulative += cash;
        cumulative_discounted += cash * pow(1.0 + rate, -f64::from(year));
        CashYear {
            year,
            cash: FieldTotal::of(cash),
            cumulative: FieldTotal::of(cumulative),
            cumulative_discounted: FieldTotal::of(cumulative_discounted),
        }
    };
    (0..=years).map(&mut cash_of).collect()
}
