//! How mean and interval settle as seasons are added.

use super::{money_label, seasons};
use crate::drawing::axis::{Chart, pass_ticks, round_range};
use crate::drawing::canvas::{Canvas, Frame, Ink, Point, sheet};
use crate::drawing::colors::{QUIET, TEXT};
use crate::drawing::furniture::{MARGIN, WIDTH, name, title};
use crate::drawing::line_style::line_style;
use crate::error::DrawError;
use crate::picture::Picture;
use crate::units::percent;
use crate::worth::{Rival, WorthScene};
use evenfall_core::convergence::{RunningMean, running_mean};

const HEAD: f64 = 52.0;
const NAME: f64 = 28.0;
const HEIGHT: f64 = 240.0;
const BELOW: f64 = 66.0;

/// Draws the picture; nothing with one alternative alone.
pub(super) fn draw(scene: &WorthScene<'_>) -> Result<Option<Picture>, DrawError> {
    if scene.rivals.is_empty() {
        return Ok(None);
    }
    let (label, factor) = if scene.is_valued() {
        (money_label(scene, "Mean net return"), scene.units().per_area(1.0))
    } else {
        ("Mean gain of yield, points".to_owned(), 100.0)
    };
    let running: Vec<Vec<RunningMean>> =
        scene.rivals.iter().map(|rival| course(scene, rival)).collect::<Result<_, _>>()?;
    let target =
        if scene.is_valued() { factor * scene.economics.worthwhile_gain_per_ha } else { 0.0 };
    let ends = ends(&running, factor, target);
    let heading = format!("How the mean settles as seasons are added, {}", seasons(scene));
    let columns = scene.rivals.len().min(2);
    let row = NAME + HEIGHT + BELOW;
    let height = HEAD + row * scene.rivals.len().div_ceil(columns) as f64;
    let column = (WIDTH - 2.0 * MARGIN) / columns as f64;
    let svg = sheet((WIDTH, height), &heading, |canvas| {
        title(canvas, &heading)?;
        for (place, (rival, running)) in scene.rivals.iter().zip(&running).enumerate() {
            let left = MARGIN + column * (place % columns) as f64;
            let top = HEAD + row * (place / columns) as f64;
            name(canvas, (left, top), column - 20.0, rival.name)?;
            let frame =
                Frame { left: left + 66.0, top: top + NAME, width: column - 80.0, height: HEIGHT };
            let panel = Panel { frame, factor, target, ends, label: &label };
            panel.draw(canvas, rival, running)?;
        }
        Ok(())
    })?;
    let caption = format!(
        "Mean of the first so many seasons against “{}”, with its {} interval (shaded). Strong \
         line: zero; dashed line, where there is one: the net return from which it pays. The \
         verdict is settled once the shade stays clear of it; a mean that still wanders wants more \
         seasons.",
        scene.baseline(),
        percent(scene.economics.confidence_level, 0)
    );
    Ok(Some(Picture { name: "worth-convergence", title: heading, caption, svg }))
}

fn course(scene: &WorthScene<'_>, rival: &Rival<'_>) -> Result<Vec<RunningMean>, DrawError> {
    let against = rival.against;
    let paired = if scene.is_valued() { &against.net_per_ha } else { &against.yield_gain };
    running_mean(&paired.differences, scene.economics.confidence_level).map_err(DrawError::library)
}

/// Ends of the common axis: the first few intervals are so wide that they would hide the rest.
fn ends(running: &[Vec<RunningMean>], factor: f64, target: f64) -> (f64, f64) {
    let settled = running.iter().flat_map(|course| {
        let from = (course.len() / 5).min(8).min(course.len() - 1);
        course[from..].iter().flat_map(|at| [at.mean - at.half_width, at.mean + at.half_width])
    });
    let means = running.iter().flatten().map(|at| at.mean);
    let all = settled.chain(means).map(|value| value * factor);
    let ends = all.fold((target.min(0.0), target.max(0.0)), |(lo, hi), v| (lo.min(v), hi.max(v)));
    round_range(ends.0, ends.1, 5)
}

/// The chart of one alternative.
struct Panel<'a> {
    frame: Frame,
    factor: f64,
    target: f64,
    ends: (f64, f64),
    label: &'a str,
}

impl Panel<'_> {
    fn draw(
        &self,
        canvas: &Canvas<'_>,
        rival: &Rival<'_>,
        running: &[RunningMean],
    ) -> Result<(), DrawError> {
        let (lo, hi) = self.ends;
        let seasons = running.last().map_or(2, |at| at.seasons);
        let right = seasons.max(3) as f64;
        let chart = Chart::new(self.frame, (1.0, right), (lo, hi));
        let place = |at: &RunningMean, value: f64| {
            chart.place(at.seasons as f64, (value * self.factor).clamp(lo, hi))
        };
        let style = line_style(rival.index);
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
