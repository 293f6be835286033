//! Colors and line styles, all safe for the common kinds of color blindness.
//!
//! Depth: cividis (Nuñez, Anderton & Renslow 2018), perceptually uniform. Deviation: the brown to
//! teal scheme of Harrower & Brewer 2003. Lines: Okabe & Ito 2008. Stops: the muted scheme of Tol
//! 2021. Line and stop colors from memory, confidence high. Nothing is told by color alone.

use crate::marks::Rgb;

pub use crate::marks::TEXT;

/// Text and lines that may be overlooked.
pub const QUIET: Rgb = (92, 98, 108);
/// Lines of a ruling.
pub const RULE: Rgb = (214, 217, 222);
/// White.
pub const WHITE: Rgb = (255, 255, 255);
/// Black.
pub const BLACK: Rgb = (0, 0, 0);
/// Cells without a value.
pub const BLANK: Rgb = (196, 196, 196);
/// Night.
pub const NIGHT: Rgb = (40, 52, 92);
/// Day.
pub const DAY: Rgb = (250, 232, 170);

/// A scale of colors over a range of values.
#[derive(Clone, Copy, Debug)]
pub struct ColorScale {
    /// The value of the first color.
    pub lo: f64,
    /// The value of the last.
    pub hi: f64,
    /// Its colors.
    pub kind: ScaleKind,
}

/// Which family of colors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScaleKind {
    /// From little to much.
    Depth,
    /// From too little over the mean to too much.
    Deviation,
    /// From night to day.
    DayNight,
}

impl ColorScale {
    /// Number of color steps; one more palette entry is kept for cells without a value.
    pub const STEPS: usize = 255;

    /// The palette as red, green, blue bytes; the last entry is the blank.
    pub fn palette(&self) -> Vec<u8> {
        let top = (Self::STEPS - 1) as f64;
        let colors = (0..Self::STEPS).map(|i| self.kind.color(i as f64 / top));
        colors.chain([BLANK]).flat_map(|(r, g, b)| [r, g, b]).collect()
    }

    /// Color of a value.
    pub fn color_of(&self, value: f64) -> Rgb {
        let top = (Self::STEPS - 1) as f64;
        match usize::from(self.index(value)) {
            Self::STEPS => BLANK,
            step => self.kind.color(step as f64 / top),
        }
    }

    /// Adds the palette indices of `values`, each times `factor`, to `indices`.
    pub fn index_all(&self, values: &[f64], factor: f64, indices: &mut Vec<u8>) {
        indices.extend(values.iter().map(|value| self.index(value * factor)));
    }

    /// Palette index of a value; values beyond the ends take the end's color.
    pub fn index(&self, value: f64) -> u8 {
        if value.is_nan() || self.hi <= self.lo {
            return Self::STEPS as u8;
        }
        let share = ((value - self.lo) / (self.hi - self.lo)).clamp(0.0, 1.0);
        (share * (Self::STEPS - 1) as f64).round() as u8
    }
}

impl ScaleKind {
    fn color(self, share: f64) -> Rgb {
        let c = match self {
            Self::Depth => colorous::CIVIDIS.eval_continuous(1.0 - share),
            Self::Deviation => colorous::BROWN_GREEN.eval_continuous(share),
            Self::DayNight => return blend(NIGHT, DAY, share),
        };
        (c.r, c.g, c.b)
    }
}

/// A color between two.
pub fn blend(from: Rgb, to: Rgb, share: f64) -> Rgb {
    let mix = |a: u8, b: u8| (f64::from(a) + (f64::from(b) - f64::from(a)) * share).round() as u8;
    (mix(from.0, to.0), mix(from.1, to.1), mix(from.2, to.2))
}

const STOPS: [Rgb; 9] = [
    (51, 34, 136),
    (204, 102, 119),
    (17, 119, 51),
    (221, 204, 119),
    (136, 204, 238),
    (136, 34, 85),
    (68, 170, 153),
    (153, 153, 51),
    (170, 68, 153),
];

/// Color of a stop's letter chip.
pub fn stop_color(letter: char) -> Rgb {
    let index = (u32::from(letter).wrapping_sub(u32::from('A'))) as usize;
    STOPS[index % STOPS.len()]
}

/// Black or white, whichever reads better on a ground.
pub fn on(ground: Rgb) -> Rgb {
    let light =
        0.299 * f64::from(ground.0) + 0.587 * f64::from(ground.1) + 0.114 * f64::from(ground.2);
    if light > 140.0 { BLACK } else { WHITE }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_values_beyond_the_ends_take_the_end_color() {
        let scale = ColorScale { lo: 0.0, hi: 10.0, kind: ScaleKind::Depth };
        assert_eq!([scale.index(-1.0), scale.index(5.0), scale.index(99.0)], [0, 127, 254]);
        assert_eq!(scale.index(f64::NAN), 255);
        assert_eq!(scale.palette().len(), 256 * 3);
    }
}
