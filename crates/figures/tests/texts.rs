//! The page, the tables and the files for other programs.
#![allow(clippy::unwrap_used)] // in helpers of tests

mod synthetic;

use evenfall_figures::{grid_npy, passes_csv, report_page, season_json, stops_table};
use evenfall_view::{FIGURES, Figure, Season, Shown, UnitSystem, pass_columns};
use ndarray::array;
use ndarray_npy::ReadNpyExt;
use synthetic::{Recipe, build, notes::notes, notes::report, wheel_reach};

fn small() -> Recipe {
    Recipe { field_ft: (320.0, 360.0), passes: 4, ..Recipe::demo() }
}

/// The page of a recipe, after `change` had its way with scenario and outcome.
fn page(
    recipe: &Recipe,
    change: impl Fn(&mut evenfall_core::model::Scenario, &mut evenfall_core::season::Outcome),
) -> String {
    let (mut scenario, mut outcome) = build(recipe);
    change(&mut scenario, &mut outcome);
    let notes = notes(&scenario);
    report_page(&report((&scenario, &outcome), &notes, None)).unwrap()
}

#[test]
fn invariant_the_page_is_whole_and_asks_for_nothing() {
    let html = page(&small(), |_, _| ());
    assert!(html.trim_start().starts_with("<!DOCTYPE html>"));
    assert!(html.contains("<html lang=\"en\">") && html.trim_end().ends_with("</html>"));
    for forbidden in ["http:", "https:", "<script", "@import", "<link rel=\"stylesheet\"", "url("] {
        assert!(!html.contains(forbidden), "the page holds {forbidden}");
    }
    let headings =
        ["The question", "The answer", "Limits", "Cautions", "Sources", "Rules of thumb"];
    for heading in headings {
        assert!(html.contains(heading), "no {heading}");
    }
    assert!(html.contains("Interior: the field without a strip of 60\u{a0}ft along every edge"));
    assert!(html.contains("Invented scenario."));
    assert_eq!(html.matches("<svg").count(), html.matches("role=\"img\"").count());
    assert!(html.len() < 3_000_000);
}

#[test]
fn closed_what_the_plan_comes_to_stands_before_everything_else_in_page_and_json() {
    let (scenario, outcome) = build(&small());
    let plans = outcome.alternatives.iter().map(|found| found.plan.clone()).collect();
    let plan = evenfall_core::worth::check_plan(&scenario, plans, None).unwrap();
    let notes = evenfall_view::ReportNotes { plan: Some(plan), ..notes(&scenario) };
    let html = report_page(&report((&scenario, &outcome), &notes, None)).unwrap();
    // The contents name every heading; what counts is the page below them.
    let (_, body) = html.split_once("</nav>").unwrap();
    let place = |words: &str| body.find(words).unwrap_or_else(|| panic!("no {words}"));
    assert!(place("The plan before the rotation") < place("The question"));
    // What it comes to and its faults before the answer, every yardstick right after it.
    assert!(place("The plan of “") < place("Look at these first"));
    assert!(place("Look at these first") < place("The question"));
    let yardsticks = place("The plan, yardstick by yardstick");
    assert!(place("The answer") < yardsticks && yardsticks < place("The figures"));
    assert!(yardsticks < place("Outlet spacing against the wetted diameter"));
    // Without crop and soil the page says so, and what to give.
    assert!(html.contains("What the root zone takes is not known. Give crop, soil and climate"));
    let json = season_json(&Season::new(&scenario, &outcome, &notes, UnitSystem::Si)).unwrap();
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let rows = json["plan"]["alternatives"][0]["rows"].as_array().unwrap();
    let row = |key: &str| rows.iter().find(|row| row["key"] == key).unwrap();
    assert!(row("set_depth")["value_mm"].as_f64().unwrap() > 0.0);
    assert_eq!(row("set_depth")["status"], "not_known");
    assert!(row("outlet_spacing")["yardstick_percent"].as_f64().unwrap() > 0.0);
}

#[test]
fn invariant_hostile_names_stay_text() {
    let evil = "<script>alert(\"x\")</script> & 'co' \u{7}";
    let html = page(&small(), |scenario, _| {
        scenario.title = evil.to_owned();
        scenario.alternatives[0].name = evil.to_owned();
    });
    assert!(!html.contains("<script"));
    assert!(html.contains("&#60;script&#62;") && html.contains("&lt;script&gt;"));
}

#[test]
fn closed_the_answer_says_what_the_figures_bear() {
    let same = page(&small(), |_, outcome| {
        for pass in 0..4 {
            let first = outcome.alternatives[0].passes[pass].clone();
            outcome.alternatives[1].passes[pass] = first;
        }
    });
    assert!(same.contains("no meaningful difference"));
    let figures = |html: &str| html.contains("is more uniform than");
    let better = page(&small(), |_, outcome| {
        for (index, du_lq) in [(0, 0.78), (1, 0.91)] {
            let last = outcome.alternatives[index].passes.last_mut().unwrap();
            let interior = last.cumulative.interior.as_mut().unwrap();
            (interior.du_lq, interior.cu) = (du_lq, 0.5 + du_lq / 2.0);
        }
    });
    assert!(figures(&better) && better.contains("DUlq +13.0 points, CU +6.5 points"));
    assert!(better.contains("got 78.0\u{a0}% of the mean depth under"));
    // 9.98 points apart, printed as 78.1 and 88.0: whoever subtracts those finds what is told.
    let near = page(&small(), |_, outcome| {
        for (index, du_lq) in [(0, 0.7806), (1, 0.8804)] {
            let last = outcome.alternatives[index].passes.last_mut().unwrap();
            last.cumulative.interior.as_mut().unwrap().du_lq = du_lq;
        }
    });
    assert!(near.contains("DUlq +9.9 points") && near.contains("got 78.1\u{a0}%"));
    let still = page(&small(), |_, outcome| outcome.wind.rose = [0.0; 16]);
    assert!(still.contains("After 4 passes in still air, the driest"), "still air is not told");
    assert!(!better.contains("in still air, the driest"));
    let dry = page(&Recipe { dry: true, ..small() }, |_, _| ());
    assert!(dry.contains("no water at all under") && !figures(&dry));
}

#[test]
fn closed_clock_lock_and_open_cycle_are_told() {
    let plain = page(&small(), |_, _| ());
    assert!(!plain.contains("Clock lock under"));
    assert!(plain.contains("ends 1 of 3 passes into a cycle"));
    let locked = page(&small(), |_, outcome| {
        let clock = &mut outcome.alternatives[0].plan.day_night;
        clock.locked_places = clock.places;
    });
    assert!(locked.contains("Clock lock under"));
    assert!(locked.contains("An odd number of sets or an idle half day breaks it."));
    // With one set a day every pass starts at the same hour, whatever lies between.
    let daily = page(&small(), |scenario, outcome| {
        scenario.calendar.sets_a_day = Some(1);
        let clock = &mut outcome.alternatives[0].plan.day_night;
        clock.locked_places = clock.places;
    });
    assert!(daily.contains("neither an odd number of sets nor an idle half day breaks it"));
    assert!(!daily.contains("An odd number of sets or an idle half day breaks it."));
}

#[test]
fn closed_csv_has_a_line_per_pass_scope_and_region() {
    let (scenario, mut outcome) = build(&small());
    outcome.alternatives[0].passes[0].alone.last_strip = None;
    let season = Season::new(&scenario, &outcome, &notes(&scenario), UnitSystem::Si);
    let csv = passes_csv(&season).unwrap();
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    assert_eq!(reader.headers().unwrap().iter().collect::<Vec<_>>(), pass_columns());
    let records: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert_eq!(records.len(), 3 * 4 * 2 * 4);
    let mean: f64 = records[4][13].parse().unwrap();
    let interior = outcome.alternatives[0].passes[0].cumulative.interior.unwrap();
    assert!((mean - interior.mean_depth_mm).abs() <= 5e-5);
    assert_eq!(&records[3][9], "last_strip");
    assert_eq!(&records[3][10], "");
    assert_eq!(&records[0][5], "2026-05-20T06:00");
}

#[test]
fn closed_json_repeats_the_outcome() {
    let (scenario, outcome) = build(&small());
    let season = Season::new(&scenario, &outcome, &notes(&scenario), UnitSystem::Si);
    let text = season_json(&season).unwrap();
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["alternatives"].as_array().unwrap().len(), 3);
    let found = value["alternatives"][1]["season"]["interior"]["cu_percent"].as_f64().unwrap();
    let cu = outcome.alternatives[1].season_figures().interior.unwrap().cu;
    assert!((found - 100.0 * cu).abs() < 1e-12);
    let interior = outcome.alternatives[1].season_figures().interior.unwrap();
    assert_eq!(value["alternatives"][1]["season"]["interior"]["cells"], interior.cells);
    assert_eq!(value["alternatives"][1]["stops"][1]["letter"], "B");
    assert_eq!(value["grid"]["cell_m"].as_f64(), Some(outcome.grid.cell_m));
    assert_eq!(value["wind"]["rose_percent"].as_array().unwrap().len(), 16);
    assert_eq!(value["seed"], 7);
    assert_eq!(value["alternatives"][1]["passes"][1]["stop"], "B");
}

#[test]
fn every_figure_is_in_every_output() {
    let (scenario, outcome) = build(&small());
    let season = Season::new(&scenario, &outcome, &notes(&scenario), UnitSystem::Si);
    let json: serde_json::Value = serde_json::from_str(&season_json(&season).unwrap()).unwrap();
    let csv = passes_csv(&season).unwrap();
    let api = serde_json::to_value(&season).unwrap();
    let html = page(&small(), |_, _| ());
    let found = &outcome.alternatives[0].season_figures().interior.unwrap();
    let [plain, shown] = [&json, &api].map(|of| &of["alternatives"][0]["season"]["interior"]);
    assert_eq!(plain.as_object().unwrap().len(), FIGURES.len());
    assert_eq!(shown.as_object().unwrap().len(), FIGURES.len());
    for figure in FIGURES {
        let value = figure.value(found, UnitSystem::Si);
        let key = figure.file_key();
        assert_eq!(plain[&key].as_f64(), value.number, "{key} in JSON");
        assert_eq!(shown[figure.key]["text"], value.text.as_str(), "{key} in the API");
        let column = pass_columns().iter().position(|column| *column == key).unwrap();
        let last = csv.lines().filter(|l| l.contains(",cumulative,interior,")).nth(3).unwrap();
        let cell: f64 = last.split(',').nth(column).unwrap().parse().unwrap();
        assert!((cell - value.number.unwrap()).abs() <= 5e-5, "{key} in CSV");
        let us = figure.value(found, UnitSystem::Us);
        let is_shown = figure.shown >= Shown::Season;
        let head = format!("<th scope=\"col\">{}</th>", figure.head(UnitSystem::Us));
        assert_eq!(html.contains(&head), is_shown, "{key} on the page");
        assert!(
            !is_shown || html.contains(&format!(">{}<", figure.measure.cell(&us))),
            "{key}: {us:?}"
        );
    }
    assert!(Figure::shown_in(Shown::Passes).count() >= 3);
}

#[test]
fn closed_npy_has_no_number_outside_the_boundary() {
    let grid = evenfall_core::grid::Grid::over(3.0, 2.0, 1.0);
    // The cell at x 2–3, y 1–2 is outside.
    let ring = vec![[0.0, 0.0], [3.0, 0.0], [3.0, 1.0], [2.0, 1.0], [2.0, 2.0], [0.0, 2.0]];
    let boundary = evenfall_core::boundary::Boundary::new(vec![ring], &grid).unwrap();
    let depth = array![[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]];
    let bytes = grid_npy(&depth, Some(&boundary)).unwrap();
    let back = ndarray::Array2::<f64>::read_npy(&bytes[..]).unwrap();
    assert!(back[[1, 2]].is_nan());
    assert_eq!(back.iter().filter(|depth| !depth.is_nan()).sum::<f64>(), 15.0);
}

#[test]
fn closed_npy_gives_the_grid_back_row_by_row() {
    let depth = array![[1.0, 2.0, 3.0], [4.0, 5.0, -0.5]];
    let bytes = grid_npy(&depth, None).unwrap();
    assert_eq!(&bytes[..6], b"\x93NUMPY");
    let back = ndarray::Array2::<f64>::read_npy(&bytes[..]).unwrap();
    assert_eq!(back, depth);
    let turned = grid_npy(&depth.clone().reversed_axes(), None).unwrap();
    assert!(String::from_utf8_lossy(&turned).contains("'fortran_order': False"));
    assert_eq!(ndarray::Array2::<f64>::read_npy(&turned[..]).unwrap(), depth.t());
}

#[test]
fn closed_stops_are_listed_with_their_reason() {
    let text = stops_table(&wheel_reach(), UnitSystem::Us);
    let line = |turns: &str| text.lines().find(|l| l.trim_start().starts_with(turns)).unwrap();
    assert!(line("1.0").contains("19.9") && line("1.0").contains("yes: whole turns"));
    assert!(line("0.5").contains("hang under the pipe"));
    assert!(line("2.0").contains("beyond the reach"));
    assert!(text.contains("\u{2212}0.33 ft") && text.ends_with('\n'));
    let metric = stops_table(&wheel_reach(), UnitSystem::Si);
    assert!(metric.contains("shift (m)") && metric.contains("6.1"));
}
