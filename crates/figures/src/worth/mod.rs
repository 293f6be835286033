//! What a rotation is worth, as tables of page and terminal and as JSON. All numbers and words are
//! those of [`evenfall_view::worth`]; here they are only laid out.

mod tables;
pub(crate) mod terminal;

pub(crate) use tables::tables;
pub use terminal::{worth_rows, worth_table};

use crate::error::DrawError;
use crate::picture::Picture;
use crate::reports::file_json::file_json;
use crate::scenes::Site;
use crate::units::UnitSystem;
use evenfall_core::model::Scenario;
use evenfall_core::worth::{Economics, Worth};
use evenfall_view::worth::Worth as WorthView;

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

/// The view of `worth`, once all is known to belong together.
///
/// # Errors
/// If scenario and worth do not belong together.
pub fn worth_view(
    scenario: &Scenario,
    worth: &Worth,
    economics: &Economics,
    units: UnitSystem,
) -> Result<WorthView, DrawError> {
    let wrong = |what: String| Err(DrawError::Mismatch(what));
    let (asked, found) = (scenario.alternatives.len(), worth.alternatives.len());
    let maps = &worth.seasons.maps;
    if asked == 0 || asked != found || asked != maps.len() || asked != worth.ranking.len() {
        let maps = maps.len();
        return wrong(format!("{asked} alternatives, {found} of known worth, {maps} maps"));
    }
    if worth.seasons.finished() == 0 {
        return wrong("no season was finished".to_owned());
    }
    if worth.seasons.figures.iter().any(|season| season.len() != asked) {
        return wrong("a season lacks an alternative".to_owned());
    }
    let grid = scenario.field.grid;
    let shape = (grid.cells_across, grid.cells_along);
    let fits = |m: &evenfall_core::seasons::MeanMaps| {
        m.yield_fraction.dim() == shape && m.percolation_mm.dim() == shape
    };
    if shape.0 * shape.1 == 0 || !maps.iter().all(fits) {
        return wrong("a map has the wrong number of cells".to_owned());
    }
    Ok(WorthView::new(scenario, worth, economics, units))
}

/// The view, with the field and the maps that pictures are drawn of.
#[derive(Debug)]
pub(crate) struct WorthScene<'a> {
    pub(crate) site: Site<'a>,
    pub(crate) worth: &'a Worth,
    pub(crate) view: WorthView,
}

impl<'a> WorthScene<'a> {
    pub(crate) fn new(
        scenario: &'a Scenario,
        worth: &'a Worth,
        economics: &Economics,
        units: UnitSystem,
    ) -> Result<Self, DrawError> {
        let view = worth_view(scenario, worth, economics, units)?;
        let site = Site { scenario, grid: scenario.field.grid, units, rose: None };
        Ok(Self { site, worth, view })
    }

    pub(crate) fn units(&self) -> UnitSystem {
        self.site.units
    }
}
