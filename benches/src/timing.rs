//! Times: several runs, by turns, summed up by median and range.

use crate::Fault;
use std::fmt;
use std::time::Instant;

/// Times of repeated runs, s, in rising order; never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct Times(Vec<f64>);

impl Times {
    /// The middle one, s; of two middle ones the slower.
    pub fn median(&self) -> f64 {
        self.0[self.0.len() / 2]
    }
}

impl fmt::Display for Times {
    /// Median with the fastest and slowest in brackets, in a unit that suits the median.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (factor, unit) = match self.median() {
            s if s >= 1.0 => (1.0, "s"),
            s if s >= 1e-3 => (1e3, "ms"),
            _ => (1e6, "µs"),
        };
        let [middle, low, high] =
            [self.median(), self.0[0], self.0[self.0.len() - 1]].map(|s| short(s * factor));
        write!(f, "{middle} {unit} ({low}–{high})")
    }
}

/// Three digits, without an exponent.
pub fn short(value: f64) -> String {
    let whole_digits = value.abs().max(1e-9).log10().floor() as i32 + 1;
    format!("{value:.*}", (3 - whole_digits).clamp(0, 6) as usize)
}

/// Work that times itself, s.
pub type Contestant<'a> = &'a mut dyn FnMut() -> Result<f64, Fault>;

/// Runs every contestant once unmeasured, then all of them by turns, `rounds` times (at least 1).
///
/// # Errors
/// The first that a contestant gives.
pub fn by_turns(rounds: usize, contestants: &mut [Contestant<'_>]) -> Result<Vec<Times>, Fault> {
    let mut times = vec![Vec::with_capacity(rounds); contestants.len()];
    for round in 0..=rounds.max(1) {
        for (contestant, times) in contestants.iter_mut().zip(&mut times) {
            let seconds = contestant()?;
            if round > 0 {
                times.push(seconds);
            }
        }
    }
    for times in &mut times {
        times.sort_by(f64::total_cmp);
    }
    Ok(times.into_iter().map(Times).collect())
}

/// Mean time of `work` over `runs` runs, s.
pub fn clock(runs: usize, mut work: impl FnMut()) -> f64 {
    let start = Instant::now();
    for _ in 0..runs {
        work();
    }
    start.elapsed().as_secs_f64() / runs as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_median_and_range_of_runs_by_turns() {
        let mut seconds = [9.0, 3e-3, 1e-3, 2e-3].into_iter();
        let mut next = || seconds.next().ok_or_else(|| Fault::from("too many runs"));
        let times = by_turns(3, &mut [&mut next]).unwrap();
        assert_eq!(times[0].to_string(), "2.00 ms (1.00–3.00)");
    }
}
