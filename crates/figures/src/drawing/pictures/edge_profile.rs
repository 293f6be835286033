//! Depth across the field near its first and last edge: every pass, and all passes together.

use crate::drawing::axis::{Axis, Chart, SMALL, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, key, key_height, name, styled_line, title};
use crate::drawing::line_style::line_style;
use crate::picture::Picture;
use crate::scenes::{Entry, Scene};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, TEXT, stop_color};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Point, Side, sheet};
use evenfall_view::units::Quantity;

/// Height of one chart, pixels.
const HEIGHT: f64 = 190.0;
/// Height of a row with its name and axis, pixels.
const ROW: f64 = HEIGHT + 108.0;
/// Room for the numbers left of a chart, pixels.
const LEFT: f64 = 62.0;

/// A stretch of the field across, m.
#[derive(Clone, Copy)]
struct Stretch {
    from_m: f64,
    to_m: f64,
    words: &'static str,
}

/// The stretches of two outlet spacings at both edges.
fn stretches(scene: &Scene<'_>) -> [Stretch; 2] {
    let width_m = scene.outcome.grid.width_across_m();
    let deep_m = (2.0 * scene.outcome.edge_strip_m).min(width_m);
    [
        Stretch { from_m: 0.0, to_m: deep_m, words: "first edge" },
        Stretch { from_m: width_m - deep_m, to_m: width_m, words: "last edge" },
    ]
}

/// Mean profile of an alternative's passes, mm a pass.
fn mean_profile_mm(entry: &Entry<'_>) -> Vec<f64> {
    let passes = &entry.found.passes;
    let rows = passes.first().map_or(0, |pass| pass.profile_mm.len());
    let mean =
        |row: usize| passes.iter().map(|p| p.profile_mm[row]).sum::<f64>() / passes.len() as f64;
    (0..rows).map(mean).collect()
}

/// One row of charts an alternative: each pass in its stop's color, the mean in black.
pub(crate) fn draw(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let heading = "Depth near the edges, pass by pass";
    let depth = |mm: f64| scene.units.shown(Quantity::Depth, mm);
    let all = scene.entries.iter().flat_map(|e| &e.found.passes).flat_map(|p| &p.profile_mm);
    let highest = all.copied().filter(|mm| mm.is_finite()).fold(0.0, f64::max);
    let (_, top) = round_range(0.0, depth(highest).max(1e-6), 4);
    let rows = scene.entries.len() as f64;
    let drawing = sheet((WIDTH, 50.0 + rows * ROW + 8.0), heading, |canvas| {
        let mut y = title(canvas, heading)?;
        for entry in &scene.entries {
            name(canvas, (MARGIN, y), WIDTH - 2.0 * MARGIN, &entry.asked.name)?;
            for (side, stretch) in stretches(scene).into_iter().enumerate() {
                let frame = half(side, y + 26.0);
                let chart = across(scene, frame, stretch, top);
                passes(canvas, scene, &chart, entry, stretch)?;
            }
            y += ROW;
        }
        Ok(())
    })?;
    let caption = "Mean depth of each row of cells, the ends of the pipe left out, over two outlet \
        spacings at either edge. Thin lines: single passes, in the color of their stop. Thick line: \
        mean of all passes. Letters above a chart: where the lateral stood; extra or held stops \
        carry the letter of their pass.";
    Ok(Picture {
        name: "edge-passes",
        title: heading.to_owned(),
        caption: caption.to_owned(),
        drawing,
    })
}

/// The left or right half of the sheet.
fn half(side: usize, top: f64) -> Frame {
    let half = (WIDTH - 2.0 * MARGIN) / 2.0;
    let left = MARGIN + half * side as f64 + LEFT;
    Frame { left, top: top + 16.0, width: half - LEFT - 12.0, height: HEIGHT }
}

fn across(scene: &Scene<'_>, frame: Frame, stretch: Stretch, top: f64) -> Chart {
    let length = |m: f64| scene.units.shown(Quantity::Length, m);
    Chart::new(frame, (length(stretch.from_m), length(stretch.to_m)), (0.0, top))
}

fn frame_and_axes(
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    chart: &Chart,
    stretch: Stretch,
    y_label: &str,
) -> Result<(), DrawError> {
    let x_label =
        format!("Across the field, {} ({})", stretch.words, scene.units.symbol(Quantity::Length));
    chart.draw(canvas, (&x_label, y_label), &chart.x.ticks(6).0)
}

fn passes(
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    chart: &Chart,
    entry: &Entry<'_>,
    stretch: Stretch,
) -> Result<(), DrawError> {
    let y_label = format!("Depth of a pass ({})", scene.units.symbol(Quantity::Depth));
    frame_and_axes(canvas, scene, chart, stretch, &y_label)?;
    let depth = |mm: f64| scene.units.shown(Quantity::Depth, mm);
    let faint = if entry.passes() > 20 { 0.25 } else { 0.6 };
    for (found, planned) in entry.found.passes.iter().zip(&entry.found.plan.passes) {
        let ink = Ink { opacity: faint, ..Ink::new(stop_color(planned.letter), 1.2) };
        lines(scene, chart, stretch, &found.profile_mm, depth, &mut |run| canvas.line(run, ink))?;
    }
    let mean = Ink::new(TEXT, 2.6);
    let profile = mean_profile_mm(entry);
    lines(scene, chart, stretch, &profile, depth, &mut |run| canvas.line(run, mean))?;
    letters(canvas, scene, chart, entry, stretch)
}

/// A profile as lines within a stretch, broken where the field has no cells.
fn lines(
    scene: &Scene<'_>,
    chart: &Chart,
    stretch: Stretch,
    profile: &[f64],
    shown: impl Fn(f64) -> f64,
    draw: &mut dyn FnMut(&[Point]) -> Result<(), DrawError>,
) -> Result<(), DrawError> {
    let cell_m = scene.outcome.grid.cell_m;
    let points: Vec<Option<Point>> = profile
        .iter()
        .enumerate()
        .map(|(row, value)| ((row as f64 + 0.5) * cell_m, *value))
        .filter(|(at_m, _)| (stretch.from_m..=stretch.to_m).contains(at_m))
        .map(|(at_m, value)| {
            let x = scene.units.shown(Quantity::Length, at_m);
            value.is_finite().then(|| chart.place(x, shown(value)))
        })
        .collect();
    for run in points.split(Option::is_none).filter(|run| run.len() > 1) {
        let run: Vec<Point> = run.iter().flatten().copied().collect();
        draw(&run)?;
    }
    Ok(())
}

/// The letters of the stops that lie in the stretch, above the chart.
fn letters(
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    chart: &Chart,
    entry: &Entry<'_>,
    stretch: Stretch,
) -> Result<(), DrawError> {
    let mut stood: Vec<(f64, char)> = Vec::new();
    for pass in &entry.found.plan.passes {
        for set in &pass.sets {
            let at = (set.place_across_m, pass.letter);
            let known = stood.iter().any(|(m, c)| (m - at.0).abs() < 1e-6 && *c == at.1);
            if !known && (stretch.from_m..=stretch.to_m).contains(&at.0) {
                stood.push(at);
            }
        }
    }
    stood.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    for together in stood.chunk_by(|a, b| (a.0 - b.0).abs() < 0.1) {
        let x = chart.x.place(scene.units.shown(Quantity::Length, together[0].0));
        let text: String = together.iter().map(|(_, letter)| *letter).collect();
        canvas.line(&[(x, chart.frame.top), (x, chart.frame.top - 4.0)], Ink::new(TEXT, 1.0))?;
        let look = Lettering::new(SMALL, Side::Center).bold().color(stop_color(together[0].1));
        canvas.text((x, chart.frame.top - 11.0), &text, look)?;
    }
    Ok(())
}

/// All alternatives in one pair of charts: mean of all passes as percent of the interior's mean.
pub(crate) fn overlay(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let heading = "The season’s depth near the edges";
    let percent = |entry: &Entry<'_>| -> Vec<f64> {
        let all = entry.passes() as f64;
        let mean = entry.mean_depth_mm(entry.passes()).unwrap_or(f64::NAN) / all;
        mean_profile_mm(entry).iter().map(|mm| 100.0 * mm / mean).collect()
    };
    let profiles: Vec<Vec<f64>> = scene.entries.iter().map(percent).collect();
    let all = profiles.iter().flatten().copied().filter(|value| value.is_finite());
    let (_, top) = round_range(0.0, all.fold(100.0, f64::max), 5);
    let names = scene.site.names();
    let height = 50.0 + HEIGHT + 90.0 + 70.0 + key_height(&names);
    let drawing = sheet((WIDTH, height), heading, |canvas| {
        let y = title(canvas, heading)?;
        for (side, stretch) in stretches(scene).into_iter().enumerate() {
            let frame = Frame { height: HEIGHT + 90.0, ..half(side, y) };
            let chart = across(scene, frame, stretch, top);
            frame_and_axes(canvas, scene, &chart, stretch, "Depth, % of the interior’s mean")?;
            hundred(canvas, &chart)?;
            for (index, profile) in profiles.iter().enumerate() {
                let style = line_style(index);
                lines(scene, &chart, stretch, profile, |v| v, &mut |run| {
                    styled_line(canvas, run, style)?;
                    let ink = Ink::new(style.color, 1.6);
                    let marked = run.iter().skip(3 + 2 * index).step_by(12);
                    marked.copied().try_for_each(|at| style.marker.draw(canvas, at, 4.0, ink))
                })?;
            }
        }
        key(canvas, height - key_height(&names), &names)
    })?;
    let caption = "Mean depth of each row of cells over the season, the ends of the pipe left out, \
        as % of the interior’s mean, over two outlet spacings at either edge.";
    Ok(Picture {
        name: "edge-season",
        title: heading.to_owned(),
        caption: caption.to_owned(),
        drawing,
    })
}

fn hundred(canvas: &Canvas<'_>, chart: &Chart) -> Result<(), DrawError> {
    let Axis { from, to, .. } = chart.x;
    let y = chart.y.place(100.0);
    canvas.line(&[(from, y), (to, y)], Ink::new(QUIET, 1.0))
}
