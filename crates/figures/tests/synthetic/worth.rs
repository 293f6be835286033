//! Real worth of the made-up scenario: seasons run by the core, small ones for tests.
#![allow(clippy::unwrap_used, reason = "the made-up scenario is known to be sound")]

use evenfall_core::crop::table::crop_named;
use evenfall_core::evapotranspiration::ReferenceEt;
use evenfall_core::model::Scenario;
use evenfall_core::money::{Equipment, PerArea, Price, PriceEntry};
use evenfall_core::season::{HoursLaid, RunControl};
use evenfall_core::soil::Soil;
use evenfall_core::worth::{Agronomy, Economics, Rain, RainDay, Worth, run};
use jiff::civil::date;

pub(crate) fn agronomy() -> Agronomy {
    Agronomy {
        crop: crop_named("potato").unwrap().crop(),
        crop_name: "potato".into(),
        soil: Soil { field_capacity: 0.26, wilting_point: 0.12 },
        planted: date(2026, 4, 25),
        et0_day_spread: 0.0,
        et0: ReferenceEt::Monthly([1.0, 1.5, 2.5, 4.0, 5.5, 6.5, 7.0, 6.0, 4.5, 3.0, 1.5, 1.0]),
        rain: Rain::Listed(vec![RainDay { date: date(2026, 5, 2), depth_mm: 10.0 }]),
        start_depletion: 0.2,
        intake_rate_mm_h: None,
    }
}

/// The user's own prices; every rotation buys a joint an outlet.
pub(crate) fn own_prices(alternatives: usize, seasons: usize) -> Economics {
    let own = [
        (Price::PotentialYield, 45.0),
        (Price::Water, 0.03),
        (Price::Energy, 0.0),
        (Price::Labor, 20.0),
        (Price::LaborPerMove, 0.5),
        (Price::Joint, 60.0),
        (Price::JointLife, 10.0),
        (Price::DiscountRate, 0.05),
    ];
    let own = own.into_iter().map(|(price, value)| (price, PriceEntry::own(value)));
    let crop = PriceEntry { range: Some((80.0, 220.0)), ..PriceEntry::own(150.0) };
    let equipment =
        |index| Equipment { joints: if index == 0 { 0 } else { 6 }, ..Equipment::default() };
    Economics {
        prices: own.chain([(Price::Crop, crop)]).collect(),
        equipment: (0..alternatives).map(equipment).collect(),
        kwh_per_m3: Vec::new(),
        currency: None,
        worthwhile_gain: PerArea::of_ha(5.0),
        confidence_level: 0.9,
        seasons,
        first_season: 0,
        max_seasons: None,
        doubts: false,
        hours_laid: HoursLaid::NearestWind,
        precision: None,
    }
}

/// The same with two of them placeholders.
pub(crate) fn placeholder_prices(alternatives: usize, seasons: usize) -> Economics {
    let mut economics = own_prices(alternatives, seasons);
    let crop = PriceEntry { range: Some((80.0, 220.0)), ..PriceEntry::placeholder(150.0) };
    economics.prices.set(Price::Crop, Some(crop));
    economics.prices.set(Price::Joint, Some(PriceEntry::placeholder(400.0)));
    economics
}

/// The same without one of the prices.
pub(crate) fn without(price: Price, alternatives: usize, seasons: usize) -> Economics {
    let mut economics = own_prices(alternatives, seasons);
    economics.prices.set(price, None);
    economics
}

pub(crate) fn prices_of_kind(kind: &str, alternatives: usize) -> Economics {
    match kind {
        "own" => own_prices(alternatives, 40),
        "unpriced" => without(Price::Crop, alternatives, 40),
        _ => placeholder_prices(alternatives, 40),
    }
}

/// Runs the seasons; stops after the first few where `partial`.
pub(crate) fn real(scenario: &Scenario, economics: &Economics, partial: bool) -> Worth {
    run(scenario, &agronomy(), economics, RunControl::new(&|at| !partial || at.done == 0)).unwrap()
}
