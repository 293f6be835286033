//! Getting ready to lay water: landing maps per distinct sprinkler, footprints per distinct set.

use super::SeasonError;
use super::hours::SeasonHours;
use super::kept::LandingMapCache;
use super::layout::Layout;
use crate::lateral::hydraulics::{Blend, at_pressure};
use crate::model::{Alternative, Scenario};
use crate::sprinkler::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use crate::sprinkler::landing::LandingMap;
use crate::sprinkler::maker::FootprintMaker;
use crate::sprinkler::{Jet, Sprinkler};
use rayon::prelude::*;
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The distinct sprinklers of a scenario with the landing maps of their jets.
#[derive(Debug)]
pub(crate) struct Sprinklers<'a> {
    sprinklers: Vec<(Cow<'a, Sprinkler>, Vec<Arc<LandingMap>>)>,
    /// Per alternative, which of them it uses: one, or one for each node of pressure.
    used_by: Vec<Vec<usize>>,
}

impl<'a> Sprinklers<'a> {
    /// Flies the drops of every distinct sprinkler in winds up to `fastest_m_s`, measured at
    /// `measured_at_m`, where `kept` does not hold its maps already.
    pub(crate) fn of(
        scenario: &'a Scenario,
        kept: &LandingMapCache,
        measured_at_m: f64,
        fastest_m_s: f64,
    ) -> Result<Self, SeasonError> {
        let mut all = Self { sprinklers: Vec::new(), used_by: Vec::new() };
        for alternative in &scenario.alternatives {
            let mut used = Vec::new();
            for sprinkler in at_its_pressures(alternative)? {
                let known = all.sprinklers.iter().position(|(known, _)| *known == sprinkler);
                used.push(known.unwrap_or(all.sprinklers.len()));
                if known.is_none() {
                    let maps = kept.maps(&sprinkler, measured_at_m, fastest_m_s)?;
                    all.sprinklers.push((sprinkler, maps));
                }
            }
            all.used_by.push(used);
        }
        Ok(all)
    }

    /// One footprint maker per distinct sprinkler.
    pub(crate) fn makers(
        &self,
        cell_m: f64,
        settings: FootprintSettings,
    ) -> Result<Makers, SeasonError> {
        let mut makers = Vec::with_capacity(self.sprinklers.len());
        for (sprinkler, maps) in &self.sprinklers {
            let jets: Vec<_> = sprinkler.jets.iter().map(Jet::leg).zip(maps).collect();
            makers.push(FootprintMaker::new(&jets, cell_m, settings)?);
        }
        Ok(Makers { makers, used_by: self.used_by.clone() })
    }

    /// What the reader must be told about the drops.
    pub(crate) fn notices(&self) -> Vec<String> {
        let beyond =
            self.sprinklers.iter().flat_map(|(_, maps)| maps).any(|map| map.throws_beyond_drops());
        let words = "The sprinkler throws farther than the drop model reaches with its largest \
                     drop; the water beyond is carried by the wind like that drop.";
        if beyond { vec![words.to_owned()] } else { Vec::new() }
    }
}

/// The sprinkler of an alternative, at each node of pressure along its pipe.
fn at_its_pressures(alternative: &Alternative) -> Result<Vec<Cow<'_, Sprinkler>>, SeasonError> {
    let sprinkler = &alternative.sprinkler;
    let Some(line) = super::pressures_of(alternative)? else {
        return Ok(vec![Cow::Borrowed(sprinkler)]);
    };
    let at = |kpa: &f64| at_pressure(sprinkler, *kpa, line.feed.radius_exponent).map(Cow::Owned);
    Ok(Blend::of(&line).nodes_kpa.iter().map(at).collect::<Result<_, _>>()?)
}

/// The footprint makers of the distinct sprinklers.
#[derive(Debug)]
pub(crate) struct Makers {
    makers: Vec<FootprintMaker>,
    used_by: Vec<Vec<usize>>,
}

impl Makers {
    /// Farthest from any sprinkler that water can fall in winds up to `fastest_m_s`, m.
    pub(crate) fn reach_m(&self, fastest_m_s: f64) -> f64 {
        self.makers.iter().map(|maker| maker.reach_m(fastest_m_s)).fold(0.0, f64::max)
    }
}

/// The footprints of one pass: distinct ones, and per alternative and set which of them it is (one
/// for each node of pressure).
#[derive(Debug)]
pub(crate) struct LaidPass {
    footprints: Vec<Footprint>,
    of_set: Vec<Vec<Vec<usize>>>,
    /// Per alternative, hours of discharge that drifted off or evaporated.
    lost_hours: Vec<f64>,
}

impl LaidPass {
    /// The footprint of set `set` of alternative `alternative` at node `node` of pressure.
    pub(crate) fn footprint(&self, alternative: usize, set: usize, node: usize) -> &Footprint {
        &self.footprints[self.of_set[alternative][set][node]]
    }

    /// Every distinct footprint.
    pub(crate) fn footprints(&self) -> &[Footprint] {
        &self.footprints
    }

    /// Hours of a sprinkler's discharge that were lost in the pass, over all its sets.
    pub(crate) fn lost_hours(&self, alternative: usize) -> f64 {
        self.lost_hours[alternative]
    }
}

/// A set's footprint is the same wherever sprinkler, slices and phase are: their bits as a key.
type SetKey = (usize, [u64; 2], Vec<[u64; 4]>);

fn key(sprinkler: usize, phase: Phase, slices: &[WindSlice]) -> SetKey {
    let bits = |s: &WindSlice| [s.hours, s.net, s.speed_m_s, s.towards_rad].map(f64::to_bits);
    let phase = [phase.along, phase.across].map(f64::to_bits);
    (sprinkler, phase, slices.iter().map(bits).collect())
}

/// Computes the footprints of pass `pass` of all alternatives, each distinct one once.
pub(crate) fn footprints(
    layouts: &[&Layout<'_>],
    pass: usize,
    hours: &SeasonHours,
    makers: &Makers,
) -> Result<LaidPass, SeasonError> {
    let mut known: BTreeMap<SetKey, usize> = BTreeMap::new();
    let mut wanted: Vec<(usize, Phase, Vec<WindSlice>)> = Vec::new();
    let mut of_set = Vec::with_capacity(layouts.len());
    let mut lost_hours = Vec::with_capacity(layouts.len());
    for (alternative, layout) in layouts.iter().enumerate() {
        let mut lost = 0.0;
        let indices = layout.sets(pass).iter().map(|set| {
            let (slices, phase) = (hours.slices_of(set), layout.phase(pass, set));
            lost += slices.iter().map(|slice| slice.hours * (1.0 - slice.net)).sum::<f64>();
            let mut at_node = |sprinkler: &usize| {
                *known.entry(key(*sprinkler, phase, &slices)).or_insert_with(|| {
                    wanted.push((*sprinkler, phase, slices.clone()));
                    wanted.len() - 1
                })
            };
            makers.used_by[alternative].iter().map(&mut at_node).collect()
        });
        of_set.push(indices.collect());
        lost_hours.push(lost);
    }
    let footprints = wanted
        .par_iter()
        .map(|(sprinkler, phase, slices)| makers.makers[*sprinkler].set_footprint(slices, *phase))
        .collect::<Result<_, _>>()?;
    Ok(LaidPass { footprints, of_set, lost_hours })
}
