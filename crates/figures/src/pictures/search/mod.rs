//! The pictures of a search.

mod combos;
mod ranking;

use super::Picture;
use crate::error::DrawError;
use crate::search::SearchScene;
use crate::units::UnitSystem;
use evenfall_core::model::Scenario;
use evenfall_core::search::Found;

/// Draws the ranking and, where wheels or spacings were compared, their table in colors.
///
/// # Errors
/// If nothing was ranked, or a library refuses.
pub fn search_pictures(
    scenario: &Scenario,
    found: &Found,
    units: UnitSystem,
) -> Result<Vec<Picture>, DrawError> {
    let scene = SearchScene::new(scenario, found, None, units)?;
    let mut all = vec![ranking::draw(&scene)?];
    if found.combos.len() > 1 {
        all.push(combos::draw(&scene)?);
    }
    Ok(all)
}
