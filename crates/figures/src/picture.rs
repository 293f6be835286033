//! A finished picture: what drawing gives and reports lay out.

use evenfall_canvas::DrawError;
use evenfall_canvas::Drawing;

/// A finished picture.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Stem for a file name: lower case, hyphens.
    pub name: &'static str,
    /// What it shows.
    pub title: String,
    /// How to read it, in a few sentences.
    pub caption: String,
    pub(crate) drawing: Drawing,
}

impl Picture {
    /// The drawing as one self-contained SVG.
    pub fn svg(&self) -> &str {
        &self.drawing.svg
    }

    /// The drawing as a PNG, `scale` pixels to one pixel of the SVG.
    ///
    /// # Errors
    /// If the scale gives a raster of no size or more than 16,384 pixels a side.
    pub fn png(&self, scale: f32) -> Result<Vec<u8>, DrawError> {
        self.drawing.png(scale)
    }

    /// The drawing as it stands inside a page: there the SVG needs no namespace, and without it the
    /// page holds no address at all.
    pub(crate) fn inline(&self) -> String {
        self.svg().replacen(" xmlns=\"http://www.w3.org/2000/svg\"", "", 1)
    }
}

/// A picture ready for a page.
#[derive(Clone, Debug)]
pub(crate) struct Figure {
    pub(crate) name: String,
    pub(crate) caption: String,
    pub(crate) svg: String,
}

impl Figure {
    pub(crate) fn new(picture: &Picture) -> Self {
        let name = picture.name.to_owned();
        Self { name, caption: picture.caption.clone(), svg: picture.inline() }
    }

    pub(crate) fn all(pictures: &[Picture]) -> Vec<Self> {
        pictures.iter().map(Self::new).collect()
    }
}
