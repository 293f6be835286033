//! The same scenario told otherwise gives the same digits: keys in another order, quantities in other
//! units, alternatives alone, a season's beginning alone.
//!
//! A mirrored field in a mirrored wind is judged in the core (`season/tests.rs`), threads there and in
//! `tests/command/reproducible.rs`.

use crate::quantity::{self, UNITS};
use crate::resolve;
use crate::tests::helpers::{demo_with, good, no_files};
use evenfall_core::season::{Outcome, RunControl, run};
use serde_json::{Map, Value, json};

/// The demo on a small field with wide cells, and few passes.
fn small() -> Value {
    let text = demo_with(|demo| {
        demo["field"]["length_along_pipe"] = "320 ft".into();
        demo["field"]["width_across"] = "360 ft".into();
        demo["field"]["cell"] = "10 ft".into();
        demo["lateral"]["sprinklers"] = 8.into();
        demo["season"]["passes"] = 4.into();
    });
    serde_json::from_str(&text).unwrap()
}

fn outcome(scenario: &Value) -> Outcome {
    run(&good(&scenario.to_string()).scenario, RunControl::default()).unwrap()
}

/// Both give the same depth in every cell, and the same water, to the last bit.
fn assert_same_digits(one: &Outcome, other: &Outcome) {
    assert_eq!(one.alternatives.len(), other.alternatives.len());
    for (one, other) in one.alternatives.iter().zip(&other.alternatives) {
        assert_eq!(one.season_depth_mm(), other.season_depth_mm());
        assert_eq!(one.water, other.water);
    }
}

/// The same value with the keys of every object the other way round.
fn turned_round(value: &Value) -> Value {
    match value {
        Value::Object(entries) => {
            let turned = entries.iter().rev().map(|(key, one)| (key.clone(), turned_round(one)));
            Value::Object(turned.collect::<Map<_, _>>())
        }
        Value::Array(items) => items.iter().map(turned_round).collect(),
        plain => plain.clone(),
    }
}

#[test]
fn invariant_the_order_of_keys_changes_no_digit_and_no_digest() {
    let scenario = small();
    let turned = turned_round(&scenario);
    assert_ne!(scenario.to_string(), turned.to_string());
    let digest = |one: &Value| good(&one.to_string()).digest;
    assert_eq!(digest(&scenario), digest(&turned));
    assert_same_digits(&outcome(&scenario), &outcome(&turned));
}

/// The same with every quantity in the unit that is used inside, where that can be written.
fn in_own_units(value: &Value, changed: &mut usize) -> Value {
    match value {
        Value::Object(entries) => {
            let each = entries.iter().map(|(key, one)| (key.clone(), in_own_units(one, changed)));
            Value::Object(each.collect())
        }
        Value::Array(items) => items.iter().map(|one| in_own_units(one, changed)).collect(),
        Value::String(text) => {
            let Ok(read) = quantity::parse(text) else { return value.clone() };
            let mut own = UNITS.iter().filter(|unit| {
                unit.dimension == read.dimension && unit.factor == 1.0 && unit.offset == 0.0
            });
            let Some(own) = own.next().filter(|_| !read.dimension.is_price()) else {
                return value.clone();
            };
            let written = format!("{} {}", read.value, own.names[0]);
            assert_eq!(quantity::parse(&written).unwrap().value, read.value, "{text} as {written}");
            *changed += usize::from(written != *text);
            json!(written)
        }
        plain => plain.clone(),
    }
}

#[test]
fn invariant_feet_and_meters_give_the_same_digits() {
    let scenario = small();
    let mut changed = 0;
    let mut metric = in_own_units(&scenario, &mut changed);
    metric["units"] = "si".into();
    assert!(changed > 40, "{changed} quantities are in other units: {metric}");
    assert!(!metric["field"].to_string().contains("ft"), "{}", metric["field"]);
    assert_same_digits(&outcome(&scenario), &outcome(&metric));
    let worth =
        |one: &Value| good(&one.to_string()).worth.map(|(agronomy, _)| format!("{agronomy:?}"));
    assert_eq!(worth(&scenario), worth(&metric));
}

#[test]
fn invariant_an_alternative_alone_and_the_first_passes_alone_are_parts_of_the_whole() {
    let scenario = small();
    let whole = outcome(&scenario);
    for (number, found) in whole.alternatives.iter().enumerate() {
        let mut alone = scenario.clone();
        alone["alternatives"] = json!([scenario["alternatives"][number]]);
        // A purchase of another alternative would have nobody to be for.
        let Ok(alone) = resolve(&alone.to_string(), &no_files) else {
            panic!("alternative {number} does not stand alone: {alone}");
        };
        let alone = run(&alone.scenario, RunControl::default()).unwrap();
        assert_eq!(alone.alternatives[0].season_depth_mm(), found.season_depth_mm());
    }
    let mut begun = scenario.clone();
    begun["season"]["passes"] = 2.into();
    let begun = outcome(&begun);
    for (begun, whole) in begun.alternatives.iter().zip(&whole.alternatives) {
        assert_eq!(begun.passes[..2], whole.passes[..2]);
        assert_ne!(whole.passes[1].cumulative, whole.passes[3].cumulative);
    }
}
