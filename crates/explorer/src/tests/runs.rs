//! Runs: their course, what they found, their end.

use super::helpers::{delete, finished, follow, get, long, post, server, small, start};
use axum::http::header;
use serde_json::{Value, json};
use std::io::{Cursor, Read as _};

fn season(scenario: &Value) -> Value {
    json!({ "scenario": scenario, "kind": "season" })
}

/// One pass on coarse cells, for where only the number of runs counts.
fn shortest() -> Value {
    let mut tiny = small();
    tiny["season"]["passes"] = json!(1);
    json!({ "scenario": tiny, "kind": "season", "coarser": 8 })
}

#[tokio::test]
async fn a_season_tells_its_course_its_figures_and_its_grids() {
    let server = server();
    let run = start(&server, &season(&small())).await;
    let events = follow(&server, &run).await;
    let last = |name: &str| events.iter().rev().find(|(known, _)| known == name).unwrap().1.clone();
    assert_eq!(last("progress"), json!({ "done": 6, "total": 6, "what": "passes" }));
    assert_eq!(events.last().unwrap().0, "done");
    // Whoever comes late is told the latest again.
    assert_eq!(follow(&server, &run).await.last().unwrap().0, "done");

    let told = get(&server, &format!("/api/runs/{run}")).await.expect(200).json();
    let summary = &told["summary"];
    assert_eq!((&told["coarser"], &told["note"]), (&json!(1), &json!("")));
    assert_eq!(
        (&summary["start"], &summary["grid"]["columns"]),
        (&json!("2027-05-10T00:00"), &json!(80))
    );
    let (columns, rows) = (80, 72);
    let grid = |what: &'static str, pass: usize| {
        let path = format!("/api/runs/{run}/grid?alternative=1&what={what}&pass={pass}");
        let server = server.clone();
        async move { get(&server, &path).await.expect(200) }
    };
    let mut sum = vec![0.0_f32; columns * rows];
    for pass in 0..6 {
        let alone = grid("pass", pass).await;
        assert_eq!(alone.headers["x-columns"], "80");
        assert_eq!(alone.headers["x-rows"], "72");
        sum.iter_mut().zip(alone.floats()).for_each(|(sum, depth)| *sum += depth);
        let figures = &summary["alternatives"][1]["passes"][pass];
        let cu_percent = figures["alone"]["cu"]["number"].as_f64().unwrap();
        assert!(cu_percent < 100.0 && figures["mean_mm"].as_f64().unwrap() > 0.0);
    }
    let all = grid("cumulative", 5).await.floats();
    assert!(all.iter().zip(&sum).all(|(all, sum)| (all - sum).abs() < 1e-3));
    let mean = summary["alternatives"][1]["passes"][5]["cumulative_mean_mm"].as_f64().unwrap();
    let deviation = grid("deviation", 5).await.floats();
    let wanted = all.iter().map(|depth| f64::from(*depth) / mean - 1.0);
    assert!(
        deviation
            .iter()
            .zip(wanted)
            .all(|(found, wanted)| (f64::from(*found) - wanted).abs() < 1e-5)
    );
    for bad in
        ["alternative=3&what=pass", "alternative=0&what=pass&pass=6", "alternative=0&what=yield"]
    {
        get(&server, &format!("/api/runs/{run}/grid?{bad}")).await.expect(404);
    }
    get(&server, &format!("/api/runs/{run}/grid?alternative=x&what=pass")).await.expect(400);
    get(&server, &format!("/api/runs/{run}/grid?alternative=0&what=color")).await.expect(400);
}

#[tokio::test]
async fn the_sets_of_a_pass_add_up_to_it_and_a_place_gets_what_its_cell_got() {
    let server = server();
    let (run, told) = finished(&server, &season(&small())).await;
    let sets =
        get(&server, &format!("/api/runs/{run}/sets?alternative=2&pass=1")).await.expect(200);
    let (columns, rows) = (80, 72);
    let (mut sum, mut count, mut rest) = (vec![0.0_f32; columns * rows], 0, sets.body.as_slice());
    while !rest.is_empty() {
        let int = |at: usize| i32::from_le_bytes(rest[at..at + 4].try_into().unwrap()) as usize;
        let (first, wet) = (int(0), int(4));
        let (depths, behind) = rest[8..].split_at(4 * wet * columns);
        for (cell, four) in depths.chunks_exact(4).enumerate() {
            sum[first * columns + cell] += f32::from_le_bytes(four.try_into().unwrap());
        }
        (count, rest) = (count + 1, behind);
    }
    assert_eq!(count, 6);
    let pass = get(&server, &format!("/api/runs/{run}/grid?alternative=2&what=pass&pass=1")).await;
    let pass = pass.expect(200).floats();
    assert!(pass.iter().zip(&sum).all(|(pass, sum)| (pass - sum).abs() < 1e-4));

    let cell_m = told["summary"]["grid"]["cell_m"].as_f64().unwrap();
    let (x_m, y_m) = (33.5 * cell_m, 40.5 * cell_m);
    let place = get(&server, &format!("/api/runs/{run}/place?x_m={x_m}&y_m={y_m}")).await;
    let place = place.expect(200).json();
    let history = &place["alternatives"][2];
    let here = f64::from(pass[40 * columns + 33]);
    assert!((history["pass_mm"][1].as_f64().unwrap() - here).abs() < 1e-4, "{history} {here}");
    let days = history["days"].as_array().unwrap();
    assert_eq!((days.len(), &days[0]), (173, &json!("2027-04-15")));
    assert_eq!(history["depletion_mm"].as_array().unwrap().len(), 173);
    get(&server, &format!("/api/runs/{run}/place?x_m=-1&y_m=5"))
        .await
        .refused(404, "not on the field");
    get(&server, &format!("/api/runs/{run}/place?x_m=NaN&y_m=5")).await.expect(404);
    get(&server, &format!("/api/runs/{run}/sets?alternative=0&pass=9")).await.expect(404);
}

#[tokio::test]
async fn a_worth_tells_partial_results_a_verdict_and_maps() {
    let server = server();
    let asked = json!({ "scenario": small(), "kind": "worth", "coarser": 4, "seasons": 9 });
    let run = start(&server, &asked).await;
    let events = follow(&server, &run).await;
    // The last one holds all seasons, for whoever reads only the events.
    let partial = &events.iter().rev().find(|(name, _)| name == "partial").unwrap().1;
    assert_eq!((&partial["seasons_finished"], &partial["seasons_wanted"]), (&json!(9), &json!(9)));
    let net = &partial["rivals"][0]["net"];
    let number = |value: &Value| value["number"].as_f64().unwrap();
    assert!(number(&net["interval"]["low"]) <= number(&net["mean"]));
    let told = get(&server, &format!("/api/runs/{run}")).await.expect(200).json();
    let (summary, worth) = (&told["summary"], &told["summary"]["worth"]);
    // 40 ft are 8 cells of 5 ft, which 4 divides.
    assert_eq!((&told["coarser"], &worth["seasons_finished"]), (&json!(4), &json!(9)));
    assert!(told["note"].as_str().unwrap().contains("20.00\u{a0}ft"), "{}", told["note"]);
    let alternatives = worth["alternatives"].as_array().unwrap();
    let rivals: Vec<_> = alternatives.iter().filter(|a| !a["against_baseline"].is_null()).collect();
    assert_eq!(rivals.len(), 2);
    assert!(rivals.iter().all(|rival| rival["against_baseline"]["verdict"]["answer"].is_string()));
    assert_eq!(summary["table"]["rows"].as_array().unwrap().len(), 3);
    assert!(!rivals[0]["against_baseline"]["swings"].as_array().unwrap().is_empty());
    for what in ["yield", "percolation"] {
        let map = get(&server, &format!("/api/runs/{run}/grid?alternative=0&what={what}")).await;
        assert_eq!(map.expect(200).floats().len(), 20 * 18);
    }
    get(&server, &format!("/api/runs/{run}/grid?alternative=0&what=pass")).await.expect(404);
    get(&server, &format!("/api/runs/{run}/sets?alternative=0&pass=0")).await.expect(404);
}

#[tokio::test]
async fn the_report_is_the_page_and_the_archive_the_folder_of_the_command() {
    let server = server();
    let (run, _) = finished(&server, &season(&small())).await;
    let page = get(&server, &format!("/api/runs/{run}/report.html")).await.expect(200);
    let policy = page.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap().to_owned();
    assert!(!policy.contains("script-src") && policy.contains("default-src 'none'"), "{policy}");
    assert!(page.text().contains("evenfall season scenario.json"));
    let archive = get(&server, &format!("/api/runs/{run}/figures.zip")).await.expect(200);
    let mut archive = zip::ZipArchive::new(Cursor::new(archive.body)).unwrap();
    let names: Vec<String> = archive.file_names().map(str::to_owned).collect();
    for name in [
        "report.html",
        "summary.json",
        "passes.csv",
        "scenario.json",
        "grids/season-depth-mm-3.npy",
    ] {
        assert!(names.iter().any(|known| known == name), "{name}: {names:?}");
    }
    let mut inside = String::new();
    archive.by_name("report.html").unwrap().read_to_string(&mut inside).unwrap();
    assert_eq!(inside, page.text());
}

#[tokio::test]
async fn a_run_that_replaces_another_cancels_it() {
    let server = server();
    let first = start(&server, &season(&long())).await;
    let followed = tokio::spawn({
        let (server, first) = (server.clone(), first.clone());
        async move { follow(&server, &first).await }
    });
    tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    let mut next = season(&small());
    next["replaces"] = json!(first);
    let (second, _) = finished(&server, &next).await;
    assert_eq!(followed.await.unwrap().last().unwrap().0, "canceled");
    get(&server, &format!("/api/runs/{first}")).await.refused(404, "no such run");
    // A finished run stays until what replaces it is done.
    let mut next = season(&long());
    next["replaces"] = json!(second);
    let third = start(&server, &next).await;
    // Whoever asks for the events of a run that was replaced meanwhile is told so.
    let mut fourth = season(&long());
    fourth["replaces"] = json!(third);
    let fourth = start(&server, &fourth).await;
    assert_eq!(follow(&server, &third).await.last().unwrap().0, "canceled");
    get(&server, &format!("/api/runs/{second}/grid?alternative=0&what=pass")).await.expect(200);
    // Of a chain, the last one done retires all.
    let mut next = season(&small());
    next["replaces"] = json!(fourth);
    finished(&server, &next).await;
    for run in [second, third, fourth] {
        get(&server, &format!("/api/runs/{run}")).await.refused(404, "no such run");
    }
}

#[tokio::test]
async fn canceled_runs_never_take_the_place_of_finished_ones() {
    let server = server();
    let (shown, _) = finished(&server, &season(&small())).await;
    let mut last = start(&server, &season(&long())).await;
    for _ in 0..2 * crate::limits::RUNS_KEPT {
        let mut next = season(&long());
        next["replaces"] = json!(last);
        last = start(&server, &next).await;
    }
    get(&server, &format!("/api/runs/{shown}/grid?alternative=0&what=pass")).await.expect(200);
    delete(&server, &format!("/api/runs/{last}")).await.expect(204);
}

#[tokio::test]
async fn a_run_that_is_replaced_is_known_though_there_are_as_many_finished_ones_as_are_kept() {
    let server = server();
    let asked = shortest();
    for _ in 0..crate::limits::RUNS_KEPT {
        finished(&server, &asked).await;
    }
    let first = start(&server, &season(&long())).await;
    let mut next = season(&long());
    next["replaces"] = json!(first);
    let second = start(&server, &next).await;
    assert_eq!(follow(&server, &first).await.last().unwrap().0, "canceled");
    delete(&server, &format!("/api/runs/{second}")).await.expect(204);
    get(&server, &format!("/api/runs/{first}")).await.refused(404, "no such run");
}

#[tokio::test]
async fn a_fifth_run_is_refused_until_one_is_canceled() {
    let server = server();
    let mut runs = Vec::new();
    for _ in 0..4 {
        runs.push(start(&server, &season(&long())).await);
    }
    post(&server, "/api/runs", &season(&small())).await.refused(429, "under way");
    let first = &runs[0];
    let grid = format!("/api/runs/{first}/grid?alternative=0&what=pass");
    get(&server, &grid).await.refused(404, "not done");
    get(&server, &format!("/api/runs/{first}/report.html")).await.refused(404, "not done");
    // Two compute, two wait.
    let last = get(&server, &format!("/api/runs/{}", runs[3])).await.expect(200).json();
    assert_eq!(last["state"], "waiting");
    for run in &runs {
        delete(&server, &format!("/api/runs/{run}")).await.expect(204);
    }
    delete(&server, &format!("/api/runs/{first}")).await.refused(404, "no such run");
    finished(&server, &season(&small())).await;
}

#[tokio::test]
async fn old_runs_make_room_for_new_ones() {
    let server = server();
    let asked = shortest();
    let (oldest, _) = finished(&server, &asked).await;
    for _ in 0..crate::limits::RUNS_KEPT {
        get(&server, &format!("/api/runs/{oldest}")).await.expect(200);
        finished(&server, &asked).await;
    }
    get(&server, &format!("/api/runs/{oldest}")).await.refused(404, "no such run");
}

#[tokio::test]
async fn what_cannot_be_run_is_refused_before_it_starts() {
    let server = server();
    let mut bad = small();
    bad["wheel"]["travel_per_turn"] = json!("7 psi");
    let told = post(&server, "/api/runs", &season(&bad)).await.expect(422).json();
    assert_eq!(told["problems"][0]["pointer"], "/wheel/travel_per_turn");
    let asked = |key: &str, value: Value| {
        let mut asked = json!({ "scenario": small(), "kind": "worth" });
        asked[key] = value;
        asked
    };
    for (key, value) in [
        ("coarser", json!(0)),
        ("coarser", json!(99)),
        ("seasons", json!(1)),
        ("seasons", json!(99999)),
    ] {
        post(&server, "/api/runs", &asked(key, value)).await.refused(422, key);
    }
    post(&server, "/api/runs", &asked("kind", json!("miracle"))).await.refused(422, "miracle");
    post(&server, "/api/runs", &asked("scenarios", json!(1))).await.refused(422, "scenarios");
    let told = json!({ "scenario": long(), "kind": "worth" });
    post(&server, "/api/runs", &told).await.refused(422, "crop, soil and climate");
}

#[tokio::test]
async fn a_closer_look_shows_the_runs_own_cells() {
    let server = server();
    let (run, told) = finished(&server, &season(&small())).await;
    let at = |query: &str| format!("/api/runs/{run}/closer?{query}");
    let whole = get(&server, &at("x_m=0&y_m=0&span_m=100000")).await.expect(200).json();
    // The small field has no more cells than are shown: the map itself.
    let map = get(&server, &format!("/api/runs/{run}/grid?alternative=1&what=cumulative")).await;
    let closer: Vec<f32> = whole["depths_mm"][1]
        .as_array()
        .unwrap()
        .iter()
        .map(|v| v.as_f64().unwrap() as f32)
        .collect();
    let map = map.expect(200).floats();
    assert_eq!(closer.len(), map.len());
    for (a, b) in closer.iter().zip(&map) {
        assert!((a - b).abs() < 1e-4 * b.abs().max(1.0), "{a} {b}");
    }
    let part = get(&server, &at("x_m=60&y_m=50&span_m=30")).await.expect(200).json();
    let columns = part["columns"].as_u64().unwrap() as usize;
    let all = told["summary"]["grid"]["columns"].as_u64().unwrap() as usize;
    let cell_m = part["cell_m"].as_f64().unwrap();
    let first = |axis: usize| (part["corner_m"][axis].as_f64().unwrap() / cell_m).round() as usize;
    let corner = closer[first(1) * all + first(0)];
    assert_eq!(part["depths_mm"][1][0].as_f64().unwrap() as f32, corner);
    assert!((columns as f64 * cell_m - 30.0).abs() <= cell_m, "{columns} {cell_m}");
    get(&server, &at("x_m=1&y_m=1&span_m=0")).await.refused(422, "above 0");
    get(&server, &at("x_m=1&y_m=1&span_m=NaN")).await.refused(422, "numbers");
    get(&server, &at("x_m=1&y_m=1")).await.refused(400, "span_m");
}

#[tokio::test]
async fn what_no_memory_holds_is_refused_before_it_starts() {
    let server = server();
    let mut huge: Value = serde_json::from_str(evenfall_scenario::demo()).unwrap();
    huge["field"]["cell"] = json!("0.31 ft");
    huge["alternatives"] =
        (0..10).map(|k| json!({ "name": k.to_string(), "rotation": ["0 ft"] })).collect();
    let told = post(&server, "/api/runs", &season(&huge)).await.expect(422).json();
    assert!(told["problem"].as_str().unwrap().contains("too fine"), "{told}");
    assert!(told["hint"].as_str().unwrap().contains("ft) or more"), "{told}");
    // On coarse cells it can be looked at.
    let coarse = json!({ "scenario": huge, "kind": "season", "coarser": 16 });
    finished(&server, &coarse).await;
}
