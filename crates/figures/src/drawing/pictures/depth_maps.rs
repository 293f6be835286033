//! Maps of given depths, an alternative each, on one scale.

use super::map_sheet::{MapSheet, Mapped, depth_scale};
use crate::picture::Picture;
use crate::scenes::Site;
use crate::scenes::StopMark;
use evenfall_canvas::DrawError;
use evenfall_core::grid::DepthGrid;
use evenfall_core::model::Scenario;
use evenfall_core::season;
use evenfall_view::units::{Quantity, UnitSystem};

/// One map an alternative of `scenario`, in its order; the scale fits the first `scaled` of them.
pub(crate) fn depth_maps(
    scenario: &Scenario,
    grids: &[&DepthGrid],
    units: UnitSystem,
    scaled: usize,
    (stem, title): (&'static str, &str),
) -> Result<Picture, DrawError> {
    let plans = season::plans(scenario).map_err(DrawError::library)?;
    let site = Site { scenario, grid: scenario.field.grid, units, rose: None };
    let factor = units.shown(Quantity::Depth, 1.0);
    let whole = scenario.field.whole();
    let cells = grids.iter().take(scaled).flat_map(|grid| whole.runs_of(grid));
    let sheet = MapSheet {
        site: &site,
        stem,
        title: title.to_owned(),
        bar_label: format!(
            "Depth ({}); lower and higher cells take the end colors",
            units.symbol(Quantity::Depth)
        ),
        scale: depth_scale(cells, factor),
        maps: grids
            .iter()
            .zip(&plans)
            .map(|(values, plan)| Mapped { values, factor, stops: StopMark::of(&plan.passes) })
            .collect(),
    };
    sheet.draw(
        "All on one scale: the darker, the more water. Upper maps: the whole field; lower ones: the \
         outlined detail, enlarged, with a dot at each sprinkler.",
    )
}
