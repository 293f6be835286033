//! Footprints: the depth that one sprinkler lays on the cells around it, and what asks for one.
//!
//! Cells follow the field's grid: rows along +y, columns along +x. The sprinkler may stand anywhere
//! in its cell (its [`Phase`]). How they are made: [`maker`](super::maker).

use super::problem::SprinklerProblem;
use crate::range::within;
use ndarray::Array2;

/// Depth (mm) or rate (mm/h) of one sprinkler on the cells around it.
#[derive(Clone, Debug, PartialEq)]
pub struct Footprint {
    /// Row of `values[(0, 0)]`, counted from the cell that holds the sprinkler.
    pub first_row: isize,
    /// Column of `values[(0, 0)]`, counted likewise.
    pub first_column: isize,
    /// Mean over each cell.
    pub values: Array2<f64>,
}

/// Where the sprinkler stands inside its cell, as fractions from the cell's low corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    /// Along x, 0–1.
    pub along: f64,
    /// Along y, 0–1.
    pub across: f64,
}

impl Phase {
    /// On the low corner of the cell.
    pub const CORNER: Self = Self { along: 0.0, across: 0.0 };

    pub(super) fn check(&self) -> Result<(), SprinklerProblem> {
        within("phase along", self.along, 0.0, 1.0)?;
        Ok(within("phase across", self.across, 0.0, 1.0)?)
    }
}

/// A part of a set with one wind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindSlice {
    /// How long, h.
    pub hours: f64,
    /// Portion of the discharge that reaches the ground: 1 − losses.
    pub net: f64,
    /// Speed at the landing maps' measuring height, m/s; exactly 0 is still air.
    pub speed_m_s: f64,
    /// Direction the wind blows *to*, from +x counter-clockwise to +y, radians.
    pub towards_rad: f64,
}

impl WindSlice {
    pub(super) fn check(&self) -> Result<(), SprinklerProblem> {
        within("hours", self.hours, 0.0, 10_000.0)?;
        within("net", self.net, 0.0, 1.0)?;
        within("speed_m_s", self.speed_m_s, 0.0, 60.0)?;
        Ok(within("towards_rad", self.towards_rad, -1000.0, 1000.0)?)
    }
}

/// How finely water is laid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FootprintSettings {
    /// Rings of still-air distance in one cell's width.
    pub rings_per_cell: f64,
    /// Azimuth samples in one cell's width along a ring.
    pub samples_per_cell: f64,
    /// Sub-points a side of a cell for the still-air footprint.
    pub subsamples: usize,
}

impl Default for FootprintSettings {
    /// Three rings and three samples a cell, 8 × 8 sub-points. Two and two take half the time and
    /// lay a grain of 3 % of the peak instead of 1 %, both far below 0.1 CU points in an overlap.
    fn default() -> Self {
        Self { rings_per_cell: 3.0, samples_per_cell: 3.0, subsamples: 8 }
    }
}

/// Rings and samples in a cell's width that a footprint has at least: lumps of water closer than a cell
/// leave no gaps.
const FEWEST_PER_CELL: f64 = 1.5;

impl FootprintSettings {
    /// Each side of a lump wider by √`parts`, for water that is added up from several such: the grain of one is
    /// no more in the sum.
    pub(crate) fn shared_by(self, parts: usize) -> Self {
        let thinned =
            |per_cell: f64| (per_cell / (parts as f64).sqrt()).max(FEWEST_PER_CELL.min(per_cell));
        let rings_per_cell = thinned(self.rings_per_cell);
        Self { rings_per_cell, samples_per_cell: thinned(self.samples_per_cell), ..self }
    }

    pub(super) fn check(&self) -> Result<(), SprinklerProblem> {
        within("rings_per_cell", self.rings_per_cell, 0.5, 32.0)?;
        within("samples_per_cell", self.samples_per_cell, 0.5, 32.0)?;
        Ok(within("subsamples", self.subsamples as f64, 1.0, 64.0)?)
    }
}
