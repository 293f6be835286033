//! What the alternatives are worth, as a part of the report and as JSON.

use crate::picture::Picture;
use crate::reports::file_json::file_json;
use crate::scenes::worth_view;
use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::worth::{Economics, Worth};
use evenfall_view::units::UnitSystem;

/// The part of the report that tells what the alternatives are worth.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WorthPart<'a> {
    /// The seasons and the balance.
    pub worth: &'a Worth,
    /// The prices and the statistics it rests on.
    pub economics: &'a Economics,
    /// What [`worth_pictures`](crate::worth_pictures) drew, shown in this order.
    pub pictures: &'a [Picture],
}

/// All figures of the worth but the maps, as indented JSON in SI; `null` where there is none.
///
/// # Errors
/// If scenario and worth do not belong together.
pub fn worth_json(
    scenario: &Scenario,
    worth: &Worth,
    economics: &Economics,
) -> Result<String, DrawError> {
    file_json(&worth_view(scenario, worth, economics, UnitSystem::Si)?)
}
