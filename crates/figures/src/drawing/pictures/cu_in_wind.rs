//! CU of some layouts in steady wind, as the program has it before any test of one's own.

use crate::drawing::axis::Chart;
use crate::drawing::furniture::{MARGIN, WIDTH, key, key_height, styled_line, title};
use crate::drawing::line_style::line_style;
use crate::picture::Picture;
use evenfall_canvas::DrawError;
use evenfall_canvas::{Frame, Ink, Point, sheet};
use evenfall_view::known::{CU_IN_WIND, SPEEDS_M_S};
use evenfall_view::units::{Quantity, UnitSystem};

const HEIGHT: f64 = 300.0;
const HEAD: f64 = 50.0;
/// Room on the chart, percent.
const LOWEST: f64 = 60.0;

/// Draws the picture.
///
/// # Errors
/// If a library refuses.
pub(crate) fn cu_in_wind_picture(units: UnitSystem) -> Result<Picture, DrawError> {
    let heading = "CU in steady wind, before any test of your own";
    let names: Vec<(usize, &str)> = CU_IN_WIND.iter().map(|row| row.layout).enumerate().collect();
    let height = HEAD + HEIGHT + 64.0 + key_height(&names);
    let drawing = sheet((WIDTH, height), heading, |canvas| {
        title(canvas, heading)?;
        let width = WIDTH - 2.0 * MARGIN - 74.0;
        let frame = Frame { left: MARGIN + 60.0, top: HEAD + 6.0, width, height: HEIGHT };
        let shown = |speed_m_s: f64| units.shown(Quantity::Speed, speed_m_s);
        let chart = Chart::new(frame, (0.0, shown(8.4)), (LOWEST, 100.0));
        let height = units.text(Quantity::Length, 2.0, 1);
        let label = format!("Wind at {height} ({})", units.symbol(Quantity::Speed));
        let (ticks, _) = chart.x.ticks(8);
        chart.draw(canvas, (&label, "Christiansen’s CU (%)"), &ticks)?;
        for (index, row) in CU_IN_WIND.iter().enumerate() {
            let style = line_style(index);
            let points: Vec<Point> = SPEEDS_M_S
                .iter()
                .zip(row.cu_percent)
                .map(|(speed, cu)| chart.place(shown(*speed), cu))
                .collect();
            styled_line(canvas, &points, style)?;
            for point in points {
                style.marker.draw(canvas, point, 4.0, Ink::new(style.color, 1.6))?;
            }
        }
        key(canvas, HEAD + HEIGHT + 62.0, &names)
    })?;
    let caption = "Mean of winds along, across and between the pipe’s direction, an endless field. \
        These are other layouts than yours: they show how much hangs on the pattern, and how little \
        a rotated line cares about the wind.";
    Ok(Picture {
        name: "cu-in-wind",
        title: heading.to_owned(),
        caption: caption.to_owned(),
        drawing,
    })
}
