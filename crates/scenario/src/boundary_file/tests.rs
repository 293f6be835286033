//! Boundaries from files: shapefiles made here by a small writer of our own (invented fields), texts,
//! and bytes that are nothing.

use super::{Found, Kind, Shape, System, boundary_text, read, typed};
use evenfall_core::boundary::Corner;
use proptest::prelude::*;
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;

/// A `.shp` of polygons, each a list of rings written as they are given.
pub(crate) fn shp(polygons: &[Vec<Vec<Corner>>]) -> Vec<u8> {
    let mut records = Vec::new();
    for (at, rings) in polygons.iter().enumerate() {
        let mut content = Vec::new();
        content.extend(5_i32.to_le_bytes());
        content.extend([0.0_f64; 4].iter().flat_map(|bound| bound.to_le_bytes()));
        content.extend((rings.len() as i32).to_le_bytes());
        content.extend((rings.iter().map(Vec::len).sum::<usize>() as i32).to_le_bytes());
        let mut start = 0_i32;
        for ring in rings {
            content.extend(start.to_le_bytes());
            start += ring.len() as i32;
        }
        content.extend(rings.iter().flatten().flatten().flat_map(|number| number.to_le_bytes()));
        records.extend((at as i32 + 1).to_be_bytes());
        records.extend((content.len() as i32 / 2).to_be_bytes());
        records.extend(content);
    }
    let mut file = Vec::new();
    file.extend(9994_i32.to_be_bytes());
    file.extend([0_u8; 20]);
    file.extend(((100 + records.len()) as i32 / 2).to_be_bytes());
    file.extend(1000_i32.to_le_bytes());
    file.extend(5_i32.to_le_bytes());
    file.extend([0_u8; 64]);
    file.extend(records);
    file
}

/// Files packed in a `.zip`.
pub(crate) fn packed(files: &[(&str, &[u8])]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in files {
        zip.start_file(*name, SimpleFileOptions::default()).unwrap();
        zip.write_all(content).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// A closed rectangle, clockwise.
pub(crate) fn clockwise([x0, y0]: Corner, [x1, y1]: Corner) -> Vec<Corner> {
    vec![[x0, y0], [x0, y1], [x1, y1], [x1, y0], [x0, y0]]
}

fn backward(mut ring: Vec<Corner>) -> Vec<Corner> {
    ring.reverse();
    ring
}

fn found(bytes: &[u8]) -> Found {
    read(bytes, &mut || None).unwrap()
}

fn said(bytes: &[u8]) -> Vec<String> {
    match read(bytes, &mut || None).and_then(|found| found.shape(None)) {
        Ok(shape) => panic!("{shape:?}"),
        Err(problems) => problems.into_iter().map(|problem| problem.what).collect(),
    }
}

fn polygon(rings: &str) -> String {
    format!(r#"{{"type":"Polygon","coordinates":{rings}}}"#)
}

const UTM: &str = r#"PROJCS["WGS_1984_UTM_Zone_11N",GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",
    SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],
    UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],
    PARAMETER["Central_Meridian",-117.0],UNIT["Meter",1.0]]"#;

#[test]
fn closed_a_square_with_a_hole_in_a_feature() {
    let square = "[[[0,0],[9,0],[9,9],[0,9],[0,0]],[[2,2],[2,4],[4,4],[4,2],[2,2]]]";
    let bare = found(polygon(square).as_bytes()).shape(None).unwrap();
    assert_eq!((bare.rings.len(), bare.rings[1].len()), (2, 4));
    assert_eq!((&bare.is_hole[..], bare.area()), (&[false, true][..], 81.0 - 4.0));
    let geometry = polygon(square);
    let feature = format!(r#"{{"type":"Feature","properties":null,"geometry":{geometry}}}"#);
    let all = format!(r#"{{"type":"FeatureCollection","features":[{feature}]}}"#);
    for text in [feature, all] {
        assert_eq!(found(text.as_bytes()).shape(None).unwrap(), bare);
    }
}

#[test]
fn closed_bad_rings_are_told_all_at_once() {
    let told = |rings: &str| said(polygon(rings).as_bytes());
    let bow = told("[[[0,0],[9,9],[9,0],[0,9],[0,0]]]");
    assert_eq!(bow, ["the outer ring crosses itself"]);
    let open = told("[[[0,0],[9,0],[9,9],[0,9]],[[2,2],[3,3],[2,2]]]");
    assert!(open[0].contains("the outer ring is open"), "{open:?}");
    assert!(open[1].contains("hole 1 has 3 corners"), "{open:?}");
    let outside =
        told("[[[0,0],[9,0],[9,9],[0,9],[0,0]],[[20,20],[20,24],[24,24],[24,20],[20,20]]]");
    assert!(outside[0].contains("not contained within the outer ring"), "{outside:?}");
}

#[test]
fn closed_what_is_no_polygon_is_told() {
    assert!(said(b"{")[0].contains("not GeoJSON"));
    assert!(said(br#"{"type":"Point","coordinates":[1,2]}"#)[0].contains("no polygon, but Point"));
    assert!(said(br#"{"type":"FeatureCollection","features":[]}"#)[0].contains("nothing"));
    assert!(said(&[0xff, 0xfe])[0].contains("neither GeoJSON nor a shapefile"));
    let mut points = shp(&[]);
    // Point, then one record of it.
    points[32] = 1;
    points.extend([0, 0, 0, 1, 0, 0, 0, 10, 1, 0, 0, 0]);
    points.extend([0_u8; 16]);
    points[24..28].copy_from_slice(&64_i32.to_be_bytes());
    assert_eq!(said(&points), ["it holds no polygon, but Point"]);
    assert!(said(&shp(&[]))[0].contains("no polygon, but nothing"));
    assert!(said(&packed(&[("notes.txt", b"x")]))[0].contains("0 shapefiles"));
    let two = packed(&[("a.shp", &shp(&[])), ("b.shp", &shp(&[]))]);
    assert!(said(&two)[0].contains("2 shapefiles"));
}

#[test]
fn closed_corners_typed_in_turn_close_by_themselves() {
    // A trapezoid: (8 + 6) / 2 · 4.
    let corners = [[0.0, 0.0], [8.0, 0.0], [6.0, 4.0], [0.0, 4.0]];
    let open = typed(&corners).unwrap();
    assert_eq!((open.rings[0].len(), open.area()), (4, 28.0));
    let closed = typed(&[&corners[..], &corners[..1]].concat()).unwrap();
    assert_eq!(closed, open);
    assert!(typed(&corners[..2]).is_err() && typed(&[]).is_err());
}

#[test]
fn closed_holes_of_a_shapefile_are_told_by_what_lies_inside_what() {
    let outer = clockwise([0.0, 0.0], [400.0, 300.0]);
    let hole = backward(clockwise([100.0, 100.0], [150.0, 120.0]));
    let island = clockwise([110.0, 105.0], [120.0, 110.0]);
    let area = 120_000.0 - 1000.0 + 50.0;
    let right = vec![outer.clone(), hole.clone(), island.clone()];
    let shape = found(&shp(&[right])).shape(None).unwrap();
    assert_eq!(shape.area(), area);
    // Every ring the wrong way round, and the hole before what it is a hole of.
    let wrong = vec![backward(island), backward(hole), backward(outer)];
    let other = found(&shp(&[wrong])).shape(None).unwrap();
    assert_eq!(other.area(), area);
    assert_eq!(other.is_hole.iter().filter(|hole| **hole).count(), 1);
}

#[test]
fn closed_one_polygon_of_several_is_picked_by_its_number() {
    let fields =
        [[0.0, 10.0], [20.0, 50.0]].map(|[from, to]| vec![clockwise([from, 0.0], [to, 10.0])]);
    let all = found(&shp(&fields));
    let area = |number| all.shape(number).unwrap().area();
    assert_eq!((all.count(), area(None), area(Some(1)), area(Some(2))), (2, 400.0, 100.0, 300.0));
    for number in [0, 3] {
        let problem = &all.shape(Some(number)).unwrap_err()[0];
        assert!(problem.what.contains("holds 2"), "{problem:?}");
    }
}

#[test]
fn closed_a_shapefile_is_the_same_alone_packed_and_as_text() {
    let bytes = shp(&[vec![clockwise([500_000.0, 4_800_000.25], [500_400.5, 4_800_300.0])]]);
    let alone = read(&bytes, &mut || Some(UTM.as_bytes().to_vec())).unwrap();
    let system = alone.system.clone().unwrap();
    assert_eq!((&*system.name, system.kind), ("WGS_1984_UTM_Zone_11N", Some(Kind::Meters)));
    let zip = packed(&[
        ("__MACOSX/field.shp", b"resource"),
        ("maps/Field.SHP", &bytes),
        ("maps/Field.prj", UTM.as_bytes()),
        ("maps/Field.dbf", &[3, 1, 2]),
    ]);
    assert_eq!(found(&zip), alone);
    let text = boundary_text(&bytes, Some(UTM.as_bytes())).unwrap();
    assert_eq!((text.is_known, text.polygons, &*text.system), (true, 1, "WGS_1984_UTM_Zone_11N"));
    let again = found(text.text.as_bytes());
    assert_eq!(again.shape(None), alone.shape(None));
    assert_eq!(again.system.unwrap().kind, Some(Kind::Meters));
    let unknown = boundary_text(&bytes, None).unwrap();
    assert!(!unknown.is_known && unknown.system.is_empty());
}

#[test]
fn closed_what_a_file_says_of_its_coordinates() {
    for (name, kind) in [
        ("urn:ogc:def:crs:OGC:1.3:CRS84", Some(Kind::Degrees)),
        ("urn:ogc:def:crs:EPSG::4326", Some(Kind::Degrees)),
        ("urn:ogc:def:crs:EPSG::32611", Some(Kind::Meters)),
        ("EPSG:26911", Some(Kind::Meters)),
        ("http://www.opengis.net/def/crs/EPSG/0/2243", Some(Kind::Feet)),
        ("epsg:3857", Some(Kind::Stretched)),
        ("EPSG:5514", None),
        ("our own grid 32611", None),
        ("EPSG:", None),
    ] {
        assert_eq!(System::named(name).kind, kind, "{name}");
    }
    let feet = UTM.replace("UNIT[\"Meter\",1.0]", "UNIT[\"Foot_US\",0.3048006096012192]");
    let heights = format!("{feet},VERTCS[\"NAVD88\",UNIT[\"Meter\",1.0]]");
    let chains = UTM.replace("UNIT[\"Meter\",1.0]", "UNIT[\"Chain\",20.1168]");
    let newer = "PROJCRS[\"WGS 84 / UTM zone 11N\", BASEGEOGCRS[\"WGS 84\"], CS[Cartesian,2], \
                 LENGTHUNIT[\"metre\", 1]]";
    let web = "PROJCS[\"WGS_1984_Web_Mercator_Auxiliary_Sphere\",GEOGCS[\"x\"],\
               PROJECTION[\"Mercator_Auxiliary_Sphere\"],UNIT[\"Meter\",1.0]]";
    let degrees = "GEOGCS[\"GCS_WGS_1984\",UNIT[\"Degree\",0.0174532925199433]]";
    for (prj, kind) in [
        (UTM, Some(Kind::Meters)),
        (&*feet, Some(Kind::Feet)),
        (&*heights, Some(Kind::Feet)),
        (&*chains, None),
        (newer, Some(Kind::Meters)),
        (web, Some(Kind::Stretched)),
        (degrees, Some(Kind::Degrees)),
        ("", None),
        ("LOCAL_CS[\"x\",UNIT[\"Meter\",1.0]]", None),
    ] {
        assert_eq!(System::described(prj).kind, kind, "{prj}");
    }
}

/// What must never panic, whatever the bytes.
fn looked_at(bytes: &[u8]) -> Option<Shape> {
    let _ = boundary_text(bytes, Some(bytes));
    read(bytes, &mut || Some(bytes.to_vec())).ok()?.shape(None).ok()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn invariant_garbage_is_refused_and_never_panics(
        bytes in proptest::collection::vec(any::<u8>(), 0..400),
        head in 0_usize..3,
    ) {
        let heads: [&[u8]; 3] = [b"", &[0, 0, 0x27, 0x0a], b"PK\x03\x04"];
        prop_assert!(looked_at(&[heads[head], &bytes].concat()).is_none());
    }

    #[test]
    fn invariant_sound_files_spoiled_anywhere_never_panic(
        place in 0_usize..1000,
        byte in any::<u8>(),
        end in 0_usize..1000,
        kind in 0_usize..3,
    ) {
        let rings = vec![
            clockwise([0.0, 0.0], [400.0, 300.0]),
            backward(clockwise([100.0, 100.0], [150.0, 120.0])),
        ];
        let bytes = shp(&[rings]);
        let zip = packed(&[("a.shp", &bytes), ("a.prj", UTM.as_bytes())]);
        let text = boundary_text(&bytes, Some(UTM.as_bytes())).unwrap().text.into_bytes();
        let mut spoiled = [bytes, zip, text][kind].clone();
        let (place, end) = (place % spoiled.len(), end % spoiled.len());
        spoiled[place] = byte;
        looked_at(&spoiled);
        spoiled.truncate(end);
        looked_at(&spoiled);
    }

    #[test]
    fn invariant_the_area_of_a_rectangle_stays_far_from_the_origin(
        x in -1e6_f64..1e6, y in 0.0_f64..1e7, side in 50.0_f64..2000.0, other in 50.0_f64..2000.0,
    ) {
        let ring = clockwise([x, y], [x + side, y + other]);
        let area = found(&shp(&[vec![ring]])).shape(None).unwrap().area();
        // Sides of map coordinates of up to 1e7 m are known to some 2e-9 m.
        prop_assert!((area / (side * other) - 1.0).abs() < 1e-9, "{area}");
    }
}
