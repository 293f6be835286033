//! The page for somebody else: complete, safe, and read again.

use super::helpers::{finished, post, server, small};
use evenfall_scenario::{Carried, resolve};
use serde_json::json;

#[tokio::test]
async fn it_holds_scenario_files_and_report_and_no_name_runs() {
    let server = server();
    let evil = "</script><script>alert(1)</script>";
    let mut field = small();
    field["title"] = json!(format!("Ours {evil}"));
    field["alternatives"][0]["name"] = json!("<img src=x onerror=alert(1)>");
    let asked = json!({ "scenario": field, "files": { "<b>.csv": evil } });
    let (run, told) = finished(&server, &json!({ "scenario": field, "kind": "season" })).await;
    let mut with_report = asked.clone();
    with_report["run"] = json!(run);
    for (asked, has_report) in [(&asked, false), (&with_report, true)] {
        let page = post(&server, "/api/given", asked).await.expect(200).text();
        assert_eq!(page.matches("<script").count(), 1, "the block of data alone");
        assert!(!page.contains("<img src=x"));
        assert_eq!(page.contains("<svg"), has_report);
        assert_eq!(page.contains("No season was calculated"), !has_report);
        assert!(page.contains(env!("CARGO_PKG_VERSION")) && page.contains("Power lines"));
        let carried = Carried::of_page(&page).unwrap().unwrap();
        assert_eq!(carried.files["<b>.csv"], evil);
        let again = resolve(&carried.scenario, &|_: &str| Err("none".to_owned())).unwrap();
        assert_eq!(json!(again.digest), told["digest"]);
    }
    // The report of another scenario does not go along.
    field["season"]["passes"] = json!(5);
    let other = json!({ "scenario": field, "run": run });
    post(&server, "/api/given", &other).await.refused(422, "another scenario");
}
