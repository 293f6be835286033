//! CU and low-quarter DU against the number of passes: cumulative as lines, single passes as faint
//! points, whole cycles as markers.

use crate::drawing::axis::{Chart, pass_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, key, key_height, styled_line, title};
use crate::drawing::line_style::{LineStyle, line_style};
use crate::picture::Picture;
use crate::scenes::{Entry, Scene, inside};
use evenfall_canvas::DrawError;
use evenfall_canvas::{Canvas, Frame, Ink, Point, sheet};
use evenfall_core::uniformity::Uniformity;

const HEIGHT: f64 = 330.0;

/// Draws the picture.
pub(super) fn draw(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let heading = format!("Uniformity of the {} from pass to pass", scene.interior_name());
    let head = 50.0;
    let foot = key_height(&scene.site.names());
    let drawing = sheet((WIDTH, head + HEIGHT + 64.0 + foot), &heading, |canvas| {
        title(canvas, &heading)?;
        let half = (WIDTH - 2.0 * MARGIN) / 2.0;
        let labels = ["Christiansen’s CU (%)", "Low-quarter DU, DUlq (%)"];
        let figures: [fn(&Uniformity) -> f64; 2] = [|f| 100.0 * f.cu, |f| 100.0 * f.du_lq];
        for (side, (label, figure)) in labels.into_iter().zip(figures).enumerate() {
            let left = MARGIN + half * side as f64 + 60.0;
            let frame = Frame { left, top: head + 6.0, width: half - 74.0, height: HEIGHT };
            panel(canvas, scene, frame, label, figure)?;
        }
        key(canvas, head + HEIGHT + 62.0, &scene.site.names())
    })?;
    let caption = "Lines: all passes so far together; a marker stands where a cycle of the \
        rotation is whole. Faint points: each pass alone. Compare alternatives at whole cycles. \
        Even a fixed pattern rises as winds average out; what a rotation adds is the gap between \
        the lines.";
    Ok(Picture { name: "course", title: heading, caption: caption.to_owned(), drawing })
}

/// Values of a figure pass by pass, `None` where no water fell.
fn values(entry: &Entry<'_>, alone: bool, figure: fn(&Uniformity) -> f64) -> Vec<Option<f64>> {
    let passes = entry.found.passes.iter();
    let regions = passes.map(|p| if alone { &p.alone } else { &p.cumulative });
    regions.map(|r| inside(r).map(|f| figure(&f)).filter(|v| v.is_finite())).collect()
}

fn panel(
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    frame: Frame,
    label: &str,
    figure: fn(&Uniformity) -> f64,
) -> Result<(), DrawError> {
    let both = |e: &Entry<'_>| [values(e, true, figure), values(e, false, figure)].concat();
    let lowest = scene.entries.iter().flat_map(both).flatten().fold(100.0, f64::min);
    // CU can fall under 0 in theory; the chart then still holds it.
    let (lo, _) = round_range(lowest.min(95.0) - 0.5, 100.0, 5);
    let passes = scene.most_passes();
    let chart = Chart::new(frame, (0.5, passes as f64 + 0.5), (lo, 100.0));
    chart.draw(canvas, ("Pass", label), &pass_ticks(passes, 12))?;
    if scene.entries.iter().flat_map(both).flatten().next().is_none() {
        chart.no_water(canvas)?;
    }
    for (index, entry) in scene.entries.iter().enumerate() {
        let style = line_style(index);
        let faint = Ink { opacity: 0.4, ..Ink::new(style.color, 1.2) };
        for (pass, value) in values(entry, true, figure).iter().enumerate() {
            if let Some(value) = value {
                let place = chart.place(pass as f64 + 1.0, *value);
                style.marker.draw(canvas, place, 2.8, faint)?;
            }
        }
    }
    for (index, entry) in scene.entries.iter().enumerate() {
        cumulative(canvas, &chart, entry, line_style(index), &values(entry, false, figure))?;
    }
    Ok(())
}

/// The cumulative line, broken where a value is missing, with markers at whole cycles.
fn cumulative(
    canvas: &Canvas<'_>,
    chart: &Chart,
    entry: &Entry<'_>,
    style: LineStyle,
    values: &[Option<f64>],
) -> Result<(), DrawError> {
    let place = |(pass, value): (usize, f64)| chart.place(pass as f64 + 1.0, value);
    let points: Vec<Option<Point>> =
        values.iter().enumerate().map(|(pass, v)| v.map(|v| place((pass, v)))).collect();
    for run in points.split(Option::is_none).filter(|run| run.len() > 1) {
        let run: Vec<Point> = run.iter().flatten().copied().collect();
        styled_line(canvas, &run, style)?;
    }
    let radius = if values.len() > 30 { 3.2 } else { 4.4 };
    for (pass, point) in points.iter().enumerate() {
        if let Some(point) = point.filter(|_| entry.ends_a_cycle(pass) || values.len() == 1) {
            style.marker.draw(canvas, point, radius, Ink::new(style.color, 1.6))?;
        }
    }
    Ok(())
}
