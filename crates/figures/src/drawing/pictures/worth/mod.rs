//! The pictures of what the alternatives are worth, over many seasons.

mod cash;
mod convergence;
mod differences;
mod labels;
mod maps;
mod swings;

use crate::picture::Picture;
use crate::scenes::WorthScene;
use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::worth::Economics;
use evenfall_view::units::UnitSystem;
use rayon::prelude::*;

type Draw = fn(&WorthScene<'_>) -> Result<Option<Picture>, DrawError>;

const ALL: [Draw; 6] = [
    maps::yields,
    maps::percolation,
    differences::draw,
    swings::draw,
    cash::draw,
    convergence::draw,
];

/// Draws what there is to draw of the worth, in the order of the report: with one alternative its
/// maps alone, without a value of the crop no money. Each picture is drawn on a thread of its own
/// where there are several; the result does not depend on how many.
///
/// # Errors
/// If scenario and worth do not belong together, or a library refuses.
pub fn worth_pictures(
    scenario: &Scenario,
    worth: &evenfall_core::worth::Worth,
    economics: &Economics,
    units: UnitSystem,
) -> Result<Vec<Picture>, DrawError> {
    let scene = WorthScene::new(scenario, worth, economics, units)?;
    let drawn: Vec<_> = ALL.par_iter().map(|draw| draw(&scene)).collect();
    drawn.into_iter().filter_map(Result::transpose).collect()
}
