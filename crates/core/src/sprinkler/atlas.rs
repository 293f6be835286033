//! Footprints for runs of many seasons: read from patterns that are made once, instead of laid hour
//! by hour.
//!
//! A season has some 3,000 hours of water, and laying an hour's wind costs the maker 30,000 lumps of
//! water, 0.25 ms. Yet all these winds are much alike: an *atlas* knows patterns only of winds on nodes,
//! each made when it is first met, and every hour reads the node nearest to it, in 0.0025 ms. Water is laid
//! once for all nodes of a speed, in the wind's own axes, and a node's pattern read there turned, which takes
//! a small part of the time (`own_wind`). The maker stays the exact way, and the reference; single
//! seasons, pictures and catch tests ask it.
//!
//! **Which winds.** A pattern moves with the wind as a vector, so nodes lie 0.1 m/s apart in speed and
//! as far apart in arc (`wind_nodes`): about 5,800 hold all winds to 12 m/s. A wind is never farther than
//! 0.07 m/s from its node. At a flight of 1.5 s that is a tenth of a meter for a pattern of 28, and there
//! are 12 hours in a set and 12 sets to a place.
//!
//! **Why a node serves eight directions.** With the sprinkler on a cell's corner, a square grid looks
//! the same mirrored or transposed. So nodes are laid at the corner, for winds from 0 to 45°, and read
//! mirrored or transposed for the rest (`patterns`): the same water in the same cells, not an
//! approximation.
//!
//! **Where the sprinkler stands.** It seldom stands on a corner. The sum of a set is moved to its place
//! once, by weights over six cells each way that keep water and center of mass (`sub_cell`). Principle 5
//! of the house, that footprints are never resampled, is given up here for this one step, at a price
//! that is measured: 0.17 % of a pattern's water lies in another cell than where the maker lays it.
//!
//! **What the nodes leave over is put right on the way.** What is left over is known for every hour:
//! (wind − node) · drift, the drift being what carried the pattern's center of mass to its node, by each
//! m/s. Its mean over the set's hours is one more move, which costs nothing. About that mean it spreads
//! the water by its variance, which makes sums look evener than they are; the same weights draw it
//! together. Without the two, and with nodes 0.25 m/s apart, CU came out 0.004 to 0.010 points too high in
//! the mean of four seasons and 0.018 at worst; with them −0.002 to 0.003, and 0.007 at worst. Handing each
//! hour's rest on to the next hour was tried and is worse (the rests double and spread more), so is blending
//! neighboring nodes (it spreads, too).
//!
//! **Water.** Patterns are per net hour; losses are each hour's own. The sum of a set is brought to
//! discharge · Σ hours · net in one step, so its water is right to the last digits, although patterns are
//! kept as `f32` and the weights' overshoot below nothing is cut off at the rims. Nothing is negative,
//! and nothing lies where the pattern, moved, cannot reach.
//!
//! **The same digits always.** A node's pattern depends on the sprinkler and on the node alone, so it
//! does not matter who makes it first, or whether two threads both do; nor whether it is kept: an atlas
//! keeps 32 MB at most, and what does not fit is made each time. (With cells of half a foot most of it does not
//! fit, and hours may then cost more than laid in their own wind.)
//!
//! **How far it is off.** Seasons of 12 passes of 22 sets of 12 hours, 40 × 60 ft, in four seasons of
//! drawn wind, by atlas and by maker (same rings and samples), greatest difference in points of
//! percent, of the season's depth:
//!
//! | sprinkler | CU | DUlq | CU of two stops less CU of one |
//! | --- | --- | --- | --- |
//! | leg as measured, drag that scenarios start from | 0.002 | 0.002 | 0.001 |
//! | half ellipse, which ends upright, without turbulence | 0.002 | 0.005 | 0.003 |
//!
//! Over 50 of the demo's seasons with all doubts drawn, CU and DUlq are 0.0045 and 0.0075 apart at worst,
//! differences between alternatives 0.0031 and 0.0062; with nodes 0.25 m/s apart it was 0.012, 0.015, 0.011
//! and 0.012. Another draw of the weather moves CU by half a point. The tests keep 0.02, 0.02 and 0.01.
//!
//! Neglected: that drops of all sizes do not drift alike, in what the nodes leave over. A tilted
//! sprinkler has no such symmetries: its atlas asks the maker every time.

use super::footprint::{Footprint, Phase, WindSlice};
use super::maker::FootprintMaker;
use super::own_wind::OwnWind;
use super::patterns::{Part, Pattern, sums};
use super::problem::SprinklerProblem;
use super::sub_cell::Move;
use super::wind_nodes::{Near, WindNodes};
use std::convert::Infallible;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, OnceLock};

/// Most memory for what is kept, bytes. What is met beyond it is made anew each time.
const MOST_BYTES: usize = 32 << 20;

/// The patterns of one sprinkler on nodes of the wind.
#[derive(Debug)]
pub(crate) struct Atlas {
    maker: Arc<FootprintMaker>,
    /// None for a sprinkler that stands tilted.
    nodes: Option<Nodes>,
}

/// The nodes of an upright sprinkler, each made when it is first met.
#[derive(Debug)]
struct Nodes {
    winds: WindNodes,
    /// All that is delivered, as if onto one cell, mm/h.
    discharge_mm_h: f64,
    known: Vec<OnceLock<Arc<Pattern>>>,
    /// What is laid at each speed, in the wind's own axes; none in still air.
    speeds: Vec<OnceLock<Arc<Option<OwnWind>>>>,
    kept_bytes: AtomicUsize,
}

impl Atlas {
    /// Of the sprinkler that `maker` lays.
    pub(crate) fn new(maker: Arc<FootprintMaker>) -> Self {
        let nodes = maker.upright_mm_h().map(|discharge_mm_h| {
            let winds = WindNodes::up_to(maker.fastest_m_s());
            let known = (0..winds.len()).map(|_| OnceLock::new()).collect();
            let speeds = (0..winds.speeds()).map(|_| OnceLock::new()).collect();
            Nodes { winds, discharge_mm_h, known, speeds, kept_bytes: AtomicUsize::new(0) }
        });
        Self { maker, nodes }
    }

    /// Net depth of a whole set, mm, with the sprinkler at each of `phases`, within what the head of this
    /// file says of the maker's; slices without water or time add nothing.
    ///
    /// # Errors
    /// Those of [`FootprintMaker::set_footprint`].
    pub(crate) fn set_footprints(
        &self,
        slices: &[WindSlice],
        phases: &[Phase],
    ) -> Result<Vec<Footprint>, SprinklerProblem> {
        let Some(nodes) = &self.nodes else {
            return phases.iter().map(|phase| self.maker.set_footprint(slices, *phase)).collect();
        };
        for phase in phases {
            self.maker.check(slices, *phase)?;
        }
        let mut parts = Vec::with_capacity(slices.len());
        let mut beyond = Beyond::default();
        for slice in slices {
            let net_hours = slice.hours * slice.net;
            if net_hours > 0.0 {
                let Near { node, octant, beyond_m_s } =
                    nodes.winds.nearest(slice.speed_m_s, slice.towards_rad);
                let (x, y) = beyond_m_s;
                let drift = nodes.drift_cells_per_m_s(&self.maker, node)?;
                beyond.add(net_hours, [x * drift, y * drift]);
                parts.push(Part { pattern: nodes.pattern(&self.maker, node)?, octant, net_hours });
            }
        }
        let moves: Vec<[Move; 2]> = phases.iter().map(|phase| beyond.moves(*phase)).collect();
        Ok(sums(&parts, &moves, nodes.discharge_mm_h * beyond.net_hours))
    }
}

impl Nodes {
    /// The pattern of a node, made now if it is not known. Two threads may both make it: they make
    /// the same, and neither waits for the other.
    fn pattern(
        &self,
        maker: &FootprintMaker,
        node: usize,
    ) -> Result<Arc<Pattern>, SprinklerProblem> {
        self.kept_or_made(&self.known[node], Pattern::bytes, || {
            let (speed_m_s, towards_rad) = self.winds.wind(node);
            if let Some(own) = self.own_wind(maker, node).as_ref() {
                return Ok(own.towards(towards_rad));
            }
            let hour = WindSlice { hours: 1.0, net: 1.0, speed_m_s, towards_rad };
            Ok(Pattern::of(&maker.set_footprint(&[hour], Phase::CORNER)?))
        })
    }

    /// What is laid at a node's speed in the wind's own axes.
    fn own_wind(&self, maker: &FootprintMaker, node: usize) -> Arc<Option<OwnWind>> {
        let (speed_m_s, _) = self.winds.wind(node);
        let bytes = |own: &Option<OwnWind>| own.as_ref().map_or(0, OwnWind::bytes);
        let place = &self.speeds[self.winds.speed(node)];
        let made = || Ok::<_, Infallible>(maker.own_wind(speed_m_s));
        match self.kept_or_made(place, bytes, made) {
            Ok(own) => own,
            Err(never) => match never {},
        }
    }

    /// What is kept at a place, or made now and kept if there is room.
    fn kept_or_made<T, E>(
        &self,
        place: &OnceLock<Arc<T>>,
        bytes: impl Fn(&T) -> usize,
        make: impl FnOnce() -> Result<T, E>,
    ) -> Result<Arc<T>, E> {
        if let Some(known) = place.get() {
            return Ok(Arc::clone(known));
        }
        let made = Arc::new(make()?);
        let bytes = bytes(&made);
        let kept_bytes = self.kept_bytes.fetch_add(bytes, Ordering::Relaxed);
        if kept_bytes + bytes <= MOST_BYTES {
            return Ok(Arc::clone(place.get_or_init(|| made)));
        }
        self.kept_bytes.fetch_sub(bytes, Ordering::Relaxed);
        Ok(made)
    }

    /// How far a pattern is carried by each m/s of wind about a node, cells: as far as it was carried
    /// to the node. Still air takes that of the lightest wind.
    fn drift_cells_per_m_s(
        &self,
        maker: &FootprintMaker,
        node: usize,
    ) -> Result<f64, SprinklerProblem> {
        let node = node.max(1).min(self.winds.len() - 1);
        let (speed_m_s, _) = self.winds.wind(node);
        let pattern = self.pattern(maker, node)?;
        Ok(if speed_m_s > 0.0 { pattern.drift_cells / speed_m_s } else { 0.0 })
    }
}

/// How far the winds of a set lie beyond their nodes: sums by net hours of the way that carries a
/// pattern, cells, and its square, along and across.
#[derive(Debug, Default)]
struct Beyond {
    net_hours: f64,
    ways: [f64; 2],
    squares: [f64; 2],
}

impl Beyond {
    fn add(&mut self, net_hours: f64, ways: [f64; 2]) {
        self.net_hours += net_hours;
        for (axis, way) in ways.into_iter().enumerate() {
            self.ways[axis] += net_hours * way;
            self.squares[axis] += net_hours * way * way;
        }
    }

    /// Moves to the place in the cell by way of the mean, narrowed by the variance about it.
    fn moves(&self, phase: Phase) -> [Move; 2] {
        let by_cells = [phase.along, phase.across];
        std::array::from_fn(|axis| {
            let hours = self.net_hours.max(f64::MIN_POSITIVE);
            let mean = self.ways[axis] / hours;
            let variance = (self.squares[axis] / hours - mean * mean).max(0.0);
            Move::new(by_cells[axis] + mean, variance)
        })
    }
}

#[cfg(test)]
pub(super) mod tests;
