//! The best candidates as alternatives of a scenario file, ready to be weighed.

use crate::scenes::SearchScene;
use crate::scenes::candidate;
use evenfall_canvas::DrawError;
use evenfall_core::lateral::{EdgeTreatment, Machine, SetOrder};
use evenfall_core::model::Scenario;
use evenfall_core::money::{PriceEntry, Purchase};
use evenfall_core::search::{Candidate, Found, Kind};
use evenfall_view::units::UnitSystem;
use serde_json::{Map, Value, json};

/// The fixed pattern, then the `most` best (among them the best without another clock), as the list `alternatives` of a scenario file. Lengths
/// are in meters to the micrometer, so that they come back on the same whole turns.
///
/// # Errors
/// If nothing was ranked.
pub fn search_alternatives(
    scenario: &Scenario,
    found: &Found,
    most: usize,
    units: UnitSystem,
) -> Result<Value, DrawError> {
    let scene = SearchScene::new(scenario, found, None, units)?;
    let fixed = alternative(&scene, &found.entries[0].candidate, "Fixed");
    let best = in_turn(found).into_iter().take(most);
    let best = best.enumerate().map(|(place, at)| {
        let candidate = &found.entries[at].candidate;
        let name = format!("{}. {}", place + 1, scene.short(candidate));
        alternative(&scene, candidate, &name)
    });
    Ok(Value::Array(std::iter::once(fixed).chain(best).collect()))
}

/// The best mean, the best without other hours and edges, without other hours, then the ranking.
fn in_turn(found: &Found) -> Vec<usize> {
    let kind = |wanted: Kind| {
        let own = found.kinds.iter().find(|kind| kind.kind == wanted);
        own.map(|kind| kind.simplest)
    };
    let first = found.leader().map(|leader| leader.alternative);
    let kinds = [Kind::Plain, Kind::ClockAsGiven].into_iter().filter_map(kind);
    let ranked = found.ranking.iter().map(|ranked| ranked.alternative);
    let mut all: Vec<usize> = Vec::new();
    for at in first.into_iter().chain(kinds).chain(ranked) {
        if at != 0 && !all.contains(&at) {
            all.push(at);
        }
    }
    all
}

/// `alternatives` of a search, each with what the first alternative of the scenario file has of its
/// own (sprinkler, lateral): it is that one's machine which was searched.
pub fn with_own_keys(scenario: &Value, alternatives: Value) -> Value {
    let own = scenario["alternatives"][0].as_object().cloned().unwrap_or_default();
    let Value::Array(list) = alternatives else { return alternatives };
    let merged = list.into_iter().map(|alternative| {
        let mut all = alternative.as_object().cloned().unwrap_or_default();
        for (key, value) in &own {
            let is_ours = ["rotation", "edges", "season", "equipment"].contains(&key.as_str());
            if !is_ours && !all.contains_key(key) {
                all.insert(key.clone(), value.clone());
            }
        }
        Value::Object(all)
    });
    merged.collect()
}

pub(super) fn alternative(scene: &SearchScene<'_>, candidate: &Candidate, name: &str) -> Value {
    let own = &candidate.alternative;
    let mut out = Map::new();
    out.insert("name".to_owned(), json!(name));
    let shifts = own.rotation.shifts().iter().map(|shift| {
        if shift.along_m == 0.0 {
            json!(length(shift.across_m))
        } else {
            json!({ "across": length(shift.across_m), "along": length(shift.along_m) })
        }
    });
    out.insert("rotation".to_owned(), shifts.collect());
    let usual = scene.scenario.alternatives.first();
    if let (Machine::WheelLine(wheel), Some(Machine::WheelLine(usual))) =
        (&own.lateral.machine, usual.map(|usual| &usual.lateral.machine))
        && wheel.travel_per_turn_m != usual.travel_per_turn_m
    {
        // What rolls by its name only is not written as measured.
        let own = match scene.found.options.space.size_of(wheel) {
            Some(size) => json!({ "size": size.name() }),
            None => json!({ "travel_per_turn": length(wheel.travel_per_turn_m) }),
        };
        out.insert("wheel".to_owned(), own);
    }
    if usual.is_some_and(|usual| usual.outlets != own.outlets) {
        let outlets = json!({
            "spacing": length(own.outlets.spacing_m),
            "first": length(own.outlets.first_m),
            "count": own.outlets.count,
        });
        out.insert("outlets".to_owned(), outlets);
    }
    let edges = match own.edges {
        EdgeTreatment::Shift => None,
        EdgeTreatment::Hold => Some("hold"),
        EdgeTreatment::ExtraSet => Some("extra set"),
    };
    out.extend(edges.map(|edges| ("edges".to_owned(), json!(edges))));
    out.extend(season(scene, candidate).map(|season| ("season".to_owned(), season)));
    // What nobody has said is left out, and asked for again.
    if !candidate.equipment.is_reach_open {
        out.insert("equipment".to_owned(), equipment(scene, candidate));
    }
    Value::Object(out)
}

/// The keys of the season that differ from the scenario's.
fn season(scene: &SearchScene<'_>, candidate: &Candidate) -> Option<Value> {
    let own = candidate.alternative.calendar.as_ref()?;
    let usual = &scene.scenario.calendar;
    let mut out = Map::new();
    if own.start != usual.start {
        out.insert("start".to_owned(), json!(own.start.strftime("%Y-%m-%dT%H:%M").to_string()));
    }
    if own.length != usual.length {
        out.insert("passes".to_owned(), json!(candidate.plan.passes.len()));
    }
    if own.idle_h != usual.idle_h {
        out.insert("idle_between_passes".to_owned(), json!(format!("{} h", own.idle_h)));
    }
    if let Some(every_h) = own.pass_every_h.filter(|_| own.pass_every_h != usual.pass_every_h) {
        out.insert("pass_interval".to_owned(), json!(format!("{every_h} h")));
    }
    let order = candidate.order.as_ref().and_then(|order| match order {
        SetOrder::DryReturn => Some("dry return"),
        SetOrder::BothWays => Some("both ways"),
        SetOrder::EverySecond => Some("every second outlet"),
        SetOrder::EverySecondNextStop => Some("every second outlet, next stop back"),
        SetOrder::Listed(_) => None,
    });
    out.extend(order.map(|order| ("set_order".to_owned(), json!(order))));
    (!out.is_empty()).then_some(Value::Object(out))
}

fn equipment(scene: &SearchScene<'_>, candidate: &Candidate) -> Value {
    let equipment = &candidate.equipment;
    let mut out = json!({
        "joints": equipment.joints,
        "outlets": equipment.outlets,
        "extra_sets_per_pass": equipment.extra_sets_per_pass,
        "extra_labor_per_move": format!("{} h", equipment.extra_labor_per_move_h),
    });
    let known = scene.economics.map_or(&[][..], |economics| economics.prices.purchases());
    let bought = known.iter().zip(&equipment.purchases).filter(|(_, count)| **count > 0);
    let bought: Vec<Value> = bought.map(|(what, count)| purchase(what, *count)).collect();
    if !bought.is_empty() {
        out["purchases"] = Value::Array(bought);
    }
    out
}

/// A purchase with what is known of its price and life, as a scenario has it.
fn purchase(known: &Purchase, count: u32) -> Value {
    let mut out = json!({ "what": known.what, "count": count });
    let of = |known: PriceEntry, unit: &str| {
        let text = |value: f64| json!(format!("{value} {unit}"));
        let mut price = json!({ "value": text(known.value), "placeholder": known.is_placeholder });
        if let Some((low, high)) = known.range {
            price["low"] = text(low);
            price["high"] = text(high);
        }
        price
    };
    if let Some(each) = known.each {
        out["each"] = of(each, "each");
    }
    if let Some(life) = known.life {
        out["life"] = of(life, "yr");
    }
    out
}

fn length(meters: f64) -> String {
    format!("{} m", candidate::plain(meters))
}
