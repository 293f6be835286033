//! A number outside what is taken: the same words for every part of the core.

/// A number below the lowest or above the highest that is taken, or no number at all.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{quantity} is {value}; it must lie between {lowest} and {highest}")]
pub struct OutOfRange {
    /// Name with its unit.
    pub quantity: &'static str,
    /// What was given.
    pub value: f64,
    /// Lowest value taken.
    pub lowest: f64,
    /// Highest value taken.
    pub highest: f64,
}

/// `Ok` if `lowest ≤ value ≤ highest`; NaN is outside of everything.
///
/// # Errors
/// [`OutOfRange`] otherwise.
pub(crate) fn within(
    quantity: &'static str,
    value: f64,
    lowest: f64,
    highest: f64,
) -> Result<(), OutOfRange> {
    if value >= lowest && value <= highest {
        return Ok(());
    }
    Err(OutOfRange { quantity, value, lowest, highest })
}
