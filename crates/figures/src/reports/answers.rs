//! What short commands answer, as JSON for other programs: in SI units, the unit in the key.

use crate::reports::file_json::{file_json, file_value};
use crate::reports::season_words::clock_notices;
use evenfall_canvas::DrawError;
use evenfall_core::lateral::{Outlets, Wheel};
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_view::{Checked, Clock, ReportNotes, Stands, UnitSystem, WheelStands};
use serde_json::{Value, json};

/// What is to be said of a sound scenario: the plan beside its yardsticks, warnings, whose its inputs are.
///
/// # Errors
/// If it cannot be written down.
pub fn checked_json(scenario: &Scenario, notes: &ReportNotes) -> Result<String, DrawError> {
    file_json(&Checked::new(scenario, notes, UnitSystem::Si))
}

/// Every set of `plans`, one plan for each alternative, and what the clock makes worth telling.
///
/// # Errors
/// If it cannot be written down.
pub fn clock_json(scenario: &Scenario, digest: &str, plans: &[Plan]) -> Result<String, DrawError> {
    let mut all = file_value(&Clock::new(scenario, digest, plans, UnitSystem::Si))?;
    all["notices"] = clock_notices(scenario, plans).into();
    file_json(&all)
}

/// Where every alternative can stand beside its outlets.
///
/// # Errors
/// If it cannot be written down.
pub fn stops_json(scenario: &Scenario, digest: &str) -> Result<String, DrawError> {
    file_json(&Stands::new(scenario, digest, UnitSystem::Si))
}

/// Where wheels can stand beside `outlets`, each with its name, and what is to be asked of them.
///
/// # Errors
/// If it cannot be written down.
pub fn wheels_json(
    wheels: &[(String, Wheel)],
    outlets: &Outlets,
    questions: &[String],
) -> Result<String, DrawError> {
    let one = |(name, wheel): &(String, Wheel)| {
        let mut found = file_value(&WheelStands::new(wheel, outlets, UnitSystem::Si))?;
        found["name"] = name.as_str().into();
        Ok(found)
    };
    let wheels: Vec<Value> = wheels.iter().map(one).collect::<Result<_, DrawError>>()?;
    file_json(&json!({ "wheels": wheels, "questions": questions }))
}
