//! Makes footprints: lays a sprinkler's water, over a whole set, on the cells around it.
//!
//! Each slice of a set has its own wind; the jets' water is carried and laid wind by wind (slices that
//! follow each other in the same wind are one, still air is the last) on one scratch, which is cut to what is
//! wet at the end. Mass is exact to round-off, and water is laid at
//! the place in its cell where the sprinkler stands, never resampled.
//!
//! One maker serves every [`Attitude`]. Any sprinkler can be laid turn by turn (`turns`). Upright is
//! the special case in which all turns are alike, and takes a shorter way (`upright`): one landing map
//! instead of one an elevation, and tubes that fall in mirror images to both sides of the wind (`tubes`).
//!
//! Neglected: the wind's hold on the sprinkler's turning, and runoff.

use super::attitude::Attitude;
use super::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use super::jet::{Jet, Sprinkler};
use super::landing::{LandingMap, LandingSettings, Winds};
use super::leg::Leg;
use super::nodes::Nodes;
use super::own_wind::OwnWind;
use super::places::Places;
use super::problem::SprinklerProblem;
use super::rings::{Gust, Place, Workspace};
use super::scratch::Scratch;
use super::turns::Turns;
use super::upright::Upright;
use crate::range::within;
use std::sync::Arc;

/// A sprinkler cut up for one cell size, ready to lay any number of sets.
#[derive(Debug)]
pub struct FootprintMaker {
    jets: Jets,
    fastest_m_s: f64,
    cell_m: f64,
}

/// The jets, by how the sprinkler stands.
#[derive(Debug)]
enum Jets {
    /// All turns alike.
    Upright(Upright),
    /// Each turn by itself.
    Tilted(Vec<Turns>),
}

impl FootprintMaker {
    /// An upright sprinkler: its jets, each a leg with its landing map, for cells of `cell_m`.
    ///
    /// # Errors
    /// No jets, an unsound leg, a map made for another radius, a cell outside 0.02–20 m or so small
    /// that the radius spans over 2000 of them, settings out of range.
    pub fn new(
        jets: &[(&Leg, &Arc<LandingMap>)],
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        within("cell_m", cell_m, 0.02, 20.0)?;
        settings.check()?;
        if jets.is_empty() {
            return Err(SprinklerProblem::NoJets);
        }
        for (leg, map) in jets {
            leg.check()?;
            let (leg_m, map_m) = (leg.radius_m(), map.radius_m());
            within("cells to the radius", leg_m / cell_m, 0.0, 2000.0)?;
            if (leg_m - map_m).abs() > 1e-9 * leg_m {
                return Err(SprinklerProblem::WrongMap { map_m, leg_m });
            }
        }
        let upright = Jets::Upright(Upright::new(jets, cell_m, settings)?);
        let fastest_m_s = jets.iter().map(|(_, map)| map.fastest_m_s()).fold(60.0, f64::min);
        Ok(Self { jets: upright, fastest_m_s, cell_m })
    }

    /// An upright sprinkler, its drops flown in `winds`.
    ///
    /// # Errors
    /// An unsound sprinkler, cell, wind or settings.
    pub fn upright(
        sprinkler: &Sprinkler,
        winds: &Winds,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        sprinkler.check()?;
        let fly = |jet: &Jet| {
            let (radius_m, fine) = (jet.leg().radius_m(), LandingSettings::default());
            LandingMap::new(radius_m, &jet.launch, &sprinkler.drag, winds, fine).map(Arc::new)
        };
        let maps: Vec<_> = sprinkler.jets.iter().map(fly).collect::<Result<_, _>>()?;
        let jets: Vec<_> = sprinkler.jets.iter().map(Jet::leg).zip(&maps).collect();
        Self::new(&jets, cell_m, settings)
    }

    /// A sprinkler that stands so, its drops flown in `winds`. Footprints count from the place where
    /// it would stand upright.
    ///
    /// # Errors
    /// An unsound sprinkler, attitude, cell, wind or settings, or a nozzle in the ground.
    pub fn standing(
        sprinkler: &Sprinkler,
        attitude: Attitude,
        winds: &Winds,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Self, SprinklerProblem> {
        sprinkler.check()?;
        attitude.check()?;
        if attitude.is_upright() {
            return Self::upright(sprinkler, winds, cell_m, settings);
        }
        within("cell_m", cell_m, 0.02, 20.0)?;
        within("cells to the radius", sprinkler.radius_m() / cell_m, 0.0, 2000.0)?;
        within("fastest_m_s", winds.fastest_m_s, 0.0, 60.0)?;
        settings.check()?;
        let turns = |jet| Turns::new((jet, &sprinkler.drag), &attitude, winds, cell_m, settings);
        let jets: Vec<Turns> = sprinkler.jets.iter().map(turns).collect::<Result<_, _>>()?;
        let fastest_m_s = jets.iter().map(Turns::fastest_m_s).fold(60.0, f64::min);
        Ok(Self { jets: Jets::Tilted(jets), fastest_m_s, cell_m })
    }

    /// Net depth of a whole set, mm; slices without water or time add nothing.
    ///
    /// # Errors
    /// A slice or phase out of range, or a wind beyond the landing maps.
    pub fn set_footprint(
        &self,
        slices: &[WindSlice],
        phase: Phase,
    ) -> Result<Footprint, SprinklerProblem> {
        let fastest_m_s = self.check(slices, phase)?;
        let mut scratch = Scratch::new(self.reach_m(fastest_m_s) / self.cell_m);
        let mut work = Workspace::default();
        self.lay(&winds_of(slices), phase, &mut work, &mut scratch);
        Ok(scratch.cut_out(1.0 / (self.cell_m * self.cell_m)))
    }

    /// Net depth of a whole set, mm, at each of `places`.
    ///
    /// # Errors
    /// Those of [`Self::set_footprint`].
    pub(crate) fn set_footprints(
        &self,
        slices: &[WindSlice],
        places: &[Places],
    ) -> Result<Vec<Footprint>, SprinklerProblem> {
        let mut known: Vec<(Phase, Footprint)> = Vec::new();
        let mut found = Vec::with_capacity(places.len());
        for places in places {
            let phase = places.phase();
            let at = known.iter().position(|(known, _)| *known == phase);
            let at = at.unwrap_or(known.len());
            if at == known.len() {
                known.push((phase, self.set_footprint(slices, phase)?));
            }
            found.push(places.of(&known[at].1));
        }
        Ok(found)
    }

    /// Whether a set can be laid; gives its fastest wind, m/s.
    ///
    /// # Errors
    /// Those of [`Self::set_footprint`].
    pub(super) fn check(
        &self,
        slices: &[WindSlice],
        phase: Phase,
    ) -> Result<f64, SprinklerProblem> {
        phase.check()?;
        let mut fastest_m_s = 0.0_f64;
        for slice in slices {
            slice.check()?;
            fastest_m_s = fastest_m_s.max(slice.speed_m_s);
        }
        if fastest_m_s > self.fastest_m_s + 1e-9 {
            let (speed_m_s, fastest_m_s) = (fastest_m_s, self.fastest_m_s);
            return Err(SprinklerProblem::WindBeyondMap { speed_m_s, fastest_m_s });
        }
        Ok(fastest_m_s)
    }

    /// Fastest wind that its landing maps hold, m/s.
    pub(super) fn fastest_m_s(&self) -> f64 {
        self.fastest_m_s
    }

    /// What an upright sprinkler delivers onto one cell's area, mm/h; `None` for a tilted one.
    pub(super) fn upright_mm_h(&self) -> Option<f64> {
        match &self.jets {
            Jets::Upright(upright) => Some(upright.still().discharge_mm_h()),
            Jets::Tilted(_) => None,
        }
    }

    /// What an upright sprinkler lays in an hour of this much wind, in the wind's axes, on nodes; `None` for
    /// a tilted one.
    pub(super) fn own_wind(&self, speed_m_s: f64, nodes: Nodes) -> Option<OwnWind> {
        match &self.jets {
            Jets::Upright(upright) => Some(upright.own_wind(speed_m_s, nodes)),
            Jets::Tilted(_) => None,
        }
    }

    /// Farthest from the sprinkler that water can fall in winds up to `fastest_m_s`, m.
    pub fn reach_m(&self, fastest_m_s: f64) -> f64 {
        match &self.jets {
            Jets::Upright(upright) => upright.reach_m(fastest_m_s),
            Jets::Tilted(jets) => {
                jets.iter().map(|jet| jet.reach_m(fastest_m_s)).fold(0.0, f64::max)
            }
        }
    }

    /// Rate in still air, mm/h.
    ///
    /// # Errors
    /// A phase out of range.
    pub fn still_footprint(&self, phase: Phase) -> Result<Footprint, SprinklerProblem> {
        phase.check()?;
        match &self.jets {
            Jets::Upright(upright) => Ok(upright.still().on_cells(phase)),
            Jets::Tilted(_) => {
                let hour = WindSlice { hours: 1.0, net: 1.0, speed_m_s: 0.0, towards_rad: 0.0 };
                self.set_footprint(&[hour], phase)
            }
        }
    }

    /// Lays the water of a set's winds.
    fn lay(&self, gusts: &[Gust], phase: Phase, work: &mut Workspace, scratch: &mut Scratch) {
        match &self.jets {
            Jets::Upright(upright) => upright.lay(gusts, phase, work, scratch),
            Jets::Tilted(jets) => {
                let place = Place::on(scratch, phase, self.cell_m);
                for (gust, jet) in
                    gusts.iter().flat_map(|gust| jets.iter().map(move |jet| (gust, jet)))
                {
                    jet.lay(*gust, place, work, scratch);
                }
            }
        }
    }
}

/// The winds of a set that bring water: slices that follow each other in the same wind are one, and all
/// still air is one, the last.
fn winds_of(slices: &[WindSlice]) -> Vec<Gust> {
    let mut winds: Vec<Gust> = Vec::with_capacity(slices.len() + 1);
    let mut calm = Gust { speed_m_s: 0.0, towards_rad: 0.0, net_hours: 0.0 };
    for slice in slices {
        let (speed_m_s, towards_rad) = (slice.speed_m_s, slice.towards_rad);
        let net_hours = slice.hours * slice.net;
        match winds.last_mut() {
            _ if speed_m_s == 0.0 => calm.net_hours += net_hours,
            Some(last) if (last.speed_m_s, last.towards_rad) == (speed_m_s, towards_rad) => {
                last.net_hours += net_hours;
            }
            _ if net_hours > 0.0 => winds.push(Gust { speed_m_s, towards_rad, net_hours }),
            _ => {}
        }
    }
    winds.extend((calm.net_hours > 0.0).then_some(calm));
    winds
}

#[cfg(test)]
mod tests;
#[cfg(test)]
#[path = "maker/tilted_tests.rs"]
mod tilted_tests;
