//! `evenfall study plan`: what a study will take, from a few blocks that are run and thrown away.

use super::load::load;
use super::out::print;
use crate::arguments::StudyPlanArguments;
use crate::failure::Failure;
use crate::stopping;
use crate::terminal::Voice;
use evenfall_core::season::{LandingMapCache, Progress};
use evenfall_study::{Block, Forecast, Stopped, Timed, to_time, write_part};
use serde_json::json;
use std::fs;
use std::sync::atomic::Ordering;
use std::time::Instant;

pub(super) fn run(options: &StudyPlanArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stopping::flag()?;
    let loaded = load(&options.plan)?;
    let study = &loaded.study;
    let maps = LandingMapCache::for_a_study();
    let blocks = to_time(study, usize::from(options.blocks));
    let time = |block: &Block| -> Result<Timed, Failure> {
        let goes_on = || !stop.load(Ordering::SeqCst);
        let clock = Clock::start();
        let get = |name: &str| loaded.files.get(name);
        let rows = study.run(block, &get, &maps, &goes_on).map_err(|Stopped| {
            Failure::Interrupted("while timing blocks. Nothing was written".to_owned())
        })?;
        let part = write_part(study, block, &rows, Vec::new())
            .map_err(|error| Failure::Fault(error.to_string()))?;
        Ok(Timed { rows: study.rows_of(block), core_s: clock.core_s(), bytes: part.len() })
    };
    // What the first block makes for all of them would count for more than it is.
    if let Some(first) = blocks.first().filter(|_| study.blocks() > 3 * blocks.len()) {
        time(first)?;
    }
    let timed: Vec<Timed> = voice.watched(("Timing blocks", "blocks"), &stop, |show| {
        let one = |(done, block): (usize, &Block)| {
            show(Progress { done, total: blocks.len() });
            time(block)
        };
        blocks.iter().enumerate().map(one).collect::<Result<_, _>>()
    })?;
    let Forecast { rows, core_h, bytes } = Forecast::of(study, &timed);
    if options.json {
        let all = json!({
            "study_sha256": study.digest(),
            "points": study.points(),
            "blocks": study.blocks(),
            "rows": rows,
            "core_hours": core_h,
            "bytes": bytes,
            "blocks_timed": timed.len(),
        });
        return print(&format!("{all:#}\n"));
    }
    print(&format!(
        "{} points, {} blocks, {rows} rows if every point can be reached\n{} of one core, {:.1} MB \
         (from {} blocks run here)\n",
        study.points(),
        study.blocks(),
        hours(core_h),
        bytes / 1e6,
        timed.len()
    ))
}

fn hours(core_h: f64) -> String {
    let seconds = 3600.0 * core_h;
    if seconds < 120.0 {
        format!("{seconds:.0} s")
    } else if core_h < 2.0 {
        format!("{:.0} minutes", 60.0 * core_h)
    } else {
        format!("{core_h:.1} hours")
    }
}

/// Time that the processor spends on this program.
struct Clock {
    wall: Instant,
    used_s: Option<f64>,
}

impl Clock {
    fn start() -> Self {
        Self { wall: Instant::now(), used_s: used_s() }
    }

    /// Since the start; where the system does not tell, the time on the wall by the threads.
    fn core_s(&self) -> f64 {
        match (self.used_s, used_s()) {
            (Some(then), Some(now)) => now - then,
            _ => self.wall.elapsed().as_secs_f64() * rayon::current_num_threads() as f64,
        }
    }
}

/// User and system time of this process as Linux tells it, in its ticks of 10 ms.
fn used_s() -> Option<f64> {
    let stat = fs::read_to_string("/proc/self/stat").ok()?;
    // The name in brackets may hold spaces; user time is the 12th field after it.
    let fields: Vec<&str> = stat.rsplit_once(')')?.1.split_whitespace().collect();
    let ticks = |at: usize| fields.get(at)?.parse::<f64>().ok();
    Some((ticks(11)? + ticks(12)?) / 100.0)
}
