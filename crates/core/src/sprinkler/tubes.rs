//! Stream tubes: a jet's water cut into thin rings of still-air distance and these into steps of
//! azimuth, each carried by the wind and laid on the cells.
//!
//! Ring masses come from the leg exactly. Azimuths lie at (j + ½) π / n to both sides of the wind's
//! direction, so the two halves are mirror images to the last digit but one. A tube's displacement
//! is interpolated in the landing map: linear in speed (once a slice), distance (once a ring) and
//! azimuth. Blending and turning landing *places*, never grids, keeps patterns sharp.

use super::footprint::FootprintSettings;
use super::landing::{Displacement, LandingMap};
use super::leg::Leg;
use super::scratch::Scratch;
use libm::{cos, sin};
use std::f64::consts::PI;

/// Fewest azimuth samples on half a ring.
const FEWEST_SAMPLES: f64 = 16.0;

/// A thin ring of still-air landing distance.
#[derive(Debug)]
struct Ring {
    distance_m: f64,
    /// Landing class below it and share of the next.
    class: usize,
    share: f64,
    /// Water of one azimuth sample, L/h.
    sample_l_h: f64,
    /// Its samples in the list.
    first: usize,
    end: usize,
}

/// An azimuth sample on the left half circle.
#[derive(Debug)]
struct Sample {
    cos: f64,
    sin: f64,
    /// Azimuth node below it and share of the next.
    node: usize,
    share: f64,
    /// 1, or ½ on the wind's axis.
    weight: f64,
}

/// One jet cut into tubes, with the map that carries them.
#[derive(Debug)]
pub(super) struct Tubes<'a> {
    map: &'a LandingMap,
    rings: Vec<Ring>,
    samples: Vec<Sample>,
}

/// Tables that are filled anew for each slice.
#[derive(Debug, Default)]
pub(super) struct Workspace {
    blended: Vec<Displacement>,
    row: Vec<Displacement>,
}

/// Where the scratch's cells lie and how the wind turns the pattern, in cells.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placement {
    /// Column and row of the sprinkler, whole numbers at cell centers.
    pub(super) sprinkler: (f64, f64),
    /// Cells in one meter, times cosine and sine of the direction the wind blows to.
    pub(super) turn: (f64, f64),
}

/// The wind of a slice and the hours of water it carries.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gust {
    /// At the map's measuring height, m/s.
    pub(super) speed_m_s: f64,
    /// Hours times the portion that reaches the ground.
    pub(super) net_hours: f64,
}

impl<'a> Tubes<'a> {
    /// Cut a jet's leg into tubes about as wide as the settings say.
    pub(super) fn new(
        leg: &Leg,
        map: &'a LandingMap,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Self {
        let edges_m = ring_edges_m(leg.radius_m(), cell_m / settings.rings_per_cell, cell_m);
        let mut tubes = Self { map, rings: Vec::with_capacity(edges_m.len()), samples: Vec::new() };
        let mut inside_l_h = 0.0;
        for pair in edges_m.windows(2) {
            let (near, far) = (pair[0], pair[1]);
            let next_l_h = leg.volume_inside_l_h(far);
            // Mean distance over the ring's area: keeps the pattern's width to second order.
            let distance_m = 2.0 / 3.0 * (near * near + near * far + far * far) / (near + far);
            let half = PI * distance_m * settings.samples_per_cell / cell_m;
            let half = half.ceil().max(FEWEST_SAMPLES) as usize;
            tubes.push_ring(distance_m, next_l_h - inside_l_h, half);
            inside_l_h = next_l_h;
        }
        tubes
    }

    fn push_ring(&mut self, distance_m: f64, ring_l_h: f64, half: usize) {
        if ring_l_h <= 0.0 {
            return;
        }
        let (classes, azimuths) = (self.map.settings().classes, self.map.settings().azimuths);
        let split = |place: f64, nodes: usize| {
            let node = (place as usize).min(nodes - 2);
            (node, place - node as f64)
        };
        let (class, share) =
            split(distance_m / self.map.radius_m() * (classes - 1) as f64, classes);
        let first = self.samples.len();
        // Every other ring has its samples half a step on, so that they do not line up along the
        // wind's axis; on the axis itself a sample and its mirror image are one, at half weight each.
        let on_axis = self.rings.len() % 2 == 1;
        for j in 0..half + usize::from(on_axis) {
            let turn = (j as f64 + if on_axis { 0.0 } else { 0.5 }) / half as f64;
            let (node, share) = split(turn * (azimuths - 1) as f64, azimuths);
            let (cos, sin) = (cos(PI * turn), sin(PI * turn));
            let weight = if on_axis && (j == 0 || j == half) { 0.5 } else { 1.0 };
            self.samples.push(Sample { cos, sin, node, share, weight });
        }
        let sample_l_h = ring_l_h / (2 * half) as f64;
        let end = self.samples.len();
        self.rings.push(Ring { distance_m, class, share, sample_l_h, first, end });
    }

    /// Farthest from the sprinkler that water can be laid in a wind, m.
    pub(super) fn reach_m(&self, speed_m_s: f64, longest_flight_s: f64) -> f64 {
        let spread_m = self.map.spread_m_s(speed_m_s) * longest_flight_s;
        self.map.radius_m() + self.map.farthest_m(speed_m_s) + 2.0 * spread_m
    }

    /// Carry the jet's water with the wind and lay it on the scratch, in litres.
    pub(super) fn lay(
        &self,
        gust: Gust,
        placement: Placement,
        work: &mut Workspace,
        scratch: &mut Scratch,
    ) {
        let (lower, upper, share) = self.map.nodes(gust.speed_m_s);
        work.blended.clear();
        work.blended.extend(lower.iter().zip(upper).map(|(a, b)| between(a, b, share)));
        let spread_m_s = self.map.spread_m_s(gust.speed_m_s);
        let azimuths = self.map.settings().azimuths;
        for ring in &self.rings {
            let rows = &work.blended[ring.class * azimuths..(ring.class + 2) * azimuths];
            let (near, far) = rows.split_at(azimuths);
            work.row.clear();
            work.row.extend(near.iter().zip(far).map(|(a, b)| between(a, b, ring.share)));
            let litres = ring.sample_l_h * gust.net_hours;
            for (j, sample) in self.samples[ring.first..ring.end].iter().enumerate() {
                let litres = litres * sample.weight;
                let moved =
                    between(&work.row[sample.node], &work.row[sample.node + 1], sample.share);
                let along_m = ring.distance_m * sample.cos + moved.along_m;
                let cross_m = ring.distance_m * sample.sin + moved.cross_m;
                if spread_m_s > 0.0 {
                    // Two of the four points (±σ, ±σ), which have the variance σ² each way; the
                    // mirror image and the next sample take the other two.
                    let sigma_m = spread_m_s * moved.flight_s;
                    let slant_m = if j % 2 == 0 { sigma_m } else { -sigma_m };
                    for (a, c) in [(sigma_m, slant_m), (-sigma_m, -slant_m)] {
                        placement.lay_pair(along_m + a, cross_m + c, 0.5 * litres, scratch);
                    }
                } else {
                    placement.lay_pair(along_m, cross_m, litres, scratch);
                }
            }
        }
    }
}

/// Edges of the rings from 0 to the radius: `step_m` apart, and a third of that within three cells
/// of the sprinkler, where rings are small against cells.
pub(super) fn ring_edges_m(radius_m: f64, step_m: f64, cell_m: f64) -> Vec<f64> {
    let inner_m = (3.0 * cell_m).min(radius_m);
    let inner = (3.0 * inner_m / step_m).ceil() as usize;
    let outer = ((radius_m - inner_m) / step_m).ceil() as usize;
    let fine = (0..inner).map(|k| inner_m * k as f64 / inner as f64);
    let width_m = radius_m - inner_m;
    let coarse = (0..outer).map(|k| inner_m + width_m * k as f64 / outer as f64);
    fine.chain(coarse).chain([radius_m]).collect()
}

impl Placement {
    /// Lay `litres` at a place left of the wind's direction and as much at its mirror image.
    #[inline]
    fn lay_pair(&self, along_m: f64, cross_m: f64, litres: f64, scratch: &mut Scratch) {
        let (cos, sin) = self.turn;
        let column = self.sprinkler.0 + along_m * cos;
        let row = self.sprinkler.1 + along_m * sin;
        scratch.lay(column - cross_m * sin, row + cross_m * cos, litres);
        scratch.lay(column + cross_m * sin, row - cross_m * cos, litres);
    }
}

#[inline]
fn between(a: &Displacement, b: &Displacement, share: f64) -> Displacement {
    Displacement {
        along_m: a.along_m + (b.along_m - a.along_m) * share,
        cross_m: a.cross_m + (b.cross_m - a.cross_m) * share,
        flight_s: a.flight_s + (b.flight_s - a.flight_s) * share,
    }
}
