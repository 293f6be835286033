//! Real worth of the made-up scenario: seasons run by the core, small ones for tests.
#![allow(clippy::unwrap_used, reason = "the made-up scenario is known to be sound")]

use evenfall_core::crop::table::crop_named;
use evenfall_core::evapotranspiration::ReferenceEt;
use evenfall_core::money::{Assumption, Item, Outfit, Prices};
use evenfall_core::season::Scenario;
use evenfall_core::soil::Soil;
use evenfall_core::worth::{Agronomy, Rain, RainDay, Terms, Worth, run};
use jiff::civil::date;

pub(crate) fn agronomy() -> Agronomy {
    Agronomy {
        crop: crop_named("potato").unwrap().crop(),
        crop_name: "potato".into(),
        soil: Soil { field_capacity: 0.26, wilting_point: 0.12 },
        planted: date(2026, 4, 25),
        et0: ReferenceEt::Monthly([1.0, 1.5, 2.5, 4.0, 5.5, 6.5, 7.0, 6.0, 4.5, 3.0, 1.5, 1.0]),
        rain: Rain::Listed(vec![RainDay { date: date(2026, 5, 2), depth_mm: 10.0 }]),
        start_depletion: 0.2,
    }
}

/// Terms with the user's own prices; every rotation buys a joint an outlet.
pub(crate) fn own_terms(alternatives: usize, seasons: usize) -> Terms {
    let price = |value| Some(Assumption::own(value));
    let outfit = |index| Outfit { joints: if index == 0 { 0 } else { 6 }, ..Outfit::default() };
    Terms {
        prices: Prices {
            crop_per_t: price(150.0),
            potential_yield_t_ha: price(45.0),
            water_per_m3: price(0.03),
            labour_per_h: price(20.0),
            labour_per_move_h: price(0.5),
            joint_each: price(60.0),
            joint_life_years: price(10.0),
            discount_rate: price(0.05),
            ..Prices::default()
        },
        outfits: (0..alternatives).map(outfit).collect(),
        currency: None,
        ranges: vec![(Item::CropPrice, 80.0, 220.0)],
        worth_the_name_per_ha: 5.0,
        level: 0.9,
        seasons,
        most_seasons: None,
        precision: None,
    }
}

/// The same with two of them placeholders.
pub(crate) fn placeholder_terms(alternatives: usize, seasons: usize) -> Terms {
    let mut terms = own_terms(alternatives, seasons);
    terms.prices.crop_per_t = Some(Assumption::placeholder(150.0));
    terms.prices.joint_each = Some(Assumption::placeholder(400.0));
    terms
}

/// The same without a price for the crop.
pub(crate) fn unpriced_terms(alternatives: usize, seasons: usize) -> Terms {
    let mut terms = own_terms(alternatives, seasons);
    terms.prices.crop_per_t = None;
    terms
}

pub(crate) fn terms_of(kind: &str, alternatives: usize) -> Terms {
    match kind {
        "own" => own_terms(alternatives, 40),
        "unpriced" => unpriced_terms(alternatives, 40),
        _ => placeholder_terms(alternatives, 40),
    }
}

/// Runs the seasons; stops after the first few where `partial`.
pub(crate) fn real(scenario: &Scenario, terms: &Terms, partial: bool) -> Worth {
    run(scenario, &agronomy(), terms, &|_| !partial).unwrap()
}
