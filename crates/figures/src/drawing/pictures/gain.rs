//! What each alternative gains over the first one in CU and low-quarter DU, pass by pass, with what
//! the split into systematic and wind-made unevenness foretells of CU.
//!
//! After N passes the split has 1 − CU = √(S² + R²/N), so its gain is the baseline's root less the
//! alternative's (see [`evenfall_core::unevenness`]). It is told from the cells of the passes that are shown,
//! not from their CU: how well it runs through them is a check of its form, not a forecast.

use crate::drawing::axis::{Chart, pass_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, key, key_height, styled_line, title};
use crate::drawing::line_style::line_style;
use crate::picture::Picture;
use crate::scenes::{Entry, Scene, inside};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::TEXT;
use evenfall_canvas::{Canvas, Frame, Ink, Point, sheet};
use evenfall_core::unevenness::UnevennessSplit;
use evenfall_core::uniformity::Uniformity;

const HEAD: f64 = 50.0;
const HEIGHT: f64 = 330.0;
/// Points of the predicted line.
const SAMPLES: usize = 120;

/// One of the two charts.
struct Panel {
    label: &'static str,
    /// In the shown unit.
    figure: fn(&Uniformity) -> f64,
    /// Whether the split says anything of it.
    is_foretold: bool,
}

/// Draws the picture; nothing with one alternative alone.
pub(super) fn draw(scene: &Scene<'_>) -> Result<Option<Picture>, DrawError> {
    let Some((baseline, rivals)) = scene.entries.split_first().filter(|(_, r)| !r.is_empty())
    else {
        return Ok(None);
    };
    let names = scene.site.names().into_iter().skip(1).collect::<Vec<_>>();
    let heading = format!("Gain over “{}”, pass by pass", baseline.asked.name);
    let drawing = sheet((WIDTH, HEAD + HEIGHT + 64.0 + key_height(&names)), &heading, |canvas| {
        title(canvas, &heading)?;
        let half = (WIDTH - 2.0 * MARGIN) / 2.0;
        let panels = [
            Panel { label: "Gain of CU (points)", figure: |f| 100.0 * f.cu, is_foretold: true },
            Panel {
                label: "Gain of DUlq (points)",
                figure: |f| 100.0 * f.du_lq,
                is_foretold: false,
            },
        ];
        for (side, shown) in panels.iter().enumerate() {
            let left = MARGIN + half * side as f64 + 60.0;
            let frame = Frame { left, top: HEAD + 6.0, width: half - 74.0, height: HEIGHT };
            panel(canvas, scene, frame, shown, rivals)?;
        }
        key(canvas, HEAD + HEIGHT + 62.0, &names)
    })?;
    let caption = format!(
        "All passes so far together, {}, less those of “{}” after as many passes; above the strong \
         line at zero is a gain. Markers stand where a cycle of the rotation is whole: between \
         them not every stop had its turn. Broad faint lines through CU: the same from the split into systematic \
         and random (wind) unevenness, told from the cells of whole cycles.",
        scene.interior_name(),
        baseline.asked.name
    );
    Ok(Some(Picture { name: "gain", title: heading, caption, drawing }))
}

/// Gain in a figure pass by pass, `None` where one of the two has no water.
fn gains(
    entry: &Entry<'_>,
    baseline: &Entry<'_>,
    figure: fn(&Uniformity) -> f64,
) -> Vec<Option<f64>> {
    let of = |entry: &Entry<'_>| -> Vec<Option<f64>> {
        let passes = entry.found.passes.iter();
        passes.map(|pass| inside(&pass.cumulative).map(|f| figure(&f))).collect()
    };
    let both = of(entry).into_iter().zip(of(baseline));
    both.map(|(own, other)| Some(own? - other?).filter(|gain| gain.is_finite())).collect()
}

/// What the splits make of the gain of CU after so many passes, points.
fn foretold(own: &UnevennessSplit, other: &UnevennessSplit, passes: f64) -> f64 {
    100.0 * (other.unevenness(passes) - own.unevenness(passes))
}

fn panel(
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    frame: Frame,
    shown: &Panel,
    rivals: &[Entry<'_>],
) -> Result<(), DrawError> {
    let baseline = &scene.entries[0];
    let all: Vec<Vec<Option<f64>>> =
        rivals.iter().map(|entry| gains(entry, baseline, shown.figure)).collect();
    let found = all.iter().flatten().flatten();
    let (lo, hi) = found.fold((0.0, 0.0), |(lo, hi), v| (f64::min(lo, *v), f64::max(hi, *v)));
    let passes = all.iter().map(Vec::len).max().unwrap_or(1);
    let ends = if lo == hi { (-1.0, 1.0) } else { round_range(lo, hi, 6) };
    let chart = Chart::new(frame, (0.5, passes as f64 + 0.5), ends);
    chart.draw(canvas, ("Pass", shown.label), &pass_ticks(passes, 12))?;
    let zero = [(frame.left, chart.y.place(0.0)), (frame.right(), chart.y.place(0.0))];
    canvas.line(&zero, Ink::new(TEXT, 1.6))?;
    for (place, (entry, gains)) in rivals.iter().zip(&all).enumerate() {
        let style = line_style(place + 1);
        if let (true, Some(own), Some(other)) =
            (shown.is_foretold, &entry.found.split, &baseline.found.split)
        {
            let from = entry.found.plan.cycle.max(1) as f64;
            let line = foretold_line(&chart, own, other, (from, gains.len() as f64));
            let faint = Ink { opacity: 0.4, ..Ink::new(style.color, 5.0) };
            if line.len() > 1 {
                canvas.line(&line, faint)?;
            }
        }
        let point = |(pass, gain): (usize, &Option<f64>)| {
            gain.map(|gain| chart.place(pass as f64 + 1.0, gain))
        };
        let points: Vec<Option<Point>> = gains.iter().enumerate().map(point).collect();
        for run in points.split(Option::is_none).filter(|run| run.len() > 1) {
            let run: Vec<Point> = run.iter().flatten().copied().collect();
            styled_line(canvas, &run, style)?;
        }
        let ends = points.iter().enumerate().filter(|(pass, _)| entry.ends_a_cycle(*pass));
        for (_, point) in ends {
            if let Some(point) = point {
                style.marker.draw(canvas, *point, 4.4, Ink::new(style.color, 1.6))?;
            }
        }
    }
    Ok(())
}

/// The foretold gain from the first whole cycle on, as far as it lies on the chart.
fn foretold_line(
    chart: &Chart,
    own: &UnevennessSplit,
    other: &UnevennessSplit,
    (from, to): (f64, f64),
) -> Vec<Point> {
    let at = |i: usize| from + (to - from) * i as f64 / SAMPLES as f64;
    let points = (0..=SAMPLES).map(|i| (at(i), foretold(own, other, at(i))));
    let on_chart = points.filter(|(_, gain)| (chart.y.lo..=chart.y.hi).contains(gain));
    on_chart.map(|(passes, gain)| chart.place(passes, gain)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::unevenness::UnevenPart;

    #[test]
    fn closed_the_foretold_gain_tends_to_the_systematic_difference() {
        let part = |value: f64| UnevenPart { square: value * value, interval: None };
        let split = |systematic, random| UnevennessSplit {
            systematic: part(systematic),
            random: part(random),
            cycles: 3,
        };
        let (own, other) = (split(0.06, 0.08), split(0.12, 0.05));
        // One pass: √(0.0144 + 0.0025) less √(0.0036 + 0.0064), 13 less 10 points.
        assert!((foretold(&own, &other, 1.0) - 3.0).abs() < 1e-12);
        assert!((foretold(&own, &other, 1e9) - 6.0).abs() < 1e-6);
    }
}
