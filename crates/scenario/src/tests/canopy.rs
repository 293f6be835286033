//! The canopy: its height from the crop's table, as given, and under the nozzles.

use super::bad_input::refused;
use super::helpers::{demo_at, demo_with, good};

#[test]
fn closed_without_a_crop_wind_blows_over_grass() {
    let text = demo_with(|demo| {
        let demo = demo.as_object_mut().unwrap();
        for key in ["crop", "soil", "climate", "worth"] {
            demo.remove(key);
        }
        for alternative in demo["alternatives"].as_array_mut().unwrap() {
            alternative.as_object_mut().unwrap().remove("equipment");
        }
    });
    assert_eq!(good(&text).scenario.canopy_height_m, None);
}

#[test]
fn closed_the_canopy_is_the_mean_of_the_season_and_that_is_told() {
    let demo = good(crate::demo());
    // Alfalfa of 0.7 m, half grown on average between cuts, over 10 + 30 + 123 + 10 days: 0.12 m for
    // ten days, growth from 0.05 to 0.35 m in thirty (the first seven held at 0.12 m), then 0.35 m.
    let growth: f64 = (1..=30).map(|day| (0.05 + 0.3 * f64::from(day) / 30.0).max(0.12)).sum();
    let expected = (10.0 * 0.12 + growth + 133.0 * 0.35) / 173.0;
    let found_m = demo.scenario.canopy_height_m.unwrap();
    assert!((found_m - expected).abs() < 1e-12, "{found_m} {expected}");
    assert!(demo.assumptions.iter().any(|a| a.what == "/crop/canopy_height"));
    let given = good(&demo_at("/crop/canopy_height", "\"0.5 m\"")).scenario;
    assert_eq!(given.canopy_height_m, Some(0.5));
}

#[test]
fn closed_a_crop_that_outgrows_the_nozzles_is_told_and_a_stated_one_is_refused() {
    let text = demo_with(|demo| {
        demo["crop"] = serde_json::json!({ "name": "maize, grain", "planted": "2027-04-15" });
    });
    let tall = good(&text);
    // Nozzles at 4 ft; 0.3 m stay free.
    let most_m = 4.0 * 0.3048 - 0.3;
    assert!((tall.scenario.canopy_height_m.unwrap() - most_m).abs() < 1e-12);
    assert!(tall.warnings.iter().any(|told| told.contains("reaches the nozzles")));
    refused(
        &demo_at("/crop/canopy_height", "\"1.1 m\""),
        "/crop/canopy_height",
        &["a canopy of 1.1 m reaches the nozzles", "at most"],
    );
}
