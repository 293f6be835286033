//! What short commands answer, as JSON for other programs: in SI units, the unit in the key.

use crate::error::DrawError;
use crate::reports::file_json::file_json;
use evenfall_core::model::Scenario;
use evenfall_core::plan_check::PlanCheck as Found;
use evenfall_core::schedule::Plan;
use evenfall_view::{Clock, PlanCheck, Stands, UnitSystem};

/// The plans beside their yardsticks.
///
/// # Errors
/// If it cannot be written down.
pub fn plan_json(scenario: &Scenario, found: &Found) -> Result<String, DrawError> {
    file_json(&PlanCheck::new(scenario, found, UnitSystem::Si))
}

/// Every set of `plans`, one plan for each alternative.
///
/// # Errors
/// If it cannot be written down.
pub fn clock_json(scenario: &Scenario, plans: &[Plan]) -> Result<String, DrawError> {
    file_json(&Clock::new(scenario, plans, UnitSystem::Si))
}

/// Where every alternative can stand beside its outlets.
///
/// # Errors
/// If it cannot be written down.
pub fn stops_json(scenario: &Scenario) -> Result<String, DrawError> {
    file_json(&Stands::new(scenario, UnitSystem::Si))
}
