//! Wind drift and evaporation losses (WDEL): the part of the discharge that never reaches the ground.
//!
//! Published regressions differ threefold and more, so a result names the one it used
//! ([`Losses::name`]). Wind at 2 m.
//!
//! - Playán et al. 2005, Agric. Water Manage. 76: 139–159, solid sets, percent, U in m/s, RH in
//!   percent: E13 by day, 20.7 + 0.185 U² − 2.14e-3 RH²; E2 by night, 3.7 + 1.31 U²; E15 at all
//!   hours, 20.3 + 0.214 U² − 2.29e-3 RH². The night regression rests on light winds and climbs to
//!   36 % at 5 m/s, while a season in the Ebro valley lost 14–19 % by day and 5–11 % by night
//!   (abstract); so a night is never taken to lose more than a day in the same air (our rule).
//!   Their "moving lateral" equations are for machines that
//!   move while they water; a wheel line stands, so the solid-set ones are used (our judgment).
//! - Trimmer 1987, a fit of the Frost & Schwalen 1955 nomograph, percent:
//!   (1.98 D^−0.72 + 0.22 VPD^0.63 + 3.6e-4 P^1.16 + c U^0.7)^4.2, D in mm, VPD and P in kPa. One
//!   printed copy has c = 0.4; we use 0.14 (from memory, confidence high): only that gives losses
//!   like the nomograph's.
//! - Keller & Bliesner 1990, effective portion Re = 0.976 + 0.005 E − 0.00017 E² + 0.0012 W
//!   − CI (0.00043 E + 0.00018 W + 0.000016 E W), CI = 0.032 P^1.3 / D held within 7–17; E = ET0 in
//!   mm/d, W in km/h, P in kPa, D in mm (terms with CI seen in the CIGR Handbook, eq. 5.152; the
//!   rest from memory, confidence high). The loss is 1 − Re.
//!
//! VPD by FAO-56 equation 11 (Allen et al. 1998). Neglected: what evaporates from leaves, and the
//! drift that still waters the field downwind. A regression outside its range can leave 0–100 %;
//! it is then clipped, and says so.

use super::problem::SprinklerProblem;
use crate::range::within;
use libm::{exp, pow};

/// How losses are computed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Losses {
    /// A stated fraction of what leaves the nozzles.
    Fraction(f64),
    /// Playán et al. 2005, solid-set day and night regressions (E13 by day, E2 by night).
    PlayanDayNight,
    /// Playán et al. 2005, solid-set, all hours (E15).
    PlayanAll,
    /// Trimmer 1987 fit of Frost & Schwalen, with the coefficient of wind 0.14.
    Trimmer {
        /// Main nozzle diameter, mm.
        nozzle_mm: f64,
        /// Pressure, kPa.
        pressure_kpa: f64,
    },
    /// Keller & Bliesner effective portion.
    KellerBliesner {
        /// Main nozzle diameter, mm.
        nozzle_mm: f64,
        /// Pressure, kPa.
        pressure_kpa: f64,
        /// Reference evapotranspiration, mm/d.
        et0_mm_d: f64,
    },
}

/// What is lost in an hour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loss {
    /// Fraction of the discharge, 0–1.
    pub fraction: f64,
    /// The formula left 0–1 (or gave no number) and was cut back to it.
    pub clipped: bool,
}

impl Losses {
    /// Whether the formula can be computed.
    ///
    /// # Errors
    /// A fraction outside 0–1, nozzle outside 0.5–50 mm, pressure outside 10–2000 kPa, ET0 outside
    /// 0–20 mm/d.
    pub fn check(&self) -> Result<(), SprinklerProblem> {
        match *self {
            Self::Fraction(fraction) => Ok(within("loss fraction", fraction, 0.0, 1.0)?),
            Self::PlayanDayNight | Self::PlayanAll => Ok(()),
            Self::Trimmer { nozzle_mm, pressure_kpa } => {
                within("nozzle_mm", nozzle_mm, 0.5, 50.0)?;
                Ok(within("pressure_kpa", pressure_kpa, 10.0, 2000.0)?)
            }
            Self::KellerBliesner { nozzle_mm, pressure_kpa, et0_mm_d } => {
                within("nozzle_mm", nozzle_mm, 0.5, 50.0)?;
                within("pressure_kpa", pressure_kpa, 10.0, 2000.0)?;
                Ok(within("et0_mm_d", et0_mm_d, 0.0, 20.0)?)
            }
        }
    }

    /// Loss in an hour of this weather; wind at 2 m, relative humidity as a fraction.
    ///
    /// A result that is no number (only from input that [`Losses::check`] or the weather's reader
    /// refuses) counts as no loss, clipped.
    pub fn fraction(
        &self,
        wind_speed_2m_m_s: f64,
        temperature_c: f64,
        relative_humidity: f64,
        is_day: bool,
    ) -> Loss {
        let u = wind_speed_2m_m_s;
        let rh = 100.0 * relative_humidity;
        let percent = match *self {
            Self::Fraction(fraction) => 100.0 * fraction,
            Self::PlayanDayNight => {
                let by_day = 20.7 + 0.185 * u * u - 2.14e-3 * rh * rh;
                let by_night = (3.7 + 1.31 * u * u).min(by_day.max(0.0));
                if is_day { by_day } else { by_night }
            }
            Self::PlayanAll => 20.3 + 0.214 * u * u - 2.29e-3 * rh * rh,
            Self::Trimmer { nozzle_mm, pressure_kpa } => {
                let vpd_kpa = vapor_pressure_deficit_kpa(temperature_c, relative_humidity);
                trimmer_percent(nozzle_mm, vpd_kpa, pressure_kpa, u)
            }
            Self::KellerBliesner { nozzle_mm, pressure_kpa, et0_mm_d } => {
                100.0 * (1.0 - effective_portion(nozzle_mm, pressure_kpa, et0_mm_d, 3.6 * u))
            }
        };
        let raw = percent / 100.0;
        let fraction = if raw.is_nan() { 0.0 } else { raw.clamp(0.0, 1.0) };
        Loss { fraction, clipped: !(0.0..=1.0).contains(&raw) }
    }

    /// The formula with its source, for the report.
    pub fn name(&self) -> String {
        match *self {
            Self::Fraction(fraction) => {
                format!("{:.1} % of the discharge, as stated in the scenario", 100.0 * fraction)
            }
            Self::PlayanDayNight => "Playán et al. 2005, solid sets: by day 20.7 + 0.185 U² − \
                 0.00214 RH² (E13), by night 3.7 + 1.31 U² (E2) but never more than by day, percent"
                .to_owned(),
            Self::PlayanAll => {
                "Playán et al. 2005, solid sets at all hours (E15): 20.3 + 0.214 U² \
                 − 0.00229 RH², percent"
                    .to_owned()
            }
            Self::Trimmer { nozzle_mm, pressure_kpa } => format!(
                "Trimmer 1987 (fit of Frost & Schwalen 1955) with 0.14 U^0.7, nozzle {nozzle_mm:.2} \
                 mm at {pressure_kpa:.0} kPa"
            ),
            Self::KellerBliesner { nozzle_mm, pressure_kpa, et0_mm_d } => format!(
                "Keller & Bliesner 1990, effective portion, nozzle {nozzle_mm:.2} mm at \
                 {pressure_kpa:.0} kPa, ET0 {et0_mm_d:.1} mm/d"
            ),
        }
    }
}

/// Saturation vapor pressure at an air temperature less what the air holds, kPa, never negative;
/// FAO-56 equation 11: e°(T) = 0.6108 exp(17.27 T / (T + 237.3)).
fn vapor_pressure_deficit_kpa(temperature_c: f64, relative_humidity: f64) -> f64 {
    let saturated_kpa = 0.6108 * exp(17.27 * temperature_c / (temperature_c + 237.3));
    (saturated_kpa * (1.0 - relative_humidity)).max(0.0)
}

fn trimmer_percent(nozzle_mm: f64, vpd_kpa: f64, pressure_kpa: f64, wind_m_s: f64) -> f64 {
    let sum = 1.98 * pow(nozzle_mm, -0.72)
        + 0.22 * pow(vpd_kpa, 0.63)
        + 3.6e-4 * pow(pressure_kpa, 1.16)
        + 0.14 * pow(wind_m_s, 0.7);
    pow(sum, 4.2)
}

/// Keller & Bliesner's Re; wind in km/h.
fn effective_portion(nozzle_mm: f64, pressure_kpa: f64, et0_mm_d: f64, wind_km_h: f64) -> f64 {
    let coarseness = (0.032 * pow(pressure_kpa, 1.3) / nozzle_mm).clamp(7.0, 17.0);
    let (e, w) = (et0_mm_d, wind_km_h);
    0.976 + 0.005 * e - 0.00017 * e * e + 0.0012 * w
        - coarseness * (0.00043 * e + 0.00018 * w + 0.000016 * e * w)
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;

    fn percent(losses: Losses, wind_m_s: f64, is_day: bool) -> f64 {
        let loss = losses.fraction(wind_m_s, 25.0, 0.5, is_day);
        assert!(!loss.clipped);
        100.0 * loss.fraction
    }

    #[test]
    fn closed_playan_at_3_m_s_25_c_50_percent() {
        assert!((percent(Losses::PlayanDayNight, 3.0, true) - 17.02).abs() <= 0.0051);
        assert!((percent(Losses::PlayanDayNight, 3.0, false) - 15.49).abs() <= 0.0051);
        assert!((percent(Losses::PlayanAll, 3.0, true) - 16.50).abs() <= 0.0051);
    }

    #[test]
    fn invariant_a_night_never_loses_more_than_a_day_in_the_same_air() {
        for (wind_m_s, humidity) in [(5.0, 0.9), (5.0, 0.5), (1.0, 0.99), (15.0, 0.2)] {
            let at = |is_day| Losses::PlayanDayNight.fraction(wind_m_s, 15.0, humidity, is_day);
            assert!(at(false).fraction <= at(true).fraction, "{wind_m_s} m/s, {humidity}");
        }
        // Where the night is the lower one it is the regression itself.
        assert!((percent(Losses::PlayanDayNight, 2.0, false) - 8.94).abs() <= 0.0051);
    }

    #[test]
    fn closed_vapor_pressure_deficit() {
        assert!((vapor_pressure_deficit_kpa(25.0, 0.5) - 1.584).abs() <= 0.0005);
        assert_eq!(vapor_pressure_deficit_kpa(25.0, 1.1), 0.0);
    }

    #[test]
    fn closed_trimmer_with_0_14() {
        for (nozzle_mm, vpd_kpa, pressure_kpa, wind_m_s, expected) in [
            (3.97, 1.584, 345.0, 3.0, 8.11),
            (4.76, 1.584, 345.0, 3.0, 6.41),
            (4.80, 1.000, 300.0, 2.0, 3.60),
            (3.97, 1.584, 345.0, 6.0, 12.79),
        ] {
            let found = trimmer_percent(nozzle_mm, vpd_kpa, pressure_kpa, wind_m_s);
            assert!((found - expected).abs() <= 0.0051, "{found} {expected}");
        }
        let losses = Losses::Trimmer { nozzle_mm: 3.97, pressure_kpa: 345.0 };
        assert!((percent(losses, 3.0, true) - 8.11).abs() <= 0.0051);
    }

    #[test]
    fn closed_keller_and_bliesner() {
        for (nozzle_mm, pressure_kpa, et0_mm_d, wind_km_h, expected) in [
            (3.97, 345.0, 7.0, 10.0, 0.9195),
            (4.76, 345.0, 7.0, 10.0, 0.9353),
            (4.76, 276.0, 5.0, 5.0, 0.9682),
            (3.97, 345.0, 9.0, 20.0, 0.8651),
        ] {
            let found = effective_portion(nozzle_mm, pressure_kpa, et0_mm_d, wind_km_h);
            assert!((found - expected).abs() <= 0.00006, "{found} {expected}");
        }
        let losses = Losses::KellerBliesner { nozzle_mm: 3.97, pressure_kpa: 345.0, et0_mm_d: 7.0 };
        let found = percent(losses, 10.0 / 3.6, false);
        assert!((found - (100.0 - 91.95)).abs() <= 0.006, "{found}");
    }

    #[test]
    fn invariant_clipping_is_told() {
        let stormy = Losses::PlayanAll.fraction(25.0, 10.0, 0.5, false);
        assert_eq!(stormy, Loss { fraction: 1.0, clipped: true });
        let humid = Losses::PlayanDayNight.fraction(0.0, 10.0, 1.0, true);
        assert_eq!(humid, Loss { fraction: 0.0, clipped: true });
        let lost = Losses::PlayanAll.fraction(f64::NAN, 10.0, 0.5, true);
        assert_eq!(lost, Loss { fraction: 0.0, clipped: true });
        let stated = Losses::Fraction(0.08).fraction(3.0, 25.0, 0.5, true);
        assert_eq!(stated, Loss { fraction: 0.08, clipped: false });
    }

    #[test]
    fn invariant_bad_numbers_are_refused_and_names_tell_the_source() {
        assert!(Losses::Fraction(1.2).check().is_err());
        assert!(Losses::Trimmer { nozzle_mm: 0.0, pressure_kpa: 345.0 }.check().is_err());
        assert!(Losses::PlayanAll.check().is_ok());
        assert!(Losses::PlayanDayNight.name().contains("Playán et al. 2005"));
        assert_eq!(
            Losses::Fraction(0.05).name(),
            "5.0 % of the discharge, as stated in the scenario"
        );
    }
}
