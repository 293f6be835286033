//! What the machine could do at best, and how far the parts of a season are from it.
//!
//! Two measures are taken in the same run: bytes read or written per second in a sweep over grids, and
//! multiply-adds per second in registers at the processor's own vector width. A part's floor is what
//! it must move or calculate at those speeds; where it must do both, the larger of the two.

use crate::Fault;
use crate::inputs::{GRID, PIPE, SETS, Season, WindySprinkler};
use crate::machine::{calculate, operations, touch, vector_bits};
use crate::report::{Section, within};
use crate::timing::{Times, by_turns, clock, short};
use evenfall_core::grid::DepthGrid;
use evenfall_core::model::Scenario;
use evenfall_core::overlay::lay;
use evenfall_core::season::{self, AlternativeOutcome, Outcome, RunControl};
use evenfall_core::sprinkler::footprint::{FootprintSettings, Phase};
use evenfall_core::sprinkler::landing::LandingSettings;
use evenfall_core::sprinkler::maker::FootprintMaker;
use evenfall_core::statistics;
use evenfall_core::uniformity::figures;
use evenfall_figures::{PNG_SCALE, pictures};
use evenfall_view::UnitSystem;
use std::hint::black_box;
use std::sync::Arc;

const ROUNDS: usize = 5;
/// Hours of wind to lay.
const HOURS: usize = 60;
/// Multiply-adds that one step of a drop's flight takes at least: seven slopes, each a drag of some
/// 40 operations with its power and its logarithm.
const OF_A_STEP: f64 = 280.0;
/// Multiply-adds of a lump of water at least: shared among four cells, twice, and placed.
const OF_A_LUMP: f64 = 16.0;
/// Target for figures of a grid, in times of reading it twice.
const MOST_FIGURES: f64 = 3.0;
/// Steps that a flight takes at least.
const STEPS: f64 = 8.0;

/// Measures, on one thread.
///
/// # Errors
/// If the physics refuses the demo, or a picture cannot be drawn.
pub fn measure(demo: &Scenario) -> Result<Section, Fault> {
    let outcome = season::run(demo, RunControl::default())?;
    let end = outcome.alternatives.first().ok_or("no alternative")?.season_depth_mm();
    let speed = Speed::of(end)?;
    let mut rows = physics(demo, &speed)?;
    rows.extend(shown(demo, &outcome, &speed)?);
    Ok(Section {
        title: "Parts and their floors",
        notes: vec![
            format!(
                "One thread. A sweep that reads a grid of {} cells moves {} GB/s; the processor does {} \
                 billion multiplications with addition a second, {} bits at a time. A floor is what the part \
                 must move or calculate at these speeds: for a landing map {STEPS} steps a flight of \
                 {OF_A_STEP} multiplications, for an hour {OF_A_LUMP} for each portion of water that is laid, for the overlay \
                 the pass written and the season added to, for figures the grid read twice, for \
                 pictures the maps read twice, for rasters their pixels written and read.",
                end.len(),
                short(speed.bytes_a_second * 1e-9),
                short(speed.operations_a_second * 1e-9),
                vector_bits(),
            ),
            "A season also takes its soil and crop through every day; that is timed with many \
             seasons."
                .to_owned(),
        ],
        heads: &["part", "time", "floor", "times the floor", "target"],
        rows,
    })
}

/// Maps, hours and the overlay.
fn physics(demo: &Scenario, speed: &Speed) -> Result<Vec<Vec<String>>, Fault> {
    let windy = WindySprinkler::new(demo, HOURS)?;
    let map = Arc::new(windy.landing_map()?);
    let leg = windy.sprinkler.jets[0].leg();
    let settings = FootprintSettings::default();
    let maker = FootprintMaker::new(&[(leg, &map)], GRID.cell_m, settings)?;
    let laid = Season::new(demo, 1)?;
    let sets = laid.sets();
    let (mut pass, mut sum) = (GRID.zeros(), GRID.zeros());
    let mut flown = || Ok(clock(1, || drop(black_box(windy.landing_map()))));
    let mut hour = || {
        let each = || windy.slices.chunks(1).map(|slice| maker.set_footprint(slice, Phase::CORNER));
        Ok(clock(1, || each().for_each(|made| drop(black_box(made)))) / HOURS as f64)
    };
    let mut overlaid = || {
        Ok(clock(10, || {
            black_box(lay(&GRID, PIPE, &sets, &mut pass, &mut sum));
        }))
    };
    let times = by_turns(ROUNDS, &mut [&mut flown, &mut hour, &mut overlaid])?;
    let LandingSettings { classes, azimuths, speed_step_m_s } = LandingSettings::default();
    let fastest_m_s = windy.slices.iter().map(|slice| slice.speed_m_s).fold(0.0, f64::max);
    // Half steps over the first two.
    let speeds = (fastest_m_s / speed_step_m_s).ceil() + 2.0;
    let flights = (classes * azimuths) as f64 * speeds;
    let reach_cells = leg.radius_m() / GRID.cell_m;
    let per_cell = settings.rings_per_cell * settings.samples_per_cell;
    let lumps = std::f64::consts::PI * reach_cells * reach_cells * per_cell;
    let overlay = format!("overlay of a pass of {SETS} sets");
    Ok(vec![
        row(
            "flying a landing map",
            &times[0],
            (speed.calculated(flights * STEPS * OF_A_STEP), None),
        ),
        row(
            "laying an hour in its own wind",
            &times[1],
            (speed.calculated(lumps * OF_A_LUMP), None),
        ),
        row(&overlay, &times[2], (speed.of_a_pass_s, None)),
    ])
}

/// Figures and pictures.
fn shown(demo: &Scenario, outcome: &Outcome, speed: &Speed) -> Result<Vec<Vec<String>>, Fault> {
    let drawn = pictures(demo, outcome, UnitSystem::Us)?;
    let ends: Vec<&DepthGrid> =
        outcome.alternatives.iter().map(AlternativeOutcome::season_depth_mm).collect();
    let end = ends.first().ok_or("no alternative")?;
    let mut figured = || Ok(clock(10, || _ = black_box(figures(&end.view()))));
    let mut drawing = || {
        let mut made = None;
        let seconds = clock(1, || made = Some(pictures(demo, outcome, UnitSystem::Us)));
        made.ok_or("not drawn")??;
        Ok(seconds)
    };
    let mut raster_bytes = 0;
    let mut rasters = || {
        let mut made = Ok(Vec::new());
        let seconds = clock(1, || made = drawn.iter().map(|p| p.png(PNG_SCALE)).collect());
        let made: Vec<Vec<u8>> = made?;
        raster_bytes = made.iter().map(|png| 3 * pixels(png)).sum();
        Ok(seconds)
    };
    let times = by_turns(ROUNDS, &mut [&mut figured, &mut drawing, &mut rasters])?;
    let one = (8 * end.len()) as f64;
    let reading_s = speed.moved(2.0 * one);
    Ok(vec![
        row("figures of a grid", &times[0], (reading_s, Some(MOST_FIGURES))),
        row("drawing the season's pictures", &times[1], (reading_s * ends.len() as f64, None)),
        row("their rasters", &times[2], (speed.moved(2.0 * raster_bytes as f64), None)),
    ])
}

/// A part with its floor and, where there is one, its target in times of that.
fn row(name: &str, times: &Times, (floor_s, most): (f64, Option<f64>)) -> Vec<String> {
    let floor = format!("{} µs", short(floor_s * 1e6));
    let ratio = times.median() / floor_s;
    let target = most.map_or_else(|| "none".to_owned(), |most| within(ratio, most, "times"));
    vec![name.to_owned(), times.to_string(), floor, short(ratio), target]
}

/// What the machine does at best.
struct Speed {
    operations_a_second: f64,
    bytes_a_second: f64,
    /// One pass written and added to a season, s.
    of_a_pass_s: f64,
}

impl Speed {
    /// From arithmetic, from reading `grid` and from writing a pass.
    fn of(grid: &DepthGrid) -> Result<Self, Fault> {
        let (mut pass, mut sum) = (GRID.zeros(), GRID.zeros());
        let mut calculated = || Ok(clock(1, || _ = black_box(calculate())));
        let mut read = || Ok(clock(20, || _ = black_box(grid.as_slice().map(statistics::sum))));
        let mut touched = || Ok(clock(10, || touch(&mut pass, &mut sum)));
        let times = by_turns(ROUNDS, &mut [&mut calculated, &mut read, &mut touched])?;
        Ok(Self {
            operations_a_second: operations() / times[0].median(),
            bytes_a_second: (8 * grid.len()) as f64 / times[1].median(),
            of_a_pass_s: times[2].median(),
        })
    }

    fn calculated(&self, operations: f64) -> f64 {
        operations / self.operations_a_second
    }

    fn moved(&self, bytes: f64) -> f64 {
        bytes / self.bytes_a_second
    }
}

/// Pixels of a PNG, from its head.
fn pixels(png: &[u8]) -> usize {
    let number = |at: usize| {
        let bytes = png.get(at..at + 4).and_then(|bytes| bytes.try_into().ok());
        bytes.map_or(0, |bytes| u32::from_be_bytes(bytes) as usize)
    };
    number(16) * number(20)
}
