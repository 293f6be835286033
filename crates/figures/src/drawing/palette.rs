//! Colors of the report's maps, for surfaces that draw maps themselves.

use super::pictures::scale_of;
use super::spread::Spread;
use evenfall_canvas::colors::{ColorScale, ScaleKind};
use evenfall_core::statistics::Numbers;
use evenfall_view::units::{Quantity, UnitSystem};

/// The range of depths (mm) that the report's maps would color for all `depths_mm` together; its
/// ends are round in the shown unit.
pub fn map_range_mm(depths_mm: &[Numbers<'_>], units: UnitSystem) -> [f64; 2] {
    let factor = units.shown(Quantity::Depth, 1.0);
    let scale = scale_of(Spread::of(depths_mm, factor));
    [scale.lo, scale.hi].map(|end| units.inside(Quantity::Depth, end))
}

/// A color table of the report's maps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Palette {
    /// From little to much.
    Depth,
    /// From too little over the mean to too much.
    Deviation,
}

impl Palette {
    /// Red, green and blue of 255 steps from low to high; the last of the 256 is for no value.
    pub fn colors(self) -> Vec<[u8; 3]> {
        let kind = match self {
            Self::Depth => ScaleKind::Depth,
            Self::Deviation => ScaleKind::Deviation,
        };
        let bytes = ColorScale { lo: 0.0, hi: 1.0, kind }.palette();
        bytes.chunks_exact(3).map(|rgb| [rgb[0], rgb[1], rgb[2]]).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_palettes_have_256_colors_the_last_for_no_value() {
        for palette in [Palette::Depth, Palette::Deviation] {
            let colors = palette.colors();
            assert_eq!((colors.len(), colors[255]), (256, [196, 196, 196]));
            assert_ne!(colors[0], colors[254]);
        }
    }
}
