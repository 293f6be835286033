//! What an alternative costs: purchases by name, equipment that nobody has spoken of, energy from lift
//! and pressure, a record of one year.

use crate::runs::{evenfall_in, names};
use crate::scenarios::{demo_at, demo_with, put, small};
use crate::worth::told;
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::fs;
use tempfile::TempDir;

fn levelers(more: &Value) -> Value {
    let mut one = json!({ "what": "levelers", "count": 8 });
    for (key, value) in more.as_object().unwrap() {
        one[key] = value.clone();
    }
    json!({ "joints": 0, "purchases": [one] })
}

#[test]
fn a_purchase_by_name_is_counted_varied_and_marked_in_every_output() {
    let priced = json!({ "each": { "value": "60 each", "placeholder": true }, "life": "8 yr" });
    let (said, page, worth) =
        told(|scenario| scenario["alternatives"][1]["equipment"] = levelers(&priced));
    assert!(said.contains("price of levelers 60") && page.contains("price of levelers"), "{said}");
    let against = &worth["alternatives"][1]["against_baseline"];
    let swings = against["swings"].as_array().unwrap();
    let swing = |name: &str| swings.iter().find(|swing| swing["input"] == name).unwrap();
    // ± 30 % of 60 each.
    let each = &swing("purchase_levelers_each")["low_base_high"];
    let ends: Vec<f64> = each.as_array().unwrap().iter().map(|end| end.as_f64().unwrap()).collect();
    assert!((ends[0] - 42.0).abs() < 1e-9 && (ends[2] - 78.0).abs() < 1e-9, "{ends:?}");
    assert_eq!(swing("purchase_levelers_life_years")["matters"], true);
    let named = against["placeholders"].as_array().unwrap();
    assert!(named.contains(&json!("purchase_levelers_each")), "{named:?}");
    let prices = worth["prices"].as_array().unwrap();
    assert!(prices.iter().any(|price| price["label"] == "life of levelers"), "{prices:?}");
    // 480 over 8 years: never less a year than without interest.
    let parts = against["balance"]["parts"].as_array().unwrap();
    let equipment = parts.iter().find(|part| part["name"] == "equipment").unwrap();
    let cost = equipment["field"].as_f64().unwrap();
    assert!((-120.0..=-60.0).contains(&cost), "{equipment}");
    assert_eq!(equipment["is_placeholder"], true);
}

#[test]
fn regress_a_purchase_without_price_or_life_is_asked_for_by_its_name() {
    for (known, asked, missing) in [
        (
            json!({}),
            "what the levelers cost or how long they last. Enter both and run again",
            json!(["purchase_levelers_each", "purchase_levelers_life_years"]),
        ),
        (
            json!({ "each": "60 each" }),
            "how long the levelers last. Enter it and run again",
            json!(["purchase_levelers_life_years"]),
        ),
    ] {
        let (said, page, worth) =
            told(|scenario| scenario["alternatives"][1]["equipment"] = levelers(&known));
        let words = format!(
            "Can’t tell yet whether “Two stops” pays against “Fixed”. You haven’t said {asked}"
        );
        assert!(said.contains(&words) && page.contains(&words), "{said}");
        let against = &worth["alternatives"][1]["against_baseline"];
        assert_eq!(
            (&against["verdict"]["answer"], &against["missing"]),
            (&json!("inconclusive"), &missing)
        );
    }
    // As many for both: nothing is bought, and nothing asked.
    let (said, _, worth) = told(|scenario| {
        for alternative in scenario["alternatives"].as_array_mut().unwrap() {
            alternative["equipment"] = levelers(&json!({}));
        }
    });
    assert!(!said.contains("You haven’t said"), "{said}");
    assert_eq!(worth["alternatives"][1]["against_baseline"]["missing"], json!([]));
}

#[test]
fn regress_a_shifted_alternative_that_says_nothing_of_its_hoses_never_costs_nothing() {
    let without = |scenario: &mut Value| {
        scenario["alternatives"][1].as_object_mut().unwrap().shift_remove("equipment");
    };
    let (said, page, worth) = told(without);
    let words = "Can’t tell yet whether “Two stops” pays against “Fixed”. You haven’t said whether \
                 “Two stops” needs longer hoses or joints. Write equipment { joints: 0 } if those you \
                 have reach.";
    assert!(said.contains(words) && page.contains(words), "{said}");
    let against = &worth["alternatives"][1]["against_baseline"];
    assert_eq!(
        against["verdict"]["settled_by"],
        json!([{ "by": "missing", "price": "equipment" }])
    );
    assert_eq!(against["net"], Value::Null);
    assert_eq!(worth["ranked_by"], "yield_worst_tenth");
    // A search asks for the same, unless it says what shifted stops need.
    let search = |joints: Option<u32>| {
        let mut scenario: Value = serde_json::from_str(&small()).unwrap();
        without(&mut scenario);
        scenario["search"] = json!({ "aim": "net return", "seasons": 3, "screening_seasons": 3,
            "longest_cycle": 2, "edges": ["shift"], "schedules": ["as given"] });
        if let Some(joints) = joints {
            scenario["search"]["joints"] = json!(joints);
        }
        let folder = TempDir::new().unwrap();
        put(folder.path(), &scenario.to_string());
        let words = ["search", "scenario.json", "--into", "s"];
        let said = evenfall_in(folder.path(), &words).said();
        said.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let said = search(None);
    assert!(said.contains("whether stops off the outlets need longer hoses or joints"), "{said}");
    assert!(!search(Some(0)).contains("longer hoses or joints"));
}

#[test]
fn energy_from_lift_and_pressure_takes_the_place_of_its_price_by_volume() {
    let (said, _, worth) = told(|scenario| {
        scenario["worth"]["prices"].as_object_mut().unwrap().shift_remove("energy");
        scenario["worth"]["pumping"] = json!({ "lift": "50 m", "pressure": "400 kPa",
            "efficiency": "65 %", "energy_price": { "value": "0.12 per kWh", "placeholder": true } });
    });
    let prices = worth["prices"].as_array().unwrap();
    let energy = prices.iter().find(|price| price["name"] == "energy_per_m3").unwrap();
    // 0.380484 kWh/m³ (worked by hand in the core's tests) at 0.12.
    assert!((energy["value"].as_f64().unwrap() - 0.045_658).abs() < 1e-6, "{energy}");
    assert!(energy["text"].as_str().unwrap().contains("0.12"), "{energy}");
    assert!(said.contains("energy price 0.12") && said.contains("per kWh"), "{said}");
    // A stronger pressure for one alternative alone costs energy though the water is the same.
    let own_pressure = |energy_price: &str| {
        let (_, _, worth) = told(|scenario| {
            scenario["worth"]["prices"].as_object_mut().unwrap().shift_remove("energy");
            scenario["worth"]["pumping"] = json!({ "lift": "0 ft", "energy_price": energy_price });
            scenario["alternatives"] = json!([
                { "name": "Fixed", "rotation": ["0 ft"] },
                { "name": "Pipe", "rotation": ["0 ft"],
                  "lateral": { "pipe": { "inside_diameter": "1.9 in" } } },
            ]);
        });
        let parts = worth["alternatives"][1]["against_baseline"]["balance"]["parts"].clone();
        let energy =
            parts.as_array().unwrap().iter().find(|part| part["name"] == "energy").cloned();
        energy.unwrap()["field"].as_f64().unwrap()
    };
    let (cheap, dear) = (own_pressure("0.10 per kWh"), own_pressure("0.20 per kWh"));
    assert!(cheap < 0.0 && (dear - 2.0 * cheap).abs() < 1e-6 * dear.abs(), "{cheap} {dear}");
}

#[test]
fn pumping_beside_a_price_by_volume_is_refused_with_the_way_out() {
    let folder = TempDir::new().unwrap();
    let both = demo_at("/worth/pumping", r#"{ "lift": "20 ft", "energy_price": "0.12 per kWh" }"#);
    put(folder.path(), &both);
    let words = ["/worth/prices/energy", "Remove `energy` from the prices, or remove `pumping`"];
    evenfall_in(folder.path(), &["worth", "scenario.json", "--into", "r"]).refused(3, &words);
    assert_eq!(names(folder.path()), ["scenario.json"]);
}

#[test]
fn purchases_that_cannot_be_are_refused_all_at_once() {
    let folder = TempDir::new().unwrap();
    let text = demo_with(|demo| {
        demo["alternatives"][1]["equipment"]["purchases"] = json!([
            { "what": "", "count": 2 },
            { "what": "wheels", "count": 2.5 },
            { "what": "nozzles", "count": 33, "each": "2 per h", "life": "200 yr" },
        ]);
    });
    put(folder.path(), &text);
    let at = "/alternatives/1/equipment/purchases";
    let places = ["0/what", "1/count", "2/each", "2/life"].map(|key| format!("{at}/{key}"));
    let mut words: Vec<&str> = places.iter().map(String::as_str).collect();
    words.extend([
        "a name of 1 to 24 letters",
        "0 to 2000",
        "a price of one piece",
        "Life is 200 yr. Expected 1 to 100 yr",
    ]);
    evenfall_in(folder.path(), &["worth", "scenario.json", "--into", "r"]).refused(3, &words);
    assert_eq!(names(folder.path()), ["scenario.json"]);
}

#[test]
fn a_record_of_one_year_says_how_to_go_on_and_going_on_so_works() {
    let folder = TempDir::new().unwrap();
    let mut hours = "time,wind_speed_m_s,wind_from_deg,air_temperature_c\n".to_owned();
    for day in 1..=31 {
        for hour in 0..24 {
            let speed = 1 + (day * 7 + hour) % 6;
            let _ = writeln!(hours, "2027-05-{day:02}T{hour:02}:00,{speed},{},20", 200 + day);
        }
    }
    fs::write(folder.path().join("hours.csv"), hours).unwrap();
    let scenario = |typical: bool| {
        let mut scenario: Value = serde_json::from_str(&small()).unwrap();
        scenario["wind"] =
            json!({ "record": { "file": "hours.csv", "layout": "csv", "height": "2 m" } });
        if typical {
            scenario["wind"]["record"]["typical_year"] = json!(true);
        }
        scenario.to_string()
    };
    put(folder.path(), &scenario(false));
    let words = ["worth", "scenario.json", "--seasons", "3", "--into", "r"];
    let ran = evenfall_in(folder.path(), &words);
    ran.refused(
        5,
        &["holds 1 season(s)", "Set \"typical_year\": true in the record", "more years"],
    );
    put(folder.path(), &scenario(true));
    let said = evenfall_in(folder.path(), &words).said();
    assert!(said.contains("against “Fixed”"), "{said}");
}
