//! Plans that are wrong in many ways, or made to keep the program busy: told in plain words, all counted.

use crate::runs::Ran;
use crate::scenarios::put;
use crate::study::{base, begun, plan, study};
use serde_json::{Map, Value, json};
use std::fs;
use std::time::{Duration, Instant};

fn planned(plan: &Value) -> Ran {
    let folder = begun(plan);
    study(folder.path(), &["plan", "plan.json"])
}

#[test]
fn of_many_problems_the_first_are_shown_and_all_are_counted() {
    let mut plan = plan();
    let bad = |unit: &str| -> Vec<String> { (1..=40).map(|n| format!("{n} {unit}")).collect() };
    plan["factors"] = json!([
        { "pointer": "/outlets/spacing", "levels": bad("psi") },
        { "pointer": "/lateral/sprinkler_spacing", "levels": bad("kg") }
    ]);
    let ran = planned(&plan);
    ran.refused(3, &["value \"1 psi\"", "and 30 more", "80 problems in the plan"]);
    assert_eq!(ran.err.matches("error: ").count(), 50);
    // The same of a scenario, of which not even its own reader keeps so many.
    let folder = begun(&crate::study::plan());
    let mut scenario: Map<String, Value> = serde_json::from_str(&base()).unwrap();
    scenario.extend((0..20_000).map(|n| (format!("unknown_{n}"), n.into())));
    put(folder.path(), &json!(scenario).to_string());
    let ran = study(folder.path(), &["plan", "plan.json"]);
    ran.refused(3, &["and 19950 more", "20000 problems in the plan"]);
    assert_eq!(ran.err.matches("error: ").count(), 50);
}

#[test]
fn a_design_that_is_too_large_is_told_before_any_of_it_is_made() {
    let mut plan = plan();
    let levels: Vec<String> = (0..1000).map(|n| format!("{n} ft")).collect();
    let factor =
        |n: usize| json!({ "pointer": format!("/{n}/x"), "name": n.to_string(), "levels": levels });
    plan["factors"] = (0..8).map(factor).collect();
    let begun = Instant::now();
    planned(&plan).refused(3, &["more than 1000000 points", "1 problem in the plan"]);
    assert!(begun.elapsed() < Duration::from_secs(10), "{:?}", begun.elapsed());
    let range = json!({ "low": 1, "high": 2, "steps": 1_000_000_000_000_u64 });
    plan["factors"] = json!([{ "pointer": "/outlets/spacing", "range": range }]);
    planned(&plan).refused(3, &["steps. Expected 2 to 10000"]);
}

#[test]
fn wrong_plans_are_told_in_plain_words() {
    for (text, words) in [
        (
            r#"{"base":"s","replicates":"x"}"#,
            "at /replicates: this is \"x\". Expected a whole number",
        ),
        (r#"{"base":"s","replicates":1.5}"#, "this is 1.5. Expected a whole number"),
        (r#"{"base":"s","factors":{}}"#, "at /factors: this is an object, { … }. Expected a list"),
        (r#"{"replicates":1}"#, "there is no key `base` here, which is needed"),
        (r#"{"base":"s","base":"t"}"#, "the key `base` is given twice"),
        (r#"{"base":"s","factors":[3]}"#, "at /factors/0: this is 3. Expected keys in braces"),
        (
            r#"{"base":"s","factors":[{"pointr":1}]}"#,
            "there is no key `pointr` here. Expected one of name",
        ),
        (r#"{"base":"s","design":"all"}"#, "at /design: this is no design. Expected \"full\""),
        (r#"{"base":"s","design":{}}"#, "this is no design"),
        (r#"{"base":"s","design":"sobol"}"#, "this is no design"),
        (
            r#"{"base":"s","design":{"sobol":"x"}}"#,
            "at /design/sobol: this is \"x\". Expected a whole",
        ),
        ("[]", "this is a list. Expected keys in braces"),
        ("7", "this is 7. Expected keys in braces"),
        ("{", "line 1: "),
        ("", "the plan is empty"),
        (r#"{"base":"s","replicates":-1}"#, "this is -1. Expected a whole number from 1 on"),
    ] {
        let folder = begun(&plan());
        fs::write(folder.path().join("plan.json"), text).unwrap();
        let ran = study(folder.path(), &["plan", "plan.json"]);
        ran.refused(3, &[words, "1 problem in the plan"]);
        for alien in
            ["usize", "invalid type", "invalid value", "struct ", "EOF", "variant", "field"]
        {
            assert!(!ran.err.contains(alien), "{alien} in {}", ran.err);
        }
    }
    let folder = begun(&plan());
    put(folder.path(), "{ \"title\": ");
    study(folder.path(), &["plan", "plan.json"])
        .refused(3, &["scenario.json cannot be read, line 1: "]);
}

#[test]
fn what_a_plan_holds_does_nothing_to_a_terminal() {
    let clean = |ran: &Ran, code: i32| {
        // That no escape is in it is looked at in every run.
        ran.refused(code, &["\u{fffd}"]);
        assert!(!ran.err.contains(|c: char| c.is_control() && c != '\n'), "{:?}", ran.err);
    };
    for odd in ["\u{1b}[31mred", "\u{9b}31mred", "a\nb", "\u{202e}red"] {
        let mut names = plan();
        names["factors"][0]["name"] = odd.into();
        names["factors"][0]["pointer"] = format!("/{odd}/x").into();
        clean(&planned(&names), 3);
        let mut levels = plan();
        levels["factors"][1]["levels"] = json!([odd]);
        levels["responses"] = json!([odd]);
        clean(&planned(&levels), 3);
        let mut key = plan();
        key[odd] = 1.into();
        clean(&planned(&key), 3);
        let mut base = plan();
        base["base"] = odd.into();
        if odd.contains('\n') {
            planned(&base).refused(4, &["cannot read"]);
        } else {
            clean(&planned(&base), 4);
        }
    }
}
