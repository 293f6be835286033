//! What can be wrong with a text that should be a quantity.

use super::units::Dimension;
use std::fmt::{self, Display, Formatter};

/// Why a text is no quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NotAQuantity {
    /// It does not begin with a number.
    NoNumber,
    /// Its commas mark neither thousands nor decimals.
    Comma,
    /// Two numbers with a dash between them: feet and inches, or a range.
    Dash,
    /// It has the sign of a currency, and measures no price.
    Money(Dimension),
    /// Its number is not finite.
    NotFinite,
    /// It has no unit.
    NoUnit,
    /// It counts bushels, a measure of volume whose weight depends on the crop.
    Bushels,
    /// Its unit is not known; the nearest known spelling, if any.
    UnknownUnit(String, Option<&'static str>),
}

impl Display for NotAQuantity {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoNumber => write!(f, "a quantity begins with a number"),
            Self::Comma => write!(f, "its commas mark neither thousands nor decimals"),
            Self::Dash => write!(f, "a dash between two numbers can mean several things"),
            Self::Money(dimension) => {
                write!(f, "a currency sign goes with a price, not with {}", dimension.name())
            }
            Self::NotFinite => write!(f, "the number is not finite"),
            Self::NoUnit => write!(f, "the unit is missing"),
            Self::Bushels => write!(f, "what a bushel weighs depends on the crop"),
            Self::UnknownUnit(unit, _) => write!(f, "the unit `{unit}` is not known"),
        }
    }
}
