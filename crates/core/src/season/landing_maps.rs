//! Landing maps kept from run to run.
//!
//! Flying the drops costs most of a short run, and what changes from one run to the next is mostly
//! where the lateral stands. A map depends on radius, launch, drag, measuring height, the crop and
//! the speed nodes up to the fastest wind alone; the same of these give the same map, so a kept one changes no
//! digit. So are atlases, for runs of many seasons one after another. Beside them footprints may be kept (`kept_footprints`).

use super::error::SeasonError;
use super::hours::WindRange;
use super::kept_footprints::{KeptFootprints, Layer};
use crate::sprinkler::atlas::Atlas;
use crate::sprinkler::landing::{LandingMap, LandingSettings, Winds};
use crate::sprinkler::{DragCorrection, Jet, Launch, Sprinkler};
use crate::weather::KeptWinds;
use crate::weather::profile::LogProfile;
use std::sync::{Arc, Mutex, PoisonError};

/// Most maps that are kept; the one longest unused goes first.
const MOST_MAPS: usize = 24;

/// Most atlases that are kept; each holds 32 MB at most, mostly a few.
const MOST_ATLASES: usize = 12;

/// A store of landing maps that several runs may share.
#[derive(Debug, Default)]
pub struct LandingMapCache {
    /// The last used stands last.
    maps: Mutex<Vec<(Key, Arc<LandingMap>)>>,
    /// Atlases by what they are made with; the last used stands last.
    atlases: Mutex<Vec<(Layer, Arc<Atlas>)>>,
    footprints: Option<Arc<KeptFootprints>>,
    /// Whether those of drawn sprinklers are kept too.
    keeps_drawn: bool,
    winds: KeptWinds,
}

/// What a landing map depends on.
#[derive(Clone, Debug, PartialEq)]
struct Key {
    radius_m: f64,
    launch: Launch,
    drag: DragCorrection,
    measured_at_m: f64,
    canopy_m: Option<f64>,
    /// Whole steps of wind speed that the map has to hold.
    steps: u32,
}

impl LandingMapCache {
    /// A store that keeps the footprints of single seasons too, up to so many bytes.
    pub fn with_footprints(most_bytes: usize) -> Self {
        let footprints = Some(Arc::new(KeptFootprints::new(most_bytes)));
        Self { footprints, ..Self::default() }
    }

    /// A store for many scenarios in the same seasons: it keeps what is drawn of the doubts too, which is
    /// the same in the same season for all that differ in other things.
    pub fn for_a_study() -> Self {
        Self { keeps_drawn: true, ..Self::default() }
    }

    /// Whether what is drawn of the doubts is kept.
    pub(crate) fn keeps_drawn(&self) -> bool {
        self.keeps_drawn
    }

    /// Where the winds that scenarios draw are kept, for [`crate::weather::WeatherSource::keep_in`].
    pub fn winds(&self) -> &KeptWinds {
        &self.winds
    }

    /// The footprints, where they are kept.
    pub(super) fn footprints(&self) -> Option<&Arc<KeptFootprints>> {
        self.footprints.as_ref()
    }

    /// The maps of a sprinkler's jets in such winds, over grass or over a crop so high; the sprinkler
    /// is the one above the crop.
    pub(crate) fn maps(
        &self,
        sprinkler: &Sprinkler,
        winds: WindRange,
        canopy_m: Option<f64>,
    ) -> Result<Vec<Arc<LandingMap>>, SeasonError> {
        let WindRange { measured_at_m, fastest_m_s } = winds;
        sprinkler.check()?;
        let settings = LandingSettings::default();
        // As the map itself rounds the fastest wind up to its last node.
        let steps = (fastest_m_s / settings.speed_step_m_s - 1e-9).ceil().max(1.0);
        let profile = LogProfile::over(canopy_m, measured_at_m)
            .ok_or(SeasonError::MeasuringHeight { measured_at_m })?;
        let map = |jet: &Jet| {
            let (radius_m, launch, drag) = (jet.leg().radius_m(), jet.launch, sprinkler.drag);
            let key = Key { radius_m, launch, drag, measured_at_m, canopy_m, steps: steps as u32 };
            if let Some(known) = self.known(&key) {
                return Ok(known);
            }
            let winds = Winds { profile, fastest_m_s: steps * settings.speed_step_m_s };
            let made = Arc::new(LandingMap::new(radius_m, &launch, &drag, &winds, settings)?);
            Ok(self.keep(key, made))
        };
        sprinkler.jets.iter().map(map).collect()
    }

    /// The atlas of `layer`, made by `make` where it is not kept: an atlas is a function of its layer
    /// alone, so a kept one changes no digit.
    pub(super) fn atlas(&self, layer: Layer, make: impl FnOnce() -> Atlas) -> Arc<Atlas> {
        let mut kept = self.atlases.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(at) = kept.iter().position(|(known, _)| known.is(&layer)) {
            let entry = kept.remove(at);
            let atlas = Arc::clone(&entry.1);
            kept.push(entry);
            return atlas;
        }
        let atlas = Arc::new(make());
        if kept.len() >= MOST_ATLASES {
            kept.remove(0);
        }
        kept.push((layer, Arc::clone(&atlas)));
        atlas
    }

    fn known(&self, key: &Key) -> Option<Arc<LandingMap>> {
        // A panic elsewhere leaves the list whole: it is only ever changed by one call.
        let mut maps = self.maps.lock().unwrap_or_else(PoisonError::into_inner);
        let at = maps.iter().position(|(known, _)| known == key)?;
        let entry = maps.remove(at);
        let map = Arc::clone(&entry.1);
        maps.push(entry);
        Some(map)
    }

    /// Keeps a map; where another thread was faster, its one goes, so that what is made of the same maps
    /// is known to be the same.
    fn keep(&self, key: Key, made: Arc<LandingMap>) -> Arc<LandingMap> {
        let mut maps = self.maps.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, known)) = maps.iter().find(|(known, _)| *known == key) {
            return Arc::clone(known);
        }
        if maps.len() >= MOST_MAPS {
            maps.remove(0);
        }
        maps.push((key, Arc::clone(&made)));
        made
    }
}
