//! What judges a season of a line that stops at part of a turn: the trial of tilts, and what is true of
//! any.

use super::prepare::PreparedSeason;
use super::tests::{FT, alternative, scenario, sprinkler, windy};
use super::*;
use crate::grid::DepthGrid;
use crate::lateral::{Machine, PartTurns, Wheel};
use crate::model::Scenario;
use crate::season::sprinklers::FOOTPRINTS;
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::shape::Shape;
use crate::tilt_trial::{self, Case};

/// A line on wheels of 20 ft a turn, its stops 0 and 30 ft from outlets 60 ft apart.
fn half_spacing(leveler_range_deg: f64) -> Scenario {
    let mut pair = alternative("pair", &[0.0, 30.0], sprinkler(Shape::Triangular, 88.0));
    let part_turns = Some(PartTurns { pipe_diameter_m: 0.1016, riser_m: 0.2032 });
    let wheel = Wheel { part_turns, ..Wheel::new(20.0 * FT, leveler_range_deg) };
    pair.lateral.machine = Machine::WheelLine(wheel);
    let mut scenario = scenario(4.0, 4, vec![pair]);
    scenario.weather = windy(3.0);
    scenario
}

#[test]
fn reference_one_and_a_half_turns_on_levelers_are_the_trial_of_tilts() {
    let asked = half_spacing(180.0);
    let own_mm = season_mm(&asked);
    // Half a turn over, in the same weather, the levelers free to swing all the way.
    let hanging = Attitude {
        roll_deg: 180.0,
        leveler_range_deg: 180.0,
        pipe_diameter_m: 0.1016,
        riser_m: 0.2032,
    };
    let rotation = asked.alternatives[0].rotation.clone();
    let case = Case { name: "hanging".into(), rotation, attitude: Some(hanging) };
    let mut whole = asked.clone();
    whole.alternatives[0].lateral.machine = Machine::WheelLine(Wheel::new(30.0 * FT, 180.0));
    let trial = tilt_trial::run(&whole, 0, &[case], &RunControl::default()).unwrap();
    for (own, trial) in own_mm.iter().zip(&trial.outcomes[0].season_mm) {
        assert!((own - trial).abs() <= 1e-9 * trial.max(1.0), "{own} {trial}");
    }
    // And it is not what upright sprinklers there would do: the pipe blocks part of the jets.
    let upright_mm = season_mm(&whole);
    let most = own_mm.iter().zip(&upright_mm).map(|(own, upright)| (own - upright).abs());
    assert!(most.fold(0.0, f64::max) > 50.0);
}

/// Depth of the season, laid as finely as the trial lays.
fn season_mm(scenario: &Scenario) -> DepthGrid {
    let prepared = PreparedSeason::of(scenario, plans(scenario).unwrap(), 0, None).unwrap();
    let makers = prepared.makers(FOOTPRINTS).unwrap();
    let footprints = prepared.footprints(&makers);
    let (layout, grid) = (&prepared.layouts[0], scenario.field.grid);
    let (mut pass_mm, mut season_mm) = (grid.zeros(), grid.zeros());
    for (number, pass) in layout.plan.passes.iter().enumerate() {
        let laid = footprints.of_pass(&[layout], number).unwrap();
        let sets = layout.laid(pass, &pass.sets, (0, &laid));
        layout.lay(&grid, layout.pipe(pass), &sets, &mut pass_mm, &mut season_mm);
    }
    season_mm
}

#[test]
fn invariant_at_whole_turns_levelers_change_no_digit() {
    let mut levelers = half_spacing(180.0);
    levelers.alternatives[0].rotation =
        alternative("", &[0.0, 20.0], levelers.alternatives[0].sprinkler.clone()).rotation;
    let mut whole = levelers.clone();
    whole.alternatives[0].lateral.machine = Machine::WheelLine(Wheel::new(20.0 * FT, 180.0));
    let depth = |scenario: &Scenario| {
        let found = run(scenario, RunControl::default()).unwrap();
        found.alternatives[0].season_depth_mm().clone()
    };
    assert_eq!(depth(&levelers), depth(&whole));
}
