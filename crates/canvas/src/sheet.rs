//! What was drawn on a sheet: the SVG of it, and its marks in order for whoever paints them otherwise.

use crate::marks::{Frame, Ink, Lettering, Point, Rgb};

/// A finished drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// One self-contained SVG.
    pub svg: String,
    /// Width and height, whole pixels.
    pub(crate) size: (f64, f64),
    /// Under all else.
    pub(crate) images: Vec<(Frame, Image)>,
    pub(crate) marks: Vec<Mark>,
}

/// Something drawn; the fields are those of the canvas's own functions.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Mark {
    Line(Vec<Point>, Ink),
    Dashed(Vec<Point>, Ink, (f64, f64)),
    Polygon(Vec<Point>, Rgb, f64),
    Disc(Point, f64, Rgb, f64),
    Ring(Point, f64, Ink),
    Text(Point, String, Lettering),
}

/// Cells in colors, the first row on top.
#[derive(Clone, Debug, PartialEq)]
pub struct Image {
    /// An entry of the palette for each cell.
    pub indices: Vec<u8>,
    /// Cells in a row.
    pub columns: usize,
    /// Rows.
    pub rows: usize,
    /// Red, green, blue of each entry.
    pub palette: Vec<u8>,
    /// Whether cells are shown as squares: right where they are enlarged, wrong where they are reduced.
    pub blocky: bool,
}
