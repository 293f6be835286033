//! Cans that do not go with their neighbors, named and never dropped.
//!
//! A can is held against what its neighbors say: each pair of cans that stand opposite each other
//! around it gives a mean, exact on any even slope, and the median of the nearest four such means e is
//! expected. The difference is ln((d + c)/(e + c)) with c = 0.2 · mean of the wet cans: more water
//! scatters more, and a can that holds half of what it should counts about as much as one that holds
//! twice as much. These are judged by the modified z score of Iglewicz & Hoaglin (1993, How to Detect
//! and Handle Outliers, ASQC; from memory, confidence high): M = 0.6745 (d − median d)/MAD, named where
//! |M| > 3.5. Where the MAD is 0, their substitute: 1.2533 · mean |d − median d| as the spread.
//!
//! That neighbors stand in for the expected value, and the level, are ours. Valid from eight cans that can
//! be judged. Neglected: a group of bad cans that stand together hides itself; cans without an opposite
//! pair (corners, ends of a row) and dry cans among dry ones are not judged; where a pattern bends sharply
//! sound cans can be named.

use super::{Can, distance_m};
use libm::log;

/// Modified z score from which a can is named.
pub const LIMIT: f64 = 3.5;
/// Fewest cans that are judged.
const FEWEST: usize = 8;
/// Fewest cans whose scatter is taken for that of a reading.
const ENOUGH: usize = 24;
/// Pairs that a can is held against.
const PAIRS: usize = 4;
/// Farthest neighbors, in can spacings.
const REACH: f64 = 2.3;
/// How far the middle of a pair may lie off the can, in can spacings.
const OFF: f64 = 0.1;
/// Share of the mean wet can that is added to both depths.
const LEVEL: f64 = 0.2;

/// A can that does not go with its neighbors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlier {
    /// Which can, in the order of the file.
    pub can: usize,
    /// What it holds, mm.
    pub depth_mm: f64,
    /// What its neighbors let expect, mm.
    pub neighbors_mm: f64,
    /// Modified z score.
    pub score: f64,
}

/// A can that is judged: which, its depth, what is expected, and the difference of the logarithms.
struct Judged {
    can: usize,
    depth_mm: f64,
    expected_mm: f64,
    difference: f64,
}

/// The cans to look at, in the order of the file; `spacing_m` is the distance between neighbors. None
/// where fewer than eight can be judged.
pub fn outliers(cans: &[Can], spacing_m: f64) -> Vec<Outlier> {
    named(&judged(cans, spacing_m), 0.0)
}

/// The same beside a model that says what each can should hold, mm: where the model's pattern bends, so may
/// the cans'. Readings are taken to scatter with a coefficient of variation of at least `scatter`.
pub(crate) fn beside(cans: &[Can], model_mm: &[f64], spacing_m: f64, scatter: f64) -> Vec<Outlier> {
    named(&judged_beside(cans, model_mm, spacing_m), scatter)
}

fn named(judged: &[Judged], scatter: f64) -> Vec<Outlier> {
    if judged.len() < FEWEST {
        return Vec::new();
    }
    let (center, spread) = center_and_spread(&differences(judged));
    let spread = spread.max(scatter / of_reading());
    judged
        .iter()
        .map(|j| Outlier {
            can: j.can,
            depth_mm: j.depth_mm,
            neighbors_mm: j.expected_mm,
            score: if spread > 0.0 { (j.difference - center) / spread } else { 0.0 },
        })
        .filter(|outlier| outlier.score.abs() > LIMIT)
        .collect()
}

/// Coefficient of variation of single readings, as far as cans differ from their neighbors otherwise
/// than a model's do; `None` where fewer than two dozen can be judged.
pub(crate) fn scatter(cans: &[Can], model_mm: &[f64], spacing_m: f64) -> Option<f64> {
    let judged = judged_beside(cans, model_mm, spacing_m);
    (judged.len() >= ENOUGH).then(|| center_and_spread(&differences(&judged)).1 * of_reading())
}

/// Every can that can be judged, less what a model's cans differ from their neighbors by.
fn judged_beside(cans: &[Can], model_mm: &[f64], spacing_m: f64) -> Vec<Judged> {
    let as_modeled =
        |(can, depth_mm): (&Can, &f64)| Can { depth_mm: can.depth_mm.map(|_| *depth_mm), ..*can };
    let model: Vec<Can> = cans.iter().zip(model_mm).map(as_modeled).collect();
    let model = judged(&model, spacing_m);
    let mut found = judged(cans, spacing_m);
    for held in &mut found {
        let own = model.iter().find(|modeled| modeled.can == held.can);
        held.difference -= own.map_or(0.0, |own| own.difference);
    }
    found
}

/// Scatter of readings over that of the differences: ln((d + c)/(e + c)) moves by 1/(1 + c/d) of ln d,
/// and the median of four means adds a fifth of a reading's variance.
fn of_reading() -> f64 {
    (1.0 + LEVEL) / 1.2_f64.sqrt()
}

fn differences(judged: &[Judged]) -> Vec<f64> {
    judged.iter().map(|j| j.difference).collect()
}

/// Every can that can be held against its neighbors.
fn judged(cans: &[Can], spacing_m: f64) -> Vec<Judged> {
    let held: Vec<(&Can, usize, f64)> =
        cans.iter().enumerate().filter_map(|(i, can)| Some((can, i, can.depth_mm?))).collect();
    let wet: Vec<f64> = held.iter().map(|(_, _, d)| *d).filter(|d| *d > 0.0).collect();
    let mean_wet = wet.iter().sum::<f64>() / wet.len().max(1) as f64;
    held.iter()
        .filter_map(|(can, index, depth_mm)| {
            let expected_mm = expected_mm(can, *index, &held, spacing_m)?;
            if *depth_mm <= 0.0 && expected_mm <= 0.0 {
                return None;
            }
            let level = LEVEL * mean_wet;
            let difference = log((depth_mm + level) / (expected_mm + level));
            Some(Judged { can: *index, depth_mm: *depth_mm, expected_mm, difference })
        })
        .collect()
}

fn center_and_spread(differences: &[f64]) -> (f64, f64) {
    let center = median(differences);
    let from_center: Vec<f64> = differences.iter().map(|d| (d - center).abs()).collect();
    let spread = match median(&from_center) / 0.6745 {
        mad if mad > 0.0 => mad,
        _ => 1.2533 * from_center.iter().sum::<f64>() / from_center.len() as f64,
    };
    (center, spread)
}

/// Median of the means of the nearest pairs that stand opposite each other around a can.
fn expected_mm(
    can: &Can,
    index: usize,
    held: &[(&Can, usize, f64)],
    spacing_m: f64,
) -> Option<f64> {
    let near: Vec<(&Can, f64)> = held
        .iter()
        .filter(|(other, at, _)| *at != index && distance_m(can, other) <= REACH * spacing_m)
        .map(|(other, _, depth)| (*other, *depth))
        .collect();
    let mut pairs: Vec<(f64, f64)> = Vec::new();
    for (first, (a, depth_a)) in near.iter().enumerate() {
        for (b, depth_b) in &near[first + 1..] {
            let off_m = [a.x_m + b.x_m - 2.0 * can.x_m, a.y_m + b.y_m - 2.0 * can.y_m];
            if off_m.iter().all(|off| off.abs() <= 2.0 * OFF * spacing_m) {
                pairs.push((distance_m(a, b), 0.5 * (depth_a + depth_b)));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let means: Vec<f64> = pairs.iter().take(PAIRS).map(|(_, mean)| *mean).collect();
    (!means.is_empty()).then(|| median(&means))
}

/// Median; 0 of nothing.
pub(crate) fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    let half = sorted.len() / 2;
    match (sorted.len() % 2, sorted.get(half)) {
        (_, None) => 0.0,
        (1, Some(middle)) => *middle,
        (_, Some(upper)) => 0.5 * (sorted[half - 1] + upper),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid(depth: impl Fn(usize, usize) -> f64) -> Vec<Can> {
        let can = |i: usize| Can {
            x_m: (i % 6) as f64 * 2.0,
            y_m: (i / 6) as f64 * 2.0,
            depth_mm: Some(depth(i % 6, i / 6)),
            line: i + 1,
        };
        (0..36).map(can).collect()
    }

    fn slope(x: usize, y: usize) -> f64 {
        10.0 + 1.5 * x as f64 + 0.3 * ((x * 7 + y * 3) % 5) as f64
    }

    #[test]
    fn closed_a_spilled_can_is_named_and_a_slope_is_not() {
        assert!(outliers(&grid(slope), 2.0).is_empty());
        let mut cans = grid(slope);
        cans[14].depth_mm = Some(0.0);
        let found = outliers(&cans, 2.0);
        // The cans around it may be named with it, but none as loudly.
        let worst = found.iter().max_by(|a, b| a.score.abs().total_cmp(&b.score.abs())).unwrap();
        assert_eq!(worst.can, 14);
        assert!(worst.score < -LIMIT && worst.neighbors_mm > 10.0 && found.len() <= 3);
    }

    #[test]
    fn invariant_a_low_can_is_named_as_well_as_a_high_one() {
        let scatter = |x: usize, y: usize| 10.0 * (1.0 + 0.02 * ((x * 7 + y * 3) % 5) as f64);
        let score = |factor: f64| {
            let mut cans = grid(scatter);
            cans[14].depth_mm = cans[14].depth_mm.map(|depth| factor * depth);
            let found = outliers(&cans, 2.0);
            found.iter().find(|outlier| outlier.can == 14).map_or(0.0, |outlier| outlier.score)
        };
        for factor in [1.6, 2.0, 4.0] {
            let (high, low) = (score(factor), score(1.0 / factor));
            assert!(high > LIMIT && low < -LIMIT, "{factor}: {high} {low}");
            let same = (-low / high).max(-high / low);
            assert!(same < 1.25, "{factor}: {high} {low}");
        }
    }

    #[test]
    fn invariant_units_and_missing_cans_do_not_matter() {
        let mut cans = grid(slope);
        cans[20].depth_mm = Some(40.0);
        cans[3].depth_mm = None;
        let scores: Vec<f64> = outliers(&cans, 2.0).iter().map(|o| o.score).collect();
        assert!(!scores.is_empty());
        for can in &mut cans {
            can.depth_mm = can.depth_mm.map(|d| d / 25.4);
        }
        assert!((outliers(&cans, 2.0)[0].score - scores[0]).abs() < 1e-9);
    }

    #[test]
    fn invariant_few_cans_or_no_spread_tell_nothing() {
        assert!(outliers(&grid(slope)[..7], 2.0).is_empty());
        assert!(outliers(&grid(|_, _| 5.0), 2.0).is_empty());
        // One odd can among equal ones: the MAD is 0, the substitute finds it.
        let odd = outliers(&grid(|x, y| if (x, y) == (2, 2) { 9.0 } else { 5.0 }), 2.0);
        assert_eq!(odd.len(), 1);
    }

    #[test]
    fn reference_scatter_is_that_of_the_readings() {
        // Errors of 8 % from a sine too fast for the grid to follow: ±√2 · 8 %.
        let error = |x: usize, y: usize| libm::sin((x * 6 + y * 37) as f64 * 2.3);
        let uneven = |x: usize, y: usize| 10.0 * (1.0 + 0.08 * 2.0_f64.sqrt() * error(x, y));
        let level = [10.0; 36];
        let found = scatter(&grid(uneven), &level, 2.0).unwrap();
        assert!((0.05..0.14).contains(&found), "{found}");
        assert!(scatter(&grid(uneven)[..12], &level, 2.0).is_none());
        // A ridge that the model has too is no scatter, and none of its cans is bad.
        let ridge = |x: usize, _: usize| if x == 3 { 30.0 } else { 10.0 };
        let model: Vec<f64> = grid(ridge).iter().filter_map(|can| can.depth_mm).collect();
        assert!(scatter(&grid(ridge), &model, 2.0).unwrap() < 1e-9);
        assert!(beside(&grid(ridge), &model, 2.0, 0.05).is_empty());
        let spike = |x: usize, y: usize| if (x, y) == (3, 3) { 20.0 } else { 10.0 };
        assert!(beside(&grid(spike), &level, 2.0, 0.05).iter().any(|outlier| outlier.can == 21));
    }

    #[test]
    fn closed_medians() {
        assert_eq!(median(&[3.0, 1.0, 2.0]), 2.0);
        assert_eq!(median(&[4.0, 1.0, 2.0, 3.0]), 2.5);
        assert_eq!(median(&[]), 0.0);
    }
}
