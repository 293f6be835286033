//! Farms as the page asks for them, kept here in memory: what is sent, what is refused, and to whom.

use super::helpers::{KEY, PORT, cookie, get, post, request, send, server};
use crate::farms::{
    FarmEntry, FarmFail, FarmKept, FarmList, FarmOpened, FarmToKeep, FarmVersion, Farms,
};
use crate::{Start, router};
use axum::Router;
use axum::body::Body;
use axum::http::{Method, Request, header};
use serde_json::{Value, json};
use std::sync::{Arc, Mutex};

/// One farm in memory, `north`; its digest is the number of keeps.
#[derive(Debug, Default)]
struct InMemory(Mutex<Vec<FarmToKeep>>);

impl InMemory {
    fn opened(&self) -> Result<FarmOpened, FarmFail> {
        let all = self.0.lock().unwrap();
        let last = all.last().ok_or_else(|| FarmFail::Unknown("There is no such farm.".into()))?;
        let name = all[0].name.clone();
        let entry = FarmEntry { farm: "north".into(), name, kept_ms: Some(all.len() as u64) };
        let kept = FarmKept { entry, digest: all.len().to_string(), missing: Vec::new() };
        Ok(FarmOpened { kept, scenario: last.scenario.clone(), files: last.files.clone() })
    }
}

impl Farms for InMemory {
    fn list(&self) -> Result<FarmList, FarmFail> {
        let farms = self.opened().map(|opened| vec![opened.kept.entry]).unwrap_or_default();
        Ok(FarmList { folder: "memory".into(), farms, ..FarmList::default() })
    }

    fn open(&self, _: &str) -> Result<FarmOpened, FarmFail> {
        self.opened()
    }

    fn keep(&self, wanted: &FarmToKeep) -> Result<FarmKept, FarmFail> {
        let now = self.0.lock().unwrap().len();
        if now > 0 && wanted.based_on != Some(now.to_string()) {
            return Err(FarmFail::Elsewhere("“North” was changed elsewhere meanwhile.".into()));
        }
        self.0.lock().unwrap().push(wanted.clone());
        self.opened().map(|opened| opened.kept)
    }

    fn copy(&self, _: &str, name: &str) -> Result<FarmKept, FarmFail> {
        Err(FarmFail::Refused(format!("There is a farm called “{name}” already."), "Other.".into()))
    }

    fn rename(&self, _: &str, name: &str) -> Result<FarmKept, FarmFail> {
        self.0.lock().unwrap()[0].name = name.to_owned();
        self.opened().map(|opened| opened.kept)
    }

    fn put_away(&self, _: &str) -> Result<(), FarmFail> {
        self.0.lock().unwrap().clear();
        Ok(())
    }

    fn take_back(&self, _: &str) -> Result<FarmEntry, FarmFail> {
        Err(FarmFail::Disk("The disk is full.".into()))
    }

    fn versions(&self, _: &str) -> Result<Vec<FarmVersion>, FarmFail> {
        let now = self.0.lock().unwrap().len() as u64;
        let one = |n: u64| FarmVersion { version: n.to_string(), kept_ms: n, is_present: n == now };
        Ok((1..=now).rev().map(one).collect())
    }

    fn go_back(&self, _: &str, version: &str) -> Result<FarmOpened, FarmFail> {
        let mut all = self.0.lock().unwrap();
        let at = version.parse::<usize>().ok().and_then(|n| all.get(n.checked_sub(1)?).cloned());
        all.push(at.ok_or_else(|| FarmFail::Unknown("There is no such version.".into()))?);
        drop(all);
        self.opened()
    }
}

fn keeping() -> (Router, Arc<InMemory>) {
    let farms = Arc::new(InMemory::default());
    let start = Start { farms: Some(Arc::<InMemory>::clone(&farms)), ..Start::default() };
    (router(start, PORT, KEY), farms)
}

fn asked(seed: u64, based_on: Option<&str>) -> Value {
    json!({
        "name": "North",
        "farm": based_on.map(|_| "north"),
        "scenario": { "seed": seed, "title": "t" },
        "files": { "wind.csv": "a" },
        "based_on": based_on,
    })
}

#[tokio::test]
async fn a_farm_is_kept_listed_opened_and_gone_back_to() {
    let (server, _) = keeping();
    let empty = get(&server, "/api/farms").await.expect(200).json();
    assert_eq!((&empty["farms"], &empty["folder"]), (&json!([]), &json!("memory")));
    let kept = post(&server, "/api/farms", &asked(1, None)).await.expect(200).json();
    assert_eq!((&kept["farm"], &kept["digest"]), (&json!("north"), &json!("1")));
    let kept = post(&server, "/api/farms", &asked(2, Some("1"))).await.expect(200).json();
    assert_eq!(kept["digest"], "2");
    let opened = get(&server, "/api/farms/north").await.expect(200).json();
    // The order of keys is the one that was sent.
    assert_eq!(opened["scenario"].to_string(), "{\"seed\":2,\"title\":\"t\"}");
    assert_eq!(opened["files"], json!({ "wind.csv": "a" }));
    let versions = get(&server, "/api/farms/north/versions").await.expect(200).json();
    assert_eq!(versions[0], json!({ "version": "2", "kept_ms": 2, "is_present": true }));
    let back = post(&server, "/api/farms/north/versions/1", &json!({})).await.expect(200).json();
    assert_eq!((&back["scenario"]["seed"], &back["kept"]["digest"]), (&json!(1), &json!("3")));
    let named = post(&server, "/api/farms/north/name", &json!({ "name": "West" })).await;
    assert_eq!(named.expect(200).json()["name"], "West");
    post(&server, "/api/farms/north/away", &json!({})).await.expect(204);
    get(&server, "/api/farms/north").await.refused(404, "no such farm");
}

#[tokio::test]
async fn each_refusal_says_what_to_do() {
    let (server, farms) = keeping();
    post(&server, "/api/farms", &asked(1, None)).await.expect(200);
    let conflict = post(&server, "/api/farms", &asked(2, Some("0"))).await.expect(409).json();
    assert!(conflict["hint"].as_str().unwrap().contains("as a copy"), "{conflict}");
    assert_eq!(farms.0.lock().unwrap().len(), 1, "nothing was kept");
    let name = json!({ "name": "West" });
    post(&server, "/api/farms/north/copy", &name).await.refused(422, "called “West” already");
    post(&server, "/api/farms/north/back", &json!({})).await.refused(507, "disk is full");
    post(&server, "/api/farms/north/versions/9", &json!({})).await.refused(404, "no such version");
    post(&server, "/api/farms", &json!({ "scenario": [] })).await.refused(422, "JSON object");
    post(&server, "/api/farms", &json!({ "scenario": {}, "path": "/" })).await.expect(422);
    farms.0.lock().unwrap()[0].scenario = "[ 1 ]".into();
    get(&server, "/api/farms/north").await.refused(422, "not a JSON object");
    // Who keeps none says so.
    let bare = self::server();
    get(&bare, "/api/farms").await.refused(404, "keeps no farms");
    post(&bare, "/api/farms", &asked(1, None)).await.refused(404, "keeps no farms");
}

#[tokio::test]
async fn a_page_from_elsewhere_cannot_write_a_farm() {
    let (server, farms) = keeping();
    let ask = |host: &str, origin: &str, kind: &str| {
        let request = Request::builder().method(Method::POST).uri("/api/farms");
        let request = request.header(header::HOST, host).header(header::ORIGIN, origin);
        let request = request.header(header::CONTENT_TYPE, kind);
        let request = request.header(header::COOKIE, cookie(PORT));
        request.body(Body::from(asked(1, None).to_string())).unwrap()
    };
    let (own, json) = (format!("127.0.0.1:{PORT}"), "application/json");
    for (host, origin) in [
        (own.as_str(), "http://elsewhere.example"),
        (&own, "null"),
        (&own, "http://127.0.0.1:9999"),
        ("elsewhere.example:8123", "http://elsewhere.example:8123"),
    ] {
        send(&server, ask(host, origin, json)).await.refused(403, "explorer's own");
    }
    // What a form elsewhere may send without being asked first is no JSON.
    for kind in ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"] {
        send(&server, ask(&own, &format!("http://{own}"), kind)).await.expect(415);
    }
    for way in ["away", "name", "versions/1"] {
        let request = request(Method::GET, &format!("/api/farms/north/{way}"));
        send(&server, request.body(Body::empty()).unwrap()).await.expect(405);
    }
    assert!(farms.0.lock().unwrap().is_empty(), "something was kept");
    send(&server, ask(&own, &format!("http://{own}"), json)).await.expect(200);
}
