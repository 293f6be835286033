//! The picture of a scenario: edges, ways that differ in more than their stops, problems in some.

use super::helpers::{post, server, small};
use serde_json::{Value, json};

async fn laid_out(scenario: &Value) -> Value {
    post(&server(), "/api/layout", &json!({ "scenario": scenario })).await.expect(200).json()
}

fn feet(value: &Value) -> f64 {
    (value.as_f64().unwrap() / 0.3048 * 10.0).round() / 10.0
}

/// Place and role of every set of a pass.
fn sets(way: &Value, pass: usize) -> Vec<(f64, &str)> {
    let sets = way["passes"][pass]["sets"].as_array().unwrap();
    sets.iter().map(|set| (feet(&set["y_m"]), set["role"].as_str().unwrap())).collect()
}

#[tokio::test]
async fn held_and_extra_sets_are_told_where_they_really_stand() {
    let mut edges = small();
    edges["alternatives"][1]["edges"] = json!("hold");
    edges["alternatives"][2]["edges"] = json!("extra set");
    edges["alternatives"][2]["equipment"] = json!({ "joints": 2 });
    let told = laid_out(&edges).await;
    // Outlets 60 ft apart from 30 ft on, pass 2 one turn of 20 ft ahead.
    let inner = [(110.0, "shifted"), (170.0, "shifted"), (230.0, "shifted"), (290.0, "shifted")];
    let held = sets(&told["alternatives"][1], 1);
    assert_eq!((held[0], held[5]), ((30.0, "held"), (330.0, "held")));
    assert_eq!(held[1..5], inner);
    let extra = sets(&told["alternatives"][2], 1);
    assert_eq!(extra[..2], [(10.0, "extra"), (50.0, "shifted")]);
    assert_eq!(extra.len(), 7);
    // Not shifted, nothing is treated.
    assert!(sets(&told["alternatives"][2], 0).iter().all(|(_, role)| *role == "shifted"));
}

#[tokio::test]
async fn each_way_is_laid_out_with_its_own_wheel_outlets_and_pipe() {
    let mut own = small();
    own["alternatives"][1]["wheel"] = json!({ "outside_diameter": "64 in" });
    own["alternatives"][1]["rotation"] = json!(["0 ft", "1 turn"]);
    own["alternatives"][2]["outlets"] = json!({ "spacing": "40 ft", "first": "20 ft" });
    own["alternatives"][2]["lateral"] = json!({ "sprinklers": 12, "sprinkler_spacing": "30 ft" });
    let told = laid_out(&own).await;
    let [common, wheel, outlets] = [0, 1, 2].map(|way| &told["alternatives"][way]);
    // π · 64 in.
    assert_eq!(feet(&wheel["travel_per_turn_m"]), 16.8);
    assert_eq!(feet(&wheel["rotation"][1]["across_m"]), 16.8);
    assert_eq!(common["outlets_y_m"].as_array().unwrap().len(), 6);
    assert_eq!(outlets["outlets_y_m"].as_array().unwrap().len(), 9);
    assert_eq!(outlets["sprinklers_x_m"].as_array().unwrap().len(), 12);
    assert_eq!(feet(&outlets["sprinklers_x_m"][1]) - feet(&outlets["sprinklers_x_m"][0]), 30.0);
    // As `evenfall stops` prints it: four turns of 16.755 ft are 67.02 ft.
    let fact =
        |way: &Value, index: usize| way["wheel"][index]["value"].as_str().unwrap().to_owned();
    assert_eq!((fact(wheel, 0), fact(wheel, 1)), ("4".to_owned(), "7.02 ft".to_owned()));
    assert_eq!(fact(common, 1), "0.00 ft");
}

#[tokio::test]
async fn a_way_that_cannot_stand_as_asked_is_told_where_it_could() {
    let mut bad = small();
    bad["alternatives"][1]["wheel"] = json!({ "travel_per_turn": "15 ft" });
    let told = laid_out(&bad).await;
    assert_eq!(told["ok"], json!(false));
    let problems = told["problems"].as_array().unwrap();
    assert_eq!(problems[0]["pointer"], "/alternatives/1/rotation/1");
    assert_eq!(feet(&told["field"]["across_m"]), 360.0);
    let [fixed, bad, three] = [0, 1, 2].map(|way| &told["alternatives"][way]);
    assert_eq!((&bad["rotation"], &bad["passes"]), (&json!([]), &json!([])));
    let stops = bad["stops"].as_array().unwrap();
    let possible: Vec<f64> = stops
        .iter()
        .filter(|stop| stop["reachable"] == true)
        .map(|stop| feet(&stop["across_m"]))
        .collect();
    assert_eq!(possible, [-15.0, 0.0, 15.0]);
    // The others stand as before.
    assert_eq!(fixed["passes"].as_array().unwrap().len(), 6);
    assert_eq!(three["rotation"].as_array().unwrap().len(), 3);
}

#[tokio::test]
async fn nothing_is_laid_out_where_what_is_common_is_wrong() {
    let mut bad = small();
    bad["outlets"]["reach"] = json!("far");
    let told = laid_out(&bad).await;
    assert_eq!((&told["ok"], &told["field"]), (&json!(false), &Value::Null));
    assert!(told["alternatives"].as_array().unwrap().iter().all(Value::is_null));
    bad["alternatives"] = json!("none");
    assert_eq!(laid_out(&bad).await["alternatives"], json!([]));
    bad["alternatives"] = json!([7, { "rotation": 3 }]);
    assert_eq!(laid_out(&bad).await["alternatives"], json!([null, null]));
}
