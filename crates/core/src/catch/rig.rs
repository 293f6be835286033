//! What a sprinkler, or a row of them, lays into cans: the simulator asked at places.
//!
//! The depth at a place is read off footprints, linear between cell centers, and summed over the
//! sprinklers of all lines. A can of a hand's width is taken as a point: over the width of a cell
//! the mean of a cell and its middle differ by a quarter of the curvature, far below what cans read.
//! The pipe is taken to go on in both directions beyond the throw.

use super::{CatchProblem, CatchTest, Kind};
use crate::range::within;
use crate::sprinkler::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use crate::sprinkler::landing::{LandingMap, LandingSettings, Winds};
use crate::sprinkler::losses::Losses;
use crate::sprinkler::maker::FootprintMaker;
use crate::sprinkler::{DragCorrection, Jet, Launch, Sprinkler};
use crate::weather::AssumedAir;
use crate::weather::profile::{LogProfile, Surface, speed_at_2_m};
use std::sync::Arc;

/// Cells to a sprinkler's radius.
const CELLS_TO_RADIUS: f64 = 40.0;

/// The lines that water the cans.
#[derive(Clone, Debug, PartialEq)]
pub struct Rig<'a> {
    /// The sprinkler.
    pub sprinkler: &'a Sprinkler,
    /// Distance between sprinklers, m.
    pub sprinkler_spacing_m: f64,
    /// Losses.
    pub losses: Losses,
    /// Factor on them.
    pub losses_factor: f64,
    /// Air where the test does not note it.
    pub assumed_air: AssumedAir,
}

/// How finely drops are flown and water is laid.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fineness {
    landing: LandingSettings,
    footprint: FootprintSettings,
    cells_to_radius: f64,
}

impl Default for Fineness {
    fn default() -> Self {
        Self {
            landing: LandingSettings::default(),
            footprint: FootprintSettings::default(),
            cells_to_radius: CELLS_TO_RADIUS,
        }
    }
}

impl Fineness {
    /// For very many simulations of one test: a fifth of the drops, within 2 % of the mean depth.
    pub(crate) const COARSE: Self = Self {
        landing: LandingSettings { classes: 24, azimuths: 13, speed_step_m_s: 2.0 },
        footprint: FootprintSettings { rings_per_cell: 2.0, samples_per_cell: 2.0, subsamples: 4 },
        cells_to_radius: 25.0,
    };
}

/// Depths that the simulator lays into the cans of a test under laterals, mm, one a can in order.
///
/// # Errors
/// A test of another kind, a sprinkler that cannot be computed with, a spacing outside 1–100 m.
pub fn simulate(test: &CatchTest, rig: &Rig<'_>) -> Result<Vec<f64>, CatchProblem> {
    let Kind::Lines(_) = &test.kind else {
        return Err(CatchProblem::WrongKind(
            "a test under laterals is needed to compare with a pass",
        ));
    };
    simulate_any(test, rig, &Fineness::default())
}

/// The same for a test of any kind.
///
/// # Errors
/// A sprinkler that cannot be computed with, a spacing outside 1–100 m.
pub(crate) fn simulate_any(
    test: &CatchTest,
    rig: &Rig<'_>,
    fine: &Fineness,
) -> Result<Vec<f64>, CatchProblem> {
    rig.sprinkler.check()?;
    within("sprinkler spacing, m", rig.sprinkler_spacing_m, 1.0, 100.0)?;
    let slices = slices_with_losses(test, rig)?;
    let footprint = footprint(rig.sprinkler, &slices, test.wind_measured_at_m, fine)?;
    let Kind::Lines(lines) = &test.kind else {
        let (x, y) = single_place(test)?;
        return Ok(test.cans.iter().map(|can| footprint.at(can.x_m - x, can.y_m - y)).collect());
    };
    let spacing_m = rig.sprinkler_spacing_m;
    let depth = |x_m: f64, y_m: f64| {
        let mut sum = 0.0;
        for line_m in &lines.at_m {
            let (first, last) = footprint.columns_m();
            let from = x_m - lines.sprinkler_x_m;
            // The sprinkler k stands at k · spacing; the can sees it at from − k · spacing.
            let (low, high) = ((from - last) / spacing_m, (from - first) / spacing_m);
            for k in low.floor() as i64..=high.ceil() as i64 {
                sum += footprint.at(from - k as f64 * spacing_m, y_m - line_m);
            }
        }
        sum
    };
    Ok(test.cans.iter().map(|can| depth(can.x_m, can.y_m)).collect())
}

/// Depths that one sprinkler at the origin of `test` lays into its cans, mm, one a can in order.
/// `net` is the portion of the discharge that lands.
///
/// # Errors
/// A test under laterals, a sprinkler that cannot be computed with.
pub fn simulate_single(
    test: &CatchTest,
    sprinkler: &Sprinkler,
    net: f64,
) -> Result<Vec<f64>, CatchProblem> {
    let (x, y) = single_place(test)?;
    sprinkler.check()?;
    let slices = test.slices(|_| net);
    let footprint = footprint(sprinkler, &slices, test.wind_measured_at_m, &Fineness::default())?;
    Ok(test.cans.iter().map(|can| footprint.at(can.x_m - x, can.y_m - y)).collect())
}

/// Place of the one sprinkler, m.
pub(super) fn single_place(test: &CatchTest) -> Result<(f64, f64), CatchProblem> {
    match test.kind {
        Kind::Single { x_m, y_m } => Ok((x_m, y_m)),
        Kind::Leg => Ok((0.0, 0.0)),
        Kind::Lines(_) => Err(CatchProblem::WrongKind("a test of one sprinkler is needed")),
    }
}

fn slices_with_losses(test: &CatchTest, rig: &Rig<'_>) -> Result<Vec<WindSlice>, CatchProblem> {
    rig.losses.check()?;
    speed_at_2_m(0.0, test.wind_measured_at_m)
        .ok_or(CatchProblem::NotNoted("wind height (at least 0.5 m)"))?;
    let celsius = test.air.temperature_c.unwrap_or(rig.assumed_air.temperature_c);
    let humidity = test.air.relative_humidity.unwrap_or(rig.assumed_air.relative_humidity);
    let by_day = test.air.by_day.unwrap_or(true);
    Ok(test.slices(|speed_m_s| {
        let at_2_m = speed_at_2_m(speed_m_s, test.wind_measured_at_m).unwrap_or(speed_m_s);
        let lost = rig.losses.fraction(at_2_m, celsius, humidity, by_day).fraction;
        (1.0 - rig.losses_factor * lost).max(0.0)
    }))
}

/// Share of the water that is lost, the mean over the time of a test.
pub(super) fn mean_loss(test: &CatchTest, rig: &Rig<'_>) -> Result<f64, CatchProblem> {
    let slices = slices_with_losses(test, rig)?;
    let hours: f64 = slices.iter().map(|slice| slice.hours).sum();
    Ok(slices.iter().map(|slice| slice.hours * (1.0 - slice.net)).sum::<f64>() / hours)
}

/// A footprint with the size of its cells, read at any place.
#[derive(Debug)]
pub(super) struct Laid {
    footprint: Footprint,
    cell_m: f64,
}

impl Laid {
    pub(super) fn new(footprint: Footprint, cell_m: f64) -> Self {
        Self { footprint, cell_m }
    }

    /// Where its columns begin and end from the sprinkler, m, a cell's width added.
    fn columns_m(&self) -> (f64, f64) {
        let first = self.footprint.first_column as f64 - 1.0;
        let columns = self.footprint.values.ncols() as f64 + 2.0;
        (first * self.cell_m, (first + columns) * self.cell_m)
    }

    /// Depth at a place from the sprinkler, linear between cell centers.
    pub(super) fn at(&self, x_m: f64, y_m: f64) -> f64 {
        let column = x_m / self.cell_m - 0.5 - self.footprint.first_column as f64;
        let row = y_m / self.cell_m - 0.5 - self.footprint.first_row as f64;
        let (left, across) = (column.floor(), column - column.floor());
        let (low, up) = (row.floor(), row - row.floor());
        let cell = |row: f64, column: f64| {
            if row < 0.0 || column < 0.0 {
                return 0.0;
            }
            let at = (row as usize, column as usize);
            self.footprint.values.get(at).copied().unwrap_or(0.0)
        };
        let line = |row: f64| cell(row, left) * (1.0 - across) + cell(row, left + 1.0) * across;
        line(low) * (1.0 - up) + line(low + 1.0) * up
    }
}

fn footprint(
    sprinkler: &Sprinkler,
    slices: &[WindSlice],
    measured_at_m: f64,
    fine: &Fineness,
) -> Result<Laid, CatchProblem> {
    let winds = winds(slices, measured_at_m)?;
    let map = |jet: &Jet| {
        let radius_m = jet.leg().radius_m();
        let settings = fine.landing;
        flown(radius_m, &jet.launch, &sprinkler.drag, slices, (&winds, settings)).map(Arc::new)
    };
    let maps: Vec<_> = sprinkler.jets.iter().map(map).collect::<Result<_, _>>()?;
    let jets: Vec<_> = sprinkler.jets.iter().map(Jet::leg).zip(&maps).collect();
    let cell_m = sprinkler.radius_m() / fine.cells_to_radius;
    let maker = FootprintMaker::new(&jets, cell_m, fine.footprint)?;
    Ok(Laid::new(maker.set_footprint(slices, Phase::CORNER)?, cell_m))
}

/// The winds of a test.
pub(super) fn winds(slices: &[WindSlice], measured_at_m: f64) -> Result<Winds, CatchProblem> {
    let profile = LogProfile::new(Surface::SHORT_GRASS, measured_at_m)
        .ok_or(CatchProblem::NotNoted("wind height (at least 0.5 m)"))?;
    let fastest_m_s = slices.iter().map(|slice| slice.speed_m_s).fold(0.0, f64::max);
    Ok(Winds { profile, fastest_m_s })
}

/// Landing map for just the winds of a test.
pub(super) fn landing_map(
    radius_m: f64,
    launch: &Launch,
    drag: &DragCorrection,
    slices: &[WindSlice],
    winds: &Winds,
) -> Result<LandingMap, CatchProblem> {
    flown(radius_m, launch, drag, slices, (winds, LandingSettings::default()))
}

fn flown(
    radius_m: f64,
    launch: &Launch,
    drag: &DragCorrection,
    slices: &[WindSlice],
    (winds, mut settings): (&Winds, LandingSettings),
) -> Result<LandingMap, CatchProblem> {
    let fastest_m_s = winds.fastest_m_s;
    // One wind needs one table of its own, and no others.
    if slices.iter().all(|slice| slice.speed_m_s == fastest_m_s) && fastest_m_s > 0.0 {
        settings.speed_step_m_s = fastest_m_s.clamp(1e-4, 10.0);
    }
    Ok(LandingMap::new(radius_m, launch, drag, winds, settings)?)
}
