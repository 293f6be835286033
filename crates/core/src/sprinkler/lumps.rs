//! Lumps of water: where a wind has carried them, and where they lie among cells.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

/// Lumps to the left of the wind.
#[derive(Debug, Default)]
pub(super) struct Lumps {
    /// Down the wind, m.
    pub(super) along_m: Vec<f64>,
    /// To its left, m.
    pub(super) cross_m: Vec<f64>,
    pub(super) litres: Vec<f64>,
}

impl Lumps {
    /// Room for so many: down the wind, to its left, litres.
    pub(super) fn room(&mut self, count: usize) -> (&mut [f64], &mut [f64], &mut [f64]) {
        for numbers in [&mut self.along_m, &mut self.cross_m, &mut self.litres] {
            numbers.resize(count, 0.0);
        }
        (&mut self.along_m, &mut self.cross_m, &mut self.litres)
    }

    /// Down the wind (m), to its left (m), litres.
    pub(super) fn iter(&self) -> impl Iterator<Item = (f64, f64, f64)> {
        let places = self.along_m.iter().zip(&self.cross_m);
        places.zip(&self.litres).map(|((along_m, cross_m), litres)| (*along_m, *cross_m, *litres))
    }
}

/// Where lumps lie among cells.
#[derive(Debug, Default)]
pub(super) struct OnCells {
    /// The first of their four cells.
    pub(super) first: Vec<u32>,
    /// Part that belongs to the two cells on the right.
    pub(super) right: Vec<f64>,
    /// Water of the lower two cells and of the upper two.
    pub(super) lower: Vec<f64>,
    pub(super) upper: Vec<f64>,
}

impl OnCells {
    /// All as long as each other.
    #[inline(always)]
    pub(super) fn slices(&self) -> (&[u32], &[f64], &[f64], &[f64]) {
        let count = self.first.len();
        let Self { first, right, lower, upper } = self;
        (&first[..count], &right[..count], &lower[..count], &upper[..count])
    }

    /// Room for so many.
    pub(super) fn resize(&mut self, count: usize) {
        self.first.resize(count, 0);
        for numbers in [&mut self.right, &mut self.lower, &mut self.upper] {
            numbers.resize(count, 0.0);
        }
    }
}
