//! Commands that write are killed at any moment: what was there is there, or the new in whole, and the
//! same command then works by itself; of drafts of folders nothing is left.
//!
//! Moments follow from a seed, as far as a machine is the same twice: `EVENFALL_SEED`, `EVENFALL_SEEDS`.

use crate::faults::{QUICK, SLOW, Writes, all, folder, target};
use crate::runs::{command, evenfall_in, names};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt as _, SeedableRng as _};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::thread::sleep;
use std::time::{Duration, Instant};

/// What a command leaves that nobody disturbs, and how long it takes.
struct Undisturbed {
    whole: Vec<(String, Vec<u8>)>,
    took: Duration,
}

fn words_of(of: &Writes, replaces: bool) -> Vec<&'static str> {
    if replaces { [of.words, &["--replace"]].concat() } else { of.words.to_vec() }
}

fn undisturbed(of: &Writes, replaces: bool) -> Undisturbed {
    let home = folder();
    if replaces {
        evenfall_in(home.path(), of.words).said();
    }
    let begun = Instant::now();
    evenfall_in(home.path(), &words_of(of, replaces)).said();
    Undisturbed { took: begun.elapsed(), whole: target(home.path(), of) }
}

/// Runs a command and kills it after a while; whether it was still at work.
fn killed(place: &Path, words: &[&str], after: Duration) -> bool {
    let mut run = command(place, words);
    let mut child = run.stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
    sleep(after);
    let was_at_work = child.try_wait().unwrap().is_none();
    child.kill().unwrap();
    child.wait().unwrap();
    was_at_work
}

fn remove(path: &Path) {
    if path.is_dir() { fs::remove_dir_all(path) } else { fs::remove_file(path) }.unwrap();
}

/// One command, killed once or several times in a row; how many kills met it at work.
fn try_one(chance: &mut ChaCha8Rng, of: &Writes, replaces: bool, calm: &Undisturbed) -> usize {
    let (home, words) = (folder(), words_of(of, replaces));
    let place = home.path();
    if replaces {
        evenfall_in(place, of.words).said();
        let page = target(place, of);
        assert!(!page.is_empty());
    }
    let mut met = 0;
    let mut before = target(place, of);
    for _ in 0..chance.random_range(1..=3) {
        // As often while it computes as while it writes, which comes last and is short.
        let share = if chance.random() {
            1.1 * chance.random::<f64>()
        } else {
            0.9 + 0.2 * chance.random::<f64>()
        };
        let after = calm.took.mul_f64(share);
        met += usize::from(killed(place, &words, after));
        let now = target(place, of);
        let told = format!("{words:?} killed after {after:?}");
        assert!(now == before || now == calm.whole, "{told}: half there: {:?}", names(place));
        before = now;
        if !replaces && !before.is_empty() {
            break;
        }
    }
    if !replaces && !before.is_empty() {
        remove(&place.join(of.target));
    }
    evenfall_in(place, &words).said();
    assert!(target(place, of) == calm.whole, "{words:?}: the next run");
    let hidden = names(place).into_iter().filter(|name| name.starts_with('.'));
    // What is left of a single file blocks nothing and goes an hour later (`crates/cli/src/whole.rs`).
    let aside = format!(".{}.aside-", of.target);
    let left: Vec<String> =
        hidden.filter(|name| of.target == "out" || !name.starts_with(&aside)).collect();
    assert!(left.is_empty(), "{words:?}: left behind: {left:?}");
    let notes = all(place).into_iter().find(|(name, _)| name == "notes.txt");
    assert_eq!(notes.unwrap().1, b"mine");
    met
}

/// Kills until so many have met a command at work; seeds and kills by command.
fn kill(commands: &[&Writes], kills: usize) {
    let from_environment = |name: &str| std::env::var(name).ok()?.parse::<u64>().ok();
    let first = from_environment("EVENFALL_SEED").unwrap_or(1);
    let kills = from_environment("EVENFALL_SEEDS").map_or(kills, |asked| asked as usize);
    let mut calm: BTreeMap<(usize, bool), Undisturbed> = BTreeMap::new();
    let mut met: BTreeMap<&str, usize> = BTreeMap::new();
    for seed in first.. {
        let mut chance = ChaCha8Rng::seed_from_u64(seed);
        let number = chance.random_range(0..commands.len());
        let of = commands[number];
        let replaces = of.replaces && chance.random();
        let calm = calm.entry((number, replaces)).or_insert_with(|| undisturbed(of, replaces));
        *met.entry(of.words[0]).or_default() += try_one(&mut chance, of, replaces, calm);
        let all: usize = met.values().sum();
        if seed.is_multiple_of(10) {
            eprintln!("seeds {first} to {seed}: {all} kills, {met:?}");
        }
        if all >= kills {
            eprintln!("seeds {first} to {seed}: {all} kills, {met:?}");
            return;
        }
    }
}

#[test]
fn a_few_random_kills_lose_nothing_and_block_nothing() {
    kill(&QUICK.iter().collect::<Vec<_>>(), 5);
}

#[test]
#[ignore = "takes an hour or so: run it before a release"]
fn a_thousand_random_kills_lose_nothing_and_block_nothing() {
    // The quick ones three times as often: what they do to the disk is the same.
    let quick = QUICK.iter().cycle().take(3 * QUICK.len());
    kill(&quick.chain(&SLOW).collect::<Vec<_>>(), 1000);
}
