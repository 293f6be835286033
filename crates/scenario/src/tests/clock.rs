//! The field's time zone: times written as the clock on the wall shows them.

use super::helpers::{demo_with, good, only_problem};
use evenfall_core::schedule::SeasonLength;
use evenfall_core::season::plans;
use jiff::civil::date;
use serde_json::json;

#[test]
fn closed_with_a_zone_all_times_of_the_season_are_the_walls() {
    let text = demo_with(|demo| {
        demo["field"]["time_zone"] = json!("America/Boise");
        let season = demo["season"].as_object_mut().unwrap();
        season.remove("passes");
        season.insert("until".to_owned(), json!("2027-11-20T18:00"));
        season.insert("labor_from".to_owned(), json!("5 h"));
        season.insert("labor_until".to_owned(), json!("21 h"));
        season.insert(
            "closed".to_owned(),
            json!([{ "reason": "cutting", "from": "2027-06-07T18:00", "lasts": "5 days" }]),
        );
    });
    let resolved = good(&text);
    let calendar = &resolved.scenario.calendar;
    // An hour earlier by standard time in summer; the same hour after the change in November.
    assert_eq!(calendar.start, date(2027, 5, 10).at(5, 0, 0, 0));
    assert_eq!(calendar.length, SeasonLength::Until(date(2027, 11, 20).at(18, 0, 0, 0)));
    let closure = &calendar.openings.closures[0];
    assert_eq!(closure.from, date(2027, 6, 7).at(17, 0, 0, 0));
    assert_eq!(closure.to, date(2027, 6, 12).at(17, 0, 0, 0));
    let hands = &calendar.openings.hands;
    assert!((hands.from_h - 4.0).abs() < 1e-12 && (hands.to_h - 20.0).abs() < 1e-12);
    let plan = &plans(&resolved.scenario).unwrap()[0];
    let first = plan.shown(plan.passes[0].sets[0].start_h);
    assert_eq!((first.at, &*first.abbreviation), (date(2027, 5, 10).at(6, 0, 0, 0), "MDT"));
}

#[test]
fn closed_without_a_zone_times_stay_as_they_are_written() {
    let resolved = good(&demo_with(|_| {}));
    assert_eq!(resolved.scenario.calendar.start, date(2027, 5, 10).at(6, 0, 0, 0));
    assert!(resolved.scenario.calendar.clock.zone_name().is_none());
}

#[test]
fn closed_a_zone_that_is_none_is_refused_by_name() {
    let text = demo_with(|demo| demo["field"]["time_zone"] = json!("Mountian"));
    let (at, said) = only_problem(&text);
    assert_eq!(at, "/field/time_zone");
    assert!(said.contains("no time zone \"Mountian\"") && said.contains("Did you mean"), "{said}");
}

#[test]
fn closed_what_is_asked_of_the_sheet_is_read() {
    let text = demo_with(|demo| {
        demo["sheet"] =
            json!({ "contact": ["Ana: 555-0101"], "clock": "24-hour", "language": "es" });
    });
    let sheet = good(&text).sheet;
    assert_eq!(sheet.contact, ["Ana: 555-0101"]);
    assert_eq!(sheet.clock, Some(crate::ClockFace::TwentyFourHours));
    assert_eq!(sheet.language, crate::SheetLanguage::Spanish);
    let plain = good(&demo_with(|_| {})).sheet;
    assert_eq!((plain.clock, plain.language), (None, crate::SheetLanguage::English));
}
