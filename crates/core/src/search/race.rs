//! The race: all candidates run few seasons, those not clearly beaten run more.
//!
//! After each stage the candidate with the best mean leads its heat and beats those for which the
//! paired interval of leader less candidate lies above the worthwhile difference: what is
//! within that difference is a tie and stays, so that the simplest of the ties can be shown. A heat
//! is a combination of wheel and spacing or a kind of clock and edges. One is dropped when it is
//! beaten in every heat it runs in, so that each wheel, spacing and kind keeps its best to the end.
//!
//! Looking often at many pairs finds differences by luck. So half of the allowed error 1 − level is
//! spent here, divided by all pairs of candidates and all looks (Bonferroni), and the other half on
//! the final ranking. A leader that is no better than the one it drops is then found anywhere in at
//! most half of 1 − level of all searches, so the best is not dropped but with that small chance,
//! however many candidates there are. Student's interval is exact for normal differences; with few
//! seasons of skewed ones it is somewhat too narrow (see `ensemble`).

use crate::ensemble::{Interval, StatisticsError, mean_and_deviation};
use crate::paired::pair;

/// A candidate that went no further.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dropped {
    /// Which candidate.
    pub candidate: usize,
    /// The leader that beat it.
    pub leader: usize,
    /// Interval of leader less candidate, in the unit of the aim.
    pub lead: Interval,
    /// Mean of that.
    pub mean_lead: f64,
}

/// One look at the candidates.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// Seasons that each candidate still in the race had run.
    pub seasons: usize,
    /// Candidates that ran them.
    pub ran: usize,
    /// Those that went no further.
    pub dropped: Vec<Dropped>,
}

/// Seasons after which the candidates are looked at: `first`, then twice as many each time, and
/// `last`.
pub fn looks(first: usize, last: usize) -> Vec<usize> {
    let doubled = std::iter::successors(Some(first.clamp(2, last.max(2))), |n| n.checked_mul(2));
    let mut looks: Vec<usize> = doubled.take_while(|n| *n < last).collect();
    looks.push(last);
    looks
}

/// Level of one interval of the race.
pub(crate) fn level_of_each(level: f64, candidates: usize, looks: usize) -> f64 {
    let pairs = 0.5 * candidates as f64 * candidates.saturating_sub(1) as f64;
    // After the last look there is nothing to save.
    let looks = looks.saturating_sub(1).max(1) as f64;
    1.0 - 0.5 * (1.0 - level) / (pairs.max(1.0) * looks)
}

/// Those of `heat` that are clearly worse than its leader. `values` has one number a season for
/// every candidate (higher is better).
pub(super) fn beaten(
    values: &[Vec<f64>],
    heat: &[usize],
    each_level: f64,
    least: f64,
) -> Result<Vec<Dropped>, StatisticsError> {
    let mut best: Option<(usize, f64)> = None;
    for candidate in heat {
        let mean = mean_and_deviation(&values[*candidate])?.0;
        if best.is_none_or(|(_, most)| mean > most) {
            best = Some((*candidate, mean));
        }
    }
    let Some((leader, _)) = best else { return Ok(Vec::new()) };
    let mut dropped = Vec::new();
    for candidate in heat {
        let lead = pair(&values[leader], &values[*candidate], each_level)?;
        if lead.figures.interval.low > least {
            dropped.push(Dropped {
                candidate: *candidate,
                leader,
                lead: lead.figures.interval,
                mean_lead: lead.figures.mean,
            });
        }
    }
    Ok(dropped)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::SeedableRng;
    use rand::rngs::ChaCha8Rng;
    use rand_distr::{Distribution, StandardNormal};

    #[test]
    fn closed_looks_double_up_to_the_last() {
        assert_eq!(looks(8, 50), [8, 16, 32, 50]);
        assert_eq!(looks(8, 8), [8]);
        assert_eq!(looks(8, 4), [4]);
        assert_eq!(looks(2, 3), [2, 3]);
        // 5 candidates: 10 pairs; 4 looks: 3 that drop. 1 − 0.05/30.
        assert!((level_of_each(0.9, 5, 4) - (1.0 - 0.05 / 30.0)).abs() < 1e-15);
    }

    #[test]
    fn closed_the_beaten_are_dropped_and_equals_stay_together() {
        let season = |base: f64| (0..8).map(|s| base + f64::from(s % 3)).collect::<Vec<_>>();
        let values = vec![season(1.0), season(5.0), season(5.0), season(4.9)];
        let dropped = beaten(&values, &[0, 1, 2, 3], 0.99, 0.0).unwrap();
        let who: Vec<usize> = dropped.iter().map(|d| d.candidate).collect();
        assert_eq!(who, [0, 3], "equal to the leader: kept");
        assert!(
            beaten(&values, &[1, 3], 0.99, 0.2).unwrap().is_empty(),
            "no worthwhile difference"
        );
    }

    #[test]
    fn reference_the_best_is_dropped_no_oftener_than_allowed() {
        // 12 candidates, the best by a hair (0.05 of the noise): how often does the race drop it?
        let (candidates, searches, level) = (12, 400, 0.9);
        let looks = looks(4, 32);
        let each = level_of_each(level, candidates, looks.len());
        let mut lost = 0;
        for search in 0..searches {
            let mut rng = ChaCha8Rng::seed_from_u64(search);
            let mut draw = |shift: f64| -> Vec<f64> {
                let noise = |_| -> f64 { StandardNormal.sample(&mut rng) };
                (0..32).map(noise).map(|noise: f64| shift + noise).collect()
            };
            let all: Vec<Vec<f64>> =
                (0..candidates).map(|c| draw(if c == 7 { 0.05 } else { 0.0 })).collect();
            let mut live: Vec<usize> = (0..candidates).collect();
            for look in &looks[..looks.len() - 1] {
                let seen: Vec<Vec<f64>> = all.iter().map(|v| v[..*look].to_vec()).collect();
                let dropped = beaten(&seen, &live, each, 0.0).unwrap();
                live.retain(|c| dropped.iter().all(|d| d.candidate != *c));
            }
            lost += usize::from(!live.contains(&7));
        }
        // Allowed are half of 10 % of 400: 20.
        assert!(lost <= 20, "{lost} of {searches}");
    }
}
