//! Rows that a study makes per second of a core, against the engine's own.
//!
//! Both run the same points and seasons on one thread, from nothing kept. The engine is given its
//! scenarios read already, and a store of winds, landing maps and atlases that all of them share; the
//! study reads each of its points, runs its blocks and writes its parts (into memory). Beside them stands
//! the engine with all points' alternatives in one scenario, where hours, crop and the sums of footprints
//! are shared as well, and the engine with nothing shared.

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
const WHEELS: &str = "/wheel/outside_diameter";

/// Measures; on one thread.
///
/// # Errors
/// If the example cannot be read or run.
pub fn measure() -> Result<Section, Fault> {
    let base = fs::read_to_string(Path::new(BASE))?;
    let wheels: Vec<String> = (4..=10).map(|feet| format!("{feet} ft")).collect();
    let plan = json!({
        "base": "base.json",
        "factors": [{ "name": "wheel", "pointer": WHEELS, "levels": wheels }],
        "replicates": SEASONS,
        "block_points": wheels.len(),
        "block_seasons": SEASONS,
    });
    let plan = PlanFile::read(&plan.to_string())?;
    let no_files = |name: &str| Err(format!("no file {name} here"));
    let study = Study::new(plan, &base, None, &no_files, "bench")?;
    let points = wheels.iter().map(|wheel| point(&base, wheel)).collect::<Result<Vec<_>, _>>()?;
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
    let rows = (merged.scenario.alternatives.len() * SEASONS) as f64;
    let per_s = |times: &Times| rows / times.median();
    let ours = per_s(&times[0]);
    let names = [
        "through `study`",
        "the engine, winds, landing maps and atlases shared",
        "the engine, all alternatives in one scenario",
        "the engine, nothing shared",
    ];
    let lines = names.iter().zip(&times).enumerate().map(|(at, (name, times))| {
        let ratio = ours / per_s(times);
        vec![
            (*name).to_owned(),
            times.to_string(),
            short(per_s(times)),
            short(ratio),
            if at == 1 { judged(ratio, LEAST) } else { "none".to_owned() },
        ]
    });
    Ok(Section {
        title: "A study against the engine",
        notes: vec![format!(
            "`data/studies/base.json` with seven wheels, {SEASONS} seasons, three alternatives: {rows} rows \
             (240 × 300 cells, 10 passes). Times are those of the processor, one thread, {ROUNDS} rounds by \
             turns, nothing kept from round to round."
        )],
        heads: &["way", "time", "rows per core-second", "study against it", "target"],
        rows: lines.collect(),
    })
}

fn point(base: &str, wheel: &str) -> Result<Resolved, Fault> {
    let mut scenario: Value = serde_json::from_str(base)?;
    *scenario.pointer_mut(WHEELS).ok_or("the base has no wheel")? = wheel.into();
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
