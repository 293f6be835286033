//! A number over the seasons, and its difference against the baseline, as it is shown.

use crate::units::{Quantity, UnitSystem, number, percent};
use crate::value::{Amount, Interval};
use crate::worth::money::{area_symbol, signed_money, spread, spread_money};
use evenfall_core::ensemble::SeasonsFigures;
use evenfall_core::paired::{Chance, Paired};
use serde::Serialize;
use std::borrow::Cow;
use utoipa::ToSchema;

/// A number over the seasons.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct OverSeasons {
    /// Mean.
    pub mean: Amount,
    /// Confidence interval of the mean.
    pub interval: Interval,
    /// Standard deviation of a season.
    pub standard_deviation: Amount,
    /// What nine seasons in ten exceed.
    pub worst_tenth: Amount,
    /// What half of the seasons exceed.
    pub median: Amount,
    /// What one season in ten exceeds.
    pub best_tenth: Amount,
    /// Mean and interval as people read them, without the unit: "92.9 (92.8 to 93.0)".
    pub text: String,
}

/// The difference of a number against the baseline, season by season.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Difference {
    /// Figures of the differences; their text is "no difference" where no season has any.
    pub figures: OverSeasons,
    /// How often there is a gain; `null` without any difference.
    pub chance: Option<GainChance>,
    /// Season by season, in the unit of the figures.
    pub by_season: Vec<f64>,
}

/// How often a season brings a gain.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct GainChance {
    /// Seasons with a gain.
    pub gains: usize,
    /// Seasons with a loss.
    pub losses: usize,
    /// Seasons without a difference.
    pub ties: usize,
    /// Chance of a gain in any one season.
    pub gain: Amount,
    /// Its interval.
    pub interval: Interval,
    /// Both as people read them.
    pub text: String,
}

/// How a number is shown: its unit, and its ends told apart.
#[derive(Clone)]
pub(super) struct Measure {
    unit: Cow<'static, str>,
    /// Brings the inside unit into the shown one.
    factor: f64,
    least: usize,
    kind: Kind,
}

#[derive(Clone, Copy)]
enum Kind {
    Plain,
    /// That cannot lie below nothing, whatever few seasons say of their mean.
    AtLeastNothing,
    Signed,
    Money,
}

impl Measure {
    /// A fraction as percent.
    pub(super) fn percent() -> Self {
        Self { unit: "%".into(), factor: 100.0, least: 1, kind: Kind::Plain }
    }

    /// A difference of fractions in points.
    pub(super) fn points() -> Self {
        Self { unit: "points".into(), factor: 100.0, least: 1, kind: Kind::Signed }
    }

    /// A depth of water.
    pub(super) fn depth(units: UnitSystem) -> Self {
        let factor = units.shown(Quantity::Depth, 1.0);
        let unit = units.symbol(Quantity::Depth).into();
        Self { unit, factor, least: units.depth_decimals(), kind: Kind::Plain }
    }

    /// The same of water itself, not of a difference.
    pub(super) fn water(units: UnitSystem) -> Self {
        Self { kind: Kind::AtLeastNothing, ..Self::depth(units) }
    }

    /// Money by area, from currency a hectare.
    pub(super) fn money(units: UnitSystem) -> Self {
        let unit = area_symbol(units).into();
        Self { unit, factor: units.per_area(1.0), least: 2, kind: Kind::Money }
    }

    fn text(&self, shown: f64, decimals: usize) -> String {
        let text = number(shown, decimals);
        match self.kind {
            Kind::Signed if shown > 0.0 && !text.starts_with('\u{2212}') => format!("+{text}"),
            Kind::Plain | Kind::AtLeastNothing | Kind::Signed => text,
            Kind::Money => signed_money(shown),
        }
    }

    fn value(&self, inside: f64) -> Amount {
        let shown = self.factor * inside;
        Amount::new(shown, self.unit.clone(), self.text(shown, self.least))
    }

    /// The figures of a number.
    pub(super) fn over(&self, f: &SeasonsFigures) -> OverSeasons {
        let low = match self.kind {
            Kind::AtLeastNothing => f.interval.low.max(0.0),
            Kind::Plain | Kind::Signed | Kind::Money => f.interval.low,
        };
        let shown = [f.mean, low, f.interval.high].map(|value| self.factor * value);
        let [mean, low, high] = match self.kind {
            Kind::Money => spread_money(shown),
            _ => spread(shown, self.least, |value, decimals| self.text(value, decimals)),
        };
        let range = format!("{low} to {high}");
        let text = if low == high { mean.clone() } else { format!("{mean} ({range})") };
        let value = |number, text| Amount::new(number, self.unit.clone(), text);
        OverSeasons {
            mean: value(shown[0], mean),
            interval: Interval {
                low: value(shown[1], low),
                high: value(shown[2], high),
                text: range,
            },
            standard_deviation: self.value(f.standard_deviation),
            worst_tenth: self.value(f.worst_tenth),
            median: self.value(f.median),
            best_tenth: self.value(f.best_tenth),
            text,
        }
    }

    /// The difference of a number.
    pub(super) fn difference(&self, paired: &Paired) -> Difference {
        let mut figures = self.over(&paired.figures);
        if paired.is_no_difference() {
            "no difference".clone_into(&mut figures.text);
        }
        let by_season = paired.differences.iter().map(|value| self.factor * value).collect();
        Difference { figures, chance: gain_chance(paired), by_season }
    }
}

fn gain_chance(paired: &Paired) -> Option<GainChance> {
    let Chance::Counted { gains, losses, ties, gain_share, interval } = paired.chance else {
        return None;
    };
    let [low, high] = [interval.low, interval.high].map(|share| percent(share, 0));
    let text = format!("{} ({low} to {high})", percent(gain_share, 0));
    let interval = Interval {
        low: Amount::percent(interval.low, 0),
        high: Amount::percent(interval.high, 0),
        text: format!("{low} to {high}"),
    };
    Some(GainChance { gains, losses, ties, gain: Amount::percent(gain_share, 0), interval, text })
}
