//! Money and prices as text. The currency is that of the prices; it is named where the user names it.

use crate::units::{Quantity, UnitSystem, number};
use crate::value::Amount;
use evenfall_core::ensemble::SeasonsFigures;
use evenfall_core::money::{PerArea, PriceKey, PriceUnit};
use evenfall_core::units::{M2_PER_ACRE, T_PER_SHORT_TON};

/// An amount with the decimals it deserves and commas at thousands.
pub fn money(value: f64) -> String {
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
pub(super) fn signed_money(value: f64) -> String {
    signed(value, decimals(value))
}

/// Decimals of money in a sentence: none from 1 on; more nobody can stand for.
fn sentence_decimals(largest: f64) -> usize {
    if largest.abs() < 0.95 { 2 } else { 0 }
}

/// Money in a sentence.
pub(crate) fn told_money(value: f64) -> String {
    with_decimals(value, sentence_decimals(value))
}

/// A sum on a whole field: of four figures and more only the first two count.
pub(super) fn told_sum(value: f64) -> String {
    let size = value.abs();
    let step = if size < 1000.0 { 1.0 } else { 10_f64.powf(size.log10().floor() - 1.0) };
    told_money((value / step).round() * step)
}

/// Ends of a range of money in a sentence, with as many decimals as tell them apart.
pub(super) fn told_ends([low, high]: [f64; 2]) -> [String; 2] {
    let least = sentence_decimals(low.abs().max(high.abs()));
    spread([low, high], least, with_decimals)
}

/// Amounts that stand for one interval, with decimals enough to tell its ends apart.
pub(super) fn spread_money<const N: usize>(values: [f64; N]) -> [String; N] {
    let least = values.iter().map(|value| decimals(*value)).min().unwrap_or(2);
    // Small amounts beside large ones keep what tells them from nothing.
    let own = |value: f64| decimals(value).saturating_sub(1);
    spread(values, least, |value, all| signed(value, own(value).max(all)))
}

/// Values of one interval as text, from `least` decimals on as few as tell its ends (the last two)
/// apart; ends that a thousandth of that step cannot tell apart keep the least.
pub(super) fn spread<const N: usize>(
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

/// Unit of a price as it is bought and sold, and the factor that brings it there.
fn unit(units: UnitSystem, unit: PriceUnit) -> (&'static str, f64) {
    match (unit, units) {
        (PriceUnit::PerTonne, UnitSystem::Us) => ("per ton", T_PER_SHORT_TON),
        (PriceUnit::PerTonne, UnitSystem::Si) => ("per t", 1.0),
        (PriceUnit::TonnesPerHa, UnitSystem::Us) => {
            ("ton/ac", M2_PER_ACRE / 10_000.0 / T_PER_SHORT_TON)
        }
        (PriceUnit::TonnesPerHa, UnitSystem::Si) => ("t/ha", 1.0),
        (PriceUnit::PerCubicMeter, UnitSystem::Us) => {
            ("per ac-ft", units.inside(Quantity::Volume, 1.0))
        }
        (PriceUnit::PerCubicMeter, UnitSystem::Si) => ("per m³", 1.0),
        (PriceUnit::PerHour, _) => ("per h", 1.0),
        (PriceUnit::Hours, _) => ("min", 60.0),
        (PriceUnit::Each, _) => ("each", 1.0),
        (PriceUnit::Years, _) => ("years", 1.0),
        (PriceUnit::FractionPerYear, _) => ("% a year", 100.0),
    }
}

/// Unit of a yield by area.
pub fn yield_unit(units: UnitSystem) -> &'static str {
    unit(units, PriceUnit::TonnesPerHa).0
}

/// Symbol of money by the shown unit of area, the currency left out.
pub(super) fn area_symbol(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Us => "per ac",
        UnitSystem::Si => "per ha",
    }
}

/// An amount by area, with a plus before gains.
pub(super) fn by_area(units: UnitSystem, amount: PerArea) -> Amount {
    let shown = units.per_area(amount.per_ha());
    Amount::new(shown, area_symbol(units), signed_money(shown))
}

/// "USD per acre per year", or without a currency that has no name.
pub(super) fn unit_by_area(units: UnitSystem, currency: Option<&str>) -> String {
    let per = format!("per {} per year", units.area_word());
    currency.map_or_else(|| per.clone(), |name| format!("{name} {per}"))
}

/// A yield with its interval, "7.02 (6.98 to 7.05)".
pub(super) fn yield_by_area(units: UnitSystem, share: &SeasonsFigures, full_t_ha: f64) -> String {
    let (_, factor) = unit(units, PriceUnit::TonnesPerHa);
    let shown = [share.mean, share.interval.low, share.interval.high];
    let [mean, low, high] =
        spread(shown, 2, |share, decimals| number(share * full_t_ha * factor, decimals));
    if low == high { mean } else { format!("{mean} ({low} to {high})") }
}

/// An amount with its currency: a sign such as $ before it, a name such as USD after it.
pub fn with_currency(amount: &str, currency: Option<&str>) -> String {
    let Some(name) = currency else { return amount.to_owned() };
    if name.ends_with(char::is_alphabetic) {
        return format!("{amount}\u{a0}{name}");
    }
    let digits = amount.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
    format!("{}{name}{}", &amount[..digits], &amount[digits..])
}

/// A price with its currency, where that has a name, and its unit: "150 per t", "$180 per ton".
pub(super) fn priced(
    units: UnitSystem,
    currency: Option<&str>,
    price: PriceKey,
    value: f64,
) -> String {
    let (text_of_unit, factor) = unit(units, price.unit());
    let text = price_digits(value * factor);
    let currency = currency.filter(|_| price.unit().is_money());
    format!("{}\u{a0}{text_of_unit}", with_currency(&text, currency))
}

/// A price of energy by what a cubic meter takes of it: "0.12 per kWh".
pub(super) fn priced_by_energy(currency: Option<&str>, per_m3: f64, kwh_per_m3: f64) -> String {
    format!("{}\u{a0}per kWh", with_currency(&price_digits(per_m3 / kwh_per_m3), currency))
}

/// A price in its unit.
fn price_digits(shown: f64) -> String {
    // Three digits are enough for any price; whole numbers need no decimals.
    let digits = shown.abs().max(1e-9).log10().floor() as i64;
    let mut text = number(shown, (2 - digits).clamp(0, 6) as usize);
    if text.contains('.') {
        text = text.trim_end_matches('0').trim_end_matches('.').to_owned();
    }
    if shown.abs() >= 1000.0 {
        text = money(shown);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::money::Price;

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
    fn closed_sentences_tell_whole_amounts() {
        assert_eq!(
            [told_money(38.8), told_money(-1234.4), told_money(4.26), told_money(0.7)],
            ["39", "\u{2212}1,234", "4", "0.70"]
        );
        assert_eq!([354.4, 1931.0, 46_512.0].map(told_sum), ["354", "1,900", "47,000"]);
        assert_eq!(told_ends([-51.6, -29.5]), ["\u{2212}52", "\u{2212}30"]);
        assert_eq!(told_ends([12.2, 12.4]), ["12.2", "12.4"]);
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
        let named = |price: Price, value| priced(UnitSystem::Us, Some("USD"), price.into(), value);
        assert_eq!(named(Price::Crop, 198.416), "180\u{a0}USD\u{a0}per ton");
        assert_eq!(named(Price::PotentialYield, 15.692), "7\u{a0}ton/ac");
        assert_eq!(named(Price::Joint, 150.0), "150\u{a0}USD\u{a0}each");
        let dollars = priced(UnitSystem::Us, Some("$"), Price::Joint.into(), 150.0);
        assert_eq!(dollars, "$150\u{a0}each");
        assert_eq!(with_currency("\u{2212}4", Some("$")), "\u{2212}$4");
        assert_eq!(with_currency("+4", None), "+4");
    }

    #[test]
    fn closed_prices_carry_their_unit() {
        let si = |price: Price, value| priced(UnitSystem::Si, None, price.into(), value);
        assert_eq!(si(Price::Crop, 150.0), "150\u{a0}per t");
        assert_eq!(si(Price::Crop, 94.637), "94.6\u{a0}per t");
        assert_eq!(si(Price::Water, 0.0312), "0.0312\u{a0}per m³");
        assert_eq!(si(Price::DiscountRate, 0.05), "5\u{a0}% a year");
        assert_eq!(si(Price::Joint, 0.0), "0\u{a0}each");
        assert_eq!(si(Price::Joint, 12_000.0), "12,000\u{a0}each");
        assert_eq!(si(Price::LaborPerMove, 0.5), "30\u{a0}min");
        assert_eq!(priced_by_energy(Some("$"), 0.06, 0.5), "$0.12\u{a0}per kWh");
    }

    #[test]
    fn closed_us_prices_read_as_they_are_given() {
        // 180 a short ton is 198.416 a tonne; 7 ton/ac is 15.692 t/ha; 20 an acre-foot is 0.016214
        // a cubic meter.
        let us = |price: Price, value| priced(UnitSystem::Us, None, price.into(), value);
        assert_eq!(us(Price::Crop, 198.416), "180\u{a0}per ton");
        assert_eq!(us(Price::PotentialYield, 15.692), "7\u{a0}ton/ac");
        assert_eq!(us(Price::Water, 0.016214), "20\u{a0}per ac-ft");
    }
}
