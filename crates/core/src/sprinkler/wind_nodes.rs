//! Winds near which all others lie: speeds a step apart, directions about as far apart in arc.
//!
//! A pattern moves with the wind as a vector, by about as many meters for a turn of the wind as for
//! the same arc of speed. So directions stand close in strong winds and far apart in light ones, and
//! still air is one node. Only directions from 0 to 45° are nodes: the grid is square and the sprinkler
//! stands on a cell's corner, so any other pattern is one of these, mirrored or transposed, exactly.

use libm::{atan2, ceil, cos, round, sin};
use std::f64::consts::FRAC_PI_4;

/// Between nodes, m/s: along the wind, and across it as an arc. What is left over does not fall evenly with
/// the step (`benches/RESULTS.md`); of those tried, this one and 0.125 leave least.
const STEP_M_S: f64 = 0.1;

/// All nodes up to a speed.
#[derive(Debug)]
pub(super) struct WindNodes {
    /// First node of each speed, and the number of all after the last.
    first: Vec<usize>,
}

/// How a pattern lies on the grid, seen from that of its node: transposed first, mirrored then.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Octant {
    /// Rows for columns: the wind blows more along y than along x.
    pub(super) transposed: bool,
    /// The wind blows to −x.
    pub(super) mirrored_along: bool,
    /// The wind blows to −y.
    pub(super) mirrored_across: bool,
}

impl Octant {
    /// What lies at (x, y) in the node's pattern lies here.
    pub(super) fn turned(self, (x, y): (f64, f64)) -> (f64, f64) {
        let (x, y) = if self.transposed { (y, x) } else { (x, y) };
        (if self.mirrored_along { -x } else { x }, if self.mirrored_across { -y } else { y })
    }
}

/// The node nearest to a wind.
#[derive(Clone, Copy, Debug)]
pub(super) struct Near {
    pub(super) node: usize,
    pub(super) octant: Octant,
    /// The wind less the node's, along x and y, m/s.
    pub(super) beyond_m_s: (f64, f64),
}

impl WindNodes {
    /// Nodes of all speeds that a landing map to `fastest_m_s` holds.
    pub(super) fn up_to(fastest_m_s: f64) -> Self {
        let speeds = (fastest_m_s / STEP_M_S + 1e-9) as usize;
        let mut first = vec![0];
        for speed in 0..=speeds {
            first.push(first[speed] + directions(speed));
        }
        Self { first }
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.first.last().copied().unwrap_or(0)
    }

    /// The node nearest to a wind.
    pub(super) fn nearest(&self, speed_m_s: f64, towards_rad: f64) -> Near {
        let speed = (round(speed_m_s / STEP_M_S) as usize).min(self.first.len() - 2);
        let (x, y) = (speed_m_s * cos(towards_rad), speed_m_s * sin(towards_rad));
        if speed == 0 {
            return Near { node: 0, octant: Octant::default(), beyond_m_s: (x, y) };
        }
        let octant = Octant {
            transposed: y.abs() > x.abs(),
            mirrored_along: x < 0.0,
            mirrored_across: y < 0.0,
        };
        let (low, high) = (x.abs().min(y.abs()), x.abs().max(y.abs()));
        let last = directions(speed) - 1;
        let direction = round(atan2(low, high) / FRAC_PI_4 * last as f64) as usize;
        let node = self.first[speed] + direction.min(last);
        let (node_m_s, node_rad) = self.wind(node);
        let (at_x, at_y) = octant.turned((node_m_s * cos(node_rad), node_m_s * sin(node_rad)));
        Near { node, octant, beyond_m_s: (x - at_x, y - at_y) }
    }

    /// How many speeds there are, still air among them.
    pub(super) fn speeds(&self) -> usize {
        self.first.len() - 1
    }

    /// Which of the speeds a node has.
    pub(super) fn speed(&self, node: usize) -> usize {
        self.first.partition_point(|first| *first <= node) - 1
    }

    /// Speed (m/s) and direction (radians) of a node.
    pub(super) fn wind(&self, node: usize) -> (f64, f64) {
        let speed = self.speed(node);
        let last = (directions(speed) - 1).max(1);
        let direction = (node - self.first[speed]) as f64 / last as f64;
        (speed as f64 * STEP_M_S, direction * FRAC_PI_4)
    }
}

/// Nodes from 0 to 45°, both ends included, at `speed` steps; one in still air.
fn directions(speed: usize) -> usize {
    ceil(speed as f64 * FRAC_PI_4) as usize + 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn closed_every_node_is_nearest_to_itself_in_all_eight_octants() {
        let nodes = WindNodes::up_to(6.0);
        assert_eq!(nodes.wind(0), (0.0, 0.0));
        for node in 0..nodes.len() {
            let (speed_m_s, towards_rad) = nodes.wind(node);
            for quarter in 0..4 {
                for side in [-1.0, 1.0] {
                    let towards_rad = f64::from(quarter) * FRAC_PI_2 + side * towards_rad;
                    let near = nodes.nearest(speed_m_s, towards_rad);
                    let (x, y) = near.beyond_m_s;
                    assert_eq!(near.node, node);
                    assert!(x.abs() < 1e-12 && y.abs() < 1e-12, "{near:?}");
                }
            }
        }
        // Steps in arc of at most 0.1 m/s: at 6 m/s an eighth of the circle takes 48 of them.
        assert_eq!((nodes.wind(nodes.len() - 1).0, directions(60)), (6.0, 49));
    }

    #[test]
    fn invariant_no_wind_is_farther_from_its_node_than_half_a_step_each_way() {
        let nodes = WindNodes::up_to(9.0);
        for k in 0..4000 {
            let (speed_m_s, towards_rad) = (f64::from(k) * 0.002_25, f64::from(k) * 0.7);
            let (x, y) = nodes.nearest(speed_m_s, towards_rad).beyond_m_s;
            // Along and across, so √2 of it in all; a little more where the arc is less than the step.
            let apart_m_s = (x * x + y * y).sqrt();
            assert!(apart_m_s < 0.72 * STEP_M_S, "{speed_m_s} {towards_rad}: {apart_m_s}");
        }
    }
}
