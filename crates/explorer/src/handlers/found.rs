//! What runs find, by their kind.

use super::search::SearchFound;
use super::season::SeasonFound;
use super::worth::WorthFound;
use crate::jobs::run::{self, Kept};
use crate::jobs::store;
use crate::limits::fail::Fail;
use evenfall_core::worth::{Economics, Worth};

/// A run of the explorer.
pub(crate) type Run = run::Run<Found>;
/// The runs of the explorer.
pub(crate) type Runs = store::Runs<Found>;

/// What a run found.
#[derive(Debug)]
pub(crate) enum Found {
    Season(Box<SeasonFound>),
    Worth(Box<WorthFound>),
    Search(Box<SearchFound>),
}

impl Kept for Found {
    fn bytes(&self) -> usize {
        match self {
            Self::Season(found) => found.bytes(),
            Self::Worth(found) => found.bytes(),
            Self::Search(_) => 0,
        }
    }
}

impl Found {
    /// The worth, where it was asked for.
    pub(crate) fn worth(&self) -> Option<(&Worth, &Economics)> {
        match self {
            Self::Season(_) | Self::Search(_) => None,
            Self::Worth(found) => Some((&found.worth, &found.economics)),
        }
    }
}

/// What a run found.
pub(crate) fn found(run: &Run) -> Result<&Found, Fail> {
    run.found().ok_or_else(|| Fail::not_found("The run is not done."))
}

/// The season that a run found; `what` comes with a season only.
pub(crate) fn season_of<'a>(run: &'a Run, what: &str) -> Result<&'a SeasonFound, Fail> {
    match found(run)? {
        Found::Season(found) => Ok(found),
        Found::Worth(_) | Found::Search(_) => {
            Err(Fail::not_found(format!("{what} with a run of kind `season`.")))
        }
    }
}
