//! Whole cycles of a season told apart on the folded field: systematic and random unevenness.
//!
//! The season itself is walked day by day; here sampled rows of the interior are laid once more, cycle
//! by cycle, which costs a few percent of the walk. Sampled as in [`crate::unevenness::sample`], with
//! all columns: folded they are few.

use super::compact::CompactField;
use super::weighted::WeightedRegion;
use super::wet_days::{Watering, add_all};
use crate::overlay::RowScratch;
use crate::season::laid_pass::LaidPass;
use crate::season::layout::Layout;
use crate::unevenness::sample::spread;
use crate::unevenness::{Groups, UnevennessSplit, split};

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
    let cycle = |group: usize| {
        let passes = group * groups.passes..(group + 1) * groups.passes;
        let waterings: Vec<Watering<'_>> =
            passes.map(|pass| watering(layout, laid, pass, compact)).collect();
        let mut depths = Vec::with_capacity(weights.len());
        let sets: Vec<_> = waterings.iter().flat_map(Watering::laid).collect();
        let mut scratch =
            waterings.first().map(|first| RowScratch::new(first.pipe, sets.iter()))?;
        let mut row_mm = vec![0.0; columns];
        for (row, runs) in &rows {
            row_mm.fill(0.0);
            add_all(&waterings, &mut scratch, &(*row..*row + 1), (&mut row_mm, columns));
            for (columns, _) in runs {
                depths.extend_from_slice(&row_mm[columns.clone()]);
            }
        }
        Some(depths)
    };
    let depths: Option<Vec<Vec<f64>>> = (0..groups.count).map(cycle).collect();
    split(&depths?, &weights, groups)
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
