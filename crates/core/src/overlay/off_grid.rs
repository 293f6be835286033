//! What sets lay outside the grid.
//!
//! Counted by itself, from the footprint's columns, so that it checks the overlay instead of
//! following from it: footprint rows beyond the grid count whole, of the others the columns that lie
//! beyond it, sprinkler by sprinkler. Nothing is subtracted here either.

use super::sets::{LaidSet, PipeOnGrid};
use crate::grid::Grid;
use pulp::{Arch, Simd, WithSimd};

/// What a set whose sprinklers all lay the same lays outside the grid, summed over cells, mm · cells.
pub(crate) fn off_grid(grid: &Grid, pipe: PipeOnGrid, set: &LaidSet<'_>) -> f64 {
    outside(grid, pipe, set, |_| 1.0)
}

/// The same where each sprinkler lays its own portion; what one node of pressure lays.
pub(crate) fn off_grid_each(
    grid: &Grid,
    pipe: PipeOnGrid,
    set: &LaidSet<'_>,
    portions: &[f64],
) -> f64 {
    let pipe = PipeOnGrid { sprinklers: pipe.sprinklers.min(portions.len()), ..pipe };
    outside(grid, pipe, set, |sprinkler| portions[sprinkler])
}

/// What the columns of a footprint hold on the grid's rows, and what lies beyond these, as work that is
/// compiled a second time for wider vectors.
struct Sums<'a, 'b> {
    grid: &'a Grid,
    set: &'a LaidSet<'b>,
}

impl WithSimd for Sums<'_, '_> {
    type Output = (Vec<f64>, f64);

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) -> (Vec<f64>, f64) {
        let Self { grid, set } = self;
        let mut columns = vec![0.0; set.footprint.values.ncols()];
        let mut beyond = 0.0;
        let all = set.footprint.values.as_slice().unwrap_or(&[]);
        for (row, depths) in all.chunks_exact(columns.len().max(1)).enumerate() {
            let at = set.row + set.footprint.first_row + row as isize;
            if at >= 0 && at < grid.cells_across as isize {
                columns.iter_mut().zip(depths).for_each(|(column, depth)| *column += depth);
            } else {
                beyond += depths.iter().sum::<f64>();
            }
        }
        (columns, beyond)
    }
}

fn outside(
    grid: &Grid,
    pipe: PipeOnGrid,
    set: &LaidSet<'_>,
    portion: impl Fn(usize) -> f64,
) -> f64 {
    let (columns, beyond) = Arch::new().dispatch(Sums { grid, set });
    // Of so many columns, counted from either end, what they hold together.
    let sums = |columns: &mut dyn Iterator<Item = &f64>| -> Vec<f64> {
        let added = columns.scan(0.0, |sum, column| {
            *sum += column;
            Some(*sum)
        });
        [0.0].into_iter().chain(added).collect()
    };
    let (near, far) = (sums(&mut columns.iter()), sums(&mut columns.iter().rev()));
    let wide = columns.len() as isize;
    let of_sprinkler = |sprinkler: usize| {
        let first = pipe.first_column + (sprinkler * pipe.spacing_cells) as isize;
        let first = first + set.first_column();
        let before = (-first).clamp(0, wide);
        let after = (first + wide - grid.cells_along as isize).clamp(0, wide - before);
        portion(sprinkler) * (beyond + near[before as usize] + far[after as usize])
    };
    (0..pipe.sprinklers).map(of_sprinkler).sum()
}
