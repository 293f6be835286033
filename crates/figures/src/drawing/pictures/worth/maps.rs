//! Maps of yield and of water lost below the roots, means over the seasons.

use super::super::map_sheet::{MapSheet, Mapped, depth_scale};
use super::labels::seasons;
use crate::picture::Picture;
use crate::scenes::{StopMark, WorthScene};
use evenfall_canvas::DrawError;
use evenfall_core::grid::DepthGrid;
use evenfall_core::season;
use evenfall_core::seasons::MeanMaps;
use evenfall_view::units::Quantity;

/// Yield, percent of full yield.
pub(super) fn yields(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    let maps = mapped(scene, |maps| &maps.yield_fraction, 100.0)?;
    let mut scale = depth_scale([interior(scene, &maps).as_slice()], 1.0);
    scale.hi = scale.hi.min(100.0);
    let sheet = MapSheet {
        site: &scene.site,
        stem: "worth-yield",
        title: format!("Yield over the field, mean of {}", seasons(&scene.view)),
        bar_label: "Yield, % of full yield; scale of the interior, cells beyond it take the end \
                    colors"
            .to_owned(),
        scale,
        maps,
    };
    let caption = "All alternatives on one scale: the darker, the more yield; full yield is that \
        without any lack of water. Pale bands that stay between the outlets year after year \
        are what a rotation can cure. Marks as in the maps of depth.";
    sheet.draw(caption).map(Some)
}

/// Water lost below the roots.
pub(super) fn percolation(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    let factor = scene.units().shown(Quantity::Depth, 1.0);
    let maps = mapped(scene, |maps| &maps.percolation_mm, factor)?;
    let unit = scene.units().symbol(Quantity::Depth);
    let sheet = MapSheet {
        site: &scene.site,
        stem: "worth-percolation",
        title: format!("Deep percolation in a season, mean of {}", seasons(&scene.view)),
        bar_label: format!(
            "Depth ({unit}); scale of the interior, cells beyond it take the end colors"
        ),
        scale: depth_scale([interior(scene, &maps).as_slice()], 1.0),
        maps,
    };
    let caption = "All alternatives on one scale: the darker, the more water drained below the \
        root zone, and nutrients with it. Marks as in the maps of depth.";
    sheet.draw(caption).map(Some)
}

fn mapped<'a>(
    scene: &WorthScene<'a>,
    of: fn(&'a MeanMaps) -> &'a DepthGrid,
    factor: f64,
) -> Result<Vec<Mapped<'a>>, DrawError> {
    let plans = season::plans(scene.site.scenario).map_err(DrawError::library)?;
    let pairs = scene.worth.seasons.maps.iter().zip(&plans);
    let one = |(maps, plan): (&'a MeanMaps, &evenfall_core::schedule::Plan)| Mapped {
        values: of(maps),
        factor,
        stops: StopMark::of(&plan.passes),
    };
    Ok(pairs.map(one).collect())
}

/// Values of the interior: the field's dry edges would stretch the scale until nothing else shows.
fn interior(scene: &WorthScene<'_>, maps: &[Mapped<'_>]) -> Vec<f64> {
    let outlets = scene.site.scenario.alternatives.iter().map(|a| a.outlets.spacing_m);
    let inside = scene.site.scenario.field.interior_or_whole(outlets.fold(0.0, f64::max));
    let shown = |map: &Mapped<'_>| -> Vec<f64> {
        inside.of(map.values).iter().map(|value| value * map.factor).collect()
    };
    maps.iter().flat_map(shown).collect()
}
