//! Wrong words on the command line: exit code 2, the option named, nothing done.

use crate::runs::evenfall;

#[track_caller]
fn wrong(words: &[&str], told: &[&str]) {
    evenfall(words).refused(2, told);
}

/// A wheel with one option changed or added.
fn wheel<'a>(name: &'a str, value: &'a str) -> Vec<&'a str> {
    let mut words = vec!["stops", "--travel", "20 ft", "--spacing", "60 ft", "--reach", "25 ft"];
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
    wrong(&["overlap", "--shape", "conical", "--diameter", "90 ft"], &["conical", "triangular"]);
}

#[test]
fn numbers_out_of_range_are_refused() {
    wrong(&["--threads", "0"], &["--threads"]);
    wrong(&["--threads", "65535"], &["--threads", "256"]);
    wrong(&["season", "--seed", "1.5"], &["--seed"]);
    wrong(&["season", "--seed=-1"], &["--seed"]);
    wrong(&wheel("--outlets", "0"), &["--outlets"]);
    wrong(&["overlap", "--shape", "uniform", "--diameter", "90 ft", "--cells", "3"], &["--cells"]);
}

#[test]
fn quantities_of_the_wrong_kind_or_size_are_refused_by_name() {
    wrong(&wheel("--travel", "60 psi"), &["--travel \"60 psi\"", "a length", "a pressure"]);
    wrong(&wheel("--travel", "20"), &["--travel", "unit is missing"]);
    wrong(&wheel("--travel", "twenty feet"), &["--travel", "begins with a number"]);
    wrong(&wheel("--travel", "NaN ft"), &["--travel", "not finite"]);
    wrong(&wheel("--spacing", "60 fet"), &["--spacing", "`fet` is not known"]);
    wrong(&wheel("--reach", "1 mi"), &["--reach", "0 m to 100 m"]);
    wrong(&wheel("--levelers", "15 ft"), &["--levelers", "an angle", "a length"]);
    let negative = ["stops", "--travel=-20 ft", "--spacing=60 ft", "--reach=25 ft"];
    wrong(&negative, &["--travel", "0.5 m to 30 m"]);
    let sinkage = ["stops", "--diameter", "76 in", "--sinkage", "90 %", "--spacing", "60 ft"];
    wrong(&[&sinkage[..], &["--reach", "25 ft"]].concat(), &["--sinkage", "0 % to 20 %"]);
    wrong(&["overlap", "--shape", "uniform", "--diameter", "0 ft"], &["--diameter", "1 m"]);
    let fine = ["overlap", "--shape", "uniform", "--diameter", "9 ft", "--along", "1 m"];
    wrong(&fine, &["--cells 90", "at most 50"]);
}

#[test]
fn half_a_wheel_is_refused() {
    wrong(&["stops", "--travel", "20 ft"], &["--spacing", "--reach"]);
    wrong(&["stops", "--spacing", "60 ft"], &["--travel", "--diameter"]);
    wrong(&["stops", "--sinkage", "3 %"], &["--diameter"]);
    wrong(&wheel("--diameter", "76 in"), &["--travel", "--diameter"]);
    let mut with_scenario = wheel("--outlets", "22");
    with_scenario.push("scenario.json");
    wrong(&with_scenario, &["--travel", "[SCENARIO]"]);
}
