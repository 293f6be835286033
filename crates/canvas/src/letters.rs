//! Letters of the embedded fonts as outlines.
//!
//! One letter after the other by its width, as the width of a text is measured. Neglected: kerning of pairs,
//! ligatures, and scripts that the embedded fonts do not have (a box stands for each letter).

use crate::canvas::FONTS;
use crate::error::DrawError;
use crate::marks::{Lettering, Side};
use ab_glyph::{Font, FontRef, OutlineCurve};
use tiny_skia::{Path, PathBuilder};

/// How far below the middle of a text its base line lies, by its size: half of a letter x, which readers of SVG
/// that do not look into the font take as half the size high.
const BELOW_MIDDLE: f64 = 0.25;

/// A text about the point (0, 0): on its middle height, by its side; `None` if it has no ink.
///
/// # Errors
/// If an embedded font cannot be read.
pub(crate) fn outline(text: &str, how: Lettering) -> Result<Option<Path>, DrawError> {
    let font =
        FontRef::try_from_slice(FONTS[usize::from(how.bold)]).map_err(|_| DrawError::Font)?;
    let letter_units = f64::from(font.units_per_em().ok_or(DrawError::Font)?);
    let scale = (how.size / letter_units) as f32;
    let mut starts = Vec::new();
    let mut end = 0.0_f32;
    // Spaces that follow each other are one in an SVG.
    let text = text.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
    for id in text.chars().map(|c| font.glyph_id(c)) {
        starts.push((id, end));
        end += font.h_advance_unscaled(id);
    }
    let first = match how.anchor {
        Side::Left => 0.0,
        Side::Center => -0.5 * end,
        Side::Right => -end,
    };
    let base = (BELOW_MIDDLE * how.size) as f32;
    let mut path = PathBuilder::new();
    for (id, start) in starts {
        let place = |p: ab_glyph::Point| ((first + start + p.x) * scale, base - p.y * scale);
        let Some(outline) = font.outline(id) else { continue };
        let mut at = None;
        for curve in &outline.curves {
            let (from, to) = ends(curve);
            if at != Some(from) {
                let (x, y) = place(from);
                path.move_to(x, y);
            }
            at = Some(to);
            let (x, y) = place(to);
            match *curve {
                OutlineCurve::Line(..) => path.line_to(x, y),
                OutlineCurve::Quad(_, a, _) => {
                    let (a, b) = place(a);
                    path.quad_to(a, b, x, y);
                }
                OutlineCurve::Cubic(_, a, c, _) => {
                    let ((a, b), (c, d)) = (place(a), place(c));
                    path.cubic_to(a, b, c, d, x, y);
                }
            }
        }
    }
    Ok(path.finish())
}

/// Where a curve begins and ends.
fn ends(curve: &OutlineCurve) -> (ab_glyph::Point, ab_glyph::Point) {
    match *curve {
        OutlineCurve::Line(from, to)
        | OutlineCurve::Quad(from, _, to)
        | OutlineCurve::Cubic(from, _, _, to) => (from, to),
    }
}
