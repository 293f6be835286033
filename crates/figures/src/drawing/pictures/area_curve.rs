//! Depth against the share of the area that gets it or more.

use super::season_map::after;
use crate::drawing::axis::{Chart, SMALL, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, key, key_height, styled_line, title};
use crate::drawing::line_style::line_style;
use crate::drawing::spread::Spread;
use crate::picture::Picture;
use crate::scenes::{Entry, Scene};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, RULE, TEXT};
use evenfall_canvas::{Frame, Ink, Lettering, Point, Side, sheet};
use evenfall_core::statistics::Numbers;

const HEIGHT: f64 = 380.0;
const POINTS: usize = 200;

/// Draws the picture.
pub(super) fn draw(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let region = scene.interior_name();
    let heading = format!("Depth against share of the {region}, {}", after(scene));
    let curves: Vec<_> = scene.entries.iter().map(|e| curve(scene, e)).collect();
    let depths = curves.iter().flatten().flatten().map(|(_, depth)| *depth);
    let (lo, hi) = depths.fold((90.0, 110.0), |(lo, hi), d| (f64::min(lo, d), f64::max(hi, d)));
    let (lo, hi) = round_range(lo.max(0.0), hi.min(300.0), 6);
    let head = 50.0;
    let names = scene.site.names();
    let drawing = sheet((WIDTH, head + HEIGHT + 64.0 + key_height(&names)), &heading, |canvas| {
        title(canvas, &heading)?;
        let frame = Frame {
            left: MARGIN + 60.0,
            top: head + 6.0,
            width: WIDTH - 2.0 * MARGIN - 74.0,
            height: HEIGHT,
        };
        let chart = Chart::new(frame, (0.0, 100.0), (lo, hi));
        let quarter = chart.x.place(75.0);
        let driest = Frame { left: quarter, width: frame.right() - quarter, ..frame };
        canvas.fill(driest, RULE, 0.45)?;
        let ticks: Vec<f64> = (0..=10).map(|i| f64::from(i) * 10.0).collect();
        let x_label = format!("Share of the {region} that gets this depth or more (%)");
        chart.draw(canvas, (&x_label, "Depth, % of the own mean"), &ticks)?;
        let look = Lettering::new(SMALL, Side::Center).color(QUIET);
        canvas.text((driest.middle().0, frame.top + 14.0), "driest quarter", look)?;
        let mean = [chart.place(0.0, 100.0), chart.place(100.0, 100.0)];
        canvas.line(&mean, Ink::new(TEXT, 1.0))?;
        if curves.iter().all(Option::is_none) {
            chart.no_water(canvas)?;
        }
        for (index, curve) in curves.iter().enumerate() {
            let Some(curve) = curve else { continue };
            let place = |(x, y): &Point| chart.place(*x, y.clamp(lo, hi));
            let points: Vec<Point> = curve.iter().map(place).collect();
            styled_line(canvas, &points, line_style(index))?;
            let marks = points.iter().skip(10 + 4 * index).step_by(40);
            for point in marks {
                let style = line_style(index);
                style.marker.draw(canvas, *point, 4.0, Ink::new(style.color, 1.6))?;
            }
        }
        key(canvas, head + HEIGHT + 62.0, &names)
    })?;
    let caption = "Cells sorted from wettest (left) to driest (right). A perfectly uniform field \
        would be the level line at 100 %. The mean height of a curve over the shaded driest \
        quarter is its DUlq.";
    Ok(Picture { name: "area-depth", title: heading, caption: caption.to_owned(), drawing })
}

/// Points (share of area, depth), both percent, wettest first; `None` where no water fell.
fn curve(scene: &Scene<'_>, entry: &Entry<'_>) -> Option<Vec<Point>> {
    let mean = entry.mean_depth_mm(entry.passes())?;
    let window = scene.interior();
    let runs = window.runs_of(entry.season_depth_mm());
    let depths: Vec<_> = runs.into_iter().map(Numbers::Double).collect();
    let spread = Spread::of(&depths, 100.0 / mean)?;
    let share = |i: usize| i as f64 / POINTS as f64;
    Some((0..=POINTS).map(|i| (100.0 * share(i), spread.quantile(1.0 - share(i)))).collect())
}
