//! The pictures of a search.

mod combos;
mod ranking;

use crate::error::DrawError;
use crate::picture::Picture;
use crate::scenes::SearchScene;
use evenfall_core::model::Scenario;
use evenfall_core::search::Found;
use evenfall_view::units::UnitSystem;

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
