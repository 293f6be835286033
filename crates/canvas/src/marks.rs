//! Places on the sheet and how lines and letters look.

/// Red, green, blue.
pub type Rgb = (u8, u8, u8);
/// Color of text and axes.
pub const TEXT: Rgb = (28, 32, 38);
/// A place on the sheet, pixels from its upper left corner.
pub type Point = (f64, f64);

/// An upright rectangle on the sheet, pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Left side.
    pub left: f64,
    /// Upper side.
    pub top: f64,
    /// From side to side.
    pub width: f64,
    /// From top to bottom.
    pub height: f64,
}

impl Frame {
    /// Right side.
    pub fn right(&self) -> f64 {
        self.left + self.width
    }

    /// Lower side.
    pub fn bottom(&self) -> f64 {
        self.top + self.height
    }

    /// Its middle.
    pub fn middle(&self) -> Point {
        (self.left + self.width / 2.0, self.top + self.height / 2.0)
    }
}

/// How a line looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    /// Its color.
    pub color: Rgb,
    /// Its width, pixels.
    pub width: f64,
    /// From 0, not to be seen, to 1.
    pub opacity: f64,
}

impl Ink {
    /// Ink that hides what is under it.
    pub const fn new(color: Rgb, width: f64) -> Self {
        Self { color, width, opacity: 1.0 }
    }
}

/// Which side of its point a text stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// The point is its left end.
    Left,
    /// The point is its middle.
    Center,
    /// The point is its right end.
    Right,
}

/// How a text looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lettering {
    /// Size of the letters, pixels.
    pub size: f64,
    /// In bold.
    pub bold: bool,
    /// Color of the letters.
    pub color: Rgb,
    /// Which part of the text stands at the point.
    pub anchor: Side,
    /// Read from bottom to top.
    pub upright: bool,
}

impl Lettering {
    /// Plain level letters.
    pub const fn new(size: f64, anchor: Side) -> Self {
        Self { size, bold: false, color: TEXT, anchor, upright: false }
    }

    /// The same in bold.
    #[must_use]
    pub const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    /// The same from bottom to top.
    #[must_use]
    pub const fn upright(self) -> Self {
        Self { upright: true, ..self }
    }

    /// The same in a color.
    #[must_use]
    pub const fn color(self, color: Rgb) -> Self {
        Self { color, ..self }
    }
}
