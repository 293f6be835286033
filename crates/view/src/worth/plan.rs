//! What the baseline's plan misses of the full yield and loses of the water, beside what a rotation
//! brings; and the shortest sets that keep the yield.

use super::money;
use super::sentences::quoted;
use super::source::{Rival, Source};
use crate::units::{Quantity, UnitSystem, number, percent};
use crate::value::Amount;
use evenfall_core::money::{PerArea, Price};
use evenfall_core::plan_check::PlanYield as Found;
use evenfall_core::worth::{
    KEPT_WITHIN, RESOLUTION_H, SHORTEST_SET_SEASONS, ShortestSet as FoundSet,
};
use serde::Serialize;
use utoipa::ToSchema;

/// What the baseline's plan misses and loses.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct PlanYield {
    /// Yield of the whole field, of full yield.
    pub reached: Amount,
    /// What is missed, part by part; they add up. A part below zero does no harm.
    pub parts: Vec<PlanPart>,
    /// Water lost below the roots.
    pub percolation: Amount,
    /// Water that falls off the field.
    pub off_field: Amount,
    /// What that water costs by area at the prices of water and energy; `null` where neither is known.
    pub lost_water_cost: Option<Amount>,
    /// Per alternative, the shortest set that keeps the baseline's yield; empty where that was not
    /// asked.
    pub shortest_sets: Vec<ShortestSet>,
    /// All of it in sentences.
    pub words: Vec<String>,
}

/// A part of the yield that a plan misses.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct PlanPart {
    /// `water_short`, `sets_too_large`, `season_too_short`, `unevenness`, `edges`.
    pub key: &'static str,
    /// Why, in plain words.
    pub why: &'static str,
    /// Points of the full yield.
    pub missed: Amount,
    /// What they are worth by area; `null` where crop price or potential yield is not known.
    pub value: Option<Amount>,
}

/// The shortest set under an alternative.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct ShortestSet {
    /// Name of the alternative.
    pub alternative: String,
    /// Set time as planned, h.
    pub planned: Amount,
    /// The shortest that keeps the yield; `null` where even the planned one does not.
    pub shortest: Option<Amount>,
    /// Gross water of a season that it saves.
    pub saved: Amount,
    /// What that is worth by area at the prices of water and energy.
    pub saved_value: Option<Amount>,
}

/// A part with its key and why.
type Part = (&'static str, &'static str, f64);

/// Less than this is not told, fraction: it would read 0.0 points.
const LEAST_TOLD: f64 = 0.0005;

/// Less than this is not set beside a rotation where no price is known, fraction: half a point, from
/// which a search calls a gain worthwhile.
const LEAST_POINTS: f64 = 0.005;

fn parts(found: &Found) -> [Part; 5] {
    [
        ("water_short", "it is short of water", found.water_short),
        (
            "sets_too_large",
            "water comes too seldom, or too much at once, for the root zone (times without water \
             included)",
            found.sets_too_large,
        ),
        ("season_too_short", "water starts too late or ends too early", found.season_too_short),
        ("unevenness", "the water is uneven", found.unevenness),
        ("edges", "the edges get less", found.edges),
    ]
}

impl Source<'_> {
    /// The baseline's plan; `None` where it was not computed.
    pub(super) fn plan(&self) -> Option<PlanYield> {
        let found = self.worth.plan.first()?;
        let part = |(key, why, missed): Part| PlanPart {
            key,
            why,
            missed: Amount::new(100.0 * missed, "points", number(100.0 * missed, 1)),
            value: self.worth_of(missed).map(|value| self.money(value)),
        };
        let lost_mm = found.percolation_mm + found.off_field_mm;
        Some(PlanYield {
            reached: Amount::percent(found.reached, 1),
            parts: parts(found).map(part).to_vec(),
            percolation: depth(self.units, found.percolation_mm),
            off_field: depth(self.units, found.off_field_mm),
            lost_water_cost: self.cost_of(lost_mm).map(|value| self.money(value)),
            shortest_sets: self.shortest_sets(),
            words: self.plan_words(found),
        })
    }

    fn money(&self, amount: PerArea) -> Amount {
        money::by_area(self.units, amount)
    }

    /// What such a share of the full yield is worth.
    fn worth_of(&self, share: f64) -> Option<PerArea> {
        let price = |price| self.economics.prices.of(price).map(|known| known.value);
        let (per_t, full_t_ha) = (price(Price::Crop)?, price(Price::PotentialYield)?);
        Some(PerArea::of_ha(share * full_t_ha * per_t))
    }

    /// What a depth of the baseline's water costs.
    pub(super) fn cost_of(&self, depth_mm: f64) -> Option<PerArea> {
        self.cost_under(0, depth_mm)
    }

    /// What a depth of an alternative's water costs: water and energy, where known; 1 mm on a hectare is
    /// 10 m³.
    fn cost_under(&self, alternative: usize, depth_mm: f64) -> Option<PerArea> {
        let ratio = self.economics.energy_ratio(alternative);
        let known = [(Price::Water, 1.0), (Price::Energy, ratio)]
            .map(|(price, ratio)| self.economics.prices.of(price).map(|known| ratio * known.value));
        let per_m3: Vec<f64> = known.into_iter().flatten().collect();
        let cost = 10.0 * depth_mm * per_m3.iter().sum::<f64>();
        (!per_m3.is_empty()).then(|| PerArea::of_ha(cost))
    }

    fn shortest_sets(&self) -> Vec<ShortestSet> {
        let hours = |hours: f64| Amount::new(hours, "h", format!("{}\u{a0}h", number(hours, 1)));
        let of = |(index, found): (usize, &FoundSet)| ShortestSet {
            alternative: self.name(index).to_owned(),
            planned: hours(found.planned_h),
            shortest: found.shortest_h.map(hours),
            saved: depth(self.units, found.saved_mm),
            saved_value: self.cost_under(index, found.saved_mm).map(|value| self.money(value)),
        };
        self.worth.shortest_sets.iter().enumerate().map(of).collect()
    }

    fn plan_words(&self, found: &Found) -> Vec<String> {
        let mut told: Vec<Part> =
            parts(found).into_iter().filter(|part| part.2.abs() > LEAST_TOLD).collect();
        told.sort_by(|a, b| b.2.total_cmp(&a.2));
        let each = told.iter().map(|(key, why, missed)| {
            let is_change = *key == "unevenness" && *missed > 0.0;
            let rotation = if is_change { ", which a rotation can change" } else { "" };
            format!("{} because {why}{rotation}", number(100.0 * missed, 1))
        });
        let each = each.collect::<Vec<_>>().join("; ");
        let reached = format!(
            "The plan of {} reaches {} of full yield.",
            quoted(self.baseline()),
            percent(found.reached, 1)
        );
        let missed = number(100.0 * found.missed(), 1);
        let why = match told.len() {
            0 => String::new(),
            _ => format!(" Of the {missed} points it misses: {each}."),
        };
        let lost_mm = found.percolation_mm + found.off_field_mm;
        let cost = match self.cost_of(lost_mm) {
            Some(cost) => {
                format!(" At the prices used that water costs about {}.", self.an_amount(cost))
            }
            None => " Give the price of water to see what that costs.".to_owned(),
        };
        let [below, off] =
            [found.percolation_mm, found.off_field_mm].map(|mm| depth(self.units, mm).text);
        let lost = format!(
            "In a season {below} go below the roots, rain included, and {off} fall off the field.{cost}"
        );
        [reached + &why, lost].into_iter().chain(self.set_words()).collect()
    }

    /// The shortest sets in a paragraph.
    fn set_words(&self) -> Option<String> {
        let of = |(index, found): (usize, &FoundSet)| {
            let name = quoted(self.name(index));
            let Some(shortest_h) = found.shortest_h else {
                return format!("Under {name} even the full set does not keep it.");
            };
            let hours = number(shortest_h, 1);
            if found.planned_h - shortest_h < RESOLUTION_H {
                return format!("{name} needs its full {hours} h.");
            }
            let saves = depth(self.units, found.saved_mm).text;
            let cost = self.cost_under(index, found.saved_mm).filter(|_| found.saved_mm > 0.0);
            let cost = cost.map_or_else(String::new, |c| format!(", {}", self.an_amount(c)));
            format!("With {name}, {hours} h sets keep the yield: saves {saves}{cost}.")
        };
        let each: Vec<String> = self.worth.shortest_sets.iter().enumerate().map(of).collect();
        (!each.is_empty()).then(|| {
            format!(
                "The shortest sets, at the same hours, that keep the yield of {} within {} point \
                 ({SHORTEST_SET_SEASONS} seasons, nothing drawn but the weather). {}",
                quoted(self.baseline()),
                number(100.0 * KEPT_WITHIN, 1),
                each.join(" ")
            )
        })
    }

    /// Where the plan loses more than the rival brings, in money where that is known, else in yield;
    /// `None` where it does not, or where what it loses is not worth telling.
    pub(super) fn plan_beside(&self, rival: &Rival<'_>) -> Option<String> {
        let found = self.worth.plan.first()?;
        let others = parts(found).into_iter().filter(|part| part.0 != "unevenness");
        let (_, why, missed) = others.max_by(|a, b| a.2.total_cmp(&b.2))?;
        let points = format!("{} points of the yield because {why}", number(100.0 * missed, 1));
        let lost_mm = found.percolation_mm + found.off_field_mm;
        let (Some(part), Some(water), true) =
            (self.worth_of(missed), self.cost_of(lost_mm), rival.against.is_valued())
        else {
            let gain = rival.against.yield_gain.figures.mean;
            let is_more = missed > gain.max(0.0) && missed > LEAST_POINTS;
            let brings = (gain > LEAST_TOLD).then(|| number(100.0 * gain, 1));
            return is_more.then(|| loses_more(&points, brings, rival));
        };
        let net = rival.against.mean_net();
        let least = net.per_ha().max(self.economics.worthwhile_gain.per_ha());
        let brings = || (net.per_ha() > 0.0).then(|| self.an_amount(net));
        let lost = "water that goes below the roots or off the field".to_owned();
        let (words, most) =
            if water.per_ha() > part.per_ha() { (lost, water) } else { (points, part) };
        let shorter = self.shorter_alone(least);
        let loses = (most.per_ha() > least).then(|| {
            loses_more(&format!("{words}, about {}", self.an_amount(most)), brings(), rival)
        });
        let repairs = self.repairs_beside(rival, least);
        let all: Vec<String> = loses.into_iter().chain(repairs).chain(shorter).collect();
        (!all.is_empty()).then(|| all.join(" "))
    }

    /// What shorter sets save without any rotation, where that is more than `least` a hectare.
    fn shorter_alone(&self, least: f64) -> Option<String> {
        let found = self.worth.shortest_sets.first()?;
        let (hours, saved) = (found.shortest_h?, self.cost_of(found.saved_mm)?);
        (saved.per_ha() > least).then(|| {
            format!(
                "Sets of {} h without any rotation save about {} of water and energy.",
                number(hours, 1),
                self.an_amount(saved)
            )
        })
    }
}

/// "The plan itself loses more: … See to that first."
fn loses_more(what: &str, brings: Option<String>, rival: &Rival<'_>) -> String {
    let beside = brings.map_or_else(String::new, |brings| {
        format!(", beside {brings} that {} brings", quoted(rival.name))
    });
    format!("The plan itself loses more: {what}{beside}. See to that first.")
}

fn depth(units: UnitSystem, mm: f64) -> Amount {
    Amount::quantity(units, Quantity::Depth, mm, units.depth_decimals())
}
