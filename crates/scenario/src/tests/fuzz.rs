//! Readers with files changed by chance: whatever they hold, they are read or refused in words, soon, and
//! nothing of them gets at a terminal.
//!
//! The corpus is `data/corpus` and the examples of `data/`; changes keep the structure (a value for
//! another, a line twice, two files in one) or break it (bytes, ends). Each input follows from a target
//! and a seed: `EVENFALL_SEED=17 EVENFALL_SEEDS=1 cargo test --workspace --lib -- fuzz` tries it again.
//! Long runs are a recipe of DEVELOPERS.md.

use crate::survey_table::{self, Surveyed};
use crate::tests::helpers::good;
use crate::weather::{csv, days, epw, tmy3};
use crate::{Carried, boundary_text, catch, read_log, resolve};
use evenfall_core::season;
use serde_json::{Value, json};
use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// No input may take longer, on a machine with other work.
const LONGEST: Duration = Duration::from_secs(10);

/// Chance by seed: `SplitMix64` (Steele, Lea and Flood 2014; constants from memory).
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((bits ^ (bits >> 31)) % end.max(1) as u64) as usize
    }
    fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// What people, programs and other people's programs write where something else is meant.
const WORDS: [&str; 48] = [
    "",
    " ",
    "0",
    "-0",
    "1",
    "-1",
    "1e308",
    "-1e308",
    "1e-320",
    "NaN",
    "inf",
    "18446744073709551615",
    "-9223372036854775808",
    "0.1",
    "1,5",
    "1.234.567",
    "12 ft",
    "12'",
    "5 psi",
    "3 m/s",
    "1/2 in",
    "7-foot",
    "100 %",
    "2027-05-10T06:00",
    "2027-02-30T25:61",
    "9999-12-31T23:00",
    "0000-01-01T00:00",
    "24:00",
    "6 am",
    "null",
    "true",
    "{}",
    "[]",
    "\"",
    "\\u0000",
    "\u{202e}",
    "\u{1b}[2J",
    "é",
    "𝄞",
    "\u{feff}",
    "Fixed",
    "../../etc/passwd",
    "/dev/zero",
    "a\nb",
    ",,,,",
    ";",
    "\t",
    "=1+1",
];

fn data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data")
}

/// Files of `data/` whose name ends so and holds one of these words.
fn corpus(ending: &str, words: &[&str]) -> Vec<Vec<u8>> {
    let mut found = Vec::new();
    let mut folders = vec![data()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.to_string_lossy().to_lowercase();
            if path.is_dir() {
                folders.push(path);
            } else if name.ends_with(ending) && words.iter().any(|word| name.contains(word)) {
                found.push((name, fs::read(path).unwrap()));
            }
        }
    }
    // The order of a folder is not the same everywhere.
    found.sort();
    assert!(!found.is_empty(), "no corpus for {ending} {words:?}");
    found.into_iter().map(|(_, bytes)| bytes).collect()
}

/// The same file with a few changes.
fn changed(chance: &mut Chance, corpus: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = chance.one_of(corpus).clone();
    // A year of weather is cut to some of its hours, so that more inputs are tried.
    bytes.truncate(40_000);
    for _ in 0..=chance.below(4) {
        change(chance, &mut bytes, corpus);
    }
    bytes
}

fn change(chance: &mut Chance, bytes: &mut Vec<u8>, corpus: &[Vec<u8>]) {
    let (from, to) = span(chance, bytes);
    match chance.below(9) {
        // A cell, a value or a key for another.
        0..=3 => {
            let word = chance.one_of(&WORDS).as_bytes().to_vec();
            drop(bytes.splice(from..to, word));
        }
        4 => {
            let twice = bytes[from..to].repeat(1 + chance.below(40));
            drop(bytes.splice(to..to, twice));
        }
        5 => drop(bytes.drain(from..to)),
        6 => {
            let other = chance.one_of(corpus);
            let (start, end) = span(chance, other);
            let part = other[start..end].to_vec();
            drop(bytes.splice(from..from, part));
        }
        7 => {
            if let Some(byte) = bytes.get_mut(from) {
                *byte = chance.below(256) as u8;
            }
        }
        _ => bytes.truncate(from),
    }
}

/// A part of a text between two of its signs, or a line.
fn span(chance: &mut Chance, bytes: &[u8]) -> (usize, usize) {
    let is_sign = |byte: &u8| b",;:\"[]{}\n\t".contains(byte);
    let is_end = |byte: &u8| *byte == b'\n';
    let by_line = chance.below(3) == 0;
    let start = chance.below(bytes.len());
    let next = |from: usize| {
        let rest = bytes.get(from..).unwrap_or_default();
        let found = rest.iter().position(|byte| if by_line { is_end(byte) } else { is_sign(byte) });
        found.map_or(bytes.len(), |at| from + at)
    };
    let from = (next(start) + 1).min(bytes.len());
    (from, next(from))
}

/// A scenario with values of it replaced, the rest being sound: deeper than bytes get.
fn scenario(chance: &mut Chance, corpus: &[Vec<u8>]) -> String {
    let bytes = chance.one_of(corpus);
    let mut value: Value = serde_json::from_slice(bytes).unwrap();
    for _ in 0..=chance.below(3) {
        let mut pointers = Vec::new();
        all(&value, "", &mut pointers);
        let at = chance.one_of(&pointers).clone();
        let other = chance.one_of(&pointers).clone();
        let other = value.pointer(&other).cloned().unwrap_or_default();
        let word = *chance.one_of(&WORDS);
        let Some(place) = value.pointer_mut(&at) else { continue };
        *place = match chance.below(6) {
            0 => json!(word),
            1 => serde_json::from_str(word).unwrap_or(json!(-1)),
            2 => other,
            3 => json!([place.clone(), place.clone()]),
            4 => scaled(place, chance),
            _ => json!({ word: place.clone() }),
        };
    }
    value.to_string()
}

/// A quantity times some factor.
fn scaled(place: &Value, chance: &mut Chance) -> Value {
    let factor = *chance.one_of(&[0.0, 0.5, 0.99, 1.01, 2.0, 10.0, 100.0, -1.0, 1e-3]);
    match place {
        Value::Number(number) => json!(number.as_f64().unwrap_or(1.0) * factor),
        Value::String(text) => {
            let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
            number.parse::<f64>().map_or(place.clone(), |n| json!(format!("{} {unit}", n * factor)))
        }
        other => other.clone(),
    }
}

fn all(value: &Value, at: &str, found: &mut Vec<String>) {
    found.push(at.to_owned());
    let below: Vec<(String, &Value)> = match value {
        Value::Object(entries) => entries.iter().map(|(key, one)| (key.clone(), one)).collect(),
        Value::Array(items) => {
            items.iter().enumerate().map(|(n, one)| (n.to_string(), one)).collect()
        }
        _ => Vec::new(),
    };
    for (key, one) in below {
        all(one, &format!("{at}/{key}"), found);
    }
}

fn from_environment(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// Tries as many inputs as asked for; `one` gives what is said of the input made by `Chance`.
fn tried(target: &str, inputs: u64, one: impl Fn(&mut Chance) -> String) {
    let first = from_environment("EVENFALL_SEED", 1);
    for seed in first..first + from_environment("EVENFALL_SEEDS", inputs) {
        let begun = Instant::now();
        let said = catch_unwind(AssertUnwindSafe(|| one(&mut Chance(seed))));
        let said = said.unwrap_or_else(|_| panic!("{target}, seed {seed}: see above"));
        let hidden = |letter: &char| letter.is_control() && *letter != '\n';
        let found = said.chars().find(hidden);
        assert_eq!(found, None, "{target}, seed {seed}: it reaches a terminal: {said:?}");
        assert!(said.len() < 300_000, "{target}, seed {seed}: {} bytes are said", said.len());
        assert!(begun.elapsed() < LONGEST, "{target}, seed {seed}: {:?}", begun.elapsed());
    }
}

/// Any file that a scenario names is one of the corpus.
fn beside(name: &str) -> Result<Vec<u8>, String> {
    let plain = name.rsplit('/').next().unwrap_or_default();
    for folder in ["hand-move", "survey", "greensboro", "corpus", "catch"] {
        if !plain.is_empty()
            && let Ok(bytes) = fs::read(data().join(folder).join(plain))
        {
            return Ok(bytes);
        }
    }
    Err("it is not there".to_owned())
}

/// Reads a scenario, and plans its season where it is sound.
fn read_scenario(text: &str) -> String {
    match resolve(text, &beside) {
        Ok(resolved) => {
            let plans = season::plans(&resolved.scenario);
            let told =
                plans.map_or_else(|error| error.to_string(), |plans| plans.len().to_string());
            resolved.warnings.join("\n") + &told
        }
        Err(problems) => problems.to_string(),
    }
}

#[test]
fn fuzz_scenarios_with_values_by_chance() {
    let corpus = corpus(".json", &["demo", "hand-move", "pipes", "orders", "survey", "scenario-"]);
    tried("scenario values", 250, |chance| read_scenario(&scenario(chance, &corpus)));
}

#[test]
fn fuzz_scenarios_with_bytes_by_chance() {
    let corpus = corpus(".json", &["demo", "hand-move", "pipes", "orders", "survey", "scenario-"]);
    tried("scenario bytes", 250, |chance| {
        read_scenario(&String::from_utf8_lossy(&changed(chance, &corpus)))
    });
}

#[test]
fn fuzz_logs_and_tables() {
    let demo = crate::tests::helpers::demo_with(|demo| {
        demo["alternatives"][1]["name"] = "Two stops".into();
    });
    let demo = good(&demo).scenario;
    for (ending, word) in [(".json", "log-"), (".csv", "log-")] {
        let corpus = corpus(ending, &[word]);
        tried("log", 250, |chance| {
            let text = String::from_utf8_lossy(&changed(chance, &corpus)).into_owned();
            match read_log(&text, &demo) {
                Ok(log) => log.warnings.join("\n"),
                Err(problems) => problems.to_string(),
            }
        });
    }
}

#[test]
fn fuzz_weather() {
    let hourly = corpus(".csv", &["weather-", "723170"]);
    tried("weather", 600, |chance| {
        let bytes = changed(chance, &hourly);
        let told = [
            csv::read(&bytes, 10.0, chance.below(2) == 0).err(),
            tmy3::read(&bytes, 10.0).err(),
            epw::read(&bytes, 10.0, true).err(),
        ];
        // What a scenario says of them goes through its problems, which make it harmless.
        let told = told.into_iter().flatten().map(|error| error.to_string());
        crate::issue::harmless(told.collect::<Vec<_>>().join(" "))
    });
    let daily = corpus(".csv", &["days-"]);
    tried("days", 600, |chance| {
        let bytes = changed(chance, &daily);
        let column =
            if chance.below(2) == 0 { days::DayColumn::Rain } else { days::DayColumn::Et0 };
        let told = days::read(&bytes, column).err().map(|error| error.to_string());
        crate::issue::harmless(told.unwrap_or_default())
    });
}

#[test]
fn fuzz_catch_tests_and_surveys() {
    let cans = corpus(".csv", &["catch/", "catch-"]);
    tried("catch", 600, |chance| {
        let read = catch::read(&changed(chance, &cans), "a test");
        read.err().map_or_else(String::new, |problems| problems.to_string())
    });
    let surveys = corpus(".csv", &["survey"]);
    tried("survey", 600, |chance| {
        let of = Surveyed { sprinklers: 33, nominal_bore_m: Some(0.0036) };
        let table = survey_table::read(&changed(chance, &surveys), of);
        assert!(table.readings.len() <= 33);
        String::new()
    });
}

#[test]
fn fuzz_boundaries_and_pages() {
    let edges = corpus(".geojson", &["boundary"]);
    tried("boundary", 600, |chance| {
        let bytes = changed(chance, &edges);
        let told =
            boundary_text(&bytes, None).map_or_else(|all| all.join(" "), |found| found.system);
        crate::issue::harmless(told)
    });
    let files = [("a.csv".to_owned(), "b".to_owned())].into();
    let carried = Carried { scenario: crate::demo().to_owned(), files, ..Carried::default() };
    let (id, block) = (crate::carried::CARRIED_ID, carried.to_block());
    let page =
        format!("<html><script type=\"application/json\" id=\"{id}\">{block}</script></html>");
    let page = vec![page.into_bytes()];
    tried("page", 300, |chance| {
        let text = String::from_utf8_lossy(&changed(chance, &page)).into_owned();
        Carried::of_page(&text).and_then(Result::err).unwrap_or_default()
    });
}
