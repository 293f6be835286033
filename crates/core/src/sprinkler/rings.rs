//! A jet's water cut into thin rings of still-air distance, and what carries and places it.
//!
//! Ring masses come from the leg exactly. Each ring lies between two drop classes of the landing map.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::footprint::{FootprintSettings, Phase};
use super::landing::{AtSpeed, Displacement, LandingMap};
use super::leg::Leg;
use super::lumps::{Lumps, OnCells};
use super::scratch::Scratch;

/// A thin ring of still-air landing distance.
#[derive(Debug)]
pub(super) struct Ring {
    /// Mean distance over the ring's area: keeps the pattern's width to second order, m.
    pub(super) distance_m: f64,
    /// Landing class below it and share of the next.
    pub(super) class: usize,
    pub(super) share: f64,
    /// Its water, L/h.
    pub(super) volume_l_h: f64,
}

/// Rings of `leg` that hold water, from the sprinkler out; `classes` lie from 0 to `radius_m`.
pub(super) fn rings(
    leg: &Leg,
    (radius_m, classes): (f64, usize),
    cell_m: f64,
    settings: FootprintSettings,
) -> Vec<Ring> {
    let edges_m = edges_m(leg.radius_m(), cell_m / settings.rings_per_cell, cell_m);
    let mut inside_l_h = 0.0;
    let ring = |pair: &[f64]| {
        let (near, far) = (pair[0], pair[1]);
        let next_l_h = leg.volume_inside_l_h(far);
        let volume_l_h = next_l_h - inside_l_h;
        inside_l_h = next_l_h;
        let distance_m = 2.0 / 3.0 * (near * near + near * far + far * far) / (near + far);
        let (class, share) = split(distance_m / radius_m * (classes - 1) as f64, classes);
        Ring { distance_m, class, share, volume_l_h }
    };
    let all: Vec<Ring> = edges_m.windows(2).map(ring).collect();
    all.into_iter().filter(|ring| ring.volume_l_h > 0.0).collect()
}

/// The node below a place among `nodes` and the share of the next.
pub(super) fn split(place: f64, nodes: usize) -> (usize, f64) {
    let node = (place as usize).min(nodes - 2);
    (node, place - node as f64)
}

/// Edges of the rings from 0 to the radius: `step_m` apart, and a third of that within three cells
/// of the sprinkler, where rings are small against cells.
fn edges_m(radius_m: f64, step_m: f64, cell_m: f64) -> Vec<f64> {
    let inner_m = (3.0 * cell_m).min(radius_m);
    let inner = (3.0 * inner_m / step_m).ceil() as usize;
    let outer = ((radius_m - inner_m) / step_m).ceil() as usize;
    let fine = (0..inner).map(|k| inner_m * k as f64 / inner as f64);
    let width_m = radius_m - inner_m;
    let coarse = (0..outer).map(|k| inner_m + width_m * k as f64 / outer as f64);
    fine.chain(coarse).chain([radius_m]).collect()
}

/// The wind of a slice and the hours of water it carries.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gust {
    /// At the map's measuring height, m/s.
    pub(super) speed_m_s: f64,
    /// Direction it blows to, radians.
    pub(super) towards_rad: f64,
    /// Hours times the portion that reaches the ground.
    pub(super) net_hours: f64,
}

/// Where the sprinkler stands on the scratch, in cells, with whole numbers at cell centers.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub(super) column: f64,
    pub(super) row: f64,
    pub(super) cell_m: f64,
}

impl Place {
    pub(super) fn on(scratch: &Scratch, phase: Phase, cell_m: f64) -> Self {
        let center = scratch.center as f64 - 0.5;
        Self { column: center + phase.along, row: center + phase.across, cell_m }
    }
}

/// Two neighboring classes of a jet's drops in a wind.
#[derive(Debug, Default)]
pub(super) struct ClassesAt {
    at: AtSpeed,
    /// The nearer one; `None` where the wind is new.
    class: Option<usize>,
    pub(super) near: Vec<Displacement>,
    pub(super) far: Vec<Displacement>,
}

impl ClassesAt {
    /// Ready for a wind.
    pub(super) fn start(&mut self, map: &LandingMap, speed_m_s: f64) {
        (self.at, self.class) = (map.at_speed(speed_m_s), None);
    }

    /// Goes to class `class` and the next: rings come from the sprinkler out, so that mostly both or one
    /// of them are there.
    #[inline(always)]
    pub(super) fn go_to(&mut self, map: &LandingMap, class: usize) {
        if self.class == Some(class) {
            return;
        }
        if self.class.is_some_and(|before| before + 1 == class) {
            std::mem::swap(&mut self.near, &mut self.far);
        } else {
            self.near.clear();
            self.near.extend(map.of_classes(self.at, class..class + 1));
        }
        self.far.clear();
        self.far.extend(map.of_classes(self.at, class + 1..class + 2));
        self.class = Some(class);
    }
}

/// Room for what is made anew for each wind, ring or turn.
#[derive(Debug, Default)]
pub(super) struct Workspace {
    /// Displacements in the slice's wind, of all classes of a tilted jet.
    pub(super) blended: Vec<Displacement>,
    /// Those of an upright jet's classes, as its rings come.
    pub(super) classes: ClassesAt,
    /// Those of one ring, or of one turn of the sprinkler.
    pub(super) row: Vec<Displacement>,
    /// Still-air landings of one turn, m.
    pub(super) still_m: Vec<f64>,
    /// σ of the spread by turbulence in the wind, per second of flight, m/s.
    pub(super) spread_m_s: f64,
    /// Water of one ring.
    pub(super) lumps: Lumps,
    /// It and its mirror image on the way to cells.
    pub(super) on_cells: [OnCells; 2],
}
