//! Bad crop, soil, climate and prices: each is refused in plain words, at its place.

use super::bad_input::refused;
use super::helpers::{bad, demo_at, demo_with};

#[test]
fn closed_some_of_crop_soil_and_climate_are_missing() {
    let without = |keys: &[&str]| {
        demo_with(|demo| {
            for key in keys {
                demo.as_object_mut().unwrap().shift_remove(*key);
            }
        })
    };
    refused(&without(&["soil"]), "/worth", &["`soil` is missing", "all three"]);
    refused(&without(&["worth", "crop", "climate"]), "/soil", &["`crop`, `climate` are missing"]);
    let only_worth = without(&["crop", "soil", "climate"]);
    refused(&only_worth, "/worth", &["`crop`, `soil`, `climate` are missing"]);
}

#[test]
fn closed_crops() {
    let at = "/crop/name";
    refused(
        &demo_at(at, "\"popcorn\""),
        at,
        &["not in the tables", "Did you mean \"maize, grain\""],
    );
    refused(
        &demo_at(at, "\"potatoe\""),
        at,
        &["not in the tables", "Did you mean \"potato\"", "`kc`"],
    );
    refused(&demo_at(at, "\"teff\""), at, &["\"barley\"", "`roots`, `allowable_depletion`"]);
    let at = "/crop/planted";
    for date in ["2027-02-30", "15 April", "2027-04-15T06:00", "1027-04-15"] {
        refused(&demo_at(at, &format!("\"{date}\"")), at, &["YYYY-MM-DD"]);
    }
    refused(&demo_at(at, "\"2026-04-15\""), at, &["no water runs in that time", "2026-10-04"]);
    refused(&demo_at(at, "\"2027-10-05\""), at, &["no water runs in that time"]);
    // Planted on 1 July, the demo's first cutting comes three weeks before.
    let words = ["comes before the crop is planted, on 2027-07-01", "a day from 2027-07-01"];
    refused(&demo_at(at, "\"2027-07-01\""), "/season/closed/0/from", &words);
    let at = "/crop/stages/mid";
    refused(&demo_at(at, "\"36 h\""), at, &["whole days", "1.5 days"]);
    refused(&demo_at(at, "\"400 days\""), at, &["366 days"]);
    refused(&demo_at(at, "\"350 days\""), "/crop/stages", &["last 400 days"]);
    let shrinking = r#"{ "at_planting": "4 ft", "full": "3 ft" }"#;
    refused(&demo_at("/crop/roots", shrinking), "/crop/roots/at_planting", &["deeper than"]);
    let idle = r#"{ "ini": 0.5, "mid": 2.0, "end": 0.5 }"#;
    refused(&demo_at("/crop/kc", idle), "/crop/kc/mid", &["0.05 to 1.6"]);
    refused(&demo_at("/crop/allowable_depletion", "0.9"), "/crop/allowable_depletion", &["80 %"]);
}

#[test]
fn closed_soils() {
    let at = "/soil/texture";
    refused(&demo_at(at, "\"silty loam\""), at, &["Did you mean", "loamy sand"]);
    let upside_down = r#"{ "field_capacity": 0.12, "wilting_point": 0.26 }"#;
    let words = ["wilting point (0.26) is not below field capacity (0.12)", "mixed up"];
    refused(&demo_at("/soil", upside_down), "/soil/wilting_point", &words);
    let half = r#"{ "field_capacity": 0.12 }"#;
    refused(&demo_at("/soil", half), "/soil", &["`wilting_point` is missing"]);
    let both = r#"{ "texture": "loam", "wilting_point": 0.1 }"#;
    refused(&demo_at("/soil", both), "/soil/wilting_point", &["only one of"]);
    refused(&demo_at("/soil/start_depletion", "\"120 %\""), "/soil/start_depletion", &["100 %"]);
}

#[test]
fn closed_climates() {
    let at = "/climate/et0";
    refused(&demo_at(at, "\"6 mm\""), at, &["which is a length. Expected a rate of depth"]);
    refused(&demo_at(at, "{}"), at, &["`monthly`, `record`, `computed` is missing"]);
    let three = r#"{ "monthly": ["1 mm/d", "2 mm/d", "3 mm/d"] }"#;
    refused(&demo_at(at, three), "/climate/et0/monthly", &["3 months are given"]);
    let none = format!("{{ \"monthly\": [{}] }}", ["\"0 mm/d\""; 12].join(", "));
    refused(&demo_at(at, &none), "/crop", &["needs no water"]);
    let at = "/climate/rain/0/depth";
    refused(&demo_at(at, "\"-1 mm\""), at, &["0 to 1000 mm"]);
    refused(&demo_at(at, "\"0.5 in/d\""), at, &["Expected a length"]);
}

#[test]
fn closed_prices() {
    let at = "/worth/prices/crop";
    let by_weight = ["what a bushel weighs depends on the crop", "pounds in one bushel"];
    refused(&demo_at(at, "\"4 per bu\""), at, &by_weight);
    refused(&demo_at(at, "\"4 per bushel\""), at, &by_weight);
    refused(&demo_at(at, "150"), at, &["is 150, without a unit", "\"150 per t\""]);
    refused(&demo_at(at, "\"per t $150\""), at, &["begins with a number", "150 per t"]);
    refused(
        &demo_at(at, "\"150 per acre\""),
        at,
        &["which is money per area. Expected a price per weight"],
    );
    refused(&demo_at(at, "{ \"low\": \"1 per t\" }"), at, &["`value` is missing"]);
    let narrow = r#"{ "value": "150 per t", "low": "160 per t", "high": "170 per t" }"#;
    refused(&demo_at(at, narrow), "/worth/prices/crop/value", &["does not lie in its range"]);
    let half = r#"{ "value": "150 per t", "high": "170 per t" }"#;
    refused(&demo_at(at, half), at, &["`low` is missing"]);
    let unknown = r#"{ "value": "150 per t", "placeholdr": true }"#;
    refused(&demo_at(at, unknown), "/worth/prices/crop/placeholdr", &["Did you mean"]);
    let equipment = "/alternatives/1/equipment";
    refused(
        &demo_at(equipment, "{ \"joints\": -1 }"),
        "/alternatives/1/equipment/joints",
        &["0 to"],
    );
    refused(
        &demo_at(equipment, "{ \"hoses\": 2 }"),
        "/alternatives/1/equipment/hoses",
        &["there is no key `hoses`"],
    );
    refused(&demo_at("/worth/seasons", "1"), "/worth/seasons", &["from 2"]);
    refused(&demo_at("/worth/confidence_level", "1.0"), "/worth/confidence_level", &["99.9 %"]);
}

/// Prices that cannot be, from 0.0001 below nothing on, and everything else that is wrong at once.
#[test]
fn closed_everything_wrong_with_the_worth_is_told_at_once() {
    let text = demo_with(|demo| {
        demo["crop"]["stages"]["late"] = "0.5 d".into();
        demo["soil"] = serde_json::json!({ "field_capacity": 0.1, "wilting_point": 0.1 });
        demo["climate"]["et0"] = "0 mm/d".into();
        let prices = &mut demo["worth"]["prices"];
        prices["crop"] = "-0.0001 per t".into();
        prices["potential_yield"] = "0 t/ha".into();
        prices["labor"] = serde_json::json!({ "value": "20 per h", "low": "-1 per h" });
        prices["joint_life"] = "0 yr".into();
        prices["outlet_life"] = "0.5 yr".into();
        prices["discount_rate"] = 5.into();
        demo["worth"]["worthwhile_gain"] = "-1 per ac".into();
        demo["alternatives"][1]["rotation"][1] = "30 ft".into();
    });
    let problems = bad(&text);
    let mut at: Vec<&str> = problems.issues().iter().map(|issue| issue.pointer.as_str()).collect();
    at.sort_unstable();
    let mut wanted = [
        "/crop/stages/late",
        "/soil/wilting_point",
        "/climate/et0",
        "/worth/prices/crop",
        "/worth/prices/potential_yield",
        "/worth/prices/labor/low",
        "/worth/prices/joint_life",
        "/worth/prices/outlet_life",
        "/worth/prices/discount_rate",
        "/worth/worthwhile_gain",
        "/alternatives/1/rotation/1",
    ];
    wanted.sort_unstable();
    assert_eq!(at, wanted, "{problems}");
}

/// What the grower gets wrong most: each alone is refused elsewhere; in one file all are told.
#[test]
fn closed_prices_yield_crop_and_soil_that_cannot_be_are_told_at_once() {
    let text = demo_with(|demo| {
        demo["worth"]["prices"]["crop"] = "-150 per t".into();
        demo["worth"]["prices"]["labor"] = "-20 per h".into();
        demo["worth"]["prices"]["water"] = "-0.03 per m3".into();
        demo["worth"]["prices"]["potential_yield"] = "0 t/ha".into();
        demo["soil"] = serde_json::json!({ "field_capacity": 0.12, "wilting_point": 0.26 });
        demo["crop"]["stages"]["mid"] = "350 days".into();
    });
    let problems = bad(&text);
    let told: Vec<(&str, String)> =
        problems.issues().iter().map(|i| (i.pointer.as_str(), format!("{i:?}"))).collect();
    let wanted = [
        ("/worth/prices/crop", "0 per t"),
        ("/worth/prices/labor", "0 per h"),
        ("/worth/prices/water", "0 per m"),
        ("/worth/prices/potential_yield", "0"),
        ("/soil/wilting_point", "not below field capacity"),
        ("/crop/stages", "366"),
    ];
    assert_eq!(told.len(), wanted.len(), "{problems}");
    for (at, words) in wanted {
        assert!(told.iter().any(|(p, text)| *p == at && text.contains(words)), "{at}: {problems}");
    }
}
