//! What judges where a wheel line stands: places worked by hand, and what is true of all of them.

use super::*;
use crate::lateral::SetOrder;
use crate::units::M_PER_FT as FT;
use proptest::prelude::*;

const HOSE_FT: f64 = 25.0;

fn outlets(spacing_ft: f64, count: usize, reach_ft: f64) -> Outlets {
    Outlets {
        spacing_m: spacing_ft * FT,
        first_m: 0.0,
        count,
        reach_m: reach_ft * FT,
        field_width_m: f64::INFINITY,
    }
}

fn wheel(travel_ft: f64, turn_rule: TurnRule) -> Machine {
    Machine::WheelLine(Wheel { turn_rule, ..Wheel::new(travel_ft * FT, 15.0) })
}

/// How far from its outlet the line stands, ft to a hundredth, pass by pass in the order of the sets;
/// all passes at one mark.
fn stands(
    machine: &Machine,
    outlets: &Outlets,
    (order, shift_ft, passes): (&SetOrder, f64, usize),
) -> Result<Vec<Vec<f64>>, OutOfReach> {
    let mut line = Rolling::new(machine, outlets);
    let pass = |pass: usize| {
        let back = pass > 0 && order.return_share(pass - 1, outlets.count) > 0.0;
        let list = order.outlets(pass, outlets.count);
        let sets = list.iter().enumerate().map(|(at, outlet)| {
            let drift_m = line.roll(*outlet, shift_ft * FT, back && at == 0)?;
            Ok(((shift_ft + drift_m / FT) * 100.0).round() / 100.0)
        });
        sets.collect()
    };
    (0..passes).map(pass).collect()
}

fn down(travel_ft: f64, spacing_ft: f64, count: usize) -> Vec<Vec<f64>> {
    let machine = wheel(travel_ft, TurnRule::AtReach);
    let outlets = outlets(spacing_ft, count, HOSE_FT);
    stands(&machine, &outlets, (&SetOrder::DryReturn, 0.0, 3)).unwrap()
}

#[test]
fn closed_three_turns_of_15_7_ft_fall_2_9_ft_short_of_50_ft_until_the_hose_ends() {
    // 3 · 15.7 = 47.1 of 50: −2.9 a move. The ninth move would end 26.1 ft short, beyond 25 ft of
    // hose: four turns, −26.1 + 15.7 = −10.4. Back at the first outlet the line stands at it again.
    let pass = [0.0, -2.9, -5.8, -8.7, -11.6, -14.5, -17.4, -20.3, -23.2, -10.4, -13.3];
    assert_eq!(down(15.7, 50.0, 11), vec![pass.to_vec(); 3]);
}

#[test]
fn closed_three_turns_of_24_3_ft_fall_7_1_ft_short_of_80_ft() {
    // 72.9 of 80: −7.1 a move; the fourth would end 28.4 ft short: −28.4 + 24.3 = −4.1.
    let pass = [0.0, -7.1, -14.2, -21.3, -4.1, -11.2, -18.3, -1.1];
    assert_eq!(down(24.3, 80.0, 8), vec![pass.to_vec(); 3]);
}

#[test]
fn closed_three_turns_of_20_ft_are_60_ft_and_of_19_6_ft_are_not() {
    assert_eq!(down(20.0, 60.0, 22), vec![vec![0.0; 22]; 3]);
    // 58.8 of 60: −1.2 a move, as measured on soft ground; 20 moves are 24 ft, the next 25.2 ft.
    let pass = &down(19.6, 60.0, 23)[2];
    assert_eq!((pass[1], pass[10], pass[20]), (-1.2, -12.0, -24.0));
    // −25.2 + 19.6 = −5.6, then −1.2 more.
    assert_eq!((pass[21], pass[22]), (-5.6, -6.8));
}

#[test]
fn closed_the_nearest_whole_turn_stays_within_half_a_turn() {
    let machine = wheel(15.7, TurnRule::Nearest);
    let found = stands(&machine, &outlets(50.0, 7, HOSE_FT), (&SetOrder::DryReturn, 0.0, 1));
    // The third move would end 8.7 ft short, over half a turn: −8.7 + 15.7 = 7.0.
    assert_eq!(found.unwrap()[0], [0.0, -2.9, -5.8, 7.0, 4.1, 1.2, -1.7]);
}

#[test]
fn closed_watered_both_ways_the_line_goes_back_the_way_it_came_or_drifts_on() {
    let machine = wheel(15.7, TurnRule::AtReach);
    let order = (&SetOrder::BothWays, 0.0, 2);
    let found = stands(&machine, &outlets(50.0, 4, HOSE_FT), order).unwrap();
    assert_eq!(found, [[0.0, -2.9, -5.8, -8.7], [-8.7, -5.8, -2.9, 0.0]]);
    // With a turn more on the way out, three turns a move back end past the outlets.
    let found = stands(&machine, &outlets(50.0, 10, HOSE_FT), order).unwrap();
    assert_eq!(found[0][9], -10.4);
    assert_eq!((found[1][0], found[1][5], found[1][9]), (-10.4, 4.1, 15.7));
}

#[test]
fn closed_a_mark_before_the_outlet_loses_its_shift_where_the_hose_ends() {
    // One turn before the outlet, −20 ft of 25: with −1.2 ft a move five moves are −26 ft, so a turn
    // more is made and the line stands 6.4 ft before the outlet: −20 − 6 + 19.6, its mark 19.6 ft before.
    let machine = wheel(19.6, TurnRule::AtReach);
    let found = stands(&machine, &outlets(60.0, 7, HOSE_FT), (&SetOrder::DryReturn, -19.6, 1));
    assert_eq!(found.unwrap()[0], [-19.6, -20.8, -22.0, -23.2, -24.4, -6.0, -7.2]);
}

#[test]
fn closed_a_short_hose_on_a_large_wheel_is_refused_with_both_places() {
    let machine = wheel(24.3, TurnRule::AtReach);
    let found = stands(&machine, &outlets(80.0, 8, 10.0), (&SetOrder::DryReturn, 0.0, 1));
    // At the third outlet 160 ft: six turns end 14.2 ft before it, seven 10.1 ft past it.
    let why = found.unwrap_err();
    assert_eq!(why.outlet, 2);
    assert!((why.short_m / FT - 14.2).abs() < 1e-9 && (why.past_m / FT - 10.1).abs() < 1e-9);
}

#[test]
fn closed_a_hand_move_stands_at_its_marks() {
    let found =
        stands(&Machine::HandMove, &outlets(50.0, 5, 30.0), (&SetOrder::DryReturn, 12.5, 2));
    assert_eq!(found.unwrap(), vec![vec![12.5; 5]; 2]);
}

proptest! {
    #[test]
    fn invariant_stands_are_whole_turns_apart_and_within_reach(
        travel_ft in 12.0..30.0_f64, spacing_ft in 30.0..90.0_f64, more_ft in 0.0..10.0_f64,
        which in 0..3_usize, nearest in any::<bool>()
    ) {
        let rule = if nearest { TurnRule::Nearest } else { TurnRule::AtReach };
        // Half a turn of reach always finds a whole turn.
        let reach_ft = 0.5 * travel_ft + more_ft;
        let (machine, outlets) = (wheel(travel_ft, rule), outlets(spacing_ft, 12, reach_ft));
        let order = &SetOrder::RULES[which];
        let mut line = Rolling::new(&machine, &outlets);
        for pass in 0..4 {
            for outlet in order.outlets(pass, 12) {
                let offset_m = line.roll(outlet, 0.0, false).unwrap();
                let turns = (outlet as f64 * spacing_ft * FT + offset_m) / (travel_ft * FT);
                prop_assert!((turns - turns.round()).abs() < 1e-6);
                prop_assert!(offset_m.abs() <= reach_ft * FT + 1e-5);
            }
        }
    }
}
