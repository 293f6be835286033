//! Maps of many seasons added up, on the folded field.
//!
//! Sums are whole numbers (of 2⁻⁴⁰ of the full yield, of 2⁻³² mm of water), because the sum of whole
//! numbers is the same in any order: whichever thread adds which season when, the maps come out the
//! same to the last bit. They hold 8 million seasons of up to 250 mm a season, or 100,000 of 20 m, and
//! round a season's value by less than 10⁻¹² and 10⁻⁹ mm.
//!
//! Two seasons may be folded differently, as their winds reach farther or less far; each way of folding
//! has its own sums, and they meet on the real field at the end.

use super::between::{Read, ReadingRoom, read};
use super::compact::CompactField;
use crate::grid::DepthGrid;
use crate::season::thinning::Thinning;
use std::collections::BTreeMap;

/// Steps of a sum in one whole.
const YIELD_STEPS: f64 = (1_u64 << 40) as f64;
/// Steps of a sum in a millimeter.
const DEPTH_STEPS: f64 = (1_u64 << 32) as f64;

/// Added to a number below 2⁵² it leaves the nearest whole number in the last bits.
const TO_WHOLE: f64 = (1_u64 << 52) as f64;

/// Adds values, none negative, in whole steps; 2²⁰ mm, the most that fits, no season brings.
fn add_steps(to: &mut [i64], values: &DepthGrid, steps: f64) {
    for (to, value) in to.iter_mut().zip(values.as_slice().unwrap_or(&[])) {
        let scaled = (value * steps).min(TO_WHOLE - 1.0);
        *to += ((scaled + TO_WHOLE).to_bits() - TO_WHOLE.to_bits()) as i64;
    }
}

/// The maps of one season on its folded field.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FoldedMaps<'a> {
    pub(crate) compact: CompactField,
    /// Yield as a fraction of that without stress, at the places that are looked at.
    pub(crate) yield_fraction: &'a DepthGrid,
    /// Water lost below the roots, mm.
    pub(crate) percolation_mm: &'a DepthGrid,
}

/// Maps of one alternative, averaged over seasons.
#[derive(Clone, Debug)]
pub struct MeanMaps {
    /// Yield as a fraction of that without stress.
    pub yield_fraction: DepthGrid,
    /// Water lost below the roots in a season, mm.
    pub percolation_mm: DepthGrid,
}

/// Sums of one alternative's maps.
#[derive(Clone, Debug, Default)]
pub(crate) struct MapSums(BTreeMap<CompactField, Sums>);

#[derive(Clone, Debug)]
struct Sums {
    columns: usize,
    yields: Vec<i64>,
    percolation: Vec<i64>,
}

impl MapSums {
    /// Adds the maps of one season.
    pub(crate) fn add(&mut self, maps: FoldedMaps<'_>) {
        let (cells, columns) = (maps.yield_fraction.len(), maps.yield_fraction.ncols());
        let zeros = || Sums { columns, yields: vec![0; cells], percolation: vec![0; cells] };
        let sums = self.0.entry(maps.compact).or_insert_with(zeros);
        add_steps(&mut sums.yields, maps.yield_fraction, YIELD_STEPS);
        add_steps(&mut sums.percolation, maps.percolation_mm, DEPTH_STEPS);
    }

    /// Means over so many seasons, on the real field.
    pub(crate) fn means(&self, seasons: usize) -> MeanMaps {
        let mean = |of: fn(&Sums) -> &[i64], steps: f64, most: f64| {
            let per_season = 1.0 / (steps * seasons.max(1) as f64);
            let each = self.0.iter().map(|(compact, sums)| {
                let rows = of(sums).len() / sums.columns.max(1);
                let mean = of(sums).iter().map(|sum| *sum as f64 * per_season).collect();
                let mean = DepthGrid::from_shape_vec((rows, sums.columns), mean);
                on_cells(compact, mean.unwrap_or_default(), most)
            });
            each.reduce(|all, own| all + own).unwrap_or_default()
        };
        MeanMaps {
            yield_fraction: mean(|sums| &sums.yields, YIELD_STEPS, 1.0),
            percolation_mm: mean(|sums| &sums.percolation, DEPTH_STEPS, f64::INFINITY),
        }
    }
}

/// The real field's values from those at the places that were looked at.
fn on_cells(compact: &CompactField, places: DepthGrid, most: f64) -> DepthGrid {
    let folded = if compact.thinning() == Thinning::NONE {
        places
    } else {
        let mut folded = DepthGrid::default((0, 0));
        read(&places, compact, Read::Soil(most), &mut folded, &mut ReadingRoom::default());
        folded
    };
    let columns: Vec<usize> = compact.on_cells().all_folded().collect();
    DepthGrid::from_shape_fn(compact.real(), |(row, column)| folded[(row, columns[column])])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grid::Grid;
    use crate::overlay::PipeOnGrid;

    #[test]
    fn invariant_order_changes_no_bit() {
        let grid = Grid { cells_along: 40, cells_across: 3, cell_m: 1.0 };
        let pipe = PipeOnGrid { first_column: 2, spacing_cells: 4, sprinklers: 9 };
        let season = |number: usize| {
            let compact = CompactField::new((&grid, Thinning::NONE), pipe, 4 + number % 3, Some(1));
            let small = compact.grid(&grid);
            let value = |(row, column): (usize, usize)| {
                ((row * 7 + column * 13 + number * 5) % 19) as f64 / 19.0
            };
            (compact, DepthGrid::from_shape_fn((3, small.cells_along), value))
        };
        let of = |seasons: &[usize]| {
            let mut sums = MapSums::default();
            for number in seasons {
                let (compact, yield_fraction) = season(*number);
                let percolation_mm = 100.0 * &yield_fraction;
                sums.add(FoldedMaps {
                    compact,
                    yield_fraction: &yield_fraction,
                    percolation_mm: &percolation_mm,
                });
            }
            sums
        };
        let straight = of(&[0, 1, 2, 3, 4]).means(5);
        let parted = of(&[4, 2, 3, 0, 1]).means(5);
        assert_eq!(straight.yield_fraction, parted.yield_fraction);
        assert_eq!(straight.percolation_mm, parted.percolation_mm);
        let plain = (0..5).map(|number| {
            let (compact, yield_fraction) = season(number);
            compact.unfold(&yield_fraction)
        });
        let plain = plain.reduce(|a, b| a + b).unwrap() / 5.0;
        assert!((plain - straight.yield_fraction).iter().all(|apart| apart.abs() < 1e-12));
    }
}
