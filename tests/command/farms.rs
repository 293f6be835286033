//! Farms that the explorer keeps: in a folder of the user's, whatever the port; and the file that it
//! was started with.

use crate::runs::{evenfall, evenfall_in, files, names};
use crate::scenarios::{demo_at, put, small};
use crate::server::{Server, status};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

fn wanted(name: &str) -> Value {
    json!({ "name": name, "scenario": serde_json::from_str::<Value>(&small()).unwrap() })
}

#[test]
fn a_farm_outlives_the_program_and_its_port_and_other_commands_read_it() {
    let folder = TempDir::new().unwrap();
    let farms = folder.path().join("my farms");
    let words = ["--farms", "my farms"];
    let first = Server::start(folder.path(), &words);
    assert_eq!(first.json("/api/farms")["farms"], json!([]));
    assert!(!farms.exists(), "a look writes nothing");
    let (status, kept) = first.post("/api/farms", &wanted("Home quarter").to_string());
    assert_eq!((status.as_str(), &kept["farm"]), ("200", &json!("home-quarter")), "{kept}");
    let port = first.authority.clone();
    first.end("-INT");
    let second = Server::start(folder.path(), &words);
    assert_ne!(second.authority, port);
    let list = second.json("/api/farms");
    assert_eq!(list["farms"][0]["name"], "Home quarter");
    assert_eq!(list["folder"], json!(farms.canonicalize().unwrap()));
    let opened = second.json("/api/farms/home-quarter");
    assert_eq!(opened["kept"]["digest"], kept["digest"]);
    assert_eq!(opened["scenario"], wanted("")["scenario"]);
    // Plain files: the commands read them, and each version.
    let all = files(&farms);
    let scenarios: Vec<_> = all.iter().filter(|name| name.ends_with("scenario.json")).collect();
    assert_eq!(scenarios.len(), 2, "{all:?}");
    for name in scenarios {
        evenfall_in(&farms, &["check", name]).said();
    }
    assert_eq!(names(folder.path()), ["my farms"]);
}

#[test]
fn a_page_from_elsewhere_cannot_write_and_nobody_can_leave_the_folder() {
    let folder = TempDir::new().unwrap();
    let server = Server::start(folder.path(), &["--farms", "farms"]);
    let body = wanted("../../escaped").to_string();
    let foreign = server.request("POST", "/api/farms", "elsewhere.example", &body);
    assert_eq!(status(&foreign), "403", "{foreign}");
    assert_eq!(names(folder.path()), [""; 0]);
    assert_eq!(server.post("/api/farms", &body).0, "200");
    assert_eq!(names(folder.path()), ["farms"]);
    assert_eq!(names(&folder.path().join("farms")), [".lock", "escaped"]);
    for farm in ["..", "%2e%2e", "..%2f..", "%2fetc", "put-away", "escaped%2fversions"] {
        let answer = server.get(&format!("/api/farms/{farm}"));
        assert_eq!(status(&answer), "404", "{farm}: {answer}");
    }
}

#[test]
fn the_file_that_it_was_started_with_is_kept_in_place_and_nothing_beside_it() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let server = Server::start(folder.path(), &["scenario.json", "--farms", "farms"]);
    let start = server.json("/api/start");
    let this_file = start["farm"].as_str().unwrap();
    let opened = server.json(&format!("/api/farms/{this_file}"));
    let text = fs::read_to_string(folder.path().join("scenario.json")).unwrap();
    let mut asked = wanted("");
    asked["farm"] = json!(this_file);
    asked["scenario"]["title"] = json!("Kept in place");
    // Without what it was based on nothing is overwritten.
    assert_eq!(server.post("/api/farms", &asked.to_string()).0, "409");
    assert_eq!(fs::read_to_string(folder.path().join("scenario.json")).unwrap(), text);
    asked["based_on"] = opened["kept"]["digest"].clone();
    let (status, kept) = server.post("/api/farms", &asked.to_string());
    assert_eq!(status, "200", "{kept}");
    let said = evenfall_in(folder.path(), &["check", "scenario.json"]).said();
    assert!(said.contains("Kept in place"), "{said}");
    assert_eq!(names(folder.path()), ["farms", "scenario.json"]);
    // What was there before is a version, and comes back letter by letter.
    let versions = server.json(&format!("/api/farms/{this_file}/versions"));
    let earlier = versions[1]["version"].as_str().unwrap();
    let back = format!("/api/farms/{this_file}/versions/{earlier}");
    assert_eq!(server.post(&back, "{}").0, "200");
    assert_eq!(fs::read_to_string(folder.path().join("scenario.json")).unwrap(), text);
    // What a browser remembers of one file is never kept as another.
    fs::write(folder.path().join("other.json"), &text).unwrap();
    let other = Server::start(folder.path(), &["other.json", "--farms", "farms"]);
    assert_ne!(other.json("/api/start")["farm"], start["farm"]);
    assert_eq!(other.post("/api/farms", &asked.to_string()).0, "404");
}

#[test]
fn a_folder_that_cannot_hold_farms_is_told() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &demo_at("/season/passes", "2"));
    let asked = ["explore", "--farms", "scenario.json", "--port", "0"];
    evenfall_in(folder.path(), &asked).refused(4, &["scenario.json", "not a folder", "--farms"]);
    let server = Server::start(folder.path(), &["--farms", "/proc/farms"]);
    let (status, told) = server.post("/api/farms", &wanted("Home").to_string());
    assert_eq!(status, "507", "{told}");
    assert!(told["problem"].as_str().unwrap().contains("/proc/farms"), "{told}");
    evenfall(&["explore", "--farm", "x"]).refused(2, &["--farms"]);
}
