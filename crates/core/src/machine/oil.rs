//! Viscosity of oil against temperature (ASTM D341, Walther's equation).
//!
//! log10 log10(ν + 0.7) = A − B · log10 T, ν in mm²/s (cSt), T in K.
//!
//! Valid for ν ≥ 2 mm²/s and above the oil's cloud point; below 2 mm²/s the standard adds terms that
//! are left out here, and such oils are refused. Neglected: pressure, shear, water and dirt in the
//! oil. ISO VG grades are those of ISO 3448: viscosity at 40 °C within 10 % of the grade's number.

/// 0 °C, K.
const KELVIN_AT_0_C: f64 = 273.15;

/// Temperature at which a grade is defined, °C.
const GRADE_AT_C: f64 = 40.0;
/// The other temperature at which makers give the viscosity, °C.
const HOT_AT_C: f64 = 100.0;
/// Least viscosity for which the equation is used, mm²/s.
const LEAST_MM2_S: f64 = 2.0;

/// An ISO viscosity grade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// VG 22.
    Vg22,
    /// VG 32.
    Vg32,
    /// VG 46.
    Vg46,
    /// VG 68.
    Vg68,
    /// VG 100.
    Vg100,
    /// VG 150.
    Vg150,
    /// VG 220.
    Vg220,
}

impl Grade {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Vg22, Self::Vg32, Self::Vg46, Self::Vg68, Self::Vg100, Self::Vg150, Self::Vg220];

    /// Viscosity at 40 °C in the middle of the grade, mm²/s.
    pub fn at_40_c_mm2_s(self) -> f64 {
        self.numbers().0
    }

    /// Least and greatest viscosity at 40 °C, mm²/s (ISO 3448: ± 10 %).
    pub fn limits_mm2_s(self) -> (f64, f64) {
        (0.9 * self.at_40_c_mm2_s(), 1.1 * self.at_40_c_mm2_s())
    }

    /// Viscosity at 100 °C of a common mineral oil of the grade (viscosity index near 100), mm²/s:
    /// from memory, confidence medium; a data sheet goes before it.
    pub fn typical_at_100_c_mm2_s(self) -> f64 {
        self.numbers().1
    }

    fn numbers(self) -> (f64, f64) {
        match self {
            Self::Vg22 => (22.0, 4.3),
            Self::Vg32 => (32.0, 5.4),
            Self::Vg46 => (46.0, 6.8),
            Self::Vg68 => (68.0, 8.7),
            Self::Vg100 => (100.0, 11.1),
            Self::Vg150 => (150.0, 14.7),
            Self::Vg220 => (220.0, 18.9),
        }
    }
}

/// An oil's line through two known viscosities.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Oil {
    a: f64,
    b: f64,
}

/// What can be wrong with the two viscosities.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum OilProblem {
    /// Too thin for the equation.
    #[error("a viscosity of {mm2_s} cSt is outside the equation: it must be at least 2 cSt")]
    TooThin {
        /// The viscosity, mm²/s.
        mm2_s: f64,
    },
    /// It does not thin with heat.
    #[error("an oil gets thinner with heat: {cold_mm2_s} cSt at 40 °C, {hot_mm2_s} cSt at 100 °C")]
    ThickensWithHeat {
        /// At 40 °C, mm²/s.
        cold_mm2_s: f64,
        /// At 100 °C, mm²/s.
        hot_mm2_s: f64,
    },
}

impl Oil {
    /// The oil with these viscosities at 40 °C and at 100 °C, mm²/s.
    ///
    /// # Errors
    /// Below 2 mm²/s, or no thinner at 100 °C than at 40 °C.
    pub fn new(at_40_c_mm2_s: f64, at_100_c_mm2_s: f64) -> Result<Self, OilProblem> {
        Self::through(at_40_c_mm2_s, at_100_c_mm2_s, KELVIN_AT_0_C)
    }

    fn through(cold_mm2_s: f64, hot_mm2_s: f64, zero_k: f64) -> Result<Self, OilProblem> {
        for mm2_s in [cold_mm2_s, hot_mm2_s] {
            if !(mm2_s >= LEAST_MM2_S && mm2_s.is_finite()) {
                return Err(OilProblem::TooThin { mm2_s });
            }
        }
        if hot_mm2_s >= cold_mm2_s {
            return Err(OilProblem::ThickensWithHeat { cold_mm2_s, hot_mm2_s });
        }
        let (cold, hot) = (double_log(cold_mm2_s), double_log(hot_mm2_s));
        let (cold_t, hot_t) = ((GRADE_AT_C + zero_k).log10(), (HOT_AT_C + zero_k).log10());
        let b = (cold - hot) / (hot_t - cold_t);
        Ok(Self { a: cold + b * cold_t, b })
    }

    /// Viscosity at `temperature_c`, mm²/s.
    pub(super) fn viscosity_mm2_s(&self, temperature_c: f64) -> f64 {
        self.at_kelvin(temperature_c + KELVIN_AT_0_C)
    }

    fn at_kelvin(&self, temperature_k: f64) -> f64 {
        10f64.powf(10f64.powf(self.a - self.b * temperature_k.log10())) - 0.7
    }
}

fn double_log(mm2_s: f64) -> f64 {
    (mm2_s + 0.7).log10().log10()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_worked_example_of_the_walther_line() {
        // A worked spreadsheet of ASTM D341: 32 cSt at 40 °C, 5.4 at 100 °C with T = t + 273:
        // A 9.5259, B 3.7449, 8.5 cSt at 80 °C.
        let oil = Oil::through(32.0, 5.4, 273.0).unwrap();
        assert!((oil.a - 9.5259).abs() < 5e-5 && (oil.b - 3.7449).abs() < 5e-5, "{oil:?}");
        assert!((oil.at_kelvin(80.0 + 273.0) - 8.5).abs() < 0.05);
        // The true zero moves it by nothing that shows.
        let oil = Oil::new(32.0, 5.4).unwrap();
        assert!((oil.viscosity_mm2_s(80.0) - 8.5).abs() < 0.05);
        assert!((oil.viscosity_mm2_s(40.0) - 32.0).abs() < 1e-9);
    }

    #[test]
    fn regress_the_same_oil_in_cold() {
        // Worked out beforehand with T = t + 273.
        let oil = Oil::through(32.0, 5.4, 273.0).unwrap();
        for (celsius, mm2_s, half_digit) in [
            (-20.0, 2293.0, 0.5),
            (-10.0, 805.0, 0.5),
            (0.0, 336.0, 0.5),
            (10.0, 161.0, 0.05),
            (20.0, 86.3, 0.05),
            (60.0, 15.2, 0.05),
        ] {
            let found = oil.at_kelvin(celsius + 273.0);
            assert!((found - mm2_s).abs() < half_digit, "{celsius}: {found}");
        }
    }

    #[test]
    fn published_limits_of_the_iso_grades() {
        // ISO 3448 at 40 °C.
        let printed = [
            (19.8, 24.2),
            (28.8, 35.2),
            (41.4, 50.6),
            (61.2, 74.8),
            (90.0, 110.0),
            (135.0, 165.0),
            (198.0, 242.0),
        ];
        for (grade, (least, most)) in Grade::ALL.into_iter().zip(printed) {
            let limits = grade.limits_mm2_s();
            assert!((limits.0 - least).abs() < 0.05 && (limits.1 - most).abs() < 0.05, "{grade:?}");
        }
    }

    #[test]
    fn closed_oils_that_are_none_are_refused() {
        assert_eq!(Oil::new(1.5, 1.0), Err(OilProblem::TooThin { mm2_s: 1.5 }));
        assert!(matches!(Oil::new(32.0, 40.0), Err(OilProblem::ThickensWithHeat { .. })));
        assert!(matches!(Oil::new(f64::NAN, 5.0), Err(OilProblem::TooThin { .. })));
    }
}
