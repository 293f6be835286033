//! Catch tests: what cans on the ground say of a sprinkler or a lateral.
//!
//! ```text
//! CatchTest ─confidence→ CU, DUlq with limits (cans under laterals)
//!           ─overlap→ the same for any spacing and rotation (one sprinkler, or one lateral)
//!           ─fit→ leg and K1 with their limits (one sprinkler), ─volume→ caught against delivered
//!           ─compare→ measured against simulated under that day's wind (cans under laterals)
//!           ─judge→ the same once overlapped, and whether the model passes this test
//!           ─calibrate→ what several tests leave of the doubts about the sprinkler
//!           ─outliers, procedure→ which cans to look at, which published requirements are met
//! ```
//!
//! Places are meters in the test's own axes, x along the pipe and y across; depths are what the
//! cans held over the whole test. Nothing is dropped or filled in here: a blank is either a can
//! that is missing (`None`) or, where the file says so, one that stayed dry (0).

mod basis;
pub mod calibrate;
pub mod compare;
pub mod confidence;
pub mod fit;
pub mod judge;
mod least_squares;
pub mod outliers;
pub mod overlap;
pub mod procedure;
pub mod rig;
pub mod volume;

use crate::range::OutOfRange;
use crate::sprinkler::SprinklerProblem;
use crate::sprinkler::footprint::WindSlice;
use crate::statistics;

/// A catch test, in SI, as read.
#[derive(Clone, Debug, PartialEq)]
pub struct CatchTest {
    /// Title for tables and pictures.
    pub title: String,
    /// What stood among the cans.
    pub kind: Kind,
    /// The cans, in the order of the file.
    pub cans: Vec<Can>,
    /// Blanks that the file declares to be dry cans; their depth is 0.
    pub blanks_as_dry: usize,
    /// How long water ran, h.
    pub duration_h: f64,
    /// Wind over the test, in order; empty where nothing was noted.
    pub wind: Vec<WindReading>,
    /// Height of the anemometer, m.
    pub wind_measured_at_m: f64,
    /// Compass bearing of +y, degrees clockwise from north.
    pub bearing_deg: f64,
    /// Air during the test.
    pub air: Air,
    /// The cans' own sizes.
    pub can_size: CanSize,
    /// The sprinkler, as far as noted.
    pub nozzle: NozzleNotes,
    /// Evaporation from a control can that was added to every wet can, mm.
    pub evaporation_added_mm: f64,
}

/// What stood among the cans.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// A grid or row of cans under one or more laterals.
    Lines(Lines),
    /// A grid of cans around one sprinkler.
    Single {
        /// Its place, m.
        x_m: f64,
        /// Its place, m.
        y_m: f64,
    },
    /// Cans along one or more radii from one sprinkler, which stands at the origin.
    Leg,
}

/// Laterals of a test, along x.
#[derive(Clone, Debug, PartialEq)]
pub struct Lines {
    /// Where they stood (all of them for the whole duration), y in m.
    pub at_m: Vec<f64>,
    /// A sprinkler's x, m.
    pub sprinkler_x_m: f64,
    /// Distance between sprinklers, m.
    pub sprinkler_spacing_m: Option<f64>,
    /// Distance between outlets, m.
    pub outlet_spacing_m: Option<f64>,
}

/// One can.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Can {
    /// Place along the pipe, m.
    pub x_m: f64,
    /// Place across it, m.
    pub y_m: f64,
    /// Depth caught, mm; `None` where there is no reading.
    pub depth_mm: Option<f64>,
    /// Line of the file, from 1; 0 where there is none.
    pub line: usize,
}

/// A part of the test with one wind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindReading {
    /// How long, h.
    pub hours: f64,
    /// Speed at the anemometer, m/s.
    pub speed_m_s: f64,
    /// Where it blew from, degrees clockwise from north.
    pub from_deg: f64,
}

/// Air, as far as noted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Air {
    /// Temperature, °C.
    pub temperature_c: Option<f64>,
    /// Relative humidity, fraction.
    pub relative_humidity: Option<f64>,
    /// Whether it was day (06:00–18:00).
    pub by_day: Option<bool>,
}

/// Sizes of the cans, as far as noted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CanSize {
    /// Opening, m.
    pub diameter_m: Option<f64>,
    /// Height of the can, m.
    pub height_m: Option<f64>,
}

/// The sprinkler, as far as noted.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct NozzleNotes {
    /// Pressure, kPa.
    pub pressure_kpa: Option<f64>,
    /// Discharge of one sprinkler, L/s.
    pub discharge_l_s: Option<f64>,
    /// Angle above the horizontal, degrees.
    pub trajectory_angle_deg: Option<f64>,
    /// Height of the nozzle above ground, m.
    pub height_m: Option<f64>,
}

/// Why a test cannot answer something.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum CatchProblem {
    /// Too few cans with a reading.
    #[error("{cans} cans with a reading; at least {least} are needed for {what}")]
    TooFewCans {
        /// Cans there are.
        cans: usize,
        /// Cans needed.
        least: usize,
        /// What for.
        what: &'static str,
    },
    /// All cans are dry.
    #[error("no water in any can")]
    Dry,
    /// The wrong kind of test.
    #[error("{0}")]
    WrongKind(&'static str),
    /// The cans stand on no regular grid.
    #[error("the cans stand on no regular grid: {0}")]
    NoGrid(String),
    /// Something was not noted that is needed.
    #[error("`{0}` is not noted in the file, and is needed for this")]
    NotNoted(&'static str),
    /// A number out of range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The fit did not come to an end.
    #[error("the fit did not settle: {0}")]
    NoFit(String),
    /// The sprinkler cannot be computed with.
    #[error(transparent)]
    Sprinkler(#[from] SprinklerProblem),
}

impl CatchTest {
    /// The cans with a reading: place and depth (m, m, mm).
    pub fn readings(&self) -> Vec<(f64, f64, f64)> {
        let reading = |can: &Can| can.depth_mm.map(|depth| (can.x_m, can.y_m, depth));
        self.cans.iter().filter_map(reading).collect()
    }

    /// Depths of the cans with a reading, mm.
    pub fn depths_mm(&self) -> Vec<f64> {
        self.cans.iter().filter_map(|can| can.depth_mm).collect()
    }

    /// Number of cans without a reading.
    pub fn missing(&self) -> usize {
        self.cans.iter().filter(|can| can.depth_mm.is_none()).count()
    }

    /// Mean speed and direction (of the vector mean) of the wind noted, m/s and degrees; `None`
    /// where none was. The speed is the mean of the speeds, not of the vector.
    pub fn mean_wind(&self) -> Option<(f64, f64)> {
        let hours = statistics::sum(&self.wind.iter().map(|w| w.hours).collect::<Vec<_>>());
        if !(hours > 0.0) {
            return None;
        }
        let (mut speed, mut east, mut north) = (0.0, 0.0, 0.0);
        for w in &self.wind {
            let from = w.from_deg.to_radians();
            speed += w.hours * w.speed_m_s;
            east += w.hours * w.speed_m_s * libm::sin(from);
            north += w.hours * w.speed_m_s * libm::cos(from);
        }
        let from_deg = libm::atan2(east, north).to_degrees().rem_euclid(360.0);
        Some((speed / hours, from_deg))
    }

    /// The wind as slices of the test in its own axes, all of the water reaching the ground times
    /// `net`; the hours are stretched so that they fill the test. Still air where none was noted.
    pub fn slices(&self, net: impl Fn(f64) -> f64) -> Vec<WindSlice> {
        let noted: f64 = self.wind.iter().map(|w| w.hours).sum();
        if !(noted > 0.0) {
            let hours = self.duration_h;
            return vec![WindSlice { hours, net: net(0.0), speed_m_s: 0.0, towards_rad: 0.0 }];
        }
        let slice = |w: &WindReading| {
            // As in a season: +y has the bearing, +x lies 90° clockwise of it.
            let to_deg = w.from_deg + 180.0 - self.bearing_deg;
            WindSlice {
                hours: w.hours / noted * self.duration_h,
                net: net(w.speed_m_s),
                speed_m_s: w.speed_m_s,
                towards_rad: (90.0 - to_deg).rem_euclid(360.0).to_radians(),
            }
        };
        self.wind.iter().map(slice).collect()
    }

    /// Distance between neighboring cans: the median over the cans of the distance to the
    /// nearest other one, m. `None` with fewer than two.
    pub fn can_spacing_m(&self) -> Option<f64> {
        let nearest = |(index, can): (usize, &Can)| {
            let others = self.cans.iter().enumerate().filter(|(other, _)| *other != index);
            others.map(|(_, o)| distance_m(can, o)).min_by(f64::total_cmp)
        };
        let mut all: Vec<f64> = self.cans.iter().enumerate().filter_map(nearest).collect();
        all.sort_unstable_by(f64::total_cmp);
        all.get(all.len() / 2).copied()
    }

    /// Distance of a place from the one sprinkler, m; `None` under laterals.
    pub fn from_sprinkler_m(&self, x_m: f64, y_m: f64) -> Option<f64> {
        match self.kind {
            Kind::Single { x_m: x, y_m: y } => Some(hypot(x_m - x, y_m - y)),
            Kind::Leg => Some(hypot(x_m, y_m)),
            Kind::Lines(_) => None,
        }
    }
}

/// Distance between two cans, m.
pub(crate) fn distance_m(a: &Can, b: &Can) -> f64 {
    hypot(a.x_m - b.x_m, a.y_m - b.y_m)
}

fn hypot(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

#[cfg(test)]
mod tests;
