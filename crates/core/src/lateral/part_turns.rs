//! Stops at part of a turn: where levelers swing far enough, a line is rolled to its mark.
//!
//! The sprinklers stand upright beside the first outlet. Rolled `s` from there, the pipe is turned by
//!
//! roll = 360° · (s / travel − nearest whole turn).
//!
//! Where the levelers swing that far, the line stands at its mark. Where they do not, it stops at the
//! nearest place where they do and from which the hose reaches the outlet; what it misses is drift.
//! SCS NEH 15-11 (1983) wants a self-leveler on every sprinkler, so that it is upright wherever the
//! line stops; practitioners stop with the sprinklers on top all the same (common practice, no source),
//! as under the pipe or beside it part of the jet strikes it. What that does to the water is the
//! sprinkler's business (`sprinkler/attitude.rs`).
//!
//! Geometry only. Neglected: levelers that stick, and pipe that twists between the wheels.

use super::parts::{OutOfReach, Outlets, REACH_SLACK_M};
use super::wheel::Wheel;
use crate::sprinkler::attitude::{Attitude, roll_deg};

/// Parts of a turn closer than this are the same.
const SAME_PART: f64 = 1e-9;
/// Rolls are taken to the nearest of these steps, degrees: 5° move a nozzle 25 cm from the axis by
/// 2 cm. Judgment.
const ROLL_STEP_DEG: f64 = 5.0;

/// How far past its mark, `shift_m` from `outlet`, the line stands, m.
///
/// # Errors
/// The levelers do not swing far enough anywhere within reach of the outlet.
pub(super) fn drift_m(
    wheel: &Wheel,
    outlets: &Outlets,
    outlet: usize,
    shift_m: f64,
) -> Result<f64, OutOfReach> {
    let travel_m = wheel.travel_per_turn_m;
    let turns = (outlet as f64 * outlets.spacing_m + shift_m) / travel_m;
    let (part, most) = (turns - turns.round(), wheel.largest_part());
    if part.abs() <= most + SAME_PART {
        return Ok(0.0);
    }
    // To the end of the levelers' swing this side of the whole turn, or beyond half a turn.
    let side = part.signum();
    let [near_m, far_m] = [most - part.abs(), 1.0 - most - part.abs()].map(|t| side * t * travel_m);
    let mut ways = [near_m, far_m];
    ways.sort_by(|one, other| one.abs().total_cmp(&other.abs()));
    let reach_m = outlets.reach_m;
    let within = |drift_m: &f64| (shift_m + drift_m).abs() <= reach_m + REACH_SLACK_M;
    ways.into_iter().find(within).ok_or_else(|| {
        let (low_m, high_m) = (near_m.min(far_m), near_m.max(far_m));
        OutOfReach { outlet, short_m: -(shift_m + low_m), past_m: shift_m + high_m, reach_m }
    })
}

/// How the sprinklers stand on a line at `place_m` across the field; `None` where they are upright:
/// always, for a line of whole turns.
pub fn attitude(wheel: &Wheel, outlets: &Outlets, place_m: f64) -> Option<Attitude> {
    let on_pipe = wheel.part_turns?;
    let roll = roll_deg((place_m - outlets.place_m(0)) / wheel.travel_per_turn_m);
    let roll_deg = (roll / ROLL_STEP_DEG).round() * ROLL_STEP_DEG;
    (roll_deg != 0.0).then_some(Attitude {
        roll_deg,
        // Half a step of rounding is no tilt.
        leveler_range_deg: (wheel.leveler_range_deg + ROLL_STEP_DEG).min(180.0),
        pipe_diameter_m: on_pipe.pipe_diameter_m,
        riser_m: on_pipe.riser_m,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lateral::PartTurns;
    use crate::units::M_PER_FT as FT;

    fn wheel(travel_ft: f64, leveler_range_deg: f64) -> Wheel {
        let part_turns = Some(PartTurns { pipe_diameter_m: 0.1016, riser_m: 0.2032 });
        Wheel { part_turns, ..Wheel::new(travel_ft * FT, leveler_range_deg) }
    }

    fn outlets(spacing_ft: f64, reach_ft: f64) -> Outlets {
        Outlets {
            spacing_m: spacing_ft * FT,
            first_m: 25.0 * FT,
            count: 11,
            reach_m: reach_ft * FT,
            field_width_m: f64::INFINITY,
        }
    }

    /// Off the mark at an outlet, ft to a hundredth, and the roll there, degrees.
    fn at(wheel: &Wheel, outlets: &Outlets, outlet: usize, shift_ft: f64) -> (f64, f64) {
        let drift_m = drift_m(wheel, outlets, outlet, shift_ft * FT).unwrap();
        let place_m = outlets.place_m(outlet) + shift_ft * FT + drift_m;
        let roll_deg = attitude(wheel, outlets, place_m).map_or(0.0, |stood| stood.roll_deg);
        ((drift_m / FT * 100.0).round() / 100.0, roll_deg)
    }

    #[test]
    fn closed_with_levelers_that_swing_all_the_way_the_line_stands_at_every_mark() {
        let (seven, outlets) = (wheel(20.0, 180.0), outlets(60.0, 30.0));
        // One and a half turns: the sprinklers hang under the pipe, upright.
        for outlet in 0..11 {
            assert_eq!(at(&seven, &outlets, outlet, 0.0), (0.0, 0.0));
            let (off_ft, roll_deg) = at(&seven, &outlets, outlet, 30.0);
            assert_eq!((off_ft, roll_deg.abs()), (0.0, 180.0));
        }
        assert_eq!(at(&seven, &outlets, 3, 25.0), (0.0, 90.0));
    }

    #[test]
    fn closed_50_ft_are_66_degrees_more_each_move_of_a_wheel_of_15_7_ft() {
        // 50 ft are 3.18471 turns: 0.18471 · 360° = 66.5° a move, to the nearest 5°.
        let (wheel, outlets) = (wheel(15.7, 180.0), outlets(50.0, 25.0));
        let rolls = [0, 1, 2, 3, 4].map(|outlet| at(&wheel, &outlets, outlet, 0.0));
        // 66.5, 133.0, 199.5 − 360, 266.0 − 360.
        assert_eq!(rolls, [(0.0, 0.0), (0.0, 65.0), (0.0, 135.0), (0.0, -160.0), (0.0, -95.0)]);
    }

    #[test]
    fn closed_short_levelers_stop_the_line_at_the_end_of_their_swing() {
        // At the second outlet 66.5° of 40°: 26.5° back, 26.497 / 360 · 15.7 ft = 1.16 ft short.
        let short_hose = outlets(50.0, 3.0);
        let (wheel, outlets) = (wheel(15.7, 40.0), outlets(50.0, 25.0));
        assert_eq!(at(&wheel, &outlets, 1, 0.0), (-1.16, 40.0));
        // At the third 133.0°: 360 − 40 − 133 = 187 ahead, or 93 back: back, 4.06 ft.
        assert_eq!(at(&wheel, &outlets, 2, 0.0), (-4.06, 40.0));
        // At the fourth 199.5°, that is −160.5°: 120.5° ahead to −40°.
        assert_eq!(at(&wheel, &outlets, 3, 0.0), (5.26, -40.0));
        let problem = drift_m(&wheel, &short_hose, 2, 0.0).unwrap_err();
        assert!((problem.short_m / FT - 4.06).abs() < 0.01, "{problem:?}");
        assert!((problem.past_m / FT - 8.16).abs() < 0.01, "{problem:?}");
    }

    #[test]
    fn closed_a_line_of_whole_turns_is_always_upright() {
        let upright = Wheel::new(20.0 * FT, 180.0);
        assert_eq!(attitude(&upright, &outlets(60.0, 30.0), 12.3), None);
    }
}
