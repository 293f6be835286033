//! What the page shows is what the command prints, to the last digit.

use super::helpers::{finished, get, server, small};
use evenfall_core::season;
use evenfall_core::worth;
use evenfall_figures::{passes_csv, worth_table};
use evenfall_scenario::{Resolved, resolve};
use evenfall_view::{ReportNotes, Season, UnitSystem};
use serde_json::{Value, json};

fn resolved(scenario: &Value) -> Resolved {
    resolve(&scenario.to_string(), &|_: &str| Err("none".to_owned())).unwrap()
}

#[tokio::test]
async fn regress_a_season_has_the_digits_of_the_plain_run_and_its_tables() {
    let scenario = small();
    let (_, told) = finished(&server(), &json!({ "scenario": scenario, "kind": "season" })).await;
    let resolved = resolved(&scenario);
    assert_eq!(told["digest"], json!(resolved.digest));
    let outcome = season::run(&resolved.scenario, season::RunControl::default()).unwrap();
    let summary = &told["summary"];
    assert_eq!(
        summary["printed"],
        json!(evenfall_figures::season_headline(&resolved.scenario, &outcome))
    );
    // The report's table of passes as a CSV has four decimals; texts have one.
    let notes = ReportNotes::default();
    let season = Season::new(&resolved.scenario, &outcome, &notes, UnitSystem::Si);
    let csv = passes_csv(&season).unwrap();
    let mut compared = 0;
    for line in csv.lines().filter(|line| line.contains(",interior,")) {
        let cells: Vec<&str> = line.split(',').collect();
        let of = |name: &str| {
            let alternatives = summary["alternatives"].as_array().unwrap();
            alternatives.iter().find(|alternative| alternative["name"] == name).unwrap()
        };
        let pass: usize = cells[1].parse().unwrap();
        let pass = &of(cells[0])["passes"][pass - 1];
        let scope = if cells[8] == "alone" { "alone" } else { "cumulative" };
        for (key, at) in [("cu", 10), ("du_lq", 11)] {
            let value = &pass[scope][key];
            let percent = value["number"].as_f64().unwrap();
            assert_eq!(format!("{percent:.4}"), cells[at], "{line}");
            assert_eq!(value["text"], format!("{percent:.1}\u{a0}%"), "{line}");
            compared += 1;
        }
    }
    assert_eq!(compared, 3 * 6 * 2 * 2);
}

#[tokio::test]
async fn regress_after_other_seasons_a_season_is_that_of_a_new_server() {
    let (used, mut scenario) = (server(), small());
    let asked = |scenario: &Value, coarser: usize| json!({ "scenario": scenario, "kind": "season", "coarser": coarser });
    let rotations =
        [json!(["0 ft", "20 ft", "-20 ft"]), json!(["0 ft", "-20 ft", "20 ft"]), json!(["20 ft"])];
    // On two sizes of cells by turns, as the page draws; the last is the first again.
    for rotation in rotations.iter().chain(&rotations[..1]) {
        scenario["alternatives"][2]["rotation"] = rotation.clone();
        for coarser in [2, 1] {
            let (run, told) = finished(&used, &asked(&scenario, coarser)).await;
            let new = server();
            let (own, expected) = finished(&new, &asked(&scenario, coarser)).await;
            assert_eq!(told["summary"], expected["summary"], "{rotation} {coarser}");
            for alternative in 0..3 {
                let of = |run: &str| format!("/api/runs/{run}/grid?alternative={alternative}");
                let after = get(&used, &format!("{}&what=cumulative", of(&run))).await.expect(200);
                let alone = get(&new, &format!("{}&what=cumulative", of(&own))).await.expect(200);
                assert_eq!(after.body, alone.body, "{rotation} {coarser} {alternative}");
            }
        }
    }
}

#[tokio::test]
async fn regress_a_worth_has_the_words_and_the_table_of_the_plain_run() {
    let mut scenario = small();
    scenario["field"]["cell"] = json!("10 ft");
    let asked = json!({ "scenario": scenario, "kind": "worth", "seasons": 6 });
    let (_, told) = finished(&server(), &asked).await;
    let resolved = resolved(&scenario);
    let (agronomy, mut economics) = resolved.worth.clone().unwrap();
    economics.seasons = 6;
    let worth =
        worth::run(&resolved.scenario, &agronomy, &economics, season::RunControl::default())
            .unwrap();
    let printed = worth_table(&resolved.scenario, &worth, &economics, UnitSystem::Us).unwrap();
    let one_line = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let printed = one_line(&printed);
    let table = &told["summary"]["table"];
    let rows = std::iter::once(&table["head"]).chain(table["rows"].as_array().unwrap());
    for row in rows {
        let cells: Vec<&str> =
            row.as_array().unwrap().iter().map(|cell| cell.as_str().unwrap()).collect();
        assert!(printed.contains(&one_line(&cells.join(" "))), "{cells:?} not in {printed}");
    }
    let alternatives = told["summary"]["worth"]["alternatives"].as_array().unwrap();
    let rivals: Vec<_> = alternatives.iter().filter(|a| !a["against_baseline"].is_null()).collect();
    assert_eq!(rivals.len(), 2);
    for rival in rivals {
        let verdict = &rival["against_baseline"]["verdict"];
        let settling = verdict["settling"].as_array().unwrap();
        let plan = Some(&verdict["plan"]).filter(|plan| !plan.is_null());
        let sentences: Vec<&str> = std::iter::once(&verdict["sentence"])
            .chain(plan)
            .chain(settling)
            .map(|sentence| sentence.as_str().unwrap())
            .collect();
        let words = sentences.join(" ");
        assert!(printed.contains(&one_line(&words)), "{words} not in {printed}");
    }
}
