//! What is answered at once.

use super::helpers::{KEY, PORT, finished, get, post, server, small};
use crate::{Start, router};
use axum::http::header;
use base64::Engine as _;
use evenfall_core::statistics::Numbers;
use serde_json::{Value, json};
use std::collections::BTreeMap;

#[tokio::test]
async fn the_page_and_its_files_are_served() {
    let server = server();
    for (path, kind) in [
        ("/", "text/html; charset=utf-8"),
        ("/favicon.svg", "image/svg+xml"),
        ("/assets/app.js", "text/javascript; charset=utf-8"),
        ("/assets/app.css", "text/css; charset=utf-8"),
        ("/THIRD-PARTY.txt", "text/plain; charset=utf-8"),
    ] {
        let answer = get(&server, path).await.expect(200);
        assert_eq!(answer.headers[header::CONTENT_TYPE], kind, "{path}");
        assert!(!answer.body.is_empty(), "{path}");
    }
    let page = get(&server, "/").await.text();
    assert!(!page.contains("http:") && !page.contains("https:"), "the page reaches out:\n{page}");
}

#[tokio::test]
async fn demo_schema_and_colors_are_those_of_the_program() {
    let server = server();
    let demo = get(&server, "/api/demo").await.expect(200);
    assert_eq!(demo.text(), evenfall_scenario::demo());
    assert_eq!(get(&server, "/api/schema").await.expect(200).text(), evenfall_scenario::schema());
    let start = get(&server, "/api/start").await.expect(200).json();
    assert_eq!((&start["scenario"], &start["from_command_line"]), (&demo.json(), &json!(false)));
    for name in ["depth", "deviation"] {
        let colors = get(&server, &format!("/api/palette?name={name}")).await.expect(200).json();
        assert_eq!(colors.as_array().unwrap().len(), 256);
    }
    get(&server, "/api/palette?name=rainbow").await.refused(404, "no such palette");
    get(&server, "/api/palette").await.refused(400, "name");
}

#[tokio::test]
async fn a_check_tells_assumptions_or_all_problems_at_once() {
    let server = server();
    let sound = post(&server, "/api/check", &json!({ "scenario": small() })).await;
    let sound = sound.expect(200).json();
    assert_eq!((&sound["ok"], &sound["has_worth"]), (&json!(true), &json!(true)));
    assert_eq!(sound["digest"].as_str().unwrap().len(), 64);
    assert!(!sound["assumptions"].as_array().unwrap().is_empty());

    let mut bad = small();
    bad["field"]["cell"] = json!("2 psi");
    bad["outlets"]["reach"] = json!("-3 ft");
    bad.as_object_mut().unwrap().remove("wind");
    let told = post(&server, "/api/check", &json!({ "scenario": bad })).await.expect(200).json();
    assert_eq!((&told["ok"], &told["digest"]), (&json!(false), &Value::Null));
    let pointers: Vec<_> =
        told["problems"].as_array().unwrap().iter().map(|p| &p["pointer"]).collect();
    for pointer in ["/field/cell", "/outlets/reach", ""] {
        assert!(pointers.contains(&&json!(pointer)), "{pointer}: {told}");
    }
}

#[tokio::test]
async fn a_clock_lock_is_told_as_by_the_command() {
    let mut locked = small();
    locked["season"]["idle_between_passes"] = json!("0 h");
    let told = post(&server(), "/api/check", &json!({ "scenario": locked })).await.expect(200);
    // Six outlets, two sets a day: every place is always watered in the same half of the day.
    assert!(told.text().contains("Clock lock"), "{}", told.text());
}

#[tokio::test]
async fn a_layout_shows_stops_rotation_and_clock() {
    let server = server();
    let told =
        post(&server, "/api/layout", &json!({ "scenario": small() })).await.expect(200).json();
    assert_eq!((&told["ok"], &told["units"]), (&json!(true), &json!("us")));
    let two = &told["alternatives"][1];
    assert_eq!((&two["name"], &two["machine"]), (&json!("Two stops"), &json!("wheel line")));
    assert_eq!(two["sprinklers_x_m"].as_array().unwrap().len(), 10);
    assert_eq!(two["outlets_y_m"].as_array().unwrap().len(), 6);
    assert_eq!(two["rotation"][1]["letter"], "B");
    let stops = two["stops"].as_array().unwrap();
    let reachable: Vec<f64> = stops
        .iter()
        .filter(|stop| stop["reachable"] == true)
        .map(|stop| (stop["across_m"].as_f64().unwrap() / 0.3048).round())
        .collect();
    // Whole turns of 20 ft within a reach of 25 ft.
    assert_eq!(reachable, [-20.0, 0.0, 20.0]);
    assert!(stops.iter().any(|stop| stop["reason"].as_str().unwrap().contains("half a turn")));
    let passes = two["passes"].as_array().unwrap();
    assert_eq!((passes.len(), passes[0]["sets"].as_array().unwrap().len()), (6, 6));
    let set = &passes[1]["sets"][0];
    assert_eq!((&set["start"], &set["start_h"]), (&json!("2027-05-13T06:00"), &json!(78.0)));
    // Outlets 60 ft apart from 30 ft on; pass 2 stands 20 ft ahead.
    assert!((set["y_m"].as_f64().unwrap() / 0.3048 - 50.0).abs() < 1e-9);
}

#[tokio::test]
async fn a_hand_move_lists_places_within_its_reach() {
    let mut hand = small();
    hand["lateral"]["machine"] = json!("hand move");
    hand.as_object_mut().unwrap().remove("wheel");
    let told =
        post(&server(), "/api/layout", &json!({ "scenario": hand })).await.expect(200).json();
    let stops = told["alternatives"][0]["stops"].as_array().unwrap().clone();
    // Every 5 ft to a little beyond 25 ft, both ways.
    assert_eq!(stops.iter().filter(|stop| stop["reachable"] == true).count(), 11);
    assert!(stops[0]["reason"].as_str().unwrap().contains("beyond the reach"));
    assert_eq!(stops[0]["turns"], Value::Null);
}

#[tokio::test]
async fn a_preview_is_the_season_on_coarse_cells() {
    let server = server();
    let asked = json!({ "scenario": small(), "coarser": 2 });
    let told = post(&server, "/api/preview", &asked).await.expect(200).json();
    assert_eq!(
        (&told["coarser"], &told["columns"], &told["rows"]),
        (&json!(2), &json!(40), &json!(36))
    );
    let depth = told["alternatives"][2]["depth_mm"].as_str().unwrap();
    let bytes = base64::engine::general_purpose::STANDARD.decode(depth).unwrap();
    assert_eq!(bytes.len(), 4 * 40 * 36);
    let season = json!({ "scenario": small(), "kind": "season", "coarser": 2 });
    let (run, found) = super::helpers::finished(&server, &season).await;
    assert_eq!(found["summary"]["printed"], told["printed"]);
    assert_eq!(found["summary"]["alternatives"][2]["final"], told["alternatives"][2]["final"]);
    let grid = get(&server, &format!("/api/runs/{run}/grid?alternative=2&what=cumulative")).await;
    let kept = grid.expect(200).floats();
    let sent = bytes.chunks_exact(4).map(|four| f32::from_le_bytes(four.try_into().unwrap()));
    // The run adds up what it kept of its passes, each rounded to 24 bits.
    assert!(kept.iter().zip(sent).all(|(kept, sent)| (kept - sent).abs() <= 1e-6 * sent));
}

#[tokio::test]
async fn files_come_with_the_request_and_never_from_the_disk_or_another_scenario() {
    let mut named = small();
    named["wind"] = json!({ "record": { "file": "wind.csv", "layout": "csv", "height": "10 m" } });
    let record: String = (0..40 * 24)
        .map(|hour| format!("2027-05-{:02}T{:02}:00,3.0,200\n", 1 + hour / 24, hour % 24))
        .take(31 * 24)
        .collect();
    let record = format!("time,wind_speed_m_s,wind_from_deg\n{record}");
    let sent = json!({ "scenario": named, "files": { "wind.csv": record } });
    let told = post(&server(), "/api/check", &sent).await.expect(200).json();
    assert_eq!(told["ok"], true, "{told}");

    let without = json!({ "scenario": named });
    let told = post(&server(), "/api/check", &without).await.expect(200).json();
    assert_eq!(told["problems"][0]["pointer"], "/wind/record/file");
    let files = BTreeMap::from([("wind.csv".to_owned(), record.clone().into_bytes())]);
    let started =
        router(Start { scenario: Some(named.to_string()), files, ..Start::default() }, PORT, KEY);
    // Another scenario may give that name to another file, so what the start brought is fetched.
    assert_eq!(post(&started, "/api/check", &without).await.expect(200).json()["ok"], false);
    let start = get(&started, "/api/start").await.expect(200).json();
    assert_eq!((&start["scenario"], &start["files"]), (&named, &json!(["wind.csv"])));
    let file = get(&started, "/api/start/file?name=wind.csv").await.expect(200);
    assert_eq!(file.text(), record);
    assert_eq!(file.headers[header::X_CONTENT_TYPE_OPTIONS], "nosniff");
    for name in ["other.csv", "../wind.csv", "%2Fetc%2Fhostname", ""] {
        let path = format!("/api/start/file?name={name}");
        get(&started, &path).await.refused(404, "No such file came");
    }

    for path in ["/etc/hostname", "../../../../../../etc/hostname", "Cargo.toml"] {
        let mut named = named.clone();
        named["wind"]["record"]["file"] = json!(path);
        let told = post(&server(), "/api/check", &json!({ "scenario": named })).await.expect(200);
        let problem = told.json()["problems"][0]["problem"].to_string();
        assert!(problem.contains("cannot read the disk"), "{problem}");
    }
}

#[tokio::test]
async fn a_boundary_is_drawn_and_what_lies_beyond_it_has_no_value() {
    let server = server();
    let mut scenario = small();
    scenario["field"]["boundary"] = json!({ "file": "edge.geojson", "coordinates": "ft" });
    // The left half of 400 by 360 ft, with a hole.
    let ring = |x0: f64, y0: f64, x1: f64, y1: f64| {
        json!([[x0, y0], [x1, y0], [x1, y1], [x0, y1], [x0, y0]])
    };
    let rings = json!([ring(0.0, 0.0, 200.0, 360.0), ring(45.0, 45.0, 105.0, 105.0)]);
    let polygon = json!({ "type": "Polygon", "coordinates": rings }).to_string();
    let body = json!({ "scenario": scenario, "files": { "edge.geojson": polygon } });
    let layout = post(&server, "/api/layout", &body).await.expect(200).json();
    assert_eq!(layout["field"]["boundary"].as_array().unwrap().len(), 2, "{}", layout["problems"]);
    // On its own cells and on wider ones: half the field less a hole.
    for coarser in [1, 4] {
        let mut asked = body.clone();
        asked["kind"] = json!("season");
        asked["coarser"] = json!(coarser);
        let (run, told) = finished(&server, &asked).await;
        let grid = format!("/api/runs/{run}/grid?alternative=0&what=cumulative");
        let depths = get(&server, &grid).await.expect(200).floats();
        let columns = told["summary"]["grid"]["columns"].as_u64().unwrap() as usize;
        let cell_ft = 400.0 / columns as f64;
        for (at, depth) in depths.iter().enumerate() {
            let (x, y) = ((at % columns) as f64 + 0.5, (at / columns) as f64 + 0.5);
            let in_hole = |v: f64| (45.0..105.0).contains(&(v * cell_ft));
            let inside = x * cell_ft < 200.0 && !(in_hole(x) && in_hole(y));
            assert_eq!(depth.is_nan(), !inside, "{coarser}: {x} {y} {depth}");
        }
        for (x_m, beyond) in [(10.0, false), (100.0, true)] {
            let place = get(&server, &format!("/api/runs/{run}/place?x_m={x_m}&y_m=60")).await;
            assert_eq!(place.expect(200).json()["beyond"], json!(beyond));
        }
        // Colors are spread over the field's own cells: what falls beyond the edge does not count.
        let mut own = Vec::new();
        for alternative in 0..3 {
            let grid = format!("/api/runs/{run}/grid?alternative={alternative}&what=cumulative");
            own.extend(get(&server, &grid).await.expect(200).floats());
        }
        let own = [Numbers::Single(&own)];
        let expected = evenfall_figures::map_range_mm(&own, evenfall_view::UnitSystem::Us);
        assert_eq!(told["summary"]["depth_scale_mm"], json!(expected), "{coarser}");
    }
}

#[tokio::test]
async fn the_page_is_told_the_cautions_of_every_other_page() {
    let start = get(&server(), "/api/start").await.expect(200).json();
    let told: Vec<_> =
        evenfall_figures::CAUTIONS.iter().map(|(a, b)| json!({ "what": a, "words": b })).collect();
    assert!(told.len() > 4);
    assert_eq!(start["cautions"], Value::from(told));
}

#[tokio::test]
async fn the_reference_is_a_page_whose_own_script_alone_may_run() {
    let row = evenfall_view::ReferenceRow {
        name: "reach".to_owned(),
        label: "Reach".to_owned(),
        meaning: "How far the hose goes.".to_owned(),
        left_out: "needed".to_owned(),
    };
    let [name, label, about] = ["outlets", "Outlets", "The outlets."].map(str::to_owned);
    let section = evenfall_view::ReferenceSection { name, label, about, rows: vec![row] };
    let reference = evenfall_view::Reference { keys: vec![section], ..Default::default() };
    let start = Start { reference, ..Start::default() };
    let answer = get(&router(start, PORT, KEY), "/reference").await.expect(200);
    let policy = answer.headers[header::CONTENT_SECURITY_POLICY].to_str().unwrap();
    assert!(policy.contains("script-src 'sha256-") && policy.contains("default-src 'none'"));
    assert!(answer.text().contains("How far the hose goes."));
}
