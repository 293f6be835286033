//! Purchases by name, equipment that nobody has spoken of, energy from lift and pressure.

use super::helpers::{bad, demo_at, demo_with, good, only_problem};
use crate::Resolved;
use evenfall_core::money::{Price, PriceEntry, PriceKey, PurchasePart};
use evenfall_core::worth::Economics;
use serde_json::{Value, json};

fn economics(text: &str) -> Economics {
    good(text).worth.unwrap().1
}

fn told<'a>(found: &'a Resolved, what: &str) -> Option<&'a str> {
    found.assumptions.iter().find(|told| told.what == what).map(|told| told.value.as_str())
}

fn key(at: usize, part: PurchasePart) -> PriceKey {
    PriceKey::Purchase(at, part)
}

/// The demo with purchases of its alternatives.
fn buying(each: [Value; 3]) -> String {
    demo_with(|demo| {
        for (alternative, purchases) in
            demo["alternatives"].as_array_mut().unwrap().iter_mut().zip(each)
        {
            if purchases != Value::Null {
                alternative["equipment"]["purchases"] = purchases;
            }
        }
    })
}

#[test]
fn closed_a_purchase_of_one_name_has_one_price_and_each_alternative_its_pieces() {
    let levelers = json!([{ "what": "Levelers", "count": 33, "each": "40 each",
        "life": { "value": "10 yr", "low": "6 yr", "high": "15 yr", "placeholder": true } }]);
    let others =
        json!([{ "what": "hoses, 30 ft", "count": 2 }, { "what": "levelers", "count": 30 }]);
    let text = buying([json!([{ "what": "levelers", "count": 3 }]), levelers, others]);
    let found = good(&text);
    let economics = &found.worth.as_ref().unwrap().1;
    let names: Vec<&str> =
        economics.prices.purchases().iter().map(|one| one.what.as_str()).collect();
    assert_eq!(names, ["levelers", "hoses, 30 ft"]);
    let pieces: Vec<Vec<u32>> = economics.equipment.iter().map(|e| e.purchases.clone()).collect();
    assert_eq!(pieces, [vec![3], vec![33], vec![30, 2]]);
    let of = |at, part| economics.prices.of(key(at, part));
    assert_eq!(of(0, PurchasePart::Each), Some(PriceEntry::own(40.0)));
    let life = PriceEntry { range: Some((6.0, 15.0)), ..PriceEntry::placeholder(10.0) };
    assert_eq!(of(0, PurchasePart::Life), Some(life));
    assert_eq!((of(1, PurchasePart::Each), of(1, PurchasePart::Life)), (None, None));
    let at = "/alternatives/2/equipment/purchases/0";
    assert_eq!(told(&found, &format!("{at}/each")), Some("not known"));
    assert_eq!(told(&found, "/alternatives/1/equipment/purchases"), Some("± 30 %"));
    // Two hoses beyond the fixed pattern's and its three levelers: a search counts 30 levelers.
    assert_eq!(found.search.equipment.purchases, [30]);
}

#[test]
fn closed_purchases_that_cannot_be_are_told_at_once() {
    let text = buying([
        Value::Null,
        json!([
            { "what": "levelers", "count": 33, "each": "40 each" },
            { "what": "Levelers ", "count": 2 },
            { "what": "?!", "count": 1 },
            { "what": "wheels", "count": -1 },
            { "what": "nozzles", "count": 33, "life": "0.5 yr" },
            { "what": "nozzles of brass, with vanes in them", "count": 33, "price": "2 each" },
        ]),
        json!([{ "what": "levelers", "count": 33, "each": "45 each" }]),
    ]);
    let at = |text: &str| -> Vec<String> {
        bad(text).issues().iter().map(|issue| issue.pointer.clone()).collect()
    };
    let list = "/alternatives/1/equipment/purchases";
    let read =
        ["2/what", "3/count", "4/life", "5/price", "5/what"].map(|key| format!("{list}/{key}"));
    let mut found = at(&text);
    found.sort();
    assert_eq!(found, read);
    // What only the list as a whole tells.
    let text = buying([
        Value::Null,
        json!([{ "what": "levelers", "count": 33, "each": "40 each" }, { "what": "Levelers ", "count": 2 }]),
        json!([{ "what": "levelers", "count": 33, "each": "45 each" }]),
    ]);
    let problems = bad(&text).to_string();
    for words in [
        "\"Levelers\" is on the list twice",
        "price of levelers is \"45 each\" here and another before",
    ] {
        assert!(problems.contains(words), "{problems}");
    }
    let many: Vec<Value> =
        (0..13).map(|n| json!({ "what": format!("part {n}"), "count": 1 })).collect();
    let (pointer, words) = only_problem(&buying([Value::Null, many.into(), Value::Null]));
    assert!(pointer == list && words.contains("1 to 12 items"), "{words}");
}

#[test]
fn regress_a_shifted_alternative_without_equipment_is_asked_and_buys_nothing_unsaid() {
    let without = demo_with(|demo| {
        for alternative in demo["alternatives"].as_array_mut().unwrap() {
            alternative.as_object_mut().unwrap().shift_remove("equipment");
        }
    });
    let open = |found: &Resolved| -> Vec<bool> {
        found.worth.as_ref().unwrap().1.equipment.iter().map(|e| e.is_reach_open).collect()
    };
    let found = good(&without);
    assert_eq!(open(&found), [false, true, true]);
    assert_eq!(told(&found, "/alternatives/0/equipment"), Some("joints 0"));
    assert_eq!(told(&found, "/alternatives/1/equipment"), Some("not known"));
    assert_eq!(found.search.equipment.open_beyond_m, Some(0.0));
    // A baseline that stands as far has the hoses already; a search may say what it needs.
    let as_far = good(&demo_with(|demo| {
        *demo = serde_json::from_str(&without).unwrap();
        demo["alternatives"].as_array_mut().unwrap().swap(0, 1);
        demo["search"] = json!({ "joints": 2 });
    }));
    assert_eq!(open(&as_far), [false, false, false]);
    assert_eq!(as_far.search.equipment.open_beyond_m, None);
    // Given, it is taken as it stands, joints or none.
    let given =
        good(&demo_with(|demo| demo["alternatives"][1]["equipment"] = json!({ "joints": 0 })));
    assert_eq!(open(&given), [false; 3]);
    assert_eq!(good(crate::demo()).search.equipment.open_beyond_m, None);
}

/// The demo with pumping in place of the price of energy.
fn pumped(pumping: Value, change: impl FnOnce(&mut Value)) -> String {
    demo_with(|demo| {
        demo["worth"]["prices"].as_object_mut().unwrap().shift_remove("energy");
        demo["worth"]["pumping"] = pumping;
        change(demo);
    })
}

#[test]
fn closed_energy_from_lift_and_pressure_is_a_price_by_volume() {
    let given = json!({ "lift": "50 m", "pressure": "400 kPa", "efficiency": "65 %",
        "energy_price": { "value": "0.10 per kWh", "low": "0.05 per kWh", "high": "0.20 per kWh" } });
    let found = good(&pumped(given, |_| ()));
    let economics = &found.worth.as_ref().unwrap().1;
    // (9.80665 · 50 + 400) kJ over 0.65 and 3600 kJ/kWh: 0.380484 kWh/m³; 0.0380484 at 0.10.
    let energy = economics.prices.of(Price::Energy).unwrap();
    assert!((energy.value - 0.038_048_4).abs() < 5e-8, "{energy:?}");
    let (low, high) = energy.range.unwrap();
    assert!((low - 0.5 * energy.value).abs() < 1e-12 && (high - 2.0 * energy.value).abs() < 1e-12);
    assert_eq!(economics.kwh_per_m3.len(), 3);
    assert_eq!([economics.energy_ratio(1), economics.energy_ratio(2)], [1.0; 2]);
    assert_eq!(told(&found, "/worth/pumping"), Some("0.38 kWh per m3"));
    assert_eq!(told(&found, "/worth/prices/energy"), None);
}

#[test]
fn closed_an_alternative_under_more_pressure_takes_more_energy() {
    // 50 psi at the sprinklers and 5 psi lost; 60 psi of its own for the third.
    let given = json!({ "lift": "0 m", "energy_price": "0.10 per kWh" });
    let own =
        |demo: &mut Value| demo["alternatives"][2]["sprinkler"] = json!({ "pressure": "60 psi" });
    let found = good(&pumped(given, own));
    let economics = &found.worth.as_ref().unwrap().1;
    assert!((economics.energy_ratio(2) - 65.0 / 55.0).abs() < 1e-12);
    assert_eq!(economics.energy_ratio(1), 1.0);
    let kwh = 55.0 * 6.894_757_293_168_361 / (0.66 * 3600.0);
    assert!((economics.kwh_per_m3[0] - kwh).abs() < 1e-12);
    assert_eq!(told(&found, "/worth/pumping/efficiency"), Some("66 %"));
    assert_eq!(told(&found, "/worth/pumping/losses"), Some("5 psi"));
    let pressure = told(&found, "/worth/pumping/pressure").unwrap();
    assert!(
        pressure.contains("Fixed: 55 psi (379 kPa)") && pressure.contains("Three stops: 65 psi")
    );
    // A pipe: the pressure at its inlet counts, not the sprinklers'.
    let piped = |demo: &mut Value| {
        demo["lateral"]["pipe"] =
            json!({ "inside_diameter": "4.9 in", "inlet": { "pressure": "58 psi" } });
    };
    let lift = json!({ "lift": "0 m", "losses": "2 psi" });
    let economics = self::economics(&pumped(lift, piped));
    let kwh = 60.0 * 6.894_757_293_168_361 / (0.66 * 3600.0);
    assert!((economics.kwh_per_m3[0] - kwh).abs() < 1e-9, "{:?}", economics.kwh_per_m3);
    assert_eq!(economics.prices.of(Price::Energy), None, "asked for, never nothing");
}

#[test]
fn closed_pumping_and_a_price_by_volume_exclude_each_other() {
    let both = demo_at("/worth/pumping", r#"{ "lift": "20 ft", "energy_price": "0.12 per kWh" }"#);
    let (at, words) = only_problem(&both);
    assert_eq!(at, "/worth/prices/energy");
    assert!(words.contains("one of the two") && words.contains("remove `pumping`"), "{words}");
    let twice = json!({ "lift": "20 ft", "pressure": "60 psi", "losses": "5 psi" });
    let (at, words) = only_problem(&pumped(twice, |_| ()));
    assert!(at == "/worth/pumping/losses" && words.contains("holds the losses"), "{words}");
    let unlike = json!({ "lift": "-3 m", "efficiency": "3 %", "energy_price": "20 per ac-ft" });
    let told: Vec<String> =
        bad(&pumped(unlike, |_| ())).issues().iter().map(|issue| issue.pointer.clone()).collect();
    let wanted = ["lift", "efficiency", "energy_price"].map(|key| format!("/worth/pumping/{key}"));
    assert_eq!(told, wanted);
    let (at, words) = only_problem(&pumped(json!({ "energy_price": "0.1 per kWh" }), |_| ()));
    assert!(at == "/worth/pumping" && words.contains("`lift` is missing"), "{words}");
}
