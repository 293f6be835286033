//! Azimuths in which drops are flown, and how what they find is filled in between.
//!
//! A landing is a smooth function of the jet's azimuth θ, the two halves of the circle being mirror images:
//! what lies along the wind is even in θ, what lies across it odd. It bends most where jets leave almost
//! straight down the wind or into it, so the 16 flights lie at θ = t + 0.3 sin t − 0.3 sin 2t − 0.1 sin 3t, t from 0
//! to π in equal steps: 5° apart at both ends and 22° at most between. Each node takes Lagrange's polynomial
//! through the six flights around it, mirrored ones where the half circle ends.
//!
//! Measured against flights in all of 37 azimuths, two forms of the drag, winds to 10 m/s: 2.5 cm at worst
//! and 1.2 mm in the root mean square; the tolerance of the flights themselves leaves 2 to 3 cm and 3 to
//! 5 mm.

use super::flight::ABREAST;
use libm::sin;
use std::f64::consts::PI;

/// Shares of the flown azimuths in each node's.
#[derive(Debug)]
pub(super) struct Azimuths {
    /// Radians from the wind's direction.
    pub(super) flown_rad: [f64; ABREAST],
    /// A row a node.
    shares: Vec<Shares>,
}

/// Of each flown azimuth in one node.
#[derive(Debug)]
struct Shares {
    even: [f64; ABREAST],
    odd: [f64; ABREAST],
}

impl Azimuths {
    /// For so many nodes over the half circle, at least 2, both ends included.
    pub(super) fn over(nodes: usize) -> Self {
        if nodes <= ABREAST {
            // Lanes that are not needed fly what the last one flies.
            let rad = |k: usize| PI * k.min(nodes - 1) as f64 / (nodes - 1) as f64;
            let own = |node: usize| std::array::from_fn(|k| if k == node { 1.0 } else { 0.0 });
            let shares = (0..nodes).map(|node| Shares { even: own(node), odd: own(node) });
            return Self { flown_rad: std::array::from_fn(rad), shares: shares.collect() };
        }
        let flown_rad = std::array::from_fn(|k| flown_rad(k as isize));
        let node_rad = |node: usize| PI * node as f64 / (nodes - 1) as f64;
        Self { flown_rad, shares: (0..nodes).map(|node| Shares::at(node_rad(node))).collect() }
    }

    /// Number of nodes.
    pub(super) fn nodes(&self) -> usize {
        self.shares.len()
    }

    /// What is found at each node: an even, an odd and another even quantity.
    pub(super) fn fill<'a>(
        &'a self,
        flown: &'a [[f64; ABREAST]; 3],
    ) -> impl Iterator<Item = [f64; 3]> + 'a {
        let sum = |shares: &[f64; ABREAST], flown: &[f64; ABREAST]| {
            shares.iter().zip(flown).map(|(share, flown)| share * flown).sum::<f64>()
        };
        self.shares.iter().map(move |Shares { even, odd }| {
            [sum(even, &flown[0]), sum(odd, &flown[1]), sum(even, &flown[2])]
        })
    }
}

/// The last of the flown azimuths, π.
const LAST: isize = ABREAST as isize - 1;
/// Flights around a node that it is made of.
const AROUND: isize = 6;

/// Flown azimuth `k`; those before 0 and after the last are mirror images.
fn flown_rad(k: isize) -> f64 {
    let t = PI * k as f64 / LAST as f64;
    t + 0.3 * sin(t) - 0.3 * sin(2.0 * t) - 0.1 * sin(3.0 * t)
}

impl Shares {
    fn at(node_rad: f64) -> Self {
        let mut shares = Self { even: [0.0; ABREAST], odd: [0.0; ABREAST] };
        let after = (0..LAST).find(|k| flown_rad(*k) > node_rad).unwrap_or(LAST);
        let around = after - AROUND / 2..after + AROUND / 2;
        for k in around.clone() {
            let (own_rad, others) = (flown_rad(k), around.clone().filter(|other| *other != k));
            let factors = others.map(|other| {
                let other_rad = flown_rad(other);
                (node_rad - other_rad) / (own_rad - other_rad)
            });
            let weight: f64 = factors.product();
            // Before 0 lies the image of 1, after the last that of the last but one.
            let (flown, side) = if k < 0 {
                (-k, -1.0)
            } else if k > LAST {
                (2 * LAST - k, -1.0)
            } else {
                (k, 1.0)
            };
            shares.even[flown as usize] += weight;
            shares.odd[flown as usize] += side * weight;
        }
        shares
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_nodes_between_are_filled_by_waves_as_they_run() {
        for nodes in [5, 16, 19, 37, 73] {
            let azimuths = Azimuths::over(nodes);
            let even = |rad: f64| 3.0 - rad.cos() + 0.2 * (2.0 * rad).cos();
            let odd = |rad: f64| 2.0 * rad.sin() - 0.3 * (3.0 * rad).sin();
            let flown = azimuths.flown_rad;
            let flown = [flown.map(even), flown.map(odd), flown.map(|_| 1.5)];
            let found: Vec<_> = azimuths.fill(&flown).collect();
            assert_eq!(found.len(), nodes);
            for (node, found) in found.iter().enumerate() {
                let rad = PI * node as f64 / (nodes - 1) as f64;
                // 22° apart, six points miss a wave of 120° by 3.5 · (0.38 · 3)⁶ / 720 of it at most.
                assert!((found[0] - even(rad)).abs() < 3e-3, "{nodes} {node}: {found:?}");
                assert!((found[1] - odd(rad)).abs() < 3e-3, "{nodes} {node}: {found:?}");
                assert!((found[2] - 1.5).abs() < 1e-12, "{nodes} {node}: {found:?}");
            }
        }
    }

    #[test]
    fn closed_flown_azimuths_run_from_0_to_half_a_turn() {
        let flown = Azimuths::over(37).flown_rad.map(f64::to_degrees);
        let steps: Vec<f64> = flown.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(flown[0] == 0.0 && (flown[ABREAST - 1] - 180.0).abs() < 1e-9);
        assert!(steps.iter().all(|step| (4.5..22.0).contains(step)), "{steps:?}");
    }
}
