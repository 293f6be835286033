//! Plan against actual: the page that a season with a log adds to its report.

use crate::filled_in::{Table, begun};
use crate::runs::evenfall_in;
use serde_json::Value;
use std::fs;
use std::path::Path;

fn season(folder: &Path) -> (String, String, Value) {
    let words = ["season", "scenario.json", "--log", "filled.csv", "--into", "report"];
    let said = evenfall_in(folder, &words).said();
    let read = |name: &str| fs::read_to_string(folder.join("report").join(name)).unwrap();
    (said, read("as-it-was.html"), serde_json::from_str(&read("as-it-was.json")).unwrap())
}

/// Six sets of pass 1, each move 40 minutes longer than the half hour planned, and each set cut so
/// that it ends as planned.
fn slow(table: Table) -> Table {
    (1..=6).fold(table, |table, row| {
        let (on, off) = match row {
            1 => ("6:00", "17:30"),
            row if row % 2 == 1 => ("6:40", "17:30"),
            _ => ("18:40", "5:30"),
        };
        table.fill(row, &[("really_on", on), ("really_off", off)])
    })
}

#[test]
fn closed_slow_moves_are_told_with_what_to_allow_next_year() {
    let (folder, table) = begun();
    slow(table).put(folder.path());
    let (said, page, json) = season(folder.path());
    // Five moves of 40 min more against six sets of 33 min less on average, 3.3 h each in all: the
    // moves come first. 0.5 + 0.67 h is 1.2 h in tenths; two sets a day then have 10.8 h.
    let advice = "Moves took 40 min longer than planned on average: allow move_time 1.2 h next year, \
                  and set_time 10.8 h, so that 2 sets a day still fit.";
    assert!(said.contains(&format!("Next year: {advice}")), "{said}");
    assert!(page.contains(advice) && page.contains("The season as it was: “Two stops”"));
    assert_eq!(json["next_year"], advice);
    let number = |path: &str| json.pointer(path).and_then(Value::as_f64).unwrap();
    assert_eq!(number("/sets/planned"), 18.0);
    assert_eq!((number("/sets/recorded"), number("/sets/moved_in_time")), (6.0, 5.0));
    assert_eq!((number("/sets/to_come"), number("/sets/left")), (12.0, 0.0));
    let near = |path: &str, wanted: f64| {
        assert!((number(path) - wanted).abs() < 1e-9, "{path}: {}", number(path));
    };
    near("/starts/mean_late_h", 5.0 / 6.0 * 2.0 / 3.0);
    near("/starts/worst_late_h", 2.0 / 3.0);
    near("/moves/planned_h", 0.5);
    near("/moves/real_h", 0.5 + 2.0 / 3.0);
    near("/set_times/real_h", 11.5 - 5.0 / 6.0 * 2.0 / 3.0);
    // Water goes with the hours: 18 sets of 11.5 h less five times 40 min.
    let share = 1.0 - 5.0 * (2.0 / 3.0) / (18.0 * 11.5);
    near("/gross/real_m3", number("/gross/planned_m3") * share);
    assert_eq!(json["passes"][0]["planned_end"], "2027-05-13T05:30");
    assert_eq!(json["passes"][0]["real_end"], "2027-05-13T05:30");
    // Planned is the alternative itself, as it was the one beside it.
    let summary = fs::read_to_string(folder.path().join("report/summary.json")).unwrap();
    let summary: Value = serde_json::from_str(&summary).unwrap();
    let interior = |at: usize| &summary["alternatives"][at]["season"]["interior"];
    assert_eq!(&json["planned"]["interior"], interior(1));
    assert_eq!(&json["real"]["interior"], interior(2));
    assert_ne!(interior(1), interior(2));
}

#[test]
fn closed_sets_left_without_water_are_told_with_their_share() {
    let (folder, table) = begun();
    // Outlet 2 of pass 1 was missed, and pass 2 is under way: it stays without water.
    let done = (1..=7)
        .filter(|row| *row != 2)
        .fold(table, |table, row| table.fill(row, &[("done", "yes")]));
    done.fill(2, &[("done", "no")]).put(folder.path());
    let (said, _, json) = season(folder.path());
    let advice = "1 of the 18 sets planned stayed without water (6 %)";
    assert!(said.contains(advice), "{said}");
    assert_eq!((&json["sets"]["left"], &json["sets"]["recorded"]), (&1.into(), &6.into()));
    assert_eq!(json["passes"][0]["sets"], 5);
    // Money by hand: 7 ton/ac at 180 a ton on the acres there are, water and energy at 55 per ac-ft
    // (1233.482 m³), and one move of 30 min at 20 an hour that was not made.
    let number = |path: &str| json.pointer(path).and_then(Value::as_f64).unwrap();
    let change = |what: &str, unit: &str| {
        number(&format!("{what}/real_{unit}")) - number(&format!("{what}/planned_{unit}"))
    };
    let scenario = fs::read_to_string(folder.path().join("scenario.json")).unwrap();
    let scenario: Value = serde_json::from_str(&scenario).unwrap();
    let side_ft = |key: &str| -> f64 {
        let told = scenario["field"][key].as_str().unwrap();
        told.trim_end_matches(" ft").parse().unwrap()
    };
    let acres = side_ft("length_along_pipe") * side_ft("width_across") / 43_560.0;
    let crop = change("/crop/yield_share", "percent") / 100.0 * 7.0 * acres * 180.0;
    assert!(crop < 0.0, "less water brings no more crop: {crop}");
    let water = -change("/gross", "m3") / 1233.482 * 55.0;
    let by_hand = crop + water + 0.5 * 20.0;
    assert!((number("/crop/money") - by_hand).abs() < 0.01, "{by_hand}: {}", json["crop"]);
}

#[test]
fn a_kept_plan_is_the_plan_and_no_log_has_no_page() {
    let (folder, table) = begun();
    let kept = (1..=18).fold(table, |table, row| table.fill(row, &[("done", "yes")]));
    kept.put(folder.path());
    let (said, _, json) = season(folder.path());
    assert!(said.contains("You kept to the plan in the 18 sets of your log"), "{said}");
    assert_eq!(json["planned"], json["real"]);
    let share = &json["crop"]["yield_share"];
    assert_eq!(share["planned_percent"], share["real_percent"]);
    assert_eq!(json["crop"]["money"].as_f64(), Some(0.0));
    assert_eq!(json["starts"]["worst_late_h"].as_f64(), Some(0.0));
    let words = ["season", "scenario.json", "--into", "plain"];
    assert!(!evenfall_in(folder.path(), &words).said().contains("Next year"));
    assert!(!folder.path().join("plain/as-it-was.html").exists());
}
