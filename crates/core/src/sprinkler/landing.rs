//! Landing maps: how far the wind moves each part of a jet's water.
//!
//! A leg says how much water lands at each distance in still air. Each distance stands for a drop
//! size: the one that lands there in still air (`flight`). The map holds, for nodes
//! of distance × azimuth × wind speed, how far such a drop lands from its own still-air landing
//! place. Storing these *displacements*, not places, means that the still-air footprint gives back
//! the leg by construction, whatever the drag law, and that the table is smooth.
//!
//! A map is of one elevation of the jet. Upright that is the trajectory angle, all round. A tilted
//! sprinkler has one map for each of a few elevations: the drop that lands at r upright is flown as
//! it leaves now and lands in still air at r · s, s its range now over its range upright. Upright
//! s = 1. What the drop model leaves of r (nothing but for the smallest and largest drops) stays.
//!
//! Distances out of reach of any drop take the displacement of the drop at the limit; the map says
//! when its radius is. Azimuths run over half the circle only: the other half is the mirror image.
//! Speeds are at the measuring height of the wind profile.
//!
//! Drops of one class fly abreast in 16 azimuths, from which all nodes are filled (`azimuths`), through
//! winds read from a table of heights (`wind_aloft`).
//!
//! Neglected: that a jet at one azimuth turns while drops fly, and gusts.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::azimuths::Azimuths;
use super::classes::DropClasses;
use super::flight::{ABREAST, Landing, fly_abreast, fly_at};
use super::launch::{DragCorrection, Launch};
use super::problem::SprinklerProblem;
use super::wind_aloft::WindAloft;
use crate::range::within;
use crate::units::GRAVITY_M_S2;
use crate::weather::profile::LogProfile;
use libm::{cos, sin};
use rayon::prelude::*;
use std::ops::Range;

/// How fine a landing map is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LandingSettings {
    /// Nodes of still-air distance from 0 to the radius.
    pub classes: usize,
    /// Nodes of azimuth over the half circle, both ends included.
    pub azimuths: usize,
    /// Step between nodes of wind speed, m/s at measuring height; half of it over the first two
    /// steps, where the ramps of the drag correction bend the displacement.
    pub speed_step_m_s: f64,
}

impl Default for LandingSettings {
    /// 40 distances, 37 azimuths (every 5°), every m/s and every half below 2 m/s.
    fn default() -> Self {
        Self { classes: 40, azimuths: 37, speed_step_m_s: 1.0 }
    }
}

impl LandingSettings {
    fn check(&self, fastest_m_s: f64) -> Result<(), SprinklerProblem> {
        within("classes", self.classes as f64, 2.0, 1000.0)?;
        within("azimuths", self.azimuths as f64, 2.0, 721.0)?;
        within("speed_step_m_s", self.speed_step_m_s, 1e-4, 10.0)?;
        Ok(within("speed steps", fastest_m_s / self.speed_step_m_s, 0.0, 1000.0)?)
    }
}

/// The winds that drops are flown in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Winds {
    /// How they change with height.
    pub profile: LogProfile,
    /// The fastest, at the profile's measuring height, m/s.
    pub fastest_m_s: f64,
}

/// How far the wind moves a drop's landing, and how long it was up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Displacement {
    /// Down the wind, m.
    pub(super) along_m: f64,
    /// To the left of it, m.
    pub(super) cross_m: f64,
    /// Time in the air, s.
    pub(super) flight_s: f64,
}

impl Displacement {
    /// From this one (`share` 0) to another (1).
    #[inline(always)]
    pub(super) fn to(&self, other: &Self, share: f64) -> Self {
        Self {
            along_m: self.along_m + (other.along_m - self.along_m) * share,
            cross_m: self.cross_m + (other.cross_m - self.cross_m) * share,
            flight_s: self.flight_s + (other.flight_s - self.flight_s) * share,
        }
    }
}

/// Where a wind lies between the speed nodes of a map.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct AtSpeed {
    below: usize,
    share: f64,
}

/// Displacements of one jet's water on nodes of speed × distance × azimuth.
#[derive(Clone, Debug, PartialEq)]
pub struct LandingMap {
    settings: LandingSettings,
    radius_m: f64,
    throws_beyond_drops: bool,
    /// Where each class lands in still air, m.
    still_m: Vec<f64>,
    /// Wind speed of each table, rising from 0, m/s.
    speeds_m_s: Vec<f64>,
    /// One table a speed node, `[class · azimuths + azimuth]`.
    tables: Vec<Vec<Displacement>>,
    /// Longest displacement in each table, m.
    farthest_m: Vec<f64>,
    turbulence_at_2_m: f64,
}

/// How a jet leaves where the sprinkler does not stand upright.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throw {
    pub(super) elevation_rad: f64,
    pub(super) nozzle_height_m: f64,
}

impl LandingMap {
    /// Fly the drops of an upright jet with still-air radius `radius_m` in winds from 0 to at least
    /// the fastest. In parallel; the result does not depend on the number of threads.
    ///
    /// # Errors
    /// Anything out of range: radius 0.1–200 m, fastest wind 0–60 m/s, 2–1000 classes, 2–721
    /// azimuths, speed step 0.0001–10 m/s, over 1000 steps, the launch, the correction; a drop that
    /// does not land.
    pub fn new(
        radius_m: f64,
        launch: &Launch,
        drag: &DragCorrection,
        winds: &Winds,
        settings: LandingSettings,
    ) -> Result<Self, SprinklerProblem> {
        within("radius_m", radius_m, 0.1, 200.0)?;
        within("fastest_m_s", winds.fastest_m_s, 0.0, 60.0)?;
        settings.check(winds.fastest_m_s)?;
        drag.check()?;
        let classes = DropClasses::of(radius_m, launch, drag, settings.classes)?;
        let throw = Throw {
            elevation_rad: launch.trajectory_angle_deg.to_radians(),
            nozzle_height_m: launch.nozzle_height_m,
        };
        Self::thrown(&classes, throw, drag, winds, settings)
    }

    /// The same for a jet that leaves otherwise than upright; settings and drag are taken as checked.
    pub(super) fn thrown(
        classes: &DropClasses,
        throw: Throw,
        drag: &DragCorrection,
        winds: &Winds,
        settings: LandingSettings,
    ) -> Result<Self, SprinklerProblem> {
        let rise_m_s = classes.launch.speed_m_s() * sin(throw.elevation_rad);
        // As high as drops would rise without drag.
        let highest_m = throw.nozzle_height_m + 0.5 * rise_m_s * rise_m_s / GRAVITY_M_S2;
        let flights = Flights {
            azimuths: Azimuths::over(settings.azimuths),
            classes,
            throw,
            drag,
            aloft: WindAloft::of(&winds.profile, highest_m),
        };
        let calm: Vec<Landing> =
            classes.diameters_mm.par_iter().map(|d| flights.calm(*d)).collect::<Result<_, _>>()?;
        let still_m = flights.still_m(&calm)?;
        let speeds_m_s = speed_nodes_m_s(settings.speed_step_m_s, winds.fastest_m_s);
        let tables = flights.tables(&speeds_m_s, &calm)?;
        Ok(Self {
            settings,
            radius_m: classes.radius_m,
            throws_beyond_drops: classes.are_beyond_reach(),
            still_m,
            farthest_m: tables.iter().map(|table| farthest_m(table)).collect(),
            speeds_m_s,
            tables,
            turbulence_at_2_m: drag.turbulence * winds.profile.ratio_at(2.0),
        })
    }

    /// How fine the map is.
    pub(super) fn settings(&self) -> LandingSettings {
        self.settings
    }

    /// Still-air radius of the jet when upright, m.
    pub(super) fn radius_m(&self) -> f64 {
        self.radius_m
    }

    /// Fastest wind the map holds, m/s at measuring height.
    pub(super) fn fastest_m_s(&self) -> f64 {
        self.speeds_m_s.last().copied().unwrap_or(0.0)
    }

    /// Whether the jet is stated to throw farther than the largest drop flies.
    pub(crate) fn throws_beyond_drops(&self) -> bool {
        self.throws_beyond_drops
    }

    /// Where each class lands in still air, m.
    pub(super) fn still_m(&self) -> &[f64] {
        &self.still_m
    }

    /// Longest time in the air in the whole map, s.
    pub(super) fn longest_flight_s(&self) -> f64 {
        self.tables.iter().flatten().map(|d| d.flight_s).fold(0.0, f64::max)
    }

    /// σ of the spread by turbulence per second of flight, m/s, in a wind measured so.
    pub(super) fn spread_m_s(&self, speed_m_s: f64) -> f64 {
        self.turbulence_at_2_m * speed_m_s
    }

    /// Where a wind lies: the table of the speed node below it, and the share of the next one. Speeds
    /// beyond the map take its end.
    pub(super) fn at_speed(&self, speed_m_s: f64) -> AtSpeed {
        let nodes = &self.speeds_m_s;
        let upper = nodes.partition_point(|&node| node < speed_m_s).clamp(1, nodes.len() - 1);
        let (below, above) = (nodes[upper - 1], nodes[upper]);
        let share = ((speed_m_s - below) / (above - below)).clamp(0.0, 1.0);
        AtSpeed { below: upper - 1, share }
    }

    /// Displacements of some classes in a wind, `[class · azimuths + azimuth]`.
    #[inline(always)]
    pub(super) fn of_classes(
        &self,
        at: AtSpeed,
        classes: Range<usize>,
    ) -> impl ExactSizeIterator<Item = Displacement> {
        let azimuths = self.settings.azimuths;
        let cells = classes.start * azimuths..classes.end * azimuths;
        let faster = &self.tables[at.below + 1][cells.clone()];
        let pairs = self.tables[at.below][cells].iter().zip(faster);
        pairs.map(move |(slower, faster)| slower.to(faster, at.share))
    }

    /// Appends the displacements of all classes in a wind.
    pub(super) fn extend_at(&self, speed_m_s: f64, into: &mut Vec<Displacement>) {
        into.extend(self.of_classes(self.at_speed(speed_m_s), 0..self.settings.classes));
    }

    /// No displacement in a wind up to `speed_m_s` is longer, m.
    pub(super) fn farthest_m(&self, speed_m_s: f64) -> f64 {
        let upper = self.speeds_m_s.partition_point(|&node| node < speed_m_s);
        let upper = upper.min(self.farthest_m.len() - 1);
        self.farthest_m[..=upper].iter().copied().fold(0.0, f64::max)
    }
}

/// Nodes of wind speed from 0 to the first whole step at or beyond `fastest_m_s`, and at least one
/// step: half steps to 2 steps, whole ones from there.
fn speed_nodes_m_s(step_m_s: f64, fastest_m_s: f64) -> Vec<f64> {
    let steps = (fastest_m_s / step_m_s - 1e-9).ceil().max(1.0) as usize;
    let halves = (0..=2 * steps).filter(|half| *half <= 4 || half % 2 == 0);
    halves.map(|half| 0.5 * half as f64 * step_m_s).collect()
}

/// What it takes to fly a jet's drops.
struct Flights<'a> {
    azimuths: Azimuths,
    classes: &'a DropClasses,
    throw: Throw,
    drag: &'a DragCorrection,
    aloft: WindAloft,
}

impl Flights<'_> {
    fn launch(&self) -> Launch {
        Launch { nozzle_height_m: self.throw.nozzle_height_m, ..self.classes.launch }
    }

    /// A drop in still air.
    fn calm(&self, d_mm: f64) -> Result<Landing, SprinklerProblem> {
        let direction = (0.0, self.throw.elevation_rad);
        fly_at(d_mm, direction, &self.launch(), &self.drag.in_still_air(), &|_| 0.0)
    }

    /// Where each class lands in still air, m: its upright distance, times its range now over its
    /// range upright.
    fn still_m(&self, calm: &[Landing]) -> Result<Vec<f64>, SprinklerProblem> {
        let upright = self.classes.launch;
        let elevation_rad = upright.trajectory_angle_deg.to_radians();
        let is_upright = self.throw.elevation_rad == elevation_rad
            && self.throw.nozzle_height_m == upright.nozzle_height_m;
        let still_m = |(class, landing): (usize, &Landing)| {
            let distance_m = self.classes.distance_m(class);
            if is_upright {
                return Ok(distance_m);
            }
            let (d_mm, direction) = (self.classes.diameters_mm[class], (0.0, elevation_rad));
            let whole = fly_at(d_mm, direction, &upright, &self.drag.in_still_air(), &|_| 0.0)?;
            Ok(distance_m * landing.along_m / whole.along_m)
        };
        calm.iter().enumerate().map(still_m).collect()
    }

    /// One table a speed node.
    fn tables(
        &self,
        speeds_m_s: &[f64],
        calm: &[Landing],
    ) -> Result<Vec<Vec<Displacement>>, SprinklerProblem> {
        let classes = calm.len();
        let rows: Vec<Vec<Displacement>> = (0..speeds_m_s.len() * classes)
            .into_par_iter()
            .map(|i| self.row(i % classes, &calm[i % classes], speeds_m_s[i / classes]))
            .collect::<Result<_, _>>()?;
        Ok(rows.chunks(classes).map(<[_]>::concat).collect())
    }

    /// Displacements of one class in one wind over the azimuths.
    fn row(
        &self,
        class: usize,
        calm: &Landing,
        speed_m_s: f64,
    ) -> Result<Vec<Displacement>, SprinklerProblem> {
        if speed_m_s == 0.0 {
            let still = Displacement { flight_s: calm.flight_s, ..Displacement::default() };
            return Ok(vec![still; self.azimuths.nodes()]);
        }
        let wind_at = |height_m: f64| speed_m_s * self.aloft.ratio_at(height_m);
        let directions = (self.azimuths.flown_rad, self.throw.elevation_rad);
        let d_mm = self.classes.diameters_mm[class];
        let windy = fly_abreast(d_mm, directions, &self.launch(), self.drag, &wind_at)?;
        let moved = |k: usize| {
            let (azimuth_rad, Landing { along_m, cross_m, flight_s, .. }) =
                (self.azimuths.flown_rad[k], windy[k]);
            let (cos, sin) = (cos(azimuth_rad), sin(azimuth_rad));
            [along_m - calm.along_m * cos, cross_m - calm.along_m * sin, flight_s]
        };
        let flown: [[f64; 3]; ABREAST] = std::array::from_fn(moved);
        let flown = std::array::from_fn(|what| flown.map(|moved| moved[what]));
        let at_nodes = self.azimuths.fill(&flown);
        Ok(at_nodes
            .map(|[along_m, cross_m, flight_s]| Displacement { along_m, cross_m, flight_s })
            .collect())
    }
}

fn farthest_m(table: &[Displacement]) -> f64 {
    table.iter().map(|d| (d.along_m * d.along_m + d.cross_m * d.cross_m).sqrt()).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests;
