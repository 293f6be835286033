//! Measured against fitted or simulated, can by can, with the line on which both are the same.

use super::book::{CatchEntry, rate_symbol};
use crate::drawing::axis::{Chart, SMALL, round_range};
use crate::drawing::furniture::{MARGIN, title};
use crate::picture::Picture;
use evenfall_canvas::DrawError;
use evenfall_canvas::Drawing;
use evenfall_canvas::colors::{QUIET, TEXT};
use evenfall_canvas::{Frame, Ink, Lettering, Point, Side, sheet};
use evenfall_core::catch::compare::Comparison;
use evenfall_core::catch::fit::Fit;
use evenfall_view::units::{Quantity, UnitSystem, number};

/// Width and height of the sheet, pixels.
const SIZE: (f64, f64) = (1000.0, 640.0);
const DOT: (u8, u8, u8) = (0, 114, 178);

/// Measured against fitted rates.
pub(super) fn fitted(
    entry: &CatchEntry,
    fit: &Fit,
    units: UnitSystem,
) -> Result<Picture, DrawError> {
    let shown = |rate: f64| units.shown(Quantity::Depth, rate);
    let dots: Vec<Point> =
        fit.cans.iter().map(|c| (shown(c.fitted_mm_h), shown(c.measured_mm_h))).collect();
    let unit = rate_symbol(units);
    let heading = format!("Measured against fitted: {}", entry.test.title);
    let words = format!(
        "R² {}, residuals {} % of the mean wet can",
        number(fit.r_squared, 3),
        number(100.0 * fit.rms_of_mean, 1)
    );
    let titles = (format!("fitted, {unit}"), format!("measured, {unit}"));
    let drawing = draw(&heading, &dots, &titles, &words)?;
    let caption = "One dot for each can. On the line the fit is right. A bend away from it means that the shape of \
        the leg, K1 or the wind noted is wrong.";
    Ok(Picture { name: "fitted-cans", title: heading, caption: caption.to_owned(), drawing })
}

/// Measured against simulated depths.
pub(super) fn simulated(
    entry: &CatchEntry,
    comparison: &Comparison,
    units: UnitSystem,
) -> Result<Picture, DrawError> {
    let shown = |depth: f64| units.shown(Quantity::Depth, depth);
    let dots: Vec<Point> =
        comparison.pairs.iter().map(|p| (shown(p.simulated_mm), shown(p.measured_mm))).collect();
    let unit = units.symbol(Quantity::Depth);
    let heading = format!("Measured against simulated: {}", entry.test.title);
    let words = format!(
        "RMS difference {}, correlation {}",
        units.text(Quantity::Depth, comparison.rms_mm, units.depth_decimals() + 1),
        comparison.correlation.map_or_else(|| "none".to_owned(), |r| number(r, 2))
    );
    let titles = (format!("simulated, {unit}"), format!("measured, {unit}"));
    let drawing = draw(&heading, &dots, &titles, &words)?;
    let caption = "One dot for each can. On the line simulation and cans agree. Dots all on one side point to \
        discharge, set time or losses; a cloud across the line points to the pattern or the wind.";
    Ok(Picture { name: "simulated-cans", title: heading, caption: caption.to_owned(), drawing })
}

fn draw(
    heading: &str,
    dots: &[Point],
    titles: &(String, String),
    words: &str,
) -> Result<Drawing, DrawError> {
    let highest = dots.iter().map(|(x, y)| x.max(*y)).fold(0.0, f64::max);
    let (lo, hi) = round_range(0.0, highest * 1.05, 5);
    sheet(SIZE, heading, |canvas| {
        let top = title(canvas, heading)? + 10.0;
        let side = SIZE.1 - top - 62.0;
        let frame = Frame { left: MARGIN + 90.0, top, width: side, height: side };
        let chart = Chart::new(frame, (lo, hi), (lo, hi));
        let (_, decimals) = chart.x.ticks(5);
        chart.draw(canvas, (&titles.0, &titles.1), &[])?;
        let (ticks, _) = chart.x.ticks(5);
        crate::drawing::axis::bottom_ticks(canvas, frame, &chart.x, &ticks, decimals)?;
        let same = [chart.place(lo, lo), chart.place(hi, hi)];
        canvas.line(&same, Ink::new(TEXT, 1.2))?;
        for (x, y) in dots {
            canvas.disc(chart.place(*x, *y), 4.0, DOT, 0.55)?;
        }
        let look = Lettering::new(SMALL, Side::Left);
        let left = frame.right() + 24.0;
        canvas.text((left, top + 14.0), words, look)?;
        canvas.text((left, top + 38.0), "line: the two agree", look.color(QUIET))?;
        canvas.text((left, top + 60.0), &format!("{} cans", dots.len()), look.color(QUIET))
    })
}
