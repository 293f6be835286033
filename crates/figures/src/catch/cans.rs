//! The cans where they stood, colored by what they held or by how far the simulation is off.

use super::book::{CatchEntry, wind_words};
use super::tables::percent_in;
use crate::drawing::axis::{Axis, BODY, SMALL, bottom_ticks, left_ticks, round_range};
use crate::drawing::furniture::{MARGIN, WIDTH, arrow, color_bar, title, toward};
use crate::picture::Picture;
use evenfall_canvas::DrawError;
use evenfall_canvas::Drawing;
use evenfall_canvas::colors::{BLACK, ColorScale, QUIET, RULE, ScaleKind, WHITE, on};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Point, Side, sheet, text_width};
use evenfall_core::catch::compare::Comparison;
use evenfall_core::catch::{CatchTest, Kind};
use evenfall_view::units::{Quantity, UnitSystem, number};

/// Largest map, pixels.
const LARGEST: (f64, f64) = (690.0, 600.0);
/// Sides of a can's square, pixels.
const SIDES: (f64, f64) = (9.0, 54.0);
/// Size of the numbers in the squares, pixels.
const NUMBER: f64 = 11.5;

/// A value at a can; `None` where there is no reading.
struct Spot {
    x_m: f64,
    y_m: f64,
    value: Option<f64>,
    ringed: bool,
}

/// What the cans held.
pub(super) fn depths(entry: &CatchEntry, units: UnitSystem) -> Result<Picture, DrawError> {
    let spots: Vec<Spot> = entry
        .test
        .cans
        .iter()
        .enumerate()
        .map(|(index, can)| Spot {
            x_m: can.x_m,
            y_m: can.y_m,
            value: can.depth_mm.map(|depth| units.shown(Quantity::Depth, depth)),
            ringed: entry.outliers.iter().any(|o| o.can == index),
        })
        .collect();
    let highest = spots.iter().filter_map(|s| s.value).fold(0.0, f64::max);
    let (lo, hi) = round_range(0.0, highest, 6);
    let scale = ColorScale { lo, hi, kind: ScaleKind::Depth };
    let heading = format!("Cans: {}", entry.test.title);
    let label = format!("depth caught, {}", units.symbol(Quantity::Depth));
    let words = entry.limits.as_ref().map_or_else(Vec::new, |l| {
        let mean = units.text(Quantity::Depth, l.figures.mean_depth_mm, units.depth_decimals() + 1);
        vec![
            format!("CU {} %", percent_in(l.figures.cu, l.cu)),
            format!("DUlq {} %", percent_in(l.figures.du_lq, l.du_lq)),
            format!("mean {mean}"),
        ]
    });
    let drawing = draw(&entry.test, &spots, &scale, (&heading, &label, &words), units)?;
    let caption = "Each square is a can with the depth it caught. Crossed: no reading. Thick red frame: does not \
        fit its neighbors. Dashed: laterals. Circle: sprinkler.";
    Ok(Picture { name: "cans", title: heading, caption: caption.to_owned(), drawing })
}

/// Simulated less measured.
pub(super) fn differences(
    entry: &CatchEntry,
    comparison: &Comparison,
    units: UnitSystem,
) -> Result<Picture, DrawError> {
    let spots: Vec<Spot> = comparison
        .pairs
        .iter()
        .map(|p| Spot {
            x_m: p.x_m,
            y_m: p.y_m,
            value: Some(units.shown(Quantity::Depth, p.simulated_mm - p.measured_mm)),
            ringed: false,
        })
        .collect();
    let largest = spots.iter().filter_map(|s| s.value).map(f64::abs).fold(1e-9, f64::max);
    let (_, hi) = round_range(0.0, largest, 3);
    let scale = ColorScale { lo: -hi, hi, kind: ScaleKind::Deviation };
    let heading = format!("Simulated less measured: {}", entry.test.title);
    let label = format!("difference, {}", units.symbol(Quantity::Depth));
    let words = vec![
        format!(
            "RMS {}",
            units.text(Quantity::Depth, comparison.rms_mm, units.depth_decimals() + 1)
        ),
        format!("pattern RMS {} %", number(100.0 * comparison.pattern_rms, 1)),
    ];
    let drawing = draw(&entry.test, &spots, &scale, (&heading, &label, &words), units)?;
    let caption = "Brown: the simulation puts down less than the can caught; green: more. Patches of one color mean \
        that the pattern or the wind differs; specks mean that the cans scatter.";
    Ok(Picture { name: "differences", title: heading, caption: caption.to_owned(), drawing })
}

fn draw(
    test: &CatchTest,
    spots: &[Spot],
    scale: &ColorScale,
    (heading, label, words): (&str, &str, &[String]),
    units: UnitSystem,
) -> Result<Drawing, DrawError> {
    let map = Map::of(test, spots, units);
    let height = (map.frame.bottom() + 62.0 + 74.0).max(map.frame.top + 320.0);
    sheet((WIDTH, height), heading, |canvas| {
        title(canvas, heading)?;
        map.ground(canvas, test, units)?;
        for spot in spots {
            map.can(canvas, spot, scale, units)?;
        }
        map.sprinklers(canvas, test, units)?;
        let right = map.frame.right() + 26.0;
        beside(canvas, (right, map.frame.top + 10.0), test, words, units)?;
        let place = (map.frame.left, map.frame.bottom() + 58.0);
        color_bar(canvas, place, map.frame.width.clamp(360.0, 420.0), scale, label)
    })
}

/// The ground that the cans stand on.
struct Map {
    frame: Frame,
    x: Axis,
    y: Axis,
    /// Side of a can's square, pixels.
    side: f64,
    /// Whether every number has room; where one has not, the colors must do for all.
    numbers: bool,
}

impl Map {
    fn of(test: &CatchTest, spots: &[Spot], units: UnitSystem) -> Self {
        let step = units.shown(Quantity::Length, test.can_spacing_m().unwrap_or(1.0)).max(1e-6);
        let span = |of: &dyn Fn(&Spot) -> f64| {
            let places = spots.iter().map(|s| units.shown(Quantity::Length, of(s)));
            let (lo, hi) = places
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| (lo.min(p), hi.max(p)));
            (lo - 0.7 * step, hi + 0.7 * step)
        };
        let ((x0, x1), (y0, y1)) = (span(&|s| s.x_m), span(&|s| s.y_m));
        let pixels = (LARGEST.0 / (x1 - x0)).min(LARGEST.1 / (y1 - y0)).min(SIDES.1 * 1.3 / step);
        let frame = Frame {
            left: MARGIN + 80.0,
            top: 62.0,
            width: pixels * (x1 - x0),
            height: (pixels * (y1 - y0)).max(90.0),
        };
        let x = Axis { lo: x0, hi: x1, from: frame.left, to: frame.right() };
        let y = Axis { lo: y0, hi: y1, from: frame.bottom(), to: frame.top };
        let side = (0.86 * step * pixels).clamp(SIDES.0, SIDES.1);
        let numbers = spots.iter().filter_map(|spot| spot.value).all(|value| {
            let text = short(value, units.depth_decimals());
            text_width(&text, NUMBER, false) <= side - 3.0
        });
        Self { frame, x, y, side, numbers }
    }

    fn place(&self, x_m: f64, y_m: f64, units: UnitSystem) -> Point {
        let shown = |m: f64| units.shown(Quantity::Length, m);
        (self.x.place(shown(x_m)), self.y.place(shown(y_m)))
    }

    /// Frame, axes and laterals.
    fn ground(
        &self,
        canvas: &Canvas<'_>,
        test: &CatchTest,
        units: UnitSystem,
    ) -> Result<(), DrawError> {
        canvas.outline(self.frame, Ink::new(RULE, 1.0))?;
        let wanted = |pixels: f64| ((pixels / 70.0) as usize).clamp(4, 8);
        let (ticks, decimals) = self.x.ticks(wanted(self.frame.width));
        bottom_ticks(canvas, self.frame, &self.x, &ticks, decimals)?;
        let (ticks, decimals) = self.y.ticks(wanted(self.frame.height));
        left_ticks(canvas, self.frame, &self.y, &ticks, decimals)?;
        let unit = units.symbol(Quantity::Length);
        let centerd = Lettering::new(BODY, Side::Center);
        let (middle_x, middle_y) = self.frame.middle();
        canvas.text((middle_x, self.frame.bottom() + 36.0), &format!("along, {unit}"), centerd)?;
        let left = (self.frame.left - 62.0, middle_y);
        canvas.text(left, &format!("across, {unit}"), centerd.upright())?;
        let Kind::Lines(lines) = &test.kind else { return Ok(()) };
        for line_m in &lines.at_m {
            let y = self.place(0.0, *line_m, units).1;
            if y >= self.frame.top && y <= self.frame.bottom() {
                let ends = [(self.frame.left, y), (self.frame.right(), y)];
                canvas.dashed(&ends, Ink::new(BLACK, 1.6), (8.0, 5.0))?;
            }
        }
        Ok(())
    }

    fn can(
        &self,
        canvas: &Canvas<'_>,
        spot: &Spot,
        scale: &ColorScale,
        units: UnitSystem,
    ) -> Result<(), DrawError> {
        let (x, y) = self.place(spot.x_m, spot.y_m, units);
        let half = 0.5 * self.side;
        let square = Frame { left: x - half, top: y - half, width: self.side, height: self.side };
        let Some(value) = spot.value else {
            canvas.outline(square, Ink::new(QUIET, 1.0))?;
            let cross = |a: Point, b: Point| canvas.line(&[a, b], Ink::new(QUIET, 1.0));
            cross((square.left, square.top), (square.right(), square.bottom()))?;
            return cross((square.right(), square.top), (square.left, square.bottom()));
        };
        let ground = scale.color_of(value);
        canvas.fill(square, ground, 1.0)?;
        if spot.ringed {
            canvas.outline(square, Ink::new(RED, 3.0))?;
        }
        if !self.numbers {
            return Ok(());
        }
        let text = short(value, units.depth_decimals());
        canvas.text((x, y), &text, Lettering::new(NUMBER, Side::Center).color(on(ground)))
    }

    /// The one sprinkler, or those of the laterals that stand on the map.
    fn sprinklers(
        &self,
        canvas: &Canvas<'_>,
        test: &CatchTest,
        units: UnitSystem,
    ) -> Result<(), DrawError> {
        let is_single = matches!(test.kind, Kind::Single { .. });
        let mut places: Vec<(f64, f64)> = Vec::new();
        match &test.kind {
            Kind::Single { x_m, y_m } => places.push((*x_m, *y_m)),
            Kind::Leg => {}
            Kind::Lines(lines) => {
                let Some(spacing_m) = lines.sprinkler_spacing_m else { return Ok(()) };
                for line_m in &lines.at_m {
                    let along = (-50..=50).map(|k| lines.sprinkler_x_m + f64::from(k) * spacing_m);
                    places.extend(along.map(|x_m| (x_m, *line_m)));
                }
            }
        }
        for (x_m, y_m) in places {
            let (x, y) = self.place(x_m, y_m, units);
            let f = &self.frame;
            // Around the can that stands beside the one sprinkler.
            let r = if is_single { 0.6 * self.side } else { 7.0 };
            if x >= f.left && x <= f.right() && y >= f.top && y <= f.bottom() {
                canvas.ring((x, y), r, Ink::new(WHITE, 4.0))?;
                canvas.ring((x, y), r, Ink::new(BLACK, 2.0))?;
            }
        }
        Ok(())
    }
}

/// A number that takes little room: no zero before the point, "0" for nothing.
fn short(value: f64, decimals: usize) -> String {
    let text = number(value, decimals);
    if !text.contains(|c: char| ('1'..='9').contains(&c)) {
        return "0".to_owned();
    }
    match text
        .strip_prefix("0.")
        .map(|rest| (rest, ""))
        .or_else(|| text.strip_prefix("\u{2212}0.").map(|rest| (rest, "\u{2212}")))
    {
        Some((rest, sign)) if decimals > 1 => format!("{sign}.{rest}"),
        _ => text,
    }
}

const RED: evenfall_canvas::Rgb = (190, 20, 30);

/// North, the wind of the test, how long it ran, and the figures.
fn beside(
    canvas: &Canvas<'_>,
    (left, top): Point,
    test: &CatchTest,
    words: &[String],
    units: UnitSystem,
) -> Result<(), DrawError> {
    let center = (left + 34.0, top + 44.0);
    let bearing = test.bearing_deg;
    canvas.ring(center, 22.0, Ink::new(QUIET, 1.0))?;
    arrow(canvas, toward(center, 180.0 - bearing, 20.0), -bearing, 40.0)?;
    let bold = Lettering::new(SMALL, Side::Center).bold();
    canvas.text(toward(center, -bearing, 32.0), "N", bold)?;
    let look = Lettering::new(SMALL, Side::Left);
    let below = top + 118.0;
    if let Some((speed, from_deg)) = test.mean_wind().filter(|(speed, _)| *speed >= 0.05) {
        // Longer for more wind, within bounds.
        let length = (14.0 + 6.0 * speed).clamp(18.0, 60.0);
        let from = from_deg - bearing;
        let middle = (left + 34.0, below + 20.0);
        arrow(canvas, toward(middle, from, 0.5 * length), from + 180.0, length)?;
    }
    let minutes = format!("{} min", number(60.0 * test.duration_h, 0));
    let lines = [format!("wind {}", wind_words(test, units)), format!("water ran {minutes}")];
    for (line, text) in lines.iter().chain(words).enumerate() {
        canvas.text((left, below + 66.0 + 20.0 * line as f64), text, look)?;
    }
    Ok(())
}
