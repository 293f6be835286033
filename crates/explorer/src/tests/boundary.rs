//! A field with an edge: its maps, colors and digits.

use super::helpers::{finished, get, server, small};
use evenfall_core::season::{self, AlternativeOutcome};
use evenfall_core::statistics::Numbers;
use evenfall_figures::{map_range_mm, season_headline};
use evenfall_scenario::resolve;
use evenfall_view::UnitSystem;
use serde_json::{Value, json};

/// Feet from the corner: the far right quarter is cut off, and a square is left out.
const EDGE: &str = r#"{ "type": "Polygon", "coordinates": [
    [[0, 0], [400, 0], [400, 180], [200, 180], [200, 360], [0, 360], [0, 0]],
    [[40, 40], [80, 40], [80, 80], [40, 80], [40, 40]]
] }"#;

/// The evenly watered middle alone.
const MIDDLE: &str = r#"{ "type": "Polygon", "coordinates": [
    [[100, 100], [300, 100], [300, 260], [100, 260], [100, 100]]
] }"#;

/// Cells along and across on the scenario's own grid of 5 ft.
const CELLS: (usize, usize) = (80, 72);

fn bounded() -> Value {
    let mut field = small();
    field["field"]["boundary"] = json!({ "file": "edge.geojson", "coordinates": "ft" });
    field
}

fn asked(rest: &Value) -> Value {
    let mut asked = json!({ "scenario": bounded(), "files": { "edge.geojson": EDGE } });
    for (key, value) in rest.as_object().unwrap() {
        asked[key] = value.clone();
    }
    asked
}

/// Whether the center of a shown cell of `feet` a side is the field's.
fn is_inside(row: usize, column: usize, feet: f64) -> bool {
    let (x, y) = ((column as f64 + 0.5) * feet, (row as f64 + 0.5) * feet);
    let in_hole = (40.0..80.0).contains(&x) && (40.0..80.0).contains(&y);
    (y < 180.0 || x < 200.0) && !in_hole
}

#[tokio::test]
async fn passes_deviations_and_sets_have_no_value_beyond_the_edge() {
    let server = server();
    let (run, told) = finished(&server, &asked(&json!({ "kind": "season" }))).await;
    let (columns, rows) = CELLS;
    for what in ["pass", "cumulative", "deviation"] {
        let path = format!("/api/runs/{run}/grid?alternative=1&what={what}&pass=2");
        let values = get(&server, &path).await.expect(200).floats();
        assert_eq!(values.len(), columns * rows);
        for (at, value) in values.iter().enumerate() {
            let inside = is_inside(at / columns, at % columns, 5.0);
            assert_eq!(value.is_nan(), !inside, "{what} at {at}: {value}");
        }
    }
    // Deviations are told from the mean of the interior; its weights give that mean again.
    let grid = |what: &str| format!("/api/runs/{run}/grid?alternative=1&what={what}&pass=2");
    let weights = get(&server, &grid("interior")).await.expect(200).floats();
    let depths = get(&server, &grid("cumulative")).await.expect(200).floats();
    let pairs = || weights.iter().zip(&depths).filter(|(weight, _)| **weight > 0.0);
    let cells: f64 = pairs().map(|(weight, _)| f64::from(*weight)).sum();
    let sum: f64 = pairs().map(|(weight, depth)| f64::from(*weight) * f64::from(*depth)).sum();
    let mean = &told["summary"]["alternatives"][1]["passes"][2]["cumulative_mean_mm"];
    assert!((sum / cells - mean.as_f64().unwrap()).abs() < 1e-4, "{sum} {cells} {mean}");
    // The sets of a pass add up to it inside, and are nothing beyond.
    let sets = get(&server, &format!("/api/runs/{run}/sets?alternative=1&pass=0")).await;
    let sets = sets.expect(200).body;
    let int = |at: usize| i32::from_le_bytes(sets[at..at + 4].try_into().unwrap()) as usize;
    let (first, wet) = (int(0), int(4));
    assert!(wet > 5);
    for cell in 0..wet * columns {
        let at = 8 + 4 * cell;
        let depth = f32::from_le_bytes(sets[at..at + 4].try_into().unwrap());
        let inside = is_inside(first + cell / columns, cell % columns, 5.0);
        assert_eq!(depth.is_nan(), !inside, "{cell}");
    }
}

#[tokio::test]
async fn a_worth_maps_the_field_alone() {
    let server = server();
    let mut wish = asked(&json!({ "kind": "worth", "coarser": 4, "seasons": 3 }));
    wish["files"] = json!({ "edge.geojson": MIDDLE });
    let (run, told) = finished(&server, &wish).await;
    let is_inside = |row: usize, column: usize| (5..13).contains(&row) && (5..15).contains(&column);
    for (what, scale) in [("yield", "yield_scale"), ("percolation", "percolation_scale_mm")] {
        let mut ends = [f32::INFINITY, f32::NEG_INFINITY];
        for alternative in 0..3 {
            let path = format!("/api/runs/{run}/grid?alternative={alternative}&what={what}");
            let values = get(&server, &path).await.expect(200).floats();
            assert_eq!(values.len(), 20 * 18);
            for (at, value) in values.iter().enumerate() {
                assert_eq!(value.is_nan(), !is_inside(at / 20, at % 20), "{what} at {at}");
                if !value.is_nan() {
                    ends = [ends[0].min(*value), ends[1].max(*value)];
                }
            }
        }
        // The ends of the colors are those of what is shown, not of the ground beyond.
        let told = &told["summary"][scale];
        for (end, at) in ends.iter().zip(0..) {
            let scale = told[at].as_f64().unwrap();
            assert!((f64::from(*end) - scale).abs() < 1e-4 * scale.max(1.0), "{told} {ends:?}");
        }
    }
}

#[tokio::test]
async fn what_is_taken_away_holds_the_files_that_its_scenario_names() {
    let server = server();
    let (run, _) = finished(&server, &asked(&json!({ "kind": "season" }))).await;
    for pack in ["figures.zip", "sheet.zip?alternative=0"] {
        let packed = get(&server, &format!("/api/runs/{run}/{pack}")).await.expect(200).body;
        let mut archive = zip::ZipArchive::new(std::io::Cursor::new(packed)).unwrap();
        let mut edge = String::new();
        let mut file = archive.by_name("edge.geojson").unwrap();
        std::io::Read::read_to_string(&mut file, &mut edge).unwrap();
        assert!(edge.contains("Polygon"), "{pack}: {edge}");
    }
}

#[tokio::test]
async fn a_closer_look_averages_only_what_is_inside() {
    let server = server();
    let mut wish = asked(&json!({ "kind": "season" }));
    wish["scenario"]["field"]["cell"] = json!("2 ft");
    // Half of the 51st shown cell of 4 ft is inside: its own cells of 2 ft end at 202 ft.
    wish["files"] = json!({ "edge.geojson": r#"{ "type": "Polygon", "coordinates": [
        [[0, 0], [202, 0], [202, 360], [0, 360], [0, 0]]
    ] }"# });
    let (run, _) = finished(&server, &wish).await;
    let path = format!("/api/runs/{run}/closer?x_m=60&y_m=50&span_m=1000");
    let told = get(&server, &path).await.expect(200).json();
    assert_eq!((&told["columns"], &told["rows"]), (&json!(100), &json!(90)));
    let row = &told["depths_mm"][0].as_array().unwrap()[4500..4600];
    assert!(row[..51].iter().all(|depth| depth.as_f64().unwrap() > 0.0), "{row:?}");
    assert!(row[51..].iter().all(Value::is_null), "{row:?}");
}

#[tokio::test]
async fn regress_a_field_with_an_edge_has_the_digits_and_colors_of_the_plain_run() {
    let mut wish = asked(&json!({ "kind": "season" }));
    wish["files"] = json!({ "edge.geojson": MIDDLE });
    let (_, told) = finished(&server(), &wish).await;
    let load = |_: &str| Ok(MIDDLE.as_bytes().to_vec());
    let resolved = resolve(&bounded().to_string(), &load).unwrap();
    let outcome = season::run(&resolved.scenario, season::RunControl::default()).unwrap();
    let printed = season_headline(&resolved.scenario, &outcome);
    assert_eq!(told["summary"]["printed"], json!(printed));
    assert_eq!(told["digest"], json!(resolved.digest));
    // Colors are for what lies inside; the ground beyond would stretch them.
    let whole = resolved.scenario.field.whole();
    let depths = || outcome.alternatives.iter().map(AlternativeOutcome::season_depth_mm);
    let inside: Vec<f64> = depths().flat_map(|grid| whole.of(grid).into_iter()).collect();
    let scale = map_range_mm(&[Numbers::Double(&inside)], UnitSystem::Us);
    assert_eq!(told["summary"]["depth_scale_mm"], json!(scale));
    let all: Vec<f64> = depths().flat_map(|grid| grid.iter().copied()).collect();
    assert_ne!(scale, map_range_mm(&[Numbers::Double(&all)], UnitSystem::Us));
}

#[tokio::test]
async fn a_shapefile_comes_back_as_text_that_a_scenario_may_name() {
    use base64::Engine as _;
    let ring: [[f64; 2]; 5] = [
        [5e5, 4.8e6],
        [5e5, 4.8e6 + 70.0],
        [5e5 + 60.0, 4.8e6 + 70.0],
        [5e5 + 60.0, 4.8e6],
        [5e5, 4.8e6],
    ];
    let mut content = 5_i32.to_le_bytes().to_vec();
    content.extend([0_u8; 32]);
    content.extend([1_i32, 5, 0].iter().flat_map(|number| number.to_le_bytes()));
    content.extend(ring.iter().flatten().flat_map(|number| number.to_le_bytes()));
    let words = content.len() as i32 / 2;
    let mut file = 9994_i32.to_be_bytes().to_vec();
    file.extend([0_u8; 20]);
    file.extend((54 + words).to_be_bytes());
    file.extend([1000_i32, 5].iter().flat_map(|number| number.to_le_bytes()));
    file.extend([0_u8; 64]);
    file.extend([1, words].iter().flat_map(|number: &i32| number.to_be_bytes()));
    file.extend(content);
    let server = server();
    let shape = base64::engine::general_purpose::STANDARD.encode(&file);
    let prj = "PROJCS[\"Invented_Grid\",GEOGCS[\"x\"],PROJECTION[\"Transverse_Mercator\"],\
               UNIT[\"Meter\",1.0]]";
    let asked = json!({ "shape": shape, "projection": prj });
    let told = super::helpers::post(&server, "/api/boundary", &asked).await.expect(200).json();
    assert_eq!((&told["system"], &told["is_known"]), (&json!("Invented_Grid"), &json!(true)));
    let mut field = small();
    field["field"]["boundary"] = json!({ "file": "field.geojson" });
    let wish = json!({ "scenario": field, "files": { "field.geojson": told["text"] } });
    let laid = super::helpers::post(&server, "/api/layout", &wish).await.expect(200).json();
    assert_eq!(laid["ok"], json!(true), "{}", laid["problems"]);
    // 60 × 70 m, to the cells of 5 ft that its edges cut.
    let area_m2 = laid["field"]["area_m2"].as_f64().unwrap();
    assert!((area_m2 / 4200.0 - 1.0).abs() < 0.02, "{area_m2}");
    let spoiled = json!({ "shape": shape[..60].to_owned() });
    let refused = super::helpers::post(&server, "/api/boundary", &spoiled).await;
    refused.refused(422, "cannot be read");
    super::helpers::post(&server, "/api/boundary", &json!({ "shape": "*" }))
        .await
        .refused(422, "base64");
}
