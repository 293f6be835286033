//! The move sheet's language, its clock in page and table, and passes that the crop calls.

use crate::filled_in::{begun, begun_with, busy, plan_of};
use crate::runs::{Ran, evenfall_in, files};
use crate::scenarios::{demo_with, put, small};
use crate::sheet::rows;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn with_small() -> TempDir {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    folder
}

fn sheet(folder: &Path, more: &[&str]) -> Ran {
    evenfall_in(folder, &[&["sheet", "scenario.json"], more].concat())
}

#[test]
fn a_sheet_speaks_spanish_and_says_that_nobody_has_reviewed_it() {
    let folder = with_small();
    let words = ["--alternative", "Fixed", "--language", "es", "--into", "sheet"];
    let said = sheet(folder.path(), &words).said();
    assert!(said.contains("not reviewed by a native speaker"), "{said}");
    let page = fs::read_to_string(folder.path().join("sheet/sheet.html")).unwrap();
    assert!(page.contains("<html lang=\"es\">") && page.contains("Hoja de cambios: Fixed"));
    assert!(page.contains("6:00\u{a0}p.m."));
    sheet(folder.path(), &["--alternative", "Fixed", "--language", "fr"])
        .refused(2, &["\"fr\"", "Expected \"en\", \"es\""]);
}

#[test]
fn a_field_in_a_time_zone_has_its_own_clock_in_sheet_calendar_and_clock_table() {
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["field"]["time_zone"] = "America/Boise".into();
    scenario["sheet"] = json!({ "contact": ["Pump house: 555-0100"], "clock": "24-hour" });
    put(folder.path(), &scenario.to_string());
    sheet(folder.path(), &["--alternative", "Fixed", "--into", "sheet"]).said();
    let read = |name: &str| fs::read_to_string(folder.path().join("sheet").join(name)).unwrap();
    assert_eq!(rows(&folder.path().join("sheet"))[0].2, "2027-05-10T06:00");
    // 6:00 daylight time in Boise is noon in Greenwich.
    assert!(read("sheet.ics").contains("DTSTART:20270510T120000Z"));
    let page = read("sheet.html");
    assert!(page.contains("05:30 Tue") && page.contains("Pump house: 555-0100"));
    let clock = evenfall_in(folder.path(), &["clock", "scenario.json"]).said();
    assert!(
        clock.contains("2027-05-10 06:00 to ") && clock.contains("in America/Boise"),
        "{clock}"
    );
    scenario["field"]["time_zone"] = "Boise time".into();
    put(folder.path(), &scenario.to_string());
    sheet(folder.path(), &["--alternative", "Fixed", "--into", "none"])
        .refused(3, &["there is no time zone \"Boise time\"", "America/Boise"]);
}

#[test]
fn passes_that_the_crop_calls_have_no_dates_and_no_calendar_file() {
    let folder = TempDir::new().unwrap();
    let called = demo_with(|demo| {
        demo["field"]["width_across"] = "360 ft".into();
        demo["season"]["passes"] = 3.into();
        demo["season"]["irrigate_at_depletion"] = "80 %".into();
        let season = demo["season"].as_object_mut().unwrap();
        for key in ["closed", "idle_between_passes", "pass_interval"] {
            season.remove(key);
        }
    });
    put(folder.path(), &called);
    let said = sheet(folder.path(), &["--alternative", "Two stops", "--into", "sheet"]).said();
    assert!(said.contains("no calendar file"), "{said}");
    let at = folder.path().join("sheet");
    assert!(!files(&at).contains(&"sheet.ics".to_owned()));
    assert!(rows(&at).iter().all(|(_, _, on, off)| on.is_empty() && off.is_empty()));
    let page = fs::read_to_string(at.join("sheet.html")).unwrap();
    assert!(page.contains("Started on ____") && page.contains("11:30"));
    // A set that is done needs its times: the sheet has none.
    let table = fs::read_to_string(at.join("sheet.csv")).unwrap();
    let row = table.lines().nth(1).unwrap();
    let filled = row.replacen("1,,,,,,,Demo", "1,,,yes,,,,Demo", 1);
    assert_ne!(filled, row, "{row}");
    fs::write(folder.path().join("filled.csv"), table.replace(row, &filled)).unwrap();
    sheet(folder.path(), &["--log", "filled.csv", "--into", "on"])
        .refused(3, &["the set has no times", "really_on"]);
}

/// The small scenario whose field is in a time zone.
fn in_mountain_time() -> String {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["field"]["time_zone"] = "Mountain".into();
    scenario.to_string()
}

#[test]
fn reference_a_table_in_a_time_zone_and_in_spanish_reads_back_by_its_clock() {
    let replanned = |scenario: &str, more: &[&str]| {
        let (folder, table) = begun_with(scenario, more);
        assert_eq!(table.cell(1, "on"), "2027-05-10T06:00");
        busy(table).put(folder.path());
        let said = sheet(folder.path(), &["--log", "filled.csv", "--into", "on"]).said();
        assert!(said.contains("up to 2027-05-12 12:00"), "{said}");
        let log = fs::read_to_string(folder.path().join("on/log.json")).unwrap();
        sheet(folder.path(), &["--log", "on/log.json", "--into", "again"]).said();
        let again = plan_of(&folder.path().join("again"));
        assert_eq!(again, plan_of(&folder.path().join("on")));
        (again, log)
    };
    // No clock changes in May: by its own clock, all is as it is without a zone. Depths are not: the
    // same clock time is another hour of weather.
    let what = ["pass", "set", "on", "off", "outlet", "kind", "done", "really_on", "really_off"];
    let cells = |text: &str| -> Vec<Vec<String>> {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let head = reader.headers().unwrap().clone();
        let at = what.map(|name| head.iter().position(|one| one == name).unwrap());
        let rows = reader.records().map(Result::unwrap);
        rows.map(|row| at.iter().map(|column| row[*column].to_owned()).collect()).collect()
    };
    let (plain, _) = replanned(&small(), &[]);
    for more in [&[][..], &["--language", "es", "--clock", "24-hour"]] {
        let (zoned, log) = replanned(&in_mountain_time(), more);
        assert!(zoned.contains("America/Denver"));
        assert_eq!(cells(&zoned), cells(&plain));
        assert!(log.contains("\"from\":\"2027-05-10T07:15\""), "{log}");
    }
}

#[test]
fn a_table_of_another_clock_is_refused() {
    let (folder, table) = begun();
    busy(table).put(folder.path());
    put(folder.path(), &in_mountain_time());
    for log in ["filled.csv", "first/log.json"] {
        sheet(folder.path(), &["--log", log, "--into", "on"])
            .refused(3, &["the clock \"standard time\"", "America/Denver", "time_zone"]);
    }
}
