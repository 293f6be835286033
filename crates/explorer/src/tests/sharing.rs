//! What computations leave each other: places, memory, and an end when nobody waits for them.

use super::helpers::{delete, finished, follow, get, long, post, server, small, start};
use serde_json::{Value, json};
use std::time::{Duration, Instant};

fn season(scenario: &Value) -> Value {
    json!({ "scenario": scenario, "kind": "season" })
}

#[tokio::test(flavor = "multi_thread")]
async fn what_nobody_waits_for_any_more_stops_and_gives_its_place_back() {
    let server = server();
    let mut heavy = long();
    heavy["season"]["passes"] = json!(1000);
    let asked = json!({ "scenario": heavy, "coarser": 1 });
    // More askers than places, each gone before its answer.
    for _ in 0..6 {
        let gone =
            tokio::time::timeout(Duration::from_millis(300), post(&server, "/api/preview", &asked));
        assert!(gone.await.is_err(), "too quick to judge by");
    }
    let begun = Instant::now();
    post(&server, "/api/check", &json!({ "scenario": small() })).await.expect(200);
    // Each of them alone would compute for a minute or more.
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}

#[tokio::test]
async fn a_run_whose_page_is_gone_is_canceled_and_one_that_is_followed_is_not() {
    let server = server();
    let left = start(&server, &season(&long())).await;
    let followed = start(&server, &season(&long())).await;
    let follower = tokio::spawn({
        let (server, run) = (server.clone(), followed.clone());
        async move { follow(&server, &run).await }
    });
    tokio::task::yield_now().await;
    tokio::time::sleep(Duration::from_millis(200)).await;
    tokio::time::pause();
    for _ in 0..15 {
        tokio::time::advance(crate::limits::ABANDONED / 12).await;
        for _ in 0..10 {
            tokio::task::yield_now().await;
        }
    }
    tokio::time::resume();
    get(&server, &format!("/api/runs/{left}")).await.refused(404, "no such run");
    get(&server, &format!("/api/runs/{followed}")).await.expect(200);
    follower.abort();
    delete(&server, &format!("/api/runs/{followed}")).await.expect(204);
}

#[tokio::test]
async fn a_small_season_does_not_wait_for_large_ones() {
    let server = server();
    let mut large = long();
    // 1333 × 1200 cells of three ways: over the 128 MB up to which a season is small.
    large["field"]["cell"] = json!("0.3 ft");
    let mut others = Vec::new();
    for _ in 0..3 {
        others.push(start(&server, &season(&large)).await);
    }
    let begun = Instant::now();
    finished(&server, &season(&small())).await;
    let asked = json!({ "scenario": small(), "coarser": 4 });
    post(&server, "/api/preview", &asked).await.expect(200);
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
    for run in others {
        delete(&server, &format!("/api/runs/{run}")).await.expect(204);
    }
}
