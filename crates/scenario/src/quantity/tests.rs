//! Quantities against published exact factors, and there and back.

use super::*;
use proptest::prelude::*;

fn value(text: &str) -> f64 {
    parse(text).unwrap_or_else(|wrong| panic!("{text}: {wrong}")).value
}

/// NIST Special Publication 811 (2008), appendix B.8, exact factors; from memory, confidence high.
#[test]
fn published_factors_of_nist_sp_811() {
    for (text, inside) in [
        ("1 ft", 0.3048),
        ("1'", 0.3048),
        ("12\"", 0.3048),
        ("1 in", 0.0254),
        ("1 yd", 0.9144),
        ("1 mi", 1609.344),
        ("1 mph", 0.44704),
        ("1 ft/s", 0.3048),
        ("1 kn", 1852.0 / 3600.0),
        ("3.6 km/h", 1.0),
        // 1 lbf/in² = 4.4482216152605 N / 6.4516e-4 m².
        ("1 psi", 4.4482216152605 / 0.64516),
        ("1 bar", 100.0),
        ("1 m of water", 9.80665),
        ("1 ft of water", 9.80665 * 0.3048),
        // A US gallon is 231 cubic inches.
        ("1 gpm", 231.0 * 0.016387064 / 60.0),
        ("60 L/min", 1.0),
        ("3.6 m3/h", 1.0),
        ("3.6 m^3/h", 1.0),
        ("1 in/h", 25.4),
        ("24 mm/d", 1.0),
        ("90 min", 1.5),
        ("2 days", 48.0),
        ("7200 s", 2.0),
        ("90°", 90.0),
        ("25 %", 0.25),
        ("1 ac", 4046.8564224),
        ("1 ha", 10_000.0),
        ("-2 turns", -2.0),
        // A pound is 0.45359237 kg; a short ton 2000 of them, a hundredweight 100.
        ("1 per lb", 1.0 / 0.45359237e-3),
        ("1 per ton", 1.0 / 0.90718474),
        ("1 per cwt", 1.0 / 0.045359237),
        ("1 per kg", 1000.0),
        ("1 ton/ac", 0.90718474 / 0.40468564224),
        ("1000 kg/ha", 1.0),
        ("12 per ac", 12.0 / 0.40468564224),
        ("12 /ac", 12.0 / 0.40468564224),
        // An acre-foot is 43 560 cubic feet.
        ("1 per ac-ft", 1.0 / (43560.0 * 0.028316846592)),
        ("1 per ac-in", 12.0 / (43560.0 * 0.028316846592)),
        ("1 per 1000 gal", 1.0 / 3.785411784),
        ("0.05 per m3", 0.05),
        ("20 per h", 20.0),
        ("60 each", 60.0),
    ] {
        let got = value(text);
        assert!((got - inside).abs() <= 1e-14 * inside.abs(), "{text}: {got} is not {inside}");
    }
}

/// A year is the Julian one of 365.25 days (BIPM, SI Brochure, has no year; IAU style manual).
#[test]
fn closed_a_year_and_back() {
    assert!((value("1 yr") - 365.25 * 24.0).abs() < 1e-9);
    assert_eq!(value("10 yr") / H_PER_YR, 10.0);
}

/// Fixed points of the scales, and the ones where they meet.
#[test]
fn closed_temperatures() {
    for (fahrenheit, celsius) in [("32 F", 0.0), ("212 °F", 100.0), ("-40 F", -40.0), ("0 C", 0.0)]
    {
        assert!((value(fahrenheit) - celsius).abs() < 1e-12, "{fahrenheit}");
    }
}

/// SI column of the nozzle table, CHECKS section 3: 5/32 in is 3.969 mm, 50 psi is 345 kPa,
/// 4.98 gpm is 0.3142 L/s.
#[test]
fn published_nozzle_table_in_si() {
    assert!((value("5/32 in") * 1000.0 - 3.969).abs() < 0.0005);
    assert!((value("9/64 in") * 1000.0 - 3.572).abs() < 0.0005);
    assert!((value("50 psi") - 345.0).abs() < 0.5);
    assert!((value("4.98 gpm") - 0.3142).abs() < 0.00005);
}

#[test]
fn closed_spellings_of_one_number() {
    for text in ["7.5 ft", "7.5ft", " 7.5  ft ", "+7.5 ft", "75e-1 ft", "7 1/2 ft", "15/2 ft"] {
        assert!((value(text) - 2.286).abs() < 1e-15, "{text}");
    }
    assert!((value("\u{2212}20 ft") + 6.096).abs() < 1e-15);
    assert!((value(".5 h") - 0.5).abs() < 1e-15);
}

#[test]
fn closed_what_is_no_quantity() {
    for (text, wrong) in [
        ("", NotAQuantity::NoNumber),
        ("ft", NotAQuantity::NoNumber),
        (".", NotAQuantity::NoNumber),
        ("-", NotAQuantity::NoNumber),
        ("1320", NotAQuantity::NoUnit),
        ("1,32,0 ft", NotAQuantity::Comma),
        ("NaN ft", NotAQuantity::NotFinite),
        ("-inf ft", NotAQuantity::NotFinite),
        ("1e999 ft", NotAQuantity::NotFinite),
        ("1/0 ft", NotAQuantity::NotFinite),
        ("0/0 ft", NotAQuantity::NotFinite),
        ("4 per bu", NotAQuantity::Bushels),
        ("180 bu/ac", NotAQuantity::Bushels),
        ("60 fet", NotAQuantity::UnknownUnit("fet".to_owned(), Some("feet"))),
        ("60 PSI", NotAQuantity::UnknownUnit("PSI".to_owned(), Some("psi"))),
        ("60 kpa", NotAQuantity::UnknownUnit("kpa".to_owned(), Some("kPa"))),
        ("60 ft 2", NotAQuantity::UnknownUnit("ft 2".to_owned(), Some("ft"))),
    ] {
        match (parse(text), wrong) {
            // Which near spelling is named is a matter of taste; that one is named is not.
            (
                Err(NotAQuantity::UnknownUnit(unit, near)),
                NotAQuantity::UnknownUnit(wanted, Some(_)),
            ) => assert!(unit == wanted && near.is_some(), "{text}: {unit} {near:?}"),
            (got, wrong) => assert_eq!(got, Err(wrong), "{text}"),
        }
    }
}

#[test]
fn invariant_no_spelling_means_two_units() {
    let spellings: Vec<&str> = UNITS.iter().flat_map(|unit| unit.names).copied().collect();
    for (index, spelling) in spellings.iter().enumerate() {
        assert!(!spellings[..index].contains(spelling), "{spelling}");
    }
}

proptest! {
    #[test]
    fn invariant_printed_quantities_parse_back(value in -1e6..1e6_f64, index in 0..UNITS.len()) {
        let unit = &UNITS[index];
        for name in unit.names {
            let text = print(value, name).unwrap();
            let parsed = parse(&text).unwrap();
            prop_assert_eq!(parsed.dimension, unit.dimension);
            // Two roundings there and back; the offset of °F adds an absolute one.
            let slack = 4.0 * f64::EPSILON * (value.abs() + unit.offset);
            prop_assert!((parsed.value - value).abs() <= slack, "{} gives {}", text, parsed.value);
        }
    }

    #[test]
    fn invariant_any_text_is_parsed_without_panic(text in "\\PC{0,24}") {
        let _ = parse(&text);
    }

    #[test]
    fn invariant_any_odd_number_is_parsed_without_panic(text in "[-+0-9./eE −°'\"a-z]{0,16}") {
        let _ = parse(&text);
    }
}
