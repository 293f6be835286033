//! What judges the clock: schedules worked by hand.

use super::*;
use crate::lateral::{EdgeTreatment, Lines, Machine, Outlets, SetOrder, Sharing, Side};
use crate::rotation::{Rotation, Shift};
use jiff::ToSpan;
use jiff::civil::{Weekday, date};
use proptest::prelude::*;

fn calendar() -> Calendar {
    Calendar {
        start: date(2026, 5, 4).at(6, 0, 0, 0),
        length: SeasonLength::Passes(4),
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

fn outlets(count: usize) -> Outlets {
    Outlets { spacing_m: 18.288, first_m: 9.144, count, reach_m: 9.0, field_width_m: f64::INFINITY }
}

/// Two stops in turn at so many outlets.
fn plan_of(calendar: &Calendar, count: usize) -> Result<Plan, ScheduleError> {
    let machine = Machine::HandMove;
    let (outlets, rotation) = (outlets(count), two_stops());
    let edges = EdgeTreatment::Shift;
    plan(
        calendar,
        &Stops {
            machine: &machine,
            outlets: &outlets,
            rotation: &rotation,
            edges,
            lines: Lines::default(),
        },
    )
}

fn two_stops() -> Rotation {
    Rotation::new(vec![Shift::NONE, Shift { across_m: 6.096, along_m: 0.0 }]).unwrap()
}

#[test]
fn closed_22_sets_of_12_hours_fill_11_days_and_lock_the_clock() {
    let plan = plan_of(&calendar(), 22).unwrap();
    let starts: Vec<String> =
        plan.passes.iter().map(|p| plan.date_time(p.span_h().0).to_string()).collect();
    assert_eq!(starts[0], "2026-05-04T06:00:00");
    assert_eq!(starts[1], "2026-05-15T06:00:00");
    assert_eq!(plan.date_time(plan.end_h()).to_string(), "2026-06-17T05:30:00");
    assert_eq!((plan.cycle, plan.passes_into_cycle), (2, 0));
    assert!(plan.day_night.is_locked());
    // 06:00–17:30 all day, 18:00–05:30 all night.
    assert!((plan.day_night.day_share - 0.5).abs() < 1e-12);
    assert!((plan.passes[1].sets[0].place_across_m - 15.24).abs() < 1e-12);
    assert_eq!(plan.passes[1].letter, 'B');
}

#[test]
fn closed_an_odd_number_of_sets_or_half_a_day_idle_breaks_the_lock() {
    let odd = plan_of(&calendar(), 21).unwrap();
    assert_eq!(odd.day_night.locked_places, 0);
    let mut idle = calendar();
    idle.idle_h = 12.0;
    assert!(!plan_of(&idle, 22).unwrap().day_night.is_locked());
    // The way back alone pushes the next pass to the next starting time.
    let mut back = calendar();
    back.return_time_h = 2.0;
    let back = plan_of(&back, 22).unwrap();
    assert_eq!(back.date_time(back.passes[1].span_h().0).to_string(), "2026-05-15T18:00:00");
}

#[test]
fn closed_one_set_a_day_starts_at_the_same_hour_every_day() {
    let daily = Calendar { sets_a_day: Some(1), length: SeasonLength::Passes(2), ..calendar() };
    let plan = plan_of(&daily, 3).unwrap();
    let starts: Vec<f64> =
        plan.passes.iter().flat_map(|p| &p.sets).map(|set| set.start_h).collect();
    assert_eq!(starts, [6.0, 30.0, 54.0, 78.0, 102.0, 126.0]);
    assert!(plan.day_night.is_locked() && plan.day_night.day_share == 1.0);
    // What breaks a lock of two sets a day does not break this one: the next start is a day later.
    for (idle_h, sets) in [(12.0, 3), (12.0, 4), (0.0, 4)] {
        let other = Calendar { idle_h, ..daily.clone() };
        assert!(plan_of(&other, sets).unwrap().day_night.is_locked(), "{idle_h} h, {sets} sets");
    }
}

#[test]
fn closed_without_starting_times_sets_follow_one_another() {
    let run = Calendar {
        sets_a_day: None,
        set_time_h: 7.0,
        length: SeasonLength::Passes(2),
        ..calendar()
    };
    let plan = plan_of(&run, 2).unwrap();
    let starts: Vec<f64> =
        plan.passes.iter().flat_map(|p| &p.sets).map(|set| set.start_h).collect();
    assert_eq!(starts, [6.0, 13.5, 21.0, 28.5]);
}

#[test]
fn closed_a_season_until_a_date_holds_whole_passes_and_shows_a_broken_cycle() {
    // Passes end on days 11, 22, 33 at 05:30; by 7 June 06:00 three are done: 1 into a cycle of 2.
    let until = SeasonLength::Until(date(2026, 6, 7).at(6, 0, 0, 0));
    let plan = plan_of(&Calendar { length: until, ..calendar() }, 22).unwrap();
    assert_eq!((plan.passes.len(), plan.passes_into_cycle), (3, 1));
}

#[test]
fn closed_overlaps_and_empty_seasons_are_refused() {
    let crowded = Calendar { sets_a_day: Some(3), ..calendar() };
    let refused = plan_of(&crowded, 22).unwrap_err();
    assert!(refused.to_string().contains("overlap"), "{refused}");
    let hurried = Calendar { pass_every_h: Some(240.0), ..calendar() };
    let refused = plan_of(&hurried, 22).unwrap_err();
    assert!(matches!(refused, ScheduleError::PassesOverlap { .. }));
    // Whoever waters by the week reads days.
    let said = refused.to_string();
    assert!(said.contains("every 240 h (10 days)") && said.contains("264 h (11 days)"), "{said}");
    let none = Calendar { length: SeasonLength::Passes(0), ..calendar() };
    assert!(matches!(plan_of(&none, 22), Err(ScheduleError::NoPass { .. })));
    let short = SeasonLength::Until(date(2026, 5, 6).at(0, 0, 0, 0));
    let short = Calendar { length: short, ..calendar() };
    assert!(matches!(plan_of(&short, 22), Err(ScheduleError::NoPass { .. })));
}

#[test]
fn closed_a_pass_every_fortnight_starts_on_the_same_weekday() {
    let every = Calendar { pass_every_h: Some(336.0), ..calendar() };
    let plan = plan_of(&every, 22).unwrap();
    assert_eq!(plan.date_time(plan.passes[3].span_h().0).to_string(), "2026-06-15T06:00:00");
}

#[test]
fn closed_day_share_of_a_set_across_midnight() {
    let set = SetPlan {
        line: 0,
        side: Side::Right,
        shift: Shift::NONE,
        outlet: 0,
        place_across_m: 0.0,
        drift_m: 0.0,
        start_h: 16.0,
        end_h: 32.0,
    };
    // Day hours: 16–18 and 30–32.
    assert!((set.day_share() - 0.25).abs() < 1e-12);
}

#[test]
fn closed_a_set_more_in_shifted_passes_pushes_the_clock_on() {
    let (machine, outlets, rotation) = (Machine::HandMove, outlets(22), two_stops());
    let edges = EdgeTreatment::ExtraSet;
    let stops = Stops {
        machine: &machine,
        outlets: &outlets,
        rotation: &rotation,
        edges,
        lines: Lines::default(),
    };
    let plan = plan(&calendar(), &stops).unwrap();
    let sets: Vec<usize> = plan.passes.iter().map(|pass| pass.sets.len()).collect();
    assert_eq!(sets, [22, 23, 22, 23]);
    // The third pass starts half a day late: the set more breaks the clock lock.
    assert_eq!(plan.date_time(plan.passes[2].span_h().0).to_string(), "2026-05-26T18:00:00");
    assert!(!plan.day_night.is_locked() && plan.day_night.places == 22);
}

/// Three outlets, a set a day at 6:00, two passes.
fn waiting(openings: Openings) -> Result<Plan, ScheduleError> {
    let length = SeasonLength::Passes(2);
    plan_of(&Calendar { sets_a_day: Some(1), length, openings, ..calendar() }, 3)
}

fn starts(plan: &Plan) -> Vec<(usize, String)> {
    let sets = plan.passes.iter().flat_map(|pass| &pass.sets);
    sets.map(|set| (set.outlet + 1, plan.date_time(set.start_h).strftime("%d %H").to_string()))
        .collect()
}

#[test]
fn closed_sets_wait_for_a_cutting_and_keep_their_order() {
    let cutting = Closure {
        from: date(2026, 5, 5).at(18, 0, 0, 0),
        to: date(2026, 5, 9).at(0, 0, 0, 0),
        why: "cutting".to_owned(),
    };
    let plan = waiting(Openings { closures: vec![cutting], ..Openings::default() }).unwrap();
    // The set of 5 May ends at 17:30; the third waits until 9 May.
    let expected =
        [(1, "04 06"), (2, "05 06"), (3, "09 06"), (1, "10 06"), (2, "11 06"), (3, "12 06")];
    assert_eq!(starts(&plan), expected.map(|(outlet, day)| (outlet, day.to_owned())));
    assert_eq!((plan.passes[0].letter, plan.passes[1].letter), ('A', 'B'));
}

#[test]
fn closed_nothing_starts_on_a_day_off() {
    let hands = Hands { days_off: vec![Weekday::Wednesday], ..Hands::default() };
    let plan = waiting(Openings { hands, ..Openings::default() }).unwrap();
    // 6 May 2026 is a Wednesday.
    let expected =
        [(1, "04 06"), (2, "05 06"), (3, "07 06"), (1, "08 06"), (2, "09 06"), (3, "10 06")];
    assert_eq!(starts(&plan), expected.map(|(outlet, day)| (outlet, day.to_owned())));
}

#[test]
fn closed_hours_that_hold_no_starting_time_are_refused() {
    let hands = Hands { from_h: 8.0, to_h: 17.0, ..Hands::default() };
    let refused = waiting(Openings { hands, ..Openings::default() }).unwrap_err();
    assert_eq!(refused, ScheduleError::NeverOpen);
}

#[test]
fn closed_a_pass_that_had_to_wait_pushes_the_next_one_on() {
    let closed = Closure {
        from: date(2026, 5, 5).at(0, 0, 0, 0),
        to: date(2026, 5, 15).at(0, 0, 0, 0),
        why: "canal turn".to_owned(),
    };
    let openings = Openings { closures: vec![closed], ..Openings::default() };
    let every = Calendar {
        sets_a_day: Some(1),
        length: SeasonLength::Passes(2),
        pass_every_h: Some(120.0),
        openings,
        ..calendar()
    };
    // The first pass ends on 16 May; the second, due on 9 May, follows it.
    let starts = starts(&plan_of(&every, 3).unwrap());
    assert_eq!((starts[2].1.as_str(), starts[3].1.as_str()), ("16 06", "17 06"));
}

proptest! {
    #[test]
    fn invariant_no_set_runs_in_a_closure_and_none_is_left_out(
        from_h in 0.0..400.0_f64, lasts_h in 1.0..200.0_f64, count in 1..8_usize, sets in 1..3_u32
    ) {
        let at = |hour: f64| date(2026, 5, 4).at(0, 0, 0, 0) + ((hour * 60.0) as i64).minutes();
        let closure = Closure { from: at(from_h), to: at(from_h + lasts_h), why: "spraying".into() };
        let openings = Openings { closures: vec![closure.clone()], ..Openings::default() };
        let plan = plan_of(&Calendar { sets_a_day: Some(sets), openings, ..calendar() }, count).unwrap();
        for pass in &plan.passes {
            let outlets: Vec<usize> = pass.sets.iter().map(|set| set.outlet).collect();
            prop_assert_eq!(outlets, (0..count).collect::<Vec<_>>());
            for set in &pass.sets {
                let (on, off) = (plan.date_time(set.start_h), plan.date_time(set.end_h));
                prop_assert!(off <= closure.from || on >= closure.to, "{on} {off}");
            }
        }
    }
}

/// Six outlets, sets of 11.5 h and half an hour to move, no starting times.
fn shared(lines: Lines) -> Plan {
    let calendar = Calendar { sets_a_day: None, length: SeasonLength::Passes(2), ..calendar() };
    let (machine, outlets, rotation) = (Machine::HandMove, outlets(6), two_stops());
    let edges = EdgeTreatment::Shift;
    let stops = Stops { machine: &machine, outlets: &outlets, rotation: &rotation, edges, lines };
    plan(&calendar, &stops).unwrap()
}

/// Line, side, outlet from 1 and start of the first sets of a pass.
fn first_sets(plan: &Plan, count: usize) -> Vec<(usize, Side, usize, f64)> {
    let sets = plan.passes[0].sets.iter().take(count);
    sets.map(|set| (set.line, set.side, set.outlet + 1, set.start_h)).collect()
}

#[test]
fn closed_two_lines_water_at_once_and_finish_in_half_the_time() {
    let plan = shared(Lines { count: 2, ..Lines::default() });
    let right = Side::Right;
    assert_eq!(
        first_sets(&plan, 4),
        [(0, right, 1, 6.0), (1, right, 4, 6.0), (0, right, 2, 18.0), (1, right, 5, 18.0)]
    );
    // Three sets each: 06:00 to 05:30 of the second day on.
    assert_eq!(plan.passes[0].span_h(), (6.0, 41.5));
    assert_eq!(plan.passes[1].span_h().0, 42.0);
}

#[test]
fn closed_lines_that_take_turns_never_wait_for_a_move() {
    let plan = shared(Lines { count: 2, sharing: Sharing::ByTurns, ..Lines::default() });
    let right = Side::Right;
    assert_eq!(
        first_sets(&plan, 4),
        [(0, right, 1, 6.0), (1, right, 4, 17.5), (0, right, 2, 29.0), (1, right, 5, 40.5)]
    );
    // Six sets of 11.5 h on end.
    assert_eq!(plan.passes[0].span_h(), (6.0, 75.0));
}

#[test]
fn closed_one_line_on_both_sides_goes_down_one_and_back_the_other() {
    let plan = shared(Lines { left_first_m: Some(0.0), ..Lines::default() });
    let order: Vec<(Side, usize)> =
        plan.passes[0].sets.iter().map(|set| (set.side, set.outlet + 1)).collect();
    let expected: Vec<(Side, usize)> = (1..=6)
        .map(|outlet| (Side::Right, outlet))
        .chain((1..=6).rev().map(|outlet| (Side::Left, outlet)))
        .collect();
    assert_eq!(order, expected);
    assert_eq!(plan.day_night.places, 12);
}

#[test]
fn closed_lines_that_cannot_share_the_outlets_are_refused() {
    let (machine, outlets, rotation) = (Machine::HandMove, outlets(2), two_stops());
    let (edges, lines) = (EdgeTreatment::Shift, Lines { count: 3, ..Lines::default() });
    let stops = Stops { machine: &machine, outlets: &outlets, rotation: &rotation, edges, lines };
    let refused = plan(&calendar(), &stops).unwrap_err();
    assert_eq!(refused, ScheduleError::Lines { lines: 3, outlets: 2 });
}

#[test]
fn closed_every_second_outlet_with_the_next_stop_on_the_way_back() {
    let calendar = Calendar {
        order: SetOrder::EverySecondNextStop,
        length: SeasonLength::Passes(3),
        ..calendar()
    };
    let plan = plan_of(&calendar, 6).unwrap();
    // Stops 0 and 6.096 m in turn: outlets 1, 3, 5 at the pass's own, 6, 4, 2 at the next.
    let stands = |pass: usize| -> Vec<(usize, f64)> {
        let sets = plan.passes[pass].sets.iter();
        sets.map(|set| (set.outlet + 1, set.shift.across_m)).collect()
    };
    let out = |at: f64, back: f64| vec![(1, at), (3, at), (5, at), (6, back), (4, back), (2, back)];
    assert_eq!(stands(0), out(0.0, 6.096));
    assert_eq!(stands(1), out(6.096, 0.0));
    assert_eq!(stands(2), stands(0));
    for set in plan.passes.iter().flat_map(|pass| &pass.sets) {
        let mark_m = 9.144 + set.outlet as f64 * 18.288 + set.shift.across_m;
        assert!((set.place_across_m - mark_m).abs() < 1e-9);
    }
}
