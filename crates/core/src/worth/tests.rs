//! What judges the worth: identities, hand sums, refusals.

use super::*;
use crate::boundary::Boundary;
use crate::crop::table::crop_named;
use crate::evapotranspiration::ReferenceEt;
use crate::lateral::EdgeTreatment;
use crate::money::{
    Equipment, Missing, PerArea, Price, PriceEntry, PriceKey, Purchase, PurchasePart,
};
use crate::rotation::{Rotation, Shift};
use crate::season::tests::{alternative, scenario, sprinkler, windy};
use crate::season::{HoursLaid, LandingMapCache};
use crate::soil::Soil;
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::Shape;
use crate::units::{M_PER_FT, M2_PER_ACRE};
use crate::verdict::{Answer, Reason, Settles};
use jiff::civil::date;

/// The field of [`crate::season::tests::scenario`] less its far right quarter: an L of 64,800 ft²,
/// 0.602 ha, in a rectangle of 0.803 ha.
pub(crate) fn l_shaped(mut scenario: Scenario) -> Scenario {
    let corners_ft =
        [[0.0, 0.0], [240.0, 0.0], [240.0, 180.0], [120.0, 180.0], [120.0, 360.0], [0.0, 360.0]];
    let ring = corners_ft.map(|corner| corner.map(|ft| ft * M_PER_FT)).to_vec();
    scenario.field.boundary = Some(Boundary::new(vec![ring], &scenario.field.grid).unwrap());
    scenario
}

pub(crate) const L_SHAPE_HA: f64 = 64_800.0 * M2_PER_ACRE / 43_560.0 / 1e4;

pub(crate) fn agronomy() -> Agronomy {
    Agronomy {
        crop: crop_named("potato").unwrap().crop(),
        crop_name: "potato".into(),
        soil: Soil { field_capacity: 0.26, wilting_point: 0.12 },
        planted: date(2026, 4, 20),
        et0_day_spread: 0.0,
        et0: ReferenceEt::Monthly([1.0, 1.5, 2.5, 4.0, 5.5, 6.5, 7.0, 6.0, 4.5, 3.0, 1.5, 1.0]),
        rain: Rain::Listed(vec![RainDay { date: date(2026, 5, 2), depth_mm: 10.0 }]),
        start_depletion: 0.2,
        intake_rate_mm_h: None,
    }
}

pub(crate) fn economics(seasons: usize) -> Economics {
    let own = [
        (Price::Crop, 150.0),
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
    Economics {
        prices: own.collect(),
        equipment: vec![Equipment::default(), Equipment { joints: 6, ..Equipment::default() }],
        kwh_per_m3: Vec::new(),
        currency: None,
        worthwhile_gain: PerArea::of_ha(1.0),
        confidence_level: 0.9,
        seasons,
        first_season: 0,
        max_seasons: None,
        doubts: false,
        hours_laid: HoursLaid::NearestWind,
        precision: None,
    }
}

pub(crate) fn season_of(shifts_ft: [&[f64]; 2]) -> Scenario {
    let sprinkler = sprinkler(Shape::Triangular, 84.0);
    let both = ["one", "two"].into_iter().zip(shifts_ft);
    let alternatives =
        both.map(|(name, shifts)| alternative(name, shifts, sprinkler.clone())).collect();
    let mut scenario = scenario(4.0, 18, alternatives);
    scenario.weather = windy(3.0);
    scenario.losses = Losses::Fraction(0.15);
    scenario.calendar.pass_every_h = Some(6.0 * 24.0);
    scenario.calendar.set_time_h = 8.0;
    scenario
}

#[test]
fn invariant_a_rotation_against_itself_is_worth_exactly_nothing() {
    let mut economics = economics(4);
    economics.equipment = vec![Equipment::default(); 2];
    let scenario = season_of([&[0.0, 30.0], &[0.0, 30.0]]);
    let worth = run(&scenario, &agronomy(), &economics, RunControl::default()).unwrap();
    let against = worth.alternatives[1].against.as_ref().unwrap();
    assert_eq!((against.net_per_ha.figures.mean, against.balance.net().currency()), (0.0, 0.0));
    assert_eq!(against.verdict.reason, Reason::NoDifference);
    assert_eq!((worth.ranking[0].rank, worth.ranking[1].rank), (1, 1));
    assert!(worth.alternatives[0].against.is_none());
}

#[test]
fn closed_joints_that_change_no_water_cost_their_annuity() {
    // 6 joints at 60 over 10 years at 5 %: 360 · 0.12950 = 46.62 a year.
    let worth =
        run(&season_of([&[0.0], &[0.0]]), &agronomy(), &economics(4), RunControl::default())
            .unwrap();
    let against = worth.alternatives[1].against.as_ref().unwrap();
    assert!((against.balance.net().currency() + 46.62).abs() < 0.005, "{:?}", against.balance);
    assert_eq!(against.verdict.answer, Answer::DoesNotPay);
    assert_eq!(against.payback_years, (None, None));
}

#[test]
fn regress_money_on_a_field_with_a_boundary_is_by_the_area_inside() {
    // Joints alone: 46.62 a year (above) for 0.602 ha are 77.44 a hectare, wherever they are shown.
    let scenario = l_shaped(season_of([&[0.0], &[0.0]]));
    let worth = run(&scenario, &agronomy(), &economics(4), RunControl::default()).unwrap();
    let against = worth.alternatives[1].against.as_ref().unwrap();
    let per_ha = -360.0 * 0.129_504_575 / L_SHAPE_HA;
    assert!((per_ha + 77.44).abs() < 0.005, "{per_ha}");
    let shown = [against.net_per_ha.figures.mean, against.verdict.mean_net]
        .into_iter()
        .chain(against.swings.iter().map(|swing| swing.nets[1]));
    for net in shown {
        assert!((net / per_ha - 1.0).abs() < 1e-8, "{net} {per_ha}");
    }
    // What the crop gains, worked by hand: gain · 45 t/ha · area · 150 a tonne.
    let scenario = l_shaped(season_of([&[0.0], &[0.0, 30.0]]));
    let mut economics = economics(4);
    economics.equipment = vec![Equipment::default(); 2];
    let worth = run(&scenario, &agronomy(), &economics, RunControl::default()).unwrap();
    let against = worth.alternatives[1].against.as_ref().unwrap();
    let value = against.yield_gain.figures.mean * 45.0 * 150.0;
    assert!((against.balance.yield_value.currency() / (value * L_SHAPE_HA) - 1.0).abs() < 1e-9);
    for (season, net) in against.net_per_ha.differences.iter().enumerate() {
        let by_hand = against.yield_gain.differences[season] * 45.0 * 150.0;
        assert!((net - by_hand).abs() < 1e-9 * value.abs(), "{net} {by_hand}");
    }
}

#[test]
fn closed_extra_sets_of_the_edges_cost_their_labor_and_water_once() {
    let mut scenario = season_of([&[0.0, 30.0], &[0.0, 30.0]]);
    scenario.alternatives[1].edges = EdgeTreatment::ExtraSet;
    let mut economics = economics(2);
    economics.equipment = vec![Equipment::default(); 2];
    let worth = run(&scenario, &agronomy(), &economics, RunControl::default()).unwrap();
    let balance = &worth.alternatives[1].against.as_ref().unwrap().balance;
    // Nine of 18 passes are shifted: nine sets of half an hour at 20 an hour.
    assert!((balance.labor.currency() + 9.0 * 0.5 * 20.0).abs() < 1e-9, "{balance:?}");
    // Six sprinklers of 0.3142 L/s for 8 h nine times, at 0.03 a cubic meter.
    let water_m3 = 6.0 * 0.3142 * 3.6 * 8.0 * 9.0;
    assert!((balance.water.currency() / (-0.03 * water_m3) - 1.0).abs() < 1e-6, "{balance:?}");
}

#[test]
fn closed_yield_gained_is_valued_as_worked_by_hand() {
    let worth =
        run(&season_of([&[0.0], &[0.0, 30.0]]), &agronomy(), &economics(4), RunControl::default())
            .unwrap();
    let against = worth.alternatives[1].against.as_ref().unwrap();
    let area_ha = 240.0 * 360.0 * 0.3048 * 0.3048 / 1e4;
    let value = against.yield_gain.figures.mean * 45.0 * area_ha * 150.0;
    assert!((against.balance.yield_value.currency() - value).abs() < 1e-6 * value.abs());
    let promised: f64 = worth.seasons.series(1, |f| f.yield_promised).iter().sum();
    assert!(promised > 0.0 && against.realized_share.is_some());
}

#[test]
fn closed_without_a_value_of_the_yield_nothing_is_said_of_money() {
    // Joints cost and nothing comes back in money: still not "does not pay".
    for price in [Price::Crop, Price::PotentialYield] {
        let mut economics = economics(4);
        economics.prices.set(price, None);
        let worth =
            run(&season_of([&[0.0], &[0.0, 30.0]]), &agronomy(), &economics, RunControl::default())
                .unwrap();
        let against = worth.alternatives[1].against.as_ref().unwrap();
        assert_eq!(economics.prices.missing_value(), [price]);
        assert_eq!(against.verdict.answer, Answer::Inconclusive);
        assert_eq!(against.verdict.reason, Reason::MissingPrice);
        assert!(!worth.ranked_by_money);
    }
}

#[test]
fn regress_joints_without_a_life_do_not_pay_and_are_asked_for() {
    // Twenty joints that would cost dearly, and a rotation that gains: with their life it loses.
    let mut economics = economics(4);
    economics.equipment[1].joints = 20;
    economics.prices.set(Price::Joint, Some(PriceEntry::own(1e6)));
    let scenario = season_of([&[0.0], &[0.0, 30.0]]);
    let told = |economics: &Economics| {
        let worth = run(&scenario, &agronomy(), economics, RunControl::default()).unwrap();
        let against = worth.alternatives[1].against.clone().unwrap();
        (against.verdict, against.missing, worth.ranked_by_money)
    };
    assert_eq!(told(&economics).0.answer, Answer::DoesNotPay);
    for price in [Price::JointLife, Price::Joint, Price::DiscountRate] {
        let mut economics = economics.clone();
        economics.prices.set(price, None);
        let (verdict, missing, by_money) = told(&economics);
        assert_eq!((verdict.answer, verdict.reason), (Answer::Inconclusive, Reason::MissingPrice));
        assert_eq!(verdict.settled_by, [Settles::Giving(Missing::Price(price.into()))]);
        assert_eq!((missing, by_money), (vec![Missing::Price(price.into())], false));
    }
    // Prices of what nobody buys, and of water that is the same, are not asked for.
    let mut economics = economics.clone();
    for price in [Price::Outlet, Price::OutletLife, Price::Water, Price::Energy] {
        economics.prices.set(price, None);
    }
    assert!(told(&economics).1.is_empty());
}

#[test]
fn closed_a_named_purchase_is_drawn_varied_and_asked_for_as_a_price_of_the_table_is() {
    // One rotation against itself: nothing but 30 levelers at 40 over 10 years at 5 %, 1200 · 0.12950 =
    // 155.40 a year.
    let [each, life] =
        [PurchasePart::Each, PurchasePart::Life].map(|part| PriceKey::Purchase(0, part));
    let known = |value| Some(PriceEntry::placeholder(value));
    let (price, years) = (known(40.0), known(10.0));
    let mut economics = economics(4);
    economics.prices.add(Purchase { what: "levelers".into(), each: price, life: years });
    let bought = Equipment { purchases: vec![30], ..Equipment::default() };
    economics.equipment = vec![Equipment::default(), bought];
    let scenario = season_of([&[0.0], &[0.0]]);
    let told = |economics: &Economics| {
        let worth = run(&scenario, &agronomy(), economics, RunControl::default()).unwrap();
        worth.alternatives[1].against.clone().unwrap()
    };
    let found = told(&economics);
    assert!((found.balance.net().currency() + 155.40).abs() < 0.02, "{:?}", found.balance);
    assert_eq!(found.placeholders, [each, life]);
    let swing = |key| *found.swings.iter().find(|swing| swing.price == key).unwrap();
    // ± 30 %: 28 to 52 each.
    assert_eq!(swing(each).inputs.map(|input| (input * 1e6).round() / 1e6), [28.0, 40.0, 52.0]);
    let per_ha = |currency: f64| currency / found.balance.area.ha();
    assert!((swing(each).width() - per_ha(0.6 * 155.40)).abs() < per_ha(0.02));
    assert!(swing(life).matters() && swing(life).is_placeholder);
    let spread = found.price_spread.unwrap();
    assert!(spread.low < per_ha(-155.4) && per_ha(-155.4) < spread.high, "{spread:?}");
    for key in [each, life] {
        let mut without = economics.clone();
        without.prices.set(key, None);
        let found = told(&without);
        assert_eq!(found.missing, [Missing::Price(key)]);
        assert_eq!(found.verdict.answer, Answer::Inconclusive);
        assert_eq!(found.verdict.settled_by, [Settles::Giving(Missing::Price(key))]);
    }
}

#[test]
fn regress_a_reach_of_which_nothing_is_said_leaves_no_verdict() {
    let mut economics = economics(4);
    economics.equipment[1] = Equipment { is_reach_open: true, ..Equipment::default() };
    let scenario = season_of([&[0.0], &[0.0, 30.0]]);
    let worth = run(&scenario, &agronomy(), &economics, RunControl::default()).unwrap();
    let against = worth.alternatives[1].against.as_ref().unwrap();
    let verdict = &against.verdict;
    assert_eq!((verdict.answer, verdict.reason), (Answer::Inconclusive, Reason::MissingPrice));
    assert_eq!(verdict.settled_by, [Settles::Giving(Missing::Reach)]);
    assert!(!against.is_valued() && !worth.ranked_by_money);
}

#[test]
fn closed_everything_wrong_is_told() {
    let scenario = season_of([&[0.0], &[0.0, 30.0]]);
    let mut bad = agronomy();
    bad.soil.wilting_point = 0.4;
    bad.start_depletion = 2.0;
    let refused =
        run(&scenario, &bad, &economics(4), RunControl::default()).unwrap_err().to_string();
    assert!(refused.contains("; "), "several at once: {refused}");
    let mut free = economics(4);
    free.prices.set(Price::Crop, Some(PriceEntry::own(-1.0)));
    free.prices.set(Price::JointLife, Some(PriceEntry::own(0.0)));
    let refused = run(&scenario, &agronomy(), &free, RunControl::default()).unwrap_err();
    assert!(matches!(refused, WorthError::Money(_)), "{refused}");
    let refused = run(&scenario, &agronomy(), &economics(1), RunControl::default()).unwrap_err();
    assert!(matches!(refused, WorthError::Statistics(_)), "{refused}");
}

#[test]
fn closed_days_of_the_crop_fall_where_the_calendar_has_them() {
    let ground = agronomy().ground(date(2026, 5, 4), 1, None).unwrap();
    assert_eq!(ground.first_day, -14);
    // Rain on 2 May, the 13th day from 20 April.
    let wet: Vec<usize> =
        (0..ground.days[0].len()).filter(|day| ground.days[0][*day].rain_mm > 0.0).collect();
    assert_eq!(wet, [12]);
    assert_eq!(Rotation::new(vec![Shift::NONE]), Some(Rotation::fixed()));
}

#[test]
fn closed_a_precision_that_is_asked_for_is_reached_or_told() {
    let scenario = season_of([&[0.0], &[0.0, 30.0]]);
    let few = run(&scenario, &agronomy(), &economics(10), RunControl::default()).unwrap();
    let spread = few.alternatives[1].against.as_ref().unwrap().net_per_ha.figures;
    let asked = |half_width: f64, most: usize| Economics {
        precision: Some(Precision { half_width: HalfWidth::Net(PerArea::of_ha(half_width)), most }),
        ..economics(10)
    };
    // Wider than ten seasons give: no more are run, and they are the same seasons.
    let wide = 1.5 * spread.interval.half_width();
    let loose = run(&scenario, &agronomy(), &asked(wide, 40), RunControl::default()).unwrap();
    assert_eq!(loose.seasons.finished(), 10);
    assert_eq!(loose.seasons.figures, few.seasons.figures);
    assert!(loose.precision.unwrap().is_reached());
    // Half as wide needs four times as many; they begin with the same.
    let narrow = 0.6 * spread.interval.half_width();
    let tight = run(&scenario, &agronomy(), &asked(narrow, 100), RunControl::default()).unwrap();
    assert_eq!(tight.seasons.finished(), (10.0_f64 / 0.36).ceil() as usize);
    assert_eq!(tight.seasons.figures[..10], few.seasons.figures[..]);
    assert!(tight.precision.unwrap().is_reached());
    let capped = run(&scenario, &agronomy(), &asked(narrow, 12), RunControl::default()).unwrap();
    assert_eq!(capped.seasons.finished(), 12);
    assert!(!capped.precision.unwrap().is_reached());
}

#[test]
fn invariant_what_is_shown_last_is_the_result() {
    let scenario = season_of([&[0.0], &[0.0, 15.0]]);
    let kept = LandingMapCache::default();
    let mut shown = Vec::new();
    let mut so_far = |worth: &Worth| shown.push(worth.clone());
    let control = WorthControl::default().with_landing_maps(&kept).with_viewer(&mut so_far);
    let found = run(&scenario, &agronomy(), &economics(6), control).unwrap();
    let finished: Vec<usize> = shown.iter().map(|worth| worth.seasons.finished()).collect();
    assert_eq!(finished, [4, 6]);
    let plain = run(&scenario, &agronomy(), &economics(6), RunControl::default()).unwrap();
    for worth in [&found, &shown[1]] {
        assert_eq!(worth.seasons.figures, plain.seasons.figures);
        for (mine, maps) in worth.seasons.maps.iter().zip(&plain.seasons.maps) {
            assert_eq!(mine.yield_fraction, maps.yield_fraction);
        }
        let net = |worth: &Worth| {
            worth.alternatives[1].against.as_ref().unwrap().balance.net().currency()
        };
        assert_eq!(net(worth), net(&plain));
    }
}

#[test]
fn invariant_the_parts_of_what_a_plan_misses_add_up() {
    let scenario = season_of([&[0.0], &[0.0, 30.0]]);
    let worth = run(&scenario, &agronomy(), &economics(2), RunControl::default()).unwrap();
    for plan in &worth.plan {
        let parts = [
            plan.water_short,
            plan.sets_too_large,
            plan.season_too_short,
            plan.unevenness,
            plan.edges,
        ];
        assert!((parts.iter().sum::<f64>() - plan.missed()).abs() < 1e-12, "{plan:?}");
        assert!(plan.unevenness > -0.01 && plan.water_short > -1e-12, "{plan:?}");
    }
    // Even water does not know where the stops are.
    let even = |plan: &PlanYield| plan.water_short + plan.season_too_short;
    assert!((even(&worth.plan[0]) - even(&worth.plan[1])).abs() < 1e-9, "{:?}", worth.plan);
    let gain = worth.alternatives[1].against.as_ref().unwrap().yield_gain.figures.mean;
    assert!((worth.plan[1].reached - worth.plan[0].reached - gain).abs() < 1e-12);
}
