//! The footprint of a sprinkler in still air: cell means of its leg.
//!
//! Each cell takes the mean of a square of sub-points; then all cells are brought into proportion
//! so that the sum is the discharge exactly (the sub-points alone miss it by about 1e-4).

use super::footprint::{Footprint, Phase};
use super::leg::Leg;
use super::nodes::Nodes;
use super::own_wind::OwnWind;
use super::problem::SprinklerProblem;
use crate::range::within;
use ndarray::Array2;

/// A sprinkler's legs on equally spaced distances, ready to be laid on cells.
#[derive(Debug)]
pub(super) struct StillPattern {
    legs: Vec<LegTable>,
    radius_m: f64,
    discharge_l_s: f64,
    cell_m: f64,
    subsamples: usize,
}

impl StillPattern {
    /// The sum of `legs` on cells of `cell_m`, with `subsamples` points a side of each.
    ///
    /// # Errors
    /// Discharge of all together outside 1e-6–1000 L/s.
    pub(super) fn new(
        legs: &[&Leg],
        cell_m: f64,
        subsamples: usize,
    ) -> Result<Self, SprinklerProblem> {
        let discharge_l_s = legs.iter().map(|leg| leg.discharge_l_s()).sum();
        within("discharge_l_s", discharge_l_s, 1e-6, 1000.0)?;
        let step_m = cell_m / (4 * subsamples) as f64;
        let radius_m = legs.iter().map(|leg| leg.radius_m()).fold(0.0, f64::max);
        let legs = legs.iter().map(|leg| LegTable::new(leg, step_m)).collect();
        Ok(Self { legs, radius_m, discharge_l_s, cell_m, subsamples })
    }

    /// Radius of the farthest leg, m.
    pub(super) fn radius_m(&self) -> f64 {
        self.radius_m
    }

    /// All that is delivered, as if onto one cell, mm/h.
    pub(super) fn discharge_mm_h(&self) -> f64 {
        self.discharge_l_s * 3600.0 / (self.cell_m * self.cell_m)
    }

    /// The same pattern read at any place: for [`OwnWind`].
    pub(super) fn read_anywhere(&self, nodes: &Nodes) -> OwnWind {
        let cell_m = self.cell_m;
        OwnWind::still(self.radius_m / cell_m, nodes, |cells| {
            self.legs.iter().map(|leg| leg.rate_at(cells * cell_m)).sum()
        })
    }

    /// Rate on the cells around the sprinkler, mm/h.
    pub(super) fn on_cells(&self, phase: Phase) -> Footprint {
        let rate_at = |r_m: f64| self.legs.iter().map(|leg| leg.rate_at(r_m)).sum();
        let cells = Cells { cell_m: self.cell_m, phase, subsamples: self.subsamples };
        radial_footprint(rate_at, self.radius_m, self.discharge_l_s, cells)
    }
}

/// The cells on which a radial pattern is laid.
#[derive(Clone, Copy, Debug)]
struct Cells {
    cell_m: f64,
    phase: Phase,
    /// Points a side of each cell.
    subsamples: usize,
}

/// Rate of a sprinkler in still air on the cells around it, mm/h.
///
/// `rate_at` gives the rate (mm/h, any common factor will do) at a distance (m), `radius_m` where
/// it ends.
fn radial_footprint(
    rate_at: impl Fn(f64) -> f64,
    radius_m: f64,
    discharge_l_s: f64,
    Cells { cell_m, phase, subsamples }: Cells,
) -> Footprint {
    let reach = (radius_m / cell_m).ceil() as isize;
    // From the cell that holds place −reach + phase to the one that holds reach + phase.
    let side = 2 * reach as usize + 2;
    let beyond_m = radius_m + cell_m;
    let mut values = Array2::from_shape_fn((side, side), |(row, column)| {
        let center =
            |index: usize, phase: f64| ((index as isize - reach) as f64 + 0.5 - phase) * cell_m;
        let (x_m, y_m) = (center(column, phase.along), center(row, phase.across));
        if x_m * x_m + y_m * y_m > beyond_m * beyond_m {
            return 0.0;
        }
        cell_sum(&rate_at, x_m, y_m, cell_m, subsamples)
    });
    let sum = values.sum();
    let discharge_mm_h = discharge_l_s * 3600.0 / (cell_m * cell_m);
    if sum > 0.0 {
        values *= discharge_mm_h / sum;
    } else {
        // A pattern that slips between the sub-points falls into the sprinkler's own cell.
        values[(reach as usize, reach as usize)] = discharge_mm_h;
    }
    Footprint { first_row: -reach, first_column: -reach, values }
}

/// Sum of the rate over the sub-points of the cell with its center at (x, y).
fn cell_sum(
    rate_at: &impl Fn(f64) -> f64,
    x_m: f64,
    y_m: f64,
    cell_m: f64,
    subsamples: usize,
) -> f64 {
    let offset_m = |k: usize| ((k as f64 + 0.5) / subsamples as f64 - 0.5) * cell_m;
    let mut sum = 0.0;
    for across in 0..subsamples {
        let y_m = y_m + offset_m(across);
        for along in 0..subsamples {
            let x_m = x_m + offset_m(along);
            sum += rate_at((x_m * x_m + y_m * y_m).sqrt());
        }
    }
    sum
}

/// A leg on equally spaced distances, so that a rate is found without searching.
#[derive(Debug)]
struct LegTable {
    radius_m: f64,
    per_m: f64,
    rates: Vec<f64>,
}

impl LegTable {
    /// `leg` on steps of at most `step_m`.
    fn new(leg: &Leg, step_m: f64) -> Self {
        let radius_m = leg.radius_m();
        let steps = (radius_m / step_m).ceil().clamp(1.0, 1e6) as usize;
        let distance_m = |k: usize| (radius_m * k as f64 / steps as f64).min(radius_m);
        let rates = (0..=steps).map(|k| leg.rate_at(distance_m(k))).collect();
        Self { radius_m, per_m: steps as f64 / radius_m, rates }
    }

    /// Rate at a distance ≥ 0, mm/h.
    fn rate_at(&self, distance_m: f64) -> f64 {
        if distance_m > self.radius_m {
            return 0.0;
        }
        let place = distance_m * self.per_m;
        let step = (place as usize).min(self.rates.len() - 2);
        let share = place - step as f64;
        self.rates[step] * (1.0 - share) + self.rates[step + 1] * share
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sprinkler::shape::Shape;
    use crate::units::M_PER_FT;

    fn cone() -> Leg {
        Leg::new(vec![0.0, 10.0], vec![6.0, 0.0]).unwrap()
    }

    fn still(cell_m: f64, phase: Phase) -> Footprint {
        let leg = cone();
        let cells = Cells { cell_m, phase, subsamples: 8 };
        radial_footprint(|r| leg.rate_at(r), 10.0, leg.discharge_l_s(), cells)
    }

    #[test]
    fn closed_mass_and_place() {
        for phase in [Phase::CORNER, Phase { along: 0.3, across: 1.0 }] {
            let found = still(0.5, phase);
            let litres_h = found.values.sum() * 0.25;
            assert!((litres_h / (cone().discharge_l_s() * 3600.0) - 1.0).abs() < 1e-12);
            // The center of mass is where the sprinkler stands.
            let mut moment = [0.0, 0.0];
            for ((row, column), value) in found.values.indexed_iter() {
                moment[0] += value * ((found.first_column + column as isize) as f64 + 0.5);
                moment[1] += value * ((found.first_row + row as isize) as f64 + 0.5);
            }
            let mean = moment.map(|m| m / found.values.sum());
            assert!((mean[0] - phase.along).abs() < 1e-3, "{mean:?}");
            assert!((mean[1] - phase.across).abs() < 1e-3, "{mean:?}");
        }
    }

    #[test]
    fn closed_cell_means_of_a_cone() {
        // On a slope the mean over a cell is the rate at its center, but for curvature.
        let found = still(0.5, Phase::CORNER);
        let value = found.values[(20, 30)];
        assert!((value - 6.0 * (1.0 - (5.25_f64.hypot(0.25)) / 10.0)).abs() < 0.01, "{value}");
    }

    #[test]
    fn reference_table_is_the_leg() {
        let leg = Leg::new(vec![1.0, 4.0, 9.0], vec![2.0, 5.0, 1.0]).unwrap();
        let table = LegTable::new(&leg, 0.01);
        for k in 0..1000 {
            let r_m = k as f64 * 0.011;
            assert!((table.rate_at(r_m) - leg.rate_at(r_m)).abs() < 0.01, "{r_m}");
        }
    }

    /// CU (percent) at 40 ft by `across_ft` without end, on cells of half a foot.
    fn cu(shape: Shape, radius_ft: f64, across_ft: usize) -> f64 {
        let rate = |r_m: f64| shape.at(r_m / (radius_ft * M_PER_FT));
        let cells = Cells { cell_m: 0.5 * M_PER_FT, phase: Phase::CORNER, subsamples: 4 };
        let found = radial_footprint(rate, radius_ft * M_PER_FT, 0.4, cells);
        let (rows, columns) = (2 * across_ft, 80);
        let mut field = Array2::<f64>::zeros((rows, columns));
        for ((row, column), value) in found.values.indexed_iter() {
            let row = (found.first_row + row as isize).rem_euclid(rows as isize);
            let column = (found.first_column + column as isize).rem_euclid(columns as isize);
            field[(row as usize, column as usize)] += value;
        }
        let (cells, sum) = (field.len() as f64, field.sum());
        let deviation = field.iter().map(|rate| (rate - sum / cells).abs()).sum::<f64>();
        100.0 * (1.0 - deviation / sum)
    }

    #[test]
    fn reference_ideal_shapes_overlapped_at_40_by_60_and_40_by_30_ft() {
        // Computed apart on a grid of 90 × 90 points: diameter ft, CU of 40 × 60 ft, and of two
        // waterings 30 ft apart, which are 40 × 30 ft. Within 0.1 point.
        for (shape, diameter_ft, fixed, pair) in [
            (Shape::Triangular, 80.0, 73.16, 96.61),
            (Shape::Triangular, 90.0, 84.58, 96.84),
            (Shape::Triangular, 100.0, 93.11, 97.47),
            (Shape::Elliptical, 80.0, 87.49, 90.28),
            (Shape::Elliptical, 90.0, 91.76, 93.40),
            (Shape::Elliptical, 100.0, 88.67, 96.12),
            (Shape::Parabolic, 80.0, 79.50, 92.56),
            (Shape::Parabolic, 90.0, 91.15, 93.80),
            (Shape::Parabolic, 100.0, 95.31, 96.33),
        ] {
            let found = [60, 30].map(|across_ft| cu(shape, diameter_ft / 2.0, across_ft));
            let apart = [found[0] - fixed, found[1] - pair];
            assert!(apart.iter().all(|a| a.abs() <= 0.1), "{shape:?} {diameter_ft} ft: {apart:?}");
        }
    }

    #[test]
    fn invariant_too_much_water_is_refused() {
        let flood = Leg::new(vec![10.0], vec![1e9]).unwrap();
        assert!(StillPattern::new(&[&flood], 0.5, 8).is_err());
        assert!(StillPattern::new(&[&cone(), &cone()], 0.5, 8).is_ok());
    }
}
