//! The move sheet: every figure on it follows from the plan that is simulated.

mod synthetic;

use evenfall_core::clock::FieldClock;
use evenfall_core::lateral::{EdgeTreatment, Machine};
use evenfall_core::machine::Maintenance;
use evenfall_core::model::{Called, Scenario};
use evenfall_core::root_zone::ground::Ground;
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::Replanned;
use evenfall_core::season::{self, DepthRange, ExpectedPressure, Worked};
use evenfall_core::weather::WeatherError;
use evenfall_figures::{
    CAUTIONS, ClockFace, Language, SHEET_CSV_COLUMNS, Sheet, SheetNotes, sheet_csv, sheet_html,
    sheet_ics, sheet_texts,
};
use evenfall_view::UnitSystem;
use jiff::civil::{DateTime, date};
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
    let depth = |pass: usize, set: usize| {
        let low_mm = 40.0 + pass as f64 + 0.1 * set as f64;
        DepthRange { low_mm, high_mm: low_mm + 5.0 }
    };
    let depths = plan.passes.iter().enumerate();
    let depths = depths.map(|(at, pass)| (0..pass.sets.len()).map(|set| depth(at, set)).collect());
    let worked = Worked {
        first: plan.clone(),
        course: Replanned::as_planned(&plan),
        depths: depths.collect(),
        pressure: ExpectedPressure { at_kpa: [360.0, 345.0, 340.0], within: 0.05, is_solved: true },
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
        language: Language::English,
        face: Some(ClockFace::TwentyFourHours),
        contact: &[],
        notes: &SheetNotes::default(),
    };
    made(&sheet, &plan)
}

/// The same field with its first set at `start` by the clocks of Boise.
fn in_boise(start: DateTime) -> Scenario {
    let mut scenario = scenario();
    let Some(clock) = FieldClock::in_zone("America/Boise", start.date()) else {
        panic!("the zone is not there")
    };
    scenario.calendar.start = clock.standard(start, None);
    scenario.calendar.clock = clock;
    scenario
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
                let depth = sheet.worked.depths[number][index];
                assert!((float(13) - depth.low_mm).abs() < 1e-3);
                assert!((float(14) - depth.high_mm).abs() < 1e-3);
                assert_eq!(&row[27], "standard time");
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
        let clock = |hour_h: f64, form| plan.date_time(hour_h).strftime(form).to_string();
        let day = |hour_h: f64| plan.date_time(hour_h).date();
        let times = sets().flat_map(|set| {
            let (on, off) = (set.start_h, set.end_h);
            let form = if day(on) == day(off) { "%H:%M" } else { "%H:%M %a" };
            [clock(on, "%H:%M"), clock(off, form)]
        });
        let times: Vec<String> = times.collect();
        assert_eq!(all_between(&page, "<td class=\"time\">", "<"), times);
        let shown = |mm: f64| format!("{:.1}", mm / 25.4);
        let range =
            |depth: &DepthRange| format!("{} to {}", shown(depth.low_mm), shown(depth.high_mm));
        let depths: Vec<String> = sheet.worked.depths.iter().flatten().map(range).collect();
        assert_eq!(all_between(&page, "<td class=\"depth\">", "<"), depths);
        let heads = all_between(&page, "<h1>Pass ", "<");
        assert_eq!(heads, ["1: stop A", "2: stop B", "3: stop C", "4: stop A"]);
        for (what, _) in CAUTIONS {
            assert!(page.contains(&format!("<dt>{what}</dt>")), "{what}");
        }
        // 360 kPa is 52.2 psi, 5 % less and more 49.6 and 54.8.
        assert!(page.contains("first sprinkler 50 to 55, middle 48 to 53, last 47 to 52 psi."));
        // Nothing is fetched and nothing runs.
        let page = page.replace("http://www.w3.org/2000/svg", "");
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
        short.depths.pop();
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

#[test]
fn closed_what_to_know_before_a_sheet_goes_out_follows_from_zone_language_and_calls() {
    let plain = scenario();
    let zoned = in_boise(date(2026, 5, 10).at(6, 0, 0, 0));
    let ground = Ground { first_day: 0, days: Vec::new(), depletion_mm: 0.0, ky: 1.0 };
    let called = Called { ground, share_of_raw: 0.8, least_every_h: 0.0 };
    let called = Scenario { called: Some(called), ..zoned.clone() };
    let told = |scenario: &Scenario, language| {
        with_sheet(&plain, |sheet, _| Sheet { scenario, language, ..*sheet }.before_it_goes_out())
    };
    assert!(told(&zoned, Language::English).is_empty());
    assert!(told(&plain, Language::English)[0].starts_with("times are standard time"));
    assert!(told(&zoned, Language::Spanish)[0].starts_with("the Spanish of the sheet"));
    assert!(told(&called, Language::English)[0].starts_with("the crop calls for each pass"));
    assert_eq!(told(&plain, Language::Spanish).len(), 2);
}

/// On and off of the first set in the table, on the page and in the calendar.
fn first_set(scenario: &Scenario) -> [Vec<String>; 3] {
    with_sheet(scenario, |sheet, _| {
        let (Ok(table), Ok(page), Ok(text)) =
            (sheet_csv(sheet), sheet_html(sheet), sheet_ics(sheet, None))
        else {
            panic!("the sheet cannot be made")
        };
        let row = table.lines().nth(1).unwrap_or_default();
        let cells: Vec<String> = row.split(',').map(str::to_owned).collect();
        let times = all_between(&page, "<td class=\"time\">", "<");
        let stamp = |name: &str| all_between(&text, &format!("\r\n{name}:"), "\r\n")[0].to_owned();
        [
            cells[3..5].to_vec(),
            times[..2].iter().map(|time| (*time).to_owned()).collect(),
            vec![stamp("DTSTART"), stamp("DTEND")],
        ]
    })
}

#[test]
fn closed_a_zone_without_daylight_saving_time_claims_none() {
    let mut scenario = in_boise(date(2027, 11, 6).at(18, 0, 0, 0));
    let first_day = scenario.calendar.start.date();
    scenario.calendar.clock = FieldClock::in_zone("America/Phoenix", first_day).unwrap();
    with_sheet(&scenario, |sheet, _| {
        let page = sheet_html(sheet).unwrap();
        assert!(page.contains("(America/Phoenix, which has no daylight saving time)"));
        assert!(!page.contains("daylight saving time included"));
    });
}

#[test]
fn closed_a_set_over_the_night_when_the_clocks_go_back_lasts_its_hours() {
    // 18:00 daylight time is 00:00 UTC; 11.5 h later it is 11:30 UTC, 4:30 standard time.
    let scenario = in_boise(date(2027, 11, 6).at(18, 0, 0, 0));
    let [table, page, calendar] = first_set(&scenario);
    assert_eq!(table, ["2027-11-06T18:00", "2027-11-07T04:30"]);
    assert_eq!(page, ["18:00", "04:30 Sun"]);
    assert_eq!(calendar, ["20271107T000000Z", "20271107T113000Z"]);
    with_sheet(&scenario, |sheet, _| {
        let page = sheet_html(sheet).unwrap();
        assert_eq!(page.matches("The clocks go back on Sun Nov 7.").count(), 2);
        assert!(page.contains("(America/Boise, daylight saving time included)"));
    });
}

#[test]
fn closed_a_set_over_the_night_when_the_clocks_go_forward_lasts_its_hours() {
    // 18:00 standard time is 01:00 UTC; 11.5 h later it is 12:30 UTC, 6:30 daylight time.
    let [table, page, calendar] = first_set(&in_boise(date(2027, 3, 13).at(18, 0, 0, 0)));
    assert_eq!(table, ["2027-03-13T18:00", "2027-03-14T06:30"]);
    assert_eq!(page, ["18:00", "06:30 Sun"]);
    assert_eq!(calendar, ["20270314T010000Z", "20270314T123000Z"]);
}

#[test]
fn closed_an_hour_that_comes_twice_is_told_apart_on_page_and_table() {
    // 14:00 daylight time; 11.5 h later the clock shows 1:30 for the first time.
    let [table, page, calendar] = first_set(&in_boise(date(2027, 11, 6).at(14, 0, 0, 0)));
    assert_eq!(table[1], "2027-11-07T01:30-06:00");
    assert_eq!(page[1], "01:30 MDT Sun");
    assert_eq!(calendar[1], "20271107T073000Z");
}

/// What of a page is read: its text, and what stands for pictures.
fn visible(html: &str) -> String {
    let text: Vec<&str> =
        html.split('<').map(|part| part.split_once('>').map_or(part, |p| p.1)).collect();
    let labels = all_between(html, "aria-label=\"", "\"");
    [text, labels].concat().join("\n")
}

/// The parts of a text between its values that are long enough to be known again.
fn parts(text: &str) -> Vec<&str> {
    let pieces = text.split(['{', '}']).step_by(2).map(str::trim);
    pieces.filter(|piece| piece.chars().count() >= 6).collect()
}

#[test]
fn invariant_a_spanish_sheet_holds_no_english_text_and_an_english_one_no_spanish() {
    let scenario = scenario();
    with_sheet(&scenario, |sheet, _| {
        for (language, own, other) in [(Language::Spanish, 1, 0), (Language::English, 0, 1)] {
            let sheet = Sheet { language, ..*sheet };
            let page = sheet_html(&sheet).unwrap();
            let calendar = sheet_ics(&sheet, Some(10)).unwrap().replace("\r\n ", "");
            let body = visible(page.split("<body>").nth(1).unwrap()) + &calendar;
            let body = body.replace("PRODID:-//Evenfall//move sheet", "");
            let mut shared = 0;
            for row in sheet_texts() {
                for part in parts(row.words[other]) {
                    if parts(row.words[own]).iter().any(|mine| mine.contains(part)) {
                        shared += 1;
                        continue;
                    }
                    assert!(!body.contains(part), "{}: {part}", row.key);
                }
            }
            assert!(shared < 12, "{shared} texts are alike in both languages");
            assert!(page.contains(&format!("<html lang=\"{}\">", language.code())));
        }
        let page = sheet_html(&Sheet { language: Language::Spanish, ..*sheet }).unwrap();
        assert!(page.contains("<h1>Pasada 1: parada A</h1>") && page.contains("mié"));
    });
}

#[test]
fn closed_passes_that_the_crop_calls_have_hours_after_the_start_and_no_dates() {
    let scenario = scenario();
    let ground = Ground { first_day: 0, days: Vec::new(), depletion_mm: 0.0, ky: 1.0 };
    let called = Called { ground, share_of_raw: 0.8, least_every_h: 0.0 };
    let called = Scenario { called: Some(called), ..scenario.clone() };
    with_sheet(&scenario, |sheet, _| {
        let sheet = Sheet { scenario: &called, ..*sheet };
        let page = sheet_html(&sheet).unwrap();
        let times = all_between(&page, "<td class=\"time\">", "<");
        assert_eq!(times[..4], ["0:00", "11:30", "12:00", "23:30"]);
        assert!(
            page.contains("Start a pass when the soil has used 80 % of what the crop can take")
        );
        assert!(page.contains("Started on ____") && !page.contains("Season calendar"));
        for day in ["Mon ", "Tue ", "2026-", "May"] {
            assert!(!page.split("<body>").nth(1).unwrap().contains(day), "{day}");
        }
        let text = sheet_csv(&sheet).unwrap();
        assert!(text.lines().nth(1).unwrap().starts_with("1,A,1,,,1,"), "{text}");
    });
}

#[test]
fn closed_whom_to_call_stands_on_every_page_and_room_for_it_where_nobody_is_named() {
    let scenario = scenario();
    with_sheet(&scenario, |sheet, plan| {
        let contact = ["Pump house: 555-0100".to_owned()];
        let page = sheet_html(&Sheet { contact: &contact, ..*sheet }).unwrap();
        assert_eq!(page.matches("Pump house: 555-0100").count(), 1 + plan.passes.len());
        let blank = sheet_html(sheet).unwrap();
        assert_eq!(blank.matches("If something goes wrong, call:").count(), 1 + plan.passes.len());
        assert!(blank.contains("<p class=\"notes\"></p>"));
    });
}
