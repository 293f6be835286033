//! A search for rotations worth considering: its answer, its ranking, and each candidate as a part
//! of a scenario file that the page can take over.

use crate::handlers::request::display_units;
use crate::jobs::run::{Kept, Run};
use evenfall_core::search::{self, Aim, SearchOptions};
use evenfall_core::season::{Progress, RunControl};
use evenfall_figures::{SearchScene, search_summary, with_own_keys};
use evenfall_view::SearchSummary;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::ToSchema;

/// Candidates that are shown, beside the baseline and those tied for the best.
const SHOWN: usize = 12;

/// What candidates are ranked by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum SearchAim {
    /// DUlq of the season's water in the interior.
    Dulq,
    /// The same over the whole field.
    WholeDulq,
    /// Yield of the field's worst tenth; needs crop, soil and climate.
    WorstTenth,
    /// Net return against the fixed pattern; needs prices too.
    Net,
}

impl SearchAim {
    fn aim(self) -> Aim {
        match self {
            Self::Dulq => Aim::DuLqInterior,
            Self::WholeDulq => Aim::DuLqWhole,
            Self::WorstTenth => Aim::WorstTenth,
            Self::Net => Aim::NetReturn,
        }
    }
}

/// The scenario's own search with what the page says otherwise.
pub(super) fn narrowed(
    own: &SearchOptions,
    aim: Option<SearchAim>,
    seasons: Option<usize>,
) -> SearchOptions {
    let mut options = own.clone();
    if let Some(aim) = aim {
        options.aim = aim.aim();
    }
    if let Some(seasons) = seasons {
        options.seasons = seasons;
        options.first_seasons = options.first_seasons.min(seasons);
    }
    options
}

/// What a search found, for the page.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct SearchFound {
    #[serde(flatten)]
    pub(crate) summary: SearchSummary,
    /// For each row, the candidate as an alternative of the scenario file.
    #[schema(value_type = Vec<Object>)]
    pub(crate) alternatives: Vec<Value>,
}

/// Runs the search of `run`.
pub(super) fn compute<F: Kept>(run: &Run<F>) -> Result<SearchFound, String> {
    let resolved = &run.order.resolved;
    let scenario = &resolved.scenario;
    let worth = resolved.worth.as_ref().map(|(agronomy, economics)| (agronomy, economics));
    let go_on = |Progress { done, total }: Progress| {
        run.progress(done, total, "candidate-seasons");
        !run.is_canceled()
    };
    // On threads of its own, so that pictures do not wait until a look is through.
    let threads = rayon::current_num_threads();
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
    let pool = pool.map_err(|error| error.to_string())?;
    let found =
        pool.install(|| search::run(scenario, &resolved.search, worth, RunControl::new(&go_on)));
    let found = found.map_err(|error| error.to_string())?;
    let economics = worth.map(|(_, economics)| economics);
    let scene = SearchScene::new(scenario, &found, economics, display_units(resolved));
    let told = scene.and_then(|scene| search_summary(&scene, SHOWN));
    let (summary, alternatives) = told.map_err(|error| error.to_string())?;
    let text: Value = serde_json::from_str(&run.order.text).map_err(|error| error.to_string())?;
    let alternatives = match with_own_keys(&text, Value::Array(alternatives)) {
        Value::Array(list) => list,
        _ => Vec::new(),
    };
    Ok(SearchFound { summary, alternatives })
}
