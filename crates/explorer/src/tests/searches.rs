//! Searches: the command's digits, parts that can be taken over, and what is refused.

use super::helpers::{delete, finished, follow, get, post, server, small, start};
use evenfall_core::search;
use evenfall_core::season::RunControl;
use evenfall_figures::{SearchScene, search_summary};
use evenfall_view::UnitSystem;
use serde_json::{Value, json};

/// The small scenario on wide cells, with a search that a test can afford.
fn scenario() -> Value {
    let mut small = small();
    small["field"]["cell"] = json!("10 ft");
    small["search"] =
        json!({ "aim": "DUlq", "longest_cycle": 2, "seasons": 4, "screening_seasons": 2 });
    small
}

fn asked() -> Value {
    json!({ "scenario": scenario(), "kind": "search" })
}

#[tokio::test]
async fn a_search_under_way_tells_its_best_so_far() {
    let server = server();
    let run = start(&server, &asked()).await;
    let events = follow(&server, &run).await;
    let partial = &events.iter().find(|(name, _)| name == "partial").unwrap().1;
    let words = partial["words"].as_str().unwrap();
    assert!(words.starts_with("After 2 of 4 seasons "), "{words}");
    assert!(words.contains("Best so far: ") && words.contains("DUlq, interior (%): "), "{words}");
}

#[tokio::test]
async fn regress_a_search_has_the_words_and_the_table_of_the_plain_run() {
    let server = server();
    let (run, told) = finished(&server, &asked()).await;
    let summary = &told["summary"];
    let Ok(resolved) = evenfall_scenario::resolve(&scenario().to_string(), &|_| Err(String::new()))
    else {
        panic!("the scenario is sound")
    };
    let worth = resolved.worth.as_ref().map(|(agronomy, economics)| (agronomy, economics));
    let found =
        search::run(&resolved.scenario, &resolved.search, worth, RunControl::default()).unwrap();
    let economics = worth.map(|(_, economics)| economics);
    let scene = SearchScene::new(&resolved.scenario, &found, economics, UnitSystem::Us).unwrap();
    let (plain, _) = search_summary(&scene, 12).unwrap();
    assert_eq!(summary["answer"], json!(plain.answer));
    assert_eq!(summary["tried"], json!(plain.tried));
    assert_eq!(summary["table"]["head"], json!(plain.table.head));
    let rows = plain.table.rows;
    assert_eq!(summary["table"]["rows"], json!(rows));
    assert!(rows.len() > 3 && summary["fixed"].is_u64(), "{summary}");

    // Each candidate is sound as an alternative, and lies where the search had it.
    let mut taken = scenario();
    let fixed = taken["alternatives"][0].clone();
    let best = summary["alternatives"][0].clone();
    taken["alternatives"] = json!([fixed, best]);
    let layout =
        post(&server, "/api/layout", &json!({ "scenario": taken })).await.expect(200).json();
    assert_eq!(layout["ok"], json!(true), "{}", layout["problems"]);
    let first = found.ranking[0].alternative;
    let shifts = found.entries[first].candidate.alternative.rotation.shifts();
    let laid = layout["alternatives"][1]["rotation"].as_array().unwrap();
    assert_eq!(laid.len(), shifts.len());
    for (laid, shift) in laid.iter().zip(shifts) {
        assert!((laid["across_m"].as_f64().unwrap() - shift.across_m).abs() < 1e-5);
    }
    get(&server, &format!("/api/runs/{run}/grid?alternative=0&what=yield"))
        .await
        .refused(404, "no maps");
    get(&server, &format!("/api/runs/{run}/report.html")).await.refused(404, "no report");
}

#[tokio::test]
async fn a_search_takes_another_aim_and_number_of_seasons_and_can_be_canceled() {
    let server = server();
    let mut other = asked();
    other["aim"] = json!("whole-dulq");
    other["seasons"] = json!(2);
    let (_, told) = finished(&server, &other).await;
    assert_eq!(told["summary"]["seasons"], json!(2));
    assert!(told["summary"]["table"]["head"][2].as_str().unwrap().contains("whole field"));

    assert_eq!(told["summary"]["wheels"], Value::Null);

    let mut long = asked();
    long["scenario"]["search"]["seasons"] = json!(2000);
    let run = start(&server, &long).await;
    let mut again = other.clone();
    again["replaces"] = json!(run);
    let second = start(&server, &again).await;
    assert_eq!(follow(&server, &second).await.last().unwrap().0, "done");
    // What was replaced is known until then, and no longer.
    get(&server, &format!("/api/runs/{run}")).await.refused(404, "no such run");
    let third = start(&server, &long).await;
    delete(&server, &format!("/api/runs/{third}")).await.expect(204);
}

#[tokio::test]
async fn a_search_compares_the_trades_wheels_when_asked() {
    let server = server();
    let mut wheels = asked();
    wheels["wheel_sizes"] = json!(true);
    let (_, told) = finished(&server, &wheels).await;
    let rows = told["summary"]["wheels"]["rows"].as_array().unwrap();
    let names: Vec<&str> = rows.iter().map(|row| row[0].as_str().unwrap()).collect();
    assert_eq!(names.len(), 3);
    for (name, size) in
        names.iter().zip(["5-foot wheels, 15.0 ft", "7-foot wheels, 20.0 ft", "9-foot"])
    {
        assert!(name.starts_with(size), "{names:?}");
    }
    wheels["scenario"]["lateral"]["machine"] = json!("hand move");
    wheels["scenario"].as_object_mut().unwrap().remove("wheel");
    post(&server, "/api/runs", &wheels).await.refused(422, "no wheels to compare");
}

#[tokio::test]
async fn searches_that_cannot_be_made_are_refused_or_fail_in_words() {
    let server = server();
    for (key, value, words) in [
        ("aim", json!("beauty"), "aim"),
        ("seasons", json!(1), "2 to 10000"),
        ("seasons", json!(-3), "seasons"),
    ] {
        let mut bad = asked();
        bad[key] = value;
        post(&server, "/api/runs", &bad).await.refused(422, words);
    }
    let mut bare = asked();
    bare["aim"] = json!("net");
    for section in ["crop", "soil", "climate", "worth"] {
        bare["scenario"].as_object_mut().unwrap().remove(section);
    }
    let run = start(&server, &bare).await;
    let (name, data) = follow(&server, &run).await.pop().unwrap();
    assert_eq!(name, "failed");
    assert!(data["problem"].as_str().unwrap().contains("needs crop, soil and climate"), "{data}");
}
