//! The rotation as it was run: which stop in which pass.

use crate::drawing::axis::{Axis, BODY, SMALL, pass_ticks};
use crate::drawing::fit::shortened;
use crate::drawing::furniture::{MARGIN, WIDTH, name, title};
use crate::picture::Picture;
use crate::scenes::{Entry, Scene, StopMark};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, RULE, on, stop_color};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_view::units::number;

const NAME: f64 = 26.0;
const ROW: f64 = 24.0;
const LABELS: f64 = 330.0;
const TICKS: f64 = 40.0;

/// Draws the picture.
pub(super) fn draw(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let heading = "Which stop in which pass";
    let height = |e: &Entry<'_>| NAME + ROW * rows(e).len() as f64 + TICKS;
    let total: f64 = scene.entries.iter().map(height).sum();
    let drawing = sheet((WIDTH, 50.0 + total + 24.0), heading, |canvas| {
        let mut top = title(canvas, heading)?;
        for entry in &scene.entries {
            block(canvas, scene, entry, top)?;
            top += height(entry);
        }
        let look = Lettering::new(BODY, Side::Center);
        canvas.text((f64::midpoint(WIDTH, LABELS), top - 2.0), "Pass", look)
    })?;
    let caption = "One row per stop, the stop farthest in the direction of travel on top; a letter \
        marks the pass in which the lateral stood there at every outlet. Lines part the cycles of \
        the rotation.";
    Ok(Picture { name: "stops", title: heading.to_owned(), caption: caption.to_owned(), drawing })
}

/// The stops of an alternative, the one farthest ahead first.
fn rows(entry: &Entry<'_>) -> Vec<StopMark> {
    let mut stops = entry.stops();
    stops.sort_by(|a, b| {
        let (a, b) = (a.shift, b.shift);
        b.across_m.total_cmp(&a.across_m).then(b.along_m.total_cmp(&a.along_m))
    });
    stops
}

fn block(
    canvas: &Canvas<'_>,
    scene: &Scene<'_>,
    entry: &Entry<'_>,
    top: f64,
) -> Result<(), DrawError> {
    name(canvas, (MARGIN, top), WIDTH - 2.0 * MARGIN, &entry.asked.name)?;
    let stops = rows(entry);
    let passes = scene.most_passes();
    let frame = Frame {
        left: MARGIN + LABELS,
        top: top + NAME,
        width: WIDTH - 2.0 * MARGIN - LABELS,
        height: ROW * stops.len() as f64,
    };
    let x = Axis { lo: 0.5, hi: passes as f64 + 0.5, from: frame.left, to: frame.right() };
    for boundary in (0..=passes).step_by(entry.found.plan.cycle.max(1)) {
        let x = x.place(boundary as f64 + 0.5);
        canvas.line(&[(x, frame.top), (x, frame.bottom())], Ink::new(RULE, 1.4))?;
    }
    for (row, stop) in stops.iter().enumerate() {
        let y = frame.top + ROW * (row as f64 + 0.5);
        canvas.line(&[(frame.left, y), (frame.right(), y)], Ink::new(RULE, 1.0))?;
        let label = format!("{}  {}", scene.shift_words(stop.shift), places(scene, entry, stop));
        let label = shortened(&label, LABELS - 14.0, SMALL, false);
        canvas.text((frame.left - 10.0, y), &label, Lettering::new(SMALL, Side::Right))?;
    }
    for (pass, planned) in entry.found.plan.passes.iter().enumerate() {
        let is_it = |s: &StopMark| s.letter == planned.letter && s.shift == planned.shift;
        let Some(row) = stops.iter().position(is_it) else { continue };
        let place = (x.place(pass as f64 + 1.0), frame.top + ROW * (row as f64 + 0.5));
        chip(canvas, place, planned.letter, frame.width / passes as f64)?;
    }
    ticks(canvas, frame, &x, passes)
}

/// A stop's letter on its color, no wider than a pass.
fn chip(canvas: &Canvas<'_>, (x, y): (f64, f64), letter: char, room: f64) -> Result<(), DrawError> {
    let width = (room - 1.5).clamp(6.0, 20.0);
    let color = stop_color(letter);
    canvas.fill(Frame { left: x - width / 2.0, top: y - 9.0, width, height: 18.0 }, color, 1.0)?;
    let size = if width < 10.0 { 8.5 } else { 12.0 };
    let look = Lettering::new(size, Side::Center).bold().color(on(color));
    canvas.text((x, y), &letter.to_string(), look)
}

fn ticks(canvas: &Canvas<'_>, frame: Frame, x: &Axis, passes: usize) -> Result<(), DrawError> {
    for tick in pass_ticks(passes, 20) {
        let look = Lettering::new(SMALL, Side::Center).color(QUIET);
        canvas.text((x.place(tick), frame.bottom() + 11.0), &number(tick, 0), look)?;
    }
    Ok(())
}

/// Where the lateral stands at this stop: the first, second and last place across the field.
fn places(scene: &Scene<'_>, entry: &Entry<'_>, stop: &StopMark) -> String {
    let outlets = &entry.asked.outlets;
    let place = |index: usize| scene.length(outlets.place_m(index) + stop.shift.across_m);
    match outlets.count {
        0 => String::new(),
        1 => format!("({})", place(0)),
        // A shift both ways leaves less room.
        n if stop.shift.across_m != 0.0 && stop.shift.along_m != 0.0 => {
            format!("({} … {})", place(0), place(n - 1))
        }
        2 => format!("({}, {})", place(0), place(1)),
        n => format!("({}, {} … {})", place(0), place(1), place(n - 1)),
    }
}
