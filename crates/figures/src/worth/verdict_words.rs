//! The verdict on one alternative, in words that ask for no knowledge of the trade's figures.

use super::money::{item_named, money, spread, spread_money};
use super::{Rival, WorthScene};
use crate::units::{Quantity, number, percent, points};
use evenfall_core::ensemble::Interval;
use evenfall_core::money::{BreakEven, Item};
use evenfall_core::paired::Chance;
use evenfall_core::verdict::{Answer, Hinge, Reason, Settles};
use evenfall_core::worth::{Economics, HalfWidth, Reached};

/// A name in quotation marks.
pub(super) fn quoted(name: &str) -> String {
    format!("“{name}”")
}

impl WorthScene<'_> {
    /// Money a hectare told by the shown unit of area.
    fn by_area(&self, per_ha: f64) -> String {
        let value = money(self.units().per_area(per_ha).abs()) + &self.currency();
        let article = if self.units().area_word() == "acre" { "an" } else { "a" };
        format!("{value} {article} {} and year", self.units().area_word())
    }

    /// "(90 % interval +1.2 to +3.4)".
    fn interval(&self, interval: Interval) -> String {
        let ends = [interval.low, interval.high].map(|per_ha| self.units().per_area(per_ha));
        let [low, high] = spread_money(ends);
        if low == high {
            return "(the same in every season)".to_owned();
        }
        format!("({} interval {low} to {high})", percent(interval.level, 0))
    }

    /// "1,230 a year for the field of 40.0 acres".
    fn for_the_field(&self, rival: &Rival<'_>) -> String {
        let area = self.units().text(Quantity::Area, self.site.scenario.field.area().m2(), 1);
        let net = money(rival.against.balance.net().abs());
        format!("{net}{} a year for the field of {area}", self.currency())
    }

    /// One sentence: pays, does not pay, or cannot be told, and by how much.
    pub(super) fn headline(&self, rival: &Rival<'_>) -> String {
        let verdict = &rival.against.verdict;
        let (a, b) = (quoted(rival.name), quoted(self.baseline()));
        let amount = self.by_area(verdict.mean_net);
        let interval = self.interval(verdict.interval);
        let field = self.for_the_field(rival);
        if !self.is_valued() {
            let missing: Vec<_> = self.missing_value().iter().map(|item| item.label()).collect();
            return format!(
                "Whether {a} pays against {b} cannot be told: no {} is given.",
                missing.join(" and no ")
            );
        }
        let seasons = self.worth.seasons.finished();
        let is_vouched = rival.against.placeholders.is_empty();
        let on = if is_vouched { "" } else { " on prices nobody stands for yet" };
        let brings = if verdict.mean_net >= 0.0 { "bring" } else { "cost" };
        match (verdict.answer, verdict.reason) {
            (Answer::Pays, _) => {
                format!("{a} pays against {b}{on}: about {amount} more {interval}, {field}.")
            }
            (Answer::DoesNotPay, Reason::NoDifference) => format!(
                "{a} does not pay against {b}: in no season does it make any difference in money."
            ),
            (Answer::DoesNotPay, Reason::TooSmall) => format!(
                "{a} does not pay against {b}: what it {brings}s, about {amount} {interval}, is \
                 surely no gain worth the name (more than {}).",
                self.by_area(verdict.worthwhile_gain)
            ),
            (Answer::DoesNotPay, _) => format!(
                "{a} does not pay against {b}: it costs about {amount} more than it brings \
                 {interval}, {field}."
            ),
            (Answer::CannotBeTold, Reason::Placeholder) => format!(
                "Whether {a} pays against {b} cannot be told yet. With the prices used it would \
                 {brings} about {amount} {interval}, {field}, but a placeholder decides."
            ),
            (Answer::CannotBeTold, _) => format!(
                "Whether {a} pays against {b} cannot be told from {seasons} seasons: they {brings} \
                 about {amount} on average, but the seasons differ too much {interval}."
            ),
        }
    }

    /// How often it earns more, in one season and over the life of what is bought.
    pub(super) fn chance(&self, rival: &Rival<'_>) -> Option<String> {
        let nets = &rival.against.net_per_ha;
        let Chance::Counted { gains, losses, gain_share, interval, .. } = nets.chance else {
            return None;
        };
        let seasons = nets.figures.seasons;
        let one = format!(
            "{} left more money than {} in {gains} of {seasons} seasons and less in {losses}: chance \
             of {} for any one season ({} to {}).",
            quoted(rival.name),
            quoted(self.baseline()),
            percent(gain_share, 0),
            percent(interval.low, 0),
            percent(interval.high, 0),
        );
        let over_life = self.chance_over_life(rival).map(|(years, chance)| {
            format!(
                " Averaged over the {years} years that what is bought lasts, the chance that it \
                 leaves more are {}.",
                bounded_percent(chance)
            )
        });
        Some(one + &over_life.unwrap_or_default())
    }

    /// How it stands when all prices are off together.
    pub(super) fn together(&self, rival: &Rival<'_>) -> Option<String> {
        let together = rival.against.together?;
        if !self.is_valued() || rival.against.verdict.reason == Reason::NoDifference {
            return None;
        }
        let ends = [together.low, together.high].map(|per_ha| self.units().per_area(per_ha));
        let [low, high] = spread_money(ends);
        Some(format!(
            "With all prices drawn together from their ranges, the chance that {} is worth the name \
             are {}; nine times in ten the net return is between {low} and {high}{} {} and year.",
            quoted(rival.name),
            bounded_percent(together.share_above),
            self.currency(),
            if self.units().area_word() == "acre" { "an acre" } else { "a hectare" },
        ))
    }

    /// Years of the life of what is bought, and the odds that it earns over them.
    pub(super) fn chance_over_life(&self, rival: &Rival<'_>) -> Option<(u32, f64)> {
        let years = self.life_years(rival)?;
        Some((years, rival.against.net_per_ha.chance_over(years as usize, 0.0)?))
    }

    /// What changes in the crop and below it.
    pub(super) fn crop(&self, rival: &Rival<'_>) -> String {
        let against = rival.against;
        let (all, worst) = (against.yield_gain.figures, against.worst_tenth_gain.figures);
        if against.yield_gain.is_no_difference() && against.percolation_rise_mm.is_no_difference() {
            return "Crop and water below the roots are the same in every season.".to_owned();
        }
        let rise_mm = against.percolation_rise_mm.figures.mean;
        let decimals = self.units().depth_decimals();
        let depth = self.units().text(Quantity::Depth, rise_mm.abs(), decimals);
        let lost = if rise_mm > 0.0 { "more" } else { "less" };
        let [mean, low, high] = spread([all.mean, all.interval.low, all.interval.high], 1, points);
        let interval = if low == high { String::new() } else { format!(" ({low} to {high})") };
        format!(
            "The crop yields {mean} points of its full yield{interval}, in the field’s worst tenth \
             {}; {depth} {lost} water is lost below the roots in a season.",
            points(worst.mean, 1),
        )
    }

    /// What would settle an open answer, or what a given answer hangs on.
    pub(super) fn settling(&self, rival: &Rival<'_>) -> Vec<String> {
        let against = rival.against;
        if !self.is_valued() {
            return self.break_even(rival).into_iter().collect();
        }
        let settles = against.verdict.settled_by.iter().map(|settles| match settles {
            Settles::Seasons { in_all: Some(all), more: Some(more) } => format!(
                "About {all} seasons in all ({more} more) would settle it, if mean and spread stay \
                 as they are."
            ),
            Settles::Seasons { .. } => {
                "No number of seasons worth running would settle it: the two are too nearly alike."
                    .to_owned()
            }
            Settles::Input(input) => self.hinge("Knowing the", "would settle it", input, rival),
        });
        let mut out: Vec<String> = settles.collect();
        let own = against.verdict.hangs_on.iter().filter(|hinge| !hinge.is_placeholder);
        if against.verdict.reason != Reason::NoDifference {
            out.extend(own.take(2).map(|h| self.hinge("The answer hangs on the", "", h, rival)));
        }
        let is_told = against.verdict.reason == Reason::NoDifference;
        if !is_told
            && !against.verdict.hangs_on.iter().any(|hinge| hinge.name == Item::CropPrice.label())
        {
            out.extend(self.break_even(rival));
        }
        out
    }

    /// At which crop price it pays.
    pub(super) fn break_even(&self, rival: &Rival<'_>) -> Option<String> {
        self.economics.prices.of(Item::PotentialYield)?;
        let price = |value| self.priced(Item::CropPrice, value);
        Some(match rival.against.break_even {
            BreakEven::PaysAbove(value) if value <= 0.0 => {
                "It costs nothing more on these numbers, and so pays at any price of the crop."
                    .to_owned()
            }
            BreakEven::PaysAbove(value) => format!(
                "On the other numbers it brings in what it costs from a crop price of {}.",
                price(value)
            ),
            BreakEven::PaysBelow(value) => {
                format!("It loses yield and pays only below a crop price of {}.", price(value))
            }
            BreakEven::AtEveryPrice => "It would pay at every crop price.".to_owned(),
            BreakEven::AtNoPrice => {
                "No price of the crop, however high or low, would make it pay.".to_owned()
            }
        })
    }

    /// Payback of what is bought.
    pub(super) fn payback(&self, rival: &Rival<'_>) -> Option<String> {
        self.life_years(rival).filter(|_| self.is_valued())?;
        let years = |value: f64| number(value, 1);
        Some(match rival.against.payback_years {
            (Some(plain), Some(late)) => format!(
                "What is bought pays itself back in {} years ({} with interest).",
                years(plain),
                years(late)
            ),
            (Some(plain), None) => format!(
                "What is bought pays itself back in {} years, but with interest never.",
                years(plain)
            ),
            (None, _) => "What is bought never pays itself back.".to_owned(),
        })
    }

    /// Placeholders with their values; `None` without any.
    pub(super) fn placeholders(&self) -> Option<String> {
        let each: Vec<String> = self
            .items(|against| &against.placeholders)
            .into_iter()
            .filter_map(|item| {
                Some(format!(
                    "{} {}",
                    item.label(),
                    self.priced(item, self.economics.prices.of(item)?.value)
                ))
            })
            .collect();
        (!each.is_empty()).then(|| {
            format!(
                "Placeholders, numbers nobody stands for: {}. What is said about money is only as \
                 good as they are: put in your own.",
                each.join("; ")
            )
        })
    }

    /// What counts as nothing because it is not known; `None` if all is known.
    pub(super) fn left_out(&self) -> Option<String> {
        let items = self.items(|against| &against.left_out);
        let each: Vec<&str> = items.into_iter().map(Item::label).collect();
        (!each.is_empty())
            .then(|| format!("Not known, and so counted as nothing: {}.", each.join(", ")))
    }

    /// An input at which the answer turns.
    fn hinge(&self, before: &str, after: &str, hinge: &Hinge, rival: &Rival<'_>) -> String {
        let swing = rival.against.swings.iter().find(|swing| swing.name == hinge.name);
        let (Some(item), Some(swing)) = (item_named(&hinge.name), swing) else {
            return format!("{before} {} {after}.", hinge.name);
        };
        let [low, base, high] = swing.inputs.map(|value| self.priced(item, value));
        let side = if swing.nets[2] > swing.nets[0] { "above" } else { "below" };
        let mark = if hinge.is_placeholder { "placeholder " } else { "" };
        let after = if after.is_empty() { String::new() } else { format!(" {after}") };
        format!(
            "{before} {}{after}: it pays {side} {} (used: {mark}{base}, range {low} to {high}).",
            hinge.name,
            self.priced(item, hinge.break_even)
        )
    }
}

/// Percent that never claims to be certain.
pub(super) fn bounded_percent(share: f64) -> String {
    match share {
        high if high > 0.995 => "over 99\u{a0}%".to_owned(),
        low if low < 0.005 => "under 1\u{a0}%".to_owned(),
        other => percent(other, 0),
    }
}

/// Seasons finished and wanted, and what the intervals mean.
pub(super) fn seasons(scene: &WorthScene<'_>) -> String {
    let (finished, wanted) = (scene.worth.seasons.finished(), scene.worth.seasons.wanted);
    let level = level(scene.economics);
    let drawn = if scene.is_partial() {
        format!("Partial run: {finished} of {wanted} seasons were finished, and only they count.")
    } else {
        format!("From {finished} seasons of weather.")
    };
    let reached = scene.worth.precision.map_or_else(String::new, |r| precision(scene, &r));
    format!(
        "{drawn} Every alternative met the same ones. Intervals hold the true mean in {level}.\
         {reached}"
    )
}

/// How far a precision that was asked for was reached.
fn precision(scene: &WorthScene<'_>, reached: &Reached) -> String {
    let asked = reached.asked.half_width;
    let shown = |value: f64| match asked {
        HalfWidth::NetPerHa(_) => scene.by_area(value),
        HalfWidth::Yield(_) => percent(value, 2),
    };
    let words = if reached.is_reached() { "is reached" } else { "is not reached" };
    format!(
        " The precision asked for, ± {}, {words}: ± {} by Stein’s two-stage rule, which fixes the \
         number of seasons from the spread of the first {}; the other intervals shown then cover \
         up to 2 points less than they say.",
        shown(asked.value()),
        shown(reached.half_width),
        reached.first
    )
}

fn level(economics: &Economics) -> String {
    format!("{} of such runs", percent(economics.confidence_level, 0))
}
