//! Figures of a part of a folded field: cells of the repeat count as often as they were left out.
//!
//! The part is kept as runs of cells that lie side by side and count alike, so that every figure is a
//! few plain sweeps. CU and DUlq are those of [`crate::uniformity`] with weights: CU = 1 − Σ w|x − M| /
//! (M Σ w), the low quarter that of the weighted area, the cell at its edge counting in part. The
//! lowest share is found like there: a sample brackets its edge, what lies below is only summed, what
//! lies inside is sorted; a bracket that misses falls back on sorting all.

mod sweeps;

use super::compact::CompactField;
use crate::grid::DepthGrid;
use crate::model::{Field, Region};
use pulp::Arch;
use std::collections::BTreeMap;
use std::ops::Range;
use sweeps::{Between, Summed};

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

    /// Sums of `parts` of each value, each as often as it counts.
    fn sums<const N: usize>(
        &self,
        values: &DepthGrid,
        parts: impl Fn(f64) -> [f64; N],
    ) -> [f64; N] {
        Arch::new().dispatch(Summed { rows: self.rows(values), parts })
    }

    /// Mean of `part` of each value.
    pub(crate) fn mean_of(&self, values: &DepthGrid, part: impl Fn(f64) -> f64) -> f64 {
        let [sum] = self.sums(values, |x| [part(x)]);
        sum / self.area
    }

    /// Sum of the values, each as often as it counts.
    pub(super) fn sum(&self, values: &DepthGrid) -> f64 {
        let [sum] = self.sums(values, |x| [x]);
        sum
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
        let quarter = 0.25 * self.area;
        let (lowest, apart) =
            self.lowest_sum(depth_mm, quarter, |depth_mm| (depth_mm - mean_mm).abs());
        (1.0 - apart / self.area / mean_mm, lowest / quarter / mean_mm)
    }

    /// Mean of the lowest tenth of the cells, a whole number of them and at least one.
    pub(crate) fn worst_tenth(&self, values: &DepthGrid) -> f64 {
        let count = (self.area / 10.0).floor().max(1.0);
        self.lowest_sum(values, count, |_| 0.0).0 / count
    }

    /// Sum of the `wanted` lowest cells of the real field, a part of a cell counting in part; beside it
    /// that of `part` of each value.
    fn lowest_sum(&self, values: &DepthGrid, wanted: f64, part: impl Fn(f64) -> f64) -> (f64, f64) {
        let (low, high) = self.bracket(values, wanted / self.area);
        let below = |x: f64| if x < low { [x, 1.0] } else { [0.0, 0.0] };
        let [below_sum, below_area, parts] = self.sums(values, |x| {
            let [sum, area] = below(x);
            [sum, area, part(x)]
        });
        let inside = self.between(values, (low, high));
        let inside_area: f64 = inside.iter().map(|(_, weight)| weight).sum();
        if below_area <= wanted && wanted <= below_area + inside_area {
            return (below_sum + lowest_of(&inside, wanted - below_area), parts);
        }
        let all = self.rows(values).flat_map(|(row, weight)| row.iter().map(move |x| (*x, weight)));
        (lowest_of(&all.collect::<Vec<_>>(), wanted), parts)
    }

    /// The values from `low` to `high`, each with how often it counts.
    fn between(&self, values: &DepthGrid, (low, high): (f64, f64)) -> Vec<(f64, f64)> {
        Arch::new().dispatch(Between { rows: self.rows(values), low, high })
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
#[path = "weighted_tests.rs"]
mod tests;
