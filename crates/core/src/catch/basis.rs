//! What each part of a leg lays into each can, for a ladder of K1.
//!
//! A leg that is linear between knots is a sum of hats, one a knot; what it lays into a can is, for
//! a given K1, linear in the rates at the knots. So the drops are flown once for each K1 of a ladder
//! and the hats laid; in between, what a hat lays is a cubic in the ladder's number through its values
//! with central slopes (Catmull & Rom 1974). The rungs stand closer where K1 is small and matters more. In still air the hats themselves are asked, and there is no K1.

use super::rig::{Laid, landing_map, single_place, winds};
use super::{CatchProblem, CatchTest};
use crate::sprinkler::footprint::{FootprintSettings, Phase, WindSlice};
use crate::sprinkler::maker::FootprintMaker;
use crate::sprinkler::{DragCorrection, Launch, Leg};
use libm::{exp, log};
use nalgebra::DMatrix;
use rayon::prelude::*;
use std::sync::Arc;

/// Cells to the radius: the fit reads the pattern, not its grain.
const CELLS_TO_RADIUS: f64 = 40.0;
/// Steps of the ladder of K1.
const STEPS: usize = 20;
/// How much closer the first rungs stand than the last: e to this.
const BEND: f64 = 2.5;

/// Highest K1 that is tried.
pub(super) const HIGHEST_K1: f64 = 3.0;

/// K1 of a rung: `HIGHEST_K1` (e^(BEND i/STEPS) − 1)/(e^BEND − 1).
fn k1_of(rung: f64) -> f64 {
    HIGHEST_K1 * (exp(BEND * rung / STEPS as f64) - 1.0) / (exp(BEND) - 1.0)
}

/// Rung of a K1, and its change with K1; held one rung beyond the ends, so that a search can find
/// its way back.
fn rung_of_k1(k1: f64) -> (f64, f64) {
    let scale = (exp(BEND) - 1.0) / HIGHEST_K1;
    let k1 = k1.clamp(k1_of(-1.0), k1_of(STEPS as f64 + 1.0));
    let stretched = 1.0 + k1 * scale;
    let rung = STEPS as f64 / BEND * log(stretched);
    (rung, STEPS as f64 / BEND * scale / stretched)
}

/// What hats lay into cans with a reading: one row a can, one column a knot, mm/h for a rate of
/// 1 mm/h; one matrix a rung of the ladder (a single one in still air).
#[derive(Debug)]
pub(super) struct Basis {
    rungs: Vec<DMatrix<f64>>,
}

/// How drops fly, apart from K1.
#[derive(Clone, Copy, Debug)]
pub(super) struct Flying {
    pub(super) launch: Launch,
    /// What is held fixed; its K1 is not read.
    pub(super) drag: DragCorrection,
}

impl Basis {
    /// In still air, for legs with these knots (m; the rate at the last one is 0).
    pub(super) fn still(test: &CatchTest, knots_m: &[f64]) -> Result<Self, CatchProblem> {
        let (x, y) = single_place(test)?;
        let hats = hats(knots_m)?;
        let places = test.readings();
        let rung = DMatrix::from_fn(places.len(), hats.len(), |can, hat| {
            let (dx, dy) = (places[can].0 - x, places[can].1 - y);
            hats[hat].rate_at((dx * dx + dy * dy).sqrt())
        });
        Ok(Self { rungs: vec![rung] })
    }

    /// In the wind of the test.
    pub(super) fn windy(
        test: &CatchTest,
        knots_m: &[f64],
        flying: &Flying,
    ) -> Result<Self, CatchProblem> {
        let hats = hats(knots_m)?;
        let mut slices = test.slices(|_| 1.0);
        for slice in &mut slices {
            slice.hours /= test.duration_h;
        }
        let rungs = (0..=STEPS)
            .into_par_iter()
            .map(|rung| laid(test, &hats, &slices, flying, k1_of(rung as f64)));
        Ok(Self { rungs: rungs.collect::<Result<_, CatchProblem>>()? })
    }

    /// Whether K1 matters.
    pub(super) fn has_k1(&self) -> bool {
        self.rungs.len() > 1
    }

    /// The ladder's values of K1.
    pub(super) fn ladder(&self) -> impl Iterator<Item = f64> + '_ {
        (0..self.rungs.len()).map(|rung| k1_of(rung as f64))
    }

    /// The matrix at K1 and its slope there.
    pub(super) fn at(&self, k1: f64) -> (DMatrix<f64>, DMatrix<f64>) {
        let last = self.rungs.len() - 1;
        if last == 0 {
            let (rows, columns) = self.rungs[0].shape();
            return (self.rungs[0].clone(), DMatrix::zeros(rows, columns));
        }
        let (place, change_of_place) = rung_of_k1(k1);
        let rung = (place.floor().clamp(0.0, (last - 1) as f64)) as usize;
        let s = place - rung as f64;
        let slope = |at: usize| {
            let (low, high) = (at.saturating_sub(1), (at + 1).min(last));
            (&self.rungs[high] - &self.rungs[low]) / (high - low) as f64
        };
        let (a, b) = (&self.rungs[rung], &self.rungs[rung + 1]);
        let (da, db) = (slope(rung), slope(rung + 1));
        let (s2, s3) = (s * s, s * s * s);
        let value = a * (2.0 * s3 - 3.0 * s2 + 1.0)
            + &da * (s3 - 2.0 * s2 + s)
            + b * (3.0 * s2 - 2.0 * s3)
            + &db * (s3 - s2);
        let change = (a * (6.0 * s2 - 6.0 * s)
            + da * (3.0 * s2 - 4.0 * s + 1.0)
            + b * (6.0 * s - 6.0 * s2)
            + db * (3.0 * s2 - 2.0 * s))
            * change_of_place;
        (value, change)
    }
}

/// One matrix of the ladder.
fn laid(
    test: &CatchTest,
    hats: &[Leg],
    slices: &[WindSlice],
    flying: &Flying,
    k1: f64,
) -> Result<DMatrix<f64>, CatchProblem> {
    let (x, y) = single_place(test)?;
    let radius_m = hats.last().map_or(0.0, Leg::radius_m);
    let drag = DragCorrection { k1, ..flying.drag };
    let winds = winds(slices, test.wind_measured_at_m)?;
    let map = Arc::new(landing_map(radius_m, &flying.launch, &drag, slices, &winds)?);
    let cell_m = radius_m / CELLS_TO_RADIUS;
    let footprints: Vec<Laid> = hats
        .iter()
        .map(|hat| {
            let maker = FootprintMaker::new(&[(hat, &map)], cell_m, FootprintSettings::default())?;
            Ok(Laid::new(maker.set_footprint(slices, Phase::CORNER)?, cell_m))
        })
        .collect::<Result<_, CatchProblem>>()?;
    let places = test.readings();
    Ok(DMatrix::from_fn(places.len(), hats.len(), |can, hat| {
        footprints[hat].at(places[can].0 - x, places[can].1 - y)
    }))
}

/// The hat of each knot but the last, at which every leg ends in 0. The first hat is flat from the
/// sprinkler to its knot, as a leg is.
fn hats(knots_m: &[f64]) -> Result<Vec<Leg>, CatchProblem> {
    let last = knots_m.len().saturating_sub(1);
    let hat = |top: usize| {
        let rates = (0..=last).map(|knot| if knot == top { 1.0 } else { 0.0 });
        Ok(Leg::new(knots_m.to_vec(), rates.collect())?)
    };
    (0..last).map(hat).collect()
}

#[cfg(test)]
mod tests {
    use super::super::tests::single_grid;
    use super::*;
    use crate::sprinkler::DragForm;

    const FLYING: Flying = Flying {
        launch: Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 },
        drag: DragCorrection {
            form: DragForm::AirAndWind,
            k2: 0.2,
            turbulence: 0.1,
            ..DragCorrection::NONE
        },
    };

    #[test]
    fn invariant_hats_add_up_to_a_disk_and_carry_all_of_the_water() {
        let test = single_grid(15.0, 1.0, 4.0);
        let knots = [0.0, 3.0, 6.0, 9.0, 12.0];
        for basis in
            [Basis::still(&test, &knots).unwrap(), Basis::windy(&test, &knots, &FLYING).unwrap()]
        {
            let (matrix, _) = basis.at(0.6);
            // Each can stands for 1 m², so a column's sum is what its hat delivers.
            for (hat, leg) in hats(&knots).unwrap().iter().enumerate() {
                let litres_h = leg.discharge_l_s() * 3600.0;
                let caught = matrix.column(hat).sum();
                assert!((caught / litres_h - 1.0).abs() < 0.02, "hat {hat}: {caught} {litres_h}");
            }
        }
    }

    #[test]
    fn reference_between_rungs_is_a_rung_of_its_own() {
        let test = single_grid(15.0, 2.0, 5.0);
        let knots = [0.0, 4.0, 8.0, 12.0];
        let basis = Basis::windy(&test, &knots, &FLYING).unwrap();
        let slices = test.slices(|_| 1.0 / test.duration_h);
        for k1 in [0.1, 0.7, 1.5] {
            let found = basis.at(k1).0;
            let wanted = laid(&test, &hats(&knots).unwrap(), &slices_an_hour(&slices), &FLYING, k1);
            let miss = (found - wanted.unwrap()).abs().max();
            assert!(miss < 0.01, "K1 {k1}: {miss}");
        }
    }

    fn slices_an_hour(slices: &[WindSlice]) -> Vec<WindSlice> {
        slices.iter().map(|s| WindSlice { hours: 1.0, net: 1.0, ..*s }).collect()
    }

    #[test]
    fn reference_slope_is_the_difference() {
        let test = single_grid(15.0, 2.0, 5.0);
        let basis = Basis::windy(&test, &[0.0, 4.0, 8.0, 12.0], &FLYING).unwrap();
        let step = 1e-5;
        let by_difference = (basis.at(0.5 + step).0 - basis.at(0.5 - step).0) / (2.0 * step);
        assert!((by_difference - basis.at(0.5).1).abs().max() < 1e-6);
    }
}
