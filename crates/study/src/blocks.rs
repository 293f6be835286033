//! Blocks: what is run and written at a time, and whose turn it is.

use std::ops::Range;

/// Some points through some seasons.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// Its number.
    pub number: usize,
    /// Its points.
    pub points: Range<usize>,
    /// Its seasons, from 0.
    pub seasons: Range<usize>,
}

/// How a study is parted into blocks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Blocks {
    pub(crate) points: usize,
    pub(crate) seasons: (usize, usize),
    pub(crate) block_points: usize,
    pub(crate) block_seasons: usize,
}

impl Blocks {
    /// Number of blocks.
    pub(crate) fn count(&self) -> usize {
        self.points.div_ceil(self.block_points) * self.by_season()
    }

    fn by_season(&self) -> usize {
        self.seasons.1.div_ceil(self.block_seasons)
    }

    /// Block `number`: seasons of the same points come one after another.
    pub(crate) fn block(&self, number: usize) -> Block {
        let (first, count) = self.seasons;
        let (by_point, by_season) = (number / self.by_season(), number % self.by_season());
        let points = by_point * self.block_points;
        let seasons = by_season * self.block_seasons;
        Block {
            number,
            points: points..(points + self.block_points).min(self.points),
            seasons: first + seasons..first + (seasons + self.block_seasons).min(count),
        }
    }
}

/// One of several that share the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shard {
    /// Which, from 1.
    pub number: usize,
    /// Of how many.
    pub count: usize,
}

impl Shard {
    /// Whether `block` is its work.
    pub fn does(&self, block: usize) -> bool {
        block % self.count == self.number - 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_blocks_hold_every_point_and_season_once() {
        let blocks = Blocks { points: 5, seasons: (2, 7), block_points: 2, block_seasons: 4 };
        assert_eq!(blocks.count(), 6);
        assert_eq!(blocks.block(5), Block { number: 5, points: 4..5, seasons: 6..9 });
        let mut seen: Vec<(usize, usize)> = (0..blocks.count())
            .flat_map(|number| {
                let Block { points, seasons, .. } = blocks.block(number);
                points.flat_map(move |point| seasons.clone().map(move |season| (point, season)))
            })
            .collect();
        seen.sort_unstable();
        let all: Vec<_> = (0..5).flat_map(|p| (2..9).map(move |s| (p, s))).collect();
        assert_eq!(seen, all);
    }

    #[test]
    fn closed_every_block_is_the_work_of_one_shard() {
        for count in [1, 3, 40] {
            for block in 0..17 {
                let who = (1..=count).filter(|number| Shard { number: *number, count }.does(block));
                assert_eq!(who.count(), 1);
            }
        }
    }
}
