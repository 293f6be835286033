//! The one place that uses `plotters`: a sheet of paper measured in page pixels.
//!
//! `plotters` snaps everything to whole units, so the sheet is drawn `FINE` times as large and
//! published with a view box: lines stay smooth at any zoom. Raster images (heatmaps) are laid
//! under the drawing as embedded PNGs, which `plotters` cannot do by itself. What is drawn is noted too,
//! for the raster of the sheet.

use crate::error::DrawError;
use crate::indexed::indexed_png;
use crate::marks::{Frame, Ink, Lettering, Point, Rgb, Side};
use crate::sheet::{Drawing, Image, Mark};
use base64::{Engine, engine::general_purpose::STANDARD};
use plotters::coord::Shift;
use plotters::element::DashedPathElement;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{FontStyle, register_font};
use std::cell::RefCell;
use std::fmt::Write as _;
use std::sync::OnceLock;

/// Drawing units in one page pixel.
const FINE: f64 = 8.0;
/// Font families in order of choice; the first one is embedded for measuring and for PNGs.
const FAMILY: &str = "DejaVu Sans, Verdana, Helvetica, Arial, sans-serif";
/// `plotters` writes a font size of its size ÷ 1.24.
const FONT_SCALE: f64 = 1.24;
/// The embedded fonts: regular and bold.
pub(crate) const FONTS: [&[u8]; 2] = [
    include_bytes!("../../../shared/fonts/DejaVuSans.sub.ttf"),
    include_bytes!("../../../shared/fonts/DejaVuSans-Bold.sub.ttf"),
];

/// A sheet being drawn on.
pub struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
    /// As they stand in the SVG.
    images_svg: String,
    images: Vec<(Frame, Image)>,
    marks: RefCell<Vec<Mark>>,
}

impl std::fmt::Debug for Canvas<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Canvas").field("marks", &self.marks.borrow().len()).finish_non_exhaustive()
    }
}

/// Draws a sheet of `width` × `height` pixels.
///
/// # Errors
/// What `draw` refuses; an embedded font that cannot be read.
pub fn sheet(
    (width, height): (f64, f64),
    title: &str,
    draw: impl FnOnce(&mut Canvas<'_>) -> Result<(), DrawError>,
) -> Result<Drawing, DrawError> {
    fonts_ready()?;
    // Whole pixels: else the view box and the size differ in shape and leave a sliver.
    let (width, height) = (width.ceil(), height.ceil());
    let mut svg = String::new();
    let fine = (units(width) as u32, units(height) as u32);
    let (images_svg, images, marks) = {
        let area = SVGBackend::with_string(&mut svg, fine).into_drawing_area();
        let (images, marks) = (Vec::new(), RefCell::default());
        let mut canvas = Canvas { area, images_svg: String::new(), images, marks };
        draw(&mut canvas)?;
        canvas.area.present().map_err(DrawError::library)?;
        (canvas.images_svg, canvas.images, canvas.marks.into_inner())
    };
    let old_size = format!("width=\"{}\" height=\"{}\"", fine.0, fine.1);
    let new_size = format!("width=\"{width:.0}\" height=\"{height:.0}\" role=\"img\"");
    let mut svg = svg.replacen(&old_size, &new_size, 1);
    let under = format!(
        "\n<title>{}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{images_svg}",
        escape(title)
    );
    let head = svg.find('>').ok_or_else(|| DrawError::Library("no SVG head".to_owned()))?;
    svg.insert_str(head + 1, &under);
    Ok(Drawing { svg, size: (width, height), images, marks })
}

/// Text for XML: the five special characters as entities, control characters left out.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars().filter(|c| !c.is_control()) {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
}

/// Hands the embedded fonts to `plotters`, once.
fn fonts_ready() -> Result<(), DrawError> {
    static READY: OnceLock<bool> = OnceLock::new();
    let ready = READY.get_or_init(|| {
        let styles = [FontStyle::Normal, FontStyle::Bold];
        styles
            .into_iter()
            .zip(FONTS)
            .all(|(style, font)| register_font(FAMILY, style, font).is_ok())
    });
    if *ready { Ok(()) } else { Err(DrawError::Font) }
}

/// Page pixels to drawing units.
fn units(pixels: f64) -> i32 {
    (pixels * FINE).round() as i32
}

/// Width of a line in drawing units: at least one.
fn stroke_units(pixels: f64) -> u32 {
    units(pixels).max(1) as u32
}

/// Width of a line as the drawing has it, page pixels.
pub(crate) fn snapped_stroke(pixels: f64) -> f32 {
    (f64::from(stroke_units(pixels)) / FINE) as f32
}

/// Page pixels as the drawing has them, after rounding to its units.
pub(crate) fn snapped(pixels: f64) -> f32 {
    (f64::from(units(pixels)) / FINE) as f32
}

fn at((x, y): Point) -> (i32, i32) {
    (units(x), units(y))
}

fn color(rgb: Rgb, opacity: f64) -> RGBAColor {
    RGBColor(rgb.0, rgb.1, rgb.2).mix(opacity)
}

#[expect(clippy::missing_errors_doc, reason = "all fail alike: if the drawing library refuses")]
impl Canvas<'_> {
    fn note(&self, mark: Mark) {
        self.marks.borrow_mut().push(mark);
    }

    /// A line through `points`.
    pub fn line(&self, points: &[Point], ink: Ink) -> Result<(), DrawError> {
        self.note(Mark::Line(points.to_vec(), ink));
        let points: Vec<_> = points.iter().copied().map(at).collect();
        let stroke = color(ink.color, ink.opacity).stroke_width(stroke_units(ink.width));
        self.area.draw(&PathElement::new(points, stroke)).map_err(DrawError::library)
    }

    /// A line through `points` in dashes: lengths of ink and gap, pixels.
    pub fn dashed(
        &self,
        points: &[Point],
        ink: Ink,
        (dash, gap): (f64, f64),
    ) -> Result<(), DrawError> {
        self.note(Mark::Dashed(points.to_vec(), ink, (dash, gap)));
        let points: Vec<_> = points.iter().copied().map(at).collect();
        let stroke = color(ink.color, ink.opacity).stroke_width(stroke_units(ink.width));
        let element = DashedPathElement::new(points, units(dash), units(gap), stroke);
        self.area.draw(&element).map_err(DrawError::library)
    }

    /// The outline of a frame.
    pub fn outline(&self, f: Frame, ink: Ink) -> Result<(), DrawError> {
        let corners = [(f.left, f.top), (f.right(), f.top), (f.right(), f.bottom())];
        // The first side is drawn twice so that its corner is mitred like the others.
        let back = [(f.left, f.bottom()), (f.left, f.top), (f.right(), f.top)];
        self.line(&[corners, back].concat(), ink)
    }

    /// A filled frame.
    pub fn fill(&self, f: Frame, rgb: Rgb, opacity: f64) -> Result<(), DrawError> {
        let around =
            [(f.left, f.top), (f.right(), f.top), (f.right(), f.bottom()), (f.left, f.bottom())];
        self.note(Mark::Polygon(around.to_vec(), rgb, opacity));
        let corners = [at((f.left, f.top)), at((f.right(), f.bottom()))];
        let element = Rectangle::new(corners, color(rgb, opacity).filled());
        self.area.draw(&element).map_err(DrawError::library)
    }

    /// A filled polygon.
    pub fn polygon(&self, points: &[Point], rgb: Rgb, opacity: f64) -> Result<(), DrawError> {
        self.note(Mark::Polygon(points.to_vec(), rgb, opacity));
        let points: Vec<_> = points.iter().copied().map(at).collect();
        self.area.draw(&Polygon::new(points, color(rgb, opacity))).map_err(DrawError::library)
    }

    /// A filled disc.
    pub fn disc(
        &self,
        center: Point,
        radius: f64,
        rgb: Rgb,
        opacity: f64,
    ) -> Result<(), DrawError> {
        self.note(Mark::Disc(center, radius, rgb, opacity));
        let element = Circle::new(at(center), units(radius), color(rgb, opacity).filled());
        self.area.draw(&element).map_err(DrawError::library)
    }

    /// A circle's outline.
    pub fn ring(&self, center: Point, radius: f64, ink: Ink) -> Result<(), DrawError> {
        self.note(Mark::Ring(center, radius, ink));
        let stroke = color(ink.color, ink.opacity).stroke_width(stroke_units(ink.width));
        let element = Circle::new(at(center), units(radius), stroke);
        self.area.draw(&element).map_err(DrawError::library)
    }

    /// A text whose middle height lies at `place`.
    pub fn text(&self, place: Point, text: &str, how: Lettering) -> Result<(), DrawError> {
        let side = match how.anchor {
            Side::Left => HPos::Left,
            Side::Center => HPos::Center,
            Side::Right => HPos::Right,
        };
        let turn = if how.upright { FontTransform::Rotate270 } else { FontTransform::None };
        let (r, g, b) = how.color;
        let style = font(how.size, how.bold)
            .transform(turn)
            .color(&RGBColor(r, g, b))
            .pos(Pos::new(side, VPos::Center));
        let clean: String = text.chars().filter(|c| !c.is_control()).collect();
        self.note(Mark::Text(place, clean.clone(), how));
        self.area.draw(&Text::new(clean, at(place), style)).map_err(DrawError::library)
    }

    /// Cells stretched over a frame, under everything else.
    pub fn image(&mut self, f: Frame, image: Image) -> Result<(), DrawError> {
        let (x, y) = at((f.left, f.top));
        let (right, bottom) = at((f.right(), f.bottom()));
        let look = if image.blocky {
            " image-rendering=\"pixelated\" style=\"image-rendering:pixelated\""
        } else {
            ""
        };
        // Writing to a String cannot fail.
        let _ = writeln!(
            self.images_svg,
            "<image x=\"{x}\" y=\"{y}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\"{look} \
             href=\"data:image/png;base64,{}\"/>",
            right - x,
            bottom - y,
            STANDARD.encode(indexed_png(&image)?)
        );
        self.images.push((f, image));
        Ok(())
    }
}

fn font(size: f64, bold: bool) -> FontDesc<'static> {
    let style = if bold { FontStyle::Bold } else { FontStyle::Normal };
    FontDesc::new(FontFamily::Name(FAMILY), size * FINE * FONT_SCALE, style)
}

/// Width of a text, pixels (a few percent too wide, so that what fits by it does fit).
pub fn text_width(text: &str, size: f64, bold: bool) -> f64 {
    let fallback = text.chars().count() as f64 * size * 0.65;
    if fonts_ready().is_err() {
        return fallback;
    }
    font(size, bold).box_size(text).map_or(fallback, |(width, _)| f64::from(width) / FINE)
}
