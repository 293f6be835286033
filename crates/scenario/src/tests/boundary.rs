//! Fields that are no rectangles: corners typed in turn, maps in degrees, meters and feet, shapefiles.

use super::helpers::{bad, demo_with, good, only_problem};
use crate::boundary_file::tests::{clockwise, packed, shp};
use crate::{Resolved, resolve};
use evenfall_core::units::M_PER_FT;
use serde_json::{Value, json};

/// The demo with a boundary: 1320 ft along the pipe and across, bearing 90°.
fn with(boundary: &Value) -> String {
    demo_with(|demo| {
        demo["field"]["boundary"] = boundary.clone();
        demo["field"]["width_across"] = json!("1320 ft");
        demo["field"]["length_along_pipe"] = json!("1320 ft");
        demo["field"]["travel_bearing"] = json!("90 deg");
    })
}

/// The demo with the boundary in `field`, and beside it the files given.
fn opened(boundary: &Value, files: &[(&str, &[u8])]) -> Result<Resolved, String> {
    let load = |name: &str| {
        let found = files.iter().find(|(known, _)| *known == name);
        found.map(|(_, bytes)| bytes.to_vec()).ok_or_else(|| "it is not here".to_owned())
    };
    resolve(&with(boundary), &load).map_err(|problems| problems.to_string())
}

#[track_caller]
fn refused(boundary: &Value, files: &[(&str, &[u8])], words: &[&str]) {
    let Err(told) = opened(boundary, files) else { panic!("{boundary} should have been refused") };
    for word in words {
        assert!(told.contains(word), "{word}: {told}");
    }
}

fn told<'a>(resolved: &'a Resolved, what: &str) -> &'a str {
    let found = resolved.assumptions.iter().find(|assumption| assumption.what == what);
    &found.unwrap_or_else(|| panic!("{what} is not told")).value
}

fn cells(resolved: &Resolved) -> &evenfall_core::boundary::Boundary {
    resolved.scenario.field.boundary.as_ref().unwrap()
}

#[test]
fn closed_corners_in_feet_and_meters_give_the_area_worked_by_hand() {
    // The right upper corner cut off: 1320² less half of 660 × 660 ft; 435.6 ft² are 0.01 ac.
    let corners = json!([
        ["0 ft", "0 ft"],
        ["1320 ft", "0 ft"],
        ["1320 ft", "660 ft"],
        ["660 ft", "1320 ft"],
        ["0 m", "402.336 m"]
    ]);
    let resolved = good(&with(&json!({ "corners": corners })));
    let value = told(&resolved, "/field/boundary");
    // 35 ac; of the cells cut in half by the slope those count whose center is inside: none or all of
    // 330, 4 ft² each, so 0.03 ac at most.
    let acres: f64 = value.split(' ').next().unwrap().parse().unwrap();
    assert!((acres - 35.0).abs() <= 0.03, "{value}");
    assert!(value.contains("of 435600 cells"), "{value}");
    let why = &resolved.assumptions.iter().find(|a| a.what == "/field/boundary").unwrap().why;
    assert!(why.ends_with("inside the lines lie 35 ac (14.16 ha)"), "{why}");
}

#[test]
fn closed_every_corner_that_is_wrong_is_told() {
    let corners = json!([["0 ft", "0 ft"], ["1320", "0 ft"], ["660 ft"], ["0 ft", "-5 ft"]]);
    let problems = bad(&with(&json!({ "corners": corners }))).to_string();
    for place in ["/field/boundary/corners/1/0", "/corners/2", "/corners/3/1", "3 problems"] {
        assert!(problems.contains(place), "{place}: {problems}");
    }
    let outside = json!([["0 ft", "0 ft"], ["1400 ft", "0 ft"], ["0 ft", "1500 ft"]]);
    let problems = bad(&with(&json!({ "corners": outside }))).to_string();
    for word in ["/corners/1", "/corners/2", "1320 ft", "2 problems"] {
        assert!(problems.contains(word), "{word}: {problems}");
    }
    let bow =
        json!([["0 ft", "0 ft"], ["900 ft", "900 ft"], ["900 ft", "0 ft"], ["0 ft", "900 ft"]]);
    let (place, words) = only_problem(&with(&json!({ "corners": bow })));
    assert!(place == "/field/boundary/corners" && words.contains("crosses itself"), "{words}");
    let two = json!([["0 ft", "0 ft"], ["900 ft", "900 ft"]]);
    assert!(
        bad(&with(&json!({ "corners": two }))).to_string().contains("at least 4 with the last")
    );
}

#[test]
fn closed_corners_and_a_file_exclude_each_other_and_one_is_needed() {
    let both = json!({ "corners": [["0 ft", "0 ft"]], "file": "edge.geojson" });
    assert!(bad(&with(&both)).to_string().contains("only one of"));
    assert!(bad(&with(&json!({}))).to_string().contains("is missing"));
    let (_, words) = only_problem(&with(&json!({ "coordinates": "ft" })));
    assert!(words.contains("neither `corners` nor `file`"), "{words}");
}

/// A field cut at one corner with a hole, in feet from the rectangle's corner.
fn rings_ft() -> Vec<Vec<[f64; 2]>> {
    let edge = vec![
        [0.0, 0.0],
        [1320.0, 0.0],
        [1320.0, 700.0],
        [600.0, 1320.0],
        [0.0, 1320.0],
        [0.0, 0.0],
    ];
    vec![edge, clockwise([200.0, 300.0], [260.0, 400.0])]
}

/// The same on a map: the direction of travel is east, the pipe runs south from its corner.
fn rings_on_map(unit_m: f64) -> Vec<Vec<[f64; 2]>> {
    let place = |[x, y]: &[f64; 2]| {
        [(500_321.0 + y * M_PER_FT) / unit_m, (4_805_432.0 - x * M_PER_FT) / unit_m]
    };
    rings_ft().iter().map(|ring| ring.iter().map(place).collect()).collect()
}

fn geojson(rings: &[Vec<[f64; 2]>], crs: Option<&str>) -> Vec<u8> {
    let mut text = json!({ "type": "Polygon", "coordinates": rings });
    if let Some(name) = crs {
        text["crs"] = json!({ "type": "name", "properties": { "name": name } });
    }
    text.to_string().into_bytes()
}

const FEET: &str = "PROJCS[\"NAD_1983_StatePlane_Idaho_West_FIPS_1103_Feet\",GEOGCS[\"x\",\
                    UNIT[\"Degree\",0.017453292519943295]],UNIT[\"Foot_US\",0.3048006096012192]]";

#[test]
fn reference_a_field_on_a_map_covers_the_cells_of_the_same_field_in_feet_from_its_corner() {
    let local = json!({ "file": "edge.geojson", "coordinates": "ft" });
    let local = opened(&local, &[("edge.geojson", &geojson(&rings_ft(), None))]).unwrap();
    let meters = rings_on_map(1.0);
    let feet = rings_on_map(M_PER_FT);
    // With the direction of the rings turned round as well, and packed.
    let reversed: Vec<Vec<[f64; 2]>> =
        meters.iter().map(|ring| ring.iter().rev().copied().collect()).collect();
    let packed = packed(&[
        ("f/field.shp", &shp(std::slice::from_ref(&feet))),
        ("f/field.prj", FEET.as_bytes()),
    ]);
    let shape = shp(&[feet]);
    let named = geojson(&meters, Some("urn:ogc:def:crs:EPSG::32611"));
    for (boundary, files) in [
        (json!({ "file": "e", "coordinates": "projected m" }), vec![("e", geojson(&meters, None))]),
        (
            json!({ "file": "e", "coordinates": "projected m" }),
            vec![("e", geojson(&reversed, None))],
        ),
        (json!({ "file": "e" }), vec![("e", named)]),
        (json!({ "file": "a.shp" }), vec![("a.shp", shape), ("a.prj", FEET.as_bytes().to_vec())]),
        (json!({ "file": "a.zip" }), vec![("a.zip", packed)]),
    ] {
        let files: Vec<(&str, &[u8])> = files.iter().map(|(name, b)| (*name, &b[..])).collect();
        let found = opened(&boundary, &files).unwrap();
        assert_eq!(cells(&found).inside(), cells(&local).inside(), "{boundary}");
        assert!(told(&found, "/field/boundary").ends_with("with a hole"));
        assert_eq!(told(&found, "/field/boundary/place"), "centered");
        // What was read goes into the report's folder, the .prj too.
        assert_eq!(found.files.len(), files.len(), "{boundary}");
    }
}

#[test]
fn closed_what_a_file_says_of_itself_is_taken_told_or_asked() {
    let meters = rings_on_map(1.0);
    let named = geojson(&meters, Some("EPSG:32611"));
    let found = opened(&json!({ "file": "e" }), &[("e", &named)]).unwrap();
    assert_eq!(told(&found, "/field/boundary/coordinates"), "projected m");
    assert!(
        told(&found, "/field/boundary/projection").contains("meters east and north of EPSG:32611")
    );
    let unsaid = geojson(&meters, None);
    refused(&json!({ "file": "e" }), &[("e", &unsaid)], &["does not say", "\"projected m\""]);
    let local = json!({ "file": "e", "coordinates": "m" });
    refused(&local, &[("e", &unsaid)], &["outside the rectangle", "look like those of a map"]);
    let odd = geojson(&meters, Some("EPSG:5514"));
    refused(&json!({ "file": "e" }), &[("e", &odd)], &["EPSG:5514 is not known here"]);
    let web = geojson(&meters, Some("EPSG:3857"));
    for boundary in [json!({ "file": "e" }), json!({ "file": "e", "coordinates": "projected m" })] {
        refused(&boundary, &[("e", &web)], &["stretches lengths", "longitude and latitude"]);
    }
    // A file in feet from the corner that calls itself degrees, as some programs write by habit.
    let habit = geojson(&rings_ft(), Some("urn:ogc:def:crs:OGC:1.3:CRS84"));
    let found = opened(&json!({ "file": "e", "coordinates": "ft" }), &[("e", &habit)]).unwrap();
    assert!(found.warnings.iter().any(|warning| warning.contains("the scenario says otherwise")));
    // A shapefile without its .prj says nothing.
    let bare = shp(&[meters]);
    refused(
        &json!({ "file": "a.shp" }),
        &[("a.shp", &bare)],
        &["does not say what its numbers are"],
    );
}

#[test]
fn closed_of_several_fields_one_is_picked() {
    let beside = clockwise([1400.0, 0.0], [2000.0, 600.0]);
    let bytes = shp(&[rings_ft(), vec![beside]]);
    let files: [(&str, &[u8]); 1] = [("farm.shp", &bytes)];
    let all = json!({ "file": "farm.shp", "coordinates": "ft" });
    refused(&all, &files, &["outside the rectangle", "2 polygons are taken together"]);
    let one = json!({ "file": "farm.shp", "coordinates": "ft", "polygon": 1 });
    assert!(told(&opened(&one, &files).unwrap(), "/field/boundary").ends_with("with a hole"));
    let none = json!({ "file": "farm.shp", "coordinates": "ft", "polygon": 3 });
    refused(&none, &files, &["/field/boundary/polygon", "no polygon 3"]);
}
