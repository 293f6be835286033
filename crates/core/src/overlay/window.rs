//! Some rows of the overlay, added to what lies there: the same strips as in `alike` and `each`, for
//! whoever goes through a season a few rows at a time and never needs the whole field at once.

use super::alike::Alike;
use super::each::{Blended, NodeSets};
use super::strip::{FillRow, LaidSet, PipeOnGrid, Reach, Strip};
use pulp::{Arch, Simd, WithSimd};
use std::ops::Range;

/// What lays rows: sets whose sprinklers all lay the same, or by node.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Laying<'a> {
    /// All sprinklers lay the same.
    Alike(&'a [LaidSet<'a>]),
    /// Each sprinkler lays a blend of what the nodes lay.
    Each(&'a [NodeSets<'a>]),
}

/// Room for the strip of a row, made once for all sets of a season.
#[derive(Clone, Debug)]
pub(crate) struct RowScratch(Strip);

impl RowScratch {
    /// For a pipe of so many sprinklers and all of `sets`.
    pub(crate) fn new<'a, 'b: 'a>(
        pipe: PipeOnGrid,
        sets: impl Iterator<Item = &'a LaidSet<'b>>,
    ) -> Self {
        Self(Strip::new(pipe, Reach::of(sets)))
    }

    /// Adds what falls on `rows` of a field of `columns` columns to `depth_mm`, row by row; rows that
    /// nothing reaches stay as they are. `pipe` has the scratch's spacing and sprinklers.
    pub(crate) fn add(
        &mut self,
        pipe: PipeOnGrid,
        laying: Laying<'_>,
        rows: Range<usize>,
        (depth_mm, columns): (&mut [f64], usize),
    ) {
        self.0.pipe = pipe;
        let strip = &mut self.0;
        match laying {
            Laying::Alike(sets) => {
                Arch::new().dispatch(Added { strip, source: Alike(sets), rows, columns, depth_mm });
            }
            Laying::Each(nodes) => {
                let source = Blended(nodes);
                Arch::new().dispatch(Added { strip, source, rows, columns, depth_mm });
            }
        }
    }
}

/// The rows as work that is compiled a second time for wider vectors.
struct Added<'a, F> {
    strip: &'a mut Strip,
    source: F,
    rows: Range<usize>,
    columns: usize,
    depth_mm: &'a mut [f64],
}

impl<F: FillRow> WithSimd for Added<'_, F> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, _: S) {
        for (row, depth_mm) in self.rows.zip(self.depth_mm.chunks_exact_mut(self.columns)) {
            if self.source.fill(self.strip, row) {
                self.strip.add_to(depth_mm);
            }
        }
    }
}
