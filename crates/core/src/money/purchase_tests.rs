//! What judges purchases by a name of the user's own, and energy from lift and pressure.

use super::*;
use crate::grid::Grid;
use crate::model::{Area, Field};

const SEASON: SeasonUse =
    SeasonUse { relative_yield: 0.90, gross_mm: 500.0, moves: 100.0, passes: 10.0, dry_way_h: 0.0 };

/// A field of 20 ha.
fn area() -> Area {
    let grid = Grid::over(500.0, 400.0, 10.0);
    Field { grid, travel_bearing_deg: 0.0, boundary: None }.area()
}

/// Nothing is asked for.
const NOTHING: [Missing; 0] = [];

const EACH: PriceKey = PriceKey::Purchase(0, PurchasePart::Each);
const LIFE: PriceKey = PriceKey::Purchase(0, PurchasePart::Life);

/// Interest at 8 %, and levelers at 40 that last 5 years.
fn prices() -> Prices {
    let mut prices: Prices = [(Price::DiscountRate, PriceEntry::own(0.08))].into_iter().collect();
    prices.add(Purchase {
        what: "levelers".into(),
        each: Some(PriceEntry::own(40.0)),
        life: Some(PriceEntry::own(5.0)),
    });
    prices
}

fn pieces(count: u32) -> Equipment {
    Equipment { purchases: vec![count], ..Equipment::default() }
}

fn equipment_cost(prices: &Prices, own: Equipment, other: Equipment) -> f64 {
    let ledger = Ledger::new(prices, area(), own, other).unwrap();
    ledger.season(&SEASON, &SEASON).unwrap().equipment.currency()
}

#[test]
fn closed_a_named_purchase_costs_its_annuity_beyond_the_baselines() {
    // 33 at 40 are 1320, times 0.25046 (A/P at 8 % over 5 years) are 330.60 a year.
    let cost = equipment_cost(&prices(), pieces(33), Equipment::default());
    assert!((cost + 330.60).abs() <= 0.01, "{cost}");
    // The baseline has 3 of them: 30 count; as many are no cost, and exactly so.
    let cost = equipment_cost(&prices(), pieces(33), pieces(3));
    assert!((cost + 1200.0 * 0.25046).abs() <= 0.01, "{cost}");
    assert_eq!(equipment_cost(&prices(), pieces(33), pieces(33)).to_bits(), 0.0f64.to_bits());
    let ledger = Ledger::new(&prices(), area(), pieces(33), Equipment::default()).unwrap();
    assert_eq!(ledger.life_years(), Some(5));
}

#[test]
fn invariant_a_purchase_is_priced_as_joints_of_the_same_price_and_life_are() {
    let mut both = prices();
    both.set(Price::Joint, Some(PriceEntry::own(40.0)));
    both.set(Price::JointLife, Some(PriceEntry::own(5.0)));
    let joints = Equipment { joints: 7, ..Equipment::default() };
    let named = equipment_cost(&both, pieces(7), Equipment::default());
    assert_eq!(named.to_bits(), equipment_cost(&both, joints, Equipment::default()).to_bits());
}

#[test]
fn regress_a_purchase_without_price_or_life_is_asked_for_by_its_name_and_never_free() {
    let seasons = [[SEASON, SEASON]];
    let missing = |prices: &Prices, own, other| {
        Ledger::new(prices, area(), own, other).unwrap().missing(&seasons)
    };
    for key in [EACH, LIFE] {
        let mut without = prices();
        without.set(key, None);
        assert_eq!(missing(&without, pieces(2), pieces(0)), [Missing::Price(key)]);
        assert_eq!(missing(&without, pieces(0), pieces(2)), [Missing::Price(key)]);
        assert_eq!(missing(&without, pieces(2), pieces(2)), NOTHING);
    }
    // What is known to cost nothing lasts as long as it likes.
    let mut free = prices().with(EACH, 0.0);
    free.set(LIFE, None);
    assert_eq!(missing(&free, pieces(2), pieces(0)), NOTHING);
    let words = prices().words(EACH);
    assert_eq!([words.name, words.label], ["purchase_levelers_each", "price of levelers"]);
    assert_eq!(words.asked, "what the levelers cost");
    assert_eq!(prices().asked_next(LIFE, Some(EACH)), "how long they last");
    assert_eq!(prices().asked_next(LIFE, None), "how long the levelers last");
}

#[test]
fn closed_names_that_differ_in_spelling_alone_are_one_purchase() {
    let key = Purchase::key;
    assert_eq!([key("30-ft hoses"), key(" 30 ft Hoses")], ["30_ft_hoses", "30_ft_hoses"]);
    assert_eq!([key("Düsen"), key("?!")], ["düsen", ""]);
}

#[test]
fn closed_an_open_reach_waits_for_what_it_needs() {
    let open = Equipment { is_reach_open: true, ..Equipment::default() };
    let ledger = Ledger::new(&prices(), area(), open, Equipment::default()).unwrap();
    assert_eq!(ledger.missing(&[[SEASON, SEASON]]), [Missing::Reach]);
    let needs = |name: &str| Balance::PARTS.iter().find(|part| part.name == name).unwrap();
    assert!(needs("equipment").needs(Missing::Reach) && !needs("labor").needs(Missing::Reach));
    assert!(needs("equipment").rests_on(EACH) && !needs("water").rests_on(EACH));
}

#[test]
fn closed_energy_from_lift_and_pressure_by_hand() {
    // A cubic meter is 1000 kg: 50 m are 1000 · 9.80665 · 50 = 490 332.5 J, 400 kPa are 400 000 J. Over
    // 0.65 that is 1 369 742.3 J, and a kilowatt-hour has 3.6 million: 0.3804840 kWh.
    let pumping = Pumping { lift_m: 50.0, pressure_kpa: 400.0, efficiency: 0.65 };
    assert!((pumping.kwh_per_m3() - 0.380_484_0).abs() < 5e-8, "{}", pumping.kwh_per_m3());
    // An acre-foot (1233.48 m³) raised a foot: 1233.48 · 9.80665 · 0.3048 / 3600 = 1.0242 kWh at 100 %;
    // the trade's 1.024 (common practice, no source).
    let foot = Pumping { lift_m: 0.3048, pressure_kpa: 0.0, efficiency: 1.0 };
    assert!((foot.kwh_per_m3() * 1233.48 - 1.0242).abs() < 5e-5);
}

#[test]
fn closed_water_under_more_pressure_takes_more_energy() {
    // 100 000 m³ each, at 0.04 for the baseline's cubic meter; a quarter more energy costs 1000.
    let prices: Prices = [(Price::Energy, PriceEntry::own(0.04))].into_iter().collect();
    let ledger = Ledger::new(&prices, area(), Equipment::default(), Equipment::default()).unwrap();
    let ledger = ledger.pumped(1.25);
    let found = ledger.season(&SEASON, &SEASON).unwrap();
    assert!((found.energy.currency() + 1000.0).abs() < 1e-9, "{found:?}");
    // Without a price it is asked for, though both use the same water.
    let bare = || Equipment::default();
    let unpriced = Ledger::new(&Prices::default(), area(), bare(), bare()).unwrap();
    assert_eq!(unpriced.clone().missing(&[[SEASON, SEASON]]), NOTHING);
    assert_eq!(unpriced.pumped(1.25).missing(&[[SEASON, SEASON]]), [Price::Energy]);
}
