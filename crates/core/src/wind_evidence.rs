//! Uniformity of an endless field of sprinklers in a steady wind, to hold against published tests.
//!
//! Sprinklers stand at every spacing along and across; one footprint, folded into one repeat of that
//! layout, is the depth on the ground, so nothing but the sprinkler's pattern is judged: no edges, no
//! turning wind. A rotation is the mean over its shifts.
//!
//! Valid for single sets. Neglected: that the wind turns and gusts within a set, which evens a
//! published test out a little, and losses, which take the same share everywhere.

use crate::range::{OutOfRange, within};
use crate::sprinkler::footprint::{FootprintSettings, Phase, WindSlice};
use crate::sprinkler::landing::Winds;
use crate::sprinkler::maker::FootprintMaker;
use crate::sprinkler::{Sprinkler, SprinklerProblem};
use crate::uniformity::{Uniformity, figures};
use crate::weather::profile::LogProfile;
use ndarray::Array2;

/// Widest cell of the repeat, m.
const WIDEST_CELL_M: f64 = 0.7;
/// Narrowest one that is tried, m.
const NARROWEST_CELL_M: f64 = 0.2;

/// Sprinklers that go on without end.
#[derive(Clone, Debug, PartialEq)]
pub struct EndlessLayout {
    /// Between sprinklers along the pipe, m.
    pub spacing_along_m: f64,
    /// Between stops across, m.
    pub spacing_across_m: f64,
    /// Shifts across of a rotation, whose mean is taken, m; `[0.0]` for a fixed pattern.
    pub shifts_across_m: Vec<f64>,
}

/// A wind that blows for the whole test.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteadyWind {
    /// Speed at the profile's measuring height, m/s.
    pub speed_m_s: f64,
    /// Direction it blows to, from the pipe's direction counter-clockwise, radians.
    pub towards_rad: f64,
}

impl EndlessLayout {
    /// A cell that divides both spacings, m.
    fn cell_m(&self) -> Result<f64, SprinklerProblem> {
        let (along_m, across_m) = (self.spacing_along_m, self.spacing_across_m);
        within("spacing along, m", along_m, 1.0, 100.0)?;
        within("spacing across, m", across_m, 1.0, 100.0)?;
        let cells = (along_m / WIDEST_CELL_M).ceil() as usize..;
        cells
            .map(|cells| along_m / cells as f64)
            .take_while(|cell_m| *cell_m >= NARROWEST_CELL_M)
            .find(|cell_m| {
                let rows = across_m / cell_m;
                (rows - rows.round()).abs() < 1e-6
            })
            .ok_or_else(|| {
                let quantity = "cells of 0.2 to 0.7 m that divide both spacings";
                OutOfRange { quantity, value: 0.0, lowest: 1.0, highest: 100.0 }.into()
            })
    }
}

/// Figures of one repeat of a layout, for each wind.
///
/// # Errors
/// An unsound sprinkler, a spacing outside 1–100 m or two that no cell divides, a wind out of range.
pub fn in_steady_winds(
    sprinkler: &Sprinkler,
    layout: &EndlessLayout,
    profile: LogProfile,
    winds: &[SteadyWind],
) -> Result<Vec<Uniformity>, SprinklerProblem> {
    let cell_m = layout.cell_m()?;
    let fastest_m_s = winds.iter().map(|wind| wind.speed_m_s).fold(0.0, f64::max);
    let flown = Winds { profile, fastest_m_s };
    let settings = FootprintSettings::default();
    let maker = FootprintMaker::upright(sprinkler, &flown, cell_m, settings)?;
    winds.iter().map(|wind| folded(&maker, layout, cell_m, *wind)).collect()
}

/// One repeat in one wind.
fn folded(
    maker: &FootprintMaker,
    layout: &EndlessLayout,
    cell_m: f64,
    wind: SteadyWind,
) -> Result<Uniformity, SprinklerProblem> {
    let columns = (layout.spacing_along_m / cell_m).round() as isize;
    let rows = (layout.spacing_across_m / cell_m).round() as isize;
    let SteadyWind { speed_m_s, towards_rad } = wind;
    let hour = WindSlice { hours: 1.0, net: 1.0, speed_m_s, towards_rad };
    let mut depth_mm = Array2::<f64>::zeros((rows as usize, columns as usize));
    for shift_m in &layout.shifts_across_m {
        let at = shift_m / cell_m;
        let phase = Phase { along: 0.0, across: at - at.floor() };
        let footprint = maker.set_footprint(&[hour], phase)?;
        let (first_row, first_column) =
            (footprint.first_row + at.floor() as isize, footprint.first_column);
        for ((row, column), depth) in footprint.values.indexed_iter() {
            let row = (first_row + row as isize).rem_euclid(rows) as usize;
            let column = (first_column + column as isize).rem_euclid(columns) as usize;
            depth_mm[(row, column)] += depth;
        }
    }
    figures(&depth_mm.view()).ok_or(SprinklerProblem::NoJets)
}
