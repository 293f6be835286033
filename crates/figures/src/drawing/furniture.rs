//! What several pictures share: the title, the color bar, the compass, the key of lines.

use crate::drawing::axis::{Axis, BODY, SMALL, bottom_ticks};
use crate::drawing::fit::{shortened, wrapped};
use crate::drawing::line_style::{LineStyle, line_style};
use crate::scenes::Site;
use evenfall_canvas::DrawError;
use evenfall_canvas::Image;
use evenfall_canvas::colors::{ColorScale, QUIET, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Point, Side, text_width};
use evenfall_view::units::{COMPASS, percent};

/// Width of every picture, pixels.
pub(crate) const WIDTH: f64 = 1000.0;
/// Margin around every picture, pixels.
pub(crate) const MARGIN: f64 = 16.0;
/// Size of a picture's title, pixels.
const TITLE: f64 = 19.0;

/// The title at the upper left; returns where the rest may begin.
pub(crate) fn title(canvas: &Canvas<'_>, text: &str) -> Result<f64, DrawError> {
    let look = Lettering::new(TITLE, Side::Left).bold();
    let text = shortened(text, WIDTH - 2.0 * MARGIN, TITLE, true);
    canvas.text((MARGIN, MARGIN + 12.0), &text, look)?;
    Ok(MARGIN + 34.0)
}

/// A level color bar with its label above and ticks below: needs 62 pixels of height.
/// `ends` says that values beyond both ends share the ends' colors.
pub(crate) fn color_bar(
    canvas: &mut Canvas<'_>,
    (left, top): Point,
    width: f64,
    scale: &ColorScale,
    label: &str,
) -> Result<(), DrawError> {
    canvas.text((left, top + 8.0), label, Lettering::new(BODY, Side::Left))?;
    // A little in, so that the label of the first tick stays on the sheet.
    let bar = Frame { left: left + 8.0, top: top + 20.0, width, height: 16.0 };
    let indices = (0..ColorScale::STEPS as u8).collect();
    let (columns, palette) = (ColorScale::STEPS, scale.palette());
    canvas.image(bar, Image { indices, columns, rows: 1, palette, blocky: true })?;
    canvas.outline(bar, Ink::new(TEXT, 1.0))?;
    let axis = Axis { lo: scale.lo, hi: scale.hi, from: bar.left, to: bar.right() };
    let (ticks, decimals) = axis.ticks(6);
    bottom_ticks(canvas, bar, &axis, &ticks, decimals)
}

/// North and, where known, the prevailing wind as they lie on the map: needs 250 × 70 pixels.
pub(crate) fn compass(
    canvas: &Canvas<'_>,
    (left, top): Point,
    site: &Site<'_>,
) -> Result<(), DrawError> {
    let center = (left + 32.0, top + 34.0);
    let bearing = site.scenario.field.travel_bearing_deg;
    canvas.ring(center, 20.0, Ink::new(QUIET, 1.0))?;
    let tip = toward(center, -bearing, 20.0);
    let feet = [
        toward(center, 180.0 - bearing - 24.0, 14.0),
        toward(center, 180.0 - bearing + 24.0, 14.0),
    ];
    canvas.polygon(&[tip, feet[0], center, feet[1]], TEXT, 1.0)?;
    let look = Lettering::new(SMALL, Side::Center).bold();
    canvas.text(toward(center, -bearing, 29.0), "N", look)?;
    let small = Lettering::new(SMALL, Side::Left);
    let text_left = left + 76.0;
    let Some(rose) = site.rose else { return Ok(()) };
    match prevailing(rose) {
        Some(sector) => {
            let from = sector as f64 * 22.5 - bearing;
            arrow(canvas, toward((text_left + 16.0, top + 34.0), from, 17.0), from + 180.0, 34.0)?;
            let share = percent(rose[sector], 0);
            let lines = [
                format!("wind mostly from {}", COMPASS[sector]),
                format!("({share} of watered hours)"),
            ];
            for (line, dy) in lines.iter().zip([25.0, 43.0]) {
                canvas.text((text_left + 44.0, top + dy), line, small)?;
            }
            Ok(())
        }
        None => canvas.text((text_left, top + 34.0), "no wind", small),
    }
}

/// The sector the wind blew from most often; `None` in still air.
pub(crate) fn prevailing(rose: &[f64; 16]) -> Option<usize> {
    let best = (0..16).max_by(|a, b| rose[*a].total_cmp(&rose[*b]).then(b.cmp(a)))?;
    (rose[best] > 0.0).then_some(best)
}

/// The point `distance` pixels from `from`, `turn_deg` clockwise from up.
pub(crate) fn toward((x, y): Point, turn_deg: f64, distance: f64) -> Point {
    let turn = turn_deg.to_radians();
    (x + distance * turn.sin(), y - distance * turn.cos())
}

/// An arrow from `tail`, `turn_deg` clockwise from up.
pub(crate) fn arrow(
    canvas: &Canvas<'_>,
    tail: Point,
    turn_deg: f64,
    length: f64,
) -> Result<(), DrawError> {
    let tip = toward(tail, turn_deg, length);
    canvas.line(&[tail, toward(tail, turn_deg, length - 6.0)], Ink::new(TEXT, 2.0))?;
    let barbs = [toward(tip, turn_deg + 155.0, 11.0), toward(tip, turn_deg - 155.0, 11.0)];
    canvas.polygon(&[tip, barbs[0], barbs[1]], TEXT, 1.0)
}

/// How high the key of lines is for these names, pixels.
pub(crate) fn key_height(names: &[(usize, &str)]) -> f64 {
    22.0 * names.len().div_ceil(key_columns(names)) as f64 + 6.0
}

fn key_columns(names: &[(usize, &str)]) -> usize {
    let widths = names.iter().map(|(_, name)| text_width(name, BODY, false));
    let widest = widths.fold(0.0, f64::max) + 70.0;
    (((WIDTH - 2.0 * MARGIN) / widest) as usize).clamp(1, 3)
}

/// The key of lines: a sample and the name of each alternative, given with its place.
pub(crate) fn key(canvas: &Canvas<'_>, top: f64, names: &[(usize, &str)]) -> Result<(), DrawError> {
    let columns = key_columns(names);
    let width = (WIDTH - 2.0 * MARGIN) / columns as f64;
    for (index, (place, name)) in names.iter().enumerate() {
        let x = MARGIN + (index % columns) as f64 * width;
        let y = top + 11.0 + 22.0 * (index / columns) as f64;
        let style = line_style(*place);
        styled_line(canvas, &[(x, y), (x + 44.0, y)], style)?;
        style.marker.draw(canvas, (x + 22.0, y), 4.0, Ink::new(style.color, 1.6))?;
        let name = shortened(name, width - 62.0, BODY, false);
        canvas.text((x + 52.0, y), &name, Lettering::new(BODY, Side::Left))?;
    }
    Ok(())
}

/// A line in an alternative's style.
pub(crate) fn styled_line(
    canvas: &Canvas<'_>,
    points: &[Point],
    style: LineStyle,
) -> Result<(), DrawError> {
    let ink = Ink::new(style.color, 2.0);
    match style.dash {
        Some(dash) => canvas.dashed(points, ink, dash),
        None => canvas.line(points, ink),
    }
}

/// Height of one line of a name, pixels.
pub(crate) const NAME_LINE: f64 = 18.0;
/// Most lines of a name.
const NAME_LINES: usize = 3;

/// Lines that the longest name takes at `width` pixels.
pub(crate) fn name_lines(names: &[(usize, &str)], width: f64) -> usize {
    let lines = |text: &str| wrapped(text, width, BODY, true, NAME_LINES).len();
    names.iter().map(|(_, name)| lines(name)).max().unwrap_or(1)
}

/// Name of an alternative over a panel, in at most three lines of `width` pixels.
pub(crate) fn name(
    canvas: &Canvas<'_>,
    (left, top): Point,
    width: f64,
    text: &str,
) -> Result<(), DrawError> {
    let look = Lettering::new(BODY, Side::Left).bold();
    for (row, line) in wrapped(text, width, BODY, true, NAME_LINES).iter().enumerate() {
        canvas.text((left, top + 9.0 + NAME_LINE * row as f64), line, look)?;
    }
    Ok(())
}
