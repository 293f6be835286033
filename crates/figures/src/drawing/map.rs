//! One map panel: a window of a depth grid with its axes, outlets, stops and sprinklers.

use crate::drawing::axis::{Axis, SMALL, bottom_ticks, left_ticks};
use crate::drawing::raster_field::field_image;
use crate::scenes::Site;
use crate::scenes::{StopMark, positive};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{BLACK, ColorScale, TEXT, WHITE, on, stop_color};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Point, Side};
use evenfall_core::boundary::Boundary;
use evenfall_core::grid::{DepthGrid, Window};
use evenfall_core::model::Alternative;
use evenfall_core::shown::window_inside;
use evenfall_view::units::Quantity;

/// Room for the stop letters right of a map, pixels.
pub(crate) const LETTER_ROOM: f64 = 24.0;
/// Room for tick labels left of a map, pixels.
pub(crate) const LABEL_ROOM: f64 = 62.0;
/// Least distance between stop letters, pixels.
const LETTER_STEP: f64 = 12.0;

/// What is shown in a panel.
#[derive(Clone, Copy)]
pub(crate) struct Panel<'a> {
    pub(crate) depth_mm: &'a DepthGrid,
    /// The value on the scale is factor · depth.
    pub(crate) factor: f64,
    pub(crate) scale: &'a ColorScale,
    pub(crate) window: &'a Window,
    /// Stops to mark.
    pub(crate) stops: &'a [StopMark],
    /// Dots where sprinklers stand.
    pub(crate) sprinklers: bool,
    /// Tick labels at the left and below.
    pub(crate) labels: bool,
    /// Most pixels a side of the embedded image.
    pub(crate) largest_side: usize,
}

/// A window of the field laid over a frame.
struct Ground {
    frame: Frame,
    x: Axis,
    y: Axis,
}

/// Largest frame of a window's proportions within `width` × `height`, at a place.
pub(crate) fn fitted(window: &Window, left: f64, top: f64, width: f64, height: f64) -> Frame {
    let (across, along) = (window.rows.len() as f64, window.columns.len() as f64);
    let pixels_per_cell = (width / along).min(height / across);
    // A very long, narrow field would leave a hairline: keep at least a visible strip.
    let (w, h) = ((along * pixels_per_cell).max(24.0), (across * pixels_per_cell).max(24.0));
    Frame { left: left + (width - w) / 2.0, top, width: w, height: h }
}

/// Draws the panel into `frame`; returns how many cells were averaged into a pixel each way.
pub(crate) fn draw_map(
    canvas: &mut Canvas<'_>,
    frame: Frame,
    site: &Site<'_>,
    asked: &Alternative,
    panel: &Panel<'_>,
) -> Result<usize, DrawError> {
    let inside = site.scenario.field.boundary.as_ref().map(Boundary::inside);
    // What lies outside the field's boundary is drawn blank.
    let inside = inside.map(|inside| window_inside(panel.depth_mm, inside, panel.window));
    let view = inside.as_ref().map_or_else(|| panel.window.of(panel.depth_mm), |part| part.view());
    let shown = field_image(&view, panel.factor, panel.scale, panel.largest_side, frame.width);
    canvas.image(frame, shown.image)?;
    let ground = Ground::new(frame, site, panel.window);
    canvas.outline(frame, Ink::new(TEXT, 1.0))?;
    ground.boundary(canvas, site)?;
    if panel.labels {
        ground.label(canvas)?;
    }
    if panel.sprinklers {
        ground.sprinklers(canvas, site, asked, panel.stops)?;
    }
    ground.outlets(canvas, site, asked)?;
    ground.letters(canvas, site, asked, panel.stops)?;
    Ok(shown.block)
}

impl Ground {
    fn new(frame: Frame, site: &Site<'_>, window: &Window) -> Self {
        let shown =
            |cells: usize| site.units.shown(Quantity::Length, cells as f64 * site.grid.cell_m);
        let (columns, rows) = (&window.columns, &window.rows);
        let (left, right) = (shown(columns.start), shown(columns.end));
        let (low, high) = (shown(rows.start), shown(rows.end));
        let x = Axis { lo: left, hi: right, from: frame.left, to: frame.right() };
        let y = Axis { lo: low, hi: high, from: frame.bottom(), to: frame.top };
        Self { frame, x, y }
    }

    fn label(&self, canvas: &Canvas<'_>) -> Result<(), DrawError> {
        let wanted = |pixels: f64| ((pixels / 60.0) as usize).clamp(2, 6);
        let (ticks, decimals) = self.x.ticks(wanted(self.frame.width));
        bottom_ticks(canvas, self.frame, &self.x, &ticks, decimals)?;
        let (ticks, decimals) = self.y.ticks(wanted(self.frame.height));
        left_ticks(canvas, self.frame, &self.y, &ticks, decimals)
    }

    /// The field's boundary, as far as it runs through the window.
    fn boundary(&self, canvas: &Canvas<'_>, site: &Site<'_>) -> Result<(), DrawError> {
        let rings = site.scenario.field.boundary.iter().flat_map(Boundary::rings);
        let shown = |meters: f64| site.units.shown(Quantity::Length, meters);
        for ring in rings {
            for (at, [x0, y0]) in ring.iter().enumerate() {
                let [x1, y1] = ring[(at + 1) % ring.len()];
                let side = [(shown(*x0), shown(*y0)), (shown(x1), shown(y1))];
                if let Some([from, to]) =
                    clipped(side, (self.x.lo, self.x.hi), (self.y.lo, self.y.hi))
                {
                    let place = |(x, y): Point| (self.x.place(x), self.y.place(y));
                    canvas.line(&[place(from), place(to)], Ink::new(WHITE, 3.0))?;
                    canvas.line(&[place(from), place(to)], Ink::new(BLACK, 1.6))?;
                }
            }
        }
        Ok(())
    }

    fn holds_y(&self, y: f64) -> bool {
        y >= self.y.lo && y <= self.y.hi
    }

    /// Outlets as wedges that point into the map at its left edge.
    fn outlets(
        &self,
        canvas: &Canvas<'_>,
        site: &Site<'_>,
        asked: &Alternative,
    ) -> Result<(), DrawError> {
        let outlets = &asked.outlets;
        let step = site.units.shown(Quantity::Length, outlets.spacing_m);
        let apart = (self.y.place(step) - self.y.place(0.0)).abs();
        let r = (apart * 0.35).clamp(1.5, 6.0);
        for index in 0..outlets.count {
            let place = site.units.shown(Quantity::Length, outlets.place_m(index));
            if self.holds_y(place) {
                let mainline_m = asked.lateral.mainline_m();
                let mainline = mainline_m.map(|m| site.units.shown(Quantity::Length, m));
                let at = mainline.filter(|x| *x >= self.x.lo && *x <= self.x.hi);
                let (x, y) = (at.map_or(self.frame.left, |x| self.x.place(x)), self.y.place(place));
                let wedge = [(x, y - r), (x + 1.6 * r, y), (x, y + r)];
                canvas.polygon(&wedge, WHITE, 1.0)?;
                let closed = [wedge[0], wedge[1], wedge[2], wedge[0]];
                canvas.line(&closed, Ink::new(BLACK, 0.8))?;
            }
        }
        Ok(())
    }

    /// Stops at the right edge: a colored tick each, with the letter where there is room.
    fn letters(
        &self,
        canvas: &Canvas<'_>,
        site: &Site<'_>,
        asked: &Alternative,
        stops: &[StopMark],
    ) -> Result<(), DrawError> {
        let mut marks: Vec<(f64, char)> = Vec::new();
        for index in 0..asked.outlets.count {
            for stop in stops {
                let meters = asked.outlets.place_m(index) + stop.shift.across_m;
                let place = site.units.shown(Quantity::Length, meters);
                if self.holds_y(place) {
                    marks.push((self.y.place(place), stop.letter));
                }
            }
        }
        marks.sort_by(|a, b| b.0.total_cmp(&a.0));
        let room = marks.windows(2).all(|m| {
            let apart = m[0].0 - m[1].0;
            !(0.5..LETTER_STEP).contains(&apart)
        });
        let x = self.frame.right();
        // Stops that differ along the pipe only share a place here, and a chip.
        for together in marks.chunk_by(|a, b| a.0 - b.0 < 0.5) {
            let (y, letter) = together[0];
            let color = stop_color(letter);
            if room {
                let letters: String = together.iter().map(|(_, letter)| *letter).collect();
                let (text, width, size) = match together.len() {
                    1 => (letters, 15.0, 11.0),
                    2 => (letters, 19.0, 10.0),
                    3 => (letters, 20.0, 8.0),
                    _ => (format!("{letter}…"), 19.0, 10.0),
                };
                let chip = Frame { left: x + 4.0, top: y - 7.0, width, height: 14.0 };
                canvas.line(&[(x, y), (x + 4.0, y)], Ink::new(BLACK, 1.0))?;
                canvas.fill(chip, color, 1.0)?;
                let look = Lettering::new(size, Side::Center).bold().color(on(color));
                canvas.text(chip.middle(), &text, look)?;
            } else {
                canvas.line(&[(x + 1.0, y), (x + 9.0, y)], Ink::new(color, 2.4))?;
            }
        }
        Ok(())
    }

    /// A dot at each place where a sprinkler stands, in its stop's color.
    fn sprinklers(
        &self,
        canvas: &Canvas<'_>,
        site: &Site<'_>,
        asked: &Alternative,
        stops: &[StopMark],
    ) -> Result<(), DrawError> {
        let lateral = &asked.lateral;
        let shown = |meters: f64| site.units.shown(Quantity::Length, meters);
        for index in 0..asked.outlets.count {
            for stop in stops {
                let y = shown(asked.outlets.place_m(index) + stop.shift.across_m);
                if !self.holds_y(y) {
                    continue;
                }
                let sides = lateral.lines.sides().iter();
                let firsts_m = sides.map(|side| lateral.first_m(*side, stop.shift.along_m));
                let places_m = firsts_m.flat_map(|first_m| {
                    let along_m = |at: usize| at as f64 * lateral.sprinkler_spacing_m;
                    (0..lateral.sprinklers).map(move |at| first_m + along_m(at))
                });
                for x in places_m.map(shown) {
                    if x >= self.x.lo && x <= self.x.hi {
                        let place = (self.x.place(x), self.y.place(y));
                        canvas.disc(place, 3.6, WHITE, 1.0)?;
                        canvas.disc(place, 2.6, stop_color(stop.letter), 1.0)?;
                    }
                }
            }
        }
        Ok(())
    }
}

/// The part of a side that lies in a box (Liang & Barsky 1984; from memory, confidence high).
fn clipped([from, to]: [Point; 2], x: (f64, f64), y: (f64, f64)) -> Option<[Point; 2]> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (step, room) in
        [(-dx, from.0 - x.0), (dx, x.1 - from.0), (-dy, from.1 - y.0), (dy, y.1 - from.1)]
    {
        if step == 0.0 && room < 0.0 {
            return None;
        }
        if step < 0.0 {
            enters = enters.max(room / step);
        } else if step > 0.0 {
            leaves = leaves.min(room / step);
        }
    }
    let at = |share: f64| (from.0 + share * dx, from.1 + share * dy);
    (enters < leaves).then(|| [at(enters), at(leaves)])
}

/// The detail every alternative is shown in: about five sprinkler spacings by four outlet
/// spacings in the middle of the field, cut at sprinklers and outlets of `asked`, the first.
pub(crate) fn detail_window(site: &Site<'_>, asked: &Alternative) -> Window {
    let grid = &site.grid;
    let span = |cells: usize, first_m: f64, step_m: f64, steps: f64| {
        let all_m = cells as f64 * grid.cell_m;
        if !positive(step_m) || steps * step_m >= all_m {
            return 0..cells;
        }
        let start = ((all_m - steps * step_m) / 2.0 - first_m) / step_m;
        // Half a spacing off, so that sprinklers do not fall on the panel's edge.
        let start_m = (first_m + (start.round() - 0.5) * step_m).max(0.0);
        let start = (start_m / grid.cell_m).round() as usize;
        let length = ((steps * step_m / grid.cell_m).round() as usize).clamp(1, cells);
        let start = start.min(cells - length);
        start..start + length
    };
    let (lateral, outlets) = (&asked.lateral, &asked.outlets);
    let columns =
        span(grid.cells_along, lateral.first_sprinkler_m, lateral.sprinkler_spacing_m, 5.0);
    let rows = span(grid.cells_across, outlets.first_m, outlets.spacing_m, 4.0);
    Window { rows, columns }
}

/// Height of the tick labels and the axis title below a map, pixels.
pub(crate) const BELOW: f64 = SMALL + 34.0;
