//! What is known of a sprinkler before any test: the triangles of `crate::doubt`, drawn evenly.

use super::surface::SHAPING;
use crate::calibration::NUMBERS;
use crate::doubt::apply::ranges_of_drag;
use crate::doubt::draws::triangle;
use crate::doubt::tested::TESTED;
use crate::sprinkler::DragCorrection;
use crate::statistics::normal_cdf;
use nalgebra::SVector;

/// Scrambling of the runs' points, always the same.
const RUNS_SEED: u32 = 0x7275_6e73;

/// Triangles of the doubts about a sprinkler.
#[derive(Clone, Debug)]
pub(super) struct Prior {
    ends: [[f64; 3]; NUMBERS],
    spreads: [(f64, f64); NUMBERS],
}

impl Prior {
    /// Around the drag that the scenario uses.
    pub(super) fn around(drag: &DragCorrection) -> Self {
        let ranges = ranges_of_drag(drag);
        Self {
            ends: TESTED.map(|doubt| ranges.ends[doubt as usize]),
            spreads: TESTED.map(|doubt| ranges.spread(doubt)),
        }
    }

    /// Value of a number below which `share` of the prior lies.
    pub(super) fn quantile(&self, number: usize, share: f64) -> f64 {
        triangle(self.ends[number], share)
    }

    /// Values for a run of the simulator.
    pub(super) fn run(&self, index: usize) -> [f64; NUMBERS] {
        let share =
            |number: usize| f64::from(sobol_burley::sample(index as u32, number as u32, RUNS_SEED));
        std::array::from_fn(|number| self.quantile(number, share(number)))
    }

    /// Values with these normal scores.
    pub(super) fn at_scores(&self, scores: &SVector<f64, NUMBERS>) -> [f64; NUMBERS] {
        std::array::from_fn(|number| self.quantile(number, normal_cdf(scores[number])))
    }

    /// Each number that shapes the pattern less its mean, over its standard deviation.
    pub(super) fn standardized(&self, values: &[f64; NUMBERS]) -> [f64; SHAPING] {
        std::array::from_fn(|number| {
            let (mean, deviation) = self.spreads[number];
            if deviation > 0.0 { (values[number] - mean) / deviation } else { 0.0 }
        })
    }
}
