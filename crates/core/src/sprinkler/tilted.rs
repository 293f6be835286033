//! Footprints of a sprinkler that stands tilted, or under its pipe ([`Attitude`]).
//!
//! The same drops, drag and wind as upright. What changes is the launch: each turn of the sprinkler
//! has its own direction and elevation, or meets the pipe. The drop class that lands at r in still
//! air upright is flown at the elevation it has now; its place is the landing so found, plus what
//! upright flight leaves of r to the drop model (nothing but for the smallest and largest drops):
//! place = (r · s − R) along the jet + landing in the wind, R its still-air range at this elevation,
//! s = R over the upright range. Landings are tabulated over elevation (every 5° or closer),
//! speed, class and azimuth (every 10°) and interpolated linearly.
//!
//! Blocked turns lay all their water where the jet meets the pipe, half to either side of it: mass
//! is exact. Neglected: what [`super::attitude`] neglects, and what the wind blows from the drips.

use super::attitude::{Attitude, JetWay};
use super::flight::fly_at;
use super::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use super::landing::{class_diameters_mm, speed_nodes_m_s};
use super::problem::SprinklerProblem;
use super::scratch::Scratch;
use super::tubes::ring_edges_m;
use super::{DragCorrection, Jet, Launch, Sprinkler};
use crate::range::within;
use crate::weather::profile::LogProfile;
use libm::{cos, sin};
use rayon::prelude::*;
use std::f64::consts::PI;

/// Drop classes.
const CLASSES: usize = 24;
/// Azimuths over the half circle, both ends included.
const AZIMUTHS: usize = 19;
/// Widest step of elevation, radians.
const ELEVATION_STEP: f64 = 5.0 * PI / 180.0;
/// Fewest turns of the sprinkler a jet is cut into.
const FEWEST_TURNS: f64 = 144.0;
/// Water that drips from the pipe lands so far to either side of it, m: judgment.
const DRIP_M: f64 = 0.15;
/// Nozzles this near the ground cannot be flown from, m.
const LOWEST_NOZZLE_M: f64 = 0.05;

/// A landing in the wind less the still-air range along the jet, m, and the time in the air, s.
#[derive(Clone, Copy, Debug, Default)]
struct Moved {
    along_m: f64,
    cross_m: f64,
    flight_s: f64,
}

impl Moved {
    fn between(self, other: Self, share: f64) -> Self {
        let mix = |a: f64, b: f64| a + (b - a) * share;
        Self {
            along_m: mix(self.along_m, other.along_m),
            cross_m: mix(self.cross_m, other.cross_m),
            flight_s: mix(self.flight_s, other.flight_s),
        }
    }
}

/// One turn of the sprinkler.
#[derive(Clone, Copy, Debug)]
enum Turn {
    Free { azimuth_rad: f64, elevation: (usize, f64) },
    Blocked { along_m: f64 },
}

/// One jet, ready to be laid.
#[derive(Debug)]
struct TiltedJet {
    turns: Vec<Turn>,
    speeds_m_s: Vec<f64>,
    /// `[((elevation · speeds + speed) · classes + class) · azimuths + azimuth]`.
    table: Vec<Moved>,
    /// Still-air landing, `[elevation · classes + class]`, m.
    still_m: Vec<f64>,
    /// Water of each ring (L/h in one turn) and where it lies among the classes.
    rings: Vec<(f64, usize, f64)>,
    /// All water of one turn, L/h.
    turn_l_h: f64,
}

/// A tilted sprinkler for one cell size, ready to lay any number of sets.
#[derive(Debug)]
pub struct TiltedMaker {
    jets: Vec<TiltedJet>,
    attitude: Attitude,
    spread: f64,
    cell_m: f64,
    fastest_m_s: f64,
}

impl TiltedMaker {
    /// Flies the drops of `sprinkler`, standing so, in winds up to `fastest_m_s`.
    ///
    /// # Errors
    /// An unsound sprinkler, attitude, cell or wind, or a nozzle in the ground.
    pub fn new(
        sprinkler: &Sprinkler,
        attitude: Attitude,
        profile: &LogProfile,
        fastest_m_s: f64,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        sprinkler.check()?;
        attitude.check()?;
        within("cell_m", cell_m, 0.02, 20.0)?;
        within("fastest_m_s", fastest_m_s, 0.0, 60.0)?;
        let speeds_m_s = speed_nodes_m_s(1.0, fastest_m_s);
        let air = Air { profile, correction: &sprinkler.drag, speeds_m_s: &speeds_m_s };
        let jet = |jet: &Jet| TiltedJet::new(jet, &attitude, &air, cell_m, settings);
        Ok(Self {
            jets: sprinkler.jets.iter().map(jet).collect::<Result<_, _>>()?,
            attitude,
            spread: sprinkler.drag.turbulence * profile.ratio_at(2.0),
            cell_m,
            fastest_m_s,
        })
    }

    /// Net depth of a whole set around the pipe above which the sprinkler would stand upright, mm.
    ///
    /// # Errors
    /// A phase or wind out of range.
    pub fn set_footprint(
        &self,
        slices: &[WindSlice],
        phase: Phase,
    ) -> Result<Footprint, SprinklerProblem> {
        phase.check()?;
        for slice in slices {
            within("speed_m_s", slice.speed_m_s, 0.0, self.fastest_m_s + 1e-9)?;
        }
        // Places first, for the size of the scratch follows from them.
        let mut lumps: Vec<[f64; 3]> = Vec::new();
        for slice in slices.iter().filter(|slice| slice.hours * slice.net > 0.0) {
            for jet in &self.jets {
                jet.lay(
                    slice,
                    self.spread * slice.speed_m_s,
                    self.attitude.nozzle_m()[0],
                    &mut lumps,
                );
            }
        }
        let reach_m = lumps.iter().map(|[x, y, _]| x.abs().max(y.abs())).fold(0.0, f64::max);
        let mut scratch = Scratch::new(reach_m / self.cell_m);
        let center = scratch.center as f64 - 0.5;
        let (column, row) = (center + phase.along, center + phase.across);
        for [x_m, y_m, litres] in lumps {
            scratch.lay(column + x_m / self.cell_m, row + y_m / self.cell_m, litres);
        }
        Ok(scratch.cut_out(1.0 / (self.cell_m * self.cell_m)))
    }
}

/// Wind and drag that a jet meets.
struct Air<'a> {
    profile: &'a LogProfile,
    correction: &'a DragCorrection,
    speeds_m_s: &'a [f64],
}

impl TiltedJet {
    fn new(
        jet: &Jet,
        attitude: &Attitude,
        air: &Air<'_>,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        let radius_m = jet.leg.radius_m();
        let nozzle_height_m = jet.launch.nozzle_height_m - attitude.drop_m();
        within("height of the tilted nozzle, m", nozzle_height_m, LOWEST_NOZZLE_M, 10.0)?;
        let (diameters_mm, _) = class_diameters_mm(radius_m, &jet.launch, CLASSES)?;
        let count = (2.0 * PI * radius_m * settings.samples_per_cell / cell_m).ceil();
        let count = count.max(FEWEST_TURNS) as usize;
        let ways: Vec<JetWay> = (0..count)
            .map(|at| {
                attitude.way(
                    jet.launch.trajectory_angle_deg,
                    2.0 * PI * (at as f64 + 0.5) / count as f64,
                )
            })
            .collect();
        let elevations = elevation_nodes(&ways);
        let launch = Launch { nozzle_height_m, ..jet.launch };
        let flights = Flights { launch, upright: jet.launch, air, diameters_mm, radius_m };
        let (still_m, table) = flights.tables(&elevations)?;
        let mut rings = Vec::new();
        let mut inside_l_h = 0.0;
        for pair in ring_edges_m(radius_m, cell_m / settings.rings_per_cell, cell_m).windows(2) {
            let next_l_h = jet.leg.volume_inside_l_h(pair[1]);
            let (near, far) = (pair[0], pair[1]);
            let distance_m = 2.0 / 3.0 * (near * near + near * far + far * far) / (near + far);
            let place = distance_m / radius_m * (CLASSES - 1) as f64;
            let class = (place as usize).min(CLASSES - 2);
            rings.push(((next_l_h - inside_l_h) / count as f64, class, place - class as f64));
            inside_l_h = next_l_h;
        }
        let turn = |way: &JetWay| match *way {
            JetWay::Blocked { along_m } => Turn::Blocked { along_m },
            JetWay::Free { azimuth_rad, elevation_rad } => {
                let upper = elevations.partition_point(|node| *node < elevation_rad);
                let upper = upper.clamp(1, elevations.len() - 1);
                let (low, high) = (elevations[upper - 1], elevations[upper]);
                let share = ((elevation_rad - low) / (high - low)).clamp(0.0, 1.0);
                Turn::Free { azimuth_rad, elevation: (upper - 1, share) }
            }
        };
        let turns = ways.iter().map(turn).collect();
        let speeds_m_s = air.speeds_m_s.to_vec();
        let turn_l_h = inside_l_h / count as f64;
        Ok(Self { turns, speeds_m_s, table, still_m, rings, turn_l_h })
    }

    /// Adds what one slice lays: x, y (m from the pipe above which the sprinkler would stand) and
    /// litres.
    fn lay(&self, slice: &WindSlice, spread_m_s: f64, beside_m: f64, lumps: &mut Vec<[f64; 3]>) {
        let net_hours = slice.hours * slice.net;
        let nodes = &self.speeds_m_s;
        let upper = nodes.partition_point(|node| *node < slice.speed_m_s).clamp(1, nodes.len() - 1);
        let share = (slice.speed_m_s - nodes[upper - 1]) / (nodes[upper] - nodes[upper - 1]);
        let speed = (upper - 1, share.clamp(0.0, 1.0));
        let (wind_cos, wind_sin) = (cos(slice.towards_rad), sin(slice.towards_rad));
        for (number, turn) in self.turns.iter().enumerate() {
            let (azimuth_rad, elevation) = match *turn {
                Turn::Blocked { along_m } => {
                    let litres = 0.5 * self.turn_l_h * net_hours;
                    lumps.push([along_m, DRIP_M, litres]);
                    lumps.push([along_m, -DRIP_M, litres]);
                    continue;
                }
                Turn::Free { azimuth_rad, elevation } => (azimuth_rad, elevation),
            };
            let classes = self.classes_at(azimuth_rad - slice.towards_rad, elevation, speed);
            let (jet_cos, jet_sin) = (cos(azimuth_rad), sin(azimuth_rad));
            for (ring, (litres, class, share)) in self.rings.iter().enumerate() {
                let ((near, moved_near), (far, moved_far)) = (classes[*class], classes[class + 1]);
                let still_m = near + (far - near) * share;
                let moved = moved_near.between(moved_far, *share);
                let x = still_m * jet_cos + moved.along_m * wind_cos - moved.cross_m * wind_sin;
                let y = still_m * jet_sin + moved.along_m * wind_sin + moved.cross_m * wind_cos;
                let (y, litres) = (y + beside_m, litres * net_hours);
                if spread_m_s > 0.0 {
                    // Two of the four points (±σ, ±σ); the neighbors take the other two.
                    let sigma_m = spread_m_s * moved.flight_s;
                    let slant_m = if (number + ring) % 2 == 0 { sigma_m } else { -sigma_m };
                    lumps.push([x + sigma_m, y + slant_m, 0.5 * litres]);
                    lumps.push([x - sigma_m, y - slant_m, 0.5 * litres]);
                } else {
                    lumps.push([x, y, litres]);
                }
            }
        }
    }

    /// Still-air landing and what the wind adds, class by class, at `relative_rad` from the wind.
    fn classes_at(
        &self,
        relative_rad: f64,
        (elevation, upper): (usize, f64),
        (speed, faster): (usize, f64),
    ) -> [(f64, Moved); CLASSES] {
        let turned = relative_rad.rem_euclid(2.0 * PI);
        let (half_rad, side) = if turned > PI { (2.0 * PI - turned, -1.0) } else { (turned, 1.0) };
        let place = half_rad / PI * (AZIMUTHS - 1) as f64;
        let azimuth = (place as usize).min(AZIMUTHS - 2);
        let between = place - azimuth as f64;
        let speeds = self.speeds_m_s.len();
        let node = |elevation: usize, speed: usize, class: usize| {
            let at = ((elevation * speeds + speed) * CLASSES + class) * AZIMUTHS + azimuth;
            self.table[at].between(self.table[at + 1], between)
        };
        std::array::from_fn(|class| {
            let at = |elevation: usize| {
                node(elevation, speed, class).between(node(elevation, speed + 1, class), faster)
            };
            let moved = at(elevation).between(at(elevation + 1), upper);
            let still = |elevation: usize| self.still_m[elevation * CLASSES + class];
            let still_m = still(elevation) + (still(elevation + 1) - still(elevation)) * upper;
            (still_m, Moved { cross_m: side * moved.cross_m, ..moved })
        })
    }
}

/// Nodes from the lowest to the highest elevation of the free turns, radians; at least two.
fn elevation_nodes(ways: &[JetWay]) -> Vec<f64> {
    let free = ways.iter().filter_map(|way| match way {
        JetWay::Free { elevation_rad, .. } => Some(*elevation_rad),
        JetWay::Blocked { .. } => None,
    });
    let (low, high) = free.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), elevation| {
        (low.min(elevation), high.max(elevation))
    });
    // All blocked, or all alike: any two nodes will do.
    let (low, high) = if high > low + 1e-6 {
        (low, high)
    } else {
        let at = if low.is_finite() { low } else { 0.0 };
        (at - 5e-4, at + 5e-4)
    };
    let steps = ((high - low) / ELEVATION_STEP).ceil().max(1.0) as usize;
    (0..=steps).map(|step| low + (high - low) * step as f64 / steps as f64).collect()
}

/// Still-air landings and what winds add to them.
type Tables = (Vec<f64>, Vec<Moved>);

/// What it takes to fly a tilted jet's drops.
struct Flights<'a> {
    launch: Launch,
    upright: Launch,
    air: &'a Air<'a>,
    diameters_mm: Vec<f64>,
    radius_m: f64,
}

impl Flights<'_> {
    fn tables(&self, elevations: &[f64]) -> Result<Tables, SprinklerProblem> {
        let still: Vec<(f64, f64)> = (0..elevations.len() * CLASSES)
            .into_par_iter()
            .map(|at| self.still(at % CLASSES, elevations[at / CLASSES]))
            .collect::<Result<_, _>>()?;
        let speeds = self.air.speeds_m_s;
        let rows: Vec<Vec<Moved>> = (0..elevations.len() * speeds.len() * CLASSES)
            .into_par_iter()
            .map(|at| {
                let (class, rest) = (at % CLASSES, at / CLASSES);
                let (speed, elevation) = (rest % speeds.len(), rest / speeds.len());
                let range_m = still[elevation * CLASSES + class].1;
                self.row(class, elevations[elevation], speeds[speed], range_m)
            })
            .collect::<Result<_, _>>()?;
        Ok((still.iter().map(|(landing_m, _)| *landing_m).collect(), rows.concat()))
    }

    /// Still-air landing of a class at an elevation, and the range of its drop, m.
    fn still(&self, class: usize, elevation_rad: f64) -> Result<(f64, f64), SprinklerProblem> {
        let d_mm = self.diameters_mm[class];
        let fly = |elevation_rad: f64, launch: &Launch| -> Result<f64, SprinklerProblem> {
            let calm = |_: f64| 0.0;
            let way = (0.0, elevation_rad);
            Ok(fly_at(d_mm, way, launch, &DragCorrection::NONE, &calm)?.along_m)
        };
        let range_m = fly(elevation_rad, &self.launch)?;
        let upright_m = fly(self.upright.trajectory_angle_deg.to_radians(), &self.upright)?;
        let distance_m = self.radius_m * class as f64 / (CLASSES - 1) as f64;
        Ok((distance_m * range_m / upright_m, range_m))
    }

    fn row(
        &self,
        class: usize,
        elevation_rad: f64,
        speed_m_s: f64,
        range_m: f64,
    ) -> Result<Vec<Moved>, SprinklerProblem> {
        let wind_at = |height_m: f64| self.air.profile.speed_m_s(height_m, speed_m_s);
        let d_mm = self.diameters_mm[class];
        (0..AZIMUTHS)
            .map(|node| {
                let azimuth_rad = PI * node as f64 / (AZIMUTHS - 1) as f64;
                let way = (azimuth_rad, elevation_rad);
                let landing = fly_at(d_mm, way, &self.launch, self.air.correction, &wind_at)?;
                Ok(Moved {
                    along_m: landing.along_m - range_m * cos(azimuth_rad),
                    cross_m: landing.cross_m - range_m * sin(azimuth_rad),
                    flight_s: landing.flight_s,
                })
            })
            .collect()
    }
}

#[cfg(test)]
#[path = "tilted_tests.rs"]
mod tests;
