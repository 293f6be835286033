//! Sensitivity, one input at a time: each goes over its plausible range, the others stay at base.
//!
//! The swing of an input is how far the net return moves over low, base and high; the chart shows
//! them widest first (the common "tornado" order). Where the net return passes its target inside
//! the range, the break-even is found there by false position (Illinois rule: Dowell & Jarratt 1971,
//! BIT 11:168–174; from memory, high): one step where the net return is linear in the input.
//!
//! Neglected: inputs that are off together, and what happens between low, base and high where the
//! net return turns round more than once.

use crate::money::PriceKey;

/// One input and its plausible range, in its own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Input {
    /// Which price.
    pub price: PriceKey,
    /// Lowest plausible value.
    pub low: f64,
    /// Value used.
    pub base: f64,
    /// Highest plausible value.
    pub high: f64,
    /// Nobody stands for the value used.
    pub is_placeholder: bool,
}

/// What one input does to the net return.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// Which price.
    pub price: PriceKey,
    /// Nobody stands for its value.
    pub is_placeholder: bool,
    /// Input at the low end, at base, at the high end.
    pub inputs: [f64; 3],
    /// Net return there, in its unit.
    pub nets: [f64; 3],
    /// Value of the input, inside its range, nearest to base at which the net return meets the
    /// target; `None` where the range never takes it to the other side.
    pub break_even: Option<f64>,
}

impl Swing {
    /// Whether the input moves the net return by more than round-off.
    pub fn matters(&self) -> bool {
        let largest = self.nets.iter().copied().map(f64::abs).fold(0.0, f64::max);
        self.width() > 1e-9 * largest
    }

    /// Highest less lowest of the three net returns.
    pub fn width(&self) -> f64 {
        let highest = self.nets.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let lowest = self.nets.iter().copied().fold(f64::INFINITY, f64::min);
        highest - lowest
    }
}

/// Why no sensitivity can be given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SensitivityError {
    /// Ranges that are none: low ≤ base ≤ high and finite is needed.
    #[error("low ≤ base ≤ high does not hold for {}", labels(.0))]
    Ranges(Vec<PriceKey>),
    /// The net return of an input's value is no number.
    #[error("the net return is {net} with {} at {value}", price.common_label())]
    Net {
        /// Which price.
        price: PriceKey,
        /// Its value.
        value: f64,
        /// What came out.
        net: f64,
    },
}

fn labels(prices: &[PriceKey]) -> String {
    prices.iter().map(|price| price.common_label()).collect::<Vec<_>>().join(", ")
}

/// Swings of `inputs`, the widest first and equals in the order given. `net` takes the values of
/// all inputs in their order and gives the net return; `target` is the net return to be met.
///
/// # Errors
/// Every range that is none, all at once; a net return that is not finite.
pub(crate) fn sensitivity(
    inputs: &[Input],
    target: f64,
    net: impl Fn(&[f64]) -> f64,
) -> Result<Vec<Swing>, SensitivityError> {
    let is_range = |input: &Input| {
        let is_finite = input.low.is_finite() && input.high.is_finite();
        is_finite && input.low <= input.base && input.base <= input.high
    };
    let wrong: Vec<PriceKey> =
        inputs.iter().filter(|input| !is_range(input)).map(|input| input.price).collect();
    if !wrong.is_empty() {
        return Err(SensitivityError::Ranges(wrong));
    }
    let base: Vec<f64> = inputs.iter().map(|input| input.base).collect();
    let mut swings = Vec::with_capacity(inputs.len());
    for (place, input) in inputs.iter().enumerate() {
        let net_at = |value: f64| {
            let mut values = base.clone();
            values[place] = value;
            let net = net(&values);
            if net.is_finite() {
                Ok(net)
            } else {
                Err(SensitivityError::Net { price: input.price, value, net })
            }
        };
        swings.push(swing(input, target, net_at)?);
    }
    swings.sort_by(|a, b| b.width().total_cmp(&a.width()));
    Ok(swings)
}

fn swing(
    input: &Input,
    target: f64,
    net_at: impl Fn(f64) -> Result<f64, SensitivityError>,
) -> Result<Swing, SensitivityError> {
    let inputs = [input.low, input.base, input.high];
    let nets = [net_at(input.low)?, net_at(input.base)?, net_at(input.high)?];
    let above_at = |value: f64| net_at(value).map(|net| net - target);
    let point = |place: usize| (inputs[place], nets[place] - target);
    let crossings =
        [crossing(point(1), point(0), &above_at)?, crossing(point(1), point(2), &above_at)?];
    let break_even = crossings
        .into_iter()
        .flatten()
        .min_by(|a, b| (a - input.base).abs().total_cmp(&(b - input.base).abs()));
    let (price, is_placeholder) = (input.price, input.is_placeholder);
    Ok(Swing { price, is_placeholder, inputs, nets, break_even })
}

/// Steps of the root search; each at worst halves the bracket every second step or so.
const STEPS: usize = 100;

/// Where `above` passes zero between two points (input, above) on different sides; `None` where
/// both are on one side. Above zero is one side, zero and below the other, as the verdict has it.
fn crossing(
    from: (f64, f64),
    to: (f64, f64),
    above: &impl Fn(f64) -> Result<f64, SensitivityError>,
) -> Result<Option<f64>, SensitivityError> {
    if (from.1 > 0.0) == (to.1 > 0.0) {
        return Ok(None);
    }
    let small_enough = 1e-12 * from.1.abs().max(to.1.abs());
    let (mut a, mut b) = (from, to);
    for _ in 0..STEPS {
        let middle = (a.0 * b.1 - b.0 * a.1) / (b.1 - a.1);
        let found = above(middle)?;
        if found.abs() <= small_enough {
            return Ok(Some(middle));
        }
        if (found > 0.0) == (b.1 > 0.0) {
            // The same end moved: halve the other's weight, or it would never move.
            a.1 *= 0.5;
        } else {
            a = b;
        }
        b = (middle, found);
    }
    // A jump has no root; the bracket has closed on it.
    Ok(Some(b.0))
}
