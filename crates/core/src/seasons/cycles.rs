//! Whole cycles of a season told apart on the folded field: systematic and random unevenness.
//!
//! The season itself is walked day by day; here sampled rows of the interior are laid once more, cycle
//! by cycle, which costs a few percent of the walk. Sampled as in [`crate::unevenness::sample`], with
//! all columns: folded they are few.

use super::compact::CompactField;
use super::weighted::WeightedRegion;
use super::wet_days::{Watering, lay_all};
use crate::overlay::RowScratch;
use crate::season::laid_pass::LaidPass;
use crate::season::layout::Layout;
use crate::season::thinning::Thinning;
use crate::sprinkler::widening::variance_cells2;
use crate::unevenness::sample::spread;
use crate::unevenness::{Groups, UnevennessSplit, split};
use std::borrow::Cow;
use std::ops::Range;

/// The split of the unevenness inside `inside`; `None` with fewer than two whole cycles.
pub(super) fn split_of(
    layout: &Layout<'_>,
    laid: &[LaidPass],
    compact: &CompactField,
    inside: &WeightedRegion,
) -> Option<UnevennessSplit> {
    let groups = Groups::of(layout.plan.passes.len(), layout.plan.cycle);
    if groups.count < 2 {
        return None;
    }
    let columns = compact.folded_columns();
    let by_row: Vec<_> = inside.by_row(columns).into_iter().collect();
    let rows: Vec<_> = spread(0..by_row.len()).into_iter().map(|at| &by_row[at]).collect();
    let weights: Vec<f64> = rows
        .iter()
        .flat_map(|(_, runs)| runs)
        .flat_map(|(columns, weight)| std::iter::repeat_n(*weight, columns.len()))
        .collect();
    let narrowing = Narrowing::of(compact.thinning());
    let cycle = |group: usize| {
        let passes = group * groups.passes..(group + 1) * groups.passes;
        let waterings: Vec<Watering<'_>> =
            passes.map(|pass| watering(layout, laid, pass, compact)).collect();
        let mut depths = Vec::with_capacity(weights.len());
        let sets: Vec<_> = waterings.iter().flat_map(Watering::laid).collect();
        let mut scratch =
            waterings.first().map(|first| RowScratch::new(first.pipe, sets.iter()))?;
        let mut laid_mm = Vec::new();
        for (row, runs) in &rows {
            let near = narrowing.rows(*row, layout.grid.cells_across);
            laid_mm.resize(near.len() * columns, 0.0);
            lay_all(&waterings, &mut scratch, &near, (&mut laid_mm, columns));
            let row_mm = narrowing.row(*row - near.start, columns, &laid_mm);
            for (columns, _) in runs {
                depths.extend_from_slice(&row_mm[columns.clone()]);
            }
        }
        Some(depths)
    };
    let depths: Option<Vec<Vec<f64>>> = (0..groups.count).map(cycle).collect();
    split(&depths?, &weights, groups)
}

/// Undoes by three neighbors each way what water was widened by for its places (`sprinkler::widening`): to
/// second order, enough for waves as long as the sprinkler spacing.
struct Narrowing {
    /// What is taken of the bend along a row, and across rows.
    along: f64,
    across: f64,
}

impl Narrowing {
    fn of(thinning: Thinning) -> Self {
        let half = 0.5 * variance_cells2(thinning.apart());
        let by = |cells: usize| half / (cells * cells) as f64;
        Self { along: by(thinning.columns()), across: by(thinning.rows()) }
    }

    /// The rows from which a row is read, of so many.
    fn rows(&self, row: usize, of: usize) -> Range<usize> {
        let reach = usize::from(self.across > 0.0);
        row.saturating_sub(reach)..(row + reach + 1).min(of)
    }

    /// Row `at` of some.
    fn row<'a>(&self, at: usize, columns: usize, laid_mm: &'a [f64]) -> Cow<'a, [f64]> {
        let row = |at: usize| laid_mm.get(at * columns..(at + 1) * columns);
        let own = row(at).unwrap_or_default();
        if self.along == 0.0 && self.across == 0.0 {
            return Cow::Borrowed(own);
        }
        let beside = |other: Option<usize>| other.and_then(row).unwrap_or(own);
        let (before, behind) = (beside(at.checked_sub(1)), beside(Some(at + 1)));
        let narrowed = |column: usize| {
            let depth = own[column];
            let (left, right) = (column.saturating_sub(1), (column + 1).min(columns - 1));
            let along = own[left] - 2.0 * depth + own[right];
            let across = before[column] - 2.0 * depth + behind[column];
            depth - self.along * along - self.across * across
        };
        Cow::Owned((0..columns).map(narrowed).collect())
    }
}

/// All sets of a pass.
fn watering<'a>(
    layout: &'a Layout<'_>,
    laid: &'a [LaidPass],
    pass: usize,
    compact: &CompactField,
) -> Watering<'a> {
    let plan = &layout.plan.passes[pass];
    Watering::of(
        layout,
        compact.pipe(layout.pipe(plan)),
        layout.laid(plan, &plan.sets, (0, &laid[pass])),
    )
}
