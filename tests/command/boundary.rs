//! Fields with a boundary: what is masked, and what is refused.

use crate::edges::summary;
use crate::runs::evenfall_in;
use crate::scenarios::{put, small};
use ndarray_npy::ReadNpyExt as _;
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

/// A small scenario without wind.
fn in_calm() -> String {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["wind"] = json!({ "still": true });
    scenario.to_string()
}

/// A small scenario whose field has the boundary in `field.geojson`, and a folder for both.
fn folder(rings: &Value, coordinates: &str) -> TempDir {
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&in_calm()).unwrap();
    scenario["field"]["boundary"] = json!({ "file": "field.geojson", "coordinates": coordinates });
    put(folder.path(), &scenario.to_string());
    let polygon = json!({ "type": "Polygon", "coordinates": rings });
    fs::write(folder.path().join("field.geojson"), polygon.to_string()).unwrap();
    folder
}

#[track_caller]
fn refused(rings: &Value, coordinates: &str, words: &[&str]) {
    let folder = folder(rings, coordinates);
    let ran = evenfall_in(folder.path(), &["check", "scenario.json"]);
    ran.refused(3, &[&["/field/boundary/file", "field.geojson"], words].concat());
}

#[test]
fn half_the_field_is_judged_alone_and_the_rest_of_the_water_is_off_the_field() {
    // 320 × 360 ft; the boundary leaves out everything past 160 ft along.
    let half = json!([[[0, 0], [160, 0], [160, 360], [0, 360], [0, 0]]]);
    let folder = folder(&half, "ft");
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    assert!(said.contains("3600 of 7200 cells (50 %)"), "{said}");
    let words = ["season", "scenario.json", "--into", "report", "--quiet"];
    evenfall_in(folder.path(), &words).said();
    let found = summary(&folder.path().join("report"));
    let mut scenario: Value = serde_json::from_str(&in_calm()).unwrap();
    scenario["field"].as_object_mut().unwrap().remove("boundary");
    put(folder.path(), &scenario.to_string());
    evenfall_in(folder.path(), &["season", "scenario.json", "--into", "whole", "--quiet"]).said();
    let whole = summary(&folder.path().join("whole"));
    // The report's folder holds what its scenario names: it runs again where it lies.
    let again = evenfall_in(&folder.path().join("report"), &["check", "scenario.json"]).said();
    assert!(again.contains("3600 of 7200 cells (50 %)"), "{again}");
    // Its arrays have no number where the field is not.
    let array = |of: &str| {
        let file = fs::File::open(folder.path().join(of).join("grids/season-depth-mm-1.npy"));
        ndarray::Array2::<f64>::read_npy(file.unwrap()).unwrap()
    };
    assert_eq!(array("report").iter().filter(|depth| depth.is_nan()).count(), 3600);
    assert!(array("whole").iter().all(|depth| depth.is_finite()));
    let all = |found: &Value| found["alternatives"].as_array().unwrap().clone();
    for (alternative, whole) in all(&found).iter().zip(&all(&whole)) {
        let number = |pointer: &str| alternative.pointer(pointer).unwrap().as_f64().unwrap();
        assert_eq!(number("/season/whole/cells"), 3600.0);
        let [gross, on, off, lost] = ["gross", "on_field", "off_field", "losses"]
            .map(|part| number(&format!("/water/{part}_m3")));
        assert!(((gross - on - off - lost) / gross).abs() < 1e-9);
        // In calm air water lies the same on both sides of the middle.
        let on_whole = whole.pointer("/water/on_field_m3").unwrap().as_f64().unwrap();
        assert!((on / on_whole - 0.5).abs() < 1e-9, "{on} {on_whole}");
        // 3600 cells of 4 × 4 ft.
        let on_mm = 1000.0 * on / (3600.0 * 16.0 * 0.3048 * 0.3048);
        assert!((number("/season/whole/mean_depth_mm") / on_mm - 1.0).abs() < 1e-9);
    }
}

#[test]
fn a_boundary_in_degrees_is_projected_turned_and_centered() {
    // At 40° N: 320 ft = 97.536 m along, 360 ft = 109.728 m across. The direction of travel is 20°, so
    // +y has that bearing. Meters a degree on WGS 84 at 40°: 85 394 of longitude, 111 035 of
    // latitude (common geodetic tables, from memory).
    let (sin, cos) = 20.0_f64.to_radians().sin_cos();
    let corner = |x_m: f64, y_m: f64| {
        let (east_m, north_m) = (x_m * cos + y_m * sin, y_m * cos - x_m * sin);
        json!([-100.0 + east_m / 85_394.0, 40.0 + north_m / 111_035.0])
    };
    let (x, y) = (97.4, 109.6);
    let ring = [(0.0, 0.0), (x, 0.0), (x, y), (0.0, y), (0.0, 0.0)].map(|(x, y)| corner(x, y));
    let folder = folder(&json!([ring]), "lon/lat");
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    assert!(said.contains("7200 of 7200 cells (100 %)"), "{said}");
    assert!(said.contains("equirectangular") && said.contains("centered"), "{said}");
}

#[test]
fn rings_that_cross_or_stay_open_and_holes_out_of_place_are_refused() {
    let bow = json!([[[0, 0], [320, 360], [320, 0], [0, 360], [0, 0]]]);
    refused(&bow, "ft", &["the outer ring crosses itself"]);
    let open = json!([[[0, 0], [320, 0], [320, 360], [0, 360]], [[9, 9], [20, 20], [9, 9]]]);
    refused(&open, "ft", &["the outer ring is open", "hole 1 has 3 corners", "2 problems"]);
    let beside = json!([
        [[0, 0], [160, 0], [160, 360], [0, 360], [0, 0]],
        [[200, 10], [240, 10], [240, 50], [200, 50], [200, 10]]
    ]);
    refused(&beside, "ft", &["not contained within the outer ring"]);
}

#[test]
fn sizes_that_tell_of_the_wrong_unit_are_refused() {
    let feet = json!([[[0, 0], [320, 0], [320, 360], [0, 360], [0, 0]]]);
    refused(&feet, "m", &["outside the rectangle", "320 m", "97.536 m"]);
    refused(&feet, "lon/lat", &["no longitudes", "say so in `coordinates`"]);
    let degrees =
        json!([[[-100, 40], [-99.999, 40], [-99.999, 40.001], [-100, 40.001], [-100, 40]]]);
    refused(&degrees, "ft", &["tiny", "look like degrees"]);
    let far = json!([[[0, 0], [900, 0], [900, 360], [0, 360], [0, 0]]]);
    refused(&far, "ft", &["outside the rectangle", "900 ft"]);
}

#[test]
fn files_that_are_no_boundary_are_refused_beside_everything_else() {
    let folder = folder(&json!([]), "ft");
    let path = folder.path().join("field.geojson");
    for (text, word) in [
        ("", "not GeoJSON"),
        ("{\"type\":\"Point\",\"coordinates\":[1,2]}", "no polygon, but Point"),
        ("{\"type\":\"Polygon\",\"coordinates\":[[[\"a\",0]]]}", "not GeoJSON"),
    ] {
        fs::write(&path, text).unwrap();
        evenfall_in(folder.path(), &["check", "scenario.json"]).refused(3, &[word]);
    }
    fs::remove_file(&path).unwrap();
    let text = fs::read_to_string(folder.path().join("scenario.json")).unwrap();
    put(folder.path(), &text.replace("\"passes\":3", "\"passes\":0"));
    let words = ["cannot be read", "/season/passes", "2 problems"];
    evenfall_in(folder.path(), &["check", "scenario.json"]).refused(3, &words);
}

#[test]
fn sets_that_water_none_of_the_field_are_told() {
    let low = json!([[[0, 0], [320, 0], [320, 120], [0, 120], [0, 0]]]);
    let folder = folder(&low, "ft");
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    // Outlets at 30, 90 … 330 ft throw 44 ft: from 210 ft on they stay short of 120 ft.
    assert!(said.contains("Fixed: 3 of 6 sets of a pass water no part"), "{said}");
}

/// A `.shp` of one polygon of one ring, in the numbers given: invented, written here byte by byte.
fn shapefile(ring: &[[f64; 2]]) -> Vec<u8> {
    let mut content = 5_i32.to_le_bytes().to_vec();
    content.extend([0_u8; 32]);
    content.extend(1_i32.to_le_bytes());
    content.extend((ring.len() as i32).to_le_bytes());
    content.extend(0_i32.to_le_bytes());
    content.extend(ring.iter().flatten().flat_map(|number| number.to_le_bytes()));
    let words = content.len() as i32 / 2;
    let mut file = 9994_i32.to_be_bytes().to_vec();
    file.extend([0_u8; 20]);
    file.extend((54 + words).to_be_bytes());
    file.extend(1000_i32.to_le_bytes());
    file.extend(5_i32.to_le_bytes());
    file.extend([0_u8; 64]);
    file.extend(1_i32.to_be_bytes());
    file.extend(words.to_be_bytes());
    file.extend(content);
    file
}

#[test]
fn a_shapefile_beside_the_scenario_is_read_with_its_prj_and_goes_with_the_report() {
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&in_calm()).unwrap();
    // East is the direction of travel, so the pipe runs south; 320 × 360 ft, half of it.
    scenario["field"]["travel_bearing"] = json!("90 deg");
    scenario["field"]["boundary"] = json!({ "file": "field.shp" });
    put(folder.path(), &scenario.to_string());
    let (x, y) = (2_400_000.0, 750_000.0);
    let ring = [[x, y], [x, y + 320.0], [x + 360.0, y + 320.0], [x + 360.0, y], [x, y]];
    fs::write(folder.path().join("field.shp"), shapefile(&ring)).unwrap();
    let ran = evenfall_in(folder.path(), &["check", "scenario.json"]);
    ran.refused(3, &["/field/boundary/file", "does not say what its numbers are", "`coordinates`"]);
    let prj = "PROJCS[\"Invented_Plane_Feet\",GEOGCS[\"x\",UNIT[\"Degree\",0.0174532925]],\
               PROJECTION[\"Transverse_Mercator\"],UNIT[\"Foot_US\",0.3048006096012192]]";
    fs::write(folder.path().join("field.prj"), prj).unwrap();
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    // 320 × 360 ft are 115 200 ft², or 2.64 ac.
    for words in ["2.64 ac (1.07 ha): 7200 of 7200 cells", "Invented_Plane_Feet", "true north"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    let words = ["season", "scenario.json", "--into", "report", "--quiet"];
    evenfall_in(folder.path(), &words).said();
    let again = evenfall_in(&folder.path().join("report"), &["check", "scenario.json"]).said();
    assert!(again.contains("7200 of 7200 cells"), "{again}");
}

#[test]
fn corners_are_typed_in_the_scenario_and_their_area_is_told() {
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&in_calm()).unwrap();
    let corners =
        json!([["0 ft", "0 ft"], ["320 ft", "0 ft"], ["320 ft", "180 ft"], ["0 ft", "360 ft"]]);
    scenario["field"]["boundary"] = json!({ "corners": corners });
    put(folder.path(), &scenario.to_string());
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    // 320 · (360 + 180) / 2 = 86 400 ft² = 1.98 ac.
    assert!(said.contains("inside the lines lie 1.98 ac (0.8 ha)"), "{said}");
    scenario["field"]["boundary"]["corners"][2] = json!(["400 ft", "180 ft"]);
    put(folder.path(), &scenario.to_string());
    let ran = evenfall_in(folder.path(), &["check", "scenario.json"]);
    ran.refused(3, &["/field/boundary/corners/2", "400 ft", "at most 320 ft"]);
}
