//! The leg as fitted, with its limits; for cans in still air the cans themselves.

use super::book::{CatchEntry, rate_symbol};
use super::tables::{k1_found_words, k1_words};
use crate::drawing::axis::{Chart, SMALL, bottom_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, title};
use crate::picture::Picture;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, TEXT};
use evenfall_canvas::{Frame, Ink, Lettering, Point, Side, sheet};
use evenfall_core::catch::fit::Fit;
use evenfall_view::units::{Quantity, UnitSystem};

const HEIGHT: f64 = 380.0;
const CAN: (u8, u8, u8) = (0, 114, 178);

/// Draws the picture.
pub(super) fn draw(entry: &CatchEntry, fit: &Fit, units: UnitSystem) -> Result<Picture, DrawError> {
    let heading = format!("Leg fitted: {}", entry.test.title);
    let length = |m: f64| units.shown(Quantity::Length, m);
    let rate = |mm_h: f64| units.shown(Quantity::Depth, mm_h);
    // In wind a can's distance says little: cans and leg would not belong together.
    let cans: Vec<Point> = match fit.k1 {
        Some(_) => Vec::new(),
        None => fit.cans.iter().map(|c| (length(c.distance_m), rate(c.measured_mm_h))).collect(),
    };
    let knots: Vec<Point> = fit
        .leg
        .distance_m
        .iter()
        .zip(&fit.leg.rate_mm_h)
        .map(|(r, f)| (length(*r), rate(*f)))
        .collect();
    // A bar that says nothing must not press the rest flat: it is cut off at the frame.
    let known = cans.iter().chain(&knots).map(|p| p.1).fold(0.0, f64::max);
    let tops = fit.rate_intervals.iter().flatten().map(|i| rate(i.high).min(1.4 * known));
    let highest = tops.fold(known, f64::max);
    let farthest = cans.iter().chain(&knots).map(|p| p.0).fold(0.0, f64::max);
    let (x, y) = (round_range(0.0, farthest * 1.02, 8), round_range(0.0, highest * 1.05, 6));
    let drawing = sheet((WIDTH, HEIGHT + 150.0), &heading, |canvas| {
        let top = title(canvas, &heading)? + 24.0;
        canvas.text((MARGIN, top - 16.0), &words(fit), Lettering::new(SMALL, Side::Left))?;
        let frame = Frame {
            left: MARGIN + 90.0,
            top: top + 10.0,
            width: WIDTH - 2.0 * MARGIN - 110.0,
            height: HEIGHT,
        };
        let chart = Chart::new(frame, x, y);
        let titles = (
            format!("distance from the sprinkler, {}", units.symbol(Quantity::Length)),
            format!("rate, {}", rate_symbol(units)),
        );
        chart.draw(canvas, (&titles.0, &titles.1), &[])?;
        let (ticks, decimals) = chart.x.ticks(8);
        bottom_ticks(canvas, frame, &chart.x, &ticks, decimals)?;
        for (r, f) in &cans {
            canvas.disc(chart.place(*r, *f), 4.0, CAN, 0.5)?;
        }
        let line: Vec<Point> = knots.iter().map(|(r, f)| chart.place(*r, *f)).collect();
        canvas.line(&line, Ink::new(TEXT, 2.2))?;
        for (knot, (r, _)) in knots.iter().enumerate() {
            let Some(Some(i)) = fit.rate_intervals.get(knot) else { continue };
            let place = |mm_h: f64| chart.place(*r, rate(mm_h).min(y.1));
            let (low, high) = (place(i.low), place(i.high));
            canvas.line(&[low, high], Ink::new(TEXT, 1.4))?;
            let ends = [low, high];
            for (px, py) in ends.into_iter().filter(|(_, py)| *py > frame.top) {
                canvas.line(&[(px - 5.0, py), (px + 5.0, py)], Ink::new(TEXT, 1.4))?;
            }
        }
        for point in &line {
            canvas.disc(*point, 3.5, TEXT, 1.0)?;
        }
        let key = if cans.is_empty() {
            "line and bars: fitted leg with its confidence intervals"
        } else {
            "line and bars: fitted leg with its confidence intervals; blue: cans"
        };
        let look = Lettering::new(SMALL, Side::Right).color(QUIET);
        canvas.text((frame.right(), top - 4.0), key, look)
    })?;
    let caption = "What the sprinkler puts down in still air by distance, as found from the cans: net, without \
        drift and evaporation. Where bars are long (some are cut off at the top) the cans say little.";
    Ok(Picture { name: "fitted-leg", title: heading, caption: caption.to_owned(), drawing })
}

fn words(fit: &Fit) -> String {
    match &fit.k1 {
        None => "K1 not fitted".to_owned(),
        Some(k1) => format!("K1 {}; determined: {}", k1_words(k1), k1_found_words(k1.found)),
    }
}
