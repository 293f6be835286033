//! The move sheet: every figure on it follows from the plan that is simulated.

mod synthetic;

use evenfall_core::lateral::{EdgeTreatment, Machine};
use evenfall_core::machine::Maintenance;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::Replanned;
use evenfall_core::season::{self, Worked};
use evenfall_core::weather::WeatherError;
use evenfall_figures::{
    CAUTIONS, SHEET_CSV_COLUMNS, Sheet, SheetNotes, sheet_csv, sheet_html, sheet_ics,
};
use evenfall_view::UnitSystem;
use std::collections::BTreeSet;
use synthetic::{Recipe, build};

/// A machine of which nothing but its pipe is known.
const MACHINE: Maintenance =
    Maintenance { pipe_diameter_m: 0.127, axle_height_m: None, stand: None, drive: None };

/// A season of three stops with an extra set at the edges.
fn scenario() -> Scenario {
    let (mut scenario, _) =
        build(&Recipe { passes: 4, field_ft: (320.0, 480.0), ..Recipe::demo() });
    scenario.alternatives[1].edges = EdgeTreatment::ExtraSet;
    scenario
}

fn with_sheet<T>(scenario: &Scenario, made: impl FnOnce(&Sheet<'_>, &Plan) -> T) -> T {
    let Ok(mut plans) = season::plans(scenario) else { panic!("the season has no plan") };
    let plan = plans.remove(1);
    let net_mm: Vec<Vec<Option<f64>>> = plan
        .passes
        .iter()
        .enumerate()
        .map(|(pass, sets)| {
            let depth = |set: usize| (set > 0).then_some(40.0 + pass as f64 + 0.1 * set as f64);
            (0..sets.sets.len()).map(depth).collect()
        })
        .collect();
    let worked = Worked {
        first: plan.clone(),
        course: Replanned::as_planned(&plan),
        depth_mm: net_mm,
        air_c: Vec::new(),
        why_gross: None,
    };
    let sheet = Sheet {
        scenario,
        alternative: &scenario.alternatives[1],
        worked: &worked,
        record: None,
        maintenance: &MACHINE,
        units: UnitSystem::Us,
        notes: &SheetNotes::default(),
    };
    made(&sheet, &plan)
}

/// What stands between `start` and `end`, everywhere in a text.
fn all_between<'a>(text: &'a str, start: &str, end: &str) -> Vec<&'a str> {
    text.split(start).skip(1).map(|rest| rest.split(end).next().unwrap_or_default()).collect()
}

#[test]
fn invariant_every_row_of_the_table_follows_from_the_plan() {
    let scenario = scenario();
    let text = with_sheet(&scenario, |sheet, _| sheet_csv(sheet).unwrap());
    with_sheet(&scenario, |sheet, plan| {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        assert_eq!(reader.headers().unwrap(), &SHEET_CSV_COLUMNS[..]);
        let mut rows = reader.records().map(Result::unwrap);
        let outlets = &sheet.alternative.outlets;
        let Machine::WheelLine(wheel) = sheet.alternative.lateral.machine else { panic!() };
        let mut stood_m: Option<f64> = None;
        for (number, pass) in plan.passes.iter().enumerate() {
            for (index, set) in pass.sets.iter().enumerate() {
                let row = rows.next().unwrap();
                let float = |column: usize| row[column].parse::<f64>().unwrap();
                let time =
                    |hour_h: f64| plan.date_time(hour_h).strftime("%Y-%m-%dT%H:%M").to_string();
                assert_eq!(row[0], (number + 1).to_string());
                assert_eq!(row[1], pass.letter.to_string());
                assert_eq!(row[2], (index + 1).to_string());
                assert_eq!((&row[3], &row[4]), (&*time(set.start_h), &*time(set.end_h)));
                assert_eq!(row[5], (set.outlet + 1).to_string());
                let place_m = outlets.place_m(set.outlet) + float(6);
                assert!((place_m - set.place_across_m).abs() < 1e-6, "{row:?}");
                // Turns and what is left over lead from the last stop to this one.
                if let Some(stood_m) = stood_m {
                    let rolled_m = float(9) * wheel.travel_per_turn_m + float(10);
                    assert!((stood_m + rolled_m - set.place_across_m).abs() < 1e-6, "{row:?}");
                }
                stood_m = Some(set.place_across_m);
                let net_mm = sheet.worked.depth_mm[number][index];
                assert_eq!(row[13], net_mm.map_or(String::new(), |mm| format!("{mm:.3}")));
            }
        }
        assert!(rows.next().is_none());
        // Shifted passes have one extra set each, told as such; stop A has none.
        assert_eq!(text.matches(",extra set,").count(), 2);
    });
}

#[test]
fn invariant_the_page_shows_the_plan_set_by_set() {
    let scenario = scenario();
    with_sheet(&scenario, |sheet, plan| {
        let page = sheet_html(sheet).unwrap();
        let sets = || plan.passes.iter().flat_map(|pass| &pass.sets);
        let outlets: Vec<String> = sets().map(|set| (set.outlet + 1).to_string()).collect();
        assert_eq!(all_between(&page, "<td class=\"outlet\">", "<"), outlets);
        let clock = |hour_h: f64| plan.date_time(hour_h).strftime("%H:%M").to_string();
        let times: Vec<String> =
            sets().flat_map(|set| [clock(set.start_h), clock(set.end_h)]).collect();
        assert_eq!(all_between(&page, "<td class=\"time\">", "<"), times);
        let depths: Vec<String> = sheet
            .worked
            .depth_mm
            .iter()
            .flatten()
            .map(|mm| mm.map_or("–".to_owned(), |mm| format!("{:.2}", mm / 25.4)))
            .collect();
        assert_eq!(all_between(&page, "<td class=\"depth\">", "<"), depths);
        let heads = all_between(&page, "<h1>Pass ", "<");
        assert_eq!(heads, ["1: stop A", "2: stop B", "3: stop C", "4: stop A"]);
        for (what, _) in CAUTIONS {
            assert!(page.contains(&format!("<dt>{what}</dt>")), "{what}");
        }
        // Nothing is fetched and nothing runs.
        assert!(!page.contains("http") && !page.contains("<script"));
    });
}

#[test]
fn invariant_the_calendar_has_each_set_once_at_its_time() {
    let scenario = scenario();
    with_sheet(&scenario, |sheet, plan| {
        let text = sheet_ics(sheet, Some(30)).unwrap();
        assert_eq!(text, sheet_ics(sheet, Some(30)).unwrap());
        let sets: Vec<_> = plan.passes.iter().flat_map(|pass| &pass.sets).collect();
        let stamp = |hour_h: f64| plan.date_time(hour_h).strftime("%Y%m%dT%H%M%S").to_string();
        let starts: Vec<String> = sets.iter().map(|set| stamp(set.start_h)).collect();
        // Floating local times: no zone, no Z.
        assert_eq!(all_between(&text, "\r\nDTSTART:", "\r\n"), starts);
        let ends: Vec<String> = sets.iter().map(|set| stamp(set.end_h)).collect();
        assert_eq!(all_between(&text, "\r\nDTEND:", "\r\n"), ends);
        let uids: BTreeSet<&str> = all_between(&text, "\r\nUID:", "@").into_iter().collect();
        assert_eq!(uids.len(), sets.len());
        assert_eq!(text.matches("\r\nTRIGGER:-PT30M\r\n").count(), sets.len());
        // RFC 5545: lines of at most 75 octets that end in CRLF.
        assert!(text.ends_with("END:VCALENDAR\r\n"));
        assert!(text.split("\r\n").all(|line| line.len() <= 75 && !line.contains('\n')));
        assert!(!sheet_ics(sheet, None).unwrap().contains("VALARM"));
    });
}

#[test]
fn closed_parts_of_another_plan_are_refused() {
    let scenario = scenario();
    with_sheet(&scenario, |sheet, _| {
        let mut short = sheet.worked.clone();
        short.depth_mm.pop();
        assert!(sheet_csv(&Sheet { worked: &short, ..*sheet }).is_err());
        let mut nameless = sheet.worked.clone();
        nameless.course.numbers.clear();
        assert!(sheet_html(&Sheet { worked: &nameless, ..*sheet }).is_err());
    });
}

#[test]
fn closed_warnings_stand_in_one_order_on_the_page_and_beside_it() {
    let scenario = scenario();
    with_sheet(&scenario, |sheet, _| {
        let mut worked = sheet.worked.clone();
        worked.why_gross = Some(WeatherError::Gaps { hours: 3, first: worked.first.midnight });
        let notes = SheetNotes {
            warnings: vec!["of the scenario".to_owned()],
            log_warnings: vec!["of the log".to_owned()],
            ..SheetNotes::default()
        };
        let sheet = Sheet { worked: &worked, notes: &notes, ..*sheet };
        let told = sheet.warnings();
        assert_eq!((told.len(), &*told[0], &*told[2]), (3, "of the scenario", "of the log"));
        assert!(told[1].starts_with("depths are gross, because"), "{}", told[1]);
        let page = sheet_html(&sheet).unwrap();
        let shown: Vec<String> = told.iter().map(|line| format!("<p>{line}.</p>")).collect();
        assert!(page.contains(&shown.concat()), "{shown:?}");
    });
}
