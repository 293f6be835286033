//! Some rows of the overlay, added to what lies there: the same strips as in `alike` and `each`, for
//! whoever goes through a season a few rows at a time and never needs the whole field at once.

use super::alike::Alike;
use super::each::{Blended, Mix, NodeSets};
use super::sets::{LaidSet, PipeOnGrid, near};
use super::spread::Spread;
use super::strip::{FillRow, Reach, Strip};
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

/// What rows are laid onto.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Onto {
    /// Depths, to which they are added.
    Depths,
    /// Nothing: whatever stands there is written over.
    Nothing,
}

/// Room for the strip of a row, made once for all sets of a season.
#[derive(Clone, Debug)]
pub(crate) struct RowScratch {
    strip: Strip,
    /// The portions of the nodes laid last: mostly those of the next as well.
    mix: Mix,
}

impl RowScratch {
    /// For a pipe of so many sprinklers and all of `sets`.
    pub(crate) fn new<'a, 'b: 'a>(
        pipe: PipeOnGrid,
        sets: impl Iterator<Item = &'a LaidSet<'b>>,
    ) -> Self {
        Self { strip: Strip::new(pipe, Reach::of(sets)), mix: Mix::default() }
    }

    /// The same where water is spread on its way.
    pub(crate) fn spread<'a, 'b: 'a>(
        pipe: PipeOnGrid,
        sets: impl Iterator<Item = &'a LaidSet<'b>>,
        by: &Spread,
    ) -> Self {
        Self { strip: Strip::spread(pipe, Reach::of(sets), by), mix: Mix::default() }
    }

    /// Adds what falls on `rows` of a field of `columns` columns to `depth_mm`, row by row, or writes it
    /// over what lies there. `pipe` has the scratch's spacing and sprinklers.
    pub(crate) fn lay(
        &mut self,
        (pipe, laying, onto): (PipeOnGrid, Laying<'_>, Onto),
        rows: Range<usize>,
        (depth_mm, columns): (&mut [f64], usize),
    ) {
        let Self { strip, mix } = self;
        strip.pipe = pipe;
        let wider = strip.spreading().map_or(0, |spreading| spreading.rows_far());
        let reached = rows.start.saturating_sub(wider)..rows.end + wider;
        match laying {
            Laying::Alike(sets) => {
                let source = Alike(near(sets, &reached));
                Arch::new().dispatch(Laid { strip, source, onto, rows, columns, depth_mm });
            }
            Laying::Each(nodes) => {
                if !mix.is_of(strip, nodes) {
                    *mix = Mix::new(strip, nodes);
                }
                let sets = nodes.iter().map(|node| near(&node.sets, &reached)).collect();
                let source = Blended::new(mix, sets);
                Arch::new().dispatch(Laid { strip, source, onto, rows, columns, depth_mm });
            }
        }
    }
}

/// The rows as work that is compiled a second time for wider vectors.
struct Laid<'a, F> {
    strip: &'a mut Strip,
    source: F,
    onto: Onto,
    rows: Range<usize>,
    columns: usize,
    depth_mm: &'a mut [f64],
}

impl<F: FillRow> WithSimd for Laid<'_, F> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(mut self, simd: S) {
        for (row, depth_mm) in self.rows.zip(self.depth_mm.chunks_exact_mut(self.columns)) {
            match self.onto {
                Onto::Depths => {
                    if self.source.fill(simd, self.strip, row) {
                        self.strip.add_to(depth_mm);
                    }
                }
                Onto::Nothing => {
                    if !self.source.write(simd, self.strip, row, depth_mm) {
                        depth_mm.fill(0.0);
                    }
                }
            }
        }
    }
}
