//! What people write in scenarios: taken, told or asked about, or refused with what is allowed.

use super::bad_input::refused;
use super::helpers::{demo_at, demo_with, good};
use crate::Resolved;
use serde_json::{Value, json};

fn assumed<'a>(resolved: &'a Resolved, what: &str) -> Option<(&'a str, &'a str)> {
    let found = resolved.assumptions.iter().find(|assumption| assumption.what == what)?;
    Some((&found.value, &found.why))
}

/// The demo with a crop's name and no keys of its own beside it.
fn crop(name: &str) -> String {
    let planted = "2027-04-15";
    demo_with(|demo| demo["crop"] = json!({ "name": name, "planted": planted }))
}

/// Warnings of the changed demo that the demo itself has not.
fn asked(text: &str) -> Vec<String> {
    let usual = good(crate::demo()).warnings;
    good(text).warnings.into_iter().filter(|warning| !usual.contains(warning)).collect()
}

#[test]
fn closed_the_demo_is_the_same_however_its_field_is_written() {
    let at = "/field/length_along_pipe";
    let plain = good(&demo_at(at, "\"1320 ft\""));
    for text in ["1/4 mile", "1,320 ft", "1320'", "1320’", "¼ mi", "1,320.0 ft", "1320 ft 0 in"]
    {
        let written = good(&demo_at(at, &Value::from(text).to_string()));
        assert_eq!(written.scenario.field, plain.scenario.field, "{text}");
    }
}

#[test]
fn closed_a_comma_of_two_meanings_is_asked_about_where_both_are_plausible() {
    let told = asked(&demo_at("/field/length_along_pipe", "\"1,320 ft\""));
    assert!(told.is_empty(), "1.32 ft is no field: {told:?}");
    let told = asked(&demo_at("/worth/prices/water", "\"1,320 per m3\""));
    assert_eq!(told.len(), 1, "{told:?}");
    for words in ["written 1,320 per m3 and taken as 1320 per m3", "1.320 per m3", "with a point"] {
        assert!(told[0].contains(words), "{told:?}");
    }
    assert!(asked(&demo_at("/worth/prices/water", "\"1,32 per m3\"")).is_empty());
    let spacing = "/outlets/spacing";
    refused(&demo_at(spacing, "\"18,288 m\""), spacing, &["1 to 150 m", "Did you mean 18.288 m?"]);
    refused(&demo_at(spacing, "\"1,82,88 m\""), spacing, &["neither thousands", "4,67"]);
    refused(&demo_at(spacing, "\"4-8\""), spacing, &["a dash between", "4 ft 8 in"]);
    // Options cannot be asked about.
    let told = crate::options::shift("0,020 km").map(|m| (m * 1e6).round());
    assert_eq!(told, Ok(2e7));
    // 2.5 cm are no diameter of throw.
    assert_eq!(crate::options::wetted_diameter("2,500 cm").map(f64::round), Ok(25.0));
    let told = crate::options::worthwhile_gain("1,250 per ha").unwrap_err();
    assert!(told.contains("can be 1250 per ha or 1.250 per ha"), "{told}");
}

#[test]
fn closed_bearings_take_points_of_the_compass() {
    let at = "/field/travel_bearing";
    for (text, deg) in [("N", 0.0), ("ssw", 202.5), ("Southwest", 225.0), ("90°", 90.0)] {
        let resolved = good(&demo_at(at, &Value::from(text).to_string()));
        assert_eq!(resolved.scenario.field.travel_bearing_deg, deg, "{text}");
    }
    refused(&demo_at(at, "\"sowth\""), at, &["Did you mean south?", "compass point such as SW"]);
    refused(&demo_at(at, "\"370 deg\""), at, &["0 to 360 deg"]);
    let at = "/wind/generated/prevailing_from";
    let same = |text: &str| good(&demo_at(at, &Value::from(text).to_string())).scenario.weather;
    assert_eq!(same("WSW"), same("247.5 deg"));
    let at = "/sprinkler/trajectory_angle";
    refused(&demo_at(at, "\"south\""), at, &["which is a bearing. Expected an angle"]);
}

#[test]
fn closed_prices_take_currency_signs() {
    let at = "/worth/prices/crop";
    let value = |text: &str| {
        let (_, economics) = good(&demo_at(at, &Value::from(text).to_string())).worth.unwrap();
        economics.prices.of(evenfall_core::money::Price::Crop).unwrap().value
    };
    assert_eq!(value("$150/t"), value("150 per t"));
    assert_eq!(value("150 €/t"), value("150 per t"));
    refused(&demo_at(at, "\"-$5/t\""), at, &["0 to 1000000000 per t"]);
    refused(&demo_at(at, "\"$150\""), at, &["the unit is missing", "150 per t"]);
    let spacing = "/outlets/spacing";
    refused(&demo_at(spacing, "\"$60 ft\""), spacing, &["goes with a price, not with a length"]);
    let mixed = demo_with(|demo| {
        demo["worth"]["prices"]["crop"] = json!("€150/t");
        demo["worth"]["prices"]["labor"] = json!("$20/h");
    });
    let told = asked(&mixed);
    assert!(told.iter().any(|told| told.contains("as one currency")), "{told:?}");
}

#[test]
fn closed_a_price_of_one_piece_may_be_money_alone() {
    let joint = |text: &str| {
        let (_, economics) = good(&demo_at("/worth/prices/joint_each", text)).worth.unwrap();
        economics.prices.of(evenfall_core::money::Price::Joint).unwrap().value
    };
    assert_eq!(joint("\"$60\""), joint("\"60 each\""));
    refused(
        &demo_at("/worth/prices/joint_each", "\"60\""),
        "/worth/prices/joint_each",
        &["unit is missing"],
    );
}

#[test]
fn closed_bushels_are_taken_where_the_crop_is_known() {
    let corn = |price: &str| {
        demo_with(|demo| {
            demo["crop"] = json!({ "name": "field corn", "planted": "2027-04-15" });
            demo["worth"]["prices"]["crop"] = json!(price);
        })
    };
    let resolved = good(&corn("$4.20/bu"));
    let price = &resolved.worth.as_ref().unwrap().1.prices;
    let per_t = price.of(evenfall_core::money::Price::Crop).unwrap().value;
    // 56 lb a bushel.
    assert!((per_t - 4.2 / (56.0 * 0.453_592_37e-3)).abs() < 1e-9);
    let (written, why) = assumed(&resolved, "/worth/prices/crop").unwrap();
    assert!(written == "$4.20/bu" && why.contains("maize, grain taken as 56 lb"), "{why}");
    let at = "/worth/prices/crop";
    let alfalfa = demo_with(|demo| {
        demo["crop"]["name"] = json!("alfalfa, mean over cuts");
        demo["worth"]["prices"]["crop"] = json!("$4/bu");
    });
    refused(&alfalfa, at, &["what a bushel weighs depends on the crop", "pounds in one bushel"]);
}

#[test]
fn closed_common_names_of_crops_are_told() {
    for (name, table) in [
        ("corn", "maize, grain"),
        ("Silage Corn", "maize, silage"),
        ("Alfalfa", "alfalfa, mean over cuts"),
        ("sod", "turf, cool season"),
        ("sugar beets", "sugar beet"),
        ("wheat", "spring wheat"),
    ] {
        let resolved = good(&crop(name));
        let (value, why) = assumed(&resolved, "/crop/name").unwrap();
        assert!(value == table && why.contains(&format!("\"{name}\"")), "{value}: {why}");
        let (by_name, by_table) = (resolved.worth.unwrap().0, good(&crop(table)).worth.unwrap().0);
        assert_eq!(by_name.crop, by_table.crop, "{name}");
        assert_eq!(by_name.crop_name, table);
        assert_eq!(resolved.scenario.canopy_height_m, good(&crop(table)).scenario.canopy_height_m);
    }
    assert_eq!(assumed(&good(&crop("maize, grain")), "/crop/name"), None);
    refused(&crop("peas"), "/crop/name", &["Did you mean \"peas, dry\" or \"peas, fresh\"?"]);
}

#[test]
fn closed_a_crop_of_ones_own_keeps_its_name() {
    let own = demo_with(|demo| {
        let stage = json!({ "initial": "20 days", "development": "30 days", "mid": "50 days",
            "late": "20 days" });
        demo["crop"] = json!({
            "name": "corn", "planted": "2027-04-15", "allowable_depletion": "50 %",
            "kc": { "ini": 0.3, "mid": 1.1, "end": 0.5 }, "stages": stage,
            "roots": { "at_planting": "1 ft", "full": "3 ft" }, "yield_response": 1.2,
        });
    });
    let resolved = good(&own);
    assert_eq!(assumed(&resolved, "/crop/name"), None);
    assert_eq!(resolved.worth.unwrap().0.crop_name, "corn");
}

#[test]
fn closed_unusual_values_are_asked_about_and_taken() {
    let told = asked(&demo_at("/sprinkler/pressure", "\"8 psi\""));
    let words =
        "Nozzle pressure is 8 psi, usually 20 to 125 psi. Did you mean 80 psi? Taken as written";
    assert!(told.iter().any(|told| told.contains(words)), "{told:?}");
    let told = asked(&demo_with(|demo| {
        demo["season"]["set_time"] = json!("50 h");
        demo["season"].as_object_mut().unwrap().shift_remove("sets_per_day");
        demo["season"]["passes"] = json!(2);
    }));
    assert!(
        told.iter().any(|told| told.contains("50 h, usually 1 to 48 h. Taken as written")),
        "{told:?}"
    );
    // WORDS: an outlet spacing of 6 ft.
    let limit = <crate::limits::OutletSpacing as crate::limits::Limited>::LIMIT;
    assert!(limit.holds(6.0 * 0.3048) && limit.is_unusual(6.0 * 0.3048));
    assert_eq!(crate::questions::slipped(&limit, 6.0 * 0.3048, "ft").as_deref(), Some("60 ft"));
    assert_eq!(crate::questions::slipped(&limit, 15.0 * 0.3048, "ft"), None);
}
