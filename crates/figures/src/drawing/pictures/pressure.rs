//! Pressure, discharge and ground along the pipe, one row for each lateral that differs.

use crate::drawing::axis::{Chart, SMALL, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, name, title};
use crate::drawing::line_style::line_style;
use crate::picture::Picture;
use crate::scenes::Scene;
use crate::scenes::{Shared, distinct, of_scene};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{BLANK, QUIET, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Point, Side, sheet};
use evenfall_core::lateral::hydraulics::{OutletState, PRESSURE_RULE, PressureLine};
use evenfall_core::model::Scenario;
use evenfall_view::units::{Quantity, UnitSystem};

const HEAD: f64 = 78.0;
const NAME: f64 = 26.0;
const PRESSURE_HEIGHT: f64 = 170.0;
const DISCHARGE_HEIGHT: f64 = 110.0;
const GROUND_HEIGHT: f64 = 70.0;
/// Between two panels of a lateral: room for ticks.
const GAP: f64 = 30.0;
/// Under the last panel: ticks and the title of the axis.
const FOOT: f64 = 62.0;
/// Height differences under this are drawn as level ground, m.
const LEVEL_M: f64 = 0.05;

/// Pressure and discharge along the pipe of every alternative that has its pipe described; `lines`
/// are those of the alternatives, in order. `None` where there is none.
///
/// # Errors
/// If a library refuses.
pub fn pressure_picture(
    scenario: &Scenario,
    lines: &[Option<PressureLine>],
    units: UnitSystem,
) -> Result<Option<Picture>, DrawError> {
    let names = scenario.alternatives.iter().map(|a| a.name.as_str());
    draw_all(&distinct(names.zip(lines.iter().map(Option::as_ref))), units)
}

/// The picture of a season's pressures.
pub(super) fn draw(scene: &Scene<'_>) -> Result<Option<Picture>, DrawError> {
    draw_all(&of_scene(scene), scene.units)
}

fn draw_all(lines: &[Shared<'_>], units: UnitSystem) -> Result<Option<Picture>, DrawError> {
    if lines.is_empty() {
        return Ok(None);
    }
    let heading = "Pressure and discharge along the pipe";
    let row = |shared: &Shared<'_>| {
        let ground = if is_level(shared.line) { 0.0 } else { GAP + GROUND_HEIGHT };
        NAME + PRESSURE_HEIGHT + GAP + DISCHARGE_HEIGHT + ground + FOOT
    };
    let height = HEAD + lines.iter().map(row).sum::<f64>();
    let scales = Scales::of(lines, units);
    let drawing = sheet((WIDTH, height), heading, |canvas| {
        let top = title(canvas, heading)?;
        key(canvas, top + 8.0)?;
        let mut top = HEAD;
        for shared in lines {
            lateral(canvas, shared, &scales, top)?;
            top += row(shared);
        }
        Ok(())
    })?;
    let caption = "Dots: every sprinkler. Gray band: as far under the best-fed nozzle as the 20 % \
        rule allows, 20 % of the stated pressure; the rule is kept where all dots lie within it. \
        Dashes: the stated pressure. The thin line is the pressure in the pipe, a riser below the \
        nozzles; the triangle is the inlet. Discharge follows the root of the pressure, so it \
        differs half as much. The scales do not begin at nought.";
    let (heading, caption) = (heading.to_owned(), caption.to_owned());
    Ok(Some(Picture { name: "pressure", title: heading, caption, drawing }))
}

fn is_level(line: &PressureLine) -> bool {
    let heights = line.outlets.iter().map(|outlet| outlet.height_m);
    let (low, high) = heights
        .chain([line.inlet_height_m])
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), height_m| {
            (low.min(height_m), high.max(height_m))
        });
    high - low < LEVEL_M
}

fn key(canvas: &Canvas<'_>, y: f64) -> Result<(), DrawError> {
    let look = Lettering::new(SMALL, Side::Left);
    let style = line_style(0);
    canvas.disc((MARGIN + 8.0, y), 4.0, style.color, 1.0)?;
    canvas.text((MARGIN + 18.0, y), "at the nozzle", look)?;
    canvas.line(&[(150.0, y), (180.0, y)], Ink::new(QUIET, 1.2))?;
    canvas.text((188.0, y), "in the pipe", look)?;
    canvas.dashed(&[(300.0, y), (330.0, y)], Ink::new(TEXT, 1.2), (5.0, 4.0))?;
    canvas.text((338.0, y), "stated for the sprinklers", look)?;
    canvas.fill(Frame { left: 540.0, top: y - 8.0, width: 30.0, height: 16.0 }, BLANK, 0.45)?;
    canvas.text((578.0, y), "what the 20 % rule allows", look)?;
    inlet_mark(canvas, (790.0, y + 5.0))?;
    canvas.text((804.0, y), "inlet", look)
}

/// A triangle that points up at `tip`'s foot.
fn inlet_mark(canvas: &Canvas<'_>, (x, y): Point) -> Result<(), DrawError> {
    canvas.polygon(&[(x, y - 10.0), (x - 6.0, y), (x + 6.0, y)], TEXT, 1.0)
}

/// The same scales for all laterals, so that they compare.
struct Scales {
    units: UnitSystem,
    length: (f64, f64),
    pressure: (f64, f64),
    discharge: (f64, f64),
    ground: (f64, f64),
}

impl Scales {
    fn of(lines: &[Shared<'_>], units: UnitSystem) -> Self {
        let range = |quantity: Quantity, of: &dyn Fn(&PressureLine) -> Vec<f64>| {
            let all = lines.iter().flat_map(|shared| of(shared.line));
            let all = all.map(|value| units.shown(quantity, value));
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
        };
        let each = |line: &PressureLine, of: fn(&OutletState) -> f64| -> Vec<f64> {
            line.outlets.iter().map(of).collect()
        };
        let wide = |(low, high): (f64, f64), wanted| {
            let room = 0.06 * (high - low).max(1e-9);
            round_range(low - room, high + room, wanted)
        };
        let length = range(Quantity::Length, &|line| {
            [each(line, |o| o.place_m), vec![line.feed.inlet_m]].concat()
        });
        let pressure = range(Quantity::Pressure, &|line| {
            let under = line.highest().1.nozzle_kpa - PRESSURE_RULE * line.nominal_kpa;
            let own = vec![line.nominal_kpa, line.inlet_kpa, under];
            [each(line, |o| o.nozzle_kpa), each(line, |o| o.pipe_kpa), own].concat()
        });
        let discharge = range(Quantity::Discharge, &|line| each(line, |o| o.discharge_l_s));
        let ground = range(Quantity::Length, &|line| {
            [each(line, |o| o.height_m), vec![line.inlet_height_m]].concat()
        });
        let margin = 0.02 * (length.1 - length.0).max(1.0);
        Self {
            units,
            length: (length.0 - margin, length.1 + margin),
            pressure: wide(pressure, 5),
            discharge: wide((discharge.0, discharge.1.max(1.02 * discharge.0)), 4),
            ground: wide(ground, 3),
        }
    }

    fn label(&self, what: &str, quantity: Quantity) -> String {
        format!("{what} ({})", self.units.symbol(quantity))
    }
}

/// One panel: its chart with ticks under it, the title of the x axis only where it is the last.
fn panel(
    canvas: &Canvas<'_>,
    scales: &Scales,
    frame: Frame,
    y: (f64, f64),
    titles: (&str, &str),
) -> Result<Chart, DrawError> {
    let chart = Chart::new(frame, scales.length, y);
    let (ticks, _) = chart.x.ticks(8);
    chart.draw(canvas, titles, &ticks)?;
    Ok(chart)
}

fn lateral(
    canvas: &Canvas<'_>,
    shared: &Shared<'_>,
    scales: &Scales,
    top: f64,
) -> Result<(), DrawError> {
    let (line, units) = (shared.line, scales.units);
    name(canvas, (MARGIN, top), WIDTH - 2.0 * MARGIN, &shared.name())?;
    let (left, width) = (MARGIN + 66.0, WIDTH - 2.0 * MARGIN - 80.0);
    let along = scales.label("Distance along the pipe from the field’s edge", Quantity::Length);
    let x = |outlet: &OutletState| units.shown(Quantity::Length, outlet.place_m);
    let level = is_level(line);
    let frame = Frame { left, top: top + NAME, width, height: PRESSURE_HEIGHT };
    let label = scales.label("Pressure", Quantity::Pressure);
    let chart = panel(canvas, scales, frame, scales.pressure, ("", &label))?;
    pressures(canvas, &chart, line, units)?;
    let frame = Frame { top: frame.bottom() + GAP, height: DISCHARGE_HEIGHT, ..frame };
    let label = scales.label("Discharge", Quantity::Discharge);
    let last = if level { along.as_str() } else { "" };
    let chart = panel(canvas, scales, frame, scales.discharge, (last, &label))?;
    for outlet in &line.outlets {
        let discharge = units.shown(Quantity::Discharge, outlet.discharge_l_s);
        let place = chart.place(x(outlet), discharge);
        let foot = (place.0, frame.bottom());
        canvas.line(&[foot, place], Ink { opacity: 0.35, ..Ink::new(line_style(0).color, 3.0) })?;
        canvas.disc(place, 3.2, line_style(0).color, 1.0)?;
    }
    if level {
        return Ok(());
    }
    let frame = Frame { top: frame.bottom() + GAP, height: GROUND_HEIGHT, ..frame };
    let label = scales.label("Ground", Quantity::Length);
    let chart = panel(canvas, scales, frame, scales.ground, (&along, &label))?;
    ground(canvas, &chart, line, units)
}

fn pressures(
    canvas: &Canvas<'_>,
    chart: &Chart,
    line: &PressureLine,
    units: UnitSystem,
) -> Result<(), DrawError> {
    let y = |kpa: f64| chart.y.place(units.shown(Quantity::Pressure, kpa));
    let x = |x_m: f64| chart.x.place(units.shown(Quantity::Length, x_m));
    let frame = chart.frame;
    let best_kpa = line.highest().1.nozzle_kpa;
    let (band_top, foot) = (y(best_kpa), y(best_kpa - PRESSURE_RULE * line.nominal_kpa));
    canvas.fill(Frame { top: band_top, height: foot - band_top, ..frame }, BLANK, 0.45)?;
    let stated = y(line.nominal_kpa);
    let across = [(frame.left, stated), (frame.right(), stated)];
    canvas.dashed(&across, Ink::new(TEXT, 1.2), (5.0, 4.0))?;
    let mut pipe: Vec<Point> = line.outlets.iter().map(|o| (x(o.place_m), y(o.pipe_kpa))).collect();
    pipe.push((x(line.feed.inlet_m), y(line.inlet_kpa)));
    pipe.sort_by(|a, b| a.0.total_cmp(&b.0));
    canvas.line(&pipe, Ink::new(QUIET, 1.2))?;
    for outlet in &line.outlets {
        let place = (x(outlet.place_m), y(outlet.nozzle_kpa));
        canvas.disc(place, 4.0, line_style(0).color, 1.0)?;
    }
    inlet_mark(canvas, (x(line.feed.inlet_m), frame.bottom()))?;
    if let Some((change_m, _)) = line.feed.pipe.far {
        let signs = [-1.0, 1.0].map(|sign| line.feed.inlet_m + sign * change_m);
        let place = units.shown(Quantity::Length, signs[1]);
        let mut marks = vec![signs[1]];
        if line.outlets.iter().any(|o| o.place_m < signs[0]) {
            marks.push(signs[0]);
        }
        for x_m in marks.into_iter().filter(|_| place < chart.x.hi) {
            let ends = [(x(x_m), frame.top), (x(x_m), frame.bottom())];
            canvas.dashed(&ends, Ink::new(QUIET, 1.2), (2.0, 3.0))?;
            let look = Lettering::new(SMALL, Side::Left).color(QUIET);
            canvas.text((x(x_m) + 6.0, frame.top + 12.0), "size of pipe changes", look)?;
        }
    }
    Ok(())
}

fn ground(
    canvas: &Canvas<'_>,
    chart: &Chart,
    line: &PressureLine,
    units: UnitSystem,
) -> Result<(), DrawError> {
    let at = |x_m: f64, height_m: f64| {
        chart.place(units.shown(Quantity::Length, x_m), units.shown(Quantity::Length, height_m))
    };
    let mut points: Vec<Point> = line.outlets.iter().map(|o| at(o.place_m, o.height_m)).collect();
    points.push(at(line.feed.inlet_m, line.inlet_height_m));
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    let bottom = chart.frame.bottom();
    let mut filled = points.clone();
    if let (Some(first), Some(last)) = (points.first(), points.last()) {
        filled.extend([(last.0, bottom), (first.0, bottom)]);
    }
    canvas.polygon(&filled, BLANK, 0.8)?;
    canvas.line(&points, Ink::new(TEXT, 1.6))?;
    Ok(())
}
