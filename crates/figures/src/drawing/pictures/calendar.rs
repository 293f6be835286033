//! The clock of the season: how each set fell by day and night.

use crate::drawing::axis::{Axis, SMALL, pass_ticks};
use crate::drawing::furniture::{MARGIN, WIDTH, color_bar, name, title};
use crate::picture::Picture;
use crate::scenes::{Entry, Scene};
use evenfall_canvas::DrawError;
use evenfall_canvas::Image;
use evenfall_canvas::colors::{ColorScale, QUIET, ScaleKind, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_view::units::number;

const HEAD: f64 = 128.0;
const NAME: f64 = 26.0;
const FOOT: f64 = 46.0;
const LABELS: f64 = 70.0;
/// First hour of day and of night, as in [`evenfall_core::schedule::DayNight`].
const DAY_HOURS: (f64, f64) = (6.0, 18.0);

/// Draws the picture.
pub(super) fn draw(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let heading = "Day and night: when each set ran";
    let height = |e: &Entry<'_>| NAME + rows_height(e) + FOOT;
    let total: f64 = scene.entries.iter().map(height).sum();
    let scale = ColorScale { lo: 0.0, hi: 100.0, kind: ScaleKind::DayNight };
    let drawing = sheet((WIDTH, HEAD + total), heading, |canvas| {
        let top = title(canvas, heading)?;
        let label = "Part of the set between 06:00 and 18:00 (%): dark = night, pale = day";
        color_bar(canvas, (MARGIN, top), 480.0, &scale, label)?;
        let mut top = HEAD;
        for entry in &scene.entries {
            block(canvas, scene, entry, top, &scale)?;
            top += height(entry);
        }
        Ok(())
    })?;
    let caption = "One column per pass, one row per outlet. Rows of one shade all the way are \
        places that always met the same half of the day, and so the same kind of wind.";
    Ok(Picture {
        name: "calendar",
        title: heading.to_owned(),
        caption: caption.to_owned(),
        drawing,
    })
}

fn outlets(entry: &Entry<'_>) -> usize {
    let used = entry.found.plan.passes.iter().flat_map(|p| &p.sets).map(|s| s.outlet + 1).max();
    used.unwrap_or(1)
}

fn rows_height(entry: &Entry<'_>) -> f64 {
    (outlets(entry) as f64 * 9.0).clamp(36.0, 240.0)
}

fn block(
    canvas: &mut Canvas<'_>,
    scene: &Scene<'_>,
    entry: &Entry<'_>,
    top: f64,
    scale: &ColorScale,
) -> Result<(), DrawError> {
    name(canvas, (MARGIN, top), WIDTH - 2.0 * MARGIN, &entry.asked.name)?;
    let (passes, rows) = (scene.most_passes(), outlets(entry));
    let frame = Frame {
        left: MARGIN + LABELS,
        top: top + NAME,
        width: WIDTH - 2.0 * MARGIN - LABELS,
        height: rows_height(entry),
    };
    let blank = ColorScale::STEPS as u8;
    let mut cells = vec![blank; passes * rows];
    for (pass, planned) in entry.found.plan.passes.iter().enumerate() {
        for set in &planned.sets {
            let row = rows - 1 - set.outlet;
            cells[row * passes + pass] = scale.index(100.0 * day_share(set.start_h, set.end_h));
        }
    }
    let (indices, palette) = (cells, scale.palette());
    canvas.image(frame, Image { indices, columns: passes, rows, palette, blocky: true })?;
    canvas.outline(frame, Ink::new(TEXT, 1.0))?;
    let right = Lettering::new(SMALL, Side::Right);
    let y = Axis { lo: 0.5, hi: rows as f64 + 0.5, from: frame.bottom(), to: frame.top };
    for outlet in if rows > 1 { vec![1, rows] } else { vec![1] } {
        let place = (frame.left - 6.0, y.place(outlet as f64));
        canvas.text(place, &number(outlet as f64, 0), right)?;
    }
    let look = Lettering::new(SMALL, Side::Center).color(QUIET);
    canvas.text((frame.left - 46.0, frame.middle().1), "outlet", look.upright())?;
    let x = Axis { lo: 0.5, hi: passes as f64 + 0.5, from: frame.left, to: frame.right() };
    let letters = frame.width / passes as f64 >= 34.0;
    for tick in pass_ticks(passes, if letters { passes } else { 20 }) {
        let letter = entry.found.plan.passes.get(tick as usize - 1).map(|p| p.letter);
        let text = match letter.filter(|_| letters) {
            Some(letter) => format!("{} {letter}", number(tick, 0)),
            None => number(tick, 0),
        };
        canvas.text((x.place(tick), frame.bottom() + 12.0), &text, look)?;
    }
    Ok(())
}

/// Part of a set that falls between 06:00 and 18:00; hours count from a midnight.
fn day_share(start_h: f64, end_h: f64) -> f64 {
    // Day hours from hour 0 to hour t.
    let day_hours_until = |t: f64| {
        let (days, hour) = ((t / 24.0).floor(), t.rem_euclid(24.0));
        let (from, to) = DAY_HOURS;
        days * (to - from) + (hour - from).clamp(0.0, to - from)
    };
    let length = end_h - start_h;
    if length > 0.0 {
        (day_hours_until(end_h) - day_hours_until(start_h)) / length
    } else {
        f64::NAN
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_day_share_of_sets() {
        let cases =
            [(6.0, 18.0, 1.0), (18.0, 30.0, 0.0), (0.0, 24.0, 0.5), (31.0, 42.5, 11.0 / 11.5)];
        for (start_h, end_h, share) in cases {
            assert!((day_share(start_h, end_h) - share).abs() < 1e-12, "{start_h} to {end_h}");
        }
        assert!(day_share(5.0, 5.0).is_nan());
    }
}
