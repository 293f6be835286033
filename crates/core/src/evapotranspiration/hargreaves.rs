//! ET0 from temperatures alone (Hargreaves; Allen et al. 1998, FAO-56, equation 52):
//!
//! ET0 = 0.0023 (T + 17.8) √(Tmax − Tmin) Ra, with Ra as mm of water (0.408 mm per MJ/m²) and T the
//! mean of the day's extremes.
//!
//! Valid as a mean over five days or more; single days scatter, windy places come out too low and
//! humid ones too high, and FAO-56 asks to calibrate it against equation 6.

use super::penman_monteith::check_temperatures;
use super::radiation::Sun;
use super::{EtProblem, Site};
use crate::range::within;
use libm::sqrt;

/// Water that a MJ/m² evaporates, mm (FAO-56 equation 20).
const MM_PER_MJ_M2: f64 = 0.408;

/// ET0 of a day, mm; not under 0.
///
/// # Errors
/// A site or temperatures outside what is taken, a day of the year outside 1–366.
pub fn et0_mm(site: &Site, day_of_year: u16, t_max_c: f64, t_min_c: f64) -> Result<f64, EtProblem> {
    site.check()?;
    within("day of the year", f64::from(day_of_year), 1.0, 366.0)?;
    check_temperatures(t_max_c, t_min_c)?;
    let mean_c = f64::midpoint(t_max_c, t_min_c);
    let outside_mm = MM_PER_MJ_M2 * Sun::on(day_of_year, site.latitude_deg).outside_mj_m2;
    Ok((0.0023 * (mean_c + 17.8) * sqrt(t_max_c - t_min_c) * outside_mm).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    const LYON: Site = Site { latitude_deg: 45.0 + 43.0 / 60.0, elevation_m: 200.0 };

    #[test]
    fn published_fao_56_example_20_by_hargreaves() {
        // Allen et al. 1998, Example 20, the check by equation 52 (from memory, confidence medium):
        // Lyon in July, 26.6 and 14.8 °C: 5.0 mm a day.
        let et0 = et0_mm(&LYON, 196, 26.6, 14.8).unwrap();
        assert!((et0 - 5.0).abs() <= 0.05, "{et0}");
    }

    #[test]
    fn published_fao_56_example_1() {
        // Example 1 (from memory, confidence high): four fifths of 15 MJ/m² evaporate 4.9 mm.
        assert!((0.8 * 15.0 * MM_PER_MJ_M2 - 4.9).abs() <= 0.05);
    }

    #[test]
    fn closed_cold_days_use_nothing_and_nonsense_is_refused() {
        assert_eq!(et0_mm(&LYON, 10, -20.0, -25.0), Ok(0.0));
        assert!(et0_mm(&LYON, 196, 10.0, 20.0).is_err());
        assert!(et0_mm(&LYON, 400, 20.0, 10.0).is_err());
    }
}
