//! What a study will take, from a few of its blocks.
//!
//! Blocks spread evenly over the study are run, and time and bytes taken in proportion to the rows.
//! Factors change what a season costs, so blocks from all over stand for all better than the first ones.
//! Neglected: what blocks share in memory when one process runs many of them.

use crate::blocks::Block;
use crate::study::Study;

/// What a block took.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Timed {
    /// Rows that it was expected to have.
    pub rows: usize,
    /// Time of the processor, s.
    pub core_s: f64,
    /// Size of its part.
    pub bytes: usize,
}

/// What all of it will take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forecast {
    /// Rows.
    pub rows: usize,
    /// Time of the processor, h.
    pub core_h: f64,
    /// Bytes of all parts.
    pub bytes: f64,
}

/// Blocks to time: at most `most`, spread evenly over the study.
pub fn to_time(study: &Study, most: usize) -> Vec<Block> {
    let count = study.blocks();
    let wanted = count.min(most);
    // The middles of so many equal parts.
    (0..wanted).map(|at| study.block((2 * at + 1) * count / (2 * wanted))).collect()
}

impl Forecast {
    /// From what some blocks took.
    pub fn of(study: &Study, timed: &[Timed]) -> Self {
        let rows = study.rows();
        let seen: usize = timed.iter().map(|block| block.rows).sum();
        let share = rows as f64 / seen.max(1) as f64;
        Self {
            rows,
            core_h: share * timed.iter().map(|block| block.core_s).sum::<f64>() / 3600.0,
            bytes: share * timed.iter().map(|block| block.bytes as f64).sum::<f64>(),
        }
    }
}
