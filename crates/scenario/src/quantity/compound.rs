//! Quantities of two units, the larger first: `4' 8"`, `4 ft 8 in`, `1 h 30 min`.

use super::number;
use super::units::{self, Unit};

/// Which two units go together, and how many of the smaller one make one of the larger.
const PAIRS: &[(&str, &str, f64)] = &[("ft", "in", 12.0), ("h", "min", 60.0)];

/// The quantity whose first number is `first` and whose text goes on as `rest`: the number in the
/// smaller unit, and that unit. `None` if it is not one, such as `4.5 ft 8 in` or `4 ft 14 in`.
pub(super) fn read(first: f64, rest: &str) -> Option<(f64, &'static Unit)> {
    let split = rest.find(|c: char| c.is_ascii_digit() || c == '.')?;
    let (name, second) = rest.split_at(split);
    // Drawings join feet and inches by a dash: 4'-8".
    let name = match name.strip_suffix('-') {
        Some(joined) if joined.ends_with(char::is_whitespace) => return None,
        Some(joined) => joined,
        None => name,
    };
    let larger = units::find(name.trim())?;
    let second = number::leading(second).ok()?;
    let smaller = units::find(second.rest.trim())?;
    let pair = |pair: &&(&str, &str, f64)| pair.0 == larger.names[0] && pair.1 == smaller.names[0];
    let (.., size) = PAIRS.iter().find(pair)?;
    let fits = first.fract() == 0.0 && second.value < *size;
    fits.then_some((first * size + second.value, smaller))
}
