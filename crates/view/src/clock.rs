//! Every set of a season, when it runs and where the line stands, for other programs.

use crate::season::Time;
use crate::units::UnitSystem;
use crate::value::Amount;
use evenfall_core::lateral::Side;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::{PassPlan, Plan, SetPlan};
use serde::Serialize;
use utoipa::ToSchema;

/// The clock of a scenario.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Clock {
    /// Title of the scenario.
    pub title: String,
    /// Digest of the scenario's text.
    pub scenario_sha256: String,
    /// Zone of the field's clock; `null` where all times are standard time.
    pub time_zone: Option<String>,
    /// Alternative by alternative.
    pub alternatives: Vec<AlternativeClock>,
}

/// One alternative's sets.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct AlternativeClock {
    /// Its name.
    pub name: String,
    /// Passes in a cycle of the rotation.
    pub cycle_passes: usize,
    /// Share of the set hours by day.
    pub day: Amount,
    /// Pass by pass.
    pub passes: Vec<ClockPass>,
}

/// One pass.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct ClockPass {
    /// Its number, from 1.
    pub pass: usize,
    /// Letter of the stop.
    pub stop: char,
    /// Shift from the outlet in the direction of travel.
    pub shift_across: Amount,
    /// Shift along the pipe.
    pub shift_along: Amount,
    /// Set by set.
    pub sets: Vec<ClockSet>,
}

/// One set.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct ClockSet {
    /// Its number in the pass, from 1.
    pub set: usize,
    /// The line that waters it, from 1.
    pub line: usize,
    /// Side of the mainline, `right` or `left`.
    pub side: &'static str,
    /// The outlet, from 1.
    pub outlet: usize,
    /// Where the line stands across the field.
    pub place_across: Amount,
    /// How far whole turns leave it past its mark.
    pub past_mark: Amount,
    /// When water is turned on, as the field's clock shows it.
    pub start: Time,
    /// When it is turned off.
    pub end: Time,
}

impl Clock {
    /// The sets of `plans`, one for each alternative of `scenario`.
    pub fn new(scenario: &Scenario, digest: &str, plans: &[Plan], units: UnitSystem) -> Self {
        let alternatives = scenario.alternatives.iter().zip(plans).map(|(asked, plan)| {
            let passes = plan.passes.iter().enumerate();
            AlternativeClock {
                name: asked.name.clone(),
                cycle_passes: plan.cycle,
                day: Amount::percent(plan.day_night.day_share, 0),
                passes: passes.map(|(at, pass)| ClockPass::new(plan, at, pass, units)).collect(),
            }
        });
        Self {
            title: scenario.title.clone(),
            scenario_sha256: digest.to_owned(),
            time_zone: scenario.calendar.clock.zone_name().map(str::to_owned),
            alternatives: alternatives.collect(),
        }
    }
}

impl ClockPass {
    fn new(plan: &Plan, at: usize, pass: &PassPlan, units: UnitSystem) -> Self {
        let sets = pass.sets.iter().enumerate();
        Self {
            pass: at + 1,
            stop: pass.letter,
            shift_across: Amount::length(units, pass.shift.across_m),
            shift_along: Amount::length(units, pass.shift.along_m),
            sets: sets.map(|(at, set)| ClockSet::new(plan, at, set, units)).collect(),
        }
    }
}

impl ClockSet {
    fn new(plan: &Plan, at: usize, set: &SetPlan, units: UnitSystem) -> Self {
        Self {
            set: at + 1,
            line: set.line + 1,
            side: match set.side {
                Side::Right => "right",
                Side::Left => "left",
            },
            outlet: set.outlet + 1,
            place_across: Amount::length(units, set.place_across_m),
            past_mark: Amount::length(units, set.drift_m),
            start: Time(plan.shown(set.start_h).at),
            end: Time(plan.shown(set.end_h).at),
        }
    }
}
