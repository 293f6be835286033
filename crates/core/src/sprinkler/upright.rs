//! The water of an upright sprinkler over a set: all turns are alike, so its jets are cut into stream tubes
//! once and carried by each hour's wind.
//!
//! Slices without wind take the `radial` footprint, so still air is exact.

use super::footprint::{FootprintSettings, Phase};
use super::landing::LandingMap;
use super::laying::Laying;
use super::leg::Leg;
use super::nodes::Nodes;
use super::own_wind::{OwnWind, OwnWindLaying};
use super::problem::SprinklerProblem;
use super::radial::StillPattern;
use super::rings::{Gust, Place, Workspace};
use super::scratch::Scratch;
use super::tubes::Tubes;
use pulp::Arch;
use std::sync::Arc;

/// An upright sprinkler, cut up for one cell size.
#[derive(Debug)]
pub(super) struct Upright {
    tubes: Vec<Tubes>,
    still: StillPattern,
    longest_flight_s: f64,
    cell_m: f64,
}

impl Upright {
    /// Jets, each a leg with its landing map, for cells of `cell_m`; all are taken as checked.
    ///
    /// # Errors
    /// An unsound leg.
    pub(super) fn new(
        jets: &[(&Leg, &Arc<LandingMap>)],
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        let legs: Vec<&Leg> = jets.iter().map(|(leg, _)| *leg).collect();
        Ok(Self {
            tubes: jets.iter().map(|(leg, map)| Tubes::new(leg, map, cell_m, settings)).collect(),
            still: StillPattern::new(&legs, cell_m, settings.subsamples)?,
            longest_flight_s: jets.iter().map(|(_, m)| m.longest_flight_s()).fold(0.0, f64::max),
            cell_m,
        })
    }

    /// The pattern without wind.
    pub(super) fn still(&self) -> &StillPattern {
        &self.still
    }

    /// Farthest from the sprinkler that water can be laid in a wind, m.
    pub(super) fn reach_m(&self, speed_m_s: f64) -> f64 {
        let reach_m = |jet: &Tubes| jet.reach_m(speed_m_s, self.longest_flight_s);
        self.tubes.iter().map(reach_m).fold(self.still.radius_m(), f64::max)
    }

    /// Lays the water of a set's winds, litres.
    pub(super) fn lay(
        &self,
        gusts: &[Gust],
        phase: Phase,
        work: &mut Workspace,
        scratch: &mut Scratch,
    ) {
        let place = Place::on(scratch, phase, self.cell_m);
        for gust in gusts {
            if gust.speed_m_s == 0.0 {
                let calm = self.still.on_cells(phase);
                scratch.add(&calm, gust.net_hours * (self.cell_m * self.cell_m));
                continue;
            }
            for jet in &self.tubes {
                Arch::new().dispatch(Laying { jet, gust: *gust, place, work, scratch });
            }
        }
        scratch.settle();
    }

    /// What is laid in an hour of this much wind, in the wind's axes, on nodes.
    pub(super) fn own_wind(&self, speed_m_s: f64, nodes: Nodes) -> OwnWind {
        if speed_m_s == 0.0 {
            return self.still.read_anywhere(&nodes);
        }
        let mut laying = OwnWindLaying::new(self.reach_m(speed_m_s) / self.cell_m, nodes);
        let mut work = Workspace::default();
        let (to_cells, to_mm) = (1.0 / self.cell_m, 1.0 / (self.cell_m * self.cell_m));
        for jet in &self.tubes {
            jet.start(speed_m_s, &mut work);
            for ring in jet.rings() {
                jet.carry(ring, 1.0, &mut work);
                for (along_m, cross_m, litres) in work.lumps.iter() {
                    laying.lay(along_m * to_cells, cross_m * to_cells, litres * to_mm);
                }
            }
        }
        laying.finish()
    }
}
