//! The check of the plan on the field's own crop, soil and climate.

use super::inputs::{Agronomy, WorthError};
use crate::model::Scenario;
use crate::plan_check::{PlanCheck, PlanGround, check};
use crate::schedule::Plan;
use crate::season::SeasonError;
use jiff::civil::Date;

impl Agronomy {
    /// The ground for the check of a plan whose first set starts on `first_set`: nothing drawn, every
    /// year that the climate's records hold.
    ///
    /// # Errors
    /// Everything that is wrong with crop, soil or climate.
    pub fn plan_ground(&self, first_set: Date) -> Result<PlanGround, WorthError> {
        let years = self.years(first_set).unwrap_or(1).max(1);
        Ok(PlanGround {
            ground: self.ground(first_set, years, None)?,
            crop_name: self.crop_name.clone(),
            intake_rate_mm_h: self.intake_rate_mm_h,
        })
    }
}

/// The plan before the rotation: `plans`, one for each alternative, beside their yardsticks; those of
/// crop and soil where `agronomy` is given.
///
/// # Errors
/// What the scenario asks for cannot be computed; inputs that make no sense.
pub fn check_plan(
    scenario: &Scenario,
    plans: Vec<Plan>,
    agronomy: Option<&Agronomy>,
) -> Result<PlanCheck, WorthError> {
    let first = plans.first().ok_or(SeasonError::NoAlternatives)?;
    let first_set = first.midnight.date();
    let ground = agronomy.map(|agronomy| agronomy.plan_ground(first_set)).transpose()?;
    Ok(check(scenario, plans, ground.as_ref())?)
}
