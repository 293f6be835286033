//! Wrong words on the command line: exit code 2, the option named, nothing done.

use crate::runs::evenfall;

#[track_caller]
fn wrong(words: &[&str], told: &[&str]) {
    evenfall(words).refused(2, told);
}

/// A wheel with one option changed or added.
fn wheel<'a>(name: &'a str, value: &'a str) -> Vec<&'a str> {
    let mut words = vec![
        "stops",
        "--travel-per-turn",
        "20 ft",
        "--outlet-spacing",
        "60 ft",
        "--reach",
        "25 ft",
    ];
    match words.iter().position(|word| *word == name) {
        Some(at) => words[at + 1] = value,
        None => words.extend([name, value]),
    }
    words
}

#[test]
fn unknown_words_are_refused() {
    wrong(&["wobble"], &["wobble"]);
    wrong(&["season", "--wobble"], &["--wobble"]);
    wrong(&["season", "one.json", "two.json"], &["two.json"]);
    wrong(&["completions", "wobble"], &["wobble"]);
    wrong(
        &["overlap", "--shape", "conical", "--wetted-diameter", "90 ft"],
        &["conical", "triangular"],
    );
}

#[test]
fn numbers_out_of_range_are_refused() {
    wrong(&["--threads", "0"], &["--threads"]);
    wrong(&["--threads", "65535"], &["--threads", "256"]);
    wrong(&["season", "--seed", "1.5"], &["--seed"]);
    wrong(&["season", "--seed=-1"], &["--seed"]);
    wrong(&wheel("--outlets", "0"), &["--outlets"]);
    wrong(
        &["overlap", "--shape", "uniform", "--wetted-diameter", "90 ft", "--cells", "3"],
        &["--cells"],
    );
}

#[test]
fn quantities_are_read_as_people_write_them_and_two_meanings_are_refused() {
    let plain = evenfall(&wheel("--outlet-spacing", "60 ft")).said();
    for spacing in ["60'", "60’", "720″", "60 ft 0 in", "59 1/1 ft"] {
        assert_eq!(evenfall(&wheel("--outlet-spacing", spacing)).said(), plain, "{spacing}");
    }
    wrong(&wheel("--outlet-spacing", "18,288 m"), &["Did you mean 18.288 m?"]);
    wrong(&wheel("--outlet-spacing", "4-8"), &["a dash between two numbers", "4 ft 8 in"]);
    wrong(&wheel("--outlet-spacing", "1,82,8 m"), &["neither thousands nor decimals"]);
    wrong(&wheel("--outlet-spacing", "$60 ft"), &["currency sign goes with a price"]);
    wrong(&wheel("--outlet-spacing", "south"), &["which is a bearing. Expected a length"]);
    let gain = ["search", "--worthwhile-gain", "1,250 per ha"];
    wrong(&gain, &["--worthwhile-gain", "can be 1250 per ha or 1.250 per ha"]);
}

#[test]
fn quantities_of_the_wrong_kind_or_size_are_refused_by_name() {
    wrong(
        &wheel("--travel-per-turn", "60 psi"),
        &["--travel-per-turn", "60 psi", "a length", "a pressure"],
    );
    wrong(
        &wheel("--travel-per-turn", "20"),
        &["--travel-per-turn", "Travel per turn is 20, without a unit"],
    );
    wrong(
        &wheel("--travel-per-turn", "twenty feet"),
        &["--travel-per-turn", "begins with a number"],
    );
    wrong(&wheel("--travel-per-turn", "NaN ft"), &["--travel-per-turn", "not finite"]);
    wrong(&wheel("--outlet-spacing", "60 fet"), &["--outlet-spacing", "`fet` is not known"]);
    wrong(
        &wheel("--reach", "1 mi"),
        &["--reach", "swing joint is 1 mi. Expected 0 to 0.09321 mi."],
    );
    wrong(&wheel("--leveler-range", "15 ft"), &["--leveler-range", "an angle", "a length"]);
    let negative = ["stops", "--travel-per-turn=-20 ft", "--outlet-spacing=60 ft", "--reach=25 ft"];
    wrong(
        &negative,
        &["--travel-per-turn", "Travel per turn is -20 ft. Expected 3.281 to 49.21 ft."],
    );
    let sinkage = [
        "stops",
        "--outside-diameter",
        "76 in",
        "--slip-and-sinkage",
        "90 %",
        "--outlet-spacing",
        "60 ft",
    ];
    wrong(&[&sinkage[..], &["--reach", "25 ft"]].concat(), &["--slip-and-sinkage", "0 to 30 %"]);
    wrong(
        &["overlap", "--shape", "uniform", "--wetted-diameter", "0 ft"],
        &["--wetted-diameter", "Wetted diameter is 0 ft"],
    );
    let fine = [
        "overlap",
        "--shape",
        "uniform",
        "--wetted-diameter",
        "9 ft",
        "--sprinkler-spacing",
        "1 m",
    ];
    wrong(&fine, &["--cells 90", "at most 50"]);
}

#[test]
fn half_a_wheel_is_refused() {
    wrong(&["stops", "--travel-per-turn", "20 ft"], &["--outlet-spacing", "--reach"]);
    wrong(&["stops", "--outlet-spacing", "60 ft"], &["--travel-per-turn", "--outside-diameter"]);
    wrong(&["stops", "--slip-and-sinkage", "3 %"], &["--outside-diameter"]);
    let mut with_scenario = wheel("--outlets", "22");
    with_scenario.push("scenario.json");
    wrong(&with_scenario, &["--travel-per-turn", "scenario alone"]);
}

#[test]
fn old_names_are_refused_with_the_new_ones_as_the_hint() {
    wrong(&["seek"], &["`seek` is called `search` now"]);
    wrong(&["care", "scenario.json"], &["`care` is called `maintenance` now"]);
    for (command, old, new) in [
        ("search", "--least", "--worthwhile-gain"),
        ("search", "--longest", "--longest-cycle"),
        ("search", "--sinkage", "--slip-and-sinkage"),
        ("search", "--diameter", "--outside-diameter"),
        ("stops", "--travel", "--travel-per-turn"),
        ("stops", "--spacing", "--outlet-spacing"),
        ("stops", "--levelers", "--leveler-range"),
        ("overlap", "--diameter", "--wetted-diameter"),
        ("overlap", "--along", "--sprinkler-spacing"),
        ("catch", "--across", "--outlet-spacing"),
        ("catch", "--level", "--confidence-level"),
        ("worth", "--most-seasons", "--max-seasons"),
        ("worth", "--precision", "--target-precision"),
        ("edges", "--first", "--first-outlet"),
        ("tilt", "--pipe", "--pipe-diameter"),
        ("tilt", "--riser", "--riser-height"),
    ] {
        let hint = format!("`{old}` is called `{new}` now");
        for words in [vec![command, old, "5"], vec![command, &format!("{old}=5")]] {
            wrong(&words, &[&hint]);
        }
    }
    // A word that never was gets no such hint.
    assert!(!evenfall(&["season", "--least", "5"]).err.contains("is called"));
}

#[test]
fn codes_in_words_of_the_command_line_never_reach_a_terminal() {
    // What ran tells of any run: no code among what it said.
    let named = "a\u{1b}]0;title\u{7}\u{9b}31m";
    let sheet = evenfall(&["sheet", "--alternative", named]);
    sheet.refused(2, &["--alternative \"a\u{fffd}]0;title\u{fffd}\u{fffd}31m\""]);
    evenfall(&["worth", "--seasons", "\u{1b}[2J"]).refused(2, &["Number of seasons"]);
    let file = evenfall(&["season", "\u{9b}31m.json"]);
    file.refused(4, &["\u{fffd}31m.json"]);
    assert!(!(sheet.err + &file.err).contains(['\u{9b}', '\u{7}']));
}
