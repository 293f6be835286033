//! Shooting: pressures of a lateral from what is known at its inlet.
//!
//! Each side of the inlet is one branch. With a pressure assumed at its far end, flow and pressure
//! follow sprinkler by sprinkler up to the inlet; the assumed pressure is halved in until the inlet
//! is met. Couplers leak a fixed multiple of what their sprinkler delivers. A nozzle without pressure delivers nothing, which keeps everything rising with the
//! assumed pressure, so that even a lateral that runs dry has one answer to be told about.
//! Continuity and energy hold from sprinkler to sprinkler by construction, to round-off.

use super::feed::{Feed, Inlet, LEAST_WORKING_KPA, Pipe};
use super::friction::KPA_PER_M;
use super::line::{OutletState, PressureLine};
use super::problem::{HydraulicsProblem, RunsDry};
use crate::lateral::parts::Lateral;
use crate::range::within;
use crate::sprinkler::{FlowControl, Sprinkler, jet_kpa};

/// Highest inlet pressure that is looked for, kPa: more than any lateral bears.
const HIGHEST_KPA: f64 = 100_000.0;
/// Highest inlet pressure that is offered as a remedy, kPa.
const BEARABLE_KPA: f64 = 1500.0;
/// Halvings at most: from any range down to neighboring numbers.
const HALVINGS: usize = 200;

/// What a lateral's sprinklers and couplers do beside what the nozzle is stated to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Delivery<'a> {
    /// Discharge of each sprinkler over that of its nozzle as stated, by number along the pipe;
    /// those without a factor deliver just that.
    pub factors: &'a [f64],
    /// Share of the flow into the lateral that leaks at its couplers, 0 to under 1.
    pub leaks: f64,
}

/// Discharge of one sprinkler against pressure, and the leak beside it.
#[derive(Clone, Copy, Debug)]
struct Law {
    discharge_l_s: f64,
    nominal_kpa: f64,
    control: Option<FlowControl>,
    /// Leak over discharge.
    leaked: f64,
}

impl Law {
    fn jet_kpa(&self, nozzle_kpa: f64) -> f64 {
        jet_kpa(self.control, self.nominal_kpa, nozzle_kpa)
    }

    fn discharge_l_s(&self, nozzle_kpa: f64) -> f64 {
        self.discharge_l_s * (self.jet_kpa(nozzle_kpa).max(0.0) / self.nominal_kpa).sqrt()
    }
}

/// The sprinklers on one side of the inlet, from the inlet outwards.
struct Branch<'a> {
    pipe: &'a Pipe,
    law: Law,
    riser_kpa: f64,
    inlet_height_m: f64,
    outlets: Vec<Outlet>,
}

/// One sprinkler on the pipe.
#[derive(Clone, Copy)]
struct Outlet {
    place_m: f64,
    /// From the inlet, m.
    distance_m: f64,
    height_m: f64,
    /// Discharge over that of its nozzle as stated.
    factor: f64,
}

/// What a shot from the far end gave.
struct Shot {
    inlet_kpa: f64,
    flow_l_s: f64,
    /// Sum of the nozzle pressures, kPa.
    nozzles_kpa: f64,
    lowest_kpa: f64,
}

impl Branch<'_> {
    /// Goes from the far end to the inlet; `each` is told every sprinkler on the way.
    fn shoot(&self, far_kpa: f64, each: &mut dyn FnMut(OutletState)) -> Shot {
        let mut shot =
            Shot { inlet_kpa: far_kpa, flow_l_s: 0.0, nozzles_kpa: 0.0, lowest_kpa: f64::INFINITY };
        for (index, outlet) in self.outlets.iter().enumerate().rev() {
            let &Outlet { place_m, distance_m, height_m, factor } = outlet;
            let (before_m, before_height_m) = match index.checked_sub(1) {
                Some(before) => (self.outlets[before].distance_m, self.outlets[before].height_m),
                None => (0.0, self.inlet_height_m),
            };
            let pipe_kpa = shot.inlet_kpa;
            let nozzle_kpa = pipe_kpa - self.riser_kpa;
            let discharge_l_s = factor * self.law.discharge_l_s(nozzle_kpa);
            let leak_l_s = self.law.leaked * discharge_l_s;
            shot.flow_l_s += discharge_l_s + leak_l_s;
            shot.nozzles_kpa += nozzle_kpa;
            shot.lowest_kpa = shot.lowest_kpa.min(nozzle_kpa);
            let (mut friction_kpa, mut velocity_m_s) = (0.0, 0.0_f64);
            for (length_m, size) in self.pipe.pieces(before_m, distance_m) {
                friction_kpa += size.loss_kpa(shot.flow_l_s, length_m);
                velocity_m_s = velocity_m_s.max(size.velocity_m_s(shot.flow_l_s));
            }
            shot.inlet_kpa = pipe_kpa + friction_kpa + KPA_PER_M * (height_m - before_height_m);
            each(OutletState {
                place_m,
                height_m,
                length_m: distance_m - before_m,
                flow_l_s: shot.flow_l_s,
                velocity_m_s,
                friction_kpa,
                pipe_kpa,
                nozzle_kpa,
                jet_kpa: self.law.jet_kpa(nozzle_kpa),
                discharge_l_s,
                leak_l_s,
            });
        }
        shot
    }

    fn at(&self, far_kpa: f64) -> Shot {
        self.shoot(far_kpa, &mut |_| {})
    }

    /// Pressure at the far end for which the inlet has this one.
    fn far_kpa(&self, inlet_kpa: f64) -> f64 {
        let far_m = self.outlets.last().map_or(self.inlet_height_m, |outlet| outlet.height_m);
        // Without any friction; there never is less than none.
        let highest = inlet_kpa - KPA_PER_M * (far_m - self.inlet_height_m);
        let lowest = below(highest, |far_kpa| self.at(far_kpa).inlet_kpa - inlet_kpa);
        halve(lowest, highest, |far_kpa| self.at(far_kpa).inlet_kpa - inlet_kpa)
    }
}

/// A number under `start` where `miss` is not positive.
fn below(start: f64, miss: impl Fn(f64) -> f64) -> f64 {
    let mut step = 100.0;
    while miss(start - step) > 0.0 && step < 1e9 {
        step *= 2.0;
    }
    start - step
}

/// Where the rising `miss` is nought, to neighboring numbers; the one that is not under it.
fn halve(mut lowest: f64, mut highest: f64, miss: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (lowest + highest);
        if middle <= lowest || middle >= highest {
            break;
        }
        if miss(middle) < 0.0 {
            lowest = middle;
        } else {
            highest = middle;
        }
    }
    highest
}

/// The whole lateral.
struct Network<'a> {
    branches: Vec<Branch<'a>>,
    sprinklers: usize,
}

impl<'a> Network<'a> {
    fn new(lateral: &Lateral, law: Law, feed: &'a Feed, factors: &[f64]) -> Self {
        let outlet = |index: usize| {
            let x_m = lateral.first_sprinkler_m + index as f64 * lateral.sprinkler_spacing_m;
            Outlet {
                place_m: x_m,
                distance_m: (x_m - feed.inlet_m).abs(),
                height_m: feed.ground.height_m(x_m),
                factor: factors.get(index).copied().unwrap_or(1.0),
            }
        };
        let (near, far): (Vec<Outlet>, Vec<Outlet>) =
            (0..lateral.sprinklers).map(outlet).partition(|outlet| outlet.place_m < feed.inlet_m);
        let branch = |outlets: Vec<Outlet>| Branch {
            pipe: &feed.pipe,
            law,
            riser_kpa: KPA_PER_M * feed.riser_m,
            inlet_height_m: feed.ground.height_m(feed.inlet_m),
            outlets,
        };
        let sides = [near.into_iter().rev().collect(), far].into_iter().map(branch);
        Self {
            branches: sides.filter(|side| !side.outlets.is_empty()).collect(),
            sprinklers: lateral.sprinklers,
        }
    }

    fn outlets_of_all(&self) -> impl Iterator<Item = &Outlet> {
        self.branches.iter().flat_map(|branch| &branch.outlets)
    }

    /// Of all branches, with this pressure at the inlet.
    fn shots(&self, inlet_kpa: f64) -> Vec<Shot> {
        self.branches.iter().map(|branch| branch.at(branch.far_kpa(inlet_kpa))).collect()
    }

    /// Inlet pressure at which the rising `of` is `wanted`.
    fn inlet_kpa(
        &self,
        wanted: f64,
        of: impl Fn(&[Shot]) -> f64,
    ) -> Result<f64, HydraulicsProblem> {
        if let [branch] = self.branches.as_slice() {
            // One branch: the far end itself can be looked for.
            let miss = |far_kpa: f64| of(&[branch.at(far_kpa)]) - wanted;
            let highest = above(&miss)?;
            let far_kpa = halve(below(highest, miss), highest, miss);
            return Ok(branch.at(far_kpa).inlet_kpa);
        }
        let miss = |inlet_kpa: f64| of(&self.shots(inlet_kpa)) - wanted;
        let highest = above(&miss)?;
        Ok(halve(below(highest, miss), highest, miss))
    }

    /// Every sprinkler, from the field's edge on.
    fn outlets(&self, inlet_kpa: f64) -> Vec<OutletState> {
        let mut outlets = Vec::with_capacity(self.sprinklers);
        for branch in &self.branches {
            branch.shoot(branch.far_kpa(inlet_kpa), &mut |outlet| outlets.push(outlet));
        }
        outlets.sort_by(|a, b| a.place_m.total_cmp(&b.place_m));
        outlets
    }
}

/// A pressure at which `miss` is not negative.
fn above(miss: &impl Fn(f64) -> f64) -> Result<f64, HydraulicsProblem> {
    let mut highest = 100.0;
    while miss(highest) < 0.0 {
        if highest > HIGHEST_KPA {
            return Err(HydraulicsProblem::BeyondReach { highest_kpa: HIGHEST_KPA });
        }
        highest *= 2.0;
    }
    Ok(highest)
}

/// Pressures and discharges along `lateral`, fed so.
///
/// # Errors
/// A number out of range, a stated flow that the nozzles do not pass, a sprinkler that gets too
/// little to work.
pub fn solve(
    lateral: &Lateral,
    sprinkler: &Sprinkler,
    feed: &Feed,
) -> Result<PressureLine, HydraulicsProblem> {
    solve_each(lateral, sprinkler, feed, Delivery::default())
}

/// The same where sprinklers and couplers are as `delivery` has them.
///
/// # Errors
/// Those of [`solve`].
pub fn solve_each(
    lateral: &Lateral,
    sprinkler: &Sprinkler,
    feed: &Feed,
    delivery: Delivery<'_>,
) -> Result<PressureLine, HydraulicsProblem> {
    feed.check()?;
    within("leaks", delivery.leaks, 0.0, 0.95)?;
    let nominal_kpa = sprinkler.stated_kpa();
    let law = Law {
        discharge_l_s: sprinkler.discharge_l_s(),
        nominal_kpa,
        control: sprinkler.flow_control,
        leaked: delivery.leaks / (1.0 - delivery.leaks),
    };
    let sound = nominal_kpa > 0.0 && law.discharge_l_s > 0.0 && law.discharge_l_s.is_finite();
    if lateral.sprinklers == 0 || !sound {
        return Err(HydraulicsProblem::NoOutlets);
    }
    let network = Network::new(lateral, law, feed, delivery.factors);
    let sprinklers = network.sprinklers as f64;
    let sum = |shots: &[Shot], of: fn(&Shot) -> f64| shots.iter().map(of).sum::<f64>();
    let inlet_kpa = match feed.inlet {
        Inlet::Pressure(kpa) => kpa,
        Inlet::MeanSprinkler(kpa) => {
            network.inlet_kpa(kpa, |shots| sum(shots, |s| s.nozzles_kpa) / sprinklers)?
        }
        Inlet::Flow(wanted_l_s) => {
            let together: f64 = network.outlets_of_all().map(|outlet| outlet.factor).sum();
            let most_l_s = together * law.discharge_l_s * (1.0 + law.leaked);
            // At the most itself any pressure in the range would do as well: the flow tells nothing.
            if law.control.is_some() && wanted_l_s >= most_l_s * (1.0 - 1e-9) {
                return Err(HydraulicsProblem::FlowHeldBack { wanted_l_s, most_l_s });
            }
            network.inlet_kpa(wanted_l_s, |shots| sum(shots, |s| s.flow_l_s))?
        }
    };
    let line = PressureLine {
        feed: feed.clone(),
        nominal_kpa,
        inlet_kpa,
        inlet_height_m: feed.ground.height_m(feed.inlet_m),
        outlets: network.outlets(inlet_kpa),
    };
    dry(&network, &line).map_or(Ok(line), |dry| Err(HydraulicsProblem::RunsDry(dry)))
}

/// What is to be told of a lateral that does not feed all its sprinklers.
fn dry(network: &Network<'_>, line: &PressureLine) -> Option<RunsDry> {
    let least_kpa = LEAST_WORKING_KPA.min(0.5 * line.nominal_kpa);
    let (index, worst) = line.lowest();
    if worst.nozzle_kpa >= least_kpa {
        return None;
    }
    let lowest = |shots: &[Shot]| shots.iter().map(|s| s.lowest_kpa).fold(f64::INFINITY, f64::min);
    let needed = network.inlet_kpa(least_kpa, lowest).ok();
    Some(RunsDry {
        sprinkler: index + 1,
        sprinklers: network.sprinklers,
        starved: line.outlets.iter().filter(|outlet| outlet.nozzle_kpa < least_kpa).count(),
        place_m: worst.place_m,
        nozzle_kpa: worst.nozzle_kpa,
        least_kpa,
        inlet_kpa: line.inlet_kpa,
        needed_kpa: needed.filter(|needed_kpa| *needed_kpa <= BEARABLE_KPA),
    })
}
