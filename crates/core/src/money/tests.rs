//! What judges the money.

use super::capital::{annual_cost, cash_per_year, discounted_payback, simple_payback};
use super::*;
use proptest::prelude::*;

/// Round numbers for working by hand.
fn prices() -> Prices {
    Prices {
        crop_per_t: Some(Assumption::own(200.0)),
        potential_yield_t_ha: Some(Assumption::own(10.0)),
        water_per_m3: Some(Assumption::own(0.05)),
        energy_per_m3: Some(Assumption::placeholder(0.10)),
        labor_per_h: Some(Assumption::own(20.0)),
        labor_per_move_h: Some(Assumption::own(0.5)),
        joint_each: Some(Assumption::own(100.0)),
        joint_life_years: Some(Assumption::own(5.0)),
        outlet_each: None,
        outlet_life_years: None,
        discount_rate: Some(Assumption::own(0.08)),
    }
}

const REFERENCE: SeasonUse =
    SeasonUse { relative_yield: 0.90, gross_water_m3: 100_000.0, moves: 100.0, passes: 10.0 };
const ROTATED: SeasonUse =
    SeasonUse { relative_yield: 0.92, gross_water_m3: 103_000.0, moves: 100.0, passes: 10.0 };

fn equipment() -> Equipment {
    Equipment { joints: 10, outlets: 0, extra_sets_per_pass: 1, extra_labor_per_move_h: 0.1 }
}

fn ledger() -> Ledger {
    Ledger::new(prices(), 20.0, equipment(), Equipment::default()).unwrap()
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9 * (1.0 + b.abs())
}

#[test]
fn published_capital_recovery_factors() {
    // Compound interest tables, A/P (Grant, Ireson & Leavenworth; from memory, high).
    for (rate, years, factor) in
        [(0.05, 10.0, 0.12950), (0.06, 20.0, 0.08718), (0.08, 5.0, 0.25046), (0.10, 10.0, 0.16275)]
    {
        assert!((capital_recovery_factor(rate, years) - factor).abs() <= 5e-6, "{rate} {years}");
    }
    assert_eq!(capital_recovery_factor(0.0, 8.0), 0.125);
    assert!((capital_recovery_factor(1e-12, 8.0) - 0.125).abs() < 1e-12, "no jump at rate 0");
}

#[test]
fn closed_one_season_by_hand() {
    // Yield 10 · 20 · 0.02 = 4 t = 800. Water 3000 m³ more: −150, energy −300. Labor 110 · 0.6 −
    // 100 · 0.5 = 16 h = −320. Joints 1000 · 0.25046 = −250.46. Net −220.46.
    let found = ledger().season(&ROTATED, &REFERENCE).unwrap();
    assert!(near(found.yield_gain_t, 4.0) && near(found.yield_value, 800.0), "{found:?}");
    assert!(near(found.water, -150.0) && near(found.energy, -300.0));
    assert!(near(found.labor, -320.0) && (found.equipment + 250.46).abs() <= 5e-3);
    assert!((found.net() + 220.46).abs() <= 5e-3 && near(found.annual_gain(), 30.0));
    assert!((found.net_per_ha() + 11.023).abs() <= 5e-4);
    assert!((found.net_per_acre() + 11.023 * 0.404686).abs() <= 5e-4);
    // Break-even (150 + 300 + 320 + 250.46)/4 = 255.11 a tonne.
    let BreakEven::PaysAbove(price) = ledger().break_even_crop_price(&found) else { panic!() };
    assert!((price - 255.11).abs() <= 6e-3);
}

#[test]
fn closed_a_rotation_against_itself_is_worth_exactly_nothing() {
    let same = Ledger::new(prices(), 20.0, equipment(), equipment()).unwrap();
    let found = same.season(&REFERENCE, &REFERENCE).unwrap();
    for part in [found.yield_value, found.water, found.energy, found.labor, found.equipment] {
        assert_eq!(part.to_bits(), 0.0f64.to_bits(), "0, and not −0: {found:?}");
    }
    assert_eq!(found.net().to_bits(), 0.0f64.to_bits());
    assert_eq!(same.break_even_crop_price(&found), BreakEven::AtNoPrice);
    assert_eq!((same.payback(&found), same.life_years()), ((None, None), 1));
}

#[test]
fn closed_payback() {
    let joints = [Purchase { price: 1000.0, life_years: 8.0 }];
    assert_eq!(simple_payback(&joints, 250.0), Some(4.0));
    // n = −ln(1 − 0.1 · 4)/ln 1.1 = 5.3596 years.
    let found = discounted_payback(&joints, 250.0, 0.10).unwrap();
    assert!((found - 5.35961).abs() <= 5e-5, "{found}");
    // 9 years of gain for 8 years of life; nothing gained; interest eats it all.
    assert_eq!(simple_payback(&joints, 1000.0 / 9.0), None);
    assert_eq!((simple_payback(&joints, 0.0), simple_payback(&joints, -5.0)), (None, None));
    assert_eq!(discounted_payback(&joints, 250.0, 0.25), None);
    assert_eq!((simple_payback(&[], 1.0), simple_payback(&[], 0.0)), (Some(0.0), None));
    // Joints of 2 years beside outlets of 10: 1000 at the start, 100 more after 2 and 4 years. At
    // 200 a year the 1200 are earned after 6 years, when the next joints fall due.
    let both =
        [Purchase { price: 100.0, life_years: 2.0 }, Purchase { price: 900.0, life_years: 10.0 }];
    assert_eq!(simple_payback(&both, 200.0), Some(6.0));
}

#[test]
fn closed_cash_per_year() {
    let joints = [Purchase { price: 1000.0, life_years: 2.5 }];
    let found = cash_per_year(&joints, 600.0, 0.0, 5);
    let cash: Vec<f64> = found.iter().map(|year| year.cash).collect();
    // Worn out in the middle of year 3.
    assert_eq!(cash, [-1000.0, 600.0, 600.0, -400.0, 600.0, 600.0]);
    assert_eq!(found[5].cumulative, 1000.0);
    assert_eq!(found[5].cumulative_discounted, 1000.0);
    let one = cash_per_year(&joints, 1100.0, 0.10, 1);
    assert!(near(one[1].cumulative_discounted, 0.0), "1100 in a year are worth 1000 today");
}

#[test]
fn closed_every_kind_of_break_even() {
    let balance = |yield_gain_t: f64, rest: f64| Balance {
        area_ha: 1.0,
        yield_gain_t,
        yield_value: 0.0,
        water: rest,
        energy: 0.0,
        labor: 0.0,
        equipment: 0.0,
    };
    let found = |gained, rest| ledger().break_even_crop_price(&balance(gained, rest));
    assert_eq!(found(2.0, -100.0), BreakEven::PaysAbove(50.0));
    assert_eq!(found(2.0, 0.0), BreakEven::PaysAbove(0.0));
    assert_eq!(found(2.0, 100.0), BreakEven::AtEveryPrice);
    assert_eq!(found(-2.0, 100.0), BreakEven::PaysBelow(50.0));
    assert_eq!(found(-2.0, -100.0), BreakEven::AtNoPrice);
    assert_eq!(found(0.0, 100.0), BreakEven::AtEveryPrice);
    assert_eq!(found(0.0, -100.0), BreakEven::AtNoPrice);
    assert_eq!(found(2.0, 100.0).price(), None);
    assert_eq!(found(2.0, 0.0).price().map(f64::to_bits), Some(0.0f64.to_bits()));
}

#[test]
fn closed_what_is_missing_is_named_and_counts_as_nothing() {
    let known = Prices { water_per_m3: None, joint_life_years: None, ..prices() };
    let ledger = Ledger::new(known, 20.0, equipment(), Equipment::default()).unwrap();
    assert_eq!(ledger.left_out(), [Item::WaterPrice, Item::JointLife]);
    assert_eq!(ledger.placeholders(), [Item::EnergyPrice]);
    let found = ledger.season(&ROTATED, &REFERENCE).unwrap();
    assert_eq!((found.water, found.equipment), (0.0, 0.0));
    let bare = Ledger::new(known, 20.0, Equipment::default(), Equipment::default()).unwrap();
    assert_eq!(bare.left_out(), [Item::WaterPrice], "no joints, no life of joints");
}

#[test]
fn closed_everything_wrong_is_told_at_once() {
    let wrong = Prices {
        crop_per_t: Some(Assumption::own(-1.0)),
        potential_yield_t_ha: Some(Assumption::own(0.0)),
        water_per_m3: Some(Assumption::own(f64::NAN)),
        joint_life_years: Some(Assumption::placeholder(0.0)),
        discount_rate: Some(Assumption::own(8.0)),
        ..prices()
    };
    let crew = Equipment { extra_labor_per_move_h: -0.1, ..equipment() };
    let problems = Ledger::new(wrong, -20.0, crew, Equipment::default()).unwrap_err();
    assert_eq!(problems.0.len(), 7, "{problems}");
    let told = problems.to_string();
    for words in [
        "crop price is -1; it must be 0 or more",
        "potential yield, t/ha is 0; it must be above 0",
        "life of a joint, years is 0; it must lie between 1 and 100",
        "discount rate, fraction a year is 8; it must lie between 0 and 1",
        "field area, ha is -20",
    ] {
        assert!(told.contains(words), "{told}");
    }
    let season = SeasonUse { relative_yield: 92.0, gross_water_m3: -1.0, ..ROTATED };
    assert_eq!(ledger().season(&season, &REFERENCE).unwrap_err().0.len(), 2);
}

#[test]
fn closed_mean_of_seasons() {
    let one = ledger().season(&ROTATED, &REFERENCE).unwrap();
    let none = ledger().season(&REFERENCE, &REFERENCE).unwrap();
    let mean = Balance::mean(&[one, none]).unwrap();
    assert!(near(mean.net(), 0.5 * (one.net() + none.net())) && near(mean.yield_gain_t, 2.0));
    assert_eq!(Balance::mean(&[one; 3]), Some(one));
    assert_eq!(Balance::mean(&[]), None);
}

proptest! {
    #[test]
    fn invariant_net_is_zero_at_the_break_even_price_and_turns_there(
        rotated in 0.0f64..1.0, fixed in 0.0f64..1.0, water in 0.0f64..2e5, joints in 0u32..50
    ) {
        let equipment = Equipment { joints, ..equipment() };
        let alternative = SeasonUse { relative_yield: rotated, gross_water_m3: water, ..ROTATED };
        let baseline = SeasonUse { relative_yield: fixed, ..REFERENCE };
        let net_at = |price: f64| {
            let prices = prices().with(Item::CropPrice, price);
            let ledger = Ledger::new(prices, 20.0, equipment, Equipment::default()).unwrap();
            let balance = ledger.season(&alternative, &baseline).unwrap();
            (balance.net(), ledger.break_even_crop_price(&balance))
        };
        let scale = 1.0 + net_at(0.0).0.abs();
        match net_at(200.0).1 {
            BreakEven::PaysAbove(price) => {
                prop_assert!(net_at(price).0.abs() < 1e-9 * scale);
                prop_assert!(net_at(price * 1.01 + 1.0).0 > 0.0);
            }
            BreakEven::PaysBelow(price) => {
                prop_assert!(net_at(price).0.abs() < 1e-9 * scale);
                prop_assert!(net_at(price * 0.99).0 >= 0.0 && net_at(price * 1.01 + 1.0).0 < 0.0);
            }
            BreakEven::AtEveryPrice => prop_assert!(net_at(0.0).0 > 0.0 && net_at(1e6).0 > 0.0),
            BreakEven::AtNoPrice => prop_assert!(net_at(0.0).0 <= 0.0 && net_at(1e6).0 <= 0.0),
        }
    }

    #[test]
    fn invariant_the_gain_of_a_year_that_equals_the_annual_cost_just_pays_back(
        price in 1.0f64..1e5, life in 1.0f64..40.0, rate in 0.0f64..0.5
    ) {
        let bought = [Purchase { price, life_years: life }];
        let cost = annual_cost(&bought, rate);
        let back = discounted_payback(&bought, cost * (1.0 + 1e-9), rate);
        prop_assert!(back.is_some_and(|years| (years - life).abs() < 1e-3 * life), "{back:?}");
        prop_assert_eq!(discounted_payback(&bought, cost * (1.0 - 1e-6), rate), None);
    }

    #[test]
    fn reference_payback_is_when_the_cash_turns(
        price in 1.0f64..1e4, gain in 1.0f64..5e3, life in 1u32..30, rate in 0.0f64..0.3
    ) {
        let bought = [Purchase { price, life_years: f64::from(life) }];
        let cash = cash_per_year(&bought, gain, rate, life);
        let turned = cash.iter().find(|year| year.cumulative_discounted >= 0.0);
        match (discounted_payback(&bought, gain, rate), turned) {
            (Some(years), Some(turned)) => prop_assert_eq!(years.ceil(), f64::from(turned.year)),
            (back, turned) => prop_assert!(back.is_none() && turned.is_none()),
        }
    }
}
