//! A season made ready to be laid: schedules, places on the grid, hours of weather, footprints.
//!
//! Whatever looks at a season (all of it, one pass, one place, the strips of the sets) starts here.

use super::error::SeasonError;
use super::hours::SeasonHours;
use super::laid_pass::LaidPass;
use super::landing_maps::LandingMapCache;
use super::layout::Layout;
use super::sprinklers::{HoursLaid, Laying, Makers, Sprinklers};
use crate::model::Scenario;
use crate::schedule::Plan;
use crate::sprinkler::atlas::{Atlas, SetAt};
use crate::sprinkler::attitude::Attitude;
use crate::sprinkler::footprint::{Footprint, FootprintSettings, WindSlice};
use crate::sprinkler::places::Places;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A season of all alternatives, ready to be laid.
#[derive(Debug)]
pub(crate) struct PreparedSeason<'a> {
    /// Per alternative, its schedule and its places on the grid.
    pub(crate) layouts: Vec<Layout<'a>>,
    /// Wind and losses.
    pub(crate) hours: SeasonHours,
    sprinklers: Sprinklers<'a>,
    cell_m: f64,
}

impl<'a> PreparedSeason<'a> {
    /// Season number `season` of the weather, run as `plans` have it.
    pub(crate) fn of(
        scenario: &'a Scenario,
        plans: Vec<Plan>,
        season: u32,
        cache: Option<&LandingMapCache>,
    ) -> Result<Self, SeasonError> {
        let hours = SeasonHours::of(scenario, &plans, season)?;
        let sprinklers = Sprinklers::of(scenario, cache, hours.wind_range())?;
        let layouts = Layout::of_all(scenario, plans, HoursLaid::OwnWind)?;
        Ok(Self { layouts, hours, sprinklers, cell_m: scenario.field.grid.cell_m })
    }

    /// What makes its footprints, as fine as `settings` say.
    pub(crate) fn makers(&self, settings: FootprintSettings) -> Result<Makers, SeasonError> {
        self.sprinklers.makers(self.cell_m, settings)
    }

    /// What makes them for this season alone.
    pub(crate) fn season_makers(&self) -> Result<Makers, SeasonError> {
        self.sprinklers.season_makers(self.cell_m)
    }

    /// Its footprints, made by `makers`.
    pub(crate) fn footprints<'b>(&'b self, makers: &'b Makers) -> Footprints<'b> {
        Footprints { hours: &self.hours, makers, is_alone: true }
    }

    /// The layouts by reference.
    pub(crate) fn layouts(&self) -> Vec<&Layout<'a>> {
        self.layouts.iter().collect()
    }

    /// Passes of the alternative that has most.
    pub(crate) fn passes(&self) -> usize {
        self.layouts.iter().map(|layout| layout.plan.passes.len()).max().unwrap_or(0)
    }

    /// Per sprinkler of alternative `index`, of how few footprints the laterals that use it make their blends.
    pub(crate) fn nodes_of(&self, index: usize) -> Vec<usize> {
        self.sprinklers.nodes_of(index)
    }

    /// What the reader must be told about weather and drops.
    pub(crate) fn notices(&self) -> Vec<String> {
        let mut notices = self.hours.notices();
        notices.extend(self.sprinklers.notices());
        notices
    }
}

/// The footprints of a season's sets: sprinklers in the wind of its hours.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Footprints<'a> {
    /// Wind and losses.
    pub(crate) hours: &'a SeasonHours,
    /// The sprinklers.
    pub(crate) makers: &'a Makers,
    /// Whether the season is the only one that runs, so that its sets may be laid side by side.
    pub(crate) is_alone: bool,
}

impl Footprints<'_> {
    /// Those of pass `pass` of `layouts`, each distinct one made once, by the number of the alternative;
    /// one without a layout has none.
    pub(crate) fn of_pass(
        &self,
        layouts: &[&Layout<'_>],
        pass: usize,
    ) -> Result<LaidPass, SeasonError> {
        let mut wanted = Wanted::default();
        let numbers = layouts.iter().map(|layout| layout.index + 1).max().unwrap_or(0);
        let mut of_set = vec![Vec::new(); numbers];
        let mut lost_hours = vec![0.0; numbers];
        for layout in layouts {
            let alternative = layout.index;
            let indices = layout.sets(pass).iter().map(|set| {
                let slices = self.hours.slices_of(set);
                let places = layout.places(set);
                let attitude = layout.attitude(set);
                lost_hours[alternative] +=
                    slices.iter().map(|slice| slice.hours * (1.0 - slice.net)).sum::<f64>();
                let at_node = |sprinkler: &usize| {
                    wanted.at((*sprinkler, attitude), places, &slices, self.makers)
                };
                self.makers.used_by[alternative].iter().map(at_node).collect()
            });
            of_set[alternative] = indices.collect::<Result<_, _>>()?;
        }
        Ok(LaidPass { footprints: wanted.laid(self.is_alone)?, of_set, lost_hours })
    }
}

/// The distinct footprints of a pass, those that differ only by where the sprinkler stands together: they
/// share work.
#[derive(Default)]
struct Wanted {
    known: BTreeMap<(OneKey, [u64; 4]), usize>,
    groups: BTreeMap<OneKey, usize>,
    together: Vec<Together>,
    count: usize,
}

/// Footprints of one sprinkler in the same hours.
struct Together {
    laying: Laying,
    slices: Vec<WindSlice>,
    /// The places about the sprinkler, and which footprint that is.
    places: Vec<Places>,
    numbers: Vec<usize>,
}

impl Wanted {
    /// Which footprint it is.
    fn at(
        &mut self,
        sprinkler: (usize, Option<Attitude>),
        places: Places,
        slices: &[WindSlice],
        makers: &Makers,
    ) -> Result<usize, SeasonError> {
        let own = key(sprinkler, slices);
        let look = (own.clone(), places.bits());
        if let Some(at) = self.known.get(&look) {
            return Ok(*at);
        }
        let group = if let Some(group) = self.groups.get(&own) {
            *group
        } else {
            let laying = makers.laying(sprinkler.0, sprinkler.1)?;
            let slices = slices.to_vec();
            let (places, numbers) = (Vec::new(), Vec::new());
            self.together.push(Together { laying, slices, places, numbers });
            self.groups.insert(own, self.together.len() - 1);
            self.together.len() - 1
        };
        let at = self.count;
        self.count += 1;
        self.together[group].places.push(places);
        self.together[group].numbers.push(at);
        self.known.insert(look, at);
        Ok(at)
    }

    /// The footprints in order, laid side by side or not.
    fn laid(&self, side_by_side: bool) -> Result<Vec<Arc<Footprint>>, SeasonError> {
        let mut laid: Vec<(usize, Arc<Footprint>)> = if side_by_side {
            let laid: Vec<_> =
                self.together.par_iter().map(Together::laid).collect::<Result<_, _>>()?;
            laid.into_iter().flatten().collect()
        } else {
            self.laid_in_turn()?
        };
        laid.sort_unstable_by_key(|(at, _)| *at);
        Ok(laid.into_iter().map(|(_, footprint)| footprint).collect())
    }

    /// The footprints with their numbers; those that are read from one atlas are read together.
    fn laid_in_turn(&self) -> Result<Vec<(usize, Arc<Footprint>)>, SeasonError> {
        let mut laid = Vec::with_capacity(self.count);
        let mut atlases: Vec<(&Arc<Atlas>, Vec<&Together>)> = Vec::new();
        for one in &self.together {
            let Laying::NearestWind(atlas) = &one.laying else {
                laid.extend(one.laid()?);
                continue;
            };
            match atlases.iter_mut().find(|(known, _)| Arc::ptr_eq(known, atlas)) {
                Some((_, those)) => those.push(one),
                None => atlases.push((atlas, vec![one])),
            }
        }
        for (atlas, those) in atlases {
            let sets = those.iter().map(|one| SetAt { slices: &one.slices, places: &one.places });
            let found = atlas.footprints(&sets.collect::<Vec<_>>())?;
            for (one, found) in those.into_iter().zip(found) {
                laid.extend(one.numbers.iter().copied().zip(found.into_iter().map(Arc::new)));
            }
        }
        Ok(laid)
    }
}

impl Together {
    /// The footprints, each with its number.
    fn laid(&self) -> Result<Vec<(usize, Arc<Footprint>)>, SeasonError> {
        let found = self.laying.set_footprints(&self.slices, &self.places)?;
        Ok(self.numbers.iter().copied().zip(found).collect())
    }
}

/// But for where it stands, a set's footprint is the same wherever sprinkler, how it stands
/// and slices are: their bits as a key.
type OneKey = ((usize, [u64; 4]), Vec<[u64; 4]>);

fn key((sprinkler, stood): (usize, Option<Attitude>), slices: &[WindSlice]) -> OneKey {
    let numbers = |a: Attitude| [a.roll_deg, a.leveler_range_deg, a.pipe_diameter_m, a.riser_m];
    let stood = stood.map_or([0; 4], |attitude| numbers(attitude).map(f64::to_bits));
    let bits = |s: &WindSlice| [s.hours, s.net, s.speed_m_s, s.towards_rad].map(f64::to_bits);
    ((sprinkler, stood), slices.iter().map(bits).collect())
}
