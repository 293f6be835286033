//! The verdict on one alternative, in words that ask for no knowledge of the trade's figures.

use super::money::{spread, told_ends, told_money, told_sum, with_currency};
use super::source::{Rival, Source};
use crate::units::{Quantity, number, percent, points};
use evenfall_core::ensemble::Interval;
use evenfall_core::money::{BreakEven, PerArea, Price};
use evenfall_core::paired::Chance;
use evenfall_core::verdict::{Answer, Cause, Hinge, Reason, SEASONS_TO_PART, Settles};

/// A crop price so many times the one that was entered is no market's; judgment.
const FAR_FROM_ENTERED: f64 = 4.0;

/// A name in quotation marks.
pub(super) fn quoted(name: &str) -> String {
    format!("“{name}”")
}

/// A sentence's begin: its first letter large.
fn first_letter(words: String) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => words,
    }
}

impl Source<'_> {
    /// "an acre a year".
    fn an_area_a_year(&self) -> &'static str {
        if self.units.area_word() == "acre" { "an acre a year" } else { "a hectare a year" }
    }

    /// "13.4 USD an acre a year", without its sign.
    pub(super) fn an_amount(&self, amount: PerArea) -> String {
        let amount = told_money(self.units.per_area(amount.per_ha()).abs());
        format!("{} {}", with_currency(&amount, self.currency()), self.an_area_a_year())
    }

    /// Ends of a range of money by area.
    fn ends(&self, per_ha: [f64; 2]) -> [String; 2] {
        let shown = per_ha.map(|per_ha| self.units.per_area(per_ha));
        told_ends(shown).map(|amount| with_currency(&amount, self.currency()))
    }

    /// "(likely range 1 to 34)": of gains beside a gain, of costs beside a cost, and in words where it
    /// holds both.
    fn likely_range(&self, interval: Interval) -> String {
        let (low, high) = (interval.low, interval.high);
        let ends = match (low < 0.0, high > 0.0) {
            (true, true) => {
                let told = |per_ha| told_money(self.units.per_area(per_ha));
                let [loss, gain] =
                    [-low, high].map(|end| with_currency(&told(end), self.currency()));
                return format!("(likely range: a loss of {loss} to a gain of {gain})");
            }
            (true, false) => self.ends([-high, -low]),
            _ => self.ends([low, high]),
        };
        if ends[0] == ends[1] {
            return "(the same in every season)".to_owned();
        }
        format!("(likely range {} to {})", ends[0], ends[1])
    }

    /// "1,200 a year on 40.0 acres".
    fn for_the_field(&self, rival: &Rival<'_>) -> String {
        let area = self.units.text(Quantity::Area, self.scenario.field.area().m2(), 1);
        let net = told_sum(rival.against.balance.net().currency().abs());
        format!("{} a year on {area}", with_currency(&net, self.currency()))
    }

    /// An alternative by name, with the irrigations that each of the two gets where they differ: then more
    /// is compared than stops.
    fn with_irrigations(&self, rival: &Rival<'_>) -> String {
        let passes = |alternative| self.mean(alternative, |figures| f64::from(figures.passes));
        let (own, other) = (passes(rival.index), passes(0));
        let name = quoted(rival.name);
        if (own - other).abs() < 0.05 {
            return name;
        }
        let shown = |passes: f64| number(passes, usize::from(passes.fract().abs() > 0.05));
        format!("{name} ({} irrigations a season against {})", shown(own), shown(other))
    }

    /// Pays, does not pay, or inconclusive, and by how much; what is missing is asked for.
    pub(super) fn headline(&self, rival: &Rival<'_>) -> String {
        let verdict = &rival.against.verdict;
        let (a, b) = (self.with_irrigations(rival), quoted(self.baseline()));
        let amount = self.an_amount(rival.against.mean_net());
        let range = self.likely_range(verdict.interval);
        let field = self.for_the_field(rival);
        let on = if rival.against.placeholders.is_empty() { "" } else { " at placeholder prices" };
        let (brings, bring) =
            if verdict.mean_net >= 0.0 { ("it brings", "bring") } else { ("it costs", "cost") };
        match (verdict.answer, verdict.reason) {
            (Answer::Inconclusive, Reason::MissingPrice) => {
                format!("Can’t tell yet whether {a} pays against {b}. {}", self.asking(rival))
            }
            (Answer::Pays, _) => {
                format!("{a} pays against {b}{on}: about {amount} more {range}, {field}.")
            }
            (Answer::DoesNotPay, Reason::NoDifference) => {
                format!("{a} does not pay against {b}: it makes no difference in any season.")
            }
            (Answer::DoesNotPay, Reason::TooSmall) if verdict.mean_net < 0.0 => format!(
                "{a} does not pay against {b}{on}: {brings} about {amount} {range}, and even the best end \
                 of that range is no more than the worthwhile gain of {}.",
                self.an_amount(PerArea::of_ha(verdict.worthwhile_gain))
            ),
            (Answer::DoesNotPay, Reason::TooSmall) => format!(
                "{a} does not pay against {b}{on}: {brings} about {amount} {range}, no more than \
                 the worthwhile gain of {}.",
                self.an_amount(PerArea::of_ha(verdict.worthwhile_gain))
            ),
            (Answer::DoesNotPay, _) => format!(
                "{a} does not pay against {b}{on}: it costs about {amount} more than it brings \
                 {range}, {field}."
            ),
            (Answer::Inconclusive, Reason::Placeholder) => format!(
                "Can’t tell yet whether {a} pays against {b}: a placeholder price decides. At the \
                 prices used it would {bring} about {amount} {range}, {field}."
            ),
            (Answer::Inconclusive, Reason::Doubt) => format!(
                "Can’t tell yet whether {a} pays against {b}{on}: {brings} about {amount} on \
                 average, but too much about it is not known {range}."
            ),
            (Answer::Inconclusive, _) => format!(
                "Can’t tell from {} seasons whether {a} pays against {b}{on}: {brings} about \
                 {amount} on average, but the seasons differ too much {range}.",
                self.worth.seasons.finished()
            ),
        }
    }

    /// How often it earns more, in one season and over the life of what is bought.
    pub(super) fn chance(&self, rival: &Rival<'_>) -> Option<String> {
        let nets = &rival.against.net_per_ha;
        let Chance::Counted { gains, losses, gain_share, interval, .. } = nets.chance else {
            return None;
        };
        let one = format!(
            "{} earned more than {} in {gains} of {} seasons and less in {losses}: a chance of {} \
             in any one season ({} to {}).",
            quoted(rival.name),
            quoted(self.baseline()),
            nets.figures.seasons,
            percent(gain_share, 0),
            percent(interval.low, 0),
            percent(interval.high, 0),
        );
        let over_life = Self::chance_over_life(rival).map(|(years, chance)| {
            format!(
                " Over the {years} years that what you buy lasts, the chance of a gain is {} at \
                 these prices.",
                bounded_percent(chance)
            )
        });
        Some(one + &over_life.unwrap_or_default())
    }

    /// How it stands when all that is doubtful is off together, and what most of it comes from.
    pub(super) fn certainty(&self, rival: &Rival<'_>) -> Option<String> {
        let against = rival.against;
        if !against.is_valued() || against.verdict.reason == Reason::NoDifference {
            return None;
        }
        let Some(found) = &against.explained else { return self.price_spread(rival) };
        let most = found.parts.first()?;
        let from = match most.cause {
            Cause::Doubt(doubt) => doubt.row().label.to_owned(),
            Cause::Together => "pattern, losses, soil and crop".to_owned(),
            Cause::Price(price) => self.label(price),
            Cause::Seasons => "the weather of the seasons drawn".to_owned(),
        };
        let part = if most.share > 0.5 { "Most" } else { "The largest part" };
        let varied = match &self.scenario.calibration {
            Some(tests) => format!(
                "{}: with what they leave of pattern in wind and losses, and soil, crop and prices \
                 varied together over their ranges",
                first_letter(tests.words())
            ),
            None => {
                "With pattern in wind, losses, soil, crop and prices varied together over their \
                     ranges"
                    .to_owned()
            }
        };
        let [low, high] = self.ends([found.seasons_alone.low, found.seasons_alone.high]);
        Some(format!(
            "{varied}, the chance of a worthwhile gain is {}. {part} of the doubt, {}, comes from one thing: \
             {from}. If only the weather were unknown, the net return would lie between {low} and \
             {high}; more seasons can narrow that part alone.",
            bounded_percent(found.chance),
            percent(most.share, 0),
        ))
    }

    /// How it stands when all prices are off together.
    fn price_spread(&self, rival: &Rival<'_>) -> Option<String> {
        let spread = rival.against.price_spread?;
        let [low, high] = self.ends([spread.low, spread.high]);
        Some(format!(
            "With all prices varied together over their ranges, the chance of a worthwhile gain is \
             {}; nine times in ten the net return is between {low} and {high} {}.",
            bounded_percent(spread.share_above),
            self.an_area_a_year(),
        ))
    }

    /// Years of the life of what is bought, and the chance that it earns over them.
    pub(super) fn chance_over_life(rival: &Rival<'_>) -> Option<(u32, f64)> {
        let years = rival.against.life_years?;
        if let Some(explained) = &rival.against.explained {
            return Some((years, explained.chance_over(years)));
        }
        Some((years, rival.against.net_per_ha.chance_over(years as usize, 0.0)?))
    }

    /// What changes in the crop and below it.
    pub(super) fn crop(&self, rival: &Rival<'_>) -> String {
        let against = rival.against;
        let (all, worst) = (against.yield_gain.figures, against.worst_tenth_gain.figures);
        if against.yield_gain.is_no_difference() && against.percolation_rise_mm.is_no_difference() {
            return "Yield and deep percolation are the same in every season.".to_owned();
        }
        let rise_mm = against.percolation_rise_mm.figures.mean;
        let decimals = self.units.depth_decimals();
        let depth = self.units.text(Quantity::Depth, rise_mm.abs(), decimals);
        let lost = if rise_mm > 0.0 { "more" } else { "less" };
        let [mean, low, high] = spread([all.mean, all.interval.low, all.interval.high], 1, points);
        let interval = if low == high { String::new() } else { format!(" ({low} to {high})") };
        format!(
            "Yield changes by {mean} points of full yield{interval}, in the field’s worst tenth by \
             {}; {depth} {lost} water drains below the roots in a season.",
            points(worst.mean, 1),
        )
    }

    /// What would settle an open answer, or what a given answer hangs on.
    pub(super) fn settling(&self, rival: &Rival<'_>) -> Vec<String> {
        let (against, verdict) = (rival.against, &rival.against.verdict);
        if !against.is_valued() {
            // A missing crop price can still be told from which one on it pays.
            let rest = against.missing.iter().all(|price| *price == Price::Crop);
            return self.break_even(rival).filter(|_| rest).into_iter().collect();
        }
        // Where much is doubtful, no price alone settles it: the two that matter most are named.
        let is_doubtful = verdict.reason == Reason::Doubt;
        let settles = verdict.settled_by.iter().filter_map(|settles| match settles {
            Settles::Seasons { in_all: Some(all), more: Some(more) } => Some(format!(
                "About {all} seasons in all ({more} more) would settle it if mean and spread stay \
                 as they are."
            )),
            Settles::Seasons { .. } => {
                Some("More seasons won’t settle it: the two are too nearly alike.".to_owned())
            }
            Settles::Knowing(_) if is_doubtful => None,
            Settles::Knowing(hinge) => self.hinge("Your own", " would settle it", hinge, rival),
            Settles::Measuring(_) | Settles::Giving(_) => None,
        });
        let mut out: Vec<String> = settles.collect();
        let more = || {
            let words = "seasons or more to see what would narrow it.";
            is_doubtful.then(|| format!("Run {SEASONS_TO_PART} {words}"))
        };
        out.extend(
            measuring(&verdict.settled_by, self.scenario.calibration.is_some()).or_else(more),
        );
        if verdict.reason == Reason::NoDifference {
            return out;
        }
        let own = verdict.hangs_on.iter().filter(|hinge| is_doubtful || !hinge.is_placeholder);
        out.extend(own.take(2).filter_map(|h| self.hinge("The answer hangs on the", "", h, rival)));
        if !verdict.hangs_on.iter().any(|hinge| hinge.price == Price::Crop) {
            out.extend(self.break_even(rival));
        }
        out
    }

    /// At which crop price it pays.
    pub(super) fn break_even(&self, rival: &Rival<'_>) -> Option<String> {
        // What is missing could turn the answer at any crop price.
        if rival.against.verdict.reason == Reason::MissingPrice {
            return None;
        }
        self.economics.prices.of(Price::PotentialYield)?;
        let price = |value| self.priced(Price::Crop, value);
        let entered =
            self.economics.prices.of(Price::Crop).map_or(f64::INFINITY, |crop| crop.value);
        Some(match rival.against.break_even {
            BreakEven::PaysAbove(value) if value <= 0.0 => {
                "It costs nothing more at these prices, so it pays at any crop price.".to_owned()
            }
            BreakEven::PaysAbove(value) if value > FAR_FROM_ENTERED * entered => {
                "No crop price that is likely would make it pay.".to_owned()
            }
            BreakEven::PaysAbove(value) => {
                format!("At the other prices it breaks even at a crop price of {}.", price(value))
            }
            BreakEven::PaysBelow(value) => {
                format!("It loses yield and pays only below a crop price of {}.", price(value))
            }
            BreakEven::AtEveryPrice => "It would pay at any crop price.".to_owned(),
            BreakEven::AtNoPrice => "No crop price would make it pay.".to_owned(),
        })
    }

    /// Payback of what is bought.
    pub(super) fn payback(rival: &Rival<'_>) -> Option<String> {
        rival.against.life_years.filter(|_| rival.against.is_valued())?;
        let years = |value: f64| number(value, 1);
        Some(match rival.against.payback_years {
            (Some(plain), Some(late)) => format!(
                "What you buy pays for itself in {} years ({} with interest).",
                years(plain),
                years(late)
            ),
            (Some(plain), None) => format!(
                "What you buy pays for itself in {} years, but never with interest.",
                years(plain)
            ),
            (None, _) => "What you buy never pays for itself.".to_owned(),
        })
    }

    /// Placeholders with their values; `None` without any.
    pub(super) fn placeholders(&self) -> Option<String> {
        let each: Vec<String> = self
            .prices_of(|against| &against.placeholders)
            .into_iter()
            .filter_map(|price| {
                let value = self.economics.prices.of(price)?.value;
                Some(format!("{} {}", self.label(price), self.priced(price, value)))
            })
            .collect();
        (!each.is_empty()).then(|| {
            format!(
                "Placeholders until you enter yours: {}. What is said about money is only as good \
                 as they are.",
                each.join("; ")
            )
        })
    }

    /// A price at which the answer turns.
    fn hinge(&self, before: &str, after: &str, hinge: &Hinge, rival: &Rival<'_>) -> Option<String> {
        let swing = rival.against.swings.iter().find(|swing| swing.price == hinge.price)?;
        let [low, base, high] = swing.inputs.map(|value| self.priced(hinge.price, value));
        let side = if swing.nets[2] > swing.nets[0] { "above" } else { "below" };
        let used = if hinge.is_placeholder { "placeholder" } else { "you entered" };
        Some(format!(
            "{before} {}{after}: it pays {side} {} ({used} {base}, range {low} to {high}).",
            self.label(hinge.price),
            self.priced(hinge.price, hinge.break_even)
        ))
    }
}

/// "A catch test of the line in wind would narrow it most."
fn measuring(settled_by: &[Settles], is_tested: bool) -> Option<String> {
    let tests = settled_by.iter().filter_map(|settles| match settles {
        Settles::Measuring(doubt) => Some(doubt.narrowed_by(is_tested)),
        Settles::Seasons { .. } | Settles::Knowing(_) | Settles::Giving(_) => None,
    });
    let mut wanted: Vec<&str> = Vec::new();
    for test in tests {
        if !wanted.contains(&test) {
            wanted.push(test);
        }
    }
    (!wanted.is_empty()).then(|| format!("What would narrow it: {}.", wanted.join("; ")))
}

/// Percent that never claims to be certain.
pub(super) fn bounded_percent(share: f64) -> String {
    match share {
        high if high > 0.995 => "over 99\u{a0}%".to_owned(),
        low if low < 0.005 => "under 1\u{a0}%".to_owned(),
        other => percent(other, 0),
    }
}
