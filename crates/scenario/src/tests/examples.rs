//! The kept scenarios resolve to what their text says.

use super::bad_input::refused;
use super::helpers::{demo_at, demo_with, good};
use crate::UnitSystem;
use evenfall_core::lateral::{EdgeTreatment, Machine};
use evenfall_core::units::M_PER_FT;
use evenfall_core::weather::{GapRule, WeatherSource};

#[test]
fn closed_demo_is_a_quarter_section_of_twenty_two_sets() {
    let demo = good(crate::demo());
    let scenario = &demo.scenario;
    assert!(demo.invented);
    assert_eq!(demo.units, UnitSystem::Us);
    assert_eq!((scenario.field.grid.cells_along, scenario.field.grid.cells_across), (660, 660));
    assert_eq!(scenario.alternatives.len(), 3);
    let fixed = &scenario.alternatives[0];
    // 22 sets on 1320 ft and 33 heads at 40 ft spanning 1280 ft: CHECKS, section 4.
    assert_eq!(fixed.outlets.count, 22);
    assert!((fixed.outlets.first_m - 30.0 * M_PER_FT).abs() < 1e-9);
    assert!((fixed.lateral.first_sprinkler_m - 20.0 * M_PER_FT).abs() < 1e-9);
    let leg = fixed.sprinkler.jets[0].leg();
    assert!((leg.discharge_l_s() - 4.98 * 3.785411784 / 60.0).abs() < 1e-12);
    let shifts: Vec<f64> = scenario.alternatives[2]
        .rotation
        .shifts()
        .iter()
        .map(|shift| (shift.across_m / M_PER_FT).round())
        .collect();
    assert_eq!(shifts, [0.0, 20.0, -20.0]);
    assert!(demo.warnings.is_empty(), "{:?}", demo.warnings);
}

#[test]
fn closed_cells_that_hide_unevenness_are_warned_of() {
    let warnings = |cell: &str| good(&demo_at("/field/cell", cell)).warnings;
    assert!(warnings("\"4 ft\"").is_empty());
    let coarse = warnings("\"5 ft\"");
    assert!(coarse.len() == 1 && coarse[0].starts_with("cells of 5 ft (1.524 m)"), "{coarse:?}");
    assert!(coarse[0].ends_with("use 4 ft (1.219 m) or less"), "{coarse:?}");
}

#[test]
fn closed_a_pipe_that_is_short_for_its_field_is_warned_of() {
    let warnings = |sprinklers: &str| good(&demo_at("/lateral/sprinklers", sprinklers)).warnings;
    // 31 of them 40 ft apart, centered on 1320 ft: the first and the last 60 ft from the edges.
    let short = warnings("31");
    assert!(short.len() == 1 && short[0].contains("stand 60 ft (18.288 m) and 60 ft"), "{short:?}");
    assert!(warnings("33").is_empty());
}

#[test]
fn closed_demo_leg_is_near_its_stated_discharge() {
    let demo = good(crate::demo());
    let scaled = demo.assumptions.iter().find(|a| a.what.ends_with("/leg/rate")).unwrap();
    let factor: f64 = scaled.value.trim_start_matches("times ").parse().unwrap();
    assert!((factor - 1.0).abs() < 0.05, "{}", scaled.value);
}

#[test]
fn invariant_digest_ignores_layout_but_not_values() {
    let demo = good(crate::demo()).digest;
    assert_eq!(demo.len(), 64);
    assert_eq!(good(&demo_with(|_| ())).digest, demo);
    assert_ne!(good(&demo_at("/seed", "7")).digest, demo);
}

#[test]
fn invariant_what_is_left_out_is_told() {
    let text = demo_with(|demo| {
        for (section, key) in [
            ("/field", "cell"),
            ("/wheel", "leveler_range"),
            ("/sprinkler", "trajectory_angle"),
            ("/season", "move_time"),
            ("/season", "return_time"),
            ("/season", "idle_between_passes"),
            ("/season", "sets_per_day"),
            ("/wind/generated", "weibull_shape"),
            ("/wind/generated", "direction_spread"),
            ("/wind/generated", "speed_persistence"),
            ("/wind/generated", "direction_persistence"),
            ("/wind/generated", "height"),
            ("", "losses"),
            ("", "air"),
            ("", "units"),
            ("", "seed"),
        ] {
            demo.pointer_mut(section).unwrap().as_object_mut().unwrap().shift_remove(key).unwrap();
        }
    });
    let told: Vec<String> = good(&text).assumptions.into_iter().map(|a| a.what).collect();
    for what in [
        "/field/cell",
        "/lateral/first_sprinkler",
        "/wheel/leveler_range",
        "/outlets/first",
        "/outlets/count",
        "/sprinkler/trajectory_angle",
        "/sprinkler/drag/k1",
        "/sprinkler/drag/k2",
        "/sprinkler/drag/turbulence",
        "/sprinkler/drag/form",
        "/sprinkler/drag/jet_length",
        "/season/move_time",
        "/season/return_time",
        "/season/idle_between_passes",
        "/season/sets_per_day",
        "/wind/generated/weibull_shape",
        "/wind/generated/direction_spread",
        "/wind/generated/speed_persistence",
        "/wind/generated/direction_persistence",
        "/wind/generated/height",
        "/losses/formula",
        "/air/temperature",
        "/air/humidity",
        "/units",
        "/seed",
    ] {
        assert_eq!(told.iter().filter(|known| *known == what).count(), 1, "{what} in {told:?}");
    }
}

#[test]
fn closed_cell_and_sides_are_moved_and_told() {
    let resolved = good(&demo_at("/field/cell", "\"2.3 ft\""));
    // 40/17 = 2.353 ft is nearer to 2.3 than 40/18 = 2.222.
    let cell_ft = resolved.scenario.field.grid.cell_m / M_PER_FT;
    assert!((cell_ft - 40.0 / 17.0).abs() < 1e-9);
    let told = |what: &str| resolved.assumptions.iter().any(|a| a.what == what);
    assert!(told("/field/cell") && !told("/field/length_along_pipe"));
    let resolved = good(&demo_at("/field/width_across", "\"1321.4 ft\""));
    assert!((resolved.scenario.field.grid.width_across_m() / M_PER_FT - 1322.0).abs() < 1e-9);
    assert!(resolved.assumptions.iter().any(|a| a.what == "/field/width_across"));
}

#[test]
fn closed_alternatives_lay_their_own_keys_over_the_common_ones() {
    let text = demo_at(
        "/alternatives/1",
        r#"{ "name": "Own", "rotation": ["0 ft", "1 turn"],
             "wheel": { "outside_diameter": "57 in", "slip_and_sinkage": "1 %" },
             "lateral": { "sprinkler_spacing": "30 ft" }, "outlets": { "reach": "20 ft" } }"#,
    );
    let resolved = good(&text);
    let own = &resolved.scenario.alternatives[1];
    let Machine::WheelLine(wheel) = own.lateral.machine else { panic!("no wheel line") };
    let travel_m = std::f64::consts::PI * 57.0 * 0.0254 * 0.99;
    assert!((wheel.travel_per_turn_m - travel_m).abs() < 1e-9);
    assert!((own.rotation.shifts()[1].across_m - travel_m).abs() < 1e-9);
    assert!((wheel.leveler_range_deg - 15.0).abs() < 1e-12);
    assert_eq!(own.lateral.sprinklers, 33);
    assert!((own.outlets.spacing_m / M_PER_FT - 60.0).abs() < 1e-9);
    assert!((own.outlets.reach_m / M_PER_FT - 20.0).abs() < 1e-9);
    // 2 ft divides both 40 and 30 ft.
    assert!((resolved.scenario.field.grid.cell_m / M_PER_FT - 2.0).abs() < 1e-9);
    assert!(resolved.assumptions.iter().any(|a| a.what == "/alternatives/1/wheel/travel_per_turn"));
}

#[test]
fn closed_a_near_whole_turn_is_moved_and_told() {
    let resolved = good(&demo_at("/alternatives/1/rotation", "[\"0 ft\", \"19.9 ft\"]"));
    let shift = resolved.scenario.alternatives[1].rotation.shifts()[1];
    assert!((shift.across_m / M_PER_FT - 20.0).abs() < 1e-9);
    assert!(resolved.assumptions.iter().any(|a| a.what == "/alternatives/1/rotation/1"));
}

#[test]
fn closed_hand_move_shifts_along_the_pipe() {
    let text = demo_with(|demo| {
        demo["lateral"]["machine"] = "hand move".into();
        demo.as_object_mut().unwrap().shift_remove("wheel");
        demo["alternatives"] = serde_json::json!([
            { "name": "Fixed", "rotation": ["0 ft"] },
            { "name": "Both ways", "rotation": ["0 ft", { "across": "10 ft", "along": "20 ft" }] },
        ]);
    });
    let shift = good(&text).scenario.alternatives[1].rotation.shifts()[1];
    assert!((shift.across_m / M_PER_FT - 10.0).abs() < 1e-9);
    assert!((shift.along_m / M_PER_FT - 20.0).abs() < 1e-9);
}

#[test]
fn closed_greensboro_reads_its_record() {
    let text = include_str!("../../../../data/greensboro/scenario.json");
    let record = include_bytes!("../../../../data/greensboro/723170TYA.CSV");
    let load = |name: &str| match name {
        "723170TYA.CSV" => Ok(record.to_vec()),
        _ => Err("no such file".to_owned()),
    };
    let resolved = crate::resolve(text, &load).unwrap_or_else(|problems| panic!("{problems}"));
    let WeatherSource::Record { record, gaps, .. } = &resolved.scenario.weather else {
        panic!("no record")
    };
    assert!(record.typical_year);
    assert_eq!(*gaps, GapRule::Refuse);
    assert_eq!(record.hours.len(), 8760);
    assert!(resolved.sources.iter().any(|source| source.contains("723170")));
    let travels: Vec<f64> = resolved
        .scenario
        .alternatives
        .iter()
        .filter_map(|alternative| match alternative.lateral.machine {
            Machine::WheelLine(wheel) => Some((wheel.travel_per_turn_m / M_PER_FT).round()),
            Machine::HandMove => None,
        })
        .collect();
    assert!(travels.contains(&20.0) && travels.contains(&15.0), "{travels:?}");
}

#[test]
fn closed_an_alternative_has_its_own_edges_and_clock() {
    let text = demo_with(|demo| {
        let own = &mut demo["alternatives"][1];
        own["edges"] = "extra set".into();
        own["season"] = serde_json::json!({ "idle_between_passes": "12 h" });
    });
    let scenario = good(&text).scenario;
    assert_eq!(scenario.alternatives[0].edges, EdgeTreatment::Shift);
    assert_eq!(scenario.alternatives[0].calendar, None);
    let own = &scenario.alternatives[1];
    assert_eq!(own.edges, EdgeTreatment::ExtraSet);
    let calendar = scenario.calendar_of(own);
    assert_eq!((calendar.idle_h, calendar.set_time_h), (12.0, scenario.calendar.set_time_h));
}

#[test]
fn closed_an_alternatives_clock_starts_on_the_scenarios_day() {
    let text = demo_at("/alternatives/1/season", "{ \"start\": \"2027-05-11T06:00\" }");
    refused(&text, "/alternatives/1/season/start", &["another day", "any hour of 2027-05-10"]);
}
