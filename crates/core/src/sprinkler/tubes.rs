//! Stream tubes of an upright jet: rings of still-air distance cut into steps of azimuth, each
//! carried by the wind and laid on the cells.
//!
//! Azimuths lie at (j + ½) π / n to both sides of the wind's direction, so the two halves are mirror
//! images to the last digit but one. A tube's displacement is interpolated in the landing map: linear
//! in speed (once a slice), distance (once a ring) and azimuth. Blending and turning landing *places*,
//! never grids, keeps patterns sharp.

use super::footprint::FootprintSettings;
use super::landing::LandingMap;
use super::leg::Leg;
use super::rings::{Gust, Place, Ring, Workspace, rings, split};
use super::scratch::Scratch;
use libm::{cos, sin};
use std::f64::consts::PI;
use std::ops::Range;
use std::sync::Arc;

/// Fewest azimuth samples on half a ring.
const FEWEST_SAMPLES: f64 = 16.0;

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

/// One upright jet cut into tubes, with the map that carries them.
#[derive(Debug)]
pub(super) struct Tubes {
    map: Arc<LandingMap>,
    /// Each ring with its samples in the list.
    rings: Vec<(Ring, Range<usize>)>,
    samples: Vec<Sample>,
}

impl Tubes {
    /// Cut a jet's leg into tubes about as wide as the settings say.
    pub(super) fn new(
        leg: &Leg,
        map: &Arc<LandingMap>,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Self {
        let classes = (map.radius_m(), map.settings().classes);
        let mut tubes = Self { map: Arc::clone(map), rings: Vec::new(), samples: Vec::new() };
        for mut ring in rings(leg, classes, cell_m, settings) {
            let half = PI * ring.distance_m * settings.samples_per_cell / cell_m;
            let half = half.ceil().max(FEWEST_SAMPLES) as usize;
            let samples = tubes.push_samples(half);
            // From here on the water of one sample.
            ring.volume_l_h /= (2 * half) as f64;
            tubes.rings.push((ring, samples));
        }
        tubes
    }

    fn push_samples(&mut self, half: usize) -> Range<usize> {
        let azimuths = self.map.settings().azimuths;
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
        first..self.samples.len()
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
        place: Place,
        work: &mut Workspace,
        scratch: &mut Scratch,
    ) {
        let pairs = Pairs::new(gust, place);
        let lay = |along_m, cross_m, litres| pairs.lay(along_m, cross_m, litres, scratch);
        self.each_lump(gust.speed_m_s, gust.net_hours, work, lay);
    }

    /// Carries the jet's water with a wind and hands over each lump to the left of it: down the wind (m),
    /// to its left (m) and litres. As much falls at the lump's mirror image.
    #[inline]
    pub(super) fn each_lump(
        &self,
        speed_m_s: f64,
        net_hours: f64,
        work: &mut Workspace,
        mut lay: impl FnMut(f64, f64, f64),
    ) {
        work.blended.clear();
        self.map.extend_at(speed_m_s, &mut work.blended);
        let spread_m_s = self.map.spread_m_s(speed_m_s);
        let azimuths = self.map.settings().azimuths;
        for (ring, samples) in &self.rings {
            let rows = &work.blended[ring.class * azimuths..(ring.class + 2) * azimuths];
            let (near, far) = rows.split_at(azimuths);
            work.row.clear();
            work.row.extend(near.iter().zip(far).map(|(near, far)| near.to(far, ring.share)));
            let litres = ring.volume_l_h * net_hours;
            for (j, sample) in self.samples[samples.clone()].iter().enumerate() {
                let litres = litres * sample.weight;
                let moved = work.row[sample.node].to(&work.row[sample.node + 1], sample.share);
                let along_m = ring.distance_m * sample.cos + moved.along_m;
                let cross_m = ring.distance_m * sample.sin + moved.cross_m;
                if spread_m_s > 0.0 {
                    // Two of the four points (±σ, ±σ), which have the variance σ² each way; the
                    // mirror image and the next sample take the other two.
                    let sigma_m = spread_m_s * moved.flight_s;
                    let slant_m = if j % 2 == 0 { sigma_m } else { -sigma_m };
                    for (a, c) in [(sigma_m, slant_m), (-sigma_m, -slant_m)] {
                        lay(along_m + a, cross_m + c, 0.5 * litres);
                    }
                } else {
                    lay(along_m, cross_m, litres);
                }
            }
        }
    }
}

/// Lays water and its mirror image about the wind's direction.
struct Pairs {
    column: f64,
    row: f64,
    /// Cells in one meter, times cosine and sine of the direction the wind blows to.
    cos: f64,
    sin: f64,
}

impl Pairs {
    fn new(gust: Gust, place: Place) -> Self {
        let (cos, sin) = (cos(gust.towards_rad), sin(gust.towards_rad));
        let (column, row) = (place.column, place.row);
        Self { column, row, cos: cos / place.cell_m, sin: sin / place.cell_m }
    }

    /// Lay `litres` at a place left of the wind's direction and as much at its mirror image.
    #[inline]
    fn lay(&self, along_m: f64, cross_m: f64, litres: f64, scratch: &mut Scratch) {
        let column = self.column + along_m * self.cos;
        let row = self.row + along_m * self.sin;
        scratch.lay(column - cross_m * self.sin, row + cross_m * self.cos, litres);
        scratch.lay(column + cross_m * self.sin, row - cross_m * self.cos, litres);
    }
}
