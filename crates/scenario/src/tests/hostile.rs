//! Files that are made to keep a reader busy, or to do something to whoever reads what it says.

use super::helpers::{bad, demo_with, good, no_files};
use crate::resolve;
use serde_json::json;
use std::fmt::Write as _;
use std::time::{Duration, Instant};

/// Ample for a machine with other work; before there was a limit, 20,000 keys took two minutes.
const SOON: Duration = Duration::from_secs(20);

/// The demo with `count` keys that nobody knows.
fn with_unknown_keys(count: usize) -> String {
    let mut keys = String::from("{");
    for number in 0..count {
        let _ = writeln!(keys, "\"unknown_key_{number}\": {number},");
    }
    crate::demo().replacen('{', &keys, 1)
}

#[test]
fn closed_of_very_many_problems_fifty_are_shown_and_all_are_counted() {
    let begun = Instant::now();
    let problems = bad(&with_unknown_keys(20_000));
    let told = problems.to_string();
    assert_eq!(problems.count(), 20_000);
    assert!(
        told.ends_with("and 19950 more\n\n20000 problems in scenario"),
        "{}",
        &told[told.len() - 80..]
    );
    assert_eq!(told.matches("there is no key").count(), 50);
    assert!(begun.elapsed() < SOON, "{:?}", begun.elapsed());
    let few = bad(&with_unknown_keys(50)).to_string();
    assert!(few.ends_with("50 problems in scenario") && !few.contains(" more\n"), "{few}");
}

#[test]
fn closed_four_megabytes_of_keys_or_of_one_key_are_refused_soon() {
    let begun = Instant::now();
    let many = with_unknown_keys(120_000);
    assert!(many.len() < crate::limits::MOST_BYTES);
    bad(&many);
    let same = crate::demo().replacen('{', &format!("{{{}", "\"a\": 1,".repeat(400_000)), 1);
    assert!(bad(&same).to_string().contains("given twice"));
    let long = format!("{{ \"{}\": 1 }}", "k".repeat(2_000_000));
    assert!(bad(&long).to_string().len() < 100_000, "a long key is not printed whole");
    assert!(begun.elapsed() < 2 * SOON, "{:?}", begun.elapsed());
}

#[test]
fn closed_brackets_go_no_deeper_than_any_scenario_needs() {
    let deep = |depth: usize| format!("{}1{}", "[".repeat(depth), "]".repeat(depth));
    assert!(bad(&deep(65)).to_string().contains("more than 64 deep"));
    assert!(bad(&deep(64)).to_string().contains("Expected an object"));
    // Brackets in texts are texts.
    let titled = demo_with(|demo| demo["title"] = json!("[".repeat(100) + "\\\"{"));
    good(&titled);
}

#[test]
fn closed_codes_that_terminals_obey_are_never_printed() {
    for text in [
        crate::demo().replacen('{', "{ \"a\\u001b[2Jb\": 1,", 1),
        crate::demo().replacen("\"Fixed", "\"Fixed\\u001b]0;x\\u0007", 1),
        crate::demo().replacen("\"40 ft\"", "\"40 \\u001b[31m ft\"", 1),
    ] {
        let told = resolve(&text, &no_files).err().map(|problems| problems.to_string());
        let told = told.unwrap_or_else(|| panic!("taken: {text}"));
        assert!(!told.contains(['\u{1b}', '\u{7}']), "{told:?}");
        assert!(told.contains("invisible character"), "{told}");
    }
}
