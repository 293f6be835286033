//! Drop classes: each still-air distance of a jet stands for the drop that lands there.
//!
//! Only drops of 0.3 to 8 mm are flown: the sprays measured by Kincaid, Solomon & Oliphant (1996)
//! hold little outside. Distances that would need a smaller drop (next to the sprinkler) or a
//! larger one (a radius the ballistics cannot reach) take the drop at the limit.

use super::falling_zero::falling_zero;
use super::flight::fly;
use super::launch::{DragCorrection, Launch};
use super::problem::SprinklerProblem;
use libm::{exp, log};
use rayon::prelude::*;

/// Smallest drop that is flown, mm.
pub(super) const SMALLEST_DROP_MM: f64 = 0.3;
/// Largest drop that is flown, mm.
pub(super) const LARGEST_DROP_MM: f64 = 8.0;

/// The drop classes of an upright jet, equally spaced from the sprinkler to its radius.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct DropClasses {
    pub(super) radius_m: f64,
    /// How the upright jet leaves.
    pub(super) launch: Launch,
    /// The drop of each class, mm.
    pub(super) diameters_mm: Vec<f64>,
    /// Where the largest drop lands, m.
    farthest_m: f64,
}

impl DropClasses {
    /// Finds the drop that lands in still air at each of `classes` distances from 0 to the radius.
    pub(super) fn of(
        radius_m: f64,
        launch: &Launch,
        drag: &DragCorrection,
        classes: usize,
    ) -> Result<Self, SprinklerProblem> {
        let still = drag.in_still_air();
        let range_m = |d_mm: f64| Ok(fly(d_mm, 0.0, launch, &still, &|_| 0.0)?.along_m);
        let limits_m = [range_m(SMALLEST_DROP_MM)?, range_m(LARGEST_DROP_MM)?];
        let diameters_mm = (0..classes)
            .into_par_iter()
            .map(|class| {
                diameter_landing_at(distance_m(radius_m, class, classes), limits_m, &range_m)
            })
            .collect::<Result<_, _>>()?;
        Ok(Self { radius_m, launch: *launch, diameters_mm, farthest_m: limits_m[1] })
    }

    /// Still-air distance of a class, m.
    pub(super) fn distance_m(&self, class: usize) -> f64 {
        distance_m(self.radius_m, class, self.diameters_mm.len())
    }

    /// Whether the radius lies farther out than the largest drop flies.
    pub(super) fn are_beyond_reach(&self) -> bool {
        self.radius_m > self.farthest_m
    }
}

fn distance_m(radius_m: f64, class: usize, classes: usize) -> f64 {
    radius_m * class as f64 / (classes - 1) as f64
}

/// Diameter whose drop lands at `distance_m` in still air, within 0.1 mm of distance or the limits.
fn diameter_landing_at(
    distance_m: f64,
    limits_m: [f64; 2],
    range_m: &impl Fn(f64) -> Result<f64, SprinklerProblem>,
) -> Result<f64, SprinklerProblem> {
    if distance_m <= limits_m[0] {
        return Ok(SMALLEST_DROP_MM);
    }
    if distance_m >= limits_m[1] {
        return Ok(LARGEST_DROP_MM);
    }
    let short_m = |log_mm: f64| range_m(exp(log_mm)).map(|range_m| distance_m - range_m);
    let small = (log(SMALLEST_DROP_MM), distance_m - limits_m[0]);
    let large = (log(LARGEST_DROP_MM), distance_m - limits_m[1]);
    Ok(exp(falling_zero(short_m, small, large, 1e-4)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    const LAUNCH: Launch =
        Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };

    #[test]
    fn closed_each_class_lands_at_its_distance_in_still_air() {
        let near = DropClasses::of(14.0, &LAUNCH, &DragCorrection::NONE, 40).unwrap();
        assert_eq!(near.diameters_mm.len(), 40);
        for (class, &d_mm) in near.diameters_mm.iter().enumerate() {
            let found = fly(d_mm, 0.0, &LAUNCH, &DragCorrection::NONE, &|_| 0.0).unwrap();
            if d_mm > SMALLEST_DROP_MM {
                let distance_m = 14.0 * class as f64 / 39.0;
                assert!((found.along_m - distance_m).abs() < 1e-3, "{class}: {found:?}");
            }
        }
        assert!(near.diameters_mm.is_sorted());
    }

    #[test]
    fn closed_classes_out_of_reach_take_the_drop_at_the_limit() {
        let count = |classes: &DropClasses, limit_mm: f64| {
            classes.diameters_mm.iter().filter(|&&d| d == limit_mm).count()
        };
        let near = DropClasses::of(14.0, &LAUNCH, &DragCorrection::NONE, 40).unwrap();
        assert!((1..=5).contains(&count(&near, SMALLEST_DROP_MM)) && !near.are_beyond_reach());
        // No drop of 8 mm flies 40 m at this pressure.
        let far = DropClasses::of(40.0, &LAUNCH, &DragCorrection::NONE, 40).unwrap();
        assert!(count(&far, LARGEST_DROP_MM) > 10 && far.are_beyond_reach());
    }
}
