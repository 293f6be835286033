//! The best candidates as points with intervals of their gain over the fixed pattern, in order of
//! rank; those that share a rank share a ground.

use crate::drawing::axis::{Axis, BODY, SMALL, bottom_ticks, round_range};
use crate::drawing::fit::shortened;
use crate::drawing::furniture::{MARGIN, WIDTH, title};
use crate::picture::Picture;
use crate::scenes::{Line, SHOWN, SearchScene};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, RULE, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_core::ensemble::SeasonsFigures;
use evenfall_core::search::Aim;
use evenfall_view::units::percent;

const HEAD: f64 = 56.0;
const ROW: f64 = 26.0;
/// Of rows whose names take two lines, pixels.
const TALL_ROW: f64 = 40.0;
/// From line to line of a name, pixels.
const NAME_LINE: f64 = 15.0;
const FOOT: f64 = 64.0;
/// Room for names, pixels.
const NAMES: f64 = 380.0;
/// Color of the points: the blue of Okabe & Ito 2008 (from memory, high).
const POINT: (u8, u8, u8) = (0, 114, 178);
/// Ground of every other rank.
const GROUND: (u8, u8, u8) = (236, 239, 243);

pub(super) fn draw(scene: &SearchScene<'_>) -> Result<Picture, DrawError> {
    let heading = format!("Gain over the fixed pattern, up to {} seasons", scene.found.finished);
    let lines = scene.shown(SHOWN);
    let gains: Vec<SeasonsFigures> = lines
        .iter()
        .map(|line| scene.found.gain_of_aim(line.at).map(|gain| gain.figures))
        .collect::<Result<_, _>>()
        .map_err(DrawError::mismatch)?;
    let name = |line: &Line<'_>| -> Vec<String> {
        let candidate = &line.entry.candidate;
        let lines = [Some(scene.way(candidate)), scene.layout(candidate)];
        let fitted = lines.into_iter().flatten();
        fitted.map(|text| shortened(&text, NAMES - 64.0, SMALL, false)).collect()
    };
    let names: Vec<Vec<String>> = lines.iter().map(name).collect();
    let is_tall = names.iter().any(|name| name.len() > 1);
    let row_height = if is_tall { TALL_ROW } else { ROW };
    let height = HEAD + row_height * lines.len() as f64 + FOOT;
    let drawing = sheet((WIDTH, height), &heading, |canvas| {
        title(canvas, &heading)?;
        let frame = Frame {
            left: MARGIN + NAMES,
            top: HEAD,
            width: WIDTH - 2.0 * MARGIN - NAMES - 12.0,
            height: row_height * lines.len() as f64,
        };
        let axis = axis_of(scene, &gains, frame);
        grounds(canvas, frame, &lines)?;
        scale(canvas, frame, &axis, scene)?;
        for (place, (line, gain)) in lines.iter().zip(&gains).enumerate() {
            let y = HEAD + row_height * (place as f64 + 0.5);
            label(canvas, line, &names[place], y)?;
            point(canvas, scene, &axis, gain, y)?;
        }
        canvas.outline(frame, Ink::new(TEXT, 1.0))
    })?;
    let level = percent(scene.found.options.confidence_level, 0);
    let caption = format!(
        "Points are mean gains of {} in the same seasons, lines their {level} intervals by \
         themselves. Candidates on one ground share a rank (=): {}; of those within that \
         difference the simplest comes first. “out” and a number: dropped as clearly worse after so \
         many seasons; those are in order of how little they were behind. {} of {} \
         candidates are shown.",
        scene.aim(),
        scene.ties(),
        lines.len(),
        scene.found.entries.len()
    );
    Ok(Picture { name: "search-ranking", title: heading, caption, drawing })
}

fn axis_of(scene: &SearchScene<'_>, gains: &[SeasonsFigures], frame: Frame) -> Axis {
    let ends = gains.iter().flat_map(|gain| [gain.interval.low, gain.interval.high]);
    let ends = ends.map(|value| scene.aim_shown(value));
    let (lo, hi) = ends.fold((0.0, 0.0), |(lo, hi), v| (f64::min(lo, v), f64::max(hi, v)));
    let (lo, hi) = round_range(lo, hi, 6);
    Axis { lo, hi, from: frame.left, to: frame.right() }
}

/// A ground under every other rank.
fn grounds(canvas: &Canvas<'_>, frame: Frame, lines: &[Line<'_>]) -> Result<(), DrawError> {
    let (mut rank, mut is_dark) = (Some(0), false);
    for (place, line) in lines.iter().enumerate() {
        let own = line.ranked.map(|ranked| ranked.rank);
        if own != rank {
            rank = own;
            is_dark = !is_dark && own.is_some();
        }
        if is_dark {
            let height = frame.height / lines.len() as f64;
            let top = frame.top + height * place as f64;
            let strip = Frame { left: MARGIN, top, width: frame.right() - MARGIN, height };
            canvas.fill(strip, GROUND, 1.0)?;
        }
    }
    Ok(())
}

fn scale(
    canvas: &Canvas<'_>,
    frame: Frame,
    axis: &Axis,
    scene: &SearchScene<'_>,
) -> Result<(), DrawError> {
    let (ticks, decimals) = axis.ticks(6);
    for tick in &ticks {
        let x = axis.place(*tick);
        let ink = if *tick == 0.0 { Ink::new(TEXT, 1.6) } else { Ink::new(RULE, 1.0) };
        canvas.line(&[(x, frame.top), (x, frame.bottom())], ink)?;
    }
    bottom_ticks(canvas, frame, axis, &ticks, decimals)?;
    let unit = match scene.found.aim {
        Aim::NetReturn => scene.aim_label().replace("Net", "net"),
        Aim::WorstTenth => "yield of the worst tenth (points of full yield)".to_owned(),
        Aim::DuLqInterior | Aim::DuLqWhole => scene.aim_label().replace("(%)", "(points)"),
    };
    let look = Lettering::new(BODY, Side::Center);
    canvas.text((frame.middle().0, frame.bottom() + 40.0), &format!("Gain in {unit}"), look)
}

/// Rank and name, the name in one or two lines.
fn label(canvas: &Canvas<'_>, line: &Line<'_>, name: &[String], y: f64) -> Result<(), DrawError> {
    let rank = Lettering::new(SMALL, Side::Right).color(QUIET);
    canvas.text((MARGIN + 44.0, y), &line.rank(), rank)?;
    let first = y - 0.5 * NAME_LINE * (name.len() as f64 - 1.0);
    for (at, text) in name.iter().enumerate() {
        let place = (MARGIN + 54.0, first + NAME_LINE * at as f64);
        canvas.text(place, text, Lettering::new(SMALL, Side::Left))?;
    }
    Ok(())
}

fn point(
    canvas: &Canvas<'_>,
    scene: &SearchScene<'_>,
    axis: &Axis,
    gain: &SeasonsFigures,
    y: f64,
) -> Result<(), DrawError> {
    let at = |value: f64| axis.place(scene.aim_shown(value));
    let (low, high) = (at(gain.interval.low), at(gain.interval.high));
    let ink = Ink::new(POINT, 2.0);
    canvas.line(&[(low, y), (high, y)], ink)?;
    for x in [low, high] {
        canvas.line(&[(x, y - 4.0), (x, y + 4.0)], ink)?;
    }
    canvas.disc((at(gain.mean), y), 4.2, POINT, 1.0)
}
