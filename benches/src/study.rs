//! Rows that a study makes per second of a core, against the engine's own.
//!
//! Both run the same points and seasons on one thread, from nothing kept. The engine is given its
//! scenarios read already, and a store of winds, landing maps and atlases that all of them share; the
//! study reads each of its points, runs its blocks and writes its parts (into memory). Beside them stands
//! the engine with all points' alternatives in one scenario, where hours, crop and the sums of footprints
//! are shared as well, and the engine with nothing shared. All alternatives of one scenario share what is drawn
//! of the doubts too, as points of a study do.

use crate::Fault;
use crate::report::{Section, judged};
use crate::timing::{Contestant, Times, by_turns, short};
use evenfall_core::season::{LandingMapCache, RunControl};
use evenfall_core::worth::run_seasons;
use evenfall_scenario::Resolved;
use evenfall_study::{PlanFile, Study, write_part};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

/// Seasons of every point.
const SEASONS: usize = 12;
/// Rounds by turns.
const ROUNDS: usize = 3;
/// What the study must reach of the engine's rows.
const LEAST: f64 = 0.95;

const BASE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../data/studies/base.json");
const WHEEL: &str = "/wheel/outside_diameter";
const WHEELS_FT: [usize; 7] = [4, 5, 6, 7, 8, 9, 10];
/// Rows: so many wheels and seasons of three alternatives.
const ROWS: usize = WHEELS_FT.len() * SEASONS * 3;
const WAYS: [&str; 4] = [
    "through `study`",
    "the engine, winds, landing maps and atlases shared",
    "the engine, all alternatives in one scenario",
    "the engine, nothing shared",
];

/// Measures; on one thread.
///
/// # Errors
/// If the example cannot be read or run.
pub fn measure() -> Result<Section, Fault> {
    let base: Value = serde_json::from_str(&fs::read_to_string(Path::new(BASE))?)?;
    let mut drawn = base.clone();
    let worth = drawn["worth"].as_object_mut().ok_or("the base has no worth")?;
    worth.remove("doubts");
    let (as_it_stands, under_doubts) = (by_ways(&base)?, by_ways(&drawn)?);
    let lines = |times: Vec<(&str, Times)>, doubts: &str| -> Vec<Vec<String>> {
        let per_s = |times: &Times| ROWS as f64 / times.median();
        let ours = times.first().map_or(f64::NAN, |(_, times)| per_s(times));
        let line = |(at, (way, times)): (usize, &(&str, Times))| {
            let ratio = ours / per_s(times);
            vec![
                (*way).to_owned(),
                doubts.to_owned(),
                times.to_string(),
                short(per_s(times)),
                short(ratio),
                if at == 1 { judged(ratio, LEAST) } else { "none".to_owned() },
            ]
        };
        times.iter().enumerate().map(line).collect()
    };
    Ok(Section {
        title: "A study against the engine",
        notes: vec![format!(
            "`data/studies/base.json` with {} wheels, {SEASONS} seasons, three alternatives: {ROWS} rows \
             (240 × 300 cells, 10 passes), with the doubts left out and with all of them drawn for every two \
             seasons. Times are those of the processor, one thread, {ROUNDS} rounds by turns, nothing kept \
             from round to round.",
            WHEELS_FT.len()
        )],
        heads: &["way", "doubts", "time", "rows per core-second", "study against it", "target"],
        rows: [lines(as_it_stands, "left out"), lines(under_doubts, "drawn")].concat(),
    })
}

/// Times of every way to the rows of `base` with its wheels; the study comes first.
fn by_ways(base: &Value) -> Result<Vec<(&'static str, Times)>, Fault> {
    let wheels: Vec<String> = WHEELS_FT.iter().map(|feet| format!("{feet} ft")).collect();
    let plan = json!({
        "base": "base.json",
        "factors": [{ "name": "wheel", "pointer": WHEEL, "levels": wheels }],
        "replicates": SEASONS,
        "block_points": wheels.len(),
        "block_seasons": SEASONS,
    });
    let plan = PlanFile::read(&plan.to_string())?;
    let no_files = |name: &str| Err(format!("no file {name} here"));
    let study = Study::new(plan, &base.to_string(), None, &no_files, "bench")?;
    let points = wheels.iter().map(|wheel| point(base, wheel)).collect::<Result<Vec<_>, _>>()?;
    let merged = merged(&points)?;
    let mut through_study = || {
        timed(|| {
            let kept = LandingMapCache::for_a_study();
            for block in (0..study.blocks()).map(|number| study.block(number)) {
                let rows = study.run(&block, &no_files, &kept, &|| true)?;
                write_part(&study, &block, &rows, Vec::new())?;
            }
            Ok(())
        })
    };
    let mut shared = || timed(|| engine(&points, Some(&LandingMapCache::for_a_study())));
    let mut as_one =
        || timed(|| engine(std::slice::from_ref(&merged), Some(&LandingMapCache::for_a_study())));
    let mut alone = || timed(|| engine(&points, None));
    let contestants: &mut [Contestant<'_>] =
        &mut [&mut through_study, &mut shared, &mut as_one, &mut alone];
    let times = by_turns(ROUNDS, contestants)?;
    Ok(WAYS.into_iter().zip(times).collect())
}

fn point(base: &Value, wheel: &str) -> Result<Resolved, Fault> {
    let mut scenario = base.clone();
    *scenario.pointer_mut(WHEEL).ok_or("the base has no wheel")? = wheel.into();
    let no_files = |name: &str| Err(format!("no file {name} here"));
    Ok(evenfall_scenario::resolve(&scenario.to_string(), &no_files)
        .map_err(|problems| problems.render("point", false))?)
}

/// The alternatives of all points in one scenario: they differ in nothing else.
fn merged(points: &[Resolved]) -> Result<Resolved, Fault> {
    let mut merged = points.first().ok_or("no points")?.clone();
    merged.scenario.alternatives =
        points.iter().flat_map(|point| point.scenario.alternatives.clone()).collect();
    Ok(merged)
}

fn engine(points: &[Resolved], kept: Option<&LandingMapCache>) -> Result<(), Fault> {
    for point in points {
        let mut scenario = point.scenario.clone();
        let control = RunControl::default();
        // A store of its own, so that nothing is left from the round before.
        let own = LandingMapCache::for_a_study();
        scenario.weather.keep_in(kept.unwrap_or(&own).winds());
        let control = match kept {
            Some(kept) => control.with_landing_maps(kept),
            None => control,
        };
        let (agronomy, economics) = point.worth.as_ref().ok_or("the base has no crop")?;
        let mut economics = economics.clone();
        economics.seasons = SEASONS;
        run_seasons(&scenario, agronomy, &economics, &control)?;
    }
    Ok(())
}

/// Time that the processor spends on `work`, s.
fn timed(work: impl FnOnce() -> Result<(), Fault>) -> Result<f64, Fault> {
    let before_s = used_s()?;
    work()?;
    Ok(used_s()? - before_s)
}

/// User and system time of this process, in Linux's ticks of 10 ms.
fn used_s() -> Result<f64, Fault> {
    let stat = fs::read_to_string("/proc/self/stat")?;
    let (_, fields) = stat.rsplit_once(')').ok_or("no fields")?;
    let ticks = |at: usize| -> Result<f64, Fault> {
        Ok(fields.split_whitespace().nth(at).ok_or("too few fields")?.parse()?)
    };
    Ok((ticks(11)? + ticks(12)?) / 100.0)
}
