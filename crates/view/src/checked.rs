//! What is to be said of a sound scenario before anything is simulated, for other programs.

use crate::notes::{Assumption, Input, ReportNotes};
use crate::plan_check::PlanCheck;
use crate::units::UnitSystem;
use evenfall_core::model::Scenario;
use serde::Serialize;
use utoipa::ToSchema;

/// A scenario that passed every check.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Checked {
    /// Its title.
    pub title: String,
    /// Digest of its text.
    pub scenario_sha256: String,
    /// Version of the program.
    pub version: String,
    /// Seed of its weather.
    pub seed: u64,
    /// The plans beside their yardsticks.
    pub plan: Option<PlanCheck>,
    /// What its reader should look at.
    pub warnings: Vec<String>,
    /// The inputs that matter, and whose they are.
    pub inputs: Vec<Input>,
    /// Starting values that it rests on.
    pub starting_values: Vec<Assumption>,
}

impl Checked {
    /// `scenario` with what `notes` say of it.
    pub fn new(scenario: &Scenario, notes: &ReportNotes, units: UnitSystem) -> Self {
        Self {
            title: scenario.title.clone(),
            scenario_sha256: notes.digest.clone(),
            version: notes.version.clone(),
            seed: scenario.seed,
            plan: notes.plan.as_ref().map(|found| PlanCheck::new(scenario, found, units)),
            warnings: notes.warnings.clone(),
            inputs: notes.inputs.clone(),
            starting_values: notes.assumptions.clone(),
        }
    }
}
