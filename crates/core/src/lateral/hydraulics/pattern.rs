//! The pattern at another pressure, and a lateral's patterns from a few pressures.
//!
//! At another pressure of its jet (that of the nozzle, or what flow control makes of it) a sprinkler
//! delivers in proportion to √P, throws to R ∝ Pᵐ and its drops leave at that pressure's speed; the
//! leg keeps its shape (the ring that low pressure leaves is not made). Footprints are computed at a
//! few pressures and a sprinkler between two of them lays a blend of both, each brought to its own
//! discharge first. What a blend misses goes with s (1 − s) Δ², Δ from one pressure to the next and s
//! the sprinkler's place between them: there are as many pressures as keep its mean over the sprinklers
//! within that of sprinklers spread evenly over steps of [`STEP`], and no step is much wider. From
//! one to the next the radius grows by some 1 %, a quarter of a usual cell, so the blend misses
//! footprints made at each sprinkler's very own pressure by 1 to 2e-4 of the mean depth on average,
//! and by more than 1e-3 in three cells of a thousand (tested; the sharp rim of a flat disc in still
//! air, which no sprinkler has, misses 8e-4 on average and 2.5 % in single cells). Water is exact.

use super::line::PressureLine;
use crate::sprinkler::{Sprinkler, SprinklerProblem};
use libm::{log, pow};

/// Step between two pressures for which footprints are made, in the logarithm of pressure.
const STEP: f64 = 0.05;
/// Widest step, where most sprinklers lie near one of the pressures.
const WIDEST: f64 = 0.0625;
/// Pressures that differ by less than this share are one.
const SAME: f64 = 1e-9;

/// `sprinkler` at another pressure of its jet; `radius_exponent` is m of R ∝ Pᵐ. Flow control is in
/// that pressure already.
///
/// # Errors
/// A pressure or a radius that cannot be computed with.
pub(crate) fn at_pressure(
    sprinkler: &Sprinkler,
    jet_kpa: f64,
    radius_exponent: f64,
) -> Result<Sprinkler, SprinklerProblem> {
    let nominal_kpa = sprinkler.jets.first().map_or(jet_kpa, |jet| jet.launch.pressure_kpa);
    let ratio = jet_kpa / nominal_kpa;
    let jets = sprinkler.jets.iter().map(|jet| jet.at(ratio, radius_exponent));
    let jets = jets.collect::<Result<_, _>>()?;
    Ok(Sprinkler { jets, drag: sprinkler.drag, flow_control: None })
}

/// How the sprinklers of a lateral are made up of footprints at a few pressures.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Blend {
    /// Pressures for which footprints are made, rising, kPa.
    pub(crate) nodes_kpa: Vec<f64>,
    /// Per pressure, per sprinkler: how much of that footprint it lays.
    pub(crate) portions: Vec<Vec<f64>>,
}

impl Blend {
    /// The blend for a solved lateral.
    pub(crate) fn of(line: &PressureLine) -> Self {
        let all_kpa = line.outlets.iter().map(|outlet| outlet.jet_kpa);
        let least = all_kpa.clone().fold(f64::INFINITY, f64::min);
        let most = all_kpa.clone().fold(0.0, f64::max);
        let range = log(most / least);
        let places: Vec<f64> = all_kpa.clone().map(|kpa| log(kpa / least) / range).collect();
        let gaps = if range < SAME { 0 } else { gaps(&places, range) };
        let node_kpa = |node: usize| match node {
            0 => least,
            node if node == gaps => most,
            node => least * pow(most / least, node as f64 / gaps as f64),
        };
        let nodes_kpa: Vec<f64> = (0..=gaps).map(node_kpa).collect();
        let mut portions = vec![vec![0.0; line.outlets.len()]; nodes_kpa.len()];
        for (sprinkler, jet_kpa) in all_kpa.enumerate() {
            let place = if gaps == 0 { 0.0 } else { places[sprinkler] * gaps as f64 };
            let below = (place as usize).min(gaps.saturating_sub(1));
            let share = (place - below as f64).clamp(0.0, 1.0);
            // Discharges go with √P: each footprint is brought to this sprinkler's own.
            let own = |node: usize| (jet_kpa / nodes_kpa[node]).sqrt();
            portions[below][sprinkler] = (1.0 - share) * own(below);
            if share > 0.0 {
                portions[below + 1][sprinkler] = share * own(below + 1);
            }
        }
        Self { nodes_kpa, portions }
    }
}

/// The fewest steps over `range` that keep what blends miss small, for sprinklers at `places` of it.
fn gaps(places: &[f64], range: f64) -> usize {
    let missed = |gaps: usize| {
        let step = range / gaps as f64;
        let of_place = |place: &f64| {
            let share = (place * gaps as f64).fract();
            share * (1.0 - share) * step * step
        };
        places.iter().map(of_place).sum::<f64>() / places.len() as f64
    };
    // The mean of s (1 − s) is 1/6 where sprinklers are spread evenly, and 1/4 at most.
    let fewest = (range / WIDEST).ceil().max(1.0) as usize;
    let most = (range / STEP * 1.5_f64.sqrt()).ceil() as usize;
    (fewest..most).find(|gaps| missed(*gaps) <= STEP * STEP / 6.0).unwrap_or(most.max(fewest))
}
