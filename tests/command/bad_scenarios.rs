//! Bad scenarios: exit code 3, every problem told at its place, nothing left behind.

use crate::runs::{Ran, evenfall_in, names};
use crate::scenarios::{demo, demo_at, demo_with, put};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Each command that reads `text` as a scenario refuses it alike, with `words`; the folder holds
/// afterwards what it held before.
#[track_caller]
fn refused(text: &str, words: &[&str]) {
    let folder = TempDir::new().unwrap();
    put(folder.path(), text);
    refused_in(folder.path(), words);
}

#[track_caller]
fn refused_in(folder: &Path, words: &[&str]) {
    let before = names(folder);
    let season = evenfall_in(folder, &["season", "scenario.json", "--into", "report"]);
    season.refused(3, words);
    assert_eq!(names(folder), before, "left behind");
    for command in ["check", "clock", "stops"] {
        let Ran { code, out, err } = evenfall_in(folder, &[command, "scenario.json"]);
        assert_eq!((code, out.as_str(), err), (Some(3), "", season.err.clone()), "{command}");
    }
}

#[test]
fn truncated_json_is_refused_with_its_line() {
    let demo = demo().trim_end();
    for end in [demo.len() / 2, demo.len() - 1] {
        let last_line = demo[..end].lines().count();
        refused(&demo[..end], &["not JSON", "scenario.json:", &format!("\n{last_line} | ")]);
    }
    refused("{", &["not JSON", "scenario.json:1:1"]);
    refused("", &["empty"]);
}

#[test]
fn a_length_in_psi_is_refused_with_line_path_value_and_limits() {
    let text = demo_at("/lateral/sprinkler_spacing", "\"60 psi\"");
    let line = 1 + text.lines().position(|line| line.contains("60 psi")).unwrap();
    let place = format!("scenario.json:{line}:");
    let words = ["/lateral/sprinkler_spacing", "a length", "a pressure", "60 psi", "1 m to 60 m"];
    refused(&text, &[&words[..], &[&place]].concat());
}

#[test]
fn quantities_that_can_mean_several_things_are_refused_with_how_to_write_them() {
    for (pointer, value, words) in [
        ("/sprinkler/nozzle_height", "4-8", ["a dash between two numbers", "4 ft 8 in"]),
        ("/sprinkler/nozzle_height", "4' 14\\\"", ["is not known", "Units of a length"]),
        ("/outlets/spacing", "18,288 m", ["1 to 150 m", "Did you mean 18.288 m?"]),
        ("/outlets/spacing", "1,82,8 m", ["neither thousands nor decimals", "1,320.5"]),
        ("/outlets/spacing", "$60 ft", ["goes with a price", "a length"]),
        ("/field/travel_bearing", "sowth", ["Did you mean south?", "SW"]),
        ("/sprinkler/trajectory_angle", "S", ["which is a bearing", "Expected an angle"]),
        ("/worth/prices/crop", "$4/bu", ["depends on the crop", "pounds in one bushel"]),
        ("/worth/prices/crop", "$180", ["the unit is missing", "per ton"]),
        ("/crop/name", "peas", ["peas, fresh", "peas, dry"]),
    ] {
        let said: Vec<&str> = words.into_iter().chain([pointer]).collect();
        refused(&demo_at(pointer, &format!("\"{value}\"")), &said);
    }
}

#[test]
fn negative_and_absurd_sizes_are_refused() {
    for (pointer, value) in [
        ("/field/length_along_pipe", "\"-1320 ft\""),
        ("/field/width_across", "\"1320 mi\""),
        ("/field/cell", "\"0 ft\""),
        ("/lateral/sprinklers", "-33"),
        ("/lateral/sprinklers", "1000000000000000000000"),
        ("/outlets/reach", "\"-25 ft\""),
        ("/sprinkler/pressure", "\"1e300 psi\""),
        ("/season/set_time", "\"-11.5 h\""),
        ("/air/humidity", "\"500 %\""),
    ] {
        refused(&demo_at(pointer, value), &[pointer, "Expected"]);
    }
}

#[test]
fn not_a_number_is_refused_bare_and_as_text() {
    refused(&demo().replace("\"passes\": 12", "\"passes\": NaN"), &["not JSON"]);
    refused(&demo_at("/outlets/spacing", "\"NaN ft\""), &["/outlets/spacing", "not finite"]);
    refused(&demo_at("/outlets/spacing", "\"inf ft\""), &["/outlets/spacing", "not finite"]);
    refused(&demo().replace("\"passes\": 12", "\"passes\": 1e999"), &["/season/passes"]);
}

#[test]
fn a_rotation_out_of_reach_is_refused_and_the_reachable_stops_are_listed() {
    let at = "/alternatives/1/rotation/1";
    refused(&demo_at(at, "\"40 ft\""), &[at, "reach", "-20 ft", "0 ft", "20 ft"]);
    refused(&demo_at(at, "\"30 ft\""), &[at, "half a turn", "-20 ft", "0 ft", "20 ft"]);
}

#[test]
fn an_empty_wind_record_is_refused() {
    let text = demo_at("/wind", r#"{ "record": { "file": "wind.csv", "layout": "csv" } }"#);
    for record in ["", "time,wind_speed_m_s,wind_from_deg\n"] {
        let folder = TempDir::new().unwrap();
        put(folder.path(), &text);
        fs::write(folder.path().join("wind.csv"), record).unwrap();
        refused_in(folder.path(), &["/wind/record/file", "no hour with a wind"]);
    }
    refused(&text, &["/wind/record/file", "cannot be read"]);
}

#[test]
fn a_wind_record_with_a_gap_is_refused_and_never_filled_in_silence() {
    let folder = TempDir::new().unwrap();
    put(
        folder.path(),
        &demo_with(|demo| {
            demo["season"]["passes"] = 1.into();
            demo["wind"] = serde_json::json!({ "record": { "file": "wind.csv", "layout": "csv", "height": "10 m" } });
        }),
    );
    let hours = (0..24 * 12).filter(|hour| !(100..140).contains(hour));
    let row = |hour: i32| format!("2027-05-{:02}T{:02}:00,3,270\n", 10 + hour / 24, hour % 24);
    let record =
        "time,wind_speed_m_s,wind_from_deg\n".to_owned() + &hours.map(row).collect::<String>();
    fs::write(folder.path().join("wind.csv"), record).unwrap();
    let ran = evenfall_in(folder.path(), &["season", "scenario.json", "--into", "report"]);
    assert!(matches!(ran.code, Some(3 | 5)), "{ran:?}");
    assert!(ran.err.contains("2027-05-14"), "{}", ran.err);
    assert_eq!(names(folder.path()), ["scenario.json", "wind.csv"]);
}

#[test]
fn times_that_overlap_are_refused() {
    refused(&demo_at("/season/sets_per_day", "3"), &["/season/sets_per_day", "overlap"]);
    let text = demo_with(|demo| {
        demo["season"].as_object_mut().unwrap().shift_remove("idle_between_passes");
        demo["season"]["pass_interval"] = "5 days".into();
    });
    refused(&text, &["/season/pass_interval", "overlap"]);
}

#[test]
fn a_season_of_no_passes_is_refused() {
    refused(&demo_at("/season/passes", "0"), &["/season/passes", "Expected"]);
    let text = demo_with(|demo| {
        demo["season"].as_object_mut().unwrap().shift_remove("passes");
        demo["season"]["until"] = "2027-05-12T00:00".into();
    });
    refused(&text, &["/season/until", "no whole pass"]);
}

#[test]
fn unknown_keys_name_the_nearest_known_one() {
    let text = demo().replace("\"set_time\"", "\"set_tim\"");
    refused(&text, &["/season/set_tim", "Did you mean `set_time`?"]);
}

#[test]
fn several_problems_are_told_in_one_run() {
    let text = demo_with(|demo| {
        demo["field"]["width_across"] = "60 psi".into();
        demo["lateral"]["sprinklrs"] = 3.into();
        demo["season"]["passes"] = 0.into();
        demo["wind"]["generated"]["day_mean"] = "-1 m/s".into();
        demo["alternatives"][1]["rotation"][1] = "30 ft".into();
    });
    let words = [
        "/field/width_across",
        "/lateral/sprinklrs",
        "/season/passes",
        "/wind/generated/day_mean",
        "/alternatives/1/rotation/1",
        "5 problems in scenario.json",
    ];
    refused(&text, &words);
}
