//! The pictures of a search.

mod combos;
mod ranking;

use crate::picture::Picture;
use crate::scenes::SearchScene;
use evenfall_canvas::DrawError;

/// Draws the ranking and, where wheels or spacings were compared, their table in colors.
///
/// # Errors
/// If a library refuses.
pub fn search_pictures(scene: &SearchScene<'_>) -> Result<Vec<Picture>, DrawError> {
    let mut all = vec![ranking::draw(scene)?];
    if scene.found.combos.len() > 1 {
        all.push(combos::draw(scene)?);
    }
    Ok(all)
}
