//! Footprints: the depth that one sprinkler lays on the cells around it over a whole set.
//!
//! Each slice of a set has its own wind; the jets' tubes are carried and laid slice by slice on one
//! scratch, which is cut to what is wet at the end. Mass is exact to round-off. A slice
//! without wind takes the [`radial`](super::radial) footprint, so still air is exact too.
//!
//! Cells follow the field's grid: rows along +y, columns along +x. The sprinkler may stand anywhere
//! in its cell (its [`Phase`]); water is laid at that phase, never resampled. Neglected: the wind's
//! hold on the sprinkler's turning, and runoff.

use super::landing::LandingMap;
use super::leg::Leg;
use super::problem::SprinklerProblem;
use super::radial::{LegTable, radial_footprint};
use super::scratch::Scratch;
use super::tubes::{Gust, Placement, Tubes, Workspace};
use crate::range::within;
use libm::{cos, sin};
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
    fn check(&self) -> Result<(), SprinklerProblem> {
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

impl FootprintSettings {
    fn check(&self) -> Result<(), SprinklerProblem> {
        within("rings_per_cell", self.rings_per_cell, 0.5, 32.0)?;
        within("samples_per_cell", self.samples_per_cell, 0.5, 32.0)?;
        Ok(within("subsamples", self.subsamples as f64, 1.0, 64.0)?)
    }
}

/// A sprinkler cut into tubes for one cell size, ready to lay any number of sets.
#[derive(Debug)]
pub struct FootprintMaker<'a> {
    jets: Vec<Tubes<'a>>,
    still: Vec<LegTable>,
    radius_m: f64,
    discharge_l_s: f64,
    longest_flight_s: f64,
    fastest_m_s: f64,
    cell_m: f64,
    subsamples: usize,
}

impl<'a> FootprintMaker<'a> {
    /// Cut the jets, each a leg with its landing map, into tubes for cells of `cell_m`.
    ///
    /// # Errors
    /// No jets, an unsound leg, a map made for another radius, a cell outside 0.02–20 m or so small
    /// that the radius spans over 2000 of them, settings out of range.
    pub fn new(
        jets: &[(&Leg, &'a LandingMap)],
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        within("cell_m", cell_m, 0.02, 20.0)?;
        settings.check()?;
        if jets.is_empty() {
            return Err(SprinklerProblem::NoJets);
        }
        for (leg, map) in jets {
            leg.check()?;
            let (leg_m, map_m) = (leg.radius_m(), map.radius_m());
            within("cells to the radius", leg_m / cell_m, 0.0, 2000.0)?;
            if (leg_m - map_m).abs() > 1e-9 * leg_m {
                return Err(SprinklerProblem::WrongMap { map_m, leg_m });
            }
        }
        let step_m = cell_m / (4 * settings.subsamples) as f64;
        let greatest =
            |of: &dyn Fn(&(&Leg, &LandingMap)) -> f64| jets.iter().map(of).fold(0.0, f64::max);
        Ok(Self {
            jets: jets.iter().map(|(leg, map)| Tubes::new(leg, map, cell_m, settings)).collect(),
            still: jets.iter().map(|(leg, _)| LegTable::new(leg, step_m)).collect(),
            radius_m: greatest(&|(leg, _)| leg.radius_m()),
            discharge_l_s: jets.iter().map(|(leg, _)| leg.discharge_l_s()).sum(),
            longest_flight_s: greatest(&|(_, map)| map.longest_flight_s()),
            fastest_m_s: jets.iter().map(|(_, map)| map.fastest_m_s()).fold(60.0, f64::min),
            cell_m,
            subsamples: settings.subsamples,
        })
    }

    /// Net depth of a whole set, mm; slices without water or time add nothing.
    ///
    /// # Errors
    /// A slice or phase out of range, or a wind beyond the landing maps.
    pub fn set_footprint(
        &self,
        slices: &[WindSlice],
        phase: Phase,
    ) -> Result<Footprint, SprinklerProblem> {
        phase.check()?;
        let mut fastest_m_s = 0.0_f64;
        for slice in slices {
            slice.check()?;
            fastest_m_s = fastest_m_s.max(slice.speed_m_s);
        }
        if fastest_m_s > self.fastest_m_s + 1e-9 {
            let (speed_m_s, fastest_m_s) = (fastest_m_s, self.fastest_m_s);
            return Err(SprinklerProblem::WindBeyondMap { speed_m_s, fastest_m_s });
        }
        let mut scratch = Scratch::new(self.reach_m(fastest_m_s) / self.cell_m);
        let calm_hours = self.lay_windy(slices, phase, &mut scratch);
        let cell_area_m2 = self.cell_m * self.cell_m;
        if calm_hours > 0.0 {
            scratch.add(&self.still_footprint(phase)?, calm_hours * cell_area_m2);
        }
        Ok(scratch.cut_out(1.0 / cell_area_m2))
    }

    /// Farthest from the sprinkler that water can fall in winds up to `fastest_m_s`, m.
    pub fn reach_m(&self, fastest_m_s: f64) -> f64 {
        let reach_m = self.jets.iter().map(|jet| jet.reach_m(fastest_m_s, self.longest_flight_s));
        reach_m.fold(self.radius_m, f64::max)
    }

    /// Rate in still air, mm/h.
    ///
    /// # Errors
    /// A phase out of range.
    pub fn still_footprint(&self, phase: Phase) -> Result<Footprint, SprinklerProblem> {
        let rate_at = |r_m: f64| self.still.iter().map(|leg| leg.rate_at(r_m)).sum();
        let (cell_m, subsamples) = (self.cell_m, self.subsamples);
        radial_footprint(rate_at, self.radius_m, self.discharge_l_s, cell_m, phase, subsamples)
    }

    /// Lay the slices that have wind; returns the net hours of those that have none.
    fn lay_windy(&self, slices: &[WindSlice], phase: Phase, scratch: &mut Scratch) -> f64 {
        let mut work = Workspace::default();
        let mut calm_hours = 0.0;
        let center = scratch.center as f64 - 0.5;
        let sprinkler = (center + phase.along, center + phase.across);
        for slice in slices {
            let net_hours = slice.hours * slice.net;
            if slice.speed_m_s == 0.0 {
                calm_hours += net_hours;
            } else if net_hours > 0.0 {
                let (cos, sin) = (cos(slice.towards_rad), sin(slice.towards_rad));
                let turn = (cos / self.cell_m, sin / self.cell_m);
                let gust = Gust { speed_m_s: slice.speed_m_s, net_hours };
                for jet in &self.jets {
                    jet.lay(gust, Placement { sprinkler, turn }, &mut work, scratch);
                }
            }
        }
        calm_hours
    }
}

/// Net depth of one set, mm; for many sets keep a [`FootprintMaker`].
///
/// # Errors
/// Those of [`FootprintMaker::new`] and [`FootprintMaker::set_footprint`].
pub fn set_footprint(
    jets: &[(&Leg, &LandingMap)],
    slices: &[WindSlice],
    cell_m: f64,
    phase: Phase,
    settings: FootprintSettings,
) -> Result<Footprint, SprinklerProblem> {
    FootprintMaker::new(jets, cell_m, settings)?.set_footprint(slices, phase)
}

#[cfg(test)]
mod tests;
