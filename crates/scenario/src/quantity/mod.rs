//! Quantities as text: `number unit`, such as `"60 ft"` or `"50 psi"`, exact in and out.
//!
//! Numbers are read as people write them (`number`), units by one table (`units`); feet with inches,
//! points of the compass and prices with a currency sign have a module each. Units go before
//! everything: a bare number is refused, except for a fraction of one (`0.1` is `"10 %"`).

mod compass;
mod compound;
mod money;
mod number;
mod units;
mod wrong;

pub(crate) use compass::nearest as nearest_bearing;
pub(crate) use money::Sign;
pub(crate) use units::Dimension;
pub(crate) use units::H_PER_YR;
#[cfg(test)]
pub(crate) use units::UNITS;
pub(crate) use wrong::NotAQuantity;

use units::Unit;

/// A parsed quantity: its number in the unit used inside, and what it measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Parsed {
    /// Number, in the unit that [`Dimension`] names.
    pub(crate) value: f64,
    /// What it measures.
    pub(crate) dimension: Dimension,
    /// The number with its comma read as a decimal comma, where it was read as a mark of thousands and
    /// could be either.
    pub(crate) with_decimal_comma: Option<f64>,
    /// The sign of a currency that it has.
    pub(crate) sign: Option<Sign>,
}

/// Parses `text` as a number and its unit, or as a point of the compass.
///
/// # Errors
/// [`NotAQuantity`] says what is wrong with the text.
pub(crate) fn parse(text: &str) -> Result<Parsed, NotAQuantity> {
    parse_with(text, None)
}

/// As [`parse`], where one bushel of the crop weighs `bushel_lb`.
///
/// # Errors
/// [`NotAQuantity`] says what is wrong with the text.
pub(crate) fn parse_with(text: &str, bushel_lb: Option<f64>) -> Result<Parsed, NotAQuantity> {
    if let Some(value) = compass::bearing_deg(text.trim()) {
        let dimension = Dimension::Bearing;
        return Ok(Parsed { value, dimension, with_decimal_comma: None, sign: None });
    }
    let text = number::spelt_out(text);
    let parts = Parts::of(&text)?;
    let (number, unit) = parts.measured(bushel_lb)?;
    let sign_parts = match parts.sign {
        Some(_) if !unit.dimension.is_price() => return Err(NotAQuantity::Money(unit.dimension)),
        sign => sign.map_or(1.0, |sign| f64::from(sign.parts)),
    };
    let inside = |number: f64| (parts.minus * number - unit.offset) * unit.factor / sign_parts;
    let value = inside(number);
    if !value.is_finite() {
        return Err(NotAQuantity::NotFinite);
    }
    let with_decimal_comma = parts.with_decimal_comma.map(inside);
    Ok(Parsed { value, dimension: unit.dimension, with_decimal_comma, sign: parts.sign })
}

/// A quantity taken apart.
struct Parts<'a> {
    /// -1 for what is less than nothing, else 1.
    minus: f64,
    sign: Option<Sign>,
    number: f64,
    with_decimal_comma: Option<f64>,
    /// What follows the number, without a sign of a currency.
    rest: &'a str,
}

impl<'a> Parts<'a> {
    fn of(text: &'a str) -> Result<Self, NotAQuantity> {
        let (minus, unsigned) = match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (-1.0, rest),
            None => (1.0, text.strip_prefix('+').unwrap_or(text)),
        };
        let lower = unsigned.to_ascii_lowercase();
        if lower.starts_with("nan") || lower.starts_with("inf") {
            return Err(NotAQuantity::NotFinite);
        }
        let (before, amount) = match money::leading(unsigned) {
            Some((sign, amount)) => (Some(sign), amount),
            None => (None, unsigned),
        };
        let found = number::leading(amount)?;
        let behind = if before.is_none() { money::leading(found.rest) } else { None };
        let (behind, rest) = behind.unzip();
        Ok(Self {
            minus,
            sign: before.or(behind),
            number: found.value,
            with_decimal_comma: found.with_decimal_comma,
            rest: rest.unwrap_or(found.rest),
        })
    }

    /// What follows the number, with single spaces.
    fn unit_name(&self) -> String {
        self.rest.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The number and its unit.
    fn measured(&self, bushel_lb: Option<f64>) -> Result<(f64, Unit), NotAQuantity> {
        let name = self.unit_name();
        if name.is_empty() {
            return Err(NotAQuantity::NoUnit);
        }
        if name.starts_with(',') {
            return Err(NotAQuantity::Comma);
        }
        let dashed = name.strip_prefix(['-', '\u{2013}', '\u{2212}']).map(str::trim_start);
        if dashed.is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit() || c == '.')) {
            return Err(NotAQuantity::Dash);
        }
        let mut words = name.split(|c: char| !c.is_ascii_alphabetic());
        if words.any(|word| ["bu", "bushel", "bushels"].contains(&word)) {
            let unit = bushel_lb.and_then(|pounds| units::of_bushels(&name, pounds));
            return unit.map(|unit| (self.number, unit)).ok_or(NotAQuantity::Bushels);
        }
        if let Some(unit) = units::find(&name) {
            return Ok((self.number, *unit));
        }
        if let Some((number, unit)) = compound::read(self.number, self.rest) {
            return Ok((number, *unit));
        }
        let near = units::nearest(&name);
        Err(NotAQuantity::UnknownUnit(name, near))
    }
}

/// The unit of the quantity `text` as messages spell it; `None` if it is no quantity.
pub(crate) fn unit_of(text: &str) -> Option<&'static str> {
    let text = number::spelt_out(text);
    Parts::of(&text).ok()?.measured(None).ok().map(|(_, unit)| unit.names[0])
}

/// The unit of the quantity `text` for a sentence about it: by its own spelling, where that is a word.
pub(crate) fn spelt_unit_of(text: &str) -> Option<String> {
    let usual = unit_of(text)?;
    let plain = number::spelt_out(text);
    let name = Parts::of(&plain).ok()?.unit_name();
    let is_word = name.starts_with(|c: char| c.is_alphabetic()) && units::find(&name).is_some();
    Some(if is_word { name } else { usual.to_owned() })
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

#[cfg(test)]
#[path = "tests.rs"]
mod tests;

#[cfg(test)]
#[path = "forms_tests.rs"]
mod forms_tests;
