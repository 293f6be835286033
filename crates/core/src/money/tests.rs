//! What judges the money.

use super::capital::{
    Outlay, annual_cost, capital_recovery_factor, cash_per_year, discounted_payback, simple_payback,
};
use super::*;
use crate::grid::Grid;
use crate::model::{Area, Field};
use proptest::prelude::*;

/// Round numbers for working by hand.
fn prices() -> Prices {
    let own = [
        (Price::Crop, 200.0),
        (Price::PotentialYield, 10.0),
        (Price::Water, 0.05),
        (Price::Labor, 20.0),
        (Price::LaborPerMove, 0.5),
        (Price::Joint, 100.0),
        (Price::JointLife, 5.0),
        (Price::DiscountRate, 0.08),
    ];
    let mut prices: Prices =
        own.into_iter().map(|(price, value)| (price, PriceEntry::own(value))).collect();
    prices.set(Price::Energy, Some(PriceEntry::placeholder(0.10)));
    prices
}

/// The same without some of them.
fn without(missing: &[Price]) -> Prices {
    let mut prices = prices();
    for price in missing {
        prices.set(*price, None);
    }
    prices
}

/// Nothing is asked for.
const NOTHING: [Price; 0] = [];

/// A field of 20 ha.
fn area() -> Area {
    let grid = Grid::over(500.0, 400.0, 10.0);
    Field { grid, travel_bearing_deg: 0.0, boundary: None }.area()
}

const REFERENCE: SeasonUse =
    SeasonUse { relative_yield: 0.90, gross_mm: 500.0, moves: 100.0, passes: 10.0, dry_way_h: 0.0 };
const ROTATED: SeasonUse =
    SeasonUse { relative_yield: 0.92, gross_mm: 515.0, moves: 100.0, passes: 10.0, dry_way_h: 0.0 };

fn equipment() -> Equipment {
    Equipment {
        joints: 10,
        extra_sets_per_pass: 1,
        extra_labor_per_move_h: 0.1,
        ..Equipment::default()
    }
}

fn ledger() -> Ledger {
    Ledger::new(&prices(), area(), equipment(), Equipment::default()).unwrap()
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
    assert!(
        near(found.yield_gain_t, 4.0) && near(found.yield_value.currency(), 800.0),
        "{found:?}"
    );
    assert!(near(found.water.currency(), -150.0) && near(found.energy.currency(), -300.0));
    assert!(near(found.labor.currency(), -320.0));
    assert!((found.equipment.currency() + 250.46).abs() <= 5e-3);
    assert!((found.net().currency() + 220.46).abs() <= 5e-3);
    assert!(near(found.annual_gain().currency(), 30.0));
    let by_area = found.net_per_area();
    assert!((by_area.per_ha() + 11.023).abs() <= 5e-4);
    let per_acre = by_area.per_ha() * (crate::units::M2_PER_ACRE / 10_000.0);
    assert!((per_acre + 11.023 * 0.404686).abs() <= 5e-4);
    assert!(near((by_area * area()).currency(), found.net().currency()));
    let parts: FieldTotal = Balance::PARTS.iter().map(|part| (part.of)(&found)).sum();
    assert!(near(parts.currency(), found.net().currency()));
    // Break-even (150 + 300 + 320 + 250.46)/4 = 255.11 a tonne.
    let BreakEven::PaysAbove(price) = found.break_even_crop_price() else { panic!() };
    assert!((price - 255.11).abs() <= 6e-3);
}

#[test]
fn closed_a_dry_way_back_is_labor_of_its_own() {
    // 10 passes, 2 h back each: 20 h more than the 16 h above at 20 an hour.
    let back = SeasonUse { dry_way_h: 20.0, ..ROTATED };
    let found = ledger().season(&back, &REFERENCE).unwrap();
    assert!(near(found.labor.currency(), -720.0), "{found:?}");
}

#[test]
fn closed_a_rotation_against_itself_is_worth_exactly_nothing() {
    let same = Ledger::new(&prices(), area(), equipment(), equipment()).unwrap();
    let found = same.season(&REFERENCE, &REFERENCE).unwrap();
    for part in [found.yield_value, found.water, found.energy, found.labor, found.equipment] {
        assert_eq!(part.currency().to_bits(), 0.0f64.to_bits(), "0, and not −0: {found:?}");
    }
    assert_eq!(found.net().currency().to_bits(), 0.0f64.to_bits());
    assert_eq!(found.break_even_crop_price(), BreakEven::AtNoPrice);
    assert_eq!((same.payback(&found), same.life_years()), ((None, None), None));
}

#[test]
fn closed_payback() {
    let joints = [Outlay { price: 1000.0, life_years: 8.0 }];
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
        [Outlay { price: 100.0, life_years: 2.0 }, Outlay { price: 900.0, life_years: 10.0 }];
    assert_eq!(simple_payback(&both, 200.0), Some(6.0));
}

#[test]
fn closed_cash_per_year() {
    let joints = [Outlay { price: 1000.0, life_years: 2.5 }];
    let found = cash_per_year(&joints, 600.0, 0.0, 5);
    let cash: Vec<f64> = found.iter().map(|year| year.cash.currency()).collect();
    // Worn out in the middle of year 3.
    assert_eq!(cash, [-1000.0, 600.0, 600.0, -400.0, 600.0, 600.0]);
    assert_eq!(found[5].cumulative.currency(), 1000.0);
    assert_eq!(found[5].cumulative_discounted.currency(), 1000.0);
    let one = cash_per_year(&joints, 1100.0, 0.10, 1);
    assert!(
        near(one[1].cumulative_discounted.currency(), 0.0),
        "1100 in a year are worth 1000 today"
    );
}

#[test]
fn closed_every_kind_of_break_even() {
    let balance = |yield_gain_t: f64, rest: f64| Balance {
        area: area(),
        yield_gain_t,
        yield_value: FieldTotal::default(),
        water: FieldTotal::of(rest),
        energy: FieldTotal::default(),
        labor: FieldTotal::default(),
        equipment: FieldTotal::default(),
    };
    let found = |gained, rest| balance(gained, rest).break_even_crop_price();
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
fn regress_what_is_bought_without_price_or_life_is_asked_for_and_never_free() {
    let seasons = [[REFERENCE, REFERENCE]];
    for missing in [Price::Joint, Price::JointLife, Price::DiscountRate] {
        let of = |own, other| Ledger::new(&without(&[missing]), area(), own, other).unwrap();
        let bought = Equipment { joints: 20, ..Equipment::default() };
        let bare = Equipment::default();
        assert_eq!(of(bought.clone(), bare.clone()).missing(&seasons), [missing]);
        // Sold again, or the same for both: asked for, and not asked for.
        assert_eq!(of(bare, bought.clone()).missing(&seasons), [missing]);
        assert_eq!(of(bought.clone(), bought).missing(&seasons), NOTHING);
    }
    let outlets = Equipment { outlets: 1, ..Equipment::default() };
    let ledger = Ledger::new(&prices(), area(), outlets, Equipment::default()).unwrap();
    assert_eq!(ledger.missing(&seasons), [Price::Outlet, Price::OutletLife]);
    // What is known to cost nothing lasts as long as it likes.
    let free = without(&[Price::JointLife]).with(Price::Joint, 0.0);
    let ledger = Ledger::new(&free, area(), equipment(), Equipment::default()).unwrap();
    assert_eq!(ledger.missing(&seasons), NOTHING);
}

#[test]
fn closed_a_missing_price_matters_where_the_two_differ_in_it() {
    let missing = |prices: &Prices, equipment: &Equipment, used: SeasonUse| {
        let own = equipment.clone();
        let ledger = Ledger::new(prices, area(), own, Equipment::default()).unwrap();
        // In any of the seasons.
        ledger.missing(&[[REFERENCE, REFERENCE], [used, REFERENCE]])
    };
    let none = without(Price::ALL);
    let bare = Equipment::default();
    assert_eq!(missing(&none, &bare, REFERENCE), NOTHING);
    let yields = SeasonUse { relative_yield: 0.91, ..REFERENCE };
    assert_eq!(missing(&none, &bare, yields), [Price::Crop, Price::PotentialYield]);
    let water = SeasonUse { gross_mm: 501.0, ..REFERENCE };
    assert_eq!(missing(&none, &bare, water), [Price::Water, Price::Energy]);
    let round_off = SeasonUse { gross_mm: 500.0 * (1.0 + 1e-13), ..REFERENCE };
    assert_eq!(missing(&none, &bare, round_off), NOTHING);
    let moves = SeasonUse { moves: 101.0, ..REFERENCE };
    assert_eq!(missing(&none, &bare, moves), [Price::Labor, Price::LaborPerMove]);
    let way = SeasonUse { dry_way_h: 1.0, ..REFERENCE };
    assert_eq!(missing(&none, &bare, way), [Price::Labor]);
    let extra_set = Equipment { extra_sets_per_pass: 1, ..bare.clone() };
    assert_eq!(missing(&none, &extra_set, REFERENCE), [Price::Labor, Price::LaborPerMove]);
    // A longer move costs labor, however long the common one is.
    let longer = Equipment { extra_labor_per_move_h: 0.1, ..bare.clone() };
    assert_eq!(missing(&none, &longer, REFERENCE), [Price::Labor]);
    let unpaid: Prices = [(Price::Labor, PriceEntry::own(0.0))].into_iter().collect();
    assert_eq!(missing(&unpaid, &extra_set, REFERENCE), NOTHING);
}

#[test]
fn closed_placeholders_of_what_is_not_bought_are_not_named() {
    let mut prices = prices();
    prices.set(Price::JointLife, Some(PriceEntry::placeholder(5.0)));
    let of = |own| Ledger::new(&prices, area(), own, Equipment::default()).unwrap().placeholders();
    assert_eq!(of(equipment()), [Price::Energy, Price::JointLife]);
    assert_eq!(of(Equipment::default()), [Price::Energy]);
}

#[test]
fn invariant_every_price_has_one_row_of_its_own() {
    for of in [|p: &Price| p.row().key, |p: &Price| p.row().name, |p: &Price| p.row().label] {
        let mut texts: Vec<&str> = Price::ALL.iter().map(of).collect();
        texts.sort_unstable();
        texts.dedup();
        assert_eq!(texts.len(), Price::ALL.len());
    }
    for (place, price) in Price::ALL.iter().enumerate() {
        assert_eq!((*price as usize, Price::KEYS[place]), (place, price.row().key));
        let mut prices = Prices::default();
        prices.set(*price, Some(PriceEntry::own(0.5)));
        let known: Vec<_> = prices.with(*price, 0.25).known().collect();
        assert_eq!(known, [(PriceKey::Row(*price), PriceEntry::own(0.25))]);
    }
}

#[test]
fn closed_everything_wrong_is_told_at_once() {
    let mut wrong = prices();
    for (price, value) in
        [(Price::Crop, -1.0), (Price::PotentialYield, 0.0), (Price::Water, f64::NAN)]
    {
        wrong.set(price, Some(PriceEntry::own(value)));
    }
    wrong.set(Price::JointLife, Some(PriceEntry::placeholder(0.0)));
    wrong.set(Price::DiscountRate, Some(PriceEntry::own(8.0)));
    let crew = Equipment { extra_labor_per_move_h: -0.1, ..equipment() };
    let problems = Ledger::new(&wrong, area(), crew, Equipment::default()).unwrap_err();
    assert_eq!(problems.0.len(), 6, "{problems}");
    let told = problems.to_string();
    for words in [
        "crop price is -1; it must be 0 or more",
        "potential yield is 0; it must be above 0",
        "life of a joint is 0; it must lie between 1 and 100",
        "discount rate is 8; it must lie between 0 and 1",
        "extra labor per move, h is -0.1",
    ] {
        assert!(told.contains(words), "{told}");
    }
    let season = SeasonUse { relative_yield: 92.0, gross_mm: -1.0, ..ROTATED };
    assert_eq!(ledger().season(&season, &REFERENCE).unwrap_err().0.len(), 2);
}

#[test]
fn closed_mean_of_seasons() {
    let one = ledger().season(&ROTATED, &REFERENCE).unwrap();
    let none = ledger().season(&REFERENCE, &REFERENCE).unwrap();
    let mean = Balance::mean(&[one, none]).unwrap();
    assert!(
        near(mean.net().currency(), 0.5 * (one.net() + none.net()).currency())
            && near(mean.yield_gain_t, 2.0)
    );
    assert_eq!(Balance::mean(&[one; 3]), Some(one));
    assert_eq!(Balance::mean(&[]), None);
}

proptest! {
    #[test]
    fn invariant_net_is_zero_at_the_break_even_price_and_turns_there(
        rotated in 0.0f64..1.0, fixed in 0.0f64..1.0, water in 0.0f64..1e3, joints in 0u32..50
    ) {
        let equipment = Equipment { joints, ..equipment() };
        let alternative = SeasonUse { relative_yield: rotated, gross_mm: water, ..ROTATED };
        let baseline = SeasonUse { relative_yield: fixed, ..REFERENCE };
        let net_at = |price: f64| {
            let prices = prices().with(Price::Crop, price);
            let own = equipment.clone();
            let ledger = Ledger::new(&prices, area(), own, Equipment::default()).unwrap();
            let balance = ledger.season(&alternative, &baseline).unwrap();
            (balance.net().currency(), balance.break_even_crop_price())
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
        let bought = [Outlay { price, life_years: life }];
        let cost = annual_cost(&bought, rate);
        let back = discounted_payback(&bought, cost * (1.0 + 1e-9), rate);
        prop_assert!(back.is_some_and(|years| (years - life).abs() < 1e-3 * life), "{back:?}");
        prop_assert_eq!(discounted_payback(&bought, cost * (1.0 - 1e-6), rate), None);
    }

    #[test]
    fn reference_payback_is_when_the_cash_turns(
        price in 1.0f64..1e4, gain in 1.0f64..5e3, life in 1u32..30, rate in 0.0f64..0.3
    ) {
        let bought = [Outlay { price, life_years: f64::from(life) }];
        let cash = cash_per_year(&bought, gain, rate, life);
        let turned = cash.iter().find(|year| year.cumulative_discounted.currency() >= 0.0);
        match (discounted_payback(&bought, gain, rate), turned) {
            (Some(years), Some(turned)) => prop_assert_eq!(years.ceil(), f64::from(turned.year)),
            (back, turned) => prop_assert!(back.is_none() && turned.is_none()),
        }
    }
}
