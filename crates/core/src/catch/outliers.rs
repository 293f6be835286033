//! Cans that do not go with their neighbors, named and never dropped.
//!
//! A can is held against what its neighbors say: each pair of cans that stand opposite each other
//! around it gives a mean, exact on any even slope, and the median of the nearest four such means is
//! expected. The difference is taken over the level, expected + 0.2 · mean of the wet cans, as more water
//! scatters more. These are judged by the modified z score of Iglewicz & Hoaglin (1993, How to Detect
//! and Handle Outliers, ASQC; from memory, confidence high): M = 0.6745 (d − median d)/MAD, named where
//! |M| > 3.5. Where the MAD is 0, their substitute: 1.2533 · mean |d − median d| as the spread.
//!
//! That neighbors stand in for the expected value, and the level, are ours. Valid from eight cans that can
//! be judged. Neglected: a group of bad cans that stand together hides itself; cans without an opposite
//! pair (corners, ends of a row) and dry cans among dry ones are not judged; where a pattern bends sharply
//! sound cans can be named.

use super::{Can, distance_m};

/// Modified z score from which a can is named.
pub const LIMIT: f64 = 3.5;
/// Fewest cans that are judged.
const FEWEST: usize = 8;
/// Pairs that a can is held against.
const PAIRS: usize = 4;
/// Farthest neighbors, in can spacings.
const REACH: f64 = 2.3;
/// How far the middle of a pair may lie off the can, in can spacings.
const OFF: f64 = 0.1;
/// Share of the mean wet can that is added to the level.
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

/// A can that is judged: which, its depth, what is expected, and the difference over the level.
struct Judged {
    can: usize,
    depth_mm: f64,
    expected_mm: f64,
    difference: f64,
}

/// The cans to look at, in the order of the file; `spacing_m` is the distance between neighbors. None
/// where fewer than eight can be judged.
pub fn outliers(cans: &[Can], spacing_m: f64) -> Vec<Outlier> {
    let held: Vec<(&Can, usize, f64)> =
        cans.iter().enumerate().filter_map(|(i, can)| Some((can, i, can.depth_mm?))).collect();
    let wet: Vec<f64> = held.iter().map(|(_, _, d)| *d).filter(|d| *d > 0.0).collect();
    let mean_wet = wet.iter().sum::<f64>() / wet.len().max(1) as f64;
    let judged: Vec<Judged> = held
        .iter()
        .filter_map(|(can, index, depth_mm)| {
            let expected_mm = expected_mm(can, *index, &held, spacing_m)?;
            if *depth_mm <= 0.0 && expected_mm <= 0.0 {
                return None;
            }
            let difference = (depth_mm - expected_mm) / (expected_mm + LEVEL * mean_wet);
            Some(Judged { can: *index, depth_mm: *depth_mm, expected_mm, difference })
        })
        .collect();
    if judged.len() < FEWEST {
        return Vec::new();
    }
    let differences: Vec<f64> = judged.iter().map(|j| j.difference).collect();
    let (center, spread) = center_and_spread(&differences);
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
    fn closed_medians() {
        assert_eq!(median(&[3.0, 1.0, 2.0]), 2.0);
        assert_eq!(median(&[4.0, 1.0, 2.0, 3.0]), 2.5);
        assert_eq!(median(&[]), 0.0);
    }
}
