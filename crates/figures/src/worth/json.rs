//! What the alternatives are worth, for other programs: SI units, fractions as percent, keys with
//! their unit. Money is in the currency of the prices, against the baseline; a gain is above zero.

use super::{Rival, WorthScene};
use crate::error::DrawError;
use crate::units::UnitSystem;
use evenfall_core::ensemble::{Interval, SeasonsFigures};
use evenfall_core::model::Scenario;
use evenfall_core::money::{BreakEven, Item};
use evenfall_core::paired::{Chance, Paired};
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::verdict::{Answer, Reason, Settles, Swing};
use evenfall_core::worth::{AlternativeWorth, Economics, HalfWidth, Reached, Worth};
use serde_json::{Value, json};

/// All figures of the worth but the maps, as indented JSON; `null` where there is none.
///
/// # Errors
/// If scenario and worth do not belong together.
pub fn worth_json(
    scenario: &Scenario,
    worth: &Worth,
    economics: &Economics,
) -> Result<String, DrawError> {
    let scene = WorthScene::new(scenario, worth, economics, UnitSystem::Si)?;
    let ranking = worth.ranking.iter().map(|ranked| {
        json!({
            "alternative": scenario.alternatives[ranked.alternative].name,
            "rank": ranked.rank,
            "is_tied": ranked.is_tied,
            "is_leader": ranked.is_leader,
        })
    });
    let prices = Item::ALL.into_iter().filter_map(|item| {
        let known = economics.prices.of(item)?;
        let entry = json!({ "value": known.value, "is_placeholder": known.is_placeholder });
        Some((key(item), entry))
    });
    let all = json!({
        "title": scenario.title,
        "seed": scenario.seed,
        "seasons_finished": worth.seasons.finished(),
        "seasons_wanted": worth.seasons.wanted,
        "is_partial": scene.is_partial(),
        "precision": worth.precision.as_ref().map(precision),
        "level_percent": 100.0 * economics.confidence_level,
        "area_ha": scene.site.scenario.field.area().ha(),
        "worthwhile_gain_per_ha": economics.worthwhile_gain_per_ha,
        "baseline": scene.baseline(),
        "currency": economics.currency,
        "prices": prices.collect::<serde_json::Map<_, _>>(),
        "ranked_by": if worth.ranked_by_money { "net_per_ha" } else { "yield_worst_tenth" },
        "ranking": ranking.collect::<Vec<_>>(),
        "alternatives": alternatives(&scene),
    });
    let mut text = serde_json::to_string_pretty(&all).map_err(DrawError::library)?;
    text.push('\n');
    Ok(text)
}

/// An item's key, with its unit.
fn key(item: Item) -> String {
    match item {
        Item::CropPrice => "crop_per_t",
        Item::PotentialYield => "potential_yield_t_ha",
        Item::WaterPrice => "water_per_m3",
        Item::EnergyPrice => "energy_per_m3",
        Item::LaborPrice => "labor_per_h",
        Item::LaborPerMove => "labor_per_move_h",
        Item::JointPrice => "joint_each",
        Item::JointLife => "joint_life_years",
        Item::OutletPrice => "outlet_each",
        Item::OutletLife => "outlet_life_years",
        Item::DiscountRate => "discount_rate",
    }
    .to_owned()
}

fn alternatives(scene: &WorthScene<'_>) -> Vec<Value> {
    let of = |(index, (name, found)): (usize, (&str, &AlternativeWorth))| {
        let rival = scene.rivals.iter().find(|rival| rival.index == index);
        json!({
            "name": name,
            "cu_percent": figures(&found.cu, 100.0),
            "du_lq_percent": figures(&found.du_lq, 100.0),
            "yield_percent": figures(&found.yield_fraction, 100.0),
            "yield_worst_tenth_percent": figures(&found.yield_worst_tenth, 100.0),
            "percolation_mm": figures(&found.percolation_mm, 1.0),
            "water": water(scene, index),
            "against_reference": rival.map(|rival| against(scene, rival)),
        })
    };
    scene.all().enumerate().map(of).collect()
}

fn water(scene: &WorthScene<'_>, index: usize) -> Value {
    let mean = |of: fn(&SeasonFigures) -> f64| scene.mean(index, of);
    let imbalances = scene.worth.seasons.series(index, |f| f.imbalance_mm().abs());
    json!({
        "gross_mm": mean(|f| f.gross_mm),
        "rain_mm": mean(|f| f.rain_mm),
        "rooted_mm": mean(|f| f.rooted_mm),
        "crop_use_mm": mean(|f| f.crop_use_mm),
        "percolation_mm": mean(|f| f.percolation_mm),
        "storage_rise_mm": mean(|f| f.storage_rise_mm),
        "losses_mm": mean(|f| f.losses_mm),
        "off_field_mm": mean(|f| f.off_field_mm),
        "idle_mm": mean(|f| f.idle_mm),
        "largest_imbalance_mm": imbalances.into_iter().fold(0.0, f64::max),
    })
}

fn against(scene: &WorthScene<'_>, rival: &Rival<'_>) -> Value {
    let (found, balance) = (rival.against, &rival.against.balance);
    let labels = |items: &[Item]| items.iter().map(|item| key(*item)).collect::<Vec<_>>();
    let cash = found.cash.iter().map(|year| {
        json!({
            "year": year.year,
            "cash": year.cash,
            "cumulative": year.cumulative,
            "cumulative_discounted": year.cumulative_discounted,
        })
    });
    let life = scene.chance_over_life(rival);
    json!({
        "verdict": verdict(scene, rival),
        "yield_gain_points": paired(&found.yield_gain, 100.0),
        "worst_tenth_gain_points": paired(&found.worst_tenth_gain, 100.0),
        "percolation_rise_mm": paired(&found.percolation_rise_mm, 1.0),
        "du_lq_gain_points": paired(&found.du_lq_gain, 100.0),
        "net_per_ha": paired(&found.net_per_ha, 1.0),
        "kept_percent": found.kept.map(|kept| 100.0 * kept),
        "balance_of_field": {
            "yield_gain_t": balance.yield_gain_t,
            "yield_value": balance.yield_value,
            "water": balance.water,
            "energy": balance.energy,
            "labor": balance.labor,
            "equipment": balance.equipment,
            "net": balance.net(),
        },
        "life_years": scene.life_years(rival),
        "chance_over_life_percent": life.map(|(_, chance)| 100.0 * chance),
        "all_prices_together": found.together.map(|together| json!({
            "chance_worthwhile_gain_percent": 100.0 * together.share_above,
            "net_per_ha_low": together.low,
            "net_per_ha_middle": together.middle,
            "net_per_ha_high": together.high,
            "draws": together.draws,
        })),
        "break_even_crop_price": break_even(found.break_even),
        "payback_years": found.payback_years.0,
        "payback_discounted_years": found.payback_years.1,
        "cash_of_field": cash.collect::<Vec<_>>(),
        "swings": found.swings.iter().map(swing).collect::<Vec<_>>(),
        "left_out": labels(&found.left_out),
        "placeholders": labels(&found.placeholders),
    })
}

fn verdict(scene: &WorthScene<'_>, rival: &Rival<'_>) -> Value {
    let found = &rival.against.verdict;
    let answer = match found.answer {
        Answer::Pays => "pays",
        Answer::DoesNotPay => "does_not_pay",
        Answer::CannotBeTold => "cannot_be_told",
    };
    let reason = match found.reason {
        Reason::NoValue => "no_value_of_yield",
        Reason::Gain => "gain",
        Reason::Loss => "loss",
        Reason::TooSmall => "too_small",
        Reason::NoDifference => "no_difference",
        Reason::Noise => "noise",
        Reason::Placeholder => "placeholder",
    };
    let settled_by = found.settled_by.iter().map(|settles| match settles {
        Settles::Seasons { in_all, more } => json!({ "seasons_in_all": in_all, "more": more }),
        Settles::Input(hinge) => json!({ "input": hinge.name, "break_even": hinge.break_even }),
    });
    let hangs_on = found.hangs_on.iter().map(|hinge| {
        json!({
            "input": hinge.name,
            "break_even": hinge.break_even,
            "is_placeholder": hinge.is_placeholder,
        })
    });
    json!({
        "answer": answer,
        "reason": reason,
        "sentence": scene.headline(rival).replace('\u{a0}', " "),
        "settled_by": settled_by.collect::<Vec<_>>(),
        "hangs_on": hangs_on.collect::<Vec<_>>(),
    })
}

fn swing(swing: &Swing) -> Value {
    json!({
        "input": swing.name,
        "is_placeholder": swing.is_placeholder,
        "low_base_high": swing.inputs,
        "net_per_ha": swing.nets,
        "break_even": swing.break_even,
    })
}

fn break_even(found: BreakEven) -> Value {
    match found {
        BreakEven::PaysAbove(price) => json!({ "pays": "above", "per_t": price }),
        BreakEven::PaysBelow(price) => json!({ "pays": "below", "per_t": price }),
        BreakEven::AtEveryPrice => json!({ "pays": "at_every_price" }),
        BreakEven::AtNoPrice => json!({ "pays": "at_no_price" }),
    }
}

fn figures(f: &SeasonsFigures, factor: f64) -> Value {
    json!({
        "mean": factor * f.mean,
        "standard_deviation": factor * f.standard_deviation,
        "interval": ends(f.interval, factor),
        "worst_tenth_of_seasons": factor * f.worst_tenth,
        "median": factor * f.median,
        "best_tenth_of_seasons": factor * f.best_tenth,
    })
}

fn ends(interval: Interval, factor: f64) -> [f64; 2] {
    [factor * interval.low, factor * interval.high]
}

fn paired(paired: &Paired, factor: f64) -> Value {
    let chance = match paired.chance {
        Chance::NoDifference => Value::Null,
        Chance::Counted { gains, losses, ties, gain_share, interval } => json!({
            "gains": gains,
            "losses": losses,
            "ties": ties,
            "gain_percent": 100.0 * gain_share,
            "interval_percent": ends(interval, 100.0),
        }),
    };
    let each: Vec<f64> = paired.differences.iter().map(|value| factor * value).collect();
    json!({ "figures": figures(&paired.figures, factor), "chance": chance, "by_season": each })
}

/// A precision that was asked for, in the unit asked in.
fn precision(reached: &Reached) -> Value {
    let (of, factor) = match reached.asked.half_width {
        HalfWidth::NetPerHa(_) => ("net_per_ha", 1.0),
        HalfWidth::Yield(_) => ("yield_percent", 100.0),
    };
    json!({
        "of": of,
        "half_width_asked": factor * reached.asked.half_width.value(),
        "half_width": factor * reached.half_width,
        "is_reached": reached.is_reached(),
        "first_seasons": reached.first,
        "max_seasons": reached.asked.most,
    })
}
