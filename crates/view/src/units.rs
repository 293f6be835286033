//! Display units and number formatting: the edge where SI and fractions become what people read.
//!
//! Factors come from [`evenfall_core::units`]. Ratios are fractions inside and percent here.

use evenfall_core::units::{
    KPA_PER_PSI, L_S_PER_GPM, M_PER_FT, M_S_PER_MPH, M2_PER_ACRE, MM_PER_IN,
};
use serde::Serialize;
use utoipa::ToSchema;

/// Units in which quantities are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// US customary: ft, in, mph, psi, gpm, acre, acre-ft.
    Us,
    /// SI: m, mm, m/s, kPa, L/s, ha, m³.
    Si,
}

/// A quantity that is shown in either system.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Length on the ground; inside m.
    Length,
    /// Depth of water; inside mm.
    Depth,
    /// Wind speed; inside m/s.
    Speed,
    /// Pressure; inside kPa.
    Pressure,
    /// Discharge; inside L/s.
    Discharge,
    /// Area; inside m².
    Area,
    /// Volume of water; inside m³.
    Volume,
}

impl UnitSystem {
    /// Symbol of the unit a quantity is shown in.
    pub fn symbol(self, quantity: Quantity) -> &'static str {
        self.unit(quantity).0
    }

    /// A value in the inside unit, turned into the shown unit.
    pub fn shown(self, quantity: Quantity, inside: f64) -> f64 {
        inside / self.unit(quantity).1
    }

    /// A value in the shown unit, turned back into the inside unit.
    pub fn inside(self, quantity: Quantity, shown: f64) -> f64 {
        shown * self.unit(quantity).1
    }

    /// Value and unit as text, with so many decimals.
    pub fn text(self, quantity: Quantity, inside: f64, decimals: usize) -> String {
        let value = number(self.shown(quantity, inside), decimals);
        format!("{value}\u{a0}{}", self.symbol(quantity))
    }

    /// A length of the size of a pipe, "5 in" or "127 mm".
    pub fn small_length(self, meters: f64) -> String {
        let (shown, decimals, unit) = match self {
            Self::Us => (meters * 1000.0 / MM_PER_IN, 1, "in"),
            Self::Si => (meters * 1000.0, 0, "mm"),
        };
        let decimals = if (shown - shown.round()).abs() < 0.05 { 0 } else { decimals };
        format!("{}\u{a0}{unit}", number(shown, decimals))
    }

    /// Decimals that suit a depth of water in this system (hundredths of an inch, tenths of a mm).
    pub fn depth_decimals(self) -> usize {
        match self {
            Self::Us => 2,
            Self::Si => 1,
        }
    }

    /// The word for the unit of area that money is told by.
    pub fn area_word(self) -> &'static str {
        match self {
            Self::Us => "acre",
            Self::Si => "hectare",
        }
    }

    /// Something a hectare, turned into something an acre where areas are shown in acres.
    pub fn per_area(self, per_ha: f64) -> f64 {
        per_ha * self.unit(Quantity::Area).1 / 10_000.0
    }

    /// Symbol and size of the shown unit in the inside unit.
    fn unit(self, quantity: Quantity) -> (&'static str, f64) {
        match (self, quantity) {
            (Self::Us, Quantity::Length) => ("ft", M_PER_FT),
            (Self::Us, Quantity::Depth) => ("in", MM_PER_IN),
            (Self::Us, Quantity::Speed) => ("mph", M_S_PER_MPH),
            (Self::Us, Quantity::Pressure) => ("psi", KPA_PER_PSI),
            (Self::Us, Quantity::Discharge) => ("gpm", L_S_PER_GPM),
            (Self::Us, Quantity::Area) => ("acres", M2_PER_ACRE),
            (Self::Us, Quantity::Volume) => ("acre-ft", M2_PER_ACRE * M_PER_FT),
            (Self::Si, Quantity::Length) => ("m", 1.0),
            (Self::Si, Quantity::Depth) => ("mm", 1.0),
            (Self::Si, Quantity::Speed) => ("m/s", 1.0),
            (Self::Si, Quantity::Pressure) => ("kPa", 1.0),
            (Self::Si, Quantity::Discharge) => ("L/s", 1.0),
            (Self::Si, Quantity::Area) => ("ha", 10_000.0),
            (Self::Si, Quantity::Volume) => ("m³", 1.0),
        }
    }
}

/// A number with so many decimals and a true minus sign; never "−0"; "n/a" where it is not finite.
pub fn number(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "n/a".to_owned();
    }
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        Some(rest) => format!("\u{2212}{rest}"),
        None => text,
    }
}

/// A fraction as percent, "84.2 %".
pub fn percent(fraction: f64, decimals: usize) -> String {
    format!("{}\u{a0}%", number(100.0 * fraction, decimals))
}

/// A difference of two fractions in points with its sign, "+3.1".
pub fn points(fraction: f64, decimals: usize) -> String {
    let text = number(100.0 * fraction, decimals);
    if fraction > 0.0 && !text.starts_with('\u{2212}') { format!("+{text}") } else { text }
}

/// The sixteen points of the compass, N first, clockwise.
pub const COMPASS: [&str; 16] = [
    "N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW",
    "NNW",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_numbers_are_written_plainly() {
        assert_eq!(number(-1.25, 1), "\u{2212}1.2");
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(f64::NAN, 1), "n/a");
        assert_eq!(percent(0.8421, 1), "84.2\u{a0}%");
        assert_eq!(points(0.031, 1), "+3.1");
        assert_eq!(points(-0.031, 1), "\u{2212}3.1");
    }

    #[test]
    fn closed_units_are_exact() {
        assert_eq!(UnitSystem::Us.text(Quantity::Length, 18.288, 1), "60.0\u{a0}ft");
        assert_eq!(UnitSystem::Us.text(Quantity::Depth, 50.8, 2), "2.00\u{a0}in");
        assert_eq!(UnitSystem::Us.text(Quantity::Speed, 4.4704, 1), "10.0\u{a0}mph");
        assert_eq!(UnitSystem::Us.text(Quantity::Area, 161_874.256_896, 1), "40.0\u{a0}acres");
        // 43,560 ft² × 1 ft = 1233.48 m³
        assert_eq!(
            UnitSystem::Us.text(Quantity::Volume, 1_233.481_837_547_52, 3),
            "1.000\u{a0}acre-ft"
        );
        assert_eq!(UnitSystem::Us.text(Quantity::Pressure, 344.737_864_658, 2), "50.00\u{a0}psi");
        assert_eq!(UnitSystem::Us.text(Quantity::Discharge, 0.630_901_964, 3), "10.000\u{a0}gpm");
        assert_eq!(UnitSystem::Si.text(Quantity::Length, 18.288, 1), "18.3\u{a0}m");
        assert_eq!(UnitSystem::Si.text(Quantity::Area, 10_000.0, 1), "1.0\u{a0}ha");
    }

    #[test]
    fn invariant_shown_and_inside_undo_each_other() {
        for system in [UnitSystem::Us, UnitSystem::Si] {
            for quantity in [Quantity::Length, Quantity::Depth, Quantity::Speed, Quantity::Volume] {
                let there = system.shown(quantity, 12.34);
                assert!((system.inside(quantity, there) - 12.34).abs() < 1e-12);
            }
        }
    }
}
