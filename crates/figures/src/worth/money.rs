//! Money and prices as text. The currency is that of the prices; it is named where the user names it.

use crate::units::{Quantity, UnitSystem, number};
use evenfall_core::money::Item;
use evenfall_core::units::{M2_PER_ACRE, T_PER_SHORT_TON};

/// An amount with the decimals it deserves and commas at thousands.
pub(crate) fn money(value: f64) -> String {
    with_decimals(value, decimals(value))
}

fn decimals(value: f64) -> usize {
    match value.abs() {
        small if small < 9.995 => 2,
        middling if middling < 99.95 => 1,
        _ => 0,
    }
}

fn with_decimals(value: f64, decimals: usize) -> String {
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
    signed(value, decimals(value))
}

/// Amounts that stand for one interval, with decimals enough to tell its ends apart.
pub(crate) fn spread_money<const N: usize>(values: [f64; N]) -> [String; N] {
    let least = values.iter().map(|value| decimals(*value)).min().unwrap_or(2);
    // Small amounts beside large ones keep what tells them from nothing.
    let own = |value: f64| decimals(value).saturating_sub(1);
    spread(values, least, |value, all| signed(value, own(value).max(all)))
}

/// Values of one interval as text, from `least` decimals on as few as tell its ends (the last two)
/// apart; ends that a thousandth of that step cannot tell apart keep the least.
pub(crate) fn spread<const N: usize>(
    values: [f64; N],
    least: usize,
    text: impl Fn(f64, usize) -> String,
) -> [String; N] {
    let told = |decimals: usize| values.map(|value| text(value, decimals));
    let is_apart = |texts: &[String; N]| {
        let ends = texts.get(N.saturating_sub(2)..).unwrap_or_default();
        ends.first() != ends.last()
    };
    let more = (least..=least + 3).map(told).find(is_apart);
    more.unwrap_or_else(|| told(least))
}

fn signed(value: f64, decimals: usize) -> String {
    let text = with_decimals(value, decimals);
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
        (Item::LaborPrice, _) => ("per h", 1.0),
        (Item::LaborPerMove, _) => ("min", 60.0),
        (Item::JointPrice | Item::OutletPrice, _) => ("each", 1.0),
        (Item::JointLife | Item::OutletLife, _) => ("years", 1.0),
        (Item::DiscountRate, _) => ("% a year", 100.0),
    }
}

/// Unit of a yield, and the factor that brings t/ha there.
pub(super) fn yield_unit(units: UnitSystem) -> (&'static str, f64) {
    unit(units, Item::PotentialYield)
}

/// Whether an item's number is money.
fn is_money(item: Item) -> bool {
    use Item::{CropPrice, EnergyPrice, JointPrice, LaborPrice, OutletPrice, WaterPrice};
    matches!(item, CropPrice | WaterPrice | EnergyPrice | LaborPrice | JointPrice | OutletPrice)
}

/// A price with its currency, where that has a name, and its unit: "150 per t", "150 USD per t".
pub(crate) fn priced(units: UnitSystem, currency: &str, item: Item, value: f64) -> String {
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
    let currency = if is_money(item) { currency } else { "" };
    format!("{text}{currency}\u{a0}{unit}")
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
    fn closed_narrow_intervals_get_the_decimals_that_tell_their_ends_apart() {
        let two = |values| spread_money::<2>(values).join(" to ");
        assert_eq!(two([13.1, 13.5]), "+13.1 to +13.5");
        assert_eq!(two([13.12, 13.14]), "+13.12 to +13.14");
        assert_eq!(two([0.001, 0.002]), "+0.001 to +0.002");
        assert_eq!(two([-3.0, 250.0]), "\u{2212}3.0 to +250");
        assert_eq!(two([-12.1, -8.4]), "\u{2212}12.1 to \u{2212}8.4");
        assert_eq!(two([5.0, 5.0]), "+5.00 to +5.00");
        let percents = spread([92.0, 91.99, 92.01], 1, number);
        assert_eq!(percents, ["92.00", "91.99", "92.01"]);
        assert_eq!(spread([1.0, 1.0, 1.0 + 1e-9], 1, number), ["1.0", "1.0", "1.0"]);
    }

    #[test]
    fn closed_a_named_currency_stands_with_money_only() {
        let named = |item, value| priced(UnitSystem::Us, "\u{a0}USD", item, value);
        assert_eq!(named(Item::CropPrice, 198.416), "180\u{a0}USD\u{a0}per ton");
        assert_eq!(named(Item::PotentialYield, 15.692), "7\u{a0}ton/ac");
        assert_eq!(named(Item::JointPrice, 150.0), "150\u{a0}USD\u{a0}each");
    }

    #[test]
    fn closed_prices_carry_their_unit() {
        let si = |item, value| priced(UnitSystem::Si, "", item, value);
        assert_eq!(si(Item::CropPrice, 150.0), "150\u{a0}per t");
        assert_eq!(si(Item::CropPrice, 94.637), "94.6\u{a0}per t");
        assert_eq!(si(Item::WaterPrice, 0.0312), "0.0312\u{a0}per m³");
        assert_eq!(si(Item::DiscountRate, 0.05), "5\u{a0}% a year");
        assert_eq!(si(Item::JointPrice, 0.0), "0\u{a0}each");
        assert_eq!(si(Item::JointPrice, 12_000.0), "12,000\u{a0}each");
        assert_eq!(si(Item::LaborPerMove, 0.5), "30\u{a0}min");
    }

    #[test]
    fn closed_us_prices_read_as_they_are_given() {
        // 180 a short ton is 198.416 a tonne; 7 ton/ac is 15.692 t/ha; 20 an acre-foot is 0.016214
        // a cubic meter.
        let us = |item, value| priced(UnitSystem::Us, "", item, value);
        assert_eq!(us(Item::CropPrice, 198.416), "180\u{a0}per ton");
        assert_eq!(us(Item::PotentialYield, 15.692), "7\u{a0}ton/ac");
        assert_eq!(us(Item::WaterPrice, 0.016214), "20\u{a0}per ac-ft");
    }
}
