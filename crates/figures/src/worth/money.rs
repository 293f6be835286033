//! Money and prices as text. The currency is that of the prices and has no name here.

use crate::units::{Quantity, UnitSystem, number};
use evenfall_core::money::Item;
use evenfall_core::units::{M2_PER_ACRE, T_PER_SHORT_TON};

/// An amount with the decimals it deserves and commas at thousands.
pub(crate) fn money(value: f64) -> String {
    let decimals = match value.abs() {
        small if small < 9.995 => 2,
        middling if middling < 99.95 => 1,
        _ => 0,
    };
    let text = number(value, decimals);
    let digits = text.find('.').unwrap_or(text.len());
    let first = text.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
    if decimals > 0 || digits - first < 4 {
        return text;
    }
    let mut out = text[..first].to_owned();
    for (place, digit) in text[first..].chars().enumerate() {
        if place > 0 && (digits - first - place).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// The same with a plus before gains.
pub(crate) fn signed_money(value: f64) -> String {
    let text = money(value);
    let is_gain = value > 0.0 && text.bytes().any(|b| (b'1'..=b'9').contains(&b));
    if is_gain { format!("+{text}") } else { text }
}

/// Unit of an item's number as it is bought and sold, and the factor that brings it there.
fn unit(units: UnitSystem, item: Item) -> (&'static str, f64) {
    match (item, units) {
        (Item::CropPrice, UnitSystem::Us) => ("per ton", T_PER_SHORT_TON),
        (Item::CropPrice, UnitSystem::Si) => ("per t", 1.0),
        (Item::PotentialYield, UnitSystem::Us) => {
            ("ton/ac", M2_PER_ACRE / 10_000.0 / T_PER_SHORT_TON)
        }
        (Item::PotentialYield, UnitSystem::Si) => ("t/ha", 1.0),
        (Item::WaterPrice | Item::EnergyPrice, UnitSystem::Us) => {
            ("per ac-ft", units.inside(Quantity::Volume, 1.0))
        }
        (Item::WaterPrice | Item::EnergyPrice, UnitSystem::Si) => ("per m³", 1.0),
        (Item::LabourPrice, _) => ("per h", 1.0),
        (Item::LabourPerMove, _) => ("min", 60.0),
        (Item::JointPrice | Item::OutletPrice, _) => ("each", 1.0),
        (Item::JointLife | Item::OutletLife, _) => ("years", 1.0),
        (Item::DiscountRate, _) => ("% a year", 100.0),
    }
}

/// A price with its unit: "150 per t".
pub(crate) fn priced(units: UnitSystem, item: Item, value: f64) -> String {
    let (unit, factor) = unit(units, item);
    let shown = value * factor;
    // Three digits are enough for any price; whole numbers need no decimals.
    let digits = shown.abs().max(1e-9).log10().floor() as i64;
    let mut text = number(shown, (2 - digits).clamp(0, 6) as usize);
    if text.contains('.') {
        text = text.trim_end_matches('0').trim_end_matches('.').to_owned();
    }
    if shown.abs() >= 1000.0 {
        text = money(shown);
    }
    format!("{text}\u{a0}{unit}")
}

/// The item of that name.
pub(crate) fn item_named(name: &str) -> Option<Item> {
    Item::ALL.into_iter().find(|item| item.label() == name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_amounts_read_well() {
        assert_eq!(money(1_234_567.4), "1,234,567");
        assert_eq!(money(-12_345.0), "\u{2212}12,345");
        assert_eq!(money(999.6), "1,000");
        assert_eq!([money(99.97), money(9.999), money(0.0)], ["100", "10.0", "0.00"]);
        assert_eq!(signed_money(12.34), "+12.3");
        assert_eq!([signed_money(0.001), signed_money(-0.001)], ["0.00", "0.00"]);
    }

    #[test]
    fn closed_prices_carry_their_unit() {
        let si = |item, value| priced(UnitSystem::Si, item, value);
        assert_eq!(si(Item::CropPrice, 150.0), "150\u{a0}per t");
        assert_eq!(si(Item::CropPrice, 94.637), "94.6\u{a0}per t");
        assert_eq!(si(Item::WaterPrice, 0.0312), "0.0312\u{a0}per m³");
        assert_eq!(si(Item::DiscountRate, 0.05), "5\u{a0}% a year");
        assert_eq!(si(Item::JointPrice, 0.0), "0\u{a0}each");
        assert_eq!(si(Item::JointPrice, 12_000.0), "12,000\u{a0}each");
        assert_eq!(si(Item::LabourPerMove, 0.5), "30\u{a0}min");
    }

    #[test]
    fn closed_us_prices_read_as_they_are_given() {
        // 180 a short ton is 198.416 a tonne; 7 ton/ac is 15.692 t/ha; 20 an acre-foot is 0.016214
        // a cubic metre.
        let us = |item, value| priced(UnitSystem::Us, item, value);
        assert_eq!(us(Item::CropPrice, 198.416), "180\u{a0}per ton");
        assert_eq!(us(Item::PotentialYield, 15.692), "7\u{a0}ton/ac");
        assert_eq!(us(Item::WaterPrice, 0.016214), "20\u{a0}per ac-ft");
    }
}
