//! Where a falling function is zero: the secant through a bracket, with the value of an end that stays
//! halved, so that both ends close in (Dowell & Jarratt 1971, BIT 11, "Illinois"; from memory,
//! confidence high). Few calls where the function is smooth; at most 60.

/// Where a function that is ≥ 0 at `above` and < 0 at `below` (place, value) is zero, as closely as
/// `close` in its value.
///
/// # Errors
/// What the function fails with.
pub(super) fn falling_zero<E>(
    at: impl Fn(f64) -> Result<f64, E>,
    mut above: (f64, f64),
    mut below: (f64, f64),
    close: f64,
) -> Result<f64, E> {
    let mut stayed = 0;
    for _ in 0..60 {
        let place = above.0 + (below.0 - above.0) * (above.1 / (above.1 - below.1));
        let value = at(place)?;
        if value.abs() <= close {
            return Ok(place);
        }
        if value >= 0.0 {
            above = (place, value);
            below.1 *= if stayed > 0 { 0.5 } else { 1.0 };
            stayed = 1;
        } else {
            below = (place, value);
            above.1 *= if stayed < 0 { 0.5 } else { 1.0 };
            stayed = -1;
        }
    }
    Ok(0.5 * (above.0 + below.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;

    #[test]
    fn closed_zero_of_a_falling_function() {
        for close in [1e-4, 1e-13] {
            let at = |x: f64| Ok::<f64, Infallible>(1.0 - x * x * x);
            let Ok(found) = falling_zero(at, (0.0, 1.0), (4.0, -63.0), close);
            assert!((found - 1.0).abs() <= close, "{found}");
        }
    }
}
