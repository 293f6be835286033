//! Maps of the whole season side by side: depth on one scale, and deviation from each own mean.

use super::map_sheet::{MapSheet, Mapped, depth_scale};
use crate::drawing::spread::Spread;
use crate::picture::Picture;
use crate::scenes::{Entry, Scene};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{ColorScale, ScaleKind};
use evenfall_core::statistics::distances;
use evenfall_view::units::Quantity;

/// Net depth over the season.
pub(crate) fn depth(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let unit = scene.units.symbol(Quantity::Depth);
    let factor = scene.units.shown(Quantity::Depth, 1.0);
    let whole = scene.scenario.field.whole();
    let cells = scene.entries.iter().flat_map(|e| whole.runs_of(e.season_depth_mm()));
    let sheet = MapSheet {
        site: &scene.site,
        stem: "season-depth",
        title: format!("Net depth on the ground, {}", after(scene)),
        bar_label: format!("Depth ({unit}); lower and higher cells take the end colors"),
        scale: depth_scale(cells, factor),
        maps: scene.entries.iter().map(|e| mapped(e, factor)).collect(),
    };
    let caption = "All alternatives on one scale: the darker, the more water. Upper maps: the \
        whole field; lower ones: the outlined detail, enlarged, with a dot at each sprinkler. \
        White wedges at the left edge are the outlets, letters (or colored ticks) at the right \
        edge the stops where the lateral stood.";
    sheet.draw(caption)
}

/// Deviation from each alternative's own mean.
pub(super) fn deviation(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let last = |e: &Entry<'_>| e.mean_depth_mm(e.passes()).map_or(f64::NAN, |mean| 100.0 / mean);
    let factors: Vec<f64> = scene.entries.iter().map(last).collect();
    let interior = scene.interior();
    let far = |(entry, factor): (&Entry<'_>, &f64)| {
        distances(&interior.runs_of(entry.season_depth_mm()), *factor, 100.0)
    };
    let distances: Vec<_> = scene.entries.iter().zip(&factors).map(far).collect();
    let scale = deviation_scale(Spread::of_distances(&distances).map(|s| s.quantile(0.98)));
    let sheet = MapSheet {
        site: &scene.site,
        stem: "season-deviation",
        title: format!("Deviation from each alternative’s own mean, {}", after(scene)),
        bar_label: format!(
            "Depth, % of the own mean of the {} (100 = mean)",
            scene.interior_name()
        ),
        scale,
        maps: scene.entries.iter().zip(&factors).map(|(e, factor)| mapped(e, *factor)).collect(),
    };
    let caption = "Brown is drier than the alternative’s own mean depth, teal is wetter, pale is \
        close to it; one scale for all. Stripes that run with the outlets are what a rotation can \
        remove. Marks as in the map of depth. In black and white both ends look dark: there, read \
        the map of depth.";
    sheet.draw(caption)
}

fn mapped<'a>(entry: &Entry<'a>, factor: f64) -> Mapped<'a> {
    Mapped { values: entry.season_depth_mm(), factor, stops: entry.stops() }
}

/// A scale about 100 % that reaches a round value beyond `reach` points, 10 to 60.
pub(super) fn deviation_scale(reach: Option<f64>) -> ColorScale {
    let reach = (reach.unwrap_or(10.0) / 10.0).ceil().clamp(1.0, 6.0) * 10.0;
    ColorScale { lo: 100.0 - reach, hi: 100.0 + reach, kind: ScaleKind::Deviation }
}

/// "after 12 passes", or "at the end of the season" where alternatives differ.
pub(super) fn after(scene: &Scene<'_>) -> String {
    let most = scene.most_passes();
    if scene.entries.iter().any(|e| e.passes() != most) {
        return "at the end of the season".to_owned();
    }
    if most == 1 { "after 1 pass".to_owned() } else { format!("after {most} passes") }
}
