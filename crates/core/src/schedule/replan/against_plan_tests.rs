//! Plan against actual, worked by hand.

use super::tests::{OUTLETS, calendar, name, rotation};
use super::*;
use crate::lateral::{EdgeTreatment, Lines, Machine};
use crate::schedule::plan;

fn done(outlet: usize, span_h: (f64, f64)) -> Happened {
    Happened::Done { set: name(0, outlet), span_h: Some(span_h), at_m: None }
}

/// The plan of so many passes, and what `record` made of it.
fn found(passes: usize, record: &Record) -> (Plan, AgainstPlan) {
    let (machine, rotation) = (Machine::HandMove, rotation());
    let edges = EdgeTreatment::ExtraSet;
    let lines = Lines::default();
    let stops = Stops { machine: &machine, outlets: &OUTLETS, rotation: &rotation, edges, lines };
    let calendar = calendar(passes);
    let first = plan(&calendar, &stops).unwrap();
    let course = replan(&first, &calendar, &stops, record).unwrap();
    let found = against_plan(&first, &course, record);
    (first, found)
}

#[test]
fn closed_plan_against_actual_is_worked_by_hand() {
    // Planned starts of pass 1: 6, 18, 30, 42 h, moves of 0.5 h. Outlet 1 early by 0.5 h and long by
    // 0.25 h; its move takes 1.25 h; outlet 2 late by 0.5 h; its move 0.75 h; outlet 3 late by 0.75 h;
    // outlet 4 is missed and left. Pass 2 is taken as done up to its first two sets (54 and 66 h).
    let events = vec![
        done(0, (5.5, 17.25)),
        done(1, (18.5, 30.0)),
        done(2, (30.75, 41.75)),
        Happened::Missed(name(0, 3)),
    ];
    let record = Record { now_h: 67.0, missed: MissedRule::Leave, events };
    let (_, found) = found(2, &record);
    let counts = SetCounts {
        planned: 9,
        recorded: 3,
        moved_in_time: 3,
        taken_as_done: 2,
        left: 1,
        to_catch_up: 0,
        to_come: 3,
        dropped: 0,
    };
    assert_eq!(found.counts, counts);
    let starts = found.starts.unwrap();
    assert!((starts.mean_late_h - 0.25).abs() < 1e-12);
    assert_eq!(starts.worst_late_h, 0.75);
    let moves = found.moves.unwrap();
    assert_eq!((moves.count, moves.planned_h, moves.real_h), (2, 0.5, 1.0));
    assert_eq!(moves.longer_in_all_h(), 1.0);
    let set_times = found.set_times.unwrap();
    assert_eq!((set_times.count, set_times.planned_h), (3, 11.5));
    assert!((set_times.real_h - (11.75 + 11.5 + 11.0) / 3.0).abs() < 1e-12);
    let dates: Vec<_> = found.passes.iter().map(|pass| (pass.planned_h, pass.real_h)).collect();
    assert_eq!(dates[0], ((6.0, 53.5), Some((5.5, 41.75))));
    assert_eq!((found.passes[0].sets_planned, found.passes[0].sets), (4, 3));
    assert_eq!(dates[1].0, (54.0, 113.5));
}

#[test]
fn closed_a_breakdown_is_no_slow_move_and_nothing_recorded_tells_nothing() {
    let breakdown = Happened::Breakdown { from_h: 17.75, to_h: 20.0 };
    let events = vec![done(0, (6.0, 17.5)), breakdown, done(1, (20.5, 29.0))];
    let record = Record { now_h: 29.0, events, ..Record::default() };
    let (first, found) = found(1, &record);
    assert_eq!((found.moves, found.starts.unwrap().worst_late_h), (None, 2.5));
    let none = against_plan(&first, &Replanned::as_planned(&first), &Record::default());
    assert_eq!((none.starts, none.moves, none.set_times), (None, None, None));
    assert_eq!((none.counts.planned, none.counts.to_come), (4, 4));
}
