//! A page for somebody else: written, read by the commands again, and refused where it is damaged.

use crate::runs::{evenfall_in, names};
use crate::scenarios::{demo_with, put, small};
use crate::server::Server;
use serde_json::json;
use std::fs;
use tempfile::TempDir;

const EDGE: &str = r#"{ "type": "Polygon", "coordinates": [
    [[0, 0], [320, 0], [320, 200], [160, 360], [0, 360], [0, 0]]
] }"#;

/// A small field with an edge in a file beside it.
fn bounded() -> String {
    let mut field: serde_json::Value = serde_json::from_str(&small()).unwrap();
    field["field"]["boundary"] = json!({ "file": "edge.geojson", "coordinates": "ft" });
    field["title"] = json!("</script><script>alert(1)</script>");
    format!("{field:#}\n")
}

fn digest(folder: &TempDir, name: &str) -> String {
    let said = evenfall_in(folder.path(), &["check", name]).said();
    said.lines().find(|line| line.starts_with("Digest: ")).unwrap().to_owned()
}

#[test]
fn a_given_page_is_whole_in_itself_and_every_command_opens_it_again() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &bounded());
    fs::write(folder.path().join("edge.geojson"), EDGE).unwrap();
    let expected = digest(&folder, "scenario.json");
    let give = |more: &[&str]| {
        let words = ["give", "scenario.json", "--into", "for-you.html"];
        evenfall_in(folder.path(), &[&words, more].concat())
    };
    let said = give(&[]).said();
    assert!(said.contains("for-you.html"), "{said}");
    let page = fs::read_to_string(folder.path().join("for-you.html")).unwrap();
    assert_eq!(page.matches("<script").count(), 1);
    assert!(page.contains("<svg"));
    for held in
        ["default-src &#39;none&#39;", "What was entered", "Power lines", env!("CARGO_PKG_VERSION")]
    {
        assert!(page.contains(held), "{held}");
    }
    for link in ["http://", "https://"] {
        let links = page.matches(&format!("src=\"{link}")).count();
        assert_eq!(links + page.matches(&format!("href=\"{link}")).count(), 0, "{link}");
    }
    // Elsewhere, without the files.
    let other = TempDir::new().unwrap();
    fs::copy(folder.path().join("for-you.html"), other.path().join("x.html")).unwrap();
    assert_eq!(digest(&other, "x.html"), expected);
    evenfall_in(other.path(), &["season", "x.html", "--into", "report"]).said();
    let text = fs::read(other.path().join("report/scenario.json")).unwrap();
    assert_eq!(text, fs::read(folder.path().join("scenario.json")).unwrap());
    assert_eq!(fs::read(other.path().join("report/edge.geojson")).unwrap(), EDGE.as_bytes());
    let server = Server::start(other.path(), &["x.html"]);
    let start = server.json("/api/start");
    assert_eq!((&start["farm"], &start["files"]), (&json!(null), &json!(["edge.geojson"])));
    assert!(server.get("/api/start/file?name=edge.geojson").ends_with(EDGE));
    // What is there stays, unless asked.
    give(&[]).refused(4, &["for-you.html` exists already", "--replace"]);
    assert_eq!(fs::read_to_string(folder.path().join("for-you.html")).unwrap(), page);
    give(&["--replace"]).said();
    assert_eq!(names(folder.path()), ["edge.geojson", "for-you.html", "scenario.json"]);
}

#[test]
fn a_page_reads_nothing_from_the_disk_of_who_opens_it() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &bounded());
    fs::write(folder.path().join("edge.geojson"), EDGE).unwrap();
    evenfall_in(folder.path(), &["give", "scenario.json", "--into", "x.html"]).said();
    let page = fs::read_to_string(folder.path().join("x.html")).unwrap();
    let evil = page.replace("\"files\":{\"edge.geojson\":", "\"files\":{\"other\":");
    assert_ne!(evil, page);
    fs::write(folder.path().join("x.html"), evil).unwrap();
    let ran = evenfall_in(folder.path(), &["check", "x.html"]);
    ran.refused(3, &["edge.geojson", "the page does not hold this file"]);
}

#[test]
fn what_cannot_be_given_or_read_is_told_before_anything_is_written() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &demo_with(|demo| demo["season"]["passes"] = json!(0)));
    let give = |into: &str| evenfall_in(folder.path(), &["give", "scenario.json", "--into", into]);
    give("x.html").refused(3, &["passes"]);
    give("x.txt").refused(2, &["x.txt", ".html"]);
    give("no/such/x.html").refused(4, &["no/such/x.html", "folder is not there"]);
    fs::write(folder.path().join("plain.html"), "<!DOCTYPE html><p>x").unwrap();
    let check = |name: &str| evenfall_in(folder.path(), &["check", name]);
    check("plain.html").refused(4, &["a page without a scenario", "evenfall give"]);
    put(folder.path(), &small());
    give("x.html").said();
    let page = fs::read_to_string(folder.path().join("x.html")).unwrap();
    fs::write(folder.path().join("cut.html"), &page[..page.len() - 100]).unwrap();
    check("cut.html").refused(4, &["cut off", "Ask for the file again"]);
    let explore = evenfall_in(folder.path(), &["explore", "cut.html", "--port", "0"]);
    explore.refused(4, &["cut off"]);
    assert_eq!(names(folder.path()), ["cut.html", "plain.html", "scenario.json", "x.html"]);
}
