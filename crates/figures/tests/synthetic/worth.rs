//! Real worth of the made-up scenario: seasons run by the core, small ones for tests.
#![allow(clippy::unwrap_used, reason = "the made-up scenario is known to be sound")]

use evenfall_core::crop::table::crop_named;
use evenfall_core::evapotranspiration::ReferenceEt;
use evenfall_core::model::Scenario;
use evenfall_core::money::{Assumption, Equipment, Item, Prices};
use evenfall_core::season::RunControl;
use evenfall_core::soil::Soil;
use evenfall_core::worth::{Agronomy, Economics, Rain, RainDay, Worth, run};
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
pub(crate) fn own_terms(alternatives: usize, seasons: usize) -> Economics {
    let price = |value| Some(Assumption::own(value));
    let equipment =
        |index| Equipment { joints: if index == 0 { 0 } else { 6 }, ..Equipment::default() };
    Economics {
        prices: Prices {
            crop_per_t: price(150.0),
            potential_yield_t_ha: price(45.0),
            water_per_m3: price(0.03),
            labor_per_h: price(20.0),
            labor_per_move_h: price(0.5),
            joint_each: price(60.0),
            joint_life_years: price(10.0),
            discount_rate: price(0.05),
            ..Prices::default()
        },
        equipment: (0..alternatives).map(equipment).collect(),
        currency: None,
        ranges: vec![(Item::CropPrice, 80.0, 220.0)],
        worthwhile_gain_per_ha: 5.0,
        confidence_level: 0.9,
        seasons,
        max_seasons: None,
        precision: None,
    }
}

/// The same with two of them placeholders.
pub(crate) fn placeholder_terms(alternatives: usize, seasons: usize) -> Economics {
    let mut economics = own_terms(alternatives, seasons);
    economics.prices.crop_per_t = Some(Assumption::placeholder(150.0));
    economics.prices.joint_each = Some(Assumption::placeholder(400.0));
    economics
}

/// The same without a price for the crop.
pub(crate) fn unpriced_terms(alternatives: usize, seasons: usize) -> Economics {
    let mut economics = own_terms(alternatives, seasons);
    economics.prices.crop_per_t = None;
    economics
}

pub(crate) fn terms_of(kind: &str, alternatives: usize) -> Economics {
    match kind {
        "own" => own_terms(alternatives, 40),
        "unpriced" => unpriced_terms(alternatives, 40),
        _ => placeholder_terms(alternatives, 40),
    }
}

/// Runs the seasons; stops after the first few where `partial`.
pub(crate) fn real(scenario: &Scenario, economics: &Economics, partial: bool) -> Worth {
    run(scenario, &agronomy(), economics, RunControl::new(&|_| !partial)).unwrap()
}
