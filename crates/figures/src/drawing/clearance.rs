//! Crop height against the pipe of a wheel line through the season, drawn.

use super::axis::{Axis, BODY, Chart, SMALL, round_range};
use super::furniture::{MARGIN, WIDTH, title};
use crate::picture::Picture;
use crate::scenes::{ClearedWheel, cleared_wheels, date_of};
use crate::texts::{Language, dates, drive};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{QUIET, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_core::lateral::Machine;
use evenfall_core::machine::clearance::crop_height_m;
use evenfall_core::machine::{Maintenance, Stand};
use evenfall_view::units::{Quantity, UnitSystem};

const HEIGHT: f64 = 440.0;
/// Room for the names of the wheels at the right, pixels.
const NAMES: f64 = 250.0;

/// Draws crop height against the pipes of several wheels; `None` for a hand-move or without a crop.
///
/// # Errors
/// If a library refuses.
pub(crate) fn clearance_picture(
    maintenance: &Maintenance,
    machine: &Machine,
    (units, language): (UnitSystem, Language),
) -> Result<Option<Picture>, DrawError> {
    let (Machine::WheelLine(wheel), Some(stand)) = (machine, &maintenance.stand) else {
        return Ok(None);
    };
    let wheels = cleared_wheels(maintenance, stand, wheel.travel_per_turn_m);
    let heading = drive::PICTURE_TITLE.with(language, &[("name", &stand.name)]);
    let days = stand.crop.season_days();
    let shown = |meters: f64| units.shown(Quantity::Length, meters);
    let top = wheels.iter().map(|wheel| wheel.found.under_pipe_m).fold(stand.greatest_m, f64::max);
    let (_, top) = round_range(0.0, 1.05 * shown(top), 6);
    let drawing = sheet((WIDTH, HEIGHT), &heading, |canvas| {
        let head = title(canvas, &heading)?;
        let left = MARGIN + 62.0;
        let width = WIDTH - left - NAMES - MARGIN;
        let frame = Frame { left, top: head + 6.0, width, height: HEIGHT - head - 76.0 };
        let chart = Chart::new(frame, (1.0, days as f64), (0.0, top));
        let label =
            drive::PICTURE_AXIS.with(language, &[("unit", &units.symbol(Quantity::Length))]);
        chart.draw(canvas, ("", &label), &[])?;
        months(canvas, frame, &chart.x, (stand, days), language)?;
        let mut points = Vec::with_capacity(days);
        for day in 1..=days {
            if let Some(height_m) = crop_height_m(&stand.crop, stand.greatest_m, day) {
                points.push(chart.place(day as f64, shown(height_m)));
            }
        }
        canvas.line(&points, Ink::new(TEXT, 3.0))?;
        pipes(canvas, &chart, &wheels, (units, language))
    })?;
    let caption = drive::PICTURE_CAPTION.of(language).to_owned();
    Ok(Some(Picture { name: "clearance", title: heading, caption, drawing }))
}

/// The wheels' lines, with names at the right that keep clear of each other.
fn pipes(
    canvas: &Canvas<'_>,
    chart: &Chart,
    wheels: &[ClearedWheel],
    (units, language): (UnitSystem, Language),
) -> Result<(), DrawError> {
    let (left, right) = (chart.frame.left, chart.frame.right());
    let place = |wheel: &ClearedWheel| {
        chart.y.place(units.shown(Quantity::Length, wheel.found.under_pipe_m))
    };
    let mut order: Vec<&ClearedWheel> = wheels.iter().collect();
    order.sort_by(|one, other| place(one).total_cmp(&place(other)));
    let mut free = f64::NEG_INFINITY;
    for wheel in order {
        let y = place(wheel);
        let ends = [(left, y), (right, y)];
        if wheel.is_own {
            canvas.line(&ends, Ink::new(TEXT, 2.0))?;
        } else {
            canvas.dashed(&ends, Ink::new(QUIET, 1.4), (7.0, 5.0))?;
        }
        let label_y = y.max(free);
        free = label_y + 17.0;
        let touches = wheel.found.first_touch.is_some();
        let fate = if touches { drive::PICTURE_DRAGS } else { drive::PICTURE_CLEARS };
        let text = fate.with(language, &[("wheel", &wheel.name(language))]);
        let look = Lettering::new(if wheel.is_own { BODY } else { SMALL }, Side::Left);
        let look = if wheel.is_own { look.bold() } else { look };
        canvas.text((right + 10.0, label_y), &text, look)?;
    }
    Ok(())
}

/// First days of months along the lower edge.
fn months(
    canvas: &Canvas<'_>,
    frame: Frame,
    axis: &Axis,
    (stand, days): (&Stand, usize),
    language: Language,
) -> Result<(), DrawError> {
    let firsts = (1..=days).filter(|day| date_of(stand.planted, *day).day() == 1);
    for day in firsts {
        let (x, y) = (axis.place(day as f64), frame.bottom());
        canvas.line(&[(x, y), (x, y + 5.0)], Ink::new(TEXT, 1.0))?;
        let name = format!("1 {}", dates::short_month(language, date_of(stand.planted, day)));
        canvas.text((x, y + 16.0), &name, Lettering::new(SMALL, Side::Center))?;
    }
    let middle = frame.middle().0;
    let label = drive::PICTURE_START
        .with(language, &[("day", &dates::day_month_year(language, stand.planted))]);
    canvas.text((middle, frame.bottom() + 42.0), &label, Lettering::new(BODY, Side::Center))
}
