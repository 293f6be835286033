//! What a run is watched and stopped with: progress, landing maps kept from run to run, a viewer.

use super::error::SeasonError;
use super::landing_maps::LandingMapCache;
use super::outcome::Laid;
use std::fmt;

/// How far a run has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Steps done: passes, seasons or candidates, as the run counts them.
    pub done: usize,
    /// Steps in all.
    pub total: usize,
}

/// Told how far a computation is; where it says no, the computation stops.
pub type GoOn<'a> = &'a (dyn Fn(Progress) -> bool + Sync);

/// What a run is watched and stopped with. `V` is what sees partial results; the default run has
/// none, keeps no landing maps and goes on to its end.
pub struct RunControl<'a, V: ?Sized = ()> {
    go_on: GoOn<'a>,
    maps: Option<&'a LandingMapCache>,
    keeps_first: bool,
    viewer: Option<&'a mut V>,
}

impl<V: ?Sized> fmt::Debug for RunControl<'_, V> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("RunControl").field("maps", &self.maps).finish_non_exhaustive()
    }
}

/// That of one season, whose viewer is shown every pass of every alternative.
pub type SeasonControl<'a> = RunControl<'a, dyn FnMut(Laid<'_>) + 'a>;

impl<V: ?Sized> Default for RunControl<'_, V> {
    fn default() -> Self {
        Self::new(&|_| true)
    }
}

impl<'a, V: ?Sized> RunControl<'a, V> {
    /// Goes on while `go_on` says so.
    pub fn new(go_on: GoOn<'a>) -> Self {
        Self { go_on, maps: None, keeps_first: true, viewer: None }
    }

    /// Takes landing maps from `maps`, and leaves new ones there.
    #[must_use]
    pub fn with_landing_maps(self, maps: &'a LandingMapCache) -> Self {
        Self { maps: Some(maps), ..self }
    }

    /// Keeps of the depths only those at the end of the season, not those after its first passes.
    #[must_use]
    pub fn with_end_only(self) -> Self {
        Self { keeps_first: false, ..self }
    }

    /// Shows `viewer` what is done as it is done.
    #[must_use]
    pub fn with_viewer(self, viewer: &'a mut V) -> Self {
        Self { viewer: Some(viewer), ..self }
    }

    /// The same for a part of the run, with no viewer yet.
    pub(crate) fn unwatched<'b, W: ?Sized>(&self) -> RunControl<'b, W>
    where
        'a: 'b,
    {
        let Self { go_on, maps, keeps_first, .. } = *self;
        RunControl { go_on, maps, keeps_first, viewer: None }
    }

    /// The same landing maps for a part of the run whose progress goes to `go_on`.
    pub(crate) fn reporting_to<'b, W: ?Sized>(&self, go_on: GoOn<'b>) -> RunControl<'b, W>
    where
        'a: 'b,
    {
        RunControl { go_on, maps: self.maps, keeps_first: self.keeps_first, viewer: None }
    }

    /// Where landing maps are kept, if they are.
    pub(crate) fn maps(&self) -> Option<&'a LandingMapCache> {
        self.maps
    }

    /// Whether the depths after the first passes are kept.
    pub(crate) fn keeps_first(&self) -> bool {
        self.keeps_first
    }

    /// The viewer, if there is one.
    pub(crate) fn viewer(&mut self) -> Option<&mut V> {
        self.viewer.as_deref_mut()
    }

    /// Tells how far the run is; whether it goes on.
    pub(crate) fn goes_on(&self, done: usize, total: usize) -> bool {
        (self.go_on)(Progress { done, total })
    }

    /// [`SeasonError::Stopped`] where the run does not go on.
    pub(crate) fn check(&self, done: usize, total: usize) -> Result<(), SeasonError> {
        if self.goes_on(done, total) { Ok(()) } else { Err(SeasonError::Stopped { done, total }) }
    }
}
