//! What judges the stops: the trade rules and roll geometry of wheel lines.

use super::*;
use crate::lateral::wheel::travel_per_turn_m;
use crate::units::{M_PER_FT, M_PER_IN};

fn wheel(travel_ft: f64) -> Wheel {
    Wheel::new(travel_ft * M_PER_FT, 20.0)
}

fn outlets(spacing_ft: f64, reach_ft: f64) -> Outlets {
    Outlets {
        spacing_m: spacing_ft * M_PER_FT,
        first_m: 30.0 * M_PER_FT,
        count: 22,
        reach_m: reach_ft * M_PER_FT,
        field_width_m: f64::INFINITY,
    }
}

fn reachable_ft(travel_ft: f64, reach_ft: f64) -> Vec<f64> {
    let reach = wheel_reach(&wheel(travel_ft), &outlets(60.0, reach_ft));
    reach.reachable().map(|stop| (stop.shift.across_m / M_PER_FT * 1e6).round() / 1e6).collect()
}

#[test]
fn closed_a_nominal_7_foot_wheel_stands_20_ft_off_and_not_30() {
    // Common practice, no source: 20 ft a turn, three turns to the next outlet.
    assert_eq!(reachable_ft(20.0, 30.0), [-20.0, 0.0, 20.0]);
    let reach = wheel_reach(&wheel(20.0), &outlets(60.0, 30.0));
    assert_eq!(reach.turns_per_move, 3);
    assert!(reach.drift_per_move_m.abs() < 1e-12 && reach.tilt_per_move_deg.abs() < 1e-9);
    let asked = Shift { across_m: 30.0 * M_PER_FT, along_m: 0.0 };
    let refused =
        check(&Machine::WheelLine(wheel(20.0)), &outlets(60.0, 30.0), 12.192, asked).unwrap_err();
    assert_eq!((refused.why, refused.reachable.len()), (Standing::HalfTurn, 3));
}

#[test]
fn closed_nominal_5_and_9_foot_wheels_stand_30_ft_off() {
    // Common practice, no source: 15 and 30 ft a turn.
    assert_eq!(reachable_ft(15.0, 30.0), [-30.0, -15.0, 0.0, 15.0, 30.0]);
    assert_eq!(reachable_ft(30.0, 30.0), [-30.0, 0.0, 30.0]);
}

#[test]
fn closed_roll_geometry_of_listed_wheels() {
    // π D · turns, no slip: diameter ft, turns, travel ft, miss against the outlet spacing ft.
    for (diameter_ft, spacing_ft, turns, travel_ft, miss_ft) in [
        (4.0, 50.0, 4, 50.27, 0.27),
        (4.75, 60.0, 4, 59.69, -0.31),
        (5.0, 60.0, 4, 62.83, 2.83),
        (6.0, 60.0, 3, 56.55, -3.45),
        (76.0 * M_PER_IN / M_PER_FT, 60.0, 3, 59.69, -0.31),
        (7.0, 60.0, 3, 65.97, 5.97),
        (9.5, 60.0, 2, 59.69, -0.31),
    ] {
        let travel = travel_per_turn_m(diameter_ft * M_PER_FT, 0.0);
        let wheel = Wheel::new(travel, 20.0);
        let reach = wheel_reach(&wheel, &outlets(spacing_ft, 30.0));
        let rolled_ft = f64::from(reach.turns_per_move) * travel / M_PER_FT;
        assert_eq!(reach.turns_per_move, turns, "{diameter_ft} ft");
        assert!((rolled_ft - travel_ft).abs() < 0.005, "{diameter_ft} ft: {rolled_ft}");
        assert!((reach.drift_per_move_m / M_PER_FT - miss_ft).abs() < 0.005, "{diameter_ft} ft");
    }
}

#[test]
fn closed_a_half_move_needs_one_and_a_half_turns_of_a_76_inch_wheel() {
    let travel_m = travel_per_turn_m(76.0 * M_PER_IN, 0.0);
    let line = Machine::WheelLine(Wheel::new(travel_m, 20.0));
    let asked = Shift { across_m: 1.5 * travel_m, along_m: 0.0 };
    assert_eq!(
        check(&line, &outlets(60.0, 40.0), 12.0, asked).unwrap_err().why,
        Standing::HalfTurn
    );
}

#[test]
fn closed_drift_and_tilt_of_19_9_ft_a_turn() {
    // 3 · 19.9 = 59.7 ft: 0.3 ft short a move, 6.3 ft over 21 moves; 360° · 0.3/19.9 = 5.43°.
    let reach = wheel_reach(&wheel(19.9), &outlets(60.0, 25.0));
    assert!((reach.drift_per_move_m / M_PER_FT + 0.3).abs() < 1e-9);
    assert!((reach.drift_per_pass_m / M_PER_FT + 6.3).abs() < 1e-9);
    assert!((reach.tilt_per_move_deg - 5.427).abs() < 5e-4);
    assert_eq!(reach.moves_within_levelers, Some(3));
}

#[test]
fn closed_a_shift_snaps_onto_the_whole_turn_and_refusals_say_why() {
    let line = Machine::WheelLine(wheel(19.9));
    let at = |across_ft: f64, along_ft: f64| {
        let asked = Shift { across_m: across_ft * M_PER_FT, along_m: along_ft * M_PER_FT };
        check(&line, &outlets(60.0, 25.0), 40.0 * M_PER_FT, asked)
    };
    assert!((at(20.0, 0.0).unwrap().across_m - 19.9 * M_PER_FT).abs() < 1e-12);
    assert_eq!(at(39.8, 0.0).unwrap_err().why, Standing::BeyondReach);
    assert_eq!(at(15.0, 0.0).unwrap_err().why, Standing::PartTurn);
    assert_eq!(at(0.0, 20.0).unwrap_err().why, Standing::NotAlongThePipe);
}

#[test]
fn closed_a_hand_move_shifts_both_ways_within_reach() {
    let at = |across_m: f64, along_m: f64| {
        check(&Machine::HandMove, &outlets(60.0, 30.0), 12.0, Shift { across_m, along_m })
    };
    assert_eq!(at(7.3, 6.0), Ok(Shift { across_m: 7.3, along_m: 6.0 }));
    assert_eq!(at(9.2, 0.0).unwrap_err().why, Standing::BeyondReach);
    assert_eq!(at(0.0, 12.5).unwrap_err().why, Standing::TooFarAlong);
}
