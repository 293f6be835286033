//! Landing maps and footprint makers, one for every distinct sprinkler of a scenario.

use super::error::SeasonError;
use super::hours::WindRange;
use super::kept_footprints::{KeptFootprints, Layer};
use super::landing_maps::LandingMapCache;
use super::pressures::pressures_of;
use super::standing::{Made, StandingMakers};
use crate::lateral::hydraulics::{Blend, at_pressure};
use crate::model::{Alternative, Scenario};
use crate::sprinkler::atlas::{Atlas, SetAt};
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use crate::sprinkler::landing::LandingMap;
use crate::sprinkler::maker::FootprintMaker;
use crate::sprinkler::places::Places;
use crate::sprinkler::{Jet, Sprinkler, SprinklerProblem};
use std::borrow::Cow;
use std::sync::Arc;

/// How the water of every hour is laid.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HoursLaid {
    /// By the nearest of the speeds of wind that an atlas holds, turned to each hour's direction: for many
    /// seasons, as it is many times faster; see `crate::sprinkler::atlas`.
    #[default]
    NearestWind,
    /// Each in its own wind: for a single season, and to judge the other way by.
    OwnWind,
}

/// Coarser than for one season's pictures: within 0.05 points of CU of it, at half the time.
pub(crate) const FOOTPRINTS: FootprintSettings =
    FootprintSettings { rings_per_cell: 2.0, samples_per_cell: 2.0, subsamples: 4 };

/// The distinct sprinklers of a scenario with the landing maps of their jets.
#[derive(Debug)]
pub(crate) struct Sprinklers<'a> {
    distinct: Vec<(Cow<'a, Sprinkler>, Vec<Arc<LandingMap>>)>,
    /// Per distinct one, of how few footprints the laterals that use it make their blends.
    nodes: Vec<usize>,
    /// Where their footprints are kept.
    kept: Option<Arc<KeptFootprints>>,
    /// Per alternative, which of them it uses: one, or one for each node of pressure.
    used_by: Vec<Vec<usize>>,
    winds: WindRange,
    canopy_m: Option<f64>,
}

impl<'a> Sprinklers<'a> {
    /// Flies the drops of every distinct sprinkler in such `winds`, where `cache` does not hold its
    /// maps already.
    pub(crate) fn of(
        scenario: &'a Scenario,
        cache: Option<&LandingMapCache>,
        winds: WindRange,
    ) -> Result<Self, SeasonError> {
        let own = LandingMapCache::default();
        let cache = cache.unwrap_or(&own);
        let canopy_m = scenario.canopy_height_m;
        let mut all = Self {
            distinct: Vec::new(),
            nodes: Vec::new(),
            kept: cache.footprints().map(Arc::clone),
            used_by: Vec::new(),
            winds,
            canopy_m,
        };
        for alternative in &scenario.alternatives {
            let mut used = Vec::new();
            let sprinklers = at_its_pressures(alternative)?;
            let nodes = sprinklers.len();
            for sprinkler in sprinklers {
                let sprinkler = match canopy_m {
                    None => sprinkler,
                    canopy_m => Cow::Owned(sprinkler.above(canopy_m)?),
                };
                let known = all.distinct.iter().position(|(known, _)| *known == sprinkler);
                let at = known.unwrap_or(all.distinct.len());
                used.push(at);
                if known.is_none() {
                    let maps = cache.maps(&sprinkler, winds, canopy_m)?;
                    all.distinct.push((sprinkler, maps));
                    all.nodes.push(nodes);
                }
                all.nodes[at] = all.nodes[at].min(nodes);
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
        self.makers_by(cell_m, settings, |_| settings)
    }

    /// The makers for one season. Where a sprinkler lays a blend of several footprints they have about
    /// as many tubes together as one has elsewhere: what grain they have is no more in the sum.
    pub(crate) fn season_makers(&self, cell_m: f64) -> Result<Makers, SeasonError> {
        let settings = FootprintSettings::default();
        let thinner = |nodes: usize| settings.shared_by(nodes);
        let mut makers = self.makers_by(cell_m, settings, thinner)?;
        if let Some(kept) = &self.kept {
            let number = |((sprinkler, maps), nodes): (&(Cow<'_, Sprinkler>, Vec<_>), &usize)| {
                let (sprinkler, maps) = (sprinkler.as_ref().clone(), maps.clone());
                kept.number(Layer { sprinkler, maps, cell_m, settings: thinner(*nodes) })
            };
            let numbers = self.distinct.iter().zip(&self.nodes).map(number).collect();
            makers.kept = Some((Arc::clone(kept), numbers));
        }
        Ok(makers)
    }

    fn makers_by(
        &self,
        cell_m: f64,
        settings: FootprintSettings,
        of_nodes: impl Fn(usize) -> FootprintSettings,
    ) -> Result<Makers, SeasonError> {
        let mut makers = Vec::with_capacity(self.distinct.len());
        for ((sprinkler, maps), nodes) in self.distinct.iter().zip(&self.nodes) {
            let jets: Vec<_> = sprinkler.jets.iter().map(Jet::leg).zip(maps).collect();
            makers.push(Arc::new(FootprintMaker::new(&jets, cell_m, of_nodes(*nodes))?));
        }
        let made = Made { winds: self.winds, canopy_m: self.canopy_m, cell_m, settings };
        let sprinklers = self.distinct.iter().map(|(sprinkler, _)| sprinkler.as_ref().clone());
        let standing = StandingMakers::of(sprinklers.collect(), made);
        Ok(Makers {
            upright: makers,
            atlases: Vec::new(),
            standing,
            kept: None,
            used_by: self.used_by.clone(),
        })
    }

    /// The makers for many seasons; atlases are taken from `cache` and left there.
    pub(crate) fn makers_for(
        &self,
        cell_m: f64,
        hours_laid: HoursLaid,
        cache: Option<&LandingMapCache>,
    ) -> Result<Makers, SeasonError> {
        match hours_laid {
            HoursLaid::OwnWind => self.season_makers(cell_m),
            HoursLaid::NearestWind => {
                let fine = FootprintSettings::default();
                let thinner = |nodes: usize| fine.shared_by(nodes);
                let makers = self.makers_by(cell_m, fine, thinner)?;
                let sprinklers = self.distinct.iter().zip(&self.nodes).zip(&makers.upright);
                let mut atlases = Vec::with_capacity(self.distinct.len());
                for (((sprinkler, maps), nodes), maker) in sprinklers {
                    let make = || Atlas::new(Arc::clone(maker));
                    atlases.push(match cache {
                        None => Arc::new(make()),
                        Some(cache) => {
                            let (sprinkler, maps) = (sprinkler.as_ref().clone(), maps.clone());
                            let settings = thinner(*nodes);
                            cache.atlas(Layer { sprinkler, maps, cell_m, settings }, make)
                        }
                    });
                }
                Ok(Makers { atlases, ..makers })
            }
        }
    }

    /// Per sprinkler that alternative `index` uses, of how few footprints blends are made of it.
    pub(super) fn nodes_of(&self, index: usize) -> Vec<usize> {
        self.used_by[index].iter().map(|sprinkler| self.nodes[*sprinkler]).collect()
    }

    /// What the reader must be told about the drops.
    pub(crate) fn notices(&self) -> Vec<String> {
        let beyond =
            self.distinct.iter().flat_map(|(_, maps)| maps).any(|map| map.throws_beyond_drops());
        let words = "The sprinkler throws farther than the drop model reaches with its largest \
                     drop; the water beyond is carried by the wind like that drop.";
        if beyond { vec![words.to_owned()] } else { Vec::new() }
    }
}

/// The sprinkler of an alternative, at each node of pressure along its pipe.
fn at_its_pressures(alternative: &Alternative) -> Result<Vec<Cow<'_, Sprinkler>>, SeasonError> {
    let sprinkler = &alternative.sprinkler;
    let Some(line) = pressures_of(alternative)? else {
        return Ok(vec![Cow::Borrowed(sprinkler)]);
    };
    let at = |kpa: &f64| at_pressure(sprinkler, *kpa, line.feed.radius_exponent).map(Cow::Owned);
    Ok(Blend::of(&line).nodes_kpa.iter().map(at).collect::<Result<_, _>>()?)
}

/// The footprint makers of the distinct sprinklers.
#[derive(Debug)]
pub(crate) struct Makers {
    upright: Vec<Arc<FootprintMaker>>,
    /// Their atlases, where hours are laid by the nearest wind.
    atlases: Vec<Arc<Atlas>>,
    standing: StandingMakers,
    /// Where their footprints are kept, and their numbers there.
    kept: Option<(Arc<KeptFootprints>, Vec<u64>)>,
    /// Per alternative, which of them it uses.
    pub(super) used_by: Vec<Vec<usize>>,
}

/// What lays the sets of a sprinkler that stands so.
#[derive(Clone, Debug)]
pub(super) enum Laying {
    OwnWind(Arc<FootprintMaker>),
    /// The same, where its footprints are kept under a number.
    Kept(Arc<FootprintMaker>, Arc<KeptFootprints>, u64),
    NearestWind(Arc<Atlas>),
}

impl Laying {
    /// Net depth of a whole set, mm, at each of `places`.
    pub(super) fn set_footprints(
        &self,
        slices: &[WindSlice],
        places: &[Places],
    ) -> Result<Vec<Arc<Footprint>>, SprinklerProblem> {
        match self {
            Self::OwnWind(maker) => maker
                .set_footprints(slices, places)
                .map(|all| all.into_iter().map(Arc::new).collect()),
            Self::NearestWind(atlas) => {
                let found = atlas.footprints(&[SetAt { slices, places }])?;
                Ok(found.into_iter().flatten().map(Arc::new).collect())
            }
            // A season by itself is looked at in every cell.
            Self::Kept(maker, kept, number) => {
                let own =
                    |places: &Places| kept_or_made((maker, kept, *number), slices, places.phase());
                places.iter().map(own).collect()
            }
        }
    }
}

/// A footprint that is kept, or made now and kept.
fn kept_or_made(
    (maker, kept, number): (&FootprintMaker, &KeptFootprints, u64),
    slices: &[WindSlice],
    phase: Phase,
) -> Result<Arc<Footprint>, SprinklerProblem> {
    let bits = |s: &WindSlice| [s.hours, s.net, s.speed_m_s, s.towards_rad].map(f64::to_bits);
    let place = [phase.along, phase.across].map(f64::to_bits);
    let key = (number, (place, slices.iter().map(bits).collect()));
    if let Some(known) = kept.get(&key) {
        return Ok(known);
    }
    let made = Arc::new(maker.set_footprint(slices, phase)?);
    kept.put(key, &made);
    Ok(made)
}

impl Makers {
    /// What lays the sets of a sprinkler that stands so, or upright.
    pub(super) fn laying(
        &self,
        sprinkler: usize,
        attitude: Option<Attitude>,
    ) -> Result<Laying, SeasonError> {
        Ok(match (attitude, self.atlases.get(sprinkler)) {
            (Some(attitude), _) => Laying::OwnWind(self.standing.maker(sprinkler, attitude)?),
            (None, Some(atlas)) => Laying::NearestWind(Arc::clone(atlas)),
            (None, None) => {
                let maker = Arc::clone(&self.upright[sprinkler]);
                match &self.kept {
                    Some((kept, numbers)) => {
                        Laying::Kept(maker, Arc::clone(kept), numbers[sprinkler])
                    }
                    None => Laying::OwnWind(maker),
                }
            }
        })
    }

    /// Farthest from any sprinkler that water can fall in winds up to `fastest_m_s`, m.
    pub(crate) fn reach_m(&self, fastest_m_s: f64) -> f64 {
        self.upright.iter().map(|maker| maker.reach_m(fastest_m_s)).fold(0.0, f64::max)
    }
}
