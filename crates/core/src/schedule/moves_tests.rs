//! What judges the moves: distances and turns worked by hand, and that they add up.

use super::*;
use crate::lateral::{EdgeTreatment, Lines, SetOrder, Wheel};
use crate::rotation::Rotation;
use crate::schedule::{Calendar, Openings, SeasonLength, plan};
use crate::units::M_PER_FT as FT;
use jiff::civil::date;
use proptest::prelude::*;

use SetKind::{Extra, Held, Usual};

fn calendar(passes: usize) -> Calendar {
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

fn passes_of(travel_ft: f64, shifts_ft: &[f64], edges: EdgeTreatment) -> Vec<PassMoves> {
    let wheel = Wheel::new(travel_ft * FT, 15.0);
    let machine = Machine::WheelLine(wheel);
    let outlets = Outlets {
        spacing_m: 60.0 * FT,
        first_m: 30.0 * FT,
        count: 4,
        reach_m: 25.0 * FT,
        field_width_m: f64::INFINITY,
    };
    let shift = |ft: &f64| Shift { across_m: ft * FT, along_m: 0.0 };
    let rotation = Rotation::new(shifts_ft.iter().map(shift).collect()).unwrap();
    let stops = Stops {
        machine: &machine,
        outlets: &outlets,
        rotation: &rotation,
        edges,
        lines: Lines::default(),
    };
    moves(&plan(&calendar(2), &stops).unwrap(), &stops)
}

fn turns(pass: &PassMoves) -> Vec<Option<i32>> {
    pass.moves.iter().map(|one| one.from_last.and_then(|travel| travel.turns)).collect()
}

#[test]
fn closed_three_turns_a_move_and_eight_back_to_the_shifted_start() {
    let passes = passes_of(20.0, &[0.0, 20.0], EdgeTreatment::Shift);
    assert_eq!(turns(&passes[0]), [None, Some(3), Some(3), Some(3)]);
    // From 210 ft back to 50 ft: 160 ft are 8 turns.
    let back = passes[0].ways_back[0].travel;
    assert_eq!(back.turns, Some(-8));
    assert!((back.across_m / FT + 160.0).abs() < 1e-9 && back.left_over_m.abs() < 1e-9);
    assert_eq!(passes[1].moves[0].from_last, Some(back));
    assert_eq!(passes[1].moves[0].turns_from_outlet, Some(1));
    // From 230 ft back to the first outlet at 30 ft at the season's end.
    assert_eq!(passes[1].ways_back[0].travel.turns, Some(-10));
}

#[test]
fn closed_what_whole_turns_miss_is_taken_up_by_the_hose() {
    // 3 · 19.9 = 59.7 ft of 60: nothing is left to roll, the line stands 0.3, 0.6, 0.9 ft before its outlets.
    let passes = passes_of(19.9, &[0.0], EdgeTreatment::Shift);
    assert_eq!(turns(&passes[0]), [None, Some(3), Some(3), Some(3)]);
    for (at, one) in passes[0].moves.iter().enumerate() {
        assert!((one.shift.across_m / FT + 0.3 * at as f64).abs() < 1e-9, "{one:?}");
        assert!(one.from_last.is_none_or(|travel| travel.left_over_m.abs() < 1e-9));
        assert_eq!((one.kind, one.turns_from_outlet), (Usual, Some(0)));
    }
    assert_eq!(passes[0].ways_back[0].travel.turns, Some(-9));
}

#[test]
fn closed_held_and_extra_sets_are_known_as_such() {
    let kinds = |edges| -> Vec<SetKind> {
        passes_of(20.0, &[0.0, 20.0], edges)[1].moves.iter().map(|one| one.kind).collect()
    };
    assert_eq!(kinds(EdgeTreatment::Shift), [Usual; 4]);
    assert_eq!(kinds(EdgeTreatment::Hold), [Held, Usual, Usual, Held]);
    assert_eq!(kinds(EdgeTreatment::ExtraSet), [Extra, Usual, Usual, Usual, Usual]);
}

proptest! {
    #[test]
    fn invariant_travels_add_up_to_the_places_of_the_plan(
        travel_ft in 10.0..30.0f64, turns in -1..=1i32, hold in any::<bool>()
    ) {
        let edges = if hold { EdgeTreatment::Hold } else { EdgeTreatment::ExtraSet };
        let passes = passes_of(travel_ft, &[0.0, f64::from(turns) * travel_ft], edges);
        let mut place_m = passes[0].moves[0].set.place_across_m;
        for one in passes.iter().flat_map(|pass| &pass.moves) {
            if let Some(travel) = one.from_last {
                let rolled_m = f64::from(travel.turns.unwrap()) * travel_ft * FT;
                prop_assert!((rolled_m + travel.left_over_m - travel.across_m).abs() < 1e-9);
                prop_assert!(travel.left_over_m.abs() < 1e-9, "only whole turns are rolled");
                place_m += travel.across_m;
            }
            prop_assert!((place_m - one.set.place_across_m).abs() < 1e-9);
        }
    }
}
