//! What judges race and ties: brute force for every aim, the best of each kind, a record that ends.

use super::kinds::effort;
use super::tests::{field, narrow, options};
use super::*;
use crate::lateral::{EdgeTreatment, SetOrder};
use crate::model::Scenario;
use crate::season::RunControl;
use crate::weather::{FromRecord, GapRule, WeatherHour, WeatherRecord, WeatherSource, Wind};
use crate::worth::tests::{agronomy, economics, l_shaped};
use jiff::civil::date;

/// The small field watered long enough for its crop.
fn cropped() -> Scenario {
    let mut scenario = field();
    scenario.calendar.length = crate::schedule::SeasonLength::Passes(16);
    scenario.calendar.pass_every_h = Some(6.5 * 24.0);
    scenario.calendar.set_time_h = 8.0;
    scenario
}

fn both(scenario: &Scenario, wanted: &SearchOptions) -> [Found; 2] {
    let (agronomy, economics) = (agronomy(), economics(2));
    let worth = Some((&agronomy, &economics));
    let full = SearchOptions { first_seasons: wanted.seasons, ..wanted.clone() };
    [wanted, &full].map(|options| run(scenario, options, worth, RunControl::default()).unwrap())
}

/// The race against the same search without dropping anything: the same leader, kept seasons the
/// same bit by bit, and nothing dropped that is within the least difference of the best.
fn check_race([raced, full]: &[Found; 2], at_least_dropped: usize) {
    let dropped: usize = raced.stages.iter().map(|stage| stage.dropped.len()).sum();
    assert!(dropped >= at_least_dropped, "only {dropped} of {}", raced.entries.len());
    assert_eq!(full.ranking.len(), full.entries.len());
    let best = full.leader().unwrap();
    assert_eq!(raced.leader().unwrap().alternative, best.alternative);
    for ranked in &raced.ranking {
        let at = ranked.alternative;
        assert_eq!(raced.entries[at].values, full.entries[at].values);
    }
    for stage in &raced.stages {
        for dropped in &stage.dropped {
            let is_it = |r: &&crate::verdict::Ranked| r.alternative == dropped.candidate;
            let mean = full.ranking.iter().find(is_it).unwrap().mean;
            assert!(best.mean - mean > raced.least, "candidate {}", dropped.candidate);
        }
    }
    for (one, other) in raced.kinds.iter().zip(&full.kinds) {
        assert_eq!((one.kind, one.best, one.simplest), (other.kind, other.best, other.simplest));
    }
    assert_eq!(raced.kinds.len(), full.kinds.len());
}

#[test]
fn reference_the_race_for_du_lq_finds_the_best_that_brute_force_finds() {
    let scenario = field();
    for least in [0.0, 0.005] {
        let mut wanted = options(24, 4);
        wanted.worthwhile.du_lq = least;
        let found = both(&scenario, &wanted);
        let many = found[0].entries.len() / 10;
        check_race(&found, many);
    }
}

#[test]
fn reference_the_races_for_worst_tenth_and_net_return_find_the_best_too() {
    let scenario = cropped();
    for (aim, least) in [(Aim::WorstTenth, 0.0), (Aim::WorstTenth, 0.005), (Aim::NetReturn, 0.0)] {
        let mut wanted = narrow(12, 4);
        wanted.aim = aim;
        wanted.worthwhile.worst_tenth = least;
        let found = both(&scenario, &wanted);
        assert_eq!(found[0].aim, aim);
        let expected = if aim == Aim::NetReturn { 1.0 } else { least };
        assert_eq!(found[0].least, expected);
        check_race(&found, 1);
    }
}

#[test]
fn reference_with_every_order_of_sets_the_race_finds_the_best_too() {
    let scenario = cropped();
    let mut wanted = narrow(12, 4);
    wanted.aim = Aim::WorstTenth;
    wanted.space.orders = SetOrder::RULES.to_vec();
    let found = both(&scenario, &wanted);
    let of = |order: &SetOrder| {
        let is_it = |entry: &&Entry| entry.candidate.order.as_ref() == Some(order);
        found[0].entries.iter().filter(is_it).count()
    };
    // The scenario's own order is told as none.
    assert!(of(&SetOrder::BothWays) > 0 && of(&SetOrder::EverySecond) > 0);
    check_race(&found, 1);
}

#[test]
fn invariant_what_is_too_close_to_matter_stays_and_the_simplest_comes_first() {
    let mut wanted = options(12, 4);
    wanted.worthwhile.du_lq = 0.02;
    let found = run(&field(), &wanted, None, RunControl::default()).unwrap();
    let leader = *found.leader().unwrap();
    let ties: Vec<_> = found.ranking.iter().filter(|ranked| ranked.rank == 1).collect();
    let close = ties.iter().take_while(|r| found.is_too_close(leader.mean, r.mean)).count();
    assert!(close > 1 && ties[close..].iter().all(|r| !found.is_too_close(leader.mean, r.mean)));
    for pair in ties[..close].windows(2) {
        let of = |at: usize| effort(&found.entries[pair[at].alternative].candidate);
        assert!(of(0) <= of(1));
    }
    // With a difference that nothing reaches, all are ties and the fixed pattern is the simplest.
    wanted.worthwhile.du_lq = 1.0;
    let found = run(&field(), &wanted, None, RunControl::default()).unwrap();
    assert_eq!(found.ranking.len(), found.entries.len());
    assert!(found.ranking.iter().all(|ranked| ranked.rank == 1));
    assert_eq!(found.ranking[0].alternative, 0);
}

#[test]
fn invariant_every_kind_keeps_its_best_to_the_end() {
    let found = run(&field(), &options(24, 4), None, RunControl::default()).unwrap();
    let kinds: Vec<Kind> = found.kinds.iter().map(|kind| kind.kind).collect();
    let edges = [EdgeTreatment::Shift, EdgeTreatment::ExtraSet].map(Kind::Edges);
    let clocks = [Kind::Plain, Kind::ClockAsGiven, Kind::ClockChanged];
    assert_eq!(kinds, [clocks.as_slice(), &edges].concat());
    let mean = |at: usize| found.ranking.iter().find(|r| r.alternative == at).unwrap().mean;
    for kind in &found.kinds {
        for at in [kind.best, kind.simplest] {
            assert!(kind.kind.holds(&found.entries[at].candidate));
            assert_eq!(found.entries[at].values.len(), 24);
        }
        for ranked in &found.ranking {
            let is_own = kind.kind.holds(&found.entries[ranked.alternative].candidate);
            assert!(!is_own || mean(kind.best) >= ranked.mean);
        }
    }
}

#[test]
fn closed_a_record_that_ends_early_drops_only_what_needs_more() {
    // The fixed pattern waters for 18 days from 4 May: in the third year the record ends that day.
    let hour = WeatherHour {
        wind: Wind { speed_m_s: 2.0, from_deg: 240.0 },
        air_temperature_c: None,
        relative_humidity: None,
    };
    let record = |days: usize| WeatherRecord {
        title: "invented".into(),
        first_hour: date(2026, 5, 1).at(0, 0, 0, 0),
        hours: vec![Some(hour); 24 * (days + 21) + 7],
        sky: Vec::new(),
        site: None,
        measured_at_m: 2.0,
        typical_year: false,
    };
    let mut scenario = field();
    let with = |record| WeatherSource::Record {
        record,
        gaps: GapRule::Refuse,
        seasons: FromRecord::AsRecorded,
    };
    scenario.weather = with(record(365 + 366));
    let found = run(&scenario, &narrow(20, 2), None, RunControl::default()).unwrap();
    assert_eq!(found.finished, 3, "one season a year");
    assert!(found.entries.iter().all(|e| e.candidate.clock == ClockChange::AsGiven));
    let told = found.refused.iter().find(|r| r.why.contains("outside the weather record"));
    let told = told.expect("a reason");
    assert!(told.count >= 20 && told.why.contains("2026-05-01"), "{told:?}");
    scenario.weather = with(record(0));
    let refused = run(&scenario, &narrow(20, 2), None, RunControl::default()).unwrap_err();
    assert_eq!(refused, SearchError::TooFewSeasons { seasons: 1 });
}

#[test]
fn reference_search_and_worth_tell_the_same_money_within_a_boundary() {
    let scenario = l_shaped(cropped());
    let (agronomy, mut economics) = (agronomy(), economics(3));
    let mut wanted = SearchOptions { aim: Aim::NetReturn, ..narrow(3, 3) };
    wanted.space.clocks = vec![ClockChange::AsGiven];
    let found =
        run(&scenario, &wanted, Some((&agronomy, &economics)), RunControl::default()).unwrap();
    let some = &found.entries[..4];
    economics.equipment = some.iter().map(|entry| entry.candidate.equipment.clone()).collect();
    let alternatives = some.iter().map(|entry| entry.candidate.alternative.clone()).collect();
    let scenario = Scenario { alternatives, ..scenario };
    let worth = crate::worth::run(&scenario, &agronomy, &economics, RunControl::default()).unwrap();
    for (entry, weighed) in some.iter().zip(&worth.alternatives).skip(1) {
        let against = weighed.against.as_ref().unwrap();
        assert_eq!(entry.nets_per_ha, against.net_per_ha.differences);
        assert!(against.net_per_ha.figures.mean != 0.0);
    }
}
