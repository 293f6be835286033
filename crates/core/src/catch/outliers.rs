//! Cans that do not go with their neighbours, told and never dropped.
//!
//! For every can the difference from the median of its nearest neighbours is taken, and the
//! differences are judged by the modified z score of Iglewicz & Hoaglin (1993, How to Detect and
//! Handle Outliers, ASQC; from memory, confidence high): M = 0.6745 (d − median d)/MAD, told where
//! |M| > 3.5. Where the MAD is 0, their substitute: 1.2533 · mean |d − median d| as the spread.
//!
//! That neighbours stand in for the expected value is ours: a depth may be far from the mean of all
//! cans and still belong to the pattern. Valid from eight cans. Neglected: a group of bad cans that
//! stand together hides itself, and at the edge of a wetted circle sound cans can be told.

use super::{Can, distance_m};

/// Modified z score from which a can is told.
pub const LIMIT: f64 = 3.5;
/// Fewest cans that are judged.
const FEWEST: usize = 8;
/// Neighbours that a can is held against.
const NEIGHBOURS: usize = 4;

/// A can that does not go with its neighbours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlier {
    /// Which can, in the order of the file.
    pub can: usize,
    /// What it holds, mm.
    pub depth_mm: f64,
    /// Median of its nearest neighbours, mm.
    pub neighbours_mm: f64,
    /// Modified z score.
    pub score: f64,
}

/// The cans to look at, in the order of the file; none where fewer than eight have a reading.
pub fn outliers(cans: &[Can]) -> Vec<Outlier> {
    let wet: Vec<(usize, f64)> =
        cans.iter().enumerate().filter_map(|(i, c)| Some((i, c.depth_mm?))).collect();
    if wet.len() < FEWEST {
        return Vec::new();
    }
    let expected: Vec<f64> = wet.iter().map(|(i, _)| median_around(cans, &wet, *i)).collect();
    let differences: Vec<f64> = wet.iter().zip(&expected).map(|((_, d), e)| d - e).collect();
    let centre = median(&differences);
    let from_centre: Vec<f64> = differences.iter().map(|d| (d - centre).abs()).collect();
    let spread = match median(&from_centre) / 0.6745 {
        mad if mad > 0.0 => mad,
        _ => 1.2533 * from_centre.iter().sum::<f64>() / from_centre.len() as f64,
    };
    let found = wet.iter().zip(&expected).zip(&differences);
    found
        .map(|(((can, depth_mm), neighbours_mm), difference)| Outlier {
            can: *can,
            depth_mm: *depth_mm,
            neighbours_mm: *neighbours_mm,
            score: if spread > 0.0 { (difference - centre) / spread } else { 0.0 },
        })
        .filter(|outlier| outlier.score.abs() > LIMIT)
        .collect()
}

/// Median depth of the nearest other cans with a reading (ties in distance: the earlier line).
fn median_around(cans: &[Can], wet: &[(usize, f64)], can: usize) -> f64 {
    let others = wet.iter().filter(|(other, _)| *other != can);
    let mut near: Vec<(f64, f64)> =
        others.map(|(other, depth)| (distance_m(&cans[can], &cans[*other]), *depth)).collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    let depths: Vec<f64> = near.iter().take(NEIGHBOURS).map(|(_, depth)| *depth).collect();
    median(&depths)
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
    fn closed_a_spilled_can_is_told_and_a_slope_is_not() {
        assert!(outliers(&grid(slope)).is_empty());
        let mut cans = grid(slope);
        cans[14].depth_mm = Some(0.0);
        let found = outliers(&cans);
        assert_eq!(found.iter().map(|o| o.can).collect::<Vec<_>>(), [14]);
        assert!(found[0].score < -LIMIT && found[0].neighbours_mm > 10.0);
    }

    #[test]
    fn invariant_units_and_missing_cans_do_not_matter() {
        let mut cans = grid(slope);
        cans[20].depth_mm = Some(40.0);
        cans[3].depth_mm = None;
        let scores: Vec<f64> = outliers(&cans).iter().map(|o| o.score).collect();
        assert_eq!(scores.len(), 1);
        for can in &mut cans {
            can.depth_mm = can.depth_mm.map(|d| d / 25.4);
        }
        assert!((outliers(&cans)[0].score - scores[0]).abs() < 1e-9);
    }

    #[test]
    fn invariant_few_cans_or_no_spread_tell_nothing() {
        assert!(outliers(&grid(slope)[..7]).is_empty());
        assert!(outliers(&grid(|_, _| 5.0)).is_empty());
        // One odd can among equal ones: the MAD is 0, the substitute finds it.
        let odd = outliers(&grid(|x, y| if (x, y) == (2, 2) { 9.0 } else { 5.0 }));
        assert_eq!(odd.len(), 1);
    }

    #[test]
    fn closed_medians() {
        assert_eq!(median(&[3.0, 1.0, 2.0]), 2.0);
        assert_eq!(median(&[4.0, 1.0, 2.0, 3.0]), 2.5);
        assert_eq!(median(&[]), 0.0);
    }
}
