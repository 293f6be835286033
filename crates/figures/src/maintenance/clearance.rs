//! Crop height against the pipe of a wheel line through the season: picture and words.

use crate::axis::{Axis, BODY, Chart, SMALL, round_range};
use crate::canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use crate::colors::{QUIET, TEXT};
use crate::error::DrawError;
use crate::furniture::{MARGIN, WIDTH, title};
use crate::pictures::Picture;
use crate::units::{Quantity, UnitSystem, number};
use evenfall_core::lateral::Machine;
use evenfall_core::machine::clearance::{
    Clearance, NOMINAL_DIAMETERS_M, clearance, crop_height_m, under_pipe_m,
};
use evenfall_core::machine::{Maintenance, Stand};
use evenfall_core::units::M_PER_IN;
use jiff::ToSpan;
use jiff::civil::Date;
use std::f64::consts::PI;

const HEIGHT: f64 = 440.0;
/// Room for the names of the wheels at the right, pixels.
const NAMES: f64 = 250.0;

/// A wheel, and how its pipe clears the crop.
struct WheelLine {
    name: String,
    is_own: bool,
    found: Clearance,
}

/// The wheels to compare: the machine's own first, then the nominal sizes.
fn wheels(
    maintenance: &Maintenance,
    stand: &Stand,
    travel_m: f64,
    units: UnitSystem,
) -> Vec<WheelLine> {
    let of = |under_m: f64| clearance(&stand.crop, stand.greatest_m, under_m);
    let own_m = match maintenance.axle_height_m {
        Some(axle_m) => axle_m - 0.5 * maintenance.pipe_diameter_m,
        None => under_pipe_m(travel_m, maintenance.pipe_diameter_m),
    };
    let mut wheels =
        vec![WheelLine { name: "this machine".to_owned(), is_own: true, found: of(own_m) }];
    for diameter_m in NOMINAL_DIAMETERS_M {
        let size = match units {
            UnitSystem::Us => format!("{} in wheel", number(diameter_m / M_PER_IN, 0)),
            UnitSystem::Si => format!("{} m wheel", number(diameter_m, 2)),
        };
        let under_m = under_pipe_m(PI * diameter_m, maintenance.pipe_diameter_m);
        wheels.push(WheelLine { name: size, is_own: false, found: of(under_m) });
    }
    wheels
}

/// Crop height against axle height in words, and a row for every wheel; `None` for a hand-move or
/// without a crop.
pub(crate) fn words(
    maintenance: &Maintenance,
    machine: &Machine,
    units: UnitSystem,
) -> Option<Vec<String>> {
    let (Machine::WheelLine(wheel), Some(stand)) = (machine, &maintenance.stand) else {
        return None;
    };
    let wheels = wheels(maintenance, stand, wheel.travel_per_turn_m, units);
    let decimals = if units == UnitSystem::Si { 2 } else { 1 };
    let length = |meters: f64| units.text(Quantity::Length, meters, decimals);
    let told = |wheel: &WheelLine| {
        let found = &wheel.found;
        let fate = match found.first_touch {
            None => format!("clears the crop by at least {}", length(found.least_room_m)),
            Some(day) => format!(
                "drags through the crop from {} on ({} days), by up to {}",
                date(stand.planted, day).strftime("%-d %B"),
                found.days_touched,
                length(-found.least_room_m)
            ),
        };
        let name = if wheel.is_own { "This machine" } else { &wheel.name };
        format!("{name}: bottom of the pipe at {}, {fate}.", length(found.under_pipe_m))
    };
    let mut words = vec![format!(
        "Crop: {}. It grows to {} (FAO-56 Table 12 or the scenario), in a straight line through its \
         development stage. The pipe is {} in diameter. Sag, furrows and drains below the pipe are \
         left out.",
        stand.name,
        length(stand.greatest_m),
        units.small_length(maintenance.pipe_diameter_m)
    )];
    words.extend(wheels.iter().map(told));
    Some(words)
}

fn date(planted: Date, day: usize) -> Date {
    planted.saturating_add((day as i64 - 1).days())
}

/// Draws crop height against the pipes of several wheels; `None` for a hand-move or without a crop.
///
/// # Errors
/// If a library refuses.
pub fn clearance_picture(
    maintenance: &Maintenance,
    machine: &Machine,
    units: UnitSystem,
) -> Result<Option<Picture>, DrawError> {
    let (Machine::WheelLine(wheel), Some(stand)) = (machine, &maintenance.stand) else {
        return Ok(None);
    };
    let wheels = wheels(maintenance, stand, wheel.travel_per_turn_m, units);
    let heading = format!("Crop height against the pipe: {}", stand.name);
    let days = stand.crop.season_days();
    let shown = |meters: f64| units.shown(Quantity::Length, meters);
    let top = wheels.iter().map(|wheel| wheel.found.under_pipe_m).fold(stand.greatest_m, f64::max);
    let (_, top) = round_range(0.0, 1.05 * shown(top), 6);
    let svg = sheet((WIDTH, HEIGHT), &heading, |canvas| {
        let head = title(canvas, &heading)?;
        let left = MARGIN + 62.0;
        let width = WIDTH - left - NAMES - MARGIN;
        let frame = Frame { left, top: head + 6.0, width, height: HEIGHT - head - 76.0 };
        let chart = Chart::new(frame, (1.0, days as f64), (0.0, top));
        let label = format!("Height above ground ({})", units.symbol(Quantity::Length));
        chart.draw(canvas, ("", &label), &[])?;
        months(canvas, frame, &chart.x, stand, days)?;
        let mut points = Vec::with_capacity(days);
        for day in 1..=days {
            if let Some(height_m) = crop_height_m(&stand.crop, stand.greatest_m, day) {
                points.push(chart.place(day as f64, shown(height_m)));
            }
        }
        canvas.line(&points, Ink::new(TEXT, 3.0))?;
        pipes(canvas, &chart, &wheels, units)
    })?;
    let caption = "Thick curve: the crop. Level lines: the bottom of the pipe on several wheels, \
        this machine’s as a solid line. Where the curve rises above a line, that wheel drags its \
        pipe through the crop."
        .to_owned();
    Ok(Some(Picture { name: "clearance", title: heading, caption, svg }))
}

/// The wheels' lines, with names at the right that keep clear of each other.
fn pipes(
    canvas: &Canvas<'_>,
    chart: &Chart,
    wheels: &[WheelLine],
    units: UnitSystem,
) -> Result<(), DrawError> {
    let (left, right) = (chart.frame.left, chart.frame.right());
    let place =
        |wheel: &WheelLine| chart.y.place(units.shown(Quantity::Length, wheel.found.under_pipe_m));
    let mut order: Vec<&WheelLine> = wheels.iter().collect();
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
        let fate = if wheel.found.first_touch.is_some() { "drags" } else { "clears" };
        let text = format!("{}: {fate}", wheel.name);
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
    stand: &Stand,
    days: usize,
) -> Result<(), DrawError> {
    let firsts = (1..=days).filter(|day| date(stand.planted, *day).day() == 1);
    for day in firsts {
        let (x, y) = (axis.place(day as f64), frame.bottom());
        canvas.line(&[(x, y), (x, y + 5.0)], Ink::new(TEXT, 1.0))?;
        let name = date(stand.planted, day).strftime("1 %b").to_string();
        canvas.text((x, y + 16.0), &name, Lettering::new(SMALL, Side::Center))?;
    }
    let middle = frame.middle().0;
    let label = format!("Planted or started on {}", stand.planted.strftime("%-d %B %Y"));
    canvas.text((middle, frame.bottom() + 42.0), &label, Lettering::new(BODY, Side::Center))
}
