//! `evenfall study run`: block after block, each kept as soon as it is done.

use super::folder::{Folder, Part};
use super::load::load;
use super::shard::shard;
use crate::arguments::StudyRunArguments;
use crate::disk;
use crate::failure::Failure;
use crate::stopping;
use crate::terminal::Voice;
use evenfall_core::season::{LandingMapCache, Progress};
use evenfall_study::{Stopped, write_part};
use std::sync::atomic::{AtomicBool, Ordering};

/// What a run has done.
#[derive(Default)]
struct Done {
    blocks: usize,
    kept: usize,
    rows: usize,
    unreached: usize,
}

pub(super) fn run(options: &StudyRunArguments, voice: Voice) -> Result<(), Failure> {
    // What is finished is kept: the block at hand is given up, and nobody is ended in a hurry.
    let stop = stopping::flag()?;
    stopping::patient();
    let variable = |name: &str| std::env::var(name).ok();
    let shard = shard(&options.shard, &options.lowest, &variable)?;
    let loaded = load(&options.folder.plan)?;
    let study = &loaded.study;
    let folder = Folder::open_or_make(&options.folder.into, study)?;
    let _held = folder.hold(&format!("{}-of-{}", shard.number, shard.count))?;
    let blocks: Vec<usize> = (0..study.blocks()).filter(|block| shard.does(*block)).collect();
    let (maps, never) = (LandingMapCache::for_a_study(), AtomicBool::new(false));
    let mut done = Done::default();
    let result = voice.watched(("Running blocks", "blocks"), &never, |show| {
        for (at, number) in blocks.iter().enumerate() {
            show(Progress { done: at, total: blocks.len() });
            if let Part::Done(seen) = folder.part(*number) {
                done.kept += 1;
                done.rows += seen.rows;
                done.unreached += seen.unreached;
                continue;
            }
            let stopped = || {
                let words = format!(
                    "after {} of {} blocks. They are kept: give the same command again to go on",
                    done.blocks + done.kept,
                    blocks.len()
                );
                Failure::Interrupted(words)
            };
            if stop.load(Ordering::SeqCst) {
                return Err(stopped());
            }
            folder.sweep(*number);
            let block = study.block(*number);
            let goes_on = || !stop.load(Ordering::SeqCst);
            let get = |name: &str| loaded.files.get(name);
            let rows = match study.run(&block, &get, &maps, &goes_on) {
                Ok(rows) => rows,
                Err(Stopped) => return Err(stopped()),
            };
            let part = write_part(study, &block, &rows, Vec::new())
                .map_err(|error| Failure::Fault(error.to_string()))?;
            folder.put(&Folder::part_name(*number), |file| disk::write(file, &part))?;
            done.blocks += 1;
            done.rows += rows.len();
            done.unreached += rows.unreached();
        }
        Ok(())
    });
    result?;
    let into = options.folder.into.display();
    let unreached = match done.unreached {
        0 => String::new(),
        some => format!(", {some} of them without figures and with the reason"),
    };
    let words = format!(
        "{} blocks run, {} there already: {} rows{unreached}.\nNext: evenfall study gather {} --into {into}",
        done.blocks,
        done.kept,
        done.rows,
        options.folder.plan.display()
    );
    voice.say(&words).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}
