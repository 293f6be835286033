//! Places at which cycles are told apart: a sample of the cells of a region.
//!
//! So many rows and columns, spread evenly. Their number is a prime: rows an even number of cells apart
//! would meet the outlets at the same few places again and again, and such steps come about with
//! numbers that have small divisors. A sample of 127 rows and columns gives S and R within 1 % of those
//! of all cells (tests).

use crate::grid::DepthGrid;
use crate::model::Region;
use std::ops::Range;

/// Rows of the sample, and columns where these are sampled too.
const MOST: usize = 127;

/// `MOST` of `range`, or all of it.
pub(crate) fn spread(range: Range<usize>) -> Vec<usize> {
    let (first, count) = (range.start, range.len());
    if count <= MOST {
        return range.collect();
    }
    (0..MOST).map(|at| first + at * count / MOST).collect()
}

/// Places of a sample, as row and column.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Places(Vec<[usize; 2]>);

impl Places {
    /// Those of `region`, on a grid of so many columns.
    pub(crate) fn of(region: &Region, columns: usize) -> Self {
        let (rows, along, is_in): (_, _, Box<dyn Fn(usize, usize) -> bool>) = match region {
            Region::Window(window) => {
                (window.rows.clone(), window.columns.clone(), Box::new(|_, _| true))
            }
            Region::Cells(runs) => {
                let runs = runs.runs();
                let rows = runs.first().map_or(0, |run| run.start / columns)
                    ..runs.last().map_or(0, |run| run.start / columns + 1);
                let ends = |end: fn(&Range<usize>) -> usize| {
                    runs.iter().map(move |run| end(run) % columns)
                };
                let first = ends(|run| run.start).min().unwrap_or(0);
                let last = ends(|run| run.end - 1).max().map_or(0, |last| last + 1);
                let holds = move |row: usize, column: usize| {
                    let cell = row * columns + column;
                    let after = runs.partition_point(|run| run.end <= cell);
                    runs.get(after).is_some_and(|run| run.contains(&cell))
                };
                (rows, first..last, Box::new(holds))
            }
        };
        let along = spread(along);
        let places = spread(rows).into_iter().flat_map(|row| along.iter().map(move |c| [row, *c]));
        Self(places.filter(|[row, column]| is_in(*row, *column)).collect())
    }

    /// Number of places.
    pub(crate) fn len(&self) -> usize {
        self.0.len()
    }

    /// Adds what `depth_mm` is there to `sums`.
    pub(crate) fn add(&self, depth_mm: &DepthGrid, sums: &mut [f64]) {
        sums.iter_mut().zip(&self.0).for_each(|(sum, place)| *sum += depth_mm[*place]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::Window;
    use crate::model::Runs;

    #[test]
    fn closed_a_sample_is_spread_evenly_and_small_regions_are_taken_whole() {
        assert_eq!(spread(3..7), [3, 4, 5, 6]);
        let many = spread(10..10 + 1270);
        assert_eq!((many.len(), many[0], many[1], many[126]), (127, 10, 20, 1270));
        let window = Region::Window(Window { rows: 1..3, columns: 2..4 });
        assert_eq!(Places::of(&window, 9).0, [[1, 2], [1, 3], [2, 2], [2, 3]]);
        let cells = Region::Cells(Runs::of(&[6, 7, 11], 5));
        assert_eq!(Places::of(&cells, 5).0, [[1, 1], [1, 2], [2, 1]]);
        assert_eq!(Places::of(&Region::Cells(Runs::of(&[], 5)), 5).len(), 0);
    }
}
