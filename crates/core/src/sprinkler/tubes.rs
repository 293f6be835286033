//! Stream tubes of an upright jet: rings of still-air distance cut into steps of azimuth, each
//! carried by the wind (`laying` brings their water onto cells).
//!
//! Azimuths lie at (j + ½) π / n to both sides of the wind's direction, so the two halves are mirror
//! images to the last digit but one. A tube's displacement is interpolated in the landing map: linear
//! in speed (once a wind), distance (once a ring) and azimuth. Blending and turning landing *places*,
//! never grids, keeps patterns sharp.

// What runs under `Arch::dispatch` must be inlined there to be compiled for its vectors.
#![allow(clippy::inline_always)]

use super::footprint::FootprintSettings;
use super::landing::LandingMap;
use super::leg::Leg;
use super::rings::{Ring, Workspace, rings, split};
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
        for (number, mut ring) in rings(leg, classes, cell_m, settings).into_iter().enumerate() {
            let half = PI * ring.distance_m * settings.samples_per_cell / cell_m;
            let half = half.ceil().max(FEWEST_SAMPLES) as usize;
            // Every other ring has its samples half a step on, so that they do not line up along the
            // wind's axis.
            let samples = tubes.push_samples(half, number % 2 == 1);
            // From here on the water of one sample.
            ring.volume_l_h /= (2 * half) as f64;
            tubes.rings.push((ring, samples));
        }
        tubes
    }

    /// Samples on half a ring; on the wind's axis a sample and its mirror image are one, at half weight each.
    fn push_samples(&mut self, half: usize, on_axis: bool) -> Range<usize> {
        let azimuths = self.map.settings().azimuths;
        let first = self.samples.len();
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

    /// The rings.
    pub(super) fn rings(&self) -> Range<usize> {
        0..self.rings.len()
    }

    /// Makes `work` ready to carry water with a wind.
    pub(super) fn start(&self, speed_m_s: f64, work: &mut Workspace) {
        work.classes.start(&self.map, speed_m_s);
        work.spread_m_s = self.map.spread_m_s(speed_m_s);
    }

    /// Carries the water of a ring, in as many hours, with the wind that `work` is ready for: lumps to the left
    /// of the wind. As much falls at each lump's mirror image.
    #[inline(always)]
    pub(super) fn carry(&self, ring: usize, net_hours: f64, work: &mut Workspace) {
        let (ring, samples) = &self.rings[ring];
        let Workspace { classes, row, spread_m_s, lumps, .. } = work;
        classes.go_to(&self.map, ring.class);
        row.clear();
        let both = classes.near.iter().zip(&classes.far);
        row.extend(both.map(|(near, far)| near.to(far, ring.share)));
        let samples = &self.samples[samples.clone()];
        let water = ring.volume_l_h * net_hours;
        let carried = |sample: &Sample| {
            let moved = row[sample.node].to(&row[sample.node + 1], sample.share);
            let along_m = ring.distance_m * sample.cos + moved.along_m;
            let cross_m = ring.distance_m * sample.sin + moved.cross_m;
            (along_m, cross_m, moved.flight_s)
        };
        if *spread_m_s > 0.0 {
            // Two of the four points (±σ, ±σ), which have the variance σ² each way; the mirror image and
            // the next sample take the other two.
            let (along, cross, litres) = lumps.room(2 * samples.len());
            let pairs = along.as_chunks_mut::<2>().0.iter_mut().zip(cross.as_chunks_mut::<2>().0);
            let pairs = pairs.zip(litres.as_chunks_mut::<2>().0);
            let mut turn = *spread_m_s;
            for (sample, ((along, cross), litres)) in samples.iter().zip(pairs) {
                let (along_m, cross_m, flight_s) = carried(sample);
                let (sigma_m, slant_m) = (*spread_m_s * flight_s, turn * flight_s);
                *along = [along_m + sigma_m, along_m - sigma_m];
                *cross = [cross_m + slant_m, cross_m - slant_m];
                *litres = [0.5 * water * sample.weight; 2];
                turn = -turn;
            }
        } else {
            let (along, cross, litres) = lumps.room(samples.len());
            let places = along.iter_mut().zip(cross).zip(litres);
            for (sample, ((along, cross), litres)) in samples.iter().zip(places) {
                (*along, *cross, _) = carried(sample);
                *litres = water * sample.weight;
            }
        }
    }
}
