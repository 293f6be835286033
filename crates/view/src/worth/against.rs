//! One alternative against the baseline: gains, money, what it hangs on.

use super::certainty::{Certainty, certainty, doubt_swing};
use super::money::{self, money, signed_money};
use super::over_seasons::{Difference, Measure};
use super::sentences::bounded_percent;
use super::source::{Rival, Source};
use super::swing::Swing;
use super::verdict::Verdict;
use crate::units::number;
use crate::value::Amount;
use evenfall_core::money::{
    Balance as Sums, BreakEven as Found, FieldTotal, PerArea, Price, PriceKey,
};
use evenfall_core::worth::AgainstBaseline;
use serde::Serialize;
use utoipa::ToSchema;

/// How an alternative stands against the baseline.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Against {
    /// The verdict on the net return.
    pub verdict: Verdict,
    /// Gain of yield, whole field.
    pub yield_gain: Difference,
    /// The same of the worst tenth.
    pub worst_tenth_gain: Difference,
    /// Rise of deep percolation.
    pub percolation_rise: Difference,
    /// Gain of the low quarter's uniformity in the interior.
    pub du_lq_gain: Difference,
    /// Net return a year by area; `null` where a price that matters is missing.
    pub net: Option<Difference>,
    /// Share of the yield gain promised by the season's map of depth that the crop realizes; `null`
    /// where no gain is promised.
    pub realized_share: Option<Amount>,
    /// The parts of the net return, means over the seasons.
    pub balance: Balance,
    /// Years until the first of what is bought wears out; `null` where nothing is bought.
    pub life_years: Option<u32>,
    /// Chance of a gain over those years.
    pub chance_over_life: Option<Amount>,
    /// Net return with all prices varied together over their ranges.
    pub price_spread: Option<PriceSpread>,
    /// How sure the net return is; `null` where no doubts were drawn, or it is not known.
    pub certainty: Option<Certainty>,
    /// Crop price at which it pays.
    pub break_even: BreakEven,
    /// Payback of what is bought.
    pub payback: Payback,
    /// Cash of the field, year by year.
    pub cash: Vec<CashYear>,
    /// What the net return hangs on, the widest swing first.
    pub swings: Vec<Swing>,
    /// What is not known though it matters, by name: prices, and `equipment` where nobody has said what
    /// a longer reach needs.
    pub missing: Vec<String>,
    /// The same in plain words.
    pub missing_labels: Vec<String>,
    /// Placeholders that it rests on, by name.
    pub placeholders: Vec<String>,
}

/// The parts of the net return.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Balance {
    /// Yield gained on the field, t.
    pub yield_gain_t: f64,
    /// Part by part.
    pub parts: Vec<BalancePart>,
    /// Net return of the field a year.
    pub net: Amount,
}

/// A part of the net return; not known where a price of it is missing.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct BalancePart {
    /// Its key.
    pub name: &'static str,
    /// In plain words.
    pub label: &'static str,
    /// It rests on a placeholder.
    pub is_placeholder: bool,
    /// For the whole field.
    pub field: Amount,
    /// By area.
    pub by_area: Amount,
}

/// Net return by area with all prices varied together.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct PriceSpread {
    /// Chance of a worthwhile gain.
    pub chance_worthwhile: Amount,
    /// Exceeded in 95 % of the draws.
    pub low: Amount,
    /// Exceeded in half of them.
    pub middle: Amount,
    /// Exceeded in 5 % of them.
    pub high: Amount,
    /// Draws.
    pub draws: usize,
}

/// At which crop prices it pays.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct BreakEven {
    /// `above`, `below`, `at_every_price` or `at_no_price`.
    pub pays: &'static str,
    /// The price a tonne at which it breaks even; `null` where there is none.
    pub crop_price_per_t: Option<f64>,
    /// As people read it.
    pub text: String,
}

/// Years in which what is bought pays for itself; no number is never.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Payback {
    /// Without interest.
    pub simple: Amount,
    /// With interest.
    pub discounted: Amount,
}

/// Cash of one year, in the currency of the prices.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct CashYear {
    /// Year; 0 is the day of buying.
    pub year: u32,
    /// Gain less what is bought.
    pub cash: f64,
    /// Sum up to this year.
    pub cumulative: f64,
    /// The same with interest.
    pub cumulative_discounted: f64,
}

impl Against {
    /// Whether its net return is known.
    pub fn is_valued(&self) -> bool {
        self.net.is_some()
    }

    /// Net return with its interval, or why there is none.
    pub fn net_text(&self) -> &str {
        self.net.as_ref().map_or(NOT_KNOWN, |net| &net.figures.text)
    }

    /// Chance of a gain in any one season, or why there is none.
    pub fn chance_text(&self) -> &str {
        let Some(net) = &self.net else { return NOT_KNOWN };
        net.chance.as_ref().map_or("no difference", |chance| &chance.text)
    }
}

pub(super) fn against(source: &Source<'_>, rival: &Rival<'_>) -> Against {
    let found = rival.against;
    let (points, units) = (Measure::points(), source.units);
    let life = Source::chance_over_life(rival);
    Against {
        verdict: Verdict::new(source, rival),
        yield_gain: points.difference(&found.yield_gain),
        worst_tenth_gain: points.difference(&found.worst_tenth_gain),
        percolation_rise: Measure::depth(units).difference(&found.percolation_rise_mm),
        du_lq_gain: points.difference(&found.du_lq_gain),
        net: found.is_valued().then(|| Measure::money(units).difference(&found.net_per_ha)),
        realized_share: found.realized_share.map(|share| Amount::percent(share, 0)),
        balance: balance(source, found),
        life_years: found.life_years,
        chance_over_life: life
            .map(|(_, chance)| Amount::new(100.0 * chance, "%", bounded_percent(chance))),
        price_spread: price_spread(source, found),
        certainty: found
            .explained
            .as_ref()
            .filter(|_| found.is_valued())
            .map(|explained| certainty(source, explained)),
        break_even: break_even(source, found.break_even),
        payback: Payback {
            simple: years(found.payback_years.0),
            discounted: years(found.payback_years.1),
        },
        cash: found.cash.iter().map(cash_year).collect(),
        swings: swings(source, found),
        missing: found.missing.iter().map(|missing| source.missing_key(*missing)).collect(),
        missing_labels: found
            .missing
            .iter()
            .map(|missing| source.missing_label(*missing))
            .collect(),
        placeholders: found.placeholders.iter().map(|price| source.key(*price)).collect(),
    }
}

fn balance(source: &Source<'_>, found: &AgainstBaseline) -> Balance {
    let is_placeholder = |price: PriceKey| {
        source.economics.prices.of(price).is_some_and(|known| known.is_placeholder)
    };
    let unit = money::area_symbol(source.units);
    let part = |part: &evenfall_core::money::BalancePart| {
        let is_known = !found.missing.iter().any(|missing| part.needs(*missing));
        let total: FieldTotal = (part.of)(&found.balance);
        let (field, by_area) = if is_known {
            let shown = source.by_area(total / found.balance.area);
            let field = Amount::new(total.currency(), "", signed_money(total.currency()));
            (field, Amount::new(shown, unit, signed_money(shown)))
        } else {
            (Amount::none("", NOT_KNOWN), Amount::none(unit, NOT_KNOWN))
        };
        let mut rests_on = source.economics.prices.keys().filter(|price| part.rests_on(*price));
        let is_placeholder = rests_on.any(is_placeholder);
        BalancePart { name: part.name, label: part.label, is_placeholder, field, by_area }
    };
    let net = found.balance.net().currency();
    let text = match (found.is_valued(), net == 0.0) {
        (false, _) => NOT_KNOWN.to_owned(),
        (true, true) => money(0.0),
        (true, false) => signed_money(net),
    };
    Balance {
        yield_gain_t: found.balance.yield_gain_t,
        parts: Sums::PARTS.iter().map(part).collect(),
        net: if found.is_valued() { Amount::new(net, "", text) } else { Amount::none("", text) },
    }
}

/// What stands in the place of money where a price that matters is missing.
pub const NOT_KNOWN: &str = "not known";

fn price_spread(source: &Source<'_>, found: &AgainstBaseline) -> Option<PriceSpread> {
    let spread = found.price_spread.filter(|_| found.is_valued())?;
    let net = |per_ha: f64| money::by_area(source.units, PerArea::of_ha(per_ha));
    let share = spread.share_above;
    Some(PriceSpread {
        chance_worthwhile: Amount::new(100.0 * share, "%", bounded_percent(share)),
        low: net(spread.low),
        middle: net(spread.middle),
        high: net(spread.high),
        draws: spread.draws,
    })
}

fn break_even(source: &Source<'_>, found: Found) -> BreakEven {
    let price = |value| source.priced(Price::Crop, value);
    let (pays, text) = match found {
        Found::PaysAbove(value) if value <= 0.0 => ("above", "any".to_owned()),
        Found::PaysAbove(value) => ("above", format!("above {}", price(value))),
        Found::PaysBelow(value) => ("below", format!("below {}", price(value))),
        Found::AtEveryPrice => ("at_every_price", "any".to_owned()),
        Found::AtNoPrice => ("at_no_price", "none".to_owned()),
    };
    BreakEven { pays, crop_price_per_t: found.price(), text }
}

fn years(found: Option<f64>) -> Amount {
    match found {
        Some(years) => Amount::new(years, "years", format!("{} years", number(years, 1))),
        None => Amount::none("years", "never"),
    }
}

fn cash_year(year: &evenfall_core::money::CashYear) -> CashYear {
    CashYear {
        year: year.year,
        cash: year.cash.currency(),
        cumulative: year.cumulative.currency(),
        cumulative_discounted: year.cumulative_discounted.currency(),
    }
}

/// Prices and doubts together, the widest first.
fn swings(source: &Source<'_>, found: &AgainstBaseline) -> Vec<Swing> {
    let mut all: Vec<Swing> = found.swings.iter().map(|price| swing(source, price)).collect();
    let parts = found.explained.iter().flat_map(|explained| &explained.parts);
    all.extend(parts.filter_map(|part| doubt_swing(source, part)));
    let width = |swing: &Swing| {
        let nets = swing.net.each_ref().map(|net| net.number.unwrap_or(0.0));
        nets.iter().copied().fold(f64::NEG_INFINITY, f64::max)
            - nets.iter().copied().fold(f64::INFINITY, f64::min)
    };
    all.sort_by(|a, b| width(b).total_cmp(&width(a)));
    all
}

fn swing(source: &Source<'_>, found: &evenfall_core::verdict::Swing) -> Swing {
    let price = |value: f64| source.priced(found.price, value);
    Swing {
        input: source.key(found.price),
        label: source.label(found.price),
        is_placeholder: found.is_placeholder,
        matters: found.matters(),
        low_base_high: found.inputs,
        input_texts: found.inputs.map(price),
        net: found.nets.map(|per_ha| money::by_area(source.units, PerArea::of_ha(per_ha))),
        break_even: found.break_even,
        break_even_text: found.break_even.map(price),
    }
}
