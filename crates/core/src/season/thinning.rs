//! Fewer places than the field has cells: what runs of many seasons look at.
//!
//! A season's depths at places a fourteenth of a sprinkler's radius apart tell those of all cells between
//! them. Where many seasons are run on smaller cells, water, soil and crop are taken on one of every n
//! columns and one of every m rows, so that smaller cells cost little more. What is taken at a place is the mean
//! depth of *one* cell there; the mean of all the ground that it stands for would look more uniform than the
//! cells are. The water is made wider on its way (`sprinkler::widening`), and what the season left is read
//! between the places as it was before (`seasons::between`): figures are those of all cells.
//!
//! Columns must stand a whole number to the sprinkler spacing, so that all sprinklers lay alike; on a field
//! without a boundary rows and columns must part it evenly. Elsewhere every one is looked at.
//!
//! How near it comes for CU, DUlq and yield a test measures. Places an eleventh of the radius apart (4 ft of
//! 44) were tried over 50 seasons of the demo, each way: half the time, but DUlq up to 0.034 points off and
//! differences between alternatives 0.035, the same in every season: under each sprinkler more water falls
//! within a few feet than can be told so.

use crate::grid::Grid;
use crate::model::Alternative;
use crate::sprinkler::atlas::MOST_APART;
use crate::sprinkler::places::Places;

/// A sprinkler's radius holds at least so many columns that are looked at, and so many rows.
const PLACES_A_RADIUS: f64 = 14.0;
/// Places to either side from which what lies between them is read; the lines that they stand on are at least
/// twice as long.
pub(crate) const READ_REACH: usize = 7;
/// Columns, and rows, that are looked at at least.
const FEWEST_PLACES: usize = 2 * READ_REACH;

/// Which columns and rows are looked at: one in so many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Thinning {
    columns: usize,
    rows: usize,
}

impl Thinning {
    /// Every cell.
    pub(crate) const NONE: Self = Self { columns: 1, rows: 1 };

    /// What suits an alternative on a field of such cells, with a boundary or without.
    pub(crate) fn of(alternative: &Alternative, grid: &Grid, is_bounded: bool) -> Self {
        let radius = alternative.sprinkler.radius_m() / grid.cell_m;
        let spacing = alternative.lateral.sprinkler_spacing_m / grid.cell_m;
        if grid.cells_along.min(grid.cells_across) < FEWEST_PLACES {
            // Reading between places needs as many both ways.
            return Self::NONE;
        }
        let widest = (radius / PLACES_A_RADIUS).floor().clamp(1.0, MOST_APART as f64) as usize;
        let suits = |every: usize, cells: usize| {
            (is_bounded || cells.is_multiple_of(every)) && cells >= FEWEST_PLACES * every
        };
        let suits_columns = |every: &usize| {
            let columns = spacing / *every as f64;
            (columns - columns.round()).abs() * *every as f64 <= 1e-6
                && suits(*every, grid.cells_along)
        };
        let suits_rows = |every: &usize| suits(*every, grid.cells_across);
        Self {
            columns: (2..=widest).rev().find(suits_columns).unwrap_or(1),
            rows: (2..=widest).rev().find(suits_rows).unwrap_or(1),
        }
    }

    /// One of so many columns and one of so many rows.
    #[cfg(test)]
    pub(crate) fn test(columns: usize, rows: usize) -> Self {
        Self { columns, rows }
    }

    /// Columns of the field to one that is looked at.
    pub(crate) fn columns(self) -> usize {
        self.columns
    }

    /// Rows of the field to one that is looked at.
    pub(crate) fn rows(self) -> usize {
        self.rows
    }

    /// How far apart places lie at the most, cells: so much their water is widened for.
    pub(crate) fn apart(self) -> usize {
        self.columns.max(self.rows)
    }

    /// Cells of the field to a place.
    pub(crate) fn cells(self) -> f64 {
        (self.columns * self.rows) as f64
    }

    /// Rows and columns of the places on a grid; the last may stand for less than the others. Its cells
    /// are those of the field.
    pub(crate) fn grid(self, grid: &Grid) -> Grid {
        Grid {
            cells_along: grid.cells_along.div_ceil(self.columns),
            cells_across: grid.cells_across.div_ceil(self.rows),
            ..*grid
        }
    }

    /// Column and row of the place of a sprinkler so many columns and rows of cells from the field's corner, and
    /// the places about it.
    pub(crate) fn places(self, along: f64, across: f64) -> (isize, isize, Places) {
        Places::about((self.columns, self.rows), along, across)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::tests::{FT, alternative, sprinkler};
    use crate::sprinkler::shape::Shape;

    #[test]
    fn regress_a_strip_too_narrow_to_read_between_is_looked_at_in_every_cell() {
        let fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 88.0));
        let on = |feet: (f64, f64)| {
            Thinning::of(&fixed, &Grid::over(feet.0 * FT, feet.1 * FT, FT), false)
        };
        assert_eq!(on((240.0, 480.0)), Thinning::test(2, 3));
        assert_eq!((on((13.0, 480.0)), on((240.0, 12.0))), (Thinning::NONE, Thinning::NONE));
        // Wide enough to be read, too narrow to be thinned that way.
        assert_eq!(on((240.0, 15.0)), Thinning::test(2, 1));
    }
}
