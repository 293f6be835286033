//! The doubts about a sprinkler as catch tests leave them.
//!
//! A point's numbers hold for the sprinkler that was tested. The scenario's sprinklers have the numbers
//! of the point used ([`Calibration::used`]); one that is stated with a drag of its own keeps what sets
//! it apart from them. Radius and losses are factors on those of the point used.

use super::table::Doubt;
use crate::calibration::{Calibration, NUMBERS, spread};
use crate::sprinkler::DragCorrection;
use std::sync::Arc;

/// The doubts that tests speak of, in the order of a point's numbers.
pub const TESTED: [Doubt; NUMBERS] = [
    Doubt::DragK1,
    Doubt::DragK2,
    Doubt::Turbulence,
    Doubt::JetLength,
    Doubt::Radius,
    Doubt::Losses,
];

/// Where the factors stand among a point's numbers.
const FACTORS: usize = 4;
/// Highest K2 with which drag stays positive; see [`DragCorrection::check`].
const MOST_K2: f64 = 0.95;

/// Points as one sprinkler takes them.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Tested {
    points: Arc<Calibration>,
    /// What sets the sprinkler apart from the point used.
    apart: [f64; NUMBERS],
}

impl Tested {
    /// For a sprinkler whose drag in the scenario is `drag`.
    pub(crate) fn of(points: &Arc<Calibration>, drag: &DragCorrection) -> Self {
        let own = [drag.k1, drag.k2, drag.turbulence, drag.jet_length_m];
        let mut apart = [0.0; NUMBERS];
        for ((apart, own), used) in apart.iter_mut().zip(own).zip(points.used().numbers()) {
            *apart = own - used;
        }
        Self { points: Arc::clone(points), apart }
    }

    /// A number as this sprinkler takes it.
    fn own(&self, number: usize, value: f64) -> f64 {
        if number >= FACTORS {
            return value / self.points.used().numbers()[number];
        }
        let most = if TESTED[number] == Doubt::DragK2 { MOST_K2 } else { f64::INFINITY };
        (value + self.apart[number]).clamp(0.0, most)
    }

    /// The point at `share` of the way through all of them.
    pub(crate) fn at(&self, share: f64) -> [f64; NUMBERS] {
        let points = self.points.points();
        let index = ((share * points.len() as f64) as usize).min(points.len() - 1);
        let mut numbers = points[index].numbers();
        for (number, value) in numbers.iter_mut().enumerate() {
            *value = self.own(number, *value);
        }
        numbers
    }

    /// 5 % quantile, value used and 95 % quantile of a number.
    pub(crate) fn ends(&self, number: usize) -> [f64; 3] {
        let points = &self.points;
        let used = points.used().numbers()[number];
        [points.quantile(number, 0.05), used, points.quantile(number, 0.95)]
            .map(|value| self.own(number, value))
    }

    /// Mean and standard deviation of a number.
    pub(crate) fn spread(&self, number: usize) -> (f64, f64) {
        let (mean, deviation) = spread(self.points.points(), number);
        let used = self.points.used().numbers()[number];
        let unit = if number >= FACTORS { used } else { 1.0 };
        (self.own(number, mean), deviation / unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calibration::SprinklerPoint;

    fn points() -> Arc<Calibration> {
        let point = |i: usize| {
            let share = (i as f64 + 0.5) / 100.0;
            SprinklerPoint::of([share, 0.5 - 0.4 * share, 0.05, 1.0, 1.0, 0.5 + share])
        };
        Arc::new(Calibration::new(Vec::new(), (0..100).map(point).collect()).unwrap())
    }

    #[test]
    fn closed_a_point_stays_together_and_what_sets_a_sprinkler_apart_stays() {
        let points = points();
        let used = points.used().drag(DragCorrection::NONE);
        let own = DragCorrection { k1: used.k1 + 0.2, ..used };
        let (same, apart) = (Tested::of(&points, &used), Tested::of(&points, &own));
        for share in [0.0, 0.33, 0.999] {
            let (a, b) = (same.at(share), apart.at(share));
            assert!((a[1] - (0.5 - 0.4 * a[0])).abs() < 1e-12);
            assert!((b[0] - a[0] - 0.2).abs() < 1e-12 && b[1..] == a[1..]);
        }
        // Losses are a factor on what the scenario loses by now.
        let at_used = points.points().iter().position(|p| p == points.used()).unwrap();
        let share = (at_used as f64 + 0.5) / 100.0;
        assert!((same.at(share)[5] - 1.0).abs() < 1e-12);
        let ends = same.ends(0);
        assert!((ends[0] - 0.05).abs() < 1e-9 && (ends[2] - 0.95).abs() < 1e-9, "{ends:?}");
        assert!((same.spread(0).0 - 0.5).abs() < 1e-12);
    }
}
