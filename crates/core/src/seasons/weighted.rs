//! Figures of a part of a folded field: cells of the repeat count as often as they were left out.
//!
//! The part is kept as runs of cells that lie side by side and count alike, so that every figure is a
//! few plain sweeps. CU and DUlq are those of [`crate::uniformity`] with weights: CU = 1 − Σ w|x − M| /
//! (M Σ w), the low quarter that of the weighted area, the cell at its edge counting in part. The
//! lowest share is found like there: a sample brackets its edge, what lies below is only summed, what
//! lies inside is sorted; a bracket that misses falls back on sorting all.

use super::compact::CompactField;
use crate::grid::DepthGrid;
use crate::model::{Field, Region};
use crate::statistics;
use std::collections::BTreeMap;
use std::ops::Range;

/// Cells side by side.
#[derive(Clone, Copy, Debug)]
struct Run {
    first: usize,
    cells: usize,
    /// How many cells of the real field each stands for.
    weight: f64,
}

/// A part of a folded field.
#[derive(Clone, Debug)]
pub(crate) struct WeightedRegion {
    runs: Vec<Run>,
    /// Cells of the real field.
    area: f64,
}

/// The parts of a field for which a season's figures are taken.
#[derive(Debug)]
pub(super) struct Regions {
    of: (Field, f64, CompactField),
    /// On all cells.
    pub(super) whole: WeightedRegion,
    pub(super) inside: WeightedRegion,
    /// On the places that are looked at.
    pub(super) whole_places: WeightedRegion,
    pub(super) inside_places: WeightedRegion,
    /// What of the places is not the field's; `None` without a boundary.
    pub(super) beside_places: Option<WeightedRegion>,
}

/// Those used last: mostly those of the next season as well.
#[derive(Debug, Default)]
pub(super) struct LastRegions(Option<Regions>);

impl LastRegions {
    /// The whole of `field`, folded as `compact` says, and its interior less a margin of `margin_m`.
    pub(super) fn of(&mut self, field: &Field, margin_m: f64, compact: CompactField) -> &Regions {
        let is_known =
            |known: &Regions| (&known.of.0, known.of.1, known.of.2) == (field, margin_m, compact);
        if !self.0.as_ref().is_some_and(is_known) {
            self.0 = None;
        }
        self.0.get_or_insert_with(|| {
            let (whole, inside) = (field.whole(), field.interior_or_whole(margin_m));
            let beside = || WeightedRegion::beside(&whole, &compact);
            Regions {
                of: (field.clone(), margin_m, compact),
                whole_places: WeightedRegion::of(&whole, &compact),
                inside_places: WeightedRegion::of(&inside, &compact),
                beside_places: field.boundary.is_some().then(beside),
                whole: WeightedRegion::of(&whole, &compact.on_cells()),
                inside: WeightedRegion::of(&inside, &compact.on_cells()),
            }
        })
    }
}

/// About so many cells are sampled for a bracket.
const SAMPLE_CELLS: usize = 2048;
/// Half-width of the bracket, in shares of the cells.
const BRACKET_SHARE: f64 = 0.03;

impl WeightedRegion {
    /// `region` of the real field, folded as `compact` says; a field with a boundary is never folded.
    pub(crate) fn of(region: &Region, compact: &CompactField) -> Self {
        Self::of_weights(&weights(region, compact))
    }

    /// What is left of an unfolded grid beside `region`.
    fn beside(region: &Region, compact: &CompactField) -> Self {
        let whole = compact.thinning().cells();
        let left: Vec<f64> = weights(region, compact).iter().map(|weight| whole - weight).collect();
        Self::of_weights(&left)
    }

    /// Cells that stand for so many cells each.
    fn of_weights(weights: &[f64]) -> Self {
        let mut runs: Vec<Run> = Vec::new();
        for (first, weight) in weights.iter().enumerate().filter(|(_, weight)| **weight > 0.0) {
            match runs.last_mut() {
                Some(last) if last.first + last.cells == first && last.weight == *weight => {
                    last.cells += 1;
                }
                _ => runs.push(Run { first, cells: 1, weight: *weight }),
            }
        }
        let area = runs.iter().map(|run| run.cells as f64 * run.weight).sum();
        Self { runs, area }
    }

    fn rows<'a>(&'a self, values: &'a DepthGrid) -> impl Iterator<Item = (&'a [f64], f64)> {
        let values = values.as_slice().unwrap_or(&[]);
        self.runs.iter().map(|run| (&values[run.first..run.first + run.cells], run.weight))
    }

    /// The runs of cells that lie in rows of `columns` cells: row by row, columns and weight.
    pub(super) fn by_row(&self, columns: usize) -> BTreeMap<usize, Vec<(Range<usize>, f64)>> {
        let mut rows: BTreeMap<usize, Vec<(Range<usize>, f64)>> = BTreeMap::new();
        for run in &self.runs {
            // A run may go on from one row to the next.
            let (mut first, end) = (run.first, run.first + run.cells);
            while first < end {
                let row = first / columns;
                let last = end.min((row + 1) * columns);
                let part = (first - row * columns)..(last - row * columns);
                rows.entry(row).or_default().push((part, run.weight));
                first = last;
            }
        }
        rows
    }

    /// Mean of `part` of each value.
    pub(crate) fn mean_of(&self, values: &DepthGrid, part: impl Fn(f64) -> f64) -> f64 {
        let row = |(row, weight): (&[f64], f64)| weight * sum_of(row, &part);
        self.rows(values).map(row).sum::<f64>() / self.area
    }

    /// Sum of the values, each as often as it counts.
    pub(super) fn sum(&self, values: &DepthGrid) -> f64 {
        self.rows(values).map(|(row, weight)| weight * statistics::sum(row)).sum()
    }

    /// Mean of the values.
    pub(crate) fn mean(&self, values: &DepthGrid) -> f64 {
        self.sum(values) / self.area
    }

    /// CU and DUlq of depths, fractions; not numbers where no water fell.
    pub(crate) fn cu_and_du_lq(&self, depth_mm: &DepthGrid) -> (f64, f64) {
        let mean_mm = self.mean(depth_mm);
        if mean_mm.is_nan() || mean_mm <= 0.0 {
            return (f64::NAN, f64::NAN);
        }
        let apart_mm = self.mean_of(depth_mm, |depth_mm| (depth_mm - mean_mm).abs());
        let quarter = 0.25 * self.area;
        (1.0 - apart_mm / mean_mm, self.lowest_sum(depth_mm, quarter) / quarter / mean_mm)
    }

    /// Mean of the lowest tenth of the cells, a whole number of them and at least one.
    pub(crate) fn worst_tenth(&self, values: &DepthGrid) -> f64 {
        let count = (self.area / 10.0).floor().max(1.0);
        self.lowest_sum(values, count) / count
    }

    /// Sum of the `wanted` lowest cells of the real field; a part of a cell counts in part.
    fn lowest_sum(&self, values: &DepthGrid, wanted: f64) -> f64 {
        let (low, high) = self.bracket(values, wanted / self.area);
        let (mut below_sum, mut below_area, mut inside) = (0.0, 0.0, Vec::new());
        for (row, weight) in self.rows(values) {
            below_sum += weight * sum_of(row, |x| if x < low { x } else { 0.0 });
            below_area += weight * sum_of(row, |x| if x < low { 1.0 } else { 0.0 });
            let is_inside = |x: f64| x >= low && x <= high;
            for block in row.chunks(statistics::LANES) {
                if block.iter().fold(false, |any, x| any | is_inside(*x)) {
                    let here = block.iter().filter(|x| is_inside(**x));
                    inside.extend(here.map(|x| (*x, weight)));
                }
            }
        }
        let inside_area: f64 = inside.iter().map(|(_, weight)| weight).sum();
        if below_area <= wanted && wanted <= below_area + inside_area {
            return below_sum + lowest_of(&inside, wanted - below_area);
        }
        let all = self.rows(values).flat_map(|(row, weight)| row.iter().map(move |x| (*x, weight)));
        lowest_of(&all.collect::<Vec<_>>(), wanted)
    }

    /// Two values that very likely enclose the one below which `share` of the area lies.
    fn bracket(&self, values: &DepthGrid, share: f64) -> (f64, f64) {
        let cells: usize = self.runs.iter().map(|run| run.cells).sum();
        let stride = (cells / SAMPLE_CELLS).max(1) | 1;
        let (mut sample, mut skip) = (Vec::with_capacity(2 * SAMPLE_CELLS), 0);
        for (row, weight) in self.rows(values) {
            let mut at = skip;
            while at < row.len() {
                sample.push((row[at], weight));
                at += stride;
            }
            skip = at - row.len();
        }
        if sample.len() < 64 {
            return (f64::NEG_INFINITY, f64::INFINITY);
        }
        sample.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let area: f64 = sample.iter().map(|(_, weight)| weight).sum();
        let value_at = |share: f64| {
            let mut left = share * area;
            let reached = sample.iter().find(|(_, weight)| {
                left -= weight;
                left < 0.0
            });
            reached.map_or(f64::INFINITY, |(value, _)| *value)
        };
        let low =
            if share < BRACKET_SHARE { f64::NEG_INFINITY } else { value_at(share - BRACKET_SHARE) };
        (low, value_at(share + BRACKET_SHARE))
    }
}

/// How many cells of `region` each place of the folded field stands for.
fn weights(region: &Region, compact: &CompactField) -> Vec<f64> {
    let ([rows, real_columns], columns) = (compact.real(), compact.folded_columns());
    let high = compact.thinning().rows();
    let mut weights = vec![0.0; rows.div_ceil(high) * columns];
    match region {
        Region::Cells(runs) => {
            for at in runs.cells() {
                let (row, column) = (at / real_columns, at % real_columns);
                weights[row / high * columns + compact.folded(column)] += 1.0;
            }
        }
        Region::Window(window) => {
            let mut in_a_row = vec![0.0; columns];
            window.columns.clone().for_each(|column| in_a_row[compact.folded(column)] += 1.0);
            for row in window.rows.clone() {
                let to = &mut weights[row / high * columns..][..columns];
                to.iter_mut().zip(&in_a_row).for_each(|(to, more)| *to += more);
            }
        }
    }
    weights
}

/// Sum of `part` of each value of a row, in fixed lanes.
fn sum_of(row: &[f64], part: impl Fn(f64) -> f64) -> f64 {
    let (blocks, rest) = row.as_chunks::<{ statistics::LANES }>();
    let mut lanes = [0.0; statistics::LANES];
    for block in blocks {
        for (lane, x) in lanes.iter_mut().zip(block) {
            *lane += part(*x);
        }
    }
    rest.iter().fold(statistics::fold_lanes(lanes), |sum, x| sum + part(*x))
}

/// Bins into which a bracket is parted.
const BINS: usize = 64;

/// Sum of the `wanted` lowest of weighted values, all in order and only those of the bin at the edge
/// sorted.
fn lowest_of(values: &[(f64, f64)], wanted: f64) -> f64 {
    let ends = values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (x, _)| {
        (low.min(*x), high.max(*x))
    });
    let scale = BINS as f64 / (ends.1 - ends.0);
    let bin = |x: f64| {
        if scale.is_finite() { (((x - ends.0) * scale) as usize).min(BINS - 1) } else { 0 }
    };
    let mut bins = [(0.0, 0.0); BINS];
    for (x, weight) in values {
        let (sum, area) = &mut bins[bin(*x)];
        *sum += weight * x;
        *area += weight;
    }
    let (mut sum, mut left, mut edge) = (0.0, wanted, BINS);
    for (number, (bin_sum, area)) in bins.iter().enumerate() {
        if *area > left {
            edge = number;
            break;
        }
        sum += bin_sum;
        left -= area;
    }
    let mut at_edge: Vec<(f64, f64)> =
        values.iter().filter(|(x, _)| bin(*x) == edge).copied().collect();
    at_edge.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    for (value, weight) in at_edge {
        let counts = weight.min(left);
        sum += counts * value;
        left -= counts;
        if left <= 0.0 {
            break;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::Grid;
    use crate::overlay::PipeOnGrid;
    use crate::season::thinning::Thinning;

    /// A field folded so that columns 6 to 9 stand for 6 repeats, and its values, folded and real.
    fn folded() -> (Grid, CompactField, DepthGrid, DepthGrid) {
        let grid = Grid { cells_along: 34, cells_across: 25, cell_m: 1.0 };
        let pipe = PipeOnGrid { first_column: 2, spacing_cells: 4, sprinklers: 8 };
        let compact = CompactField::new((&grid, Thinning::NONE), pipe, 4, Some(1));
        let small = compact.grid(&grid);
        assert!(small.cells_along < 20, "{small:?}");
        let value = |(row, column): (usize, usize)| 3.0 + ((row * 7 + column * 11) % 17) as f64;
        let folded = DepthGrid::from_shape_fn((25, small.cells_along), value);
        let real = compact.unfold(&folded);
        (grid, compact, folded, real)
    }

    #[test]
    fn reference_figures_of_the_folded_field_are_those_of_the_real_one() {
        let (grid, compact, folded, real) = folded();
        for window in [grid.whole(), grid.inset(5.0), grid.inset(8.0), grid.edge_strip(3.0, true)] {
            let region = Region::Window(window);
            let weighted = WeightedRegion::of(&region, &compact);
            let figures = region.figures(&real).unwrap();
            assert!((weighted.mean(&folded) - figures.mean_depth_mm).abs() < 1e-12);
            let (cu, du_lq) = weighted.cu_and_du_lq(&folded);
            assert!((cu - figures.cu).abs() < 1e-12 && (du_lq - figures.du_lq).abs() < 1e-12);
            let mut all: Vec<f64> = region.of(&real).iter().copied().collect();
            all.sort_by(f64::total_cmp);
            let lowest = &all[..(all.len() / 10).max(1)];
            let plain = lowest.iter().sum::<f64>() / lowest.len() as f64;
            assert!((weighted.worst_tenth(&folded) - plain).abs() < 1e-12);
        }
    }

    #[test]
    fn closed_a_dry_part_has_no_figures() {
        let (grid, compact, folded, _) = folded();
        let weighted = WeightedRegion::of(&Region::Window(grid.whole()), &compact);
        assert!(weighted.cu_and_du_lq(&(0.0 * folded)).0.is_nan());
    }
}
