//! The field with its repetition along the pipe taken out.
//!
//! Away from the ends of a lateral whose sprinklers are alike, depth repeats along the pipe with
//! the sprinkler spacing; where every n-th delivers the same, with n spacings. All that is computed cell by cell (soil, crop) is then the same in every
//! repeat, so one is enough: the compact field is the real one less all repeats but the first, its
//! lateral less as many sprinklers. The overlay of the compact field is, cell by cell, that of the
//! real one; columns of the repeat count as often as they were left out.
//!
//! Exact while no footprint reaches farther along the pipe than `reach_cells`.
//!
//! Where the field is looked at in fewer places (`season::thinning`), the compact field has those.

#[cfg(test)]
use crate::grid::DepthGrid;
use crate::grid::Grid;
use crate::overlay::PipeOnGrid;
use crate::season::thinning::{READ_REACH, Thinning};
#[cfg(test)]
use ndarray::Array2;

/// A field whose repeats along the pipe are folded into one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct CompactField {
    /// First column of the repeat that stays.
    first_column: usize,
    /// Columns of one repeat.
    period: usize,
    /// Sprinklers of one repeat.
    sprinklers: usize,
    /// Repeats that were left out.
    left_out: usize,
    /// Columns of the real field that are looked at.
    looked_at: usize,
    thinning: Thinning,
    /// Rows and columns of the real field.
    real: [usize; 2],
}

impl CompactField {
    /// Folds a field that is looked at in some places, for footprints that reach at most `reach_cells`
    /// columns of them to either side along a pipe on which every `repeat`-th sprinkler lays the same;
    /// `None` leaves the field as it is, and so does a lateral too short to repeat.
    pub(crate) fn new(
        (real, thinning): (&Grid, Thinning),
        pipe: PipeOnGrid,
        reach_cells: usize,
        repeat: Option<usize>,
    ) -> Self {
        let looked_at = thinning.grid(real).cells_along;
        let unfolded = Self {
            first_column: 0,
            period: 0,
            sprinklers: 0,
            left_out: 0,
            looked_at,
            thinning,
            real: [real.cells_across, real.cells_along],
        };
        let Some(sprinklers) = repeat else { return unfolded };
        let period = pipe.spacing_cells * sprinklers;
        // What is read between places is read beside the repeat as well.
        let read = if thinning == Thinning::NONE { 0 } else { READ_REACH };
        let reach = (reach_cells + read) as isize;
        // Between these columns every sprinkler that can reach a cell is there.
        let from = (pipe.first_column + reach).max(read as isize) as usize;
        let last_sprinkler = pipe.sprinklers.saturating_sub(1) * pipe.spacing_cells;
        let last = pipe.first_column + last_sprinkler as isize;
        let until = (last - reach).clamp(0, looked_at.saturating_sub(read) as isize) as usize;
        let repeats = until.saturating_sub(from) / period;
        Self {
            first_column: from,
            period,
            sprinklers,
            left_out: repeats.saturating_sub(1),
            ..unfolded
        }
    }

    /// Columns of the folded field.
    pub(crate) fn folded_columns(&self) -> usize {
        self.looked_at - self.left_out * self.period
    }

    /// Rows and columns of the real field.
    pub(crate) fn real(&self) -> [usize; 2] {
        self.real
    }

    /// Where the field is looked at.
    pub(crate) fn thinning(&self) -> Thinning {
        self.thinning
    }

    /// The same field with all its cells, folded alike.
    pub(crate) fn on_cells(&self) -> Self {
        let columns = self.thinning.columns();
        Self {
            first_column: columns * self.first_column,
            period: columns * self.period,
            looked_at: self.real[1],
            thinning: Thinning::NONE,
            ..*self
        }
    }

    /// The folded grid.
    pub(crate) fn grid(&self, grid: &Grid) -> Grid {
        Grid { cells_along: self.folded_columns(), ..*grid }
    }

    /// The lateral on the folded grid.
    pub(crate) fn pipe(&self, pipe: PipeOnGrid) -> PipeOnGrid {
        PipeOnGrid { sprinklers: pipe.sprinklers - self.left_out * self.sprinklers, ..pipe }
    }

    /// The folded column that holds what is looked at for column `column` of the real field.
    pub(crate) fn folded(&self, column: usize) -> usize {
        let column = column / self.thinning.columns();
        let end_of_repeats = self.first_column + (1 + self.left_out) * self.period;
        if column < self.first_column {
            column
        } else if column < end_of_repeats {
            self.first_column + (column - self.first_column) % self.period
        } else {
            column - self.left_out * self.period
        }
    }

    /// The folded column of every real one.
    pub(crate) fn all_folded(&self) -> impl Iterator<Item = usize> {
        (0..self.real[1]).map(|column| self.folded(column))
    }

    /// The real field's values from the folded ones.
    #[cfg(test)]
    pub(crate) fn unfold(&self, folded: &DepthGrid) -> DepthGrid {
        Array2::from_shape_fn(self.real, |(row, column)| {
            folded[(row / self.thinning.rows(), self.folded(column))]
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::overlay::{LaidSet, lay};
    use crate::sprinkler::footprint::Footprint;
    use proptest::prelude::*;

    impl CompactField {
        /// How many columns of the real field column `column` of the folded one stands for.
        fn weight(&self, column: usize) -> usize {
            let repeated = self.first_column..self.first_column + self.period;
            if repeated.contains(&column) { 1 + self.left_out } else { 1 }
        }
    }

    proptest! {
        #[test]
        fn reference_the_folded_field_unfolds_to_the_real_one(
            (columns, period, sprinklers) in (20usize..150, 2usize..12, 1usize..20),
            first_column in -10isize..30, (first, cells) in (-9isize..1, 1usize..18)
        ) {
            let grid = Grid { cells_along: columns, cells_across: 9, cell_m: 1.0 };
            let pipe = PipeOnGrid { first_column, spacing_cells: period, sprinklers };
            let values = Array2::from_shape_fn((7, cells), |(r, c)| ((r * 5 + c * 3) % 7) as f64);
            let footprint = Footprint { first_row: -3, first_column: first, values };
            let reach = (first.unsigned_abs()).max(cells);
            let sets = [LaidSet { footprint: &footprint, row: 4, column: 0 }];
            let laid = |grid: &Grid, pipe| {
                let (mut pass, mut cumulative) = (grid.zeros(), grid.zeros());
                lay(grid, pipe, &sets, &mut pass, &mut cumulative);
                pass
            };
            let compact = CompactField::new((&grid, Thinning::NONE), pipe, reach, Some(1));
            let folded = laid(&compact.grid(&grid), compact.pipe(pipe));
            let unfolded = compact.unfold(&folded);
            let real = laid(&grid, pipe);
            prop_assert!((&unfolded - &real).iter().all(|miss| miss.abs() < 1e-9));
            let weights: usize = (0..folded.ncols()).map(|column| compact.weight(column)).sum();
            prop_assert_eq!(weights, columns);
        }
    }

    #[test]
    fn closed_a_quarter_mile_line_folds_to_a_fifth() {
        let grid = Grid { cells_along: 660, cells_across: 10, cell_m: 0.6096 };
        let pipe = PipeOnGrid { first_column: 10, spacing_cells: 20, sprinklers: 33 };
        let compact = CompactField::new((&grid, Thinning::NONE), pipe, 40, Some(1));
        // From column 50 to 610 all reach: 28 repeats of 20, of which one stays.
        assert_eq!(compact.grid(&grid).cells_along, 660 - 27 * 20);
        assert_eq!((compact.weight(49), compact.weight(50), compact.weight(70)), (1, 28, 1));
    }
}
