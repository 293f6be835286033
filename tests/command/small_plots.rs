//! Small legal plots by chance through every command: a garden, a field of one set, a line longer than
//! its field. Each is computed or refused in words; nothing panics and no number is none.
//!
//! A plot follows from its seed: `EVENFALL_SEED=17 EVENFALL_SEEDS=1 cargo test --test command small_plots`
//! tries one again, with more seeds it goes on from there.

use crate::runs::{Ran, command, files};
use crate::scenarios::{demo_with, put};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

/// Chance by seed: `SplitMix64` (Steele, Lea and Flood 2014; constants from memory).
struct Chance(u64);

impl Chance {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((bits ^ (bits >> 31)) % end as u64) as usize
    }
    fn one_of<T: Clone>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())].clone()
    }
}

/// A plot that the table of limits allows, as far as one key goes.
fn plot(seed: u64) -> String {
    let mut chance = Chance(seed);
    demo_with(|demo| {
        let sprinklers = 1 + chance.below(5);
        let spacing_ft = chance.one_of(&[10, 20, 30, 40]);
        let outlet_ft = chance.one_of(&[20, 30, 40, 60]);
        let outlets = 1 + chance.below(4);
        // No field is less than 20 m long or wide.
        let x = (sprinklers * spacing_ft + chance.below(3) * 7).max(66);
        let y = (outlets * outlet_ft + chance.below(3) * 11).max(66);
        demo["field"] = json!({
            "length_along_pipe": format!("{x} ft"),
            "width_across": format!("{y} ft"),
            "travel_bearing": "20 deg",
            "cell": format!("{} ft", chance.one_of(&[2, 5, 10])),
        });
        if chance.below(2) == 0 {
            demo["lateral"]["machine"] = "hand move".into();
            demo.as_object_mut().unwrap().remove("wheel");
        }
        demo["lateral"]["sprinklers"] = sprinklers.into();
        demo["lateral"]["sprinkler_spacing"] = format!("{spacing_ft} ft").into();
        demo["outlets"]["spacing"] = format!("{outlet_ft} ft").into();
        demo["season"]["passes"] = (1 + chance.below(4)).into();
        // A turn of the wheels, or what no wheel stops at.
        let shift = chance.one_of(&[0, 20, 20, outlet_ft / 3]);
        demo["alternatives"] = json!([
            { "name": "Fixed", "rotation": ["0 ft"] },
            { "name": "Moved", "rotation": ["0 ft", format!("{shift} ft")], "equipment": { "joints": 0 } },
        ]);
        if chance.below(3) == 0 {
            let list = demo["alternatives"].as_array_mut().unwrap();
            list.truncate(1);
        }
        if chance.below(3) == 0 {
            // A corner is cut off.
            let corners = [[0, 0], [x, 0], [x, y / 2], [x / 2, y], [0, y]];
            let corners: Vec<Value> = corners
                .iter()
                .map(|[x, y]| json!([format!("{x} ft"), format!("{y} ft")]))
                .collect();
            demo["field"]["boundary"] = json!({ "corners": corners });
        }
        if chance.below(4) == 0 {
            demo["wind"] = json!({ "still": true });
        }
    })
}

/// Every command that computes; seconds each at the most.
const COMMANDS: [&[&str]; 13] = [
    &["check", "scenario.json"],
    &["stops", "scenario.json"],
    &["clock", "scenario.json"],
    &["pressure", "scenario.json"],
    &["maintenance", "scenario.json"],
    &["season", "scenario.json", "--into", "season"],
    &["worth", "scenario.json", "--seasons", "2", "--into", "worth"],
    &[
        "search",
        "scenario.json",
        "--aim",
        "dulq",
        "--seasons",
        "2",
        "--longest-cycle",
        "2",
        "--into",
        "search",
    ],
    &["edges", "scenario.json", "--into", "edges"],
    &["fit", "scenario.json", "--into", "fit"],
    &["tilt", "scenario.json", "--into", "tilt"],
    &["sheet", "scenario.json", "--alternative", "Fixed", "--into", "sheet"],
    &["give", "scenario.json", "--into", "given.html"],
];

/// No text that a person reads holds a number that is none.
fn no_nan(folder: &Path, told: &str) {
    for name in files(folder) {
        let is_read =
            [".json", ".csv", ".html", ".svg", ".ics"].iter().any(|end| name.ends_with(end));
        if !is_read {
            continue;
        }
        let text = fs::read_to_string(folder.join(&name)).unwrap();
        // Scripts and fonts of pages hold the letters by chance; numbers stand by themselves.
        let words = text.split(|letter: char| !letter.is_ascii_alphanumeric());
        let bad = words.into_iter().find(|word| ["NaN", "inf", "Infinity"].contains(word));
        assert_eq!(bad, None, "{told}: {name}");
    }
}

/// How many commands of a plot went well.
fn try_plot(seed: u64, commands: &[&[&str]]) -> usize {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &plot(seed));
    let mut done = 0;
    for words in commands {
        let told = format!("seed {seed}, {words:?}");
        let output = command(folder.path(), words).output().unwrap();
        let ran = std::panic::catch_unwind(|| Ran::of(&output));
        let ran = ran.unwrap_or_else(|_| panic!("{told}: see above"));
        assert!(matches!(ran.code, Some(0 | 2 | 3 | 5)), "{told}: {:?} {}", ran.code, ran.err);
        assert!(ran.code == Some(0) || ran.err.len() > 20, "{told} says nothing");
        let words = ran.out.split(|letter: char| !letter.is_ascii_alphanumeric());
        assert!(
            !words.into_iter().any(|word| word == "NaN" || word == "inf"),
            "{told}: {}",
            ran.out
        );
        done += usize::from(ran.code == Some(0));
        no_nan(folder.path(), &told);
    }
    done
}

fn from_environment(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

fn try_many(seeds: u64) {
    let first = from_environment("EVENFALL_SEED", 1);
    let seeds = first..first + from_environment("EVENFALL_SEEDS", seeds);
    let count = seeds.end - seeds.start;
    let done: usize = seeds.map(|seed| try_plot(seed, &COMMANDS)).sum();
    // Plots that are all refused would try nothing.
    assert!(done > 3 * count as usize, "{done} of {} went well", count as usize * COMMANDS.len());
}

#[test]
fn small_plots_by_chance_are_computed_or_refused_in_words_by_every_command() {
    try_many(4);
}

#[test]
#[ignore = "takes an hour: run it before a release"]
fn five_hundred_small_plots_by_chance() {
    try_many(500);
}
