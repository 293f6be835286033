//! Spread of the net return with all prices drawn together, each from its plausible range.
//!
//! The chart of [`super::sensitivity()`] moves one input at a time. Here all are drawn at once and
//! without regard to one another from triangular distributions (low, base as the mode, high), the
//! usual choice where no more than these three is known (Johnson 1997, The Statistician 46:387–398;
//! from memory, medium). The result is the share of draws in which the net return is above the
//! worthwhile gain, and the range that holds the middle 90 % of them.
//!
//! Neglected: prices that move together (crop and water prices, say), and the weather, whose noise
//! is in the interval of the seasons. The mean of a lopsided triangle is not its mode, so the middle
//! of the draws may lie off the net return at base.

use super::sensitivity::Input;
use rand::SeedableRng as _;
use rand::rngs::ChaCha8Rng;
use rand_distr::{Distribution as _, Triangular};

/// Net return with all inputs drawn together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PriceSpread {
    /// Draws made.
    pub draws: usize,
    /// Share of them with a net return above the worthwhile gain.
    pub share_above: f64,
    /// Net return exceeded in 95 % of the draws.
    pub low: f64,
    /// Net return exceeded in half of the draws.
    pub middle: f64,
    /// Net return exceeded in 5 % of the draws.
    pub high: f64,
}

/// Draws: the share is then good to about a point either way (binomial).
const DRAWS: usize = 4000;

/// Always the same draws: two alternatives meet the same prices, and a run repeats to the digit.
const SEED: u64 = 0x7072_6963_6573;

/// Net returns with all `inputs` drawn together, from the lowest up; `net` takes their values in
/// order. `None` without inputs, with a range that is none, or where a net return is no number.
pub(crate) fn drawn_nets(inputs: &[Input], net: impl Fn(&[f64]) -> f64) -> Option<Vec<f64>> {
    let ranges: Vec<Range> = inputs.iter().map(range).collect::<Option<_>>()?;
    if ranges.is_empty() {
        return None;
    }
    let mut rng = ChaCha8Rng::seed_from_u64(SEED);
    let mut nets: Vec<f64> = (0..DRAWS)
        .map(|_| {
            let drawn = ranges.iter().map(|range| match range {
                Range::Triangle(triangle) => triangle.sample(&mut rng),
                Range::Known(value) => *value,
            });
            net(&drawn.collect::<Vec<f64>>())
        })
        .collect();
    if nets.iter().any(|net| !net.is_finite()) {
        return None;
    }
    nets.sort_by(f64::total_cmp);
    Some(nets)
}

impl PriceSpread {
    /// What `drawn_nets` come to.
    pub fn of(nets: &[f64], worthwhile_gain: f64) -> Self {
        let above = nets.iter().filter(|net| **net > worthwhile_gain).count();
        let at = |share: f64| nets[((nets.len() - 1) as f64 * share).round() as usize];
        Self {
            draws: nets.len(),
            share_above: above as f64 / nets.len() as f64,
            low: at(0.05),
            middle: at(0.5),
            high: at(0.95),
        }
    }
}

/// What an input is drawn from.
enum Range {
    Triangle(Triangular<f64>),
    Known(f64),
}

fn range(input: &Input) -> Option<Range> {
    if input.low == input.high && input.low == input.base {
        return Some(Range::Known(input.base));
    }
    Triangular::new(input.low, input.high, input.base).ok().map(Range::Triangle)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::money::Price;

    fn price_spread(
        inputs: &[Input],
        worthwhile_gain: f64,
        net: impl Fn(&[f64]) -> f64,
    ) -> Option<PriceSpread> {
        drawn_nets(inputs, net).map(|nets| PriceSpread::of(&nets, worthwhile_gain))
    }

    fn input(low: f64, base: f64, high: f64) -> Input {
        Input { price: Price::Crop.into(), low, base, high, is_placeholder: false }
    }

    #[test]
    fn closed_one_triangle_gives_its_quantiles() {
        // On 0–1 with mode 1 the distribution is x²: half above √0.5, 5 % below √0.05.
        let found = price_spread(&[input(0.0, 1.0, 1.0)], 0.5, |values| values[0]).unwrap();
        // Standard error of a share of 4000 draws: at most 0.008; three of them.
        assert!((found.share_above - 0.75).abs() < 0.024, "{found:?}");
        assert!((found.middle - 0.5_f64.sqrt()).abs() < 0.024);
        assert!((found.low - 0.05_f64.sqrt()).abs() < 0.024);
    }

    #[test]
    fn closed_inputs_known_exactly_leave_no_doubt() {
        let found = price_spread(&[input(2.0, 2.0, 2.0)], 1.0, |values| values[0]).unwrap();
        assert_eq!((found.share_above, found.low, found.high), (1.0, 2.0, 2.0));
        assert_eq!(price_spread(&[], 0.0, |_| 1.0), None);
        assert_eq!(price_spread(&[input(1.0, 3.0, 2.0)], 0.0, |values| values[0]), None);
        assert_eq!(price_spread(&[input(0.0, 0.5, 1.0)], 0.0, |_| f64::NAN), None);
    }

    #[test]
    fn invariant_equal_and_opposite_inputs_leave_an_even_chance() {
        let inputs = [input(0.0, 1.0, 2.0), input(0.0, 1.0, 2.0)];
        let found = price_spread(&inputs, 0.0, |values| values[0] - values[1]).unwrap();
        assert!((found.share_above - 0.5).abs() < 0.024, "{found:?}");
    }
}
