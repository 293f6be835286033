//! The explorer's server as a user starts it: on loopback, until it is stopped.

use crate::runs::{assert_same_files, evenfall, evenfall_in};
use crate::scenarios::{put, small};
use crate::server::{Server, status};
use serde_json::{Value, json};
use std::io::{Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::time::Duration;
use tempfile::TempDir;

#[test]
fn the_explorer_answers_its_own_page_on_loopback_alone() {
    let folder = TempDir::new().unwrap();
    let server = Server::start(folder.path(), &[]);
    let page = server.get("/");
    assert_eq!(status(&page), "200", "{page}");
    assert!(page.contains("content-security-policy: default-src 'none'"), "{page}");
    assert!(server.get("/api/demo").contains("\"evenfall\": 1"));
    let port = server.authority.strip_prefix("127.0.0.1:").unwrap();
    assert_eq!(status(&server.request("GET", "/", &format!("localhost:{port}"), "")), "200");
    for host in ["example.org", &format!("example.org:{port}"), ""] {
        let refused = server.request("GET", "/api/demo", host, "");
        assert!(["403", "400"].contains(&status(&refused)), "{host}: {refused}");
    }
    // Only loopback listens: the machine's other addresses, where it has some, do not answer.
    let any = TcpStream::connect_timeout(
        &format!("127.0.0.2:{port}").parse().unwrap(),
        Duration::from_secs(2),
    );
    assert!(any.is_err(), "it listens on more than 127.0.0.1");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn a_named_scenario_is_what_the_page_starts_from() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let server = Server::start(folder.path(), &["scenario.json"]);
    let start = server.get("/api/start");
    assert!(start.contains("\"from_command_line\":true"), "{start}");
    // The same digest as the check prints: the page and the command speak of one scenario.
    let check = evenfall_in(folder.path(), &["check", "scenario.json"]);
    let digest =
        check.said().lines().find_map(|line| line.strip_prefix("Digest: ")).unwrap().to_owned();
    let body = format!("{{\"scenario\":{}}}", small());
    let checked = server.request("POST", "/api/check", &server.authority, &body);
    assert!(checked.contains(&digest), "{checked}");
}

#[test]
fn a_sheet_is_the_commands_byte_for_byte_as_planned_and_after_a_log() {
    let folder = TempDir::new().unwrap();
    let at = |name: &str| folder.path().join(name);
    let server = Server::start(folder.path(), &[]);
    let scenario: Value = serde_json::from_str(&small()).unwrap();
    let log = json!({
        "evenfall_log": 1,
        "scenario": scenario["title"],
        "alternative": "Two stops",
        "now": "2027-05-12T07:00",
        "events": [
            { "what": "missed", "pass": 1, "outlet": 1 },
            { "what": "breakdown", "from": "2027-05-11T06:00", "to": "2027-05-12T06:30" },
        ],
    })
    .to_string();
    std::fs::write(at("log.json"), &log).unwrap();
    let asked = |more: Value| {
        let mut asked = json!({ "scenario": scenario, "alarm_min": 30 });
        asked.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        asked.to_string()
    };
    for (name, asked, words) in [
        ("planned", asked(json!({ "alternative": 1 })), ["--alternative", "two stops"]),
        ("anew", asked(json!({ "log": log })), ["--log", "log.json"]),
    ] {
        let page = at(&format!("{name}-by-page"));
        server.unpack("/api/sheet", &asked, &page);
        // The text that lies beside the sheet is the one that gives it again.
        std::fs::copy(page.join("scenario.json"), at("scenario.json")).unwrap();
        let by_command = format!("{name}-by-command");
        let sheet = ["sheet", "scenario.json", "--alarm", "30", "--into", &by_command];
        evenfall_in(folder.path(), &[&sheet[..], &words].concat()).said();
        // The page packs the same files; the list of what was written is the folder's own.
        std::fs::remove_file(at(&by_command).join(".evenfall-files")).unwrap();
        assert_same_files(&page, &at(&by_command));
    }
    let anew = |name: &str| std::fs::read_to_string(at(name).join("sheet.html")).unwrap();
    assert_ne!(anew("planned-by-page"), anew("anew-by-page"));
}

#[test]
fn a_scenario_with_problems_is_shown_and_one_that_is_no_json_refused() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), "{ \"evenfall\": 1 }");
    let server = Server::start(folder.path(), &["scenario.json"]);
    assert!(server.get("/api/start").contains("\"from_command_line\":true"));
    put(folder.path(), "{ ");
    evenfall_in(folder.path(), &["explore", "scenario.json"]).refused(3, &["this is not JSON"]);
    evenfall(&["explore", "nowhere.json"]).refused(4, &["nowhere.json"]);
}

#[test]
fn a_port_that_is_taken_is_told_and_by_whom() {
    let folder = TempDir::new().unwrap();
    let server = Server::start(folder.path(), &[]);
    let port = server.authority.strip_prefix("127.0.0.1:").unwrap();
    let ours = format!("an Evenfall explorer (version {})", env!("CARGO_PKG_VERSION"));
    let explore = |port: &str| evenfall(&["explore", "--port", port]);
    explore(port).refused(4, &["cannot listen", &ours, &server.authority, "--port 0"]);
    // Somebody who never answers, and somebody who says anything.
    let silent = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = silent.local_addr().unwrap().port().to_string();
    explore(&port).refused(4, &["cannot listen", "another program uses it", "--port"]);
}

#[test]
fn the_usual_port_is_always_the_same_and_another_one_is_taken_aloud() {
    let folder = TempDir::new().unwrap();
    let port = |server: &Server| server.authority.rsplit_once(':').unwrap().1.parse().unwrap();
    let first = Server::start_as(folder.path(), &[]);
    let mut second = Server::start_as(folder.path(), &[]);
    let ports: [u16; 2] = [port(&first), port(&second)];
    // Somebody else may have the usual one while this runs.
    assert!(ports.iter().all(|port| (21_743..=21_752).contains(port)), "{ports:?}");
    assert_ne!(ports[0], ports[1]);
    let warned = second.warned();
    let taken = format!("This explorer is at port {} instead", ports[1]);
    assert!(warned.starts_with("Port 21743 is taken: ") && warned.contains(&taken), "{warned}");
    assert!(warned.contains("farms are the same at both"), "{warned}");
}

#[test]
fn ctrl_c_ends_it_also_with_a_run_under_way_and_followed() {
    for signal in ["-INT", "-TERM"] {
        let folder = TempDir::new().unwrap();
        let server = Server::start(folder.path(), &["--port", "0"]);
        let demo = server.get("/api/demo");
        let (_, scenario) = demo.split_once("\r\n\r\n").unwrap();
        let body = format!("{{\"scenario\":{scenario},\"kind\":\"worth\",\"seasons\":5000}}");
        let started = server.request("POST", "/api/runs", &server.authority, &body);
        assert_eq!(status(&started), "201", "{started}");
        let run = started.split('"').rev().nth(1).unwrap().to_owned();
        let mut events = TcpStream::connect(&server.authority).unwrap();
        let head = format!("GET /api/runs/{run}/events HTTP/1.1\r\nHost: {}", server.authority);
        write!(events, "{head}\r\nCookie: {}\r\n\r\n", server.cookie).unwrap();
        let mut first = [0; 64];
        events.read_exact(&mut first).unwrap();
        let (ran, took) = server.end(signal);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{signal}");
        assert!(took < Duration::from_secs(20), "{signal} took {took:?}");
        let mut rest = String::new();
        events.read_to_string(&mut rest).unwrap();
        assert!(rest.contains("event: canceled"), "{rest}");
    }
}
