//! A sheet of paper to draw on, measured in pixels: lines, shapes, letters, colored cells, as SVG and as PNG.
//!
//! Everything that is drawn goes through [`Canvas`]. It knows nothing of irrigation, no file and no clock, and
//! the fonts are embedded: the same marks give the same bytes on every machine. What fills many pixels stands
//! here and not beside the pictures, for this crate is optimized and that one is not.

mod canvas;
pub mod colors;
mod error;
mod indexed;
mod letters;
mod marks;
mod raster;
mod sheet;

pub use canvas::{Canvas, sheet, text_width};
pub use error::DrawError;
pub use marks::{Frame, Ink, Lettering, Point, Rgb, Side};
pub use sheet::{Drawing, Image};
