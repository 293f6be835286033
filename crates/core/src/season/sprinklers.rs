//! Landing maps and footprint makers, one for every distinct sprinkler of a scenario.

use super::error::SeasonError;
use super::hours::WindRange;
use super::landing_maps::LandingMapCache;
use super::pressures::pressures_of;
use super::standing::{Made, StandingMakers};
use crate::lateral::hydraulics::{Blend, at_pressure};
use crate::model::{Alternative, Scenario};
use crate::sprinkler::atlas::Atlas;
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::footprint::{Footprint, FootprintSettings, Phase, WindSlice};
use crate::sprinkler::landing::LandingMap;
use crate::sprinkler::maker::FootprintMaker;
use crate::sprinkler::{Jet, Sprinkler, SprinklerProblem};
use std::borrow::Cow;
use std::sync::Arc;

/// How the water of every hour is laid.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HoursLaid {
    /// In the nearest of the winds that an atlas of footprints holds: for many seasons, as it is many
    /// times faster; see `crate::sprinkler::atlas`.
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
        let mut all = Self { distinct: Vec::new(), used_by: Vec::new(), winds, canopy_m };
        for alternative in &scenario.alternatives {
            let mut used = Vec::new();
            for sprinkler in at_its_pressures(alternative)? {
                let sprinkler = match canopy_m {
                    None => sprinkler,
                    canopy_m => Cow::Owned(sprinkler.above(canopy_m)?),
                };
                let known = all.distinct.iter().position(|(known, _)| *known == sprinkler);
                used.push(known.unwrap_or(all.distinct.len()));
                if known.is_none() {
                    let maps = cache.maps(&sprinkler, winds, canopy_m)?;
                    all.distinct.push((sprinkler, maps));
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
        let mut makers = Vec::with_capacity(self.distinct.len());
        for (sprinkler, maps) in &self.distinct {
            let jets: Vec<_> = sprinkler.jets.iter().map(Jet::leg).zip(maps).collect();
            makers.push(Arc::new(FootprintMaker::new(&jets, cell_m, settings)?));
        }
        let made = Made { winds: self.winds, canopy_m: self.canopy_m, cell_m, settings };
        let sprinklers = self.distinct.iter().map(|(sprinkler, _)| sprinkler.as_ref().clone());
        let standing = StandingMakers::of(sprinklers.collect(), made);
        Ok(Makers { upright: makers, atlases: Vec::new(), standing, used_by: self.used_by.clone() })
    }

    /// The makers for many seasons.
    pub(crate) fn makers_for(
        &self,
        cell_m: f64,
        hours_laid: HoursLaid,
    ) -> Result<Makers, SeasonError> {
        match hours_laid {
            HoursLaid::OwnWind => self.makers(cell_m, FootprintSettings::default()),
            HoursLaid::NearestWind => Ok(self.makers(cell_m, FOOTPRINTS)?.by_nearest_wind()),
        }
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
    /// Per alternative, which of them it uses.
    pub(super) used_by: Vec<Vec<usize>>,
}

/// What lays the sets of a sprinkler that stands so.
#[derive(Clone, Debug)]
pub(super) enum Laying {
    OwnWind(Arc<FootprintMaker>),
    NearestWind(Arc<Atlas>),
}

impl Laying {
    /// Net depth of a whole set, mm.
    pub(super) fn set_footprint(
        &self,
        slices: &[WindSlice],
        phase: Phase,
    ) -> Result<Footprint, SprinklerProblem> {
        match self {
            Self::OwnWind(maker) => maker.set_footprint(slices, phase),
            Self::NearestWind(atlas) => atlas.set_footprint(slices, phase),
        }
    }
}

impl Makers {
    /// The same by the nearest wind; sprinklers that do not stand upright keep to every hour's own.
    fn by_nearest_wind(self) -> Self {
        let atlas = |maker: &Arc<FootprintMaker>| Arc::new(Atlas::new(Arc::clone(maker)));
        Self { atlases: self.upright.iter().map(atlas).collect(), ..self }
    }

    /// What lays the sets of a sprinkler that stands so, or upright.
    pub(super) fn laying(
        &self,
        sprinkler: usize,
        attitude: Option<Attitude>,
    ) -> Result<Laying, SeasonError> {
        Ok(match (attitude, self.atlases.get(sprinkler)) {
            (Some(attitude), _) => Laying::OwnWind(self.standing.maker(sprinkler, attitude)?),
            (None, Some(atlas)) => Laying::NearestWind(Arc::clone(atlas)),
            (None, None) => Laying::OwnWind(Arc::clone(&self.upright[sprinkler])),
        })
    }

    /// Farthest from any sprinkler that water can fall in winds up to `fastest_m_s`, m.
    pub(crate) fn reach_m(&self, fastest_m_s: f64) -> f64 {
        self.upright.iter().map(|maker| maker.reach_m(fastest_m_s)).fold(0.0, f64::max)
    }
}
