//! Pressures along the lateral of an alternative, and what its sprinklers deliver with them.

use super::error::SeasonError;
use crate::lateral::hydraulics::PressureLine;
use crate::model::Alternative;

/// Pressures along an alternative's lateral; `None` where all sprinklers have their stated one.
pub(super) fn pressures_of(alternative: &Alternative) -> Result<Option<PressureLine>, SeasonError> {
    let named = |problem| SeasonError::Pressure { alternative: alternative.name.clone(), problem };
    alternative.pressures().map_err(named)
}

/// What all sprinklers of an alternative deliver together, m³/h.
pub(super) fn discharge_m3_h(alternative: &Alternative) -> Result<f64, SeasonError> {
    let line = pressures_of(alternative)?;
    let stated_l_s = alternative.sprinkler.discharge_l_s() * alternative.stated_sprinklers();
    Ok(3.6 * line.map_or(stated_l_s, |line| line.discharge_l_s()))
}
