//! Persistence on two time scales: hours that resemble the hour before, within spells of days.
//!
//! A series of mean 0 and variance 1 is the sum of two first-order autoregressions, a slow one with
//! share w of the variance and a fast one with the rest:
//! z(h) = √w·s(h) + √(1−w)·f(h), with correlation ρ(l) = w·exp(−l/τ) + (1−w)·φ^l over l hours.
//! One autoregression alone forgets: of the variance of the wind vector records leave 46–72 % in
//! the means of half-days, one fitted to the hour before leaves 14–44 %.
//!
//! Given are ρ(1), w and τ; φ follows, and w gives way where ρ(1) is less than the spells alone
//! would make. Fitted to a record by least squares over the first day's lags, on a fixed lattice of w,
//! τ and φ (the sum has no unique best to many digits). Neglected: fronts, which end a spell at once.

use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution, StandardNormal};

/// Lags that a fit looks at, h: a day, so that the next day's same half counts.
pub(super) const LAGS_H: usize = 24;

/// How long a series remembers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spells {
    /// Correlation from one hour to the next, 0–1.
    pub hour_to_hour: f64,
    /// Share of the variance in spells, 0–1.
    pub share: f64,
    /// Time in which the correlation within spells falls to 1/e, h.
    pub length_h: f64,
}

/// The two autoregressions that make a [`Spells`].
#[derive(Clone, Copy, Debug)]
struct Scales {
    share: f64,
    slow: f64,
    fast: f64,
}

impl Spells {
    /// Correlation over `lag_h` hours.
    pub fn correlation(&self, lag_h: usize) -> f64 {
        let Scales { share, slow, fast } = self.scales();
        share * libm::pow(slow, lag_h as f64) + (1.0 - share) * libm::pow(fast, lag_h as f64)
    }

    fn scales(&self) -> Scales {
        let slow = libm::exp(-1.0 / self.length_h);
        let share = self.share.min(self.hour_to_hour / slow).clamp(0.0, 1.0);
        let left = self.hour_to_hour - share * slow;
        let fast = if share < 1.0 { (left / (1.0 - share)).clamp(0.0, 1.0) } else { 0.0 };
        Scales { share, slow, fast }
    }

    /// The one whose correlations over 1, 2, … hours come nearest to `correlations`.
    pub(super) fn nearest_to(correlations: &[f64]) -> Self {
        const LENGTHS_H: [f64; 12] =
            [6.0, 8.0, 10.0, 12.0, 15.0, 18.0, 24.0, 30.0, 36.0, 48.0, 72.0, 96.0];
        let shares = (0..=19).map(|step| 0.05 * f64::from(step));
        let fasts = (0..=18).map(|step| 0.05 * f64::from(step));
        let miss = |spells: &Self| -> f64 {
            let at = |(index, seen): (usize, &f64)| (spells.correlation(index + 1) - seen).powi(2);
            correlations.iter().enumerate().map(at).sum()
        };
        let mut best = (f64::INFINITY, Self { hour_to_hour: 0.0, share: 0.0, length_h: 24.0 });
        for share in shares {
            for length_h in LENGTHS_H {
                for fast in fasts.clone() {
                    let slow = libm::exp(-1.0 / length_h);
                    let hour_to_hour = share * slow + (1.0 - share) * fast;
                    let spells = Self { hour_to_hour, share, length_h };
                    let miss = miss(&spells);
                    if miss < best.0 {
                        best = (miss, spells);
                    }
                }
            }
        }
        best.1
    }
}

/// A series being drawn.
#[derive(Debug)]
pub(crate) struct Course {
    rng: ChaCha8Rng,
    /// The slow and the fast part.
    state: Option<(f64, f64)>,
    /// The last memory asked for, and what it is made of: mostly it stays, and exponentials cost.
    scales: Option<(Spells, Scales)>,
}

impl Course {
    pub(crate) fn new(rng: ChaCha8Rng) -> Self {
        Self { rng, state: None, scales: None }
    }

    /// The next hour's standard normal number; `spells` may change on the way.
    pub(crate) fn next(&mut self, spells: &Spells) -> f64 {
        let scales = match self.scales {
            Some((known, scales)) if known == *spells => scales,
            _ => spells.scales(),
        };
        self.scales = Some((*spells, scales));
        let Scales { share, slow, fast } = scales;
        let mut draw = || -> f64 { StandardNormal.sample(&mut self.rng) };
        let draws = (draw(), draw());
        let step = |before: f64, keeps: f64, draw: f64| {
            keeps * before + (1.0 - keeps * keeps).sqrt() * draw
        };
        let next = match self.state {
            None => draws,
            Some(before) => (step(before.0, slow, draws.0), step(before.1, fast, draws.1)),
        };
        self.state = Some(next);
        share.sqrt() * next.0 + (1.0 - share).sqrt() * next.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::SeedableRng;

    #[test]
    fn closed_a_series_has_the_correlations_it_is_asked_for() {
        let spells = Spells { hour_to_hour: 0.7, share: 0.6, length_h: 18.0 };
        let mut course = Course::new(ChaCha8Rng::seed_from_u64(5));
        let series: Vec<f64> = (0..400_000).map(|_| course.next(&spells)).collect();
        for lag in [1, 6, 24] {
            let products = series.windows(lag + 1).map(|hours| hours[0] * hours[lag]);
            let seen = products.sum::<f64>() / (series.len() - lag) as f64;
            // Some 10,000 independent spells: three standard errors of a correlation.
            assert!((seen - spells.correlation(lag)).abs() < 0.03, "{lag}: {seen}");
        }
        // By hand: 0.6·e^(−1/18) + 0.4·φ = 0.7 over one hour, and 0.6·e^(−24/18) after a day.
        assert!((spells.correlation(1) - 0.7).abs() < 1e-12);
        assert!((spells.correlation(24) - 0.6 * (-24.0_f64 / 18.0).exp()).abs() < 1e-9);
    }

    #[test]
    fn closed_a_fit_gives_back_what_made_the_correlations() {
        let made = Spells { hour_to_hour: 0.0, share: 0.6, length_h: 18.0 };
        let hour_to_hour = 0.6 * libm::exp(-1.0 / 18.0) + 0.4 * 0.25;
        let made = Spells { hour_to_hour, ..made };
        let seen: Vec<f64> = (1..=LAGS_H).map(|lag| made.correlation(lag)).collect();
        let fitted = Spells::nearest_to(&seen);
        assert!((fitted.share - 0.6).abs() < 1e-9 && fitted.length_h == 18.0, "{fitted:?}");
        assert!((fitted.hour_to_hour - hour_to_hour).abs() < 1e-9);
    }

    #[test]
    fn closed_spells_give_way_to_a_short_memory() {
        let spells = Spells { hour_to_hour: 0.2, share: 0.6, length_h: 18.0 };
        assert!((spells.correlation(1) - 0.2).abs() < 1e-12);
        let none = Spells { hour_to_hour: 0.0, ..spells };
        assert!(none.correlation(1).abs() < 1e-12 && none.correlation(24).abs() < 1e-12);
    }
}
