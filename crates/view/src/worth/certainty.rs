//! How sure a net return is, and what its doubt comes from: shares, ranges, and what would narrow
//! them.

use super::money;
use super::sentences::bounded_percent;
use super::source::Source;
use super::swing::Swing;
use crate::units::{Quantity, number};
use crate::value::Amount;
use evenfall_core::doubt::table::{Doubt, Measure};
use evenfall_core::doubt::tested::TESTED;
use evenfall_core::money::PerArea;
use evenfall_core::verdict::{Cause, Explained, Part};
use serde::Serialize;
use utoipa::ToSchema;

/// How sure a net return is, with pattern, losses, soil, crop, prices and weather all drawn.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Certainty {
    /// Chance that the long-run net return is a worthwhile gain.
    pub chance_worthwhile: Amount,
    /// Low end of its interval.
    pub low: Amount,
    /// High end of its interval.
    pub high: Amount,
    /// Low end, were the weather alone not known: what more seasons can narrow.
    pub seasons_alone_low: Amount,
    /// High end of the same.
    pub seasons_alone_high: Amount,
    /// What the doubt comes from, the largest share first.
    pub causes: Vec<DoubtCause>,
}

/// One thing that is not known for sure.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct DoubtCause {
    /// Its key.
    pub name: String,
    /// In plain words.
    pub label: String,
    /// Share of the variance.
    pub share: Amount,
    /// Low end, value used, high end as people read them; empty for the weather.
    pub range: Vec<String>,
    /// Net return at these.
    pub net: Vec<Amount>,
    /// Where the range comes from; empty for prices.
    pub source: String,
    /// What would narrow it; empty for prices.
    pub narrowed_by: &'static str,
}

pub(super) fn certainty(source: &Source<'_>, found: &Explained) -> Certainty {
    let net = |per_ha: f64| money::by_area(source.units, PerArea::of_ha(per_ha));
    Certainty {
        chance_worthwhile: Amount::new(100.0 * found.chance, "%", bounded_percent(found.chance)),
        low: net(found.interval.low),
        high: net(found.interval.high),
        seasons_alone_low: net(found.seasons_alone.low),
        seasons_alone_high: net(found.seasons_alone.high),
        causes: found.parts.iter().map(|part| cause(source, part)).collect(),
    }
}

fn cause(source: &Source<'_>, part: &Part) -> DoubtCause {
    let (name, label, origin, narrowed_by) = match part.cause {
        Cause::Doubt(doubt) => {
            let row = doubt.row();
            (
                row.key.to_owned(),
                row.label.to_owned(),
                row.source,
                doubt.narrowed_by(source.scenario.calibration.is_some()),
            )
        }
        Cause::Together => {
            let label = "pattern, losses, soil and crop together";
            ("physics".to_owned(), label.to_owned(), "too few seasons to part them", "more seasons")
        }
        Cause::Price(price) => (source.key(price), source.label(price), "", ""),
        Cause::Seasons => {
            let label = "weather of the seasons drawn";
            ("seasons".to_owned(), label.to_owned(), "", "more seasons")
        }
    };
    let tests = match part.cause {
        Cause::Doubt(doubt) if TESTED.contains(&doubt) => {
            source.scenario.calibration.as_ref().map(|tests| tests.words())
        }
        _ => None,
    };
    let range = |value: f64| match part.cause {
        Cause::Doubt(doubt) => in_its_unit(source, doubt, value),
        Cause::Price(price) => source.priced(price, value),
        Cause::Together | Cause::Seasons => String::new(),
    };
    let has_range = matches!(part.cause, Cause::Doubt(_) | Cause::Price(_));
    let shown: Vec<f64> = if has_range { part.inputs.to_vec() } else { Vec::new() };
    let nets: Vec<f64> = if has_range { part.nets.to_vec() } else { Vec::new() };
    let net = |per_ha: f64| money::by_area(source.units, PerArea::of_ha(per_ha));
    DoubtCause {
        name,
        label,
        share: Amount::percent(part.share, 0),
        range: shown.into_iter().map(range).collect(),
        net: nets.into_iter().map(net).collect(),
        source: tests.unwrap_or_else(|| origin.to_owned()),
        narrowed_by,
    }
}

/// Least share of the variance that counts as moving the net return.
const LEAST_SHARE: f64 = 0.005;

/// How far a doubt moves the net return; `None` for what is none. The answer turns where the straight
/// line between the ends meets the worthwhile gain.
pub(super) fn doubt_swing(source: &Source<'_>, part: &Part) -> Option<Swing> {
    let Cause::Doubt(doubt) = part.cause else { return None };
    let target = source.economics.worthwhile_gain.per_ha();
    let ([low, _, high], [at_low, _, at_high]) = (part.inputs, part.nets);
    let turns = low + (high - low) * (target - at_low) / (at_high - at_low);
    let break_even = Some(turns).filter(|turns| (low..=high).contains(turns));
    let text = |value: f64| in_its_unit(source, doubt, value);
    Some(Swing {
        input: doubt.row().key.to_owned(),
        label: doubt.row().label.to_owned(),
        is_placeholder: false,
        matters: part.share >= LEAST_SHARE,
        low_base_high: part.inputs,
        input_texts: part.inputs.map(text),
        net: part.nets.map(|per_ha| money::by_area(source.units, PerArea::of_ha(per_ha))),
        break_even,
        break_even_text: break_even.map(text),
    })
}

/// A doubt's value as people read it.
fn in_its_unit(source: &Source<'_>, doubt: Doubt, value: f64) -> String {
    match (doubt.row().measure, doubt) {
        (Measure::Factor, _) => format!("{} %", number(100.0 * value, 0)),
        (Measure::Value, Doubt::JetLength | Doubt::Smoothing) => {
            source.units.text(Quantity::Length, value, 1)
        }
        (Measure::Value, Doubt::DischargeScatter) => format!("{} %", number(100.0 * value, 1)),
        (Measure::Value, _) => number(value, 2),
    }
}
