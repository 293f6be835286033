//! Landing maps: how far the wind moves each part of a jet's water.
//!
//! A leg says how much water lands at each distance in still air. Each distance stands for a drop
//! size: the one that lands there in still air ([`flight`](super::flight)). The map holds, for nodes
//! of distance × azimuth × wind speed, how far such a drop lands from its own still-air landing
//! place. Storing these *displacements*, not places, means that the still-air footprint gives back
//! the leg by construction, whatever the drag law, and that the table is smooth.
//!
//! Only drops of 0.3 to 8 mm are flown: the sprays measured by Kincaid, Solomon & Oliphant (1996)
//! hold little outside. Distances that would need a smaller drop (next to the sprinkler) or a
//! larger one (a radius the ballistics cannot reach) take the displacement of the limit; the map
//! tells how many of its classes did. Azimuths run over half the circle only: the other half is
//! the mirror image. Speeds are at the measuring height of the wind profile.
//!
//! Neglected: that a jet at one azimuth turns while drops fly, and gusts.

use super::flight::fly;
use super::problem::SprinklerProblem;
use super::{DragCorrection, Launch};
use crate::range::within;
use crate::weather::profile::LogProfile;
use libm::{cos, exp, log, sin};
use rayon::prelude::*;
use std::f64::consts::PI;

/// Smallest drop that is flown, mm.
pub const SMALLEST_DROP_MM: f64 = 0.3;
/// Largest drop that is flown, mm.
pub const LARGEST_DROP_MM: f64 = 8.0;

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

/// How far the wind moves a drop's landing, and how long it was up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Displacement {
    /// Down the wind, m.
    pub along_m: f64,
    /// To the left of it, m.
    pub cross_m: f64,
    /// Time in the air, s.
    pub flight_s: f64,
}

/// Displacements of one jet's water on nodes of speed × distance × azimuth.
#[derive(Clone, Debug, PartialEq)]
pub struct LandingMap {
    settings: LandingSettings,
    radius_m: f64,
    diameters_mm: Vec<f64>,
    clamped_small: usize,
    clamped_large: usize,
    /// Wind speed of each table, rising from 0, m/s.
    speeds_m_s: Vec<f64>,
    /// One table a speed node, `[class · azimuths + azimuth]`.
    tables: Vec<Vec<Displacement>>,
    /// Longest displacement in each table, m.
    farthest_m: Vec<f64>,
    turbulence_at_2_m: f64,
}

impl LandingMap {
    /// Fly the drops of a jet with still-air radius `radius_m` in winds from 0 to at least
    /// `fastest_m_s` (measured at the profile's height). In parallel; the result does not depend
    /// on the number of threads.
    ///
    /// # Errors
    /// Anything out of range: radius 0.1–200 m, fastest wind 0–60 m/s, 2–1000 classes, 2–721
    /// azimuths, speed step 0.0001–10 m/s, over 1000 steps, the launch, the correction; a drop that does not land.
    pub fn new(
        radius_m: f64,
        launch: &Launch,
        correction: &DragCorrection,
        profile: &LogProfile,
        fastest_m_s: f64,
        settings: LandingSettings,
    ) -> Result<Self, SprinklerProblem> {
        within("radius_m", radius_m, 0.1, 200.0)?;
        within("fastest_m_s", fastest_m_s, 0.0, 60.0)?;
        within("classes", settings.classes as f64, 2.0, 1000.0)?;
        within("azimuths", settings.azimuths as f64, 2.0, 721.0)?;
        within("speed_step_m_s", settings.speed_step_m_s, 1e-4, 10.0)?;
        within("speed steps", fastest_m_s / settings.speed_step_m_s, 0.0, 1000.0)?;
        let distance_m = |class: usize| radius_m * class as f64 / (settings.classes - 1) as f64;
        let (diameters_mm, limits_m) = class_diameters_mm(radius_m, launch, settings.classes)?;
        let jet = JetFlights { settings, launch, correction, profile, diameters_mm: &diameters_mm };
        let speeds_m_s = speed_nodes_m_s(settings.speed_step_m_s, fastest_m_s);
        let tables = jet.tables(&speeds_m_s)?;
        let farthest_m = tables.iter().map(|table| farthest_m(table)).collect();
        let count = |clamped: &dyn Fn(f64) -> bool| {
            (0..settings.classes).filter(|&class| clamped(distance_m(class))).count()
        };
        Ok(Self {
            settings,
            radius_m,
            clamped_small: count(&|r_m| r_m < limits_m[0]),
            clamped_large: count(&|r_m| r_m > limits_m[1]),
            diameters_mm,
            speeds_m_s,
            tables,
            farthest_m,
            turbulence_at_2_m: correction.turbulence * profile.ratio_at(2.0),
        })
    }

    /// How fine the map is.
    pub fn settings(&self) -> LandingSettings {
        self.settings
    }

    /// Still-air radius of the jet, m.
    pub fn radius_m(&self) -> f64 {
        self.radius_m
    }

    /// Fastest wind the map holds, m/s at measuring height.
    pub fn fastest_m_s(&self) -> f64 {
        self.speeds_m_s.last().copied().unwrap_or(0.0)
    }

    /// Drop diameter of each class from the center out, mm.
    pub fn diameters_mm(&self) -> &[f64] {
        &self.diameters_mm
    }

    /// Classes that would need a drop under [`SMALLEST_DROP_MM`].
    pub fn clamped_small(&self) -> usize {
        self.clamped_small
    }

    /// Classes that would need a drop over [`LARGEST_DROP_MM`]: the ballistics do not reach the
    /// stated radius.
    pub fn clamped_large(&self) -> usize {
        self.clamped_large
    }

    /// Longest time in the air in the whole map, s.
    pub(super) fn longest_flight_s(&self) -> f64 {
        self.tables.iter().flatten().map(|d| d.flight_s).fold(0.0, f64::max)
    }

    /// σ of the spread by turbulence per second of flight, m/s, in a wind measured so.
    pub(super) fn spread_m_s(&self, speed_m_s: f64) -> f64 {
        self.turbulence_at_2_m * speed_m_s
    }

    /// The two speed nodes around a wind and the share of the upper one; speeds beyond the map
    /// take its end.
    pub(super) fn nodes(&self, speed_m_s: f64) -> (&[Displacement], &[Displacement], f64) {
        let nodes = &self.speeds_m_s;
        let upper = nodes.partition_point(|&node| node < speed_m_s).clamp(1, nodes.len() - 1);
        let (below, above) = (nodes[upper - 1], nodes[upper]);
        let share = ((speed_m_s - below) / (above - below)).clamp(0.0, 1.0);
        (&self.tables[upper - 1], &self.tables[upper], share)
    }

    /// No displacement in a wind up to `speed_m_s` is longer, m.
    pub(super) fn farthest_m(&self, speed_m_s: f64) -> f64 {
        let upper = self.speeds_m_s.partition_point(|&node| node < speed_m_s);
        let upper = upper.min(self.farthest_m.len() - 1);
        self.farthest_m[..=upper].iter().copied().fold(0.0, f64::max)
    }
}

/// Diameter of the drop that lands in still air at each of `classes` distances from 0 to the
/// radius, mm, and where the smallest and the largest drop land, m.
pub(super) fn class_diameters_mm(
    radius_m: f64,
    launch: &Launch,
    classes: usize,
) -> Result<(Vec<f64>, [f64; 2]), SprinklerProblem> {
    let range_m = |d_mm: f64| Ok(fly(d_mm, 0.0, launch, &DragCorrection::NONE, &|_| 0.0)?.along_m);
    let limits_m = [range_m(SMALLEST_DROP_MM)?, range_m(LARGEST_DROP_MM)?];
    let distance_m = |class: usize| radius_m * class as f64 / (classes - 1) as f64;
    let diameters_mm = (0..classes)
        .into_par_iter()
        .map(|class| diameter_landing_at(distance_m(class), limits_m, &range_m))
        .collect::<Result<_, _>>()?;
    Ok((diameters_mm, limits_m))
}

/// Nodes of wind speed from 0 to the first whole step at or beyond `fastest_m_s`, and at least one
/// step: half steps to 2 steps, whole ones from there.
pub(super) fn speed_nodes_m_s(step_m_s: f64, fastest_m_s: f64) -> Vec<f64> {
    let steps = (fastest_m_s / step_m_s - 1e-9).ceil().max(1.0) as usize;
    let halves = (0..=2 * steps).filter(|half| *half <= 4 || half % 2 == 0);
    halves.map(|half| 0.5 * half as f64 * step_m_s).collect()
}

/// Diameter whose drop lands at `distance_m` in still air, within 0.1 mm of distance or the limits.
fn diameter_landing_at(
    distance_m: f64,
    limits_m: [f64; 2],
    range_m: &impl Fn(f64) -> Result<f64, SprinklerProblem>,
) -> Result<f64, SprinklerProblem> {
    if distance_m <= limits_m[0] {
        return Ok(SMALLEST_DROP_MM);
    }
    if distance_m >= limits_m[1] {
        return Ok(LARGEST_DROP_MM);
    }
    // The range grows with the drop; halve in the logarithm of the diameter.
    let (mut small, mut large) = (log(SMALLEST_DROP_MM), log(LARGEST_DROP_MM));
    for _ in 0..30 {
        let middle = 0.5 * (small + large);
        let miss_m = range_m(exp(middle))? - distance_m;
        if miss_m.abs() < 1e-4 {
            return Ok(exp(middle));
        }
        if miss_m < 0.0 {
            small = middle;
        } else {
            large = middle;
        }
    }
    Ok(exp(0.5 * (small + large)))
}

/// What it takes to fly a jet's drops.
struct JetFlights<'a> {
    settings: LandingSettings,
    launch: &'a Launch,
    correction: &'a DragCorrection,
    profile: &'a LogProfile,
    diameters_mm: &'a [f64],
}

impl JetFlights<'_> {
    /// One table a speed node.
    fn tables(&self, speeds_m_s: &[f64]) -> Result<Vec<Vec<Displacement>>, SprinklerProblem> {
        let classes = self.settings.classes;
        let rows: Vec<Vec<Displacement>> = (0..speeds_m_s.len() * classes)
            .into_par_iter()
            .map(|i| self.row(self.diameters_mm[i % classes], speeds_m_s[i / classes]))
            .collect::<Result<_, _>>()?;
        Ok(rows.chunks(classes).map(<[_]>::concat).collect())
    }

    /// Displacements of one drop size in one wind over the azimuths.
    fn row(&self, d_mm: f64, speed_m_s: f64) -> Result<Vec<Displacement>, SprinklerProblem> {
        let still = fly(d_mm, 0.0, self.launch, &DragCorrection::NONE, &|_| 0.0)?;
        let wind_at = |height_m: f64| self.profile.speed_m_s(height_m, speed_m_s);
        let last = self.settings.azimuths - 1;
        (0..=last)
            .map(|node| {
                if speed_m_s == 0.0 {
                    return Ok(Displacement { flight_s: still.flight_s, ..Default::default() });
                }
                let azimuth_rad = PI * node as f64 / last as f64;
                let windy = fly(d_mm, azimuth_rad, self.launch, self.correction, &wind_at)?;
                Ok(Displacement {
                    along_m: windy.along_m - still.along_m * cos(azimuth_rad),
                    cross_m: windy.cross_m - still.along_m * sin(azimuth_rad),
                    flight_s: windy.flight_s,
                })
            })
            .collect()
    }
}

fn farthest_m(table: &[Displacement]) -> f64 {
    table.iter().map(|d| (d.along_m * d.along_m + d.cross_m * d.cross_m).sqrt()).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests;
