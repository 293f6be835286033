//! Places on the sheet and how lines and letters look.

/// Red, green, blue.
pub(crate) type Rgb = (u8, u8, u8);
/// Color of text and axes.
pub(crate) const TEXT: Rgb = (28, 32, 38);
/// A place on the sheet, pixels from its upper left corner.
pub(crate) type Point = (f64, f64);

/// An upright rectangle on the sheet, pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Frame {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

impl Frame {
    pub(crate) fn right(&self) -> f64 {
        self.left + self.width
    }

    pub(crate) fn bottom(&self) -> f64 {
        self.top + self.height
    }

    pub(crate) fn middle(&self) -> Point {
        (self.left + self.width / 2.0, self.top + self.height / 2.0)
    }
}

/// How a line looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ink {
    pub(crate) color: Rgb,
    pub(crate) width: f64,
    pub(crate) opacity: f64,
}

impl Ink {
    pub(crate) const fn new(color: Rgb, width: f64) -> Self {
        Self { color, width, opacity: 1.0 }
    }
}

/// Which side of its point a text stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Side {
    Left,
    Center,
    Right,
}

/// How a text looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Lettering {
    pub(crate) size: f64,
    pub(crate) bold: bool,
    pub(crate) color: Rgb,
    /// Which part of the text stands at the point.
    pub(crate) anchor: Side,
    /// Read from bottom to top.
    pub(crate) upright: bool,
}

impl Lettering {
    pub(crate) const fn new(size: f64, anchor: Side) -> Self {
        Self { size, bold: false, color: TEXT, anchor, upright: false }
    }

    pub(crate) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(crate) const fn upright(self) -> Self {
        Self { upright: true, ..self }
    }

    pub(crate) const fn color(self, color: Rgb) -> Self {
        Self { color, ..self }
    }
}
