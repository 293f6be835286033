//! A result and its likely range: number, unit and text together.

use crate::units::{Quantity, UnitSystem, number, percent, points};
use serde::Serialize;
use std::borrow::Cow;
use utoipa::ToSchema;

/// A number with its unit and as text.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Amount {
    /// The number in `unit`, not rounded; `null` where there is none.
    pub number: Option<f64>,
    /// Symbol of the unit; empty for a bare number.
    #[schema(value_type = String)]
    pub unit: Cow<'static, str>,
    /// The whole as people read it, with its unit.
    pub text: String,
}

impl Amount {
    /// A number and how people read it; no number where it is not finite.
    pub fn new(number: f64, unit: impl Into<Cow<'static, str>>, text: impl Into<String>) -> Self {
        let number = number.is_finite().then_some(number);
        Self { number, unit: unit.into(), text: text.into() }
    }

    /// No number, and the word that stands in its place.
    pub fn none(unit: impl Into<Cow<'static, str>>, text: impl Into<String>) -> Self {
        Self::new(f64::NAN, unit, text)
    }

    /// A bare number with so many decimals.
    pub fn plain(value: f64, decimals: usize) -> Self {
        Self::new(value, "", number(value, decimals))
    }

    /// A quantity from its inside unit, shown in `units` with so many decimals.
    pub fn quantity(units: UnitSystem, quantity: Quantity, inside: f64, decimals: usize) -> Self {
        let text = units.text(quantity, inside, decimals);
        Self::new(units.shown(quantity, inside), units.symbol(quantity), text)
    }

    /// A length on the ground, with as few decimals as it needs.
    pub fn length(units: UnitSystem, meters: f64) -> Self {
        let shown = units.shown(Quantity::Length, meters);
        let decimals = usize::from((shown - shown.round()).abs() > 0.05);
        Self::quantity(units, Quantity::Length, meters, decimals)
    }

    /// A fraction as percent.
    pub fn percent(fraction: f64, decimals: usize) -> Self {
        Self::new(100.0 * fraction, "%", percent(fraction, decimals))
    }

    /// A difference of two fractions in points, with its sign.
    pub fn points(fraction: f64, decimals: usize) -> Self {
        Self::new(100.0 * fraction, "points", points(fraction, decimals))
    }

    /// The text without its unit, for a column whose head names the unit.
    pub fn digits(&self) -> &str {
        self.text.strip_suffix(self.unit.as_ref()).unwrap_or(&self.text).trim_end()
    }
}

/// A likely range and how people read it.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Interval {
    /// Lower end.
    pub low: Amount,
    /// Upper end.
    pub high: Amount,
    /// Both ends as people read them, "−4 to 48 $/ac".
    pub text: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_number_unit_and_text_go_together() {
        let depth = Amount::quantity(UnitSystem::Us, Quantity::Depth, 50.8, 2);
        assert_eq!((depth.number, depth.text.as_str()), (Some(2.0), "2.00\u{a0}in"));
        assert_eq!((depth.unit.as_ref(), depth.digits()), ("in", "2.00"));
        let share = Amount::percent(0.5, 1);
        assert_eq!((share.number, share.text.as_str()), (Some(50.0), "50.0\u{a0}%"));
        assert_eq!(Amount::points(-0.031, 1).text, "\u{2212}3.1");
        assert_eq!(Amount::plain(12.0, 0).digits(), "12");
    }

    #[test]
    fn closed_what_is_not_finite_is_no_number() {
        assert_eq!(Amount::percent(f64::NAN, 1).number, None);
        let dry = Amount::none("mm", "no water");
        assert_eq!((dry.number, dry.digits()), (None, "no water"));
    }
}
