//! Quantities as people write them: every form, and what stays refused.

use super::*;
use crate::quantity::units::find;
use proptest::prelude::*;

fn read(text: &str) -> Parsed {
    parse(text).unwrap_or_else(|wrong| panic!("{text}: {wrong}"))
}

fn same(texts: &[&str], inside: f64, dimension: Dimension) {
    for text in texts {
        let parsed = read(text);
        assert_eq!(parsed.dimension, dimension, "{text}");
        let miss = (parsed.value - inside).abs();
        assert!(miss <= 1e-14 * inside.abs(), "{text}: {} is not {inside}", parsed.value);
    }
}

#[test]
fn closed_feet_and_inches() {
    // 56 in are 1.4224 m.
    let forms = [
        "4' 8\"",
        "4'8\"",
        "4 ft 8 in",
        "4ft 8in",
        "4’ 8”",
        "4′ 8″",
        "4'-8\"",
        "4 feet 8 inches",
        "4' 8''",
        "4 2/3 ft",
        "56 in",
        "4' 7 4/4\"",
    ];
    same(&forms, 1.4224, Dimension::Length);
    same(&["-4' 8\"", "\u{2212}4 ft 8 in"], -1.4224, Dimension::Length);
    same(&["5' 6 1/2\"", "5' 6½\"", "66.5 in"], 1.6891, Dimension::Length);
    same(&["11 h 30 min", "11 hours 30 minutes", "11.5 h"], 11.5, Dimension::Time);
}

#[test]
fn closed_fractions() {
    same(
        &["5/32\"", "5/32 in", "5/32 inch", "5⁄32 in", "0.15625 in"],
        0.003_968_75,
        Dimension::Length,
    );
    same(&["9/64 in", "9/64″"], 0.003_571_875, Dimension::Length);
    same(&["2 1/2 in", "2-1/2 in", "2½ in", "2 ½ in", "2.5\""], 0.0635, Dimension::Length);
    same(&["1/4 mile", "¼ mi", "1320 ft", "1,320 ft", "1,320.0 ft"], 402.336, Dimension::Length);
}

#[test]
fn closed_commas() {
    same(&["4,67 m"], 4.67, Dimension::Length);
    same(&["0,5 in", "0,500 in"], 0.0127, Dimension::Length);
    same(&["1320,5 m", "1,320.5 m"], 1320.5, Dimension::Length);
    same(&["1,320,000 mm"], 1320.0, Dimension::Length);
    same(&["0,125 in/h"], 3.175, Dimension::Rate);
    // Three digits behind one comma can be either.
    let parsed = read("1,320 m");
    assert_eq!((parsed.value, parsed.with_decimal_comma), (1320.0, Some(1.32)));
    for sure in ["1,320.5 m", "1,320,000 mm", "4,67 m", "0,500 m", "1234,567 m"] {
        assert_eq!(read(sure).with_decimal_comma, None, "{sure}");
    }
    for wrong in
        ["1,32,000 m", "1,320,5 m", "5, m", ",5 m", "1,,320 m", "1.320,5 m", "12,3456,789 m"]
    {
        assert_eq!(parse(wrong), Err(NotAQuantity::Comma), "{wrong}");
    }
}

#[test]
fn closed_points_of_the_compass() {
    let points = [
        ("N", 0.0),
        ("nne", 22.5),
        ("South", 180.0),
        ("S", 180.0),
        ("SOUTHWEST", 225.0),
        ("south-west", 225.0),
        ("south west", 225.0),
        ("west northwest", 292.5),
        ("NNW", 337.5),
    ];
    for (text, deg) in points {
        let parsed = read(text);
        assert_eq!((parsed.value, parsed.dimension), (deg, Dimension::Bearing), "{text}");
    }
    assert!(Dimension::Bearing.takes(read("225°").dimension));
    assert!(!Dimension::Angle.takes(read("SW").dimension));
    for wrong in ["", "NN", "NSW", "southish", "up", "north 20 deg"] {
        assert_eq!(parse(wrong), Err(NotAQuantity::NoNumber), "{wrong}");
    }
}

#[test]
fn closed_currency_signs() {
    let per_ton = 180.0 / 0.907_184_74;
    let forms =
        ["180 per ton", "$180/ton", "$180 per ton", "$ 180 / ton", "$180 a ton", "US$180/ton"];
    same(&forms, per_ton, Dimension::PricePerWeight);
    same(&["180 €/t", "€180/t", "180 EUR per t", "180 € per t"], 180.0, Dimension::PricePerWeight);
    same(&["$12 per hour", "$12/hr", "12 $/h", "$12 an hour"], 12.0, Dimension::PricePerTime);
    same(&["$3.50/cwt", "$3,50/cwt"], 3.5 / 0.045_359_237, Dimension::PricePerWeight);
    same(&["12 ¢/kWh", "12¢ per kWh", "$0.12/kWh"], 0.12, Dimension::PricePerEnergy);
    same(&["-$5 per ha", "\u{2212}$5 per ha"], -5.0, Dimension::PricePerArea);
    same(&["$1,200 each"], 1200.0, Dimension::PricePerPiece);
    assert_eq!(read("180 €/t").sign.unwrap().currency, "€");
    assert_eq!(parse("$60 ft"), Err(NotAQuantity::Money(Dimension::Length)));
    assert_eq!(parse("$60"), Err(NotAQuantity::NoUnit));
    assert_eq!(parse("$-5 per ha"), Err(NotAQuantity::NoNumber));
    assert!(parse("$60 $ per t").is_err() && parse("$ per t").is_err());
}

#[test]
fn closed_bushels_need_the_crops_weight() {
    // 56 lb are 0.0254011727 t, an acre 0.40468564224 ha.
    let tonnes = 56.0 * 0.453_592_37e-3;
    for (text, inside) in [
        ("$4.20/bu", 4.2 / tonnes),
        ("4.20 per bushel", 4.2 / tonnes),
        ("180 bu/ac", 180.0 * tonnes / 0.404_685_642_24),
    ] {
        assert_eq!(parse(text), Err(NotAQuantity::Bushels));
        let parsed = parse_with(text, Some(56.0)).unwrap();
        assert!((parsed.value / inside - 1.0).abs() < 1e-14, "{text}");
    }
    assert_eq!(parse_with("3 bu", Some(56.0)), Err(NotAQuantity::Bushels));
}

#[test]
fn closed_what_stays_refused() {
    for text in ["4-8", "4-8 ft", "20-30 ft", "20 – 30 ft"] {
        assert_eq!(parse(text), Err(NotAQuantity::Dash), "{text}");
    }
    for text in
        ["4' 8", "4 ft 14 in", "4.5 ft 8 in", "8 in 4 ft", "4 m 8 in", "4 ft 8 psi", "4 ft -8 in"]
    {
        assert!(
            matches!(parse(text), Err(NotAQuantity::UnknownUnit(..))),
            "{text}: {:?}",
            parse(text)
        );
    }
}

#[test]
fn closed_the_unit_that_a_range_is_told_in() {
    assert_eq!(spelt_unit_of("3 days").as_deref(), Some("days"));
    assert_eq!(spelt_unit_of("60′").as_deref(), Some("ft"));
    for (text, unit) in [("4' 8\"", "in"), ("$4/ton", "per ton"), ("60′", "ft"), ("½ in", "in")]
    {
        assert_eq!(unit_of(text), Some(unit), "{text}");
    }
    assert_eq!((unit_of("SW"), unit_of("4 per bu"), unit_of("60")), (None, None, None));
}

/// `number` with commas between thousands.
fn with_commas(number: u64) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

proptest! {
    #[test]
    fn invariant_commas_between_thousands_read_back(number in 1_u64..1_000_000_000) {
        prop_assert_eq!(read(&format!("{} m", with_commas(number))).value, number as f64);
        let decimals = format!("{}.25 m", with_commas(number));
        prop_assert_eq!(read(&decimals).value, number as f64 + 0.25);
    }

    #[test]
    fn invariant_a_decimal_comma_is_a_point(whole in 0_u32..100_000, decimals in "[0-9]{1,2}") {
        let [comma, point] = [",", "."].map(|mark| read(&format!("{whole}{mark}{decimals} m")).value);
        prop_assert_eq!(comma, point);
    }

    #[test]
    fn invariant_feet_and_inches_are_inches(feet in 0_u32..10_000, inches in 0_u32..12) {
        let inside = f64::from(feet * 12 + inches) * find("in").unwrap().factor;
        for text in [format!("{feet}' {inches}\""), format!("{feet} ft {inches} in")] {
            prop_assert_eq!(read(&text).value, inside);
        }
    }

    #[test]
    fn invariant_any_odd_form_is_parsed_without_panic(text in "[-+0-9.,/eE '\"’″½€$¢a-zNESW–]{0,16}") {
        let _ = (parse(&text), parse_with(&text, Some(60.0)), unit_of(&text));
    }
}
