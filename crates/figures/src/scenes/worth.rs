//! What the alternatives are worth: the view, once all is known to belong together.

use super::site::Site;
use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::worth::{Economics, Worth};
use evenfall_view::units::UnitSystem;
use evenfall_view::worth::Worth as WorthView;

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
