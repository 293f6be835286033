//! What judges the search: brute force, identities, threads, stops.

use super::*;
use crate::lateral::{EdgeTreatment, Machine, Wheel, WheelSize};
use crate::model::Scenario;
use crate::root_zone::ground::Ground;
use crate::season::tests::{alternative, scenario, sprinkler, windy};
use crate::season::{Progress, RunControl};
use crate::seasons;
use crate::sprinkler::losses::Losses;
use crate::sprinkler::shape::Shape;
use crate::units::M_PER_FT as FT;
use std::sync::atomic::{AtomicUsize, Ordering};

pub(super) fn field() -> Scenario {
    let fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 84.0));
    let mut scenario = scenario(5.0, 6, vec![fixed]);
    scenario.weather = windy(3.5);
    scenario.losses = Losses::Fraction(0.1);
    scenario
}

pub(super) fn options(seasons: usize, first_seasons: usize) -> SearchOptions {
    SearchOptions {
        space: SearchSpace {
            rotations: RotationRule { longest: 3, repeats: true, every_order: false },
            hand: HandGrid { parts_across: 4, half_along: true },
            edges: vec![EdgeTreatment::Shift, EdgeTreatment::ExtraSet],
            orders: Vec::new(),
            clocks: vec![ClockChange::AsGiven, ClockChange::IdleHalfDay],
            insets_m: Vec::new(),
            outlet_counts: Vec::new(),
            sizes: Vec::new(),
            travels_m: Vec::new(),
            spacings_m: Vec::new(),
        },
        equipment: EquipmentRule { joints: 2, ..EquipmentRule::default() },
        aim: Aim::DuLqInterior,
        worthwhile: WorthwhileDifference { du_lq: 0.0, worst_tenth: 0.0, net_per_ha: None },
        seasons,
        first_seasons,
        confidence_level: 0.9,
        weigh_best: 0,
    }
}

pub(super) fn narrow(seasons: usize, first_seasons: usize) -> SearchOptions {
    let mut options = options(seasons, first_seasons);
    options.space.rotations.longest = 2;
    options
}

#[test]
fn closed_identical_seasons_are_merged_and_the_fixed_pattern_comes_first() {
    // Stops 0, ±15, ±30 ft: 5 + 15 rotations of up to 2, of which 5 are A A: 15 distinct rotations.
    // The fixed one has no opened edge, so its extra set is no change. And ±30 ft is half the
    // spacing: with a set more, both stand at the same places at the same hours. So with a set more
    // there are 4 stops, 4 + 6 rotations, of which 9 are not the fixed one: 15 + 9 a clock.
    let found = Candidates::of(&field(), &narrow(2, 2).space, &EquipmentRule::default()).unwrap();
    assert_eq!(found.described, 20 * 2 * 2);
    assert_eq!(found.all.len(), 2 * (15 + 9));
    let fixed = &found.all[0];
    assert_eq!(fixed.alternative.rotation, crate::rotation::Rotation::fixed());
    assert_eq!(fixed.descriptions, 4, "A and A A, shifted and with a set more");
    let descriptions: usize = found.all.iter().map(|c| c.descriptions).sum();
    assert_eq!((descriptions, found.refused.len()), (80, 0));
}

#[test]
fn reference_composed_passes_are_the_seasons_run_in_full() {
    let scenario = field();
    let found = run(&scenario, &options(3, 3), None, RunControl::default()).unwrap();
    let many = Scenario {
        alternatives: found.entries.iter().map(|e| e.candidate.alternative.clone()).collect(),
        ..scenario
    };
    let day = crate::root_zone::CropDay::new(5.0, 0.0, 0.5, 90.0, 90.0);
    let ground = Ground { first_day: 0, days: vec![vec![day; 60]], depletion_mm: 0.0, ky: 1.0 };
    let full = seasons::run(&many, &ground, 3, RunControl::default()).unwrap();
    assert!(found.entries.len() > 80, "{}", found.entries.len());
    for (at, entry) in found.entries.iter().enumerate() {
        for (season, water) in entry.water.iter().enumerate() {
            let wanted = &full.figures[season][at];
            let off = (water.du_lq - wanted.du_lq).abs().max((water.cu - wanted.cu).abs());
            assert!(off < 1e-12, "candidate {at}, season {season}: {off}");
        }
    }
}

#[test]
fn invariant_threads_change_no_bit() {
    let scenario = field();
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        let found =
            pool.install(|| run(&scenario, &narrow(6, 2), None, RunControl::default()).unwrap());
        let values: Vec<Vec<f64>> = found.entries.iter().map(|e| e.values.clone()).collect();
        (values, found.ranking, found.stages)
    };
    assert_eq!(with(1), with(3));
}

#[test]
fn invariant_two_identical_wheels_never_rank_apart() {
    let mut options = narrow(6, 2);
    options.space.clocks = vec![ClockChange::AsGiven];
    options.space.edges = vec![EdgeTreatment::Shift];
    options.space.travels_m = vec![15.0 * FT, 20.0 * FT, 15.0 * FT, 19.9 * FT];
    options.space.spacings_m = vec![60.0 * FT, 50.0 * FT];
    let found = run(&field(), &options, None, RunControl::default()).unwrap();
    assert_eq!(found.combos.len(), 8);
    for (a, b) in [(0, 4), (1, 5)] {
        let (a, b) = (&found.combos[a], &found.combos[b]);
        assert_eq!((a.best, a.rank, a.tied, a.is_tied), (b.best, b.rank, b.tied, b.is_tied));
        assert!(a.is_tied && a.best.is_some());
    }
    // Every combination keeps its best to the end, and says how far its turns miss the spacing.
    for combo in &found.combos {
        let best = &found.entries[combo.best.unwrap()];
        assert_eq!((best.dropped_at, best.values.len()), (None, 6));
    }
    let miss_ft = |at: usize| found.combos[at].combo.reach.as_ref().unwrap().drift_per_move_m / FT;
    assert!(miss_ft(0).abs() < 1e-9 && (miss_ft(6) + 0.3).abs() < 1e-9);
    assert!((miss_ft(3) - 10.0).abs() < 1e-9, "three turns of 20 ft pass the outlet at 50 ft");
}

#[test]
fn closed_wheels_by_name_come_first_and_keep_their_names() {
    let mut options = narrow(2, 2);
    options.space.sizes = vec![WheelSize::Five, WheelSize::Nine];
    options.space.travels_m = vec![20.0 * FT, 30.0 * FT];
    let found = run(&field(), &options, None, RunControl::default()).unwrap();
    let wheels = found.combos.iter().map(|combo| match combo.combo.machine {
        Machine::WheelLine(wheel) => wheel,
        Machine::HandMove => panic!("no wheel line"),
    });
    let told: Vec<(i64, Option<WheelSize>)> = wheels
        .map(|w| ((w.travel_per_turn_m / FT).round() as i64, options.space.size_of(&w)))
        .collect();
    // The travel that was given too may be measured: it has no name.
    let expected = [(15, Some(WheelSize::Five)), (30, None), (20, None), (30, None)];
    assert_eq!(told, expected);
}

#[test]
fn closed_a_stopped_search_keeps_what_is_finished() {
    let scenario = field();
    let calls = AtomicUsize::new(0);
    let stop_after = |most: usize| {
        calls.store(0, Ordering::SeqCst);
        let go_on = |progress: Progress| {
            assert!(progress.done <= progress.total);
            calls.fetch_add(1, Ordering::SeqCst) + 1 < most
        };
        run(&scenario, &narrow(12, 4), None, RunControl::new(&go_on))
    };
    let partial = stop_after(5).unwrap();
    assert!(partial.is_partial());
    assert_eq!((partial.finished, partial.ranking[0].rank), (5, 1));
    assert_eq!(stop_after(1).unwrap_err(), SearchError::Stopped);
    assert!(!stop_after(1000).unwrap().is_partial());
}

#[test]
fn invariant_a_viewer_sees_every_look_but_the_last_and_changes_nothing() {
    let scenario = field();
    let mut seen: Vec<(usize, usize)> = Vec::new();
    let mut viewer = |found: &Found| {
        assert!(found.is_partial() && found.ranking[0].rank == 1);
        seen.push((found.finished, found.ranking.len()));
    };
    let control = SearchControl::new(&|_| true).with_viewer(&mut viewer);
    let watched = run(&scenario, &narrow(12, 4), None, control).unwrap();
    let looks: Vec<usize> = seen.iter().map(|(seasons, _)| *seasons).collect();
    assert_eq!(looks, [4, 8]);
    assert!(seen.is_sorted_by(|a, b| a.1 >= b.1), "{seen:?}");
    let plain = run(&scenario, &narrow(12, 4), None, RunControl::default()).unwrap();
    assert_eq!((watched.ranking, watched.stages), (plain.ranking, plain.stages));
}

#[test]
fn closed_refusals_say_what_is_wrong() {
    let scenario = field();
    let mut huge = options(4, 2);
    huge.space.rotations = RotationRule { longest: 8, repeats: true, every_order: true };
    let refused = run(&scenario, &huge, None, RunControl::default()).unwrap_err();
    assert!(matches!(refused, SearchError::TooMany { candidates } if candidates > 20_000));
    let mut none = options(4, 2);
    none.space.edges.clear();
    assert_eq!(
        run(&scenario, &none, None, RunControl::default()).unwrap_err(),
        SearchError::NoCandidates
    );
    let mut net = options(4, 2);
    net.aim = Aim::NetReturn;
    let refused = run(&scenario, &net, None, RunControl::default()).unwrap_err();
    assert!(matches!(refused, SearchError::NoCrop(_)), "{refused}");
    // One set more does not fit into a pass every 3 days: refused, told, and the rest goes on.
    let mut tight = scenario;
    tight.calendar.pass_every_h = Some(72.0);
    let mut idle = narrow(2, 2);
    idle.space.clocks = vec![ClockChange::AsGiven];
    let found = run(&tight, &idle, None, RunControl::default()).unwrap();
    assert!(found.refused.iter().any(|r| r.count > 0 && r.why.contains("overlap")));
}

#[test]
fn closed_a_hand_move_is_searched_on_its_grid() {
    let mut scenario = field();
    scenario.alternatives[0].lateral.machine = Machine::HandMove;
    let mut options = narrow(2, 2);
    options.space.clocks = vec![ClockChange::AsGiven];
    options.space.edges = vec![EdgeTreatment::Shift];
    let found = run(&scenario, &options, None, RunControl::default()).unwrap();
    // ±2 quarters of 60 ft within 30 ft, with and without half a spacing along: 10 stops, 55 sets.
    assert_eq!(found.combos[0].combo.stops.len(), 10);
    assert_eq!(found.entries.len(), 55);
    let along = |at: usize| {
        found.entries[at].candidate.alternative.rotation.shifts().iter().any(|s| s.along_m > 0.0)
    };
    let with = found.ranking.iter().filter(|r| along(r.alternative)).count();
    assert!(with > 20, "{with}");
}

#[test]
fn closed_inset_and_number_of_outlets_are_layouts() {
    let mut options = narrow(2, 2);
    options.space.insets_m = vec![15.0 * FT];
    options.space.outlet_counts = vec![5, 9];
    let found = Candidates::of(&field(), &options.space, &options.equipment).unwrap();
    let of = |inset_ft: f64, count: usize| {
        let like = |c: &&Candidate| {
            (c.inset_m / FT - inset_ft).abs() < 1e-9 && c.alternative.outlets.count == count
        };
        found.all.iter().filter(like).count()
    };
    assert!(of(0.0, 6) > 0 && of(0.0, 5) > 0 && of(15.0, 6) > 0 && of(15.0, 5) > 0);
    assert!(found.refused.iter().any(|r| r.why.contains("9 outlets")));
    // Moved by 15 ft and back by 15 ft is where it was, but the reach is from the new outlet.
    assert!(found.all.iter().any(|c| c.descriptions > 1 && c.clock == ClockChange::AsGiven));
    assert!(matches!(field().alternatives[0].lateral.machine, Machine::WheelLine(Wheel { .. })));
}
