//! The number at the start of a quantity, as people write it.
//!
//! Decimals with a point (`2.5`, `1e-3`), common fractions (`5/32`, `7 1/2`, `7-1/2`, `2½`), commas
//! between thousands (`1,320`, `1,320.5`) and decimal commas (`4,67`). A comma before exactly three
//! digits marks thousands, unless the number begins with 0 or has more than three digits before it;
//! what the number would be with a decimal comma is handed on, so that it can be asked about.

use super::wrong::NotAQuantity;

/// Fractions that are one sign.
const FRACTIONS: &[(char, &str)] = &[
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
];

/// A number and what follows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Leading<'a> {
    pub(super) value: f64,
    /// With its comma read as a decimal comma, where it was read as a mark of thousands and could be
    /// either.
    pub(super) with_decimal_comma: Option<f64>,
    pub(super) rest: &'a str,
}

/// `text` with every fraction that is one sign spelt out.
pub(super) fn spelt_out(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.trim().replace('\u{2044}', "/").chars() {
        match FRACTIONS.iter().find(|(known, _)| *known == sign) {
            Some((_, spelt)) => {
                out.push(' ');
                out.push_str(spelt);
            }
            None => out.push(sign),
        }
    }
    out.trim().to_owned()
}

/// The unsigned number at the start of `text`.
pub(super) fn leading(text: &str) -> Result<Leading<'_>, NotAQuantity> {
    let first = decimal(text)?;
    let below = first.rest.strip_prefix('/').and_then(|rest| decimal(rest).ok());
    let number = if let Some(below) = below {
        Leading { value: first.value / below.value, with_decimal_comma: None, rest: below.rest }
    } else if let Some((part, rest)) = fraction(first.rest) {
        Leading { value: first.value + part, with_decimal_comma: None, rest }
    } else {
        first
    };
    if number.value.is_finite() { Ok(number) } else { Err(NotAQuantity::NotFinite) }
}

/// ` 1/2` or `-1/2` at the start of what follows a whole number.
fn fraction(text: &str) -> Option<(f64, &str)> {
    let text = text.strip_prefix('-').unwrap_or_else(|| text.trim_start());
    let above = decimal(text).ok()?;
    let below = decimal(above.rest.strip_prefix('/')?).ok()?;
    Some((above.value / below.value, below.rest))
}

/// An unsigned decimal number at the start of `text`; digits before or after the point.
fn decimal(text: &str) -> Result<Leading<'_>, NotAQuantity> {
    let is_part = |byte: &u8| byte.is_ascii_digit() || [b'.', b','].contains(byte);
    let mut end = text.bytes().take_while(is_part).count();
    let has_digit = |part: &str| part.bytes().any(|byte| byte.is_ascii_digit());
    if !has_digit(&text[..end]) {
        return Err(NotAQuantity::NoNumber);
    }
    if text[..end].contains(',') {
        let (plain, other) = without_commas(&text[..end]).ok_or(NotAQuantity::Comma)?;
        let value = plain.parse().map_err(|_| NotAQuantity::NoNumber)?;
        let with_decimal_comma = other.and_then(|other| other.parse().ok());
        return Ok(Leading { value, with_decimal_comma, rest: &text[end..] });
    }
    // A second point ends the number.
    end = text[..end].match_indices('.').nth(1).map_or(end, |(at, _)| at);
    if text[end..].starts_with(['e', 'E']) {
        let sign = usize::from(text[end + 1..].starts_with(['-', '+']));
        let from = end + 1 + sign;
        let digits = text[from..].bytes().take_while(u8::is_ascii_digit).count();
        if digits > 0 {
            end = from + digits;
        }
    }
    let value = text[..end].parse().map_err(|_| NotAQuantity::NoNumber)?;
    Ok(Leading { value, with_decimal_comma: None, rest: &text[end..] })
}

/// A number with commas, written with a point alone; and how it would be written if its comma were a
/// decimal comma, where both can be. `None` if its commas mean nothing.
fn without_commas(number: &str) -> Option<(String, Option<String>)> {
    let (whole, point) = match number.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (number, None),
    };
    let groups: Vec<&str> = whole.split(',').collect();
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    if !groups.iter().all(|group| digits(group))
        || point.is_some_and(|point| point.contains(['.', ',']))
    {
        return None;
    }
    let (first, rest) = groups.split_first()?;
    let is_thousands =
        first.len() <= 3 && !first.starts_with('0') && rest.iter().all(|g| g.len() == 3);
    match (is_thousands, rest, point) {
        (true, [decimals], None) => {
            Some((whole.replace(',', ""), Some(format!("{first}.{decimals}"))))
        }
        (true, ..) => Some((number.replace(',', ""), None)),
        (false, [decimals], None) => Some((format!("{first}.{decimals}"), None)),
        _ => None,
    }
}
