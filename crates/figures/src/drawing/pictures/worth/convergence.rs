//! How mean and interval settle as seasons are added.

use super::labels::{Rival, money_label, seasons};
use crate::drawing::axis::{Chart, pass_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, name, title};
use crate::drawing::line_style::line_style;
use crate::picture::Picture;
use crate::scenes::WorthScene;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Point, sheet};
use evenfall_core::convergence::{RunningMean, running_mean};
use evenfall_view::worth::Worth;

const HEAD: f64 = 52.0;
const NAME: f64 = 28.0;
const HEIGHT: f64 = 240.0;
const BELOW: f64 = 66.0;

/// Draws the picture; nothing with one alternative alone.
pub(super) fn draw(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    let view = &scene.view;
    let rivals: Vec<Rival<'_>> = view.rivals().collect();
    if rivals.is_empty() {
        return Ok(None);
    }
    let label = if view.is_valued() {
        money_label(view, "Mean net return")
    } else {
        "Mean gain of yield, points".to_owned()
    };
    let running: Vec<Vec<RunningMean>> =
        rivals.iter().map(|rival| course(view, rival)).collect::<Result<_, _>>()?;
    let worthwhile = view.worthwhile_gain.number.filter(|_| view.is_valued());
    let target = worthwhile.unwrap_or(0.0);
    let ends = ends(&running, target);
    let heading = format!("How the mean settles as seasons are added, {}", seasons(view));
    let columns = rivals.len().min(2);
    let row = NAME + HEIGHT + BELOW;
    let height = HEAD + row * rivals.len().div_ceil(columns) as f64;
    let column = (WIDTH - 2.0 * MARGIN) / columns as f64;
    let drawing = sheet((WIDTH, height), &heading, |canvas| {
        title(canvas, &heading)?;
        for (place, (rival, running)) in rivals.iter().zip(&running).enumerate() {
            let left = MARGIN + column * (place % columns) as f64;
            let top = HEAD + row * (place / columns) as f64;
            name(canvas, (left, top), column - 20.0, &rival.1.name)?;
            let frame =
                Frame { left: left + 66.0, top: top + NAME, width: column - 80.0, height: HEIGHT };
            let panel = Panel { frame, target, ends, label: &label };
            panel.draw(canvas, rival.0, running)?;
        }
        Ok(())
    })?;
    let caption = format!(
        "Mean of the first so many seasons against “{}”, with its {} interval (shaded). Strong \
         line: zero; dashed line, where there is one: the net return from which it pays. The \
         verdict is settled once the shade stays clear of it; a mean that still wanders needs more \
         seasons.",
        view.baseline, view.confidence_level.text
    );
    Ok(Some(Picture { name: "worth-convergence", title: heading, caption, drawing }))
}

/// Running mean, in the shown unit.
fn course(view: &Worth, (_, _, against): &Rival<'_>) -> Result<Vec<RunningMean>, DrawError> {
    let net = against.net.as_ref().filter(|_| view.is_valued());
    let shown = net.unwrap_or(&against.yield_gain);
    let level = view.confidence_level.number.unwrap_or(f64::NAN) / 100.0;
    running_mean(&shown.by_season, level).map_err(DrawError::library)
}

/// Ends of the common axis: the first few intervals are so wide that they would hide the rest.
fn ends(running: &[Vec<RunningMean>], target: f64) -> (f64, f64) {
    let settled = running.iter().flat_map(|course| {
        let from = (course.len() / 5).min(8).min(course.len() - 1);
        course[from..].iter().flat_map(|at| [at.mean - at.half_width, at.mean + at.half_width])
    });
    let all = settled.chain(running.iter().flatten().map(|at| at.mean));
    let ends = all.fold((target.min(0.0), target.max(0.0)), |(lo, hi), v| (lo.min(v), hi.max(v)));
    round_range(ends.0, ends.1, 5)
}

/// The chart of one alternative.
struct Panel<'a> {
    frame: Frame,
    target: f64,
    ends: (f64, f64),
    label: &'a str,
}

impl Panel<'_> {
    fn draw(
        &self,
        canvas: &Canvas<'_>,
        index: usize,
        running: &[RunningMean],
    ) -> Result<(), DrawError> {
        let (lo, hi) = self.ends;
        let seasons = running.last().map_or(2, |at| at.seasons);
        let right = seasons.max(3) as f64;
        let chart = Chart::new(self.frame, (1.0, right), (lo, hi));
        let place =
            |at: &RunningMean, value: f64| chart.place(at.seasons as f64, value.clamp(lo, hi));
        let style = line_style(index);
        let upper = running.iter().map(|at| place(at, at.mean + at.half_width));
        let lower = running.iter().rev().map(|at| place(at, at.mean - at.half_width));
        let band: Vec<Point> = upper.chain(lower).collect();
        canvas.polygon(&band, style.color, 0.2)?;
        chart.draw(canvas, ("Seasons", self.label), &pass_ticks(seasons, 8))?;
        let level = |value: f64| [chart.place(1.0, value), chart.place(right, value)];
        canvas.line(&level(0.0), Ink::new(TEXT, 1.8))?;
        if self.target > 0.0 {
            canvas.dashed(&level(self.target), Ink::new(QUIET, 1.4), (6.0, 4.0))?;
        }
        let means: Vec<Point> = running.iter().map(|at| place(at, at.mean)).collect();
        canvas.line(&means, Ink::new(style.color, 2.2))?;
        match means.last() {
            Some(last) => style.marker.draw(canvas, *last, 4.4, Ink::new(style.color, 1.6)),
            None => Ok(()),
        }
    }
}
