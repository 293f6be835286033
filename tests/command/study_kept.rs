//! `evenfall study gather`: its cells compute nothing.

use crate::runs::evenfall_in;
use crate::scenarios::put;
use crate::study::{base, begun, lines, plan, run_all, study};
use serde_json::{Value, json};

const GATHER: [&str; 4] = ["gather", "plan.json", "--into", "out"];
#[test]
fn no_cell_of_a_study_or_of_seasons_begins_a_formula() {
    let mut scenario: Value = serde_json::from_str(&base()).unwrap();
    scenario["alternatives"][0]["name"] = "=1+1".into();
    let mut plan = plan();
    let titles = ["=cmd|' /C calc'!A0", "@SUM(1)", "+2+2", "North"];
    plan["factors"] = json!([
        { "name": "title", "pointer": "/title", "levels": titles },
        { "name": "seed", "pointer": "/seed", "levels": [3] }
    ]);
    plan["replicates"] = 1.into();
    let folder = begun(&plan);
    put(folder.path(), &scenario.to_string());
    run_all(folder.path(), "out", 1, "2");
    study(folder.path(), &GATHER).said();
    let rows = lines(&folder.path().join("out/study.csv"));
    for (point, title) in (1..).zip(titles) {
        let own = rows.iter().find(|row| row["point"] == point.to_string()).unwrap();
        let guarded = if title == "North" { title.to_owned() } else { format!("'{title}") };
        assert_eq!(own["factor_title"], guarded);
        assert_eq!((own["name"].as_str(), own["factor_seed"].as_str()), ("'=1+1", "3"));
        assert!(own["cu_percent"].parse::<f64>().is_ok(), "{own:?}");
    }
    let words = ["worth", "scenario.json", "--seasons", "2", "--into", "worth"];
    evenfall_in(folder.path(), &words).said();
    let seasons = lines(&folder.path().join("worth/seasons.csv"));
    assert!(seasons.iter().any(|row| row["name"] == "'=1+1"), "{seasons:?}");
    assert!(seasons.iter().all(|row| !row["name"].starts_with('=')));
}
