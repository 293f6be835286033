//! Bad input: each is refused in plain words, at its place, and nothing panics.

use super::helpers::{bad, demo_at, demo_with, only_problem};
use proptest::prelude::*;

/// Refused at `pointer`, and the text says each of `words`.
#[track_caller]
pub(super) fn refused(text: &str, pointer: &str, words: &[&str]) {
    let (at, told) = only_problem(text);
    assert_eq!(at, pointer, "{told}");
    for word in words {
        assert!(told.contains(word), "no `{word}` in:\n{told}");
    }
}

#[test]
fn closed_truncated_text() {
    let demo = crate::demo();
    for end in [0, 1, 40, demo.len() / 2, demo.trim_end().len() - 1] {
        refused(&demo[..end], "", if end == 0 { &["empty"] } else { &["not JSON"] });
    }
}

#[test]
fn closed_text_that_is_not_strict_json() {
    for text in ["{ \"evenfall\": NaN }", "{ \"evenfall\": 1, }", "{ evenfall: 1 }", "{} {}"] {
        refused(text, "", &["not JSON"]);
    }
    refused(&"[".repeat(100_000), "", &["more than 64 deep"]);
    let told = bad("[1, 2]").to_string();
    assert!(told.contains("Expected an object"), "{told}");
    let told = bad("{}").to_string();
    assert!(told.contains("the key `alternatives` is missing"), "{told}");
}

#[test]
fn closed_wrong_units() {
    let at = "/lateral/sprinkler_spacing";
    refused(
        &demo_at(at, "\"60 psi\""),
        at,
        &["which is a pressure. Expected a length", "1 m to 60 m"],
    );
    refused(&demo_at(at, "\"40\""), at, &["unit is missing"]);
    refused(&demo_at(at, "40"), at, &["is 40, without a unit", "\"40 ft\""]);
    refused(&demo_at(at, "\"40 fet\""), at, &["`fet` is not known", "Did you mean"]);
    refused(&demo_at(at, "\"NaN ft\""), at, &["not finite"]);
    refused(&demo_at(at, "null"), at, &["Expected a length", "null"]);
}

#[test]
fn closed_negative_and_absurd_sizes() {
    for (pointer, value) in [
        ("/field/length_along_pipe", "\"-1320 ft\""),
        ("/field/width_across", "\"0 ft\""),
        ("/field/width_across", "\"1320 mi\""),
        ("/lateral/sprinklers", "-3"),
        ("/lateral/sprinklers", "2.5"),
        ("/lateral/sprinklers", "1e3"),
        ("/wheel/travel_per_turn", "\"20 in\""),
        ("/outlets/reach", "\"-1 ft\""),
        ("/sprinkler/pressure", "\"5000 psi\""),
        ("/sprinkler/nozzle_height", "\"4 mi\""),
        ("/sprinkler/drag/k1", "-0.5"),
        ("/season/set_time", "\"-1 h\""),
        ("/season/passes", "0"),
        ("/season/passes", "1000000000000"),
        ("/air/humidity", "\"150 %\""),
        ("/air/humidity", "50"),
        ("/wind/generated/day_mean", "\"300 mph\""),
        ("/seed", "-1"),
    ] {
        refused(&demo_at(pointer, value), pointer, &["Expected"]);
    }
}

#[test]
fn closed_keys() {
    let text = demo_with(|demo| {
        demo["field"]["cel"] = "2 ft".into();
        demo["field"].as_object_mut().unwrap().shift_remove("cell");
    });
    refused(&text, "/field/cel", &["Did you mean `cell`?"]);
    let text = demo_with(|demo| {
        demo["outlets"].as_object_mut().unwrap().shift_remove("reach");
    });
    refused(&text, "/outlets", &["`reach` is missing", "no starting value"]);
    let twice = crate::demo().replacen("\"seed\"", "\"title\": \"Other\", \"seed\"", 1);
    refused(&twice, "/title", &["given twice"]);
    refused(&demo_at("/season/until", "\"2027-09-01T00:00\""), "/season/until", &["only one of"]);
    refused(&demo_at("/evenfall", "2"), "/evenfall", &["the whole number 1"]);
}

#[test]
fn closed_rotation_out_of_reach_lists_what_is_reachable() {
    let at = "/alternatives/1/rotation/1";
    let half = demo_at(at, "\"30 ft\"");
    refused(&half, at, &["half a turn", "-20 ft", "0 ft", "20 ft"]);
    refused(&demo_at(at, "\"25 ft\""), at, &["tilted"]);
    refused(&demo_at(at, "\"40 ft\""), at, &["reach", "25 ft"]);
    refused(&demo_at(at, "\"2 turns\""), at, &["reach"]);
    let along = r#"{ "across": "0 ft", "along": "20 ft" }"#;
    refused(&demo_at(at, along), at, &["along its own length"]);
    refused(&demo_at(at, "\"60 psi\""), at, &["Rotation is \"60 psi\". Expected a length"]);
}

#[test]
fn closed_times_that_overlap() {
    refused(
        &demo_at("/season/sets_per_day", "3"),
        "/season/sets_per_day",
        &["overlap", "36 h of the 24"],
    );
    let text = demo_with(|demo| {
        demo["season"].as_object_mut().unwrap().shift_remove("idle_between_passes");
        demo["season"]["pass_interval"] = "5 days".into();
    });
    refused(&text, "/season/pass_interval", &["overlap"]);
    let text = demo_at("/season/pass_interval", "\"14 days\"");
    refused(&text, "/season/idle_between_passes", &["Remove one"]);
    let until = |moment: &str| {
        demo_with(|demo| {
            demo["season"].as_object_mut().unwrap().shift_remove("passes");
            demo["season"]["until"] = moment.into();
        })
    };
    refused(&until("2027-05-01T00:00"), "/season/until", &["ends before it starts"]);
    refused(&until("2027-05-12T00:00"), "/season/until", &["no whole pass"]);
}

#[test]
fn closed_geometry_that_does_not_fit() {
    let at = "/lateral/sprinklers";
    refused(&demo_at(at, "40"), at, &["longer than the field", "at most 34"]);
    let at = "/lateral/first_sprinkler";
    refused(&demo_at(at, "\"60 ft\""), at, &["off the field", "40 ft"]);
    let at = "/outlets/count";
    refused(&demo_at(at, "30"), at, &["outside the field", "at most 22"]);
    let at = "/outlets/first";
    refused(&demo_at(at, "\"2000 ft\""), at, &["outside the field"]);
    let text = demo_with(|demo| {
        demo["field"]["length_along_pipe"] = "3 mi".into();
        demo["field"]["width_across"] = "3 mi".into();
    });
    refused(&text, "/field/cell", &["63 million cells", "at most 20 million", "GB"]);
    let text = demo_at("/alternatives/1/lateral", r#"{ "sprinkler_spacing": "33.333 ft" }"#);
    refused(&text, "/field/cell", &["no cell near", "33.333 ft"]);
}

#[test]
fn closed_alternatives() {
    refused(&demo_at("/alternatives/1/name", "\"fixed\""), "/alternatives/1/name", &["same name"]);
    refused(&demo_at("/alternatives/1/rotation", "[]"), "/alternatives/1/rotation", &["1 to 26"]);
    let unknown = demo_at("/alternatives/1/wheel", r#"{ "travel": "15 ft" }"#);
    refused(
        &unknown,
        "/alternatives/1/wheel/travel",
        &["there is no key `travel`", "travel_per_turn"],
    );
    let text = demo_with(|demo| {
        demo.as_object_mut().unwrap().shift_remove("wheel");
    });
    refused(&text, "/lateral", &["needs the key `wheel`", "travel_per_turn"]);
}

#[test]
fn closed_sprinklers() {
    let jet = |json: &str| demo_at("/sprinkler/jets/0", json);
    let at = "/sprinkler/jets/0";
    refused(
        &jet(r#"{ "shape": "cone", "radius": "44 ft", "discharge": "5 gpm" }"#),
        "/sprinkler/jets/0/shape",
        &["triangular", "elliptical"],
    );
    refused(&jet(r#"{ "shape": "elliptical", "discharge": "5 gpm" }"#), at, &["`radius`"]);
    refused(&jet(r#"{ "shape": "elliptical", "radius": "44 ft" }"#), at, &["`discharge`"]);
    refused(&jet(r#"{ "radius": "44 ft" }"#), at, &["one of `leg`, `shape`, `nozzle`"]);
    let leg = |distance: &str, rate: &str| {
        jet(&format!(r#"{{ "leg": {{ "distance": {distance}, "rate": {rate} }} }}"#))
    };
    let falling = leg(r#"["10 ft", "5 ft"]"#, r#"["1 mm/h", "0 mm/h"]"#);
    refused(&falling, "/sprinkler/jets/0/leg/distance/1", &["must rise"]);
    let uneven = leg(r#"["10 ft", "15 ft"]"#, r#"["1 mm/h"]"#);
    refused(&uneven, "/sprinkler/jets/0/leg/rate", &["2 distances and 1 rates"]);
    let dry = leg(r#"["10 ft", "15 ft"]"#, r#"["0 mm/h", "0 mm/h"]"#);
    refused(&dry, "/sprinkler/jets/0/leg", &["no water"]);
}

#[test]
fn closed_records() {
    let text = demo_at("/wind", r#"{ "record": { "file": "wind.csv", "layout": "csv" } }"#);
    refused(&text, "/wind/record/file", &["cannot be read", "no file wind.csv"]);
    let read = |bytes: &'static [u8]| {
        let problems = crate::resolve(&text, &|_| Ok(bytes.to_vec())).unwrap_err();
        assert_eq!(problems.issues().len(), 1, "{problems}");
        problems.to_string()
    };
    assert!(read(b"").contains("no hour with a wind"));
    assert!(read(b"time,wind_speed_m_s,wind_from_deg\n").contains("no hour with a wind"));
    let other_year = b"time,wind_speed_m_s,wind_from_deg\n2020-05-10T06:00,1,90\n";
    assert!(read(other_year).contains("outside the weather record"));
}

#[test]
fn closed_losses_need_what_their_formula_needs() {
    refused(
        &demo_at("/losses", r#"{ "formula": "Trimmer 1987" }"#),
        "/losses",
        &["needs the key `nozzle_diameter`"],
    );
    let problems = bad(&demo_at("/losses", r#"{ "formula": "Keller and Bliesner 1990" }"#));
    assert_eq!(problems.issues().len(), 2, "{problems}");
}

/// Eight planted errors in eight sections: all told, each on its own line.
#[test]
fn closed_all_problems_at_once() {
    let text = demo_with(|demo| {
        demo["evenfall"] = 9.into();
        demo["field"]["width_across"] = "60 psi".into();
        demo["lateral"]["sprinklrs"] = 3.into();
        demo["wheel"]["travel_per_turn"] = 20.into();
        demo["outlets"].as_object_mut().unwrap().shift_remove("reach");
        demo["season"]["passes"] = 0.into();
        demo["wind"]["generated"]["day_mean"] = "-1 m/s".into();
        demo["alternatives"][2]["rotation"] = serde_json::json!([]);
    });
    let problems = bad(&text);
    let at: Vec<&str> = problems.issues().iter().map(|issue| issue.pointer.as_str()).collect();
    assert_eq!(
        at,
        [
            "/evenfall",
            "/field/width_across",
            "/lateral/sprinklrs",
            "/wheel/travel_per_turn",
            "/outlets",
            "/season/passes",
            "/wind/generated/day_mean",
            "/alternatives/2/rotation",
        ],
        "{problems}"
    );
    let told = problems.render("field.json", false);
    for issue in problems.issues() {
        let line = problems.line(issue);
        assert!(told.contains(&format!("field.json:{line}:")), "{told}");
    }
    assert!(told.ends_with("8 problems in field.json"), "{told}");
    assert!(!told.contains('\u{1b}') && problems.render("field.json", true).contains('\u{1b}'));
}

/// Problems that only show once values are compared are told beside each other and beside a value
/// that cannot be read.
#[test]
fn closed_cross_checks_do_not_hide_each_other() {
    let text = demo_with(|demo| {
        demo["field"]["cell"] = "7 mi".into();
        demo["lateral"]["sprinklers"] = 40.into();
        demo["outlets"]["count"] = 40.into();
        demo["season"]["sets_per_day"] = 3.into();
        demo["wind"]["generated"]["prevailing_from"] = "windward".into();
        demo["alternatives"][1]["rotation"][1] = "30 ft".into();
        demo["alternatives"][2]["name"] = "Fixed".into();
    });
    let problems = bad(&text);
    let at: Vec<&str> = problems.issues().iter().map(|issue| issue.pointer.as_str()).collect();
    assert_eq!(
        at,
        [
            "/field/cell",
            "/lateral/sprinklers",
            "/outlets/count",
            "/season/sets_per_day",
            "/wind/generated/prevailing_from",
            "/alternatives/1/rotation/1",
            "/alternatives/2/name",
        ],
        "{problems}"
    );
}

#[test]
fn closed_seasons_without_end() {
    let text = demo_with(|demo| {
        demo["season"].as_object_mut().unwrap().shift_remove("passes");
        demo["season"]["until"] = "2199-01-01T00:00".into();
    });
    refused(&text, "/season/until", &["ten years"]);
    refused(&demo_at("/season/passes", "2000"), "/season/passes", &["ten years"]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// The demo cut off anywhere, or with any one byte changed, never panics.
    #[test]
    fn invariant_damaged_text_never_panics(at in 0..crate::demo().trim_end().len(), byte in 32u8..127) {
        let mut bytes = crate::demo().as_bytes().to_vec();
        bytes[at] = byte;
        if let Ok(text) = String::from_utf8(bytes) {
            let _ = crate::resolve(&text, &super::helpers::no_files).map_err(|p| p.to_string());
        }
        if let Some(cut) = crate::demo().get(..at) {
            prop_assert!(crate::resolve(cut, &super::helpers::no_files).is_err());
        }
    }
}

#[test]
fn closed_characters_that_nobody_sees_are_refused_by_their_number() {
    for (given, told) in [
        ("\\u0000", "U+0000"),
        ("\\u001b[31m", "U+001B"),
        ("\u{202e}", "U+202E"),
        ("\\n", "U+000A"),
    ] {
        let name = format!("\"Two{given}stops\"");
        let at = "/alternatives/1/name";
        refused(&demo_at(at, &name), at, &[told, "invisible character", "one line of letters"]);
    }
}
