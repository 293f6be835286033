//! Quantities as text: `number unit`, such as `"60 ft"` or `"50 psi"`, exact in and out.
//!
//! The number may be a common fraction (`"5/32 in"`, `"7 1/2 ft"`). Units go before everything:
//! a bare number is refused, except for a fraction of one (`0.1` is `"10 %"`).

mod units;

pub(crate) use units::Dimension;
pub(crate) use units::H_PER_YR;
#[cfg(test)]
use units::UNITS;

use std::fmt::{self, Display, Formatter};

/// A parsed quantity: its number in the unit used inside, and what it measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Parsed {
    /// Number, in the unit that [`Dimension`] names.
    pub(crate) value: f64,
    /// What it measures.
    pub(crate) dimension: Dimension,
}

/// Why a text is no quantity.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NotAQuantity {
    /// It does not begin with a number.
    NoNumber,
    /// Its number has a thousands comma or a decimal comma.
    Comma,
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
            Self::Comma => write!(f, "numbers are written without commas; use a point"),
            Self::NotFinite => write!(f, "the number is not finite"),
            Self::NoUnit => write!(f, "the unit is missing"),
            Self::Bushels => write!(f, "what a bushel weighs depends on the crop"),
            Self::UnknownUnit(unit, _) => write!(f, "the unit `{unit}` is not known"),
        }
    }
}

/// Parses `text` as `number ws? unit`.
///
/// # Errors
/// [`NotAQuantity`] says what is wrong with the text.
pub(crate) fn parse(text: &str) -> Result<Parsed, NotAQuantity> {
    let text = text.trim();
    let (number, rest) = leading_number(text)?;
    let name = rest.split_whitespace().collect::<Vec<_>>().join(" ");
    if name.is_empty() {
        return Err(NotAQuantity::NoUnit);
    }
    if name.starts_with(',') {
        return Err(NotAQuantity::Comma);
    }
    let mut words = name.split(|c: char| !c.is_ascii_alphabetic());
    if words.any(|word| ["bu", "bushel", "bushels"].contains(&word)) {
        return Err(NotAQuantity::Bushels);
    }
    let unit = units::find(&name)
        .ok_or_else(|| NotAQuantity::UnknownUnit(name.clone(), units::nearest(&name)))?;
    let value = (number - unit.offset) * unit.factor;
    if value.is_finite() {
        Ok(Parsed { value, dimension: unit.dimension })
    } else {
        Err(NotAQuantity::NotFinite)
    }
}

/// The unit of the quantity `text` as messages spell it; `None` if it is no quantity.
pub(crate) fn unit_of(text: &str) -> Option<&'static str> {
    let (_, rest) = leading_number(text.trim()).ok()?;
    let name = rest.split_whitespace().collect::<Vec<_>>().join(" ");
    units::find(&name).map(|unit| unit.names[0])
}

/// Writes `value` (in the unit used inside) in the unit spelt `unit`, so that it parses back;
/// `None` for an unknown unit.
pub(crate) fn print(value: f64, unit: &str) -> Option<String> {
    let found = units::find(unit)?;
    Some(format!("{} {unit}", value / found.factor + found.offset))
}

/// The number of the quantity `text` in the unit spelt `unit`, to four digits; `None` if either
/// is not known or they measure different things.
pub(crate) fn in_unit(text: &str, unit: &str) -> Option<f64> {
    let (parsed, found) = (parse(text).ok()?, units::find(unit)?);
    if parsed.dimension != found.dimension {
        return None;
    }
    format!("{:.3e}", parsed.value / found.factor + found.offset).parse().ok()
}

/// The number at the start of `text` and what follows: `2.5`, `1e-3`, `5/32` or `7 1/2`.
fn leading_number(text: &str) -> Result<(f64, &str), NotAQuantity> {
    let bare = text.trim_start_matches(['-', '+', '\u{2212}']).to_ascii_lowercase();
    if bare.starts_with("nan") || bare.starts_with("inf") {
        return Err(NotAQuantity::NotFinite);
    }
    let (sign, unsigned) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let (first, rest) = decimal(unsigned).ok_or(NotAQuantity::NoNumber)?;
    let (magnitude, rest) = if let Some((below, rest)) = rest.strip_prefix('/').and_then(decimal) {
        (first / below, rest)
    } else if let Some((part, rest)) = fraction(rest.trim_start()) {
        (first + part, rest)
    } else {
        (first, rest)
    };
    if magnitude.is_finite() { Ok((sign * magnitude, rest)) } else { Err(NotAQuantity::NotFinite) }
}

/// `1/2` at the start of `text`.
fn fraction(text: &str) -> Option<(f64, &str)> {
    let (above, rest) = decimal(text)?;
    let (below, rest) = decimal(rest.strip_prefix('/')?)?;
    Some((above / below, rest))
}

/// An unsigned decimal number at the start of `text`; digits before or after the point.
fn decimal(text: &str) -> Option<(f64, &str)> {
    let digits = |from: usize| from + text[from..].bytes().take_while(u8::is_ascii_digit).count();
    let mut end = digits(0);
    if text[end..].starts_with('.') {
        end = digits(end + 1);
    }
    let mantissa = end;
    if text[end..].starts_with(['e', 'E']) {
        let sign = usize::from(text[end + 1..].starts_with(['-', '+']));
        let exponent = digits(end + 1 + sign);
        if exponent > end + 1 + sign {
            end = exponent;
        }
    }
    if !text[..mantissa].bytes().any(|b| b.is_ascii_digit()) {
        return None;
    }
    text[..end].parse().ok().map(|number| (number, &text[end..]))
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
