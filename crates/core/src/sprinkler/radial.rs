//! The footprint of a sprinkler in still air: cell means of its leg.
//!
//! Each cell takes the mean of a square of sub-points; then all cells are brought into proportion
//! so that the sum is the discharge exactly (the sub-points alone miss it by about 1e-4).

use super::footprint::{Footprint, Phase};
use super::leg::Leg;
use super::problem::{SprinklerProblem, within};
use ndarray::Array2;

/// Rate of a sprinkler in still air on the cells around it, mm/h.
///
/// `rate_at` gives the rate (mm/h, any common factor will do) at a distance (m), `radius_m` where
/// it ends; `subsamples` points a side of each cell.
///
/// # Errors
/// Radius outside 0.1–200 m, discharge outside 1e-6–1000 L/s, cell outside 0.02–20 m, over 2000
/// cells to the radius, subsamples outside 1–64, an unsound phase.
pub fn radial_footprint(
    rate_at: impl Fn(f64) -> f64,
    radius_m: f64,
    discharge_l_s: f64,
    cell_m: f64,
    phase: Phase,
    subsamples: usize,
) -> Result<Footprint, SprinklerProblem> {
    within("radius_m", radius_m, 0.1, 200.0)?;
    within("discharge_l_s", discharge_l_s, 1e-6, 1000.0)?;
    within("cell_m", cell_m, 0.02, 20.0)?;
    within("cells to the radius", radius_m / cell_m, 0.0, 2000.0)?;
    within("subsamples", subsamples as f64, 1.0, 64.0)?;
    phase.check()?;
    let reach = (radius_m / cell_m).ceil() as isize;
    // From the cell that holds place −reach + phase to the one that holds reach + phase.
    let side = 2 * reach as usize + 2;
    let beyond_m = radius_m + cell_m;
    let mut values = Array2::from_shape_fn((side, side), |(row, column)| {
        let centre =
            |index: usize, phase: f64| ((index as isize - reach) as f64 + 0.5 - phase) * cell_m;
        let (x_m, y_m) = (centre(column, phase.along), centre(row, phase.across));
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
    Ok(Footprint { first_row: -reach, first_column: -reach, values })
}

/// Sum of the rate over the sub-points of the cell with its centre at (x, y).
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
pub(super) struct LegTable {
    radius_m: f64,
    per_m: f64,
    rates: Vec<f64>,
}

impl LegTable {
    /// `leg` on steps of at most `step_m`.
    pub(super) fn new(leg: &Leg, step_m: f64) -> Self {
        let radius_m = leg.radius_m();
        let steps = (radius_m / step_m).ceil().clamp(1.0, 1e6) as usize;
        let distance_m = |k: usize| (radius_m * k as f64 / steps as f64).min(radius_m);
        let rates = (0..=steps).map(|k| leg.rate_at(distance_m(k))).collect();
        Self { radius_m, per_m: steps as f64 / radius_m, rates }
    }

    /// Rate at a distance ≥ 0, mm/h.
    pub(super) fn rate_at(&self, distance_m: f64) -> f64 {
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

    fn cone() -> Leg {
        Leg::new(vec![0.0, 10.0], vec![6.0, 0.0]).unwrap()
    }

    fn still(cell_m: f64, phase: Phase) -> Footprint {
        let leg = cone();
        radial_footprint(|r| leg.rate_at(r), 10.0, leg.discharge_l_s(), cell_m, phase, 8).unwrap()
    }

    #[test]
    fn closed_mass_and_place() {
        for phase in [Phase::CORNER, Phase { along: 0.3, across: 1.0 }] {
            let found = still(0.5, phase);
            let litres_h = found.values.sum() * 0.25;
            assert!((litres_h / (cone().discharge_l_s() * 3600.0) - 1.0).abs() < 1e-12);
            // The centre of mass is where the sprinkler stands.
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
        // On a slope the mean over a cell is the rate at its centre, but for curvature.
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

    #[test]
    fn invariant_bad_sizes_are_refused() {
        let rate = |_: f64| 1.0;
        assert!(radial_footprint(rate, f64::NAN, 1.0, 0.5, Phase::CORNER, 8).is_err());
        assert!(radial_footprint(rate, 10.0, 1.0, 0.0, Phase::CORNER, 8).is_err());
        let outside = Phase { along: 1.5, across: 0.0 };
        assert!(radial_footprint(rate, 10.0, 1.0, 0.5, outside, 8).is_err());
    }
}
