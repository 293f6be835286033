//! Tables that people and programs may have spoiled: told, never a panic.

use super::*;
use crate::{demo, resolve};
use evenfall_core::schedule::replan::{Happened, SetName};
use proptest::prelude::*;
use std::sync::LazyLock;

static SCENARIO: LazyLock<Scenario> = LazyLock::new(|| {
    let no_files = |name: &str| Err(format!("no file {name} in this test"));
    resolve(demo(), &no_files).unwrap().scenario
});

const HEAD: &str = "pass,outlet,on,off,kind,done,really_on,really_off,really_at,alternative";

fn read(rows: &str) -> Result<Log, Problems> {
    read_log(&format!("{HEAD}\n{rows}"), &SCENARIO)
}

#[test]
fn closed_rows_become_events() {
    let log = read(
        "1,1,2027-05-10T06:00,2027-05-10T17:30,,,7:00,17:45,1 turn,Two stops\n\
         1,2,2027-05-10T18:00,2027-05-11T05:30,,yes,,,,\n\
         1,3,2027-05-11T06:00,2027-05-11T17:30,,no,,,,\n\
         1,4,2027-05-11T18:30,2027-05-12T06:00,,yes,,,,\n",
    )
    .unwrap();
    let set = |outlet| SetName { pass: 0, outlet, is_extra: false };
    let done = |outlet, span_h, at_m| Happened::Done { set: set(outlet), span_h, at_m };
    let place_m = 20.0 * 0.3048;
    // Outlet 2 ran as planned; the row of outlet 4 shows other times than the first plan, and they count.
    let wanted = [
        done(0, Some((7.0, 17.75)), Some(place_m)),
        done(1, None, None),
        Happened::Missed(set(2)),
        done(3, Some((42.5, 54.0)), None),
    ];
    assert_eq!(log.record.events, wanted);
    assert_eq!((log.alternative, log.record.now_h), (1, 54.0));
    let again = read_log(&log.json, &SCENARIO).unwrap();
    assert_eq!(again.record, log.record);
    assert_eq!(again.replanned, log.replanned);
}

#[test]
fn closed_the_extra_set_at_an_edge_is_told_by_its_kind() {
    let rows = "2,1,,,extra set,yes,2027-05-21 06:00,2027-05-21 17:30,,Two stops\n";
    // The demo's passes have no extra sets, so a row that says so is refused, and one without is not.
    let problems = read(rows).unwrap_err().to_string();
    assert!(problems.contains("pass 2 has no extra set at outlet 1"), "{problems}");
    let problems = read(&rows.replace("extra set", "")).err().map(|problems| problems.to_string());
    assert!(!problems.unwrap_or_default().contains("extra set"));
}

proptest! {
    #[test]
    fn invariant_spoiled_tables_are_told(
        cells in prop::collection::vec(
            prop::collection::vec("[-a-zA-Z0-9 :./\"é;]{0,12}|yes|no|breakdown|1|6:00|2027-05-10 06:00", 0..12),
            0..6,
        ),
        head in prop::option::of("[a-z_,;\n\"]{0,40}"),
        separator in prop::sample::select(vec![",", ";", "\t"]),
    ) {
        let head = head.unwrap_or_else(|| HEAD.replace(',', separator));
        let rows: Vec<String> = cells.iter().map(|row| row.join(separator)).collect();
        let text = format!("{head}\n{}", rows.join("\n"));
        let asked = LogAsked { alternative: Some("Two stops"), is_table: true, now: None };
        if let Err(problems) = read_log_as(&text, &SCENARIO, &asked) {
            prop_assert!(!problems.issues().is_empty());
            prop_assert!(!problems.render("table.csv", false).is_empty());
        }
    }
}
