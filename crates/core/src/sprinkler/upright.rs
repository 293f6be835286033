//! The water of an upright sprinkler over a set: all turns are alike, so its jets are cut into stream tubes
//! once and carried by each hour's wind.
//!
//! **A wind that brings much of a set's water is laid finely**, as the settings say. The winds of a longer
//! set bring little each, and their grain is no more in the sum; so a wind that brings at most a
//! [`PARTS`]th of the water is laid with about half the tubes (not fewer than 1.5 a cell each way), in turn by
//! cuttings whose rings and samples lie between each other's. In a wind that hardly changes the tubes of a set
//! then lie closer together than those of one wind laid finely; fewer than half were tried, and leave twice the
//! grain. A test has how far both are from much finer tubes.
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
use super::tubes::{CUTTINGS, Tubes};
use pulp::Arch;
use std::sync::{Arc, OnceLock};

/// A wind that brings at most this part of a set's water is laid thinly: one for each cutting.
const PARTS: usize = CUTTINGS.len();

/// An upright sprinkler, cut up for one cell size.
#[derive(Debug)]
pub(super) struct Upright {
    fine: Vec<Tubes>,
    /// Each cutting's, made when a set first asks for them: an atlas never does.
    thin: OnceLock<Vec<Vec<Tubes>>>,
    jets: Vec<(Leg, Arc<LandingMap>)>,
    settings: FootprintSettings,
    still: StillPattern,
    longest_flight_s: f64,
    cell_m: f64,
}

fn cut(
    jets: &[(Leg, Arc<LandingMap>)],
    cell_m: f64,
    settings: FootprintSettings,
    cutting: usize,
) -> Vec<Tubes> {
    jets.iter().map(|(leg, map)| Tubes::new(leg, map, cell_m, settings, cutting)).collect()
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
        let still = StillPattern::new(&legs, cell_m, settings.subsamples)?;
        let jets: Vec<_> =
            jets.iter().map(|(leg, map)| ((*leg).clone(), Arc::clone(map))).collect();
        Ok(Self {
            fine: cut(&jets, cell_m, settings, 0),
            thin: OnceLock::new(),
            still,
            longest_flight_s: jets.iter().map(|(_, m)| m.longest_flight_s()).fold(0.0, f64::max),
            jets,
            settings,
            cell_m,
        })
    }

    fn thin(&self) -> &[Vec<Tubes>] {
        let settings = self.settings.shared_by(2);
        let cut = |cutting| cut(&self.jets, self.cell_m, settings, cutting);
        self.thin.get_or_init(|| (0..PARTS).map(cut).collect())
    }

    /// The pattern without wind.
    pub(super) fn still(&self) -> &StillPattern {
        &self.still
    }

    /// Farthest from the sprinkler that water can be laid in a wind, m.
    pub(super) fn reach_m(&self, speed_m_s: f64) -> f64 {
        let reach_m = |jet: &Tubes| jet.reach_m(speed_m_s, self.longest_flight_s);
        self.fine.iter().map(reach_m).fold(self.still.radius_m(), f64::max)
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
        let all_h: f64 = gusts.iter().map(|gust| gust.net_hours).sum();
        // Round-off must not decide where hours are alike.
        let most_h = all_h / PARTS as f64 * (1.0 + 1e-9);
        let mut cutting = 0;
        for gust in gusts {
            if gust.speed_m_s == 0.0 {
                let calm = self.still.on_cells(phase);
                scratch.add(&calm, gust.net_hours * (self.cell_m * self.cell_m));
                continue;
            }
            let tubes = if gust.net_hours <= most_h {
                cutting += 1;
                &self.thin()[(cutting - 1) % PARTS]
            } else {
                &self.fine
            };
            for jet in tubes {
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
        for jet in &self.fine {
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
