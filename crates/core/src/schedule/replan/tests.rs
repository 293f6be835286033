//! What judges re-planning: seasons worked by hand, and what no record may do.

use super::*;
use crate::lateral::{EdgeTreatment, Lines, Machine, Outlets, SetOrder};
use crate::rotation::{Rotation, Shift};
use crate::schedule::passes::SetPlan;
use crate::schedule::{Closure, Openings, SeasonLength, plan};
use jiff::civil::date;
use proptest::prelude::*;

pub(super) const OUTLETS: Outlets =
    Outlets { spacing_m: 18.0, first_m: 9.0, count: 4, reach_m: 9.0, field_width_m: f64::INFINITY };

pub(super) fn rotation() -> Rotation {
    Rotation::new(vec![Shift::NONE, Shift { across_m: 6.0, along_m: 0.0 }]).unwrap()
}

/// Two sets a day at 06:00 and 18:00, four outlets: a pass takes two days.
pub(super) fn calendar(passes: usize) -> Calendar {
    Calendar {
        start: date(2026, 5, 4).at(6, 0, 0, 0),
        length: SeasonLength::Passes(passes),
        set_time_h: 11.5,
        move_gap_h: 0.5,
        sets_a_day: Some(2),
        return_time_h: 0.0,
        idle_h: 0.0,
        pass_every_h: None,
        order: SetOrder::DryReturn,
        openings: Openings::default(),
        clock: crate::clock::FieldClock::default(),
    }
}

fn replan_of(calendar: &Calendar, record: &Record) -> Result<Replanned, Vec<ReplanProblem>> {
    let (machine, rotation) = (Machine::HandMove, rotation());
    let edges = EdgeTreatment::ExtraSet;
    let stops = Stops {
        machine: &machine,
        outlets: &OUTLETS,
        rotation: &rotation,
        edges,
        lines: Lines::default(),
    };
    replan(&plan(calendar, &stops).unwrap(), calendar, &stops, record)
}

pub(super) fn name(pass: usize, outlet: usize) -> SetName {
    SetName { pass, outlet, is_extra: false }
}

/// Outlet and start of every set of a pass.
fn sets(replanned: &Replanned, pass: usize) -> Vec<(usize, f64)> {
    replanned.plan.passes[pass].sets.iter().map(|set| (set.outlet, set.start_h)).collect()
}

#[test]
fn closed_nothing_recorded_changes_nothing() {
    let (machine, rotation) = (Machine::HandMove, rotation());
    let edges = EdgeTreatment::ExtraSet;
    let stops = Stops {
        machine: &machine,
        outlets: &OUTLETS,
        rotation: &rotation,
        edges,
        lines: Lines::default(),
    };
    for calendar in [
        calendar(3),
        Calendar { sets_a_day: None, idle_h: 7.0, return_time_h: 2.0, ..calendar(3) },
        Calendar { pass_every_h: Some(96.0), ..calendar(3) },
    ] {
        let planned = plan(&calendar, &stops).unwrap();
        for now_h in [0.0, 6.0, 20.0, 53.0, 60.0, 1000.0] {
            let record = Record { now_h, ..Record::default() };
            let replanned = replan(&planned, &calendar, &stops, &record).unwrap();
            assert_eq!(replanned.plan, planned, "now {now_h}");
        }
    }
}

#[test]
fn closed_a_set_made_up_after_the_last_pass_ends_the_season() {
    // Pass 2 has a set more and ends at 113.5 h; outlet 3 of pass 1 was made up from 200 h on.
    let (set, span_h) = (name(0, 2), Some((200.0, 211.5)));
    let events = vec![Happened::Done { set, span_h, at_m: None }];
    let record = Record { now_h: 220.0, events, ..Record::default() };
    let replanned = replan_of(&calendar(2), &record).unwrap();
    assert_eq!(replanned.plan.passes[1].span_h().1, 113.5);
    assert_eq!(replanned.plan.passes[0].span_h().1, 211.5);
    assert_eq!(replanned.plan.end_h(), 211.5);
}

#[test]
fn closed_a_breakdown_of_a_day_pushes_the_rest_on_by_a_day() {
    // Sets of pass 1 start at 6, 18, 30, 42 h; nothing runs from 29.5 to 53 h.
    let breakdown = Happened::Breakdown { from_h: 29.5, to_h: 53.0 };
    let record = Record { now_h: 53.0, events: vec![breakdown], ..Record::default() };
    let replanned = replan_of(&calendar(2), &record).unwrap();
    assert_eq!(sets(&replanned, 0), [(0, 6.0), (1, 18.0), (2, 54.0), (3, 66.0)]);
    assert_eq!(
        replanned.standing[0],
        [Standing::TakenAsDone, Standing::TakenAsDone, Standing::CatchUp, Standing::CatchUp]
    );
    // Pass 2 keeps its shift, and its set more comes first.
    assert_eq!(sets(&replanned, 1)[..2], [(0, 78.0), (0, 90.0)]);
    assert_eq!(replanned.plan.passes[1].letter, 'B');
    assert_eq!(replanned.standing[1], [Standing::ToCome; 5]);
    // Left instead: the pass is over at 53 h and the next begins.
    let leave = Record { missed: MissedRule::Leave, ..record };
    let replanned = replan_of(&calendar(2), &leave).unwrap();
    assert_eq!(sets(&replanned, 0), [(0, 6.0), (1, 18.0)]);
    assert_eq!(sets(&replanned, 1)[0], (0, 54.0));
    let left: Vec<usize> = replanned.left.iter().map(|(_, set)| set.outlet).collect();
    assert_eq!(left, [2, 3]);
}

#[test]
fn closed_a_missed_set_is_caught_up_next() {
    // Outlet 2 was skipped at 18 h; it is now 31 h, with outlet 3 running until 41.5 h.
    let record =
        Record { now_h: 31.0, events: vec![Happened::Missed(name(0, 1))], ..Record::default() };
    let replanned = replan_of(&calendar(1), &record).unwrap();
    assert_eq!(sets(&replanned, 0), [(0, 6.0), (2, 30.0), (1, 42.0), (3, 54.0)]);
    assert_eq!(replanned.standing[0][2], Standing::CatchUp);
}

#[test]
fn closed_a_set_missed_in_a_pass_that_is_over_is_left() {
    let record =
        Record { now_h: 60.0, events: vec![Happened::Missed(name(0, 1))], ..Record::default() };
    let replanned = replan_of(&calendar(2), &record).unwrap();
    assert_eq!(replanned.left.len(), 1);
    assert_eq!(replanned.plan.passes[0].sets.len(), 3);
}

#[test]
fn closed_what_was_done_stands_as_recorded() {
    let done = Happened::Done { set: name(0, 0), span_h: Some((7.0, 15.0)), at_m: Some(-3.0) };
    let record = Record { now_h: 16.0, events: vec![done], ..Record::default() };
    let set = replan_of(&calendar(1), &record).unwrap().plan.passes[0].sets[0];
    assert_eq!((set.start_h, set.end_h, set.place_across_m), (7.0, 15.0, 6.0));
}

#[test]
fn closed_a_season_with_an_end_loses_the_passes_that_no_longer_fit() {
    // Two passes end at 113.5 h (pass 2 has five sets); the season ends at 120 h.
    let until = SeasonLength::Until(date(2026, 5, 9).at(0, 0, 0, 0));
    let calendar = Calendar { length: until, ..calendar(0) };
    let breakdown = Happened::Breakdown { from_h: 29.5, to_h: 53.0 };
    let record = Record { now_h: 53.0, events: vec![breakdown], ..Record::default() };
    let replanned = replan_of(&calendar, &record).unwrap();
    assert_eq!((replanned.plan.passes.len(), replanned.dropped_passes), (1, 1));
}

#[test]
fn closed_what_was_done_out_of_turn_stays_though_passes_before_it_no_longer_fit() {
    // No water from hour 98 to 192: pass 2 runs at 54, 66, 78, 198 and 210, pass 3 from 222 to 269.5, and the
    // season ends at 276. Broken from 54 to 221, pass 2 can only be caught up until 281.5 and is dropped; of
    // pass 3 one set is done before that.
    let from = date(2026, 5, 8).at(2, 0, 0, 0);
    let closures = vec![Closure { from, to: date(2026, 5, 12).at(0, 0, 0, 0), why: "cut".into() }];
    let calendar = Calendar {
        length: SeasonLength::Until(date(2026, 5, 15).at(12, 0, 0, 0)),
        openings: Openings { closures, ..Openings::default() },
        ..calendar(0)
    };
    let broken = Happened::Breakdown { from_h: 54.0, to_h: 221.0 };
    let span_h = Some((221.1, 221.9));
    let done = Happened::Done { set: name(2, 1), span_h, at_m: None };
    let record = Record { now_h: 221.95, events: vec![broken, done], ..Record::default() };
    let replanned = replan_of(&calendar, &record).unwrap();
    assert_eq!((&replanned.numbers[..], replanned.dropped_passes), (&[0, 2][..], 1));
    assert_eq!(sets(&replanned, 1)[0], (1, 221.1));
}

#[test]
fn closed_everything_wrong_with_a_record_is_told_at_once() {
    let done = |pass, outlet, span_h| Happened::Done {
        set: name(pass, outlet),
        span_h: Some(span_h),
        at_m: None,
    };
    let events = vec![
        done(9, 0, (6.0, 7.0)),
        done(0, 9, (8.0, 9.0)),
        done(0, 1, (12.0, 11.0)),
        done(0, 2, (13.0, 15.0)),
        done(0, 2, (14.0, 16.0)),
        Happened::Missed(SetName { pass: 0, outlet: 0, is_extra: true }),
        Happened::Breakdown { from_h: 90.0, to_h: 99.0 },
        Happened::Done { set: name(0, 3), span_h: None, at_m: Some(20.0) },
        done(1, 1, (-5.0, -4.0)),
    ];
    let record = Record { now_h: 30.0, events, ..Record::default() };
    let problems = replan_of(&calendar(2), &record).unwrap_err();
    let told: Vec<usize> = problems.iter().map(ReplanProblem::event).collect();
    assert_eq!(told, [0, 1, 2, 4, 4, 5, 6, 7, 8], "{problems:?}");
}

#[test]
fn closed_a_set_that_a_breakdown_cut_short_must_be_recorded() {
    let breakdown = Happened::Breakdown { from_h: 20.0, to_h: 53.0 };
    let record = Record { now_h: 53.0, events: vec![breakdown], ..Record::default() };
    let problems = replan_of(&calendar(1), &record).unwrap_err();
    assert!(matches!(problems[..], [ReplanProblem::OverlapsUnrecorded { outlet: 1, .. }]));
    let cut = Happened::Done { set: name(0, 1), span_h: Some((18.0, 20.0)), at_m: None };
    let record = Record { events: vec![breakdown, cut], ..record };
    let replanned = replan_of(&calendar(1), &record).unwrap();
    assert_eq!(sets(&replanned, 0), [(0, 6.0), (1, 18.0), (2, 54.0), (3, 66.0)]);
}

#[test]
fn closed_a_set_that_started_late_for_a_breakdown_stands_as_recorded() {
    // Outlet 2 was to start at 18 h; the pump stood from 20 to 21 h, and the set ran from then on.
    let breakdown = Happened::Breakdown { from_h: 17.8, to_h: 21.0 };
    let late = Happened::Done { set: name(0, 1), span_h: Some((21.0, 29.0)), at_m: None };
    for now_h in [29.0, 36.0] {
        let record = Record { now_h, events: vec![breakdown, late], ..Record::default() };
        let replanned = replan_of(&calendar(1), &record).unwrap();
        assert_eq!(sets(&replanned, 0)[..2], [(0, 6.0), (1, 21.0)]);
    }
    let crossing = Happened::Breakdown { from_h: 20.0, to_h: 21.0 };
    let record = Record { now_h: 29.0, events: vec![crossing, late], ..Record::default() };
    let replanned = replan_of(&calendar(1), &record).unwrap();
    assert_eq!(sets(&replanned, 0), [(0, 6.0), (1, 21.0), (2, 30.0), (3, 42.0)]);
}

#[test]
fn closed_slow_moves_put_the_next_set_off() {
    // Outlet 2 started at 19.2 h and ran its 11.5 h to 30.7 h; outlet 3 was to start at 30 h.
    let late = Happened::Done { set: name(0, 1), span_h: Some((19.2, 30.7)), at_m: None };
    let record = Record { now_h: 30.7, events: vec![late], ..Record::default() };
    let replanned = replan_of(&calendar(1), &record).unwrap();
    assert_eq!(sets(&replanned, 0), [(0, 6.0), (1, 19.2), (2, 42.0), (3, 54.0)]);
    assert_eq!(replanned.standing[0][2], Standing::ToCome);
    // A day later nobody can tell what became of outlet 3.
    let record = Record { now_h: 60.0, events: vec![late], ..Record::default() };
    let problems = replan_of(&calendar(1), &record).unwrap_err();
    assert!(matches!(problems[..], [ReplanProblem::OverlapsUnrecorded { outlet: 2, .. }]));
    // Without a list of starting times the delay runs through: each set 1.2 h later.
    let calendar = Calendar { sets_a_day: None, ..calendar(1) };
    let record = Record { now_h: 30.7, events: vec![late], ..Record::default() };
    let replanned = replan_of(&calendar, &record).unwrap();
    let starts: Vec<f64> = sets(&replanned, 0).iter().map(|set| set.1).collect();
    assert!((starts[2] - 31.2).abs() < 1e-9 && (starts[3] - 43.2).abs() < 1e-9, "{starts:?}");
}

#[test]
fn closed_after_a_breakdown_the_new_times_count_as_the_plan() {
    // The breakdown of the first test; at 80 h both caught-up sets and one of pass 2 have begun.
    let breakdown = Happened::Breakdown { from_h: 29.5, to_h: 53.0 };
    let record = Record { now_h: 80.0, events: vec![breakdown], ..Record::default() };
    let replanned = replan_of(&calendar(2), &record).unwrap();
    assert_eq!(replanned.standing[0], [Standing::TakenAsDone; 4]);
    assert_eq!(replanned.standing[1][0], Standing::TakenAsDone);
    assert_eq!(replanned.standing[1][1], Standing::ToCome);
}

/// What may happen to one set of the season: done on time, done elsewhere, missed, not recorded.
fn event(slot: usize, what: u8, set: SetName, planned: SetPlan) -> Option<Happened> {
    let at_m = (what == 1).then_some(if slot.is_multiple_of(2) { 3.0 } else { -3.0 });
    match what {
        0 | 1 => {
            let late_h = 0.25 * f64::from(u8::from(what == 1));
            let span_h = Some((planned.start_h + late_h, planned.end_h));
            Some(Happened::Done { set, span_h, at_m })
        }
        2 => Some(Happened::Missed(set)),
        _ => None,
    }
}

proptest! {
    #[test]
    fn invariant_nothing_recorded_is_lost_nothing_overlaps_and_the_rotation_stays(
        what in prop::collection::vec(0u8..4, 14),
        now in 0usize..14,
        leave in any::<bool>(),
        breakdown in prop::option::of(1.0..60.0f64),
        sets_a_day in prop::option::of(Just(2u32)),
    ) {
        let calendar = Calendar { sets_a_day, return_time_h: 1.5, ..calendar(3) };
        let (machine, rotation) = (Machine::HandMove, rotation());
        let edges = EdgeTreatment::ExtraSet;
        let stops = Stops { machine: &machine, outlets: &OUTLETS, rotation: &rotation, edges, lines: Lines::default() };
        let planned = plan(&calendar, &stops).unwrap();
        let mut events = Vec::new();
        let mut at = 0;
        let mut now_h = 0.0f64;
        for (pass, sets) in planned.passes.iter().enumerate() {
            for (index, set) in sets.sets.iter().enumerate() {
                if at < now {
                    let is_extra = pass == 1 && index == 0;
                    let set_name = SetName { pass, outlet: set.outlet, is_extra };
                    events.extend(event(at, what[at], set_name, *set));
                    now_h = set.end_h;
                }
                at += 1;
            }
        }
        if let Some(hours) = breakdown {
            events.push(Happened::Breakdown { from_h: now_h + 0.1, to_h: now_h + 0.1 + hours });
            now_h += 0.1 + hours;
        }
        let missed = if leave { MissedRule::Leave } else { MissedRule::CatchUp };
        let record = Record { now_h, missed, events };
        let replanned = replan(&planned, &calendar, &stops, &record).unwrap();
        let all: Vec<SetPlan> =
            replanned.plan.passes.iter().flat_map(|pass| pass.sets.clone()).collect();
        // Every recorded set is there, as recorded.
        for happened in &record.events {
            if let Happened::Done { set, span_h: Some(span_h), at_m } = happened {
                let offset_m = at_m.unwrap_or(rotation.at(set.pass).1.across_m);
                let found = all.iter().any(|one| {
                    let off_m = one.place_across_m - OUTLETS.place_m(one.outlet) - offset_m;
                    (one.start_h, one.end_h) == *span_h
                        && one.outlet == set.outlet
                        && (off_m.abs() < 1e-9 || set.is_extra)
                });
                prop_assert!(found, "{happened:?} is lost");
            }
        }
        // In time order nothing overlaps, and what is to come has its move gap.
        for pair in all.windows(2) {
            prop_assert!(pair[1].start_h >= pair[0].end_h - 1e-9, "{pair:?}");
            if pair[1].start_h >= now_h {
                prop_assert!(pair[1].start_h - pair[0].end_h >= 0.5 - 1e-9, "{pair:?}");
            }
        }
        // Passes in order, each at the shift of the rotation; every set is there once or left.
        prop_assert!(replanned.numbers.windows(2).all(|pair| pair[0] < pair[1]));
        for (pass, number) in replanned.plan.passes.iter().zip(&replanned.numbers) {
            prop_assert_eq!(pass.shift, rotation.at(*number).1);
            for (set, standing) in pass.sets.iter().zip(&replanned.standing[replanned.numbers.iter().position(|n| n == number).unwrap()]) {
                if *standing != Standing::Recorded {
                    let places = &planned.passes[*number].sets;
                    prop_assert!(places.iter().any(|one| one.place_across_m == set.place_across_m));
                }
            }
        }
        let count: usize = planned.passes.iter().map(|pass| pass.sets.len()).sum();
        prop_assert_eq!(all.len() + replanned.left.len(), count);
    }
}
