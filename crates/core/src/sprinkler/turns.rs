//! A tilted jet, turn by turn: each turn of the sprinkler has its own direction and elevation, or
//! meets the pipe ([`Attitude`]).
//!
//! The same drops, drag and wind as upright, the same rings of the leg. Landing maps are made for a
//! few elevations (every 5° or closer) with azimuths every 10°, and interpolated linearly.
//!
//! Blocked turns lay all their water where the jet meets the pipe, half to either side of it: mass
//! is exact. Neglected: what [`super::attitude`] neglects, and what the wind blows from the drips.

use super::attitude::{Attitude, JetDirection, SOLID_JET_M};
use super::classes::DropClasses;
use super::footprint::FootprintSettings;
use super::jet::Jet;
use super::landing::{Displacement, LandingMap, LandingSettings, Throw, Winds};
use super::launch::DragCorrection;
use super::problem::SprinklerProblem;
use super::rings::{Gust, Place, Ring, Workspace, rings, split};
use super::scratch::Scratch;
use crate::range::within;
use libm::{cos, sin};
use std::f64::consts::PI;

/// Coarser than upright: there are several maps.
const MAPS: LandingSettings = LandingSettings { classes: 24, azimuths: 19, speed_step_m_s: 1.0 };
/// Widest step of elevation, radians.
const ELEVATION_STEP: f64 = 5.0 * PI / 180.0;
/// Fewest turns of the sprinkler a jet is cut into.
const FEWEST_TURNS: f64 = 144.0;
/// Water that drips from the pipe lands so far to either side of it, m: judgment.
const DRIP_M: f64 = 0.15;
/// Nozzles this near the ground cannot be flown from, m.
const LOWEST_NOZZLE_M: f64 = 0.05;

/// One turn of the sprinkler.
#[derive(Clone, Copy, Debug)]
enum Turn {
    /// Into the air, between two maps: the lower one and the share of the upper.
    Free { azimuth_rad: f64, map: usize, share: f64 },
    /// Against the pipe.
    Blocked { along_m: f64 },
}

/// One jet of a tilted sprinkler, ready to be laid.
#[derive(Debug)]
pub(super) struct Turns {
    directions: Vec<Turn>,
    /// One map an elevation, rising.
    maps: Vec<LandingMap>,
    /// Rings with the water of one turn, L/h.
    rings: Vec<Ring>,
    /// All water of one turn, L/h.
    turn_l_h: f64,
    /// The nozzle beside the place where it would stand upright, across the pipe, m.
    beside_m: f64,
}

impl Turns {
    /// Flies the drops of `jet`, its sprinkler standing so, and cuts its leg into rings and turns.
    pub(super) fn new(
        (jet, drag): (&Jet, &DragCorrection),
        attitude: &Attitude,
        winds: &Winds,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        let (leg, launch) = (jet.leg(), &jet.launch);
        let radius_m = leg.radius_m();
        let nozzle_height_m = launch.nozzle_height_m - attitude.drop_m();
        within("height of the tilted nozzle, m", nozzle_height_m, LOWEST_NOZZLE_M, 10.0)?;
        let count = (2.0 * PI * radius_m * settings.samples_per_cell / cell_m).ceil();
        let count = count.max(FEWEST_TURNS) as usize;
        let directions: Vec<JetDirection> = (0..count)
            .map(|at| 2.0 * PI * (at as f64 + 0.5) / count as f64)
            .map(|turn_rad| attitude.direction(launch.trajectory_angle_deg, turn_rad))
            .collect();
        let elevations = elevation_nodes(&directions);
        let classes = DropClasses::of(radius_m, launch, drag, MAPS.classes)?;
        let maps = elevations
            .iter()
            .map(|&elevation_rad| Throw { elevation_rad, nozzle_height_m })
            .map(|throw| LandingMap::thrown(&classes, throw, drag, winds, MAPS))
            .collect::<Result<_, _>>()?;
        let mut rings = rings(leg, (radius_m, MAPS.classes), cell_m, settings);
        for ring in &mut rings {
            ring.volume_l_h /= count as f64;
        }
        Ok(Self {
            directions: directions.iter().map(|direction| turn(direction, &elevations)).collect(),
            maps,
            rings,
            turn_l_h: leg.volume_inside_l_h(radius_m) / count as f64,
            beside_m: attitude.nozzle_m()[0],
        })
    }

    /// Fastest wind the maps hold, m/s at measuring height.
    pub(super) fn fastest_m_s(&self) -> f64 {
        self.maps.iter().map(LandingMap::fastest_m_s).fold(f64::INFINITY, f64::min)
    }

    /// Farthest from where the sprinkler would stand upright that water can be laid, m.
    pub(super) fn reach_m(&self, speed_m_s: f64) -> f64 {
        let of = |map: &LandingMap| {
            let still_m = map.still_m().iter().copied().fold(0.0, f64::max);
            let spread_m = map.spread_m_s(speed_m_s) * map.longest_flight_s();
            still_m + map.farthest_m(speed_m_s) + 2.0 * spread_m
        };
        let free_m = self.maps.iter().map(of).fold(0.0, f64::max);
        free_m.max(SOLID_JET_M) + self.beside_m.abs() + DRIP_M
    }

    /// Carry the jet's water with the wind and lay it on the scratch, in litres.
    pub(super) fn lay(
        &self,
        gust: Gust,
        place: Place,
        work: &mut Workspace,
        scratch: &mut Scratch,
    ) {
        work.blended.clear();
        for map in &self.maps {
            map.extend_at(gust.speed_m_s, &mut work.blended);
        }
        let mut put = |x_m: f64, y_m: f64, litres: f64| {
            let (column, row) = (x_m / place.cell_m, y_m / place.cell_m);
            scratch.lay(place.column + column, place.row + row, litres);
        };
        let spread_m_s = self.maps.first().map_or(0.0, |map| map.spread_m_s(gust.speed_m_s));
        let (wind_cos, wind_sin) = (cos(gust.towards_rad), sin(gust.towards_rad));
        for (number, turn) in self.directions.iter().enumerate() {
            let (azimuth_rad, map, share) = match *turn {
                Turn::Blocked { along_m } => {
                    let litres = 0.5 * self.turn_l_h * gust.net_hours;
                    put(along_m, DRIP_M, litres);
                    put(along_m, -DRIP_M, litres);
                    continue;
                }
                Turn::Free { azimuth_rad, map, share } => (azimuth_rad, map, share),
            };
            self.fill_turn(azimuth_rad - gust.towards_rad, (map, share), work);
            let (jet_cos, jet_sin) = (cos(azimuth_rad), sin(azimuth_rad));
            for (at, ring) in self.rings.iter().enumerate() {
                let (near_m, far_m) = (work.still_m[ring.class], work.still_m[ring.class + 1]);
                let still_m = near_m + (far_m - near_m) * ring.share;
                let moved = work.row[ring.class].to(&work.row[ring.class + 1], ring.share);
                let x = still_m * jet_cos + moved.along_m * wind_cos - moved.cross_m * wind_sin;
                let y = still_m * jet_sin + moved.along_m * wind_sin + moved.cross_m * wind_cos;
                let (y, litres) = (y + self.beside_m, ring.volume_l_h * gust.net_hours);
                if spread_m_s > 0.0 {
                    // Two of the four points (±σ, ±σ); the neighbors take the other two.
                    let sigma_m = spread_m_s * moved.flight_s;
                    let slant_m = if (number + at) % 2 == 0 { sigma_m } else { -sigma_m };
                    put(x + sigma_m, y + slant_m, 0.5 * litres);
                    put(x - sigma_m, y - slant_m, 0.5 * litres);
                } else {
                    put(x, y, litres);
                }
            }
        }
    }

    /// Still-air landings and displacements of each class at `relative_rad` from the wind, between
    /// map `map` and the next.
    fn fill_turn(&self, relative_rad: f64, (map, share): (usize, f64), work: &mut Workspace) {
        let turned = relative_rad.rem_euclid(2.0 * PI);
        let (half_rad, side) = if turned > PI { (2.0 * PI - turned, -1.0) } else { (turned, 1.0) };
        let (azimuth, next) = split(half_rad / PI * (MAPS.azimuths - 1) as f64, MAPS.azimuths);
        let node = |map: usize, class: usize| {
            let at = (map * MAPS.classes + class) * MAPS.azimuths + azimuth;
            work.blended[at].to(&work.blended[at + 1], next)
        };
        work.row.clear();
        work.row.extend((0..MAPS.classes).map(|class| {
            let moved = node(map, class).to(&node(map + 1, class), share);
            Displacement { cross_m: side * moved.cross_m, ..moved }
        }));
        let stills = self.maps[map].still_m().iter().zip(self.maps[map + 1].still_m());
        work.still_m.clear();
        work.still_m.extend(stills.map(|(low, high)| low + (high - low) * share));
    }
}

/// A direction between the nodes of elevation.
fn turn(direction: &JetDirection, elevations: &[f64]) -> Turn {
    match *direction {
        JetDirection::Blocked { along_m } => Turn::Blocked { along_m },
        JetDirection::Free { azimuth_rad, elevation_rad } => {
            let upper = elevations.partition_point(|node| *node < elevation_rad);
            let upper = upper.clamp(1, elevations.len() - 1);
            let (low, high) = (elevations[upper - 1], elevations[upper]);
            let share = ((elevation_rad - low) / (high - low)).clamp(0.0, 1.0);
            Turn::Free { azimuth_rad, map: upper - 1, share }
        }
    }
}

/// Nodes from the lowest to the highest elevation of the free turns, radians; at least two.
fn elevation_nodes(directions: &[JetDirection]) -> Vec<f64> {
    let free = directions.iter().filter_map(|direction| match direction {
        JetDirection::Free { elevation_rad, .. } => Some(*elevation_rad),
        JetDirection::Blocked { .. } => None,
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
