use super::*;
use crate::columns::{Found, Row};
use crate::gather::Gathered;
use crate::plan::PlanFile;
use bytes::Bytes;
use evenfall_core::seasons::SeasonFigures;
use parquet::file::reader::{FileReader as _, SerializedFileReader};
use serde_json::Value;
use std::sync::Arc;

fn study(plan: &str) -> Study {
    let none = |name: &str| Err(format!("no {name}"));
    let plan = PlanFile::read(plan).unwrap();
    Study::new(plan, evenfall_scenario::demo(), None, &none, "0.0.0").unwrap()
}

const PLAN: &str = r#"{
    "base": "demo.json",
    "factors": [
        { "pointer": "/seed", "levels": [1, 2] },
        { "name": "spacing", "pointer": "/outlets/spacing", "levels": ["60 ft"] }
    ],
    "responses": ["cu_percent", "systematic_points"]
}"#;

fn rows() -> Rows {
    let figures = SeasonFigures {
        cu: 0.8125,
        du_lq: 0.7,
        split: None,
        yield_fraction: 0.9,
        yield_worst_tenth: 0.8,
        yield_interior: 0.9,
        yield_interior_worst_tenth: 0.8,
        yield_promised: 0.9,
        passes: 12,
        moves: 264,
        dry_way_h: 0.0,
        gross_mm: 500.0,
        leaked_mm: 0.0,
        losses_mm: 50.0,
        off_field_mm: 5.0,
        irrigation_mm: 445.0,
        rain_mm: 30.0,
        crop_use_mm: 400.0,
        percolation_mm: 60.0,
        rooted_mm: 0.0,
        storage_rise_mm: 15.0,
        idle_mm: 0.0,
    };
    let (name, figures) = (Arc::from("Fixed"), Box::new(figures));
    let found = [
        Found::Figures { alternative: 0, name, season: 4, figures },
        Found::Nothing("beyond reach".to_owned()),
    ];
    let row = |(point, found): (usize, Found)| Row {
        point,
        seed: Some(point as u64 + 1),
        digest: Some(Arc::from("ab12")),
        warnings: None,
        found,
    };
    Rows(found.into_iter().enumerate().map(row).collect())
}

#[test]
fn closed_a_part_says_what_it_is_and_a_cut_one_is_none() {
    let study = study(PLAN);
    let block = study.block(0);
    let part = write_part(&study, &block, &rows(), Vec::new()).unwrap();
    assert_eq!(part, write_part(&study, &block, &rows(), Vec::new()).unwrap());
    let found = seen(&Bytes::from(part.clone())).unwrap();
    let digest = study.digest().to_owned();
    assert_eq!(found, PartSeen { digest, block: 0, rows: 2, unreached: 1 });
    for cut in [0, 4, part.len() / 2, part.len() - 1] {
        assert_eq!(seen(&Bytes::from(part[..cut].to_vec())), None);
    }
}

#[test]
fn closed_what_a_part_has_beside_its_rows_is_small() {
    let study = study(&PLAN.replace(
        r#""responses": ["cu_percent", "systematic_points"]"#,
        r#""title": "all figures""#,
    ));
    let part = write_part(&study, &study.block(0), &rows(), Vec::new()).unwrap();
    assert!(part.len() < 9_000, "{} bytes for two rows", part.len());
    let mut many = rows();
    many.0 = many.0.iter().cycle().take(600).cloned().collect();
    let more = write_part(&study, &study.block(0), &many, Vec::new()).unwrap();
    assert!((more.len() as f64) / 600.0 < 300.0, "{}", more.len());
}

#[test]
fn closed_columns_have_units_and_words_and_the_table_has_the_rows() {
    let study = study(PLAN);
    let part = write_part(&study, &study.block(0), &rows(), Vec::new()).unwrap();
    let mut all = Gathered::begin(&study, Vec::new(), Vec::new()).unwrap();
    all.add(Bytes::from(part)).unwrap();
    let (count, table, lines) = all.finish().unwrap();
    let reader = SerializedFileReader::new(Bytes::from(table)).unwrap();
    let file = reader.metadata().file_metadata();
    let footer = file.key_value_metadata().unwrap();
    let about = footer.iter().find(|entry| entry.key == "columns").unwrap().value.as_ref().unwrap();
    let about: Vec<Value> = serde_json::from_str(about).unwrap();
    assert_eq!(about.len(), file.schema_descr().num_columns());
    for (said, column) in about.iter().zip(file.schema_descr().columns()) {
        let says = |key: &str| said[key].as_str().unwrap_or_default();
        assert_eq!(says("name"), column.name());
        assert!(!says("unit").is_empty() && says("description").len() > 10, "{said}");
    }
    let lines = String::from_utf8(lines).unwrap();
    let lines: Vec<&str> = lines.lines().collect();
    assert_eq!(
        lines[0],
        "point,alternative,name,season,seed,scenario_sha256,version,reason,warnings,factor_seed,\
         factor_spacing,cu_percent,systematic_points"
    );
    let version = lines[1].split(',').nth(6).unwrap();
    assert!(version.starts_with("0.0.0"));
    assert_eq!(lines[1], format!("1,1,Fixed,5,1,ab12,{version},,,1,60 ft,81.25,"));
    assert_eq!(lines[2], format!("2,,,,2,ab12,{version},beyond reach,,2,60 ft,,"));
    assert_eq!((count, file.num_rows()), (2, 2));
}

#[test]
fn closed_a_part_with_other_columns_is_refused() {
    let study = study(PLAN);
    let gather = |plan: &str| {
        let other = self::study(plan);
        let part = write_part(&other, &other.block(0), &rows(), Vec::new()).unwrap();
        let mut all = Gathered::begin(&study, Vec::new(), Vec::new()).unwrap();
        all.add(Bytes::from(part)).map_err(|error| error.to_string())
    };
    assert_eq!(gather(PLAN), Ok(()));
    let fewer = gather(&PLAN.replace(", \"systematic_points\"", ""));
    assert!(fewer.unwrap_err().contains("a part has 12 columns, the study 13"));
    // Text and numbers change places.
    let (seed, spacing) = (
        r#"{ "pointer": "/seed", "levels": [1, 2] }"#,
        r#"{ "name": "spacing", "pointer": "/outlets/spacing", "levels": ["60 ft"] }"#,
    );
    let kinds = gather(&PLAN.replace(seed, "-").replace(spacing, seed).replace('-', spacing));
    assert!(kinds.unwrap_err().contains("values of another kind"));
}

#[test]
fn closed_the_digest_is_of_plan_points_scenario_and_version_and_of_no_folder() {
    let first = study(PLAN);
    let moved = study(&PLAN.replace("demo.json", "somebody/far/demo.json"));
    assert_eq!(first.digest(), moved.digest());
    assert!(!moved.about().contains("somebody"));
    for (old, new) in [("[1, 2]", "[1, 3]"), ("\"cu_percent\", ", ""), ("60 ft", "50 ft")] {
        assert_ne!(first.digest(), study(&PLAN.replace(old, new)).digest(), "{new}");
    }
}
