//! Where a lateral can stand beside its outlets, for other programs.

use crate::units::UnitSystem;
use crate::value::Amount;
use evenfall_core::lateral::stops::{Standing, wheel_reach};
use evenfall_core::lateral::{Machine, Outlets, Wheel};
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::rotation::letter;
use serde::Serialize;
use utoipa::ToSchema;

/// Where the laterals of a scenario can stand.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Stands {
    /// Title of the scenario.
    pub title: String,
    /// Digest of the scenario's text.
    pub scenario_sha256: String,
    /// Alternative by alternative.
    pub alternatives: Vec<AlternativeStands>,
}

/// One alternative's.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct AlternativeStands {
    /// Its name.
    pub name: String,
    /// Outlet spacing.
    pub outlet_spacing: Amount,
    /// How far hose or swing joint reaches.
    pub reach: Amount,
    /// The stops of its rotation, in order of first use.
    pub rotation: Vec<RotationStop>,
    /// What its wheels can do; `null` for a lateral moved by hand.
    pub wheel: Option<WheelStands>,
}

/// A stop of a rotation.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct RotationStop {
    /// Its letter.
    pub letter: char,
    /// Shift from the outlet in the direction of travel.
    pub shift_across: Amount,
    /// Shift along the pipe.
    pub shift_along: Amount,
}

/// What wheels can do between and beside their outlets.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct WheelStands {
    /// How far they roll in a turn.
    pub travel_per_turn: Amount,
    /// Whole turns from one outlet to the next.
    pub turns_per_move: u32,
    /// How far those turns miss the next outlet, + beyond it.
    pub drift_per_move: Amount,
    /// That added up over a pass.
    pub drift_per_pass: Amount,
    /// A turn more or less every so many moves keeps the line near its marks; `null` without drift.
    pub added_turn_every_moves: Option<u32>,
    /// Outlet spacings of whole turns, next below and above.
    pub fitting_spacings: Vec<Amount>,
    /// Places beside the outlet.
    pub stops: Vec<WheelStop>,
}

/// A place beside an outlet.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct WheelStop {
    /// Turns of the wheel from the outlet, + in the direction of travel.
    pub turns: f64,
    /// Shift from the outlet.
    pub shift_across: Amount,
    /// Whether the line can stand there.
    pub can_stand: bool,
    /// Why, in words.
    pub reason: &'static str,
}

impl Stands {
    /// Of every alternative.
    pub fn new(scenario: &Scenario, digest: &str, units: UnitSystem) -> Self {
        let alternatives = scenario.alternatives.iter();
        Self {
            title: scenario.title.clone(),
            scenario_sha256: digest.to_owned(),
            alternatives: alternatives.map(|one| AlternativeStands::new(one, units)).collect(),
        }
    }
}

impl AlternativeStands {
    fn new(asked: &Alternative, units: UnitSystem) -> Self {
        let distinct = asked.rotation.distinct();
        let stop = |(at, shift): (usize, &evenfall_core::rotation::Shift)| RotationStop {
            letter: letter(at),
            shift_across: Amount::length(units, shift.across_m),
            shift_along: Amount::length(units, shift.along_m),
        };
        let wheel = match &asked.lateral.machine {
            Machine::WheelLine(wheel) => {
                Some(WheelStands::new(wheel, &asked.line_outlets(), units))
            }
            Machine::HandMove => None,
        };
        Self {
            name: asked.name.clone(),
            outlet_spacing: Amount::length(units, asked.outlets.spacing_m),
            reach: Amount::length(units, asked.outlets.reach_m),
            rotation: distinct.iter().enumerate().map(stop).collect(),
            wheel,
        }
    }
}

impl WheelStands {
    /// Of `wheel` at `outlets`.
    pub fn new(wheel: &Wheel, outlets: &Outlets, units: UnitSystem) -> Self {
        let found = wheel_reach(wheel, outlets);
        let length = |length_m: f64| Amount::length(units, length_m);
        let stop = |stop: &evenfall_core::lateral::stops::Stop| WheelStop {
            turns: stop.turns,
            shift_across: length(stop.shift.across_m),
            can_stand: stop.standing.can_stand(),
            reason: Standing::reason(stop.standing),
        };
        Self {
            travel_per_turn: length(wheel.travel_per_turn_m),
            turns_per_move: found.turns_per_move,
            drift_per_move: length(found.drift_per_move_m),
            drift_per_pass: length(found.drift_per_pass_m),
            added_turn_every_moves: found.added_turn_every,
            fitting_spacings: found.fitting_spacings_m.map(length).to_vec(),
            stops: found.stops.iter().map(stop).collect(),
        }
    }
}
