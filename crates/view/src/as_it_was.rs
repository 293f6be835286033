//! A season as it was beside its plan, as it is shown.

use crate::season::{Regions, Time};
use crate::units::{Quantity, UnitSystem, number};
use crate::value::Amount;
use crate::worth::money::{told_money, with_currency};
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::{AgainstPlan, Beside as Found, PassDates as Dates};
use evenfall_core::season::AlternativeOutcome;
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::worth::CropBeside;
use serde::Serialize;

/// A season as it was beside its plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AsItWas {
    /// Name of the alternative.
    pub alternative: String,
    /// Up to when the log goes.
    pub logged_up_to: Time,
    /// Sets by what became of them.
    pub sets: Sets,
    /// How late recorded sets started; `null` without any.
    pub starts: Option<Starts>,
    /// Moves between recorded sets; `null` without any.
    pub moves: Option<Beside>,
    /// Set times of recorded sets; `null` without any.
    pub set_times: Option<Beside>,
    /// Water that leaves the nozzles.
    pub gross: Both,
    /// Water that reaches the field.
    pub net: Both,
    /// What it did to the crop; `null` without crop, soil and climate.
    pub crop: Option<CropAsItWas>,
    /// Figures of all water of the season, as planned.
    pub planned: Regions,
    /// The same as it was, with what is still to come.
    pub real: Regions,
    /// Pass by pass.
    pub passes: Vec<PassDates>,
}

/// Sets by what became of them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Sets {
    /// In the plan.
    pub planned: usize,
    /// In the log as done.
    pub recorded: usize,
    /// Those of them that started at another time than planned.
    pub moved_in_time: usize,
    /// Not in the log, and counted as done as planned.
    pub counted_as_done: usize,
    /// Missed and left without water.
    pub left: usize,
    /// Missed and still to be caught up.
    pub to_catch_up: usize,
    /// Still to come.
    pub to_come: usize,
    /// In passes that no longer end in the season.
    pub dropped: usize,
}

/// How late sets started.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Starts {
    /// On average; negative for early.
    pub mean_late: Amount,
    /// The one farthest from its plan.
    pub worst_late: Amount,
}

/// A time as planned and as it was, on average.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Beside {
    /// How many there were.
    pub count: usize,
    /// Planned.
    pub planned: Amount,
    /// As it was.
    pub real: Amount,
}

/// An amount as planned and as it was.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Both {
    /// Planned.
    pub planned: Amount,
    /// As it was, with what is still to come.
    pub real: Amount,
}

/// What the season did to the crop beside its plan, at the scenario's own values.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CropAsItWas {
    /// Yield, of full yield.
    pub yield_share: Both,
    /// The same of the field's worst tenth.
    pub yield_worst_tenth: Both,
    /// Water lost below the roots.
    pub percolation: Both,
    /// Gain over the plan in money for the field, below zero a loss; `null` where a price that matters
    /// is missing.
    pub money: Option<Amount>,
}

/// Dates of a pass; `null` where nothing of it is watered.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PassDates {
    /// Its number, from 1.
    pub pass: usize,
    /// Planned start of its first set.
    pub planned_start: Time,
    /// Planned end of its last set.
    pub planned_end: Time,
    /// Start as it was.
    pub real_start: Option<Time>,
    /// End as it was.
    pub real_end: Option<Time>,
    /// Sets planned.
    pub sets_planned: usize,
    /// Sets that are watered.
    pub sets: usize,
}

/// What a season as it was is made from.
#[derive(Clone, Copy, Debug)]
pub struct AsItWasParts<'a> {
    /// Name of the alternative.
    pub alternative: &'a str,
    /// The plan that the season began with.
    pub first: &'a Plan,
    /// Up to when the log goes, h.
    pub now_h: f64,
    /// The arithmetic.
    pub found: &'a AgainstPlan,
    /// The season as planned.
    pub planned: &'a AlternativeOutcome,
    /// The season as it was.
    pub real: &'a AlternativeOutcome,
    /// What it did to the crop, where there is one, and the currency of the prices.
    pub crop: Option<(&'a CropBeside, Option<&'a str>)>,
}

impl AsItWas {
    /// Shown in `units`.
    pub fn new(of: &AsItWasParts<'_>, units: UnitSystem) -> Self {
        let AsItWasParts { first, found, planned, real, .. } = *of;
        let volume = |m3: f64| Amount::quantity(units, Quantity::Volume, m3, 1);
        let both = |planned, real| Both { planned: volume(planned), real: volume(real) };
        let counts = found.counts;
        Self {
            alternative: of.alternative.to_owned(),
            logged_up_to: Time(first.shown(of.now_h).at),
            sets: Sets {
                planned: counts.planned,
                recorded: counts.recorded,
                moved_in_time: counts.moved_in_time,
                counted_as_done: counts.taken_as_done,
                left: counts.left,
                to_catch_up: counts.to_catch_up,
                to_come: counts.to_come,
                dropped: counts.dropped,
            },
            starts: found.starts.map(|starts| Starts {
                mean_late: late(starts.mean_late_h),
                worst_late: late(starts.worst_late_h),
            }),
            moves: found.moves.map(Beside::new),
            set_times: found.set_times.map(Beside::new),
            gross: both(planned.water.gross_m3, real.water.gross_m3),
            net: both(planned.water.on_field_m3, real.water.on_field_m3),
            crop: of.crop.map(|(found, currency)| CropAsItWas::new(found, currency, units)),
            planned: Regions::new(planned.season_figures(), units),
            real: Regions::new(real.season_figures(), units),
            passes: found.passes.iter().map(|pass| PassDates::new(first, pass)).collect(),
        }
    }
}

impl CropAsItWas {
    fn new(found: &CropBeside, currency: Option<&str>, units: UnitSystem) -> Self {
        let both = |of: &dyn Fn(&SeasonFigures) -> Amount| Both {
            planned: of(&found.planned),
            real: of(&found.real),
        };
        let money = found.balance.map(|balance| {
            let gain = balance.net().currency();
            let unit = currency.unwrap_or_default().to_owned();
            Amount::new(gain, unit, with_currency(&told_money(gain), currency))
        });
        let decimals = units.depth_decimals();
        Self {
            yield_share: both(&|own| Amount::percent(own.yield_fraction, 1)),
            yield_worst_tenth: both(&|own| Amount::percent(own.yield_worst_tenth, 1)),
            percolation: both(&|own| {
                Amount::quantity(units, Quantity::Depth, own.percolation_mm, decimals)
            }),
            money,
        }
    }
}

impl Beside {
    fn new(found: Found) -> Self {
        let hours = |hours: f64| Amount::new(hours, "h", format!("{}\u{a0}h", number(hours, 2)));
        Self { count: found.count, planned: hours(found.planned_h), real: hours(found.real_h) }
    }
}

impl PassDates {
    fn new(first: &Plan, found: &Dates) -> Self {
        let time = |hour_h: f64| Time(first.shown(hour_h).at);
        Self {
            pass: found.number + 1,
            planned_start: time(found.planned_h.0),
            planned_end: time(found.planned_h.1),
            real_start: found.real_h.map(|span_h| time(span_h.0)),
            real_end: found.real_h.map(|span_h| time(span_h.1)),
            sets_planned: found.sets_planned,
            sets: found.sets,
        }
    }
}

/// "40 min late", "1.5 h early", "on time".
fn late(hours: f64) -> Amount {
    let text = match duration(hours.abs()) {
        None => "on time".to_owned(),
        Some(text) if hours > 0.0 => format!("{text} late"),
        Some(text) => format!("{text} early"),
    };
    Amount::new(hours, "h", text)
}

/// "40 min" up to two hours, "2.5 h" from there on; `None` where it rounds to nothing.
pub fn duration(hours: f64) -> Option<String> {
    let minutes = (60.0 * hours).round();
    match minutes {
        m if m < 1.0 => None,
        m if m < 120.0 => Some(format!("{m}\u{a0}min")),
        _ => Some(format!("{}\u{a0}h", number(hours, 1))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_late_and_early_are_words_beside_the_number() {
        let found = |hours| (late(hours).number, late(hours).text);
        assert_eq!(found(2.0 / 3.0), (Some(2.0 / 3.0), "40\u{a0}min late".to_owned()));
        assert_eq!(found(-2.5), (Some(-2.5), "2.5\u{a0}h early".to_owned()));
        assert_eq!(found(0.004).1, "on time");
    }
}
