//! The commands that answer with a table or a text.

use crate::runs::{evenfall, evenfall_in, project};
use crate::scenarios::{demo, demo_at, put, small};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

/// What the table of stops says of each shift, ft: 20 ft a turn, outlets 60 ft apart, reach 25 ft.
fn stops() -> Vec<(String, String)> {
    let words =
        ["stops", "--travel-per-turn", "20 ft", "--outlet-spacing", "60 ft", "--reach", "25 ft"];
    let table = evenfall(&words).said();
    let row = |line: &str| {
        let mut words = line.split_whitespace();
        let (turns, shift) = (words.next()?, words.next()?);
        turns.trim_start_matches('−').parse::<f64>().ok()?;
        Some((shift.replace('−', "-"), words.collect::<Vec<_>>().join(" ")))
    };
    table.lines().filter_map(row).collect()
}

#[test]
fn a_wheel_of_twenty_feet_stands_at_whole_turns_within_reach() {
    let stops = stops();
    let said = |shift: &str| &stops.iter().find(|(at, _)| at == shift).unwrap().1;
    for shift in ["-20.0", "0.0", "20.0"] {
        assert!(said(shift).starts_with("yes"), "{shift}: {}", said(shift));
    }
    for shift in ["-30.0", "-10.0", "10.0", "30.0"] {
        assert!(said(shift).starts_with("no: half a turn"), "{shift}: {}", said(shift));
    }
    for shift in ["-40.0", "40.0"] {
        assert!(said(shift).starts_with("no: beyond the reach"), "{shift}: {}", said(shift));
    }
    assert_eq!(stops.len(), 9);
}

#[test]
fn three_turns_of_a_wheel_of_19_9_feet_fall_short_of_the_outlet_by_0_3_feet() {
    let words =
        ["stops", "--travel-per-turn", "19.9 ft", "--outlet-spacing", "60 ft", "--reach", "25 ft"];
    let table = evenfall(&words).said();
    let line = |start: &str| table.lines().find(|line| line.starts_with(start)).unwrap();
    assert!(line("turns from outlet to outlet").ends_with(" 3"), "{table}");
    assert!(line("drift per move").ends_with("−0.30 ft"), "{table}");
    // 0.3 of 19.9 ft is 5.4 of 360 degrees; 21 moves make 6.3 ft.
    assert!(line("tilt per move").contains("5.4°"), "{table}");
    assert!(line("drift per pass").ends_with("−6.30 ft"), "{table}");
}

#[test]
fn a_diameter_with_sinkage_rolls_its_circumference_less_the_sinkage() {
    let words = ["--outlet-spacing", "18 m", "--reach", "8 m"];
    let of = |wheel: &[&str]| evenfall(&[&["stops"], wheel, &words].concat()).said();
    // π · 2 m · 0.95 = 5.969026 m.
    let by_diameter = of(&["--outside-diameter", "2 m", "--slip-and-sinkage", "5 %"]);
    assert_eq!(by_diameter, of(&["--travel-per-turn", "5.969026041820607 m"]));
    assert!(by_diameter.contains("shift (m)"), "{by_diameter}");
}

#[test]
fn stops_of_the_demo_name_every_alternative() {
    let table = evenfall(&["stops"]).said();
    for name in ["Fixed", "Two stops", "Three stops"] {
        assert!(table.contains(name), "{table}");
    }
}

#[test]
fn the_clock_gives_every_pass_its_stop_and_times() {
    let table = evenfall(&["clock"]).said();
    assert_eq!(table.lines().filter(|line| line.trim_start().starts_with("pass ")).count(), 36);
    // 22 sets of 11.5 h and gaps of 0.5 h: eleven days a pass, less the last gap; three cuttings of five
    // days lie between.
    assert!(table.contains("2027-05-10 06:00 to 2027-05-21 05:30  22 sets"), "{table}");
    assert!(table.contains("2027-09-23 06:00 to 2027-10-04 05:30  22 sets"), "{table}");
    let third = table.split("Three stops:").nth(1).unwrap();
    for (pass, stop) in
        ["A at    0.0", "B at   20.0", "C at  −20.0", "A at    0.0"].iter().enumerate()
    {
        let line = third.lines().nth(pass + 1).unwrap();
        assert!(line.contains(&format!("pass {:>3}  stop {stop} ft", pass + 1)), "{line}");
    }
    assert!(table.to_lowercase().contains("clock lock"), "{table}");
}

#[test]
fn a_season_that_ends_inside_a_cycle_is_told() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &demo_at("/season/passes", "11"));
    for command in ["clock", "check"] {
        let said = evenfall_in(folder.path(), &[command, "scenario.json"]).said();
        assert!(said.contains("inside a cycle"), "{said}");
        assert!(said.contains("Two stops") && said.contains("Three stops"), "{said}");
    }
}

#[test]
fn check_tells_digest_and_assumptions_of_a_sound_scenario() {
    let said = evenfall(&["check"]).said();
    assert!(said.starts_with("No problems"), "{said}");
    let digest = said.lines().find_map(|line| line.strip_prefix("Digest: ")).unwrap();
    assert!(digest.len() == 64 && digest.bytes().all(|b| b.is_ascii_hexdigit()), "{digest}");
    assert!(said.contains("/outlets/count = 22"), "{said}");
}

#[test]
fn check_tells_a_plan_that_drowns_its_root_zone() {
    let folder = TempDir::new().unwrap();
    let mut plan: Value = serde_json::from_str(demo()).unwrap();
    // 9.3 gpm for 23.5 hours on roots of half a meter.
    plan["sprinkler"]["jets"][0]["discharge"] = "9.3 gpm".into();
    plan["season"]["set_time"] = "23.5 h".into();
    plan["season"]["sets_per_day"] = 1.into();
    plan["season"]["passes"] = 6.into();
    plan["crop"]["roots"] = serde_json::json!({ "at_planting": "0.5 m", "full": "0.5 m" });
    put(folder.path(), &plan.to_string());
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    let depth = said.lines().find(|line| line.contains("Each 23.5-hour set")).unwrap();
    assert!(depth.trim_start().starts_with("fault:"), "{said}");
    let plain = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plain.contains("puts on 8.76 in"), "{said}");
    assert!(plain.contains("go below the roots. Shorten the set to"), "{said}");
}

#[test]
fn check_asks_for_what_the_plan_cannot_be_checked_without() {
    let folder = TempDir::new().unwrap();
    let mut plan: Value = serde_json::from_str(demo()).unwrap();
    for key in ["crop", "soil", "climate", "worth", "maintenance"] {
        plan.as_object_mut().unwrap().remove(key);
    }
    for alternative in plan["alternatives"].as_array_mut().unwrap() {
        alternative.as_object_mut().unwrap().remove("equipment");
    }
    put(folder.path(), &plan.to_string());
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    let plain = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        plain.contains("What the root zone takes is not known. Give crop, soil and climate"),
        "{said}"
    );
    assert!(plain.contains("intake rate is not given"), "{said}");
}

#[test]
fn demo_prints_a_scenario_that_checks_the_same() {
    assert_eq!(demo(), fs::read_to_string(project("data/demo/scenario.json")).unwrap());
    let folder = TempDir::new().unwrap();
    put(folder.path(), demo());
    let of_file = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    assert_eq!(of_file, evenfall(&["check"]).said());
}

#[test]
fn schema_prints_the_schema_kept_in_shared() {
    let printed = evenfall(&["schema"]).said();
    assert_eq!(printed, fs::read_to_string(project("shared/scenario.schema.json")).unwrap());
    let schema: Value = serde_json::from_str(&printed).unwrap();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
}

#[test]
fn completions_are_printed_for_the_usual_shells() {
    for shell in ["bash", "zsh", "fish"] {
        let script = evenfall(&["completions", shell]).said();
        for command in ["season", "stops", "clock", "overlap", "check"] {
            assert!(script.contains(command), "{shell}: no {command}");
        }
    }
}

#[test]
fn help_names_every_command_and_exit_code() {
    let help = evenfall(&["--help"]).said();
    for word in
        ["season", "sheet", "maintenance", "stops", "clock", "overlap", "check", "demo", "schema"]
    {
        assert!(help.contains(word), "{help}");
    }
    for code in ["0  done", "2  ", "3  ", "4  ", "5  ", "70  ", "130  "] {
        assert!(help.contains(code), "{help}");
    }
}

#[test]
fn check_clock_and_stops_come_as_json_too() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let read = |words: &[&str]| -> Value {
        let said = evenfall_in(folder.path(), words).said();
        serde_json::from_str(&said).unwrap()
    };
    let check = read(&["check", "scenario.json", "--json"]);
    assert_eq!(check["scenario_sha256"].as_str().unwrap().len(), 64);
    assert_eq!(check["alternatives"], json!(["Fixed", "Two stops"]));
    assert!(check["plan"].is_object() && check["starting_values"].is_array(), "{check}");
    let clock = read(&["clock", "scenario.json", "--sets", "--json"]);
    let passes = clock["alternatives"][1]["passes"].as_array().unwrap();
    assert_eq!((passes.len(), &passes[1]["stop"]), (3, &json!("B")));
    assert_eq!(passes[0]["each_set"].as_array().unwrap().len(), 6);
    assert!((passes[1]["shift_across_m"].as_f64().unwrap() - 6.096).abs() < 1e-9, "{clock}");
    let stops = read(&["stops", "scenario.json", "--json"]);
    assert!(stops["alternatives"][0]["stops"].as_array().unwrap().len() > 2, "{stops}");
    let words =
        ["stops", "--wheel", "7-foot", "--outlet-spacing", "60 ft", "--reach", "25 ft", "--json"];
    assert_eq!(read(&words)["wheels"][0]["turns_per_move"], 3);
}
