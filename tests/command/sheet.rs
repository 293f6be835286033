//! The move sheet, the log of a season and the maintenance list.

use crate::runs::{assert_same_files, evenfall, evenfall_in, files, names};
use crate::scenarios::{demo_with, put, small};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn with_small() -> TempDir {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    folder
}

fn sheet(folder: &Path, more: &[&str]) -> crate::runs::Ran {
    evenfall_in(folder, &[&["sheet", "scenario.json"], more].concat())
}

/// Pass, outlet, on and off of every set of a sheet's table; rows without a number of the set tell
/// what stays without water and when nothing could run.
pub(crate) fn rows(folder: &Path) -> Vec<(String, String, String, String)> {
    let text = fs::read_to_string(folder.join("sheet.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let cell = |row: &csv::StringRecord, at: usize| row[at].to_owned();
    reader
        .records()
        .map(|row| row.unwrap())
        .filter(|row| !row[2].is_empty())
        .map(|row| (cell(&row, 0), cell(&row, 5), cell(&row, 3), cell(&row, 4)))
        .collect()
}

/// Puts a log of the demo's two stops into `folder`.
pub(crate) fn put_log(folder: &Path, now: &str, events: &Value) {
    let log = json!({
        "evenfall_log": 1,
        "scenario": "Demo: three rotations of a wheel line",
        "alternative": "Two stops",
        "now": now,
        "events": events,
    });
    fs::write(folder.join("log.json"), serde_json::to_string_pretty(&log).unwrap()).unwrap();
}

#[test]
fn a_sheet_is_written_whole_and_twice_the_same() {
    let folder = with_small();
    let said = sheet(folder.path(), &["--alternative", "two stops", "--into", "one"]).said();
    assert!(said.contains("Move sheet for Two stops"), "{said}");
    let one = folder.path().join("one");
    let kept = [
        ".evenfall-files",
        "log.json",
        "pictures/clearance.png",
        "pictures/clearance.svg",
        "scenario.json",
    ];
    let kept = [&kept[..], &["sheet.csv", "sheet.html", "sheet.ics"]].concat();
    assert_eq!(files(&one), kept);
    sheet(folder.path(), &["--alternative", "Two stops", "--into", "two"]).said();
    assert_same_files(&one, &folder.path().join("two"));
    assert_eq!(names(folder.path()), ["one", "scenario.json", "two"]);
}

#[test]
fn the_sheet_has_the_sets_of_the_clock() {
    let folder = with_small();
    sheet(folder.path(), &["--alternative", "Two stops", "--into", "sheet"]).said();
    let clock = evenfall_in(folder.path(), &["clock", "scenario.json", "--sets"]).said();
    let two_stops = clock.split("Two stops:").nth(1).unwrap();
    let sets: Vec<(String, String, String)> = two_stops
        .lines()
        .filter_map(|line| line.trim_start().strip_prefix("outlet"))
        .map(|line| {
            let words: Vec<&str> = line.split_whitespace().collect();
            let at = words.len() - 5;
            let time = |at: usize| format!("{}T{}", words[at], words[at + 1]);
            (words[0].to_owned(), time(at), time(at + 3))
        })
        .collect();
    let rows: Vec<(String, String, String)> =
        rows(&folder.path().join("sheet")).into_iter().map(|(_, a, b, c)| (a, b, c)).collect();
    assert_eq!(sets.len(), 18);
    assert_eq!(rows, sets);
}

#[test]
fn depths_of_a_sheet_are_what_losses_leave_of_the_sets_water() {
    let folder = with_small();
    sheet(folder.path(), &["--alternative", "Fixed", "--into", "sheet"]).said();
    let text = fs::read_to_string(folder.path().join("sheet/sheet.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    for row in reader.records().map(Result::unwrap) {
        let (low_mm, high_mm): (f64, f64) = (row[13].parse().unwrap(), row[14].parse().unwrap());
        // 96.3 · 4.98 gpm / (40 · 60 ft²) · 11.5 h = 58.4 mm leave the sprinklers (SCS NEH 15-11).
        assert!(0.6 * 58.4 < low_mm && low_mm <= high_mm && high_mm < 58.4, "{row:?}");
    }
}

#[test]
fn which_alternative_must_be_said_where_there_are_several() {
    let folder = with_small();
    sheet(folder.path(), &[]).refused(2, &["--alternative", "\"Fixed\", \"Two stops\""]);
    sheet(folder.path(), &["--alternative", "Three"]).refused(2, &["\"Three\"", "\"Two stops\""]);
    assert_eq!(names(folder.path()), ["scenario.json"]);
    let one = demo_with(|demo| {
        demo["alternatives"] = json!([{ "name": "Fixed", "rotation": ["0 ft"] }]);
    });
    put(folder.path(), &one);
    sheet(folder.path(), &[]).said();
    assert_eq!(names(folder.path()), ["evenfall-sheet", "scenario.json"]);
}

#[test]
fn a_sheet_takes_the_place_of_a_sheet_only_and_only_when_asked() {
    let folder = with_small();
    let to = |into: &str, more: &[&str]| {
        sheet(folder.path(), &[&["--alternative", "Fixed", "--into", into], more].concat())
    };
    to("sheet", &[]).said();
    to("sheet", &[]).refused(4, &["exists already", "--replace"]);
    to("sheet", &["--replace"]).said();
    evenfall_in(folder.path(), &["season", "scenario.json", "--into", "report"]).said();
    to("report", &["--replace"]).refused(4, &["holds no sheet.html"]);
    assert!(folder.path().join("report/report.html").is_file());
}

/// A sheet in `sheet`, whose log then holds two events; the log's text.
fn with_diary(folder: &Path) -> String {
    sheet(folder, &["--alternative", "Two stops", "--into", "sheet"]).said();
    let events = json!([
        { "what": "missed", "pass": 1, "outlet": 2 },
        { "what": "breakdown", "from": "2027-05-11T06:00", "to": "2027-05-12T06:30" },
    ]);
    put_log(&folder.join("sheet"), "2027-05-12T07:00", &events);
    fs::read_to_string(folder.join("sheet/log.json")).unwrap()
}

#[test]
fn regress_a_log_that_holds_events_is_replaced_only_when_asked_by_name() {
    let folder = with_small();
    let diary = with_diary(folder.path());
    let log = || fs::read_to_string(folder.path().join("sheet/log.json")).unwrap();
    let anew = ["--alternative", "Two stops", "--into", "sheet", "--replace"];
    let told = ["`sheet/log.json` holds 2 events", "Nothing was changed", "--into"];
    let told = [&told[..], &["--log sheet/log.json", "--discard-edits"]].concat();
    sheet(folder.path(), &anew).refused(4, &told);
    assert_eq!(log(), diary);
    // Gone on with, it stays; and still stays when it is as the program wrote it.
    let kept = ["--log", "sheet/log.json", "--into", "sheet", "--replace"];
    sheet(folder.path(), &kept).said();
    assert_eq!(log(), diary);
    sheet(folder.path(), &anew).refused(4, &told);
    assert_eq!(log(), diary);
    assert_eq!(names(folder.path()), ["scenario.json", "sheet"]);
    sheet(folder.path(), &[&anew[..], &["--discard-edits"]].concat()).said();
    let blank: Value = serde_json::from_str(&log()).unwrap();
    assert_eq!(blank["events"], json!([]));
}

#[test]
fn another_log_does_not_take_the_place_of_an_edited_one() {
    let folder = with_small();
    let diary = with_diary(folder.path());
    put_log(folder.path(), "2027-05-12T07:00", &json!([]));
    let other = ["--log", "log.json", "--into", "sheet", "--replace"];
    sheet(folder.path(), &other).refused(4, &["edited since", "log.json", "Nothing was changed"]);
    assert_eq!(fs::read_to_string(folder.path().join("sheet/log.json")).unwrap(), diary);
}

#[test]
fn what_happened_stays_and_the_rest_moves_on() {
    let folder = with_small();
    sheet(folder.path(), &["--alternative", "Two stops", "--into", "first"]).said();
    let before = rows(&folder.path().join("first"));
    put_log(
        folder.path(),
        "2027-05-12T07:00",
        &json!([
            { "what": "done", "pass": 1, "outlet": 1, "from": "2027-05-10T07:15", "to": "2027-05-10T17:30" },
            { "what": "breakdown", "from": "2027-05-11T06:00", "to": "2027-05-12T06:30" },
        ]),
    );
    let said = sheet(folder.path(), &["--log", "log.json", "--into", "second"]).said();
    assert!(said.contains("Note: 1 set is not in the log"), "{said}");
    let after = rows(&folder.path().join("second"));
    assert_eq!(after.len(), before.len());
    assert_eq!((&*after[0].2, &*after[0].3), ("2027-05-10T07:15", "2027-05-10T17:30"));
    assert_eq!(after[1], before[1]);
    // Outlet 3 was to start on the 11th at 06:00; the first free start is the 12th at 18:00.
    assert_eq!((&*after[2].1, &*after[2].2), ("3", "2027-05-12T18:00"));
    // The log is kept beside the sheet, so that it can be gone on with.
    let kept = fs::read_to_string(folder.path().join("second/log.json")).unwrap();
    assert_eq!(kept, fs::read_to_string(folder.path().join("log.json")).unwrap());
    let page = fs::read_to_string(folder.path().join("second/sheet.html")).unwrap();
    assert!(page.contains("CATCH-UP"));
}

#[test]
fn the_season_as_it_happened_stands_beside_the_plan() {
    let folder = with_small();
    put_log(
        folder.path(),
        "2027-05-12T07:00",
        &json!([{ "what": "missed", "pass": 1, "outlet": 3 }]),
    );
    let words = ["season", "scenario.json", "--log", "log.json", "--into", "report"];
    let said = evenfall_in(folder.path(), &words).said();
    assert!(said.contains("Two stops (as it happened)"), "{said}");
    let page = fs::read_to_string(folder.path().join("report/report.html")).unwrap();
    assert!(page.contains("season --log log.json"), "the page tells how it was made");
}

#[test]
fn a_bad_log_is_told_whole_and_nothing_is_written() {
    let folder = with_small();
    put_log(
        folder.path(),
        "2027-05-12T07:00",
        &json!([
            { "what": "done", "pass": 1, "outlet": 77 },
            { "what": "breakdown", "from": "2027-05-11T06:00", "to": "2027-05-11T05:00" },
            { "what": "lost" },
        ]),
    );
    let told = ["there is no outlet 77", "backwards", "Kind of event is \"lost\"", "log.json"];
    sheet(folder.path(), &["--log", "log.json"]).refused(3, &told);
    let words = ["season", "scenario.json", "--log", "log.json", "--into", "report"];
    evenfall_in(folder.path(), &words).refused(3, &told);
    fs::write(folder.path().join("log.json"), "{ \"evenfall_log\": 1,").unwrap();
    sheet(folder.path(), &["--log", "log.json"]).refused(3, &["this is not JSON"]);
    sheet(folder.path(), &["--log", "none.json"]).refused(4, &["none.json", "log.json"]);
    assert_eq!(names(folder.path()), ["log.json", "scenario.json"]);
}

#[test]
fn a_log_goes_with_its_own_scenario_and_alternative() {
    let folder = with_small();
    put_log(folder.path(), "2027-05-12T07:00", &json!([]));
    sheet(folder.path(), &["--log", "log.json", "--alternative", "Fixed"])
        .refused(2, &["\"Two stops\""]);
    put(folder.path(), &small().replace("Demo: three rotations", "Demo: other rotations"));
    sheet(folder.path(), &["--log", "log.json"]).refused(3, &["belongs to another scenario"]);
    let worth = ["worth", "scenario.json", "--log", "log.json"];
    evenfall_in(folder.path(), &worth).refused(2, &["--log"]);
    assert_eq!(names(folder.path()), ["log.json", "scenario.json"]);
}

#[test]
fn the_maintenance_list_has_cold_and_crop() {
    let said = evenfall(&["maintenance"]).said();
    for words in [
        "The maker’s manual comes first",
        "Before the season",
        "At every move",
        "Every week",
        "Levelers",
        "35 °F",
        "longer than the gap",
        "clears the crop",
        "Power lines",
    ] {
        assert!(said.contains(words), "no `{words}` in {said}");
    }
    let folder = TempDir::new().unwrap();
    let hand = demo_with(|demo| {
        demo["lateral"]["machine"] = "hand move".into();
        demo.as_object_mut().unwrap().remove("wheel");
    });
    put(folder.path(), &hand);
    let said = evenfall_in(folder.path(), &["maintenance", "scenario.json"]).said();
    assert!(said.contains("Carry level") && !said.contains("Levelers"), "{said}");
}

/// An hourly record from the season's first day on, with a cold spell each night.
fn weather(days: i64) -> String {
    let row = |hour: i64| {
        let (day, clock) = (10 + hour / 24, hour % 24);
        let celsius = if (4..7).contains(&clock) { 2 } else { 22 };
        format!("2027-05-{day:02}T{clock:02}:00,2,225,{celsius}")
    };
    let head = "time,wind_speed_m_s,wind_from_deg,air_temperature_c".to_owned();
    let rows: Vec<String> = std::iter::once(head).chain((0..24 * days).map(row)).collect();
    rows.join("\n") + "\n"
}

#[test]
fn a_season_that_leaves_its_weather_record_has_gross_depths_and_says_so() {
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["wind"] =
        json!({ "record": { "file": "wind.csv", "layout": "csv", "height": "10 m" } });
    put(folder.path(), &scenario.to_string());
    // Three passes of six sets, two a day: nine days.
    fs::write(folder.path().join("wind.csv"), weather(10)).unwrap();
    let said = evenfall_in(folder.path(), &["maintenance", "scenario.json"]).said();
    // Every second move is at 05:30, in the cold; the season's last one is no move.
    assert!(said.contains("coldest move at 36 °F) 8 of 17 moves"), "{said}");
    let column = |folder: &Path, at: usize| -> Vec<String> {
        let text = fs::read_to_string(folder.join("sheet.csv")).unwrap();
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let sets = reader.records().map(Result::unwrap).filter(|row| !row[2].is_empty());
        sets.map(|row| row[at].to_owned()).collect()
    };
    sheet(folder.path(), &["--alternative", "Two stops", "--into", "net"]).said();
    assert!(column(&folder.path().join("net"), 15).iter().all(|word| word == "net"));
    let breakdown = json!([
        { "what": "breakdown", "from": "2027-05-12T05:45", "to": "2027-05-13T05:45" },
    ]);
    put_log(folder.path(), "2027-05-13T05:45", &breakdown);
    let said = sheet(folder.path(), &["--log", "log.json", "--into", "gross"]).said();
    assert!(said.contains("Note: depths are gross"), "{said}");
    let gross = folder.path().join("gross");
    assert!(column(&gross, 15).iter().all(|word| word == "gross"));
    // 96.3 · 4.98 gpm / (40 · 60 ft²) · 11.5 h = 2.298 in.
    let depth_mm: f64 = column(&gross, 13)[17].parse().unwrap();
    assert!((depth_mm / 25.4 - 2.298).abs() < 0.002, "{depth_mm}");
    let page = fs::read_to_string(gross.join("sheet.html")).unwrap();
    assert!(page.contains("Gross depth (in)") && page.contains("depths are gross"));
}

#[test]
fn a_pass_that_is_left_whole_is_gone_and_the_others_keep_their_numbers() {
    let folder = with_small();
    let log = json!({
        "evenfall_log": 1,
        "scenario": "Demo: three rotations of a wheel line",
        "alternative": "Two stops",
        "now": "2027-05-16T05:45",
        "missed": "leave until the next pass",
        "events": [{ "what": "breakdown", "from": "2027-05-13T05:45", "to": "2027-05-16T05:45" }],
    });
    fs::write(folder.path().join("log.json"), log.to_string()).unwrap();
    let said = sheet(folder.path(), &["--log", "log.json", "--into", "sheet"]).said();
    assert!(said.contains("left without water in their pass: pass 2 outlet 1"), "{said}");
    let passes: Vec<String> =
        rows(&folder.path().join("sheet")).into_iter().map(|row| row.0).collect();
    assert_eq!(passes, [["1"; 6], ["3"; 6]].concat());
    let words = ["season", "scenario.json", "--log", "log.json", "--into", "report"];
    let said = evenfall_in(folder.path(), &words).said();
    assert!(
        said.contains("Two stops (as it happened)") && said.contains("after 2 passes"),
        "{said}"
    );
}

#[test]
fn the_schema_of_the_log_is_printed_when_asked_for() {
    let schema: Value = serde_json::from_str(&evenfall(&["schema", "--log"]).said()).unwrap();
    assert!(schema["properties"]["events"].is_object());
}
