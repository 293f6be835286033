//! Yield against water: 1 − Ya/Ym = Ky (1 − `ETa`/`ETm`) (Doorenbos & Kassam 1979, FAO Irrigation and
//! Drainage Paper 33; FAO-56 equation 90), one factor Ky for the whole season.
//!
//! Valid for deficits up to about half of `ETm` spread over the season. Neglected: when in the season
//! the stress falls, nitrogen washed out by percolation, lack of air in wet soil, disease. Yield is
//! held at zero where the line would cross it.

/// Ya/Ym, a fraction from 0 to 1.
///
/// `etm_mm` is the season's need without stress; a season without need (zero) yields all.
pub fn yield_fraction(ky: f64, eta_mm: f64, etm_mm: f64) -> f64 {
    let deficit = if etm_mm > 0.0 { 1.0 - eta_mm / etm_mm } else { 0.0 };
    (1.0 - ky * deficit).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_yield_of_maize_short_of_a_tenth() {
        // Ky 1.25 (FAO-56 Table 24): a tenth less water, an eighth less yield.
        assert!((yield_fraction(1.25, 540.0, 600.0) - 0.875).abs() < 1e-12);
        assert!((yield_fraction(1.25, 600.0, 600.0) - 1.0).abs() < 1e-12);
        assert_eq!(yield_fraction(1.25, 0.0, 600.0), 0.0);
        assert_eq!(yield_fraction(1.25, 0.0, 0.0), 1.0);
    }
}
