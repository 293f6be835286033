//! What is measured on: the embedded demo, and footprints of its sprinkler in its winds.

use crate::Fault;
use evenfall_core::grid::Grid;
use evenfall_core::model::Scenario;
use evenfall_core::overlay::{LaidSet, PipeOnGrid};
use evenfall_core::sprinkler::Sprinkler;
use evenfall_core::sprinkler::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use evenfall_core::sprinkler::landing::{LandingMap, LandingSettings, Winds};
use evenfall_core::sprinkler::maker::FootprintMaker;
use evenfall_core::weather::WeatherSource;
use evenfall_core::weather::profile::{LogProfile, Surface};
use evenfall_scenario::Resolved;
use ndarray::{Array2, Array3, Axis};
use std::f64::consts::TAU;
use std::sync::Arc;

/// Passes of the overlay's season.
pub const PASSES: usize = 60;
/// Sets of each of its passes.
pub const SETS: usize = 22;
/// Clock hours in one of its sets.
const HOURS_A_SET: usize = 12;
/// Its grid: 2 ft cells.
pub const GRID: Grid = Grid { cells_along: 800, cells_across: 800, cell_m: 0.6096 };
/// Its lateral: 33 sprinklers, 40 ft (20 cells) apart.
pub const PIPE: PipeOnGrid = PipeOnGrid { first_column: 80, spacing_cells: 20, sprinklers: 33 };
/// Cells to either side of the sprinkler that every footprint is cut to: 60 ft, the radius being
/// 44 ft in still air.
const REACH_CELLS: isize = 30;

/// The embedded demo, resolved.
///
/// # Errors
/// If it does not resolve.
pub fn demo() -> Result<Resolved, Fault> {
    let no_files = |name: &str| Err(format!("no file {name} here"));
    let resolved = evenfall_scenario::resolve(evenfall_scenario::demo(), &no_files)
        .map_err(|problems| problems.render("demo", false))?;
    Ok(resolved)
}

/// The demo's sprinkler with the winds of as many hours as are asked for.
#[derive(Debug)]
pub struct WindySprinkler {
    /// The sprinkler; one jet.
    pub sprinkler: Sprinkler,
    /// One slice an hour, with the demo's generated wind and a tenth of the water lost.
    pub slices: Vec<WindSlice>,
    /// Height the winds are given for, m.
    measured_at_m: f64,
}

impl WindySprinkler {
    /// Draws the winds of `hours` hours.
    ///
    /// # Errors
    /// If the demo does not generate its winds.
    pub fn new(demo: &Scenario, hours: usize) -> Result<Self, Fault> {
        let WeatherSource::Generated(climate) = &demo.weather else {
            return Err("the demo's winds are not generated".into());
        };
        let slices = climate
            .hourly()
            .winds(demo.calendar.midnight(), hours, demo.seed, 0)
            .into_iter()
            .flatten()
            .map(|wind| WindSlice {
                hours: 1.0,
                net: 0.9,
                speed_m_s: wind.speed_m_s,
                towards_rad: (wind.from_deg + 180.0).to_radians().rem_euclid(TAU),
            })
            .collect();
        let sprinkler = demo.alternatives[0].sprinkler.clone();
        Ok(Self { sprinkler, slices, measured_at_m: climate.measured_at_m })
    }

    /// The landing map of its first jet, up to the fastest of its winds.
    ///
    /// # Errors
    /// Those of [`LandingMap::new`].
    pub fn landing_map(&self) -> Result<LandingMap, Fault> {
        let jet = &self.sprinkler.jets[0];
        let profile = LogProfile::new(Surface::SHORT_GRASS, self.measured_at_m)
            .ok_or("the demo's wind is measured too low for a profile")?;
        let fastest_m_s = self.slices.iter().map(|slice| slice.speed_m_s).fold(0.0, f64::max);
        let (radius_m, drag) = (jet.leg().radius_m(), &self.sprinkler.drag);
        let (winds, settings) = (Winds { profile, fastest_m_s }, LandingSettings::default());
        Ok(LandingMap::new(radius_m, &jet.launch, drag, &winds, settings)?)
    }
}

/// The overlay's season: what every set lays and where it stands.
#[derive(Debug)]
pub struct Season {
    /// One footprint a set, all of one support, pass by pass.
    pub footprints: Vec<Footprint>,
    /// Row of the lateral in each set.
    pub rows: Vec<isize>,
    /// Largest share of a footprint's water that the cut to the support took.
    pub cut_share: f64,
}

impl Season {
    /// Makes one footprint a set, each in winds of its own. Outlets stand 30 and 36 cells apart by
    /// turns; passes take the shifts 0, +10 and −10 cells.
    ///
    /// # Errors
    /// If the physics refuses the demo.
    pub fn new(demo: &Scenario, passes: usize) -> Result<Self, Fault> {
        let windy = WindySprinkler::new(demo, passes * SETS * HOURS_A_SET)?;
        let map = Arc::new(windy.landing_map()?);
        let jets = [(windy.sprinkler.jets[0].leg(), &map)];
        let maker = FootprintMaker::new(&jets, GRID.cell_m, FootprintSettings::default())?;
        let mut season = Self { footprints: Vec::new(), rows: Vec::new(), cut_share: 0.0 };
        for (set, slices) in windy.slices.chunks(HOURS_A_SET).enumerate() {
            let whole = maker.set_footprint(slices, Phase::CORNER)?;
            let cut = cut(&whole);
            season.cut_share = season.cut_share.max(1.0 - cut.values.sum() / whole.values.sum());
            season.footprints.push(cut);
            let (pass, outlet) = (set / SETS, set % SETS);
            let shift = [0, 10, -10][pass % 3];
            season.rows.push((50 + 33 * outlet - 3 * (outlet % 2)) as isize + shift);
        }
        Ok(season)
    }

    /// The sets in order, ready to lay.
    pub fn sets(&self) -> Vec<LaidSet<'_>> {
        let sets = self.footprints.iter().zip(&self.rows);
        sets.map(|(footprint, &row)| LaidSet { footprint, row, column: 0 }).collect()
    }

    /// All footprints as one array: set, row, column.
    pub fn stacked(&self) -> Array3<f64> {
        let mut all = Array3::zeros((self.footprints.len(), SUPPORT, SUPPORT));
        for (mut slot, footprint) in all.axis_iter_mut(Axis(0)).zip(&self.footprints) {
            slot.assign(&footprint.values);
        }
        all
    }
}

/// Rows and columns of the common support.
const SUPPORT: usize = 2 * REACH_CELLS as usize;

/// The footprint on the common support.
fn cut(whole: &Footprint) -> Footprint {
    let value = |(row, column): (usize, usize)| {
        let at =
            |cell: usize, first: isize| usize::try_from(cell as isize - REACH_CELLS - first).ok();
        let cell = at(row, whole.first_row).zip(at(column, whole.first_column));
        cell.and_then(|cell| whole.values.get(cell)).copied().unwrap_or(0.0)
    };
    let values = Array2::from_shape_fn((SUPPORT, SUPPORT), value);
    Footprint { first_row: -REACH_CELLS, first_column: -REACH_CELLS, values }
}

/// Largest relative difference of `ours` from `theirs`, cell by cell.
///
/// # Errors
/// More than 1e-9, or unequal lengths.
pub fn agree<'a>(
    ours: impl ExactSizeIterator<Item = &'a f64>,
    theirs: impl ExactSizeIterator<Item = &'a f64>,
) -> Result<f64, Fault> {
    if ours.len() != theirs.len() {
        return Err("the two answers differ in length".into());
    }
    let miss = |(a, b): (&f64, &f64)| if a == b { 0.0 } else { (a - b).abs() / b.abs() };
    // Not `f64::max`: it would let a NaN pass.
    let worst = ours.zip(theirs).map(miss).fold(0.0, |a, b| if b <= a { a } else { b });
    if worst <= 1e-9 { Ok(worst) } else { Err(format!("the answers differ by {worst:e}").into()) }
}
