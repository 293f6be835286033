//! Readers with files changed by chance: whatever they hold, they are read or refused in words, soon, and
//! nothing of them gets at a terminal.
//!
//! The corpus is `data/corpus` and the examples of `data/`; changes keep the structure (a value for
//! another, a line twice, two files in one) or break it (bytes, ends). Each input follows from a target
//! and a seed: `EVENFALL_SEED=17 EVENFALL_SEEDS=1 cargo test --workspace --lib -- fuzz` tries it again.
//! Long runs are a recipe of DEVELOPERS.md.

mod chance;
mod targets;

use chance::Chance;
use std::fs;
use std::io::Write as _;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};
use targets::TARGETS;

/// No input may take longer, on a machine with other work.
const LONGEST: Duration = Duration::from_secs(10);
/// Nor may all of them together ever hold more.
const MOST_MB: u64 = 1_000;

fn from_environment(name: &str) -> Option<u64> {
    std::env::var(name).ok().and_then(|text| text.parse().ok())
}

/// What many inputs took.
#[derive(Default)]
struct Tally {
    inputs: u64,
    slowest: Duration,
    slowest_seed: u64,
}

/// Tries inputs by seed until so many are tried or the time is over.
fn tried(target: &str, seeds: u64, until: Option<Instant>) -> Tally {
    let (.., make) = TARGETS.iter().find(|(name, ..)| *name == target).unwrap();
    let one = make();
    let first = from_environment("EVENFALL_SEED").unwrap_or(1);
    let mut tally = Tally::default();
    for seed in first..first + seeds {
        let begun = Instant::now();
        if until.is_some_and(|until| begun > until) {
            break;
        }
        let said = catch_unwind(AssertUnwindSafe(|| one(&mut Chance(seed))));
        let took = begun.elapsed();
        let said = said.unwrap_or_else(|_| panic!("{target}, seed {seed}: see above"));
        let hidden = |letter: &char| letter.is_control() && *letter != '\n';
        let found = said.chars().find(hidden);
        assert_eq!(found, None, "{target}, seed {seed}: it reaches a terminal: {said:?}");
        assert!(said.len() < 300_000, "{target}, seed {seed}: {} bytes are said", said.len());
        assert!(took < LONGEST, "{target}, seed {seed}: {took:?}");
        tally.inputs += 1;
        if took > tally.slowest {
            (tally.slowest, tally.slowest_seed) = (took, seed);
        }
    }
    tally
}

/// The most memory that this program has held so far, MB, where the system tells it.
fn most_mb() -> Option<u64> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    Some(line.trim().trim_end_matches("kB").trim().parse::<u64>().ok()?.div_ceil(1024))
}

#[test]
fn fuzz_every_reader_for_a_while() {
    for (target, inputs, _) in TARGETS {
        tried(target, from_environment("EVENFALL_SEEDS").unwrap_or(inputs), None);
    }
}

/// `EVENFALL_TARGETS` (names with commas; all without it), each for `EVENFALL_SECONDS` or until
/// `EVENFALL_SEEDS` inputs are tried, from `EVENFALL_SEED` on.
#[test]
#[ignore = "as long as one likes: the recipe is in DEVELOPERS.md"]
fn fuzz_readers_for_long() {
    let asked = std::env::var("EVENFALL_TARGETS").unwrap_or_default();
    let is_asked = |name: &str| asked.is_empty() || asked.split(',').any(|one| one.trim() == name);
    let seeds = from_environment("EVENFALL_SEEDS").unwrap_or(1 << 40);
    let seconds = from_environment("EVENFALL_SECONDS").unwrap_or(60);
    let mut failed = Vec::new();
    for (target, ..) in TARGETS.iter().filter(|(name, ..)| is_asked(name)) {
        let begun = Instant::now();
        let until = begun + Duration::from_secs(seconds);
        let say = |told: String| drop(writeln!(std::io::stderr(), "{target}: {told}"));
        match catch_unwind(AssertUnwindSafe(|| tried(target, seeds, Some(until)))) {
            Ok(Tally { inputs, slowest, slowest_seed }) => say(format!(
                "{inputs} inputs in {:.0} s; the slowest, seed {slowest_seed}, {slowest:?}; {:?} MB \
                 at the most",
                begun.elapsed().as_secs_f64(),
                most_mb()
            )),
            Err(_) => failed.push(*target),
        }
    }
    assert!(failed.is_empty(), "{failed:?}");
    assert!(most_mb().is_none_or(|most_mb| most_mb < MOST_MB), "{:?} MB", most_mb());
}
