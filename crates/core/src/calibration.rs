//! What catch tests leave of the doubts about a sprinkler: points of equal weight, as plain values.
//!
//! A point is one set of numbers for the drag in wind, the throw and the losses that goes with the
//! tests; all points together stand for what the tests leave open, and the numbers of a point belong
//! together. How they are found is `crate::catch::calibrate`; the doubts are drawn from them by
//! `crate::doubt`.

use crate::sprinkler::DragCorrection;

/// One set of numbers that goes with the tests.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SprinklerPoint {
    /// K1 of the drag correction.
    pub k1: f64,
    /// K2 of it.
    pub k2: f64,
    /// Spread by turbulence.
    pub turbulence: f64,
    /// Distance over which the jet holds together, m.
    pub jet_length_m: f64,
    /// Factor on the radius of throw.
    pub radius: f64,
    /// Factor on the losses.
    pub losses: f64,
}

/// Numbers in a point.
pub const NUMBERS: usize = 6;

impl SprinklerPoint {
    /// Its numbers in order.
    pub fn numbers(&self) -> [f64; NUMBERS] {
        [self.k1, self.k2, self.turbulence, self.jet_length_m, self.radius, self.losses]
    }

    /// The point with these numbers.
    pub fn of(numbers: [f64; NUMBERS]) -> Self {
        let [k1, k2, turbulence, jet_length_m, radius, losses] = numbers;
        Self { k1, k2, turbulence, jet_length_m, radius, losses }
    }

    /// Its drag correction for a sprinkler of the form and flattening of `stated`.
    pub fn drag(&self, stated: DragCorrection) -> DragCorrection {
        DragCorrection {
            k1: self.k1,
            k2: self.k2,
            turbulence: self.turbulence,
            jet_length_m: self.jet_length_m,
            ..stated
        }
    }
}

/// A test that took part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TestName {
    /// Its title.
    pub title: String,
    /// Name of its file.
    pub file_name: String,
    /// When it was made, where noted.
    pub date: Option<String>,
    /// SHA-256 of the file.
    pub sha256: String,
}

/// What tests leave open.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    /// The tests.
    pub tests: Vec<TestName>,
    points: Vec<SprinklerPoint>,
    used: usize,
}

impl Calibration {
    /// Points of equal weight; `None` without any.
    pub fn new(tests: Vec<TestName>, points: Vec<SprinklerPoint>) -> Option<Self> {
        let used = nearest_to_mean(&points)?;
        Some(Self { tests, points, used })
    }

    /// "with your tests of “…” and “…”".
    pub fn words(&self) -> String {
        let titles: Vec<String> =
            self.tests.iter().map(|test| format!("“{}”", test.title)).collect();
        match titles.as_slice() {
            [] => "with your tests".to_owned(),
            [one] => format!("with your test of {one}"),
            [first @ .., last] => format!("with your tests of {} and {last}", first.join(", ")),
        }
    }

    /// All points.
    pub fn points(&self) -> &[SprinklerPoint] {
        &self.points
    }

    /// The point that stands for all where one is needed: the nearest to their mean, with every
    /// number counted in its own standard deviation. The mean itself need not go with the tests.
    pub fn used(&self) -> &SprinklerPoint {
        &self.points[self.used]
    }

    /// Quantile of one number over the points, between the two around it.
    pub fn quantile(&self, number: usize, share: f64) -> f64 {
        let mut all: Vec<f64> = self.points.iter().map(|p| p.numbers()[number]).collect();
        all.sort_by(f64::total_cmp);
        let place = (share * all.len() as f64 - 0.5).clamp(0.0, (all.len() - 1) as f64);
        let (below, above) = (place.floor() as usize, place.ceil() as usize);
        all[below] + (all[above] - all[below]) * (place - place.floor())
    }
}

/// Mean and standard deviation of one number over points.
pub(crate) fn spread(points: &[SprinklerPoint], number: usize) -> (f64, f64) {
    let n = points.len().max(1) as f64;
    let mean = points.iter().map(|p| p.numbers()[number]).sum::<f64>() / n;
    let square = points.iter().map(|p| (p.numbers()[number] - mean).powi(2)).sum::<f64>() / n;
    (mean, square.sqrt())
}

fn nearest_to_mean(points: &[SprinklerPoint]) -> Option<usize> {
    let mut spreads = [(0.0, 0.0); NUMBERS];
    for (number, spread_of) in spreads.iter_mut().enumerate() {
        *spread_of = spread(points, number);
    }
    let far = |point: &SprinklerPoint| -> f64 {
        let off = |(value, (mean, deviation)): (f64, (f64, f64))| {
            if deviation > 0.0 { ((value - mean) / deviation).powi(2) } else { 0.0 }
        };
        point.numbers().into_iter().zip(spreads).map(off).sum()
    };
    let near =
        |a: &(usize, &SprinklerPoint), b: &(usize, &SprinklerPoint)| far(a.1).total_cmp(&far(b.1));
    points.iter().enumerate().min_by(near).map(|(index, _)| index)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(k1: f64, losses: f64) -> SprinklerPoint {
        SprinklerPoint::of([k1, 0.3, 0.05, 1.5, 1.0, losses])
    }

    #[test]
    fn closed_the_point_used_is_the_nearest_to_the_mean() {
        assert_eq!(Calibration::new(Vec::new(), Vec::new()), None);
        let points = vec![point(0.0, 0.6), point(0.4, 1.0), point(0.9, 1.4)];
        let found = Calibration::new(Vec::new(), points).unwrap();
        assert_eq!(found.used().k1, 0.4);
        assert!((found.quantile(0, 0.5) - 0.4).abs() < 1e-12);
        assert_eq!(found.quantile(0, 0.01), 0.0);
        assert_eq!(SprinklerPoint::of(point(0.2, 0.9).numbers()), point(0.2, 0.9));
    }
}
