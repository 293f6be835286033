//! A search for rotations worth considering: its answer, its ranking, and each candidate as a part
//! of a scenario file that the page can take over.

use crate::handlers::request::display_units;
use crate::jobs::run::{Kept, Run};
use crate::limits::fail::Fail;
use evenfall_core::lateral::{Machine, WheelSize};
use evenfall_core::search::{self, Aim, Found, SearchControl, SearchOptions};
use evenfall_core::season::Progress;
use evenfall_figures::{SearchScene, search_so_far, search_summary, with_own_keys};
use evenfall_scenario::Resolved;
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

/// What the page asks otherwise than the scenario's own search.
pub(super) struct Wish {
    pub(super) aim: Option<SearchAim>,
    pub(super) seasons: usize,
    pub(super) wheel_sizes: bool,
}

/// The scenario's own search with what the page says otherwise.
pub(super) fn narrowed(resolved: &Resolved, wish: &Wish) -> Result<SearchOptions, Fail> {
    let mut options = resolved.search.clone();
    if let Some(aim) = wish.aim {
        options.aim = aim.aim();
    }
    options.seasons = wish.seasons;
    options.first_seasons = options.first_seasons.min(wish.seasons);
    if wish.wheel_sizes {
        let first = resolved.scenario.alternatives.first();
        if first.is_some_and(|first| first.lateral.machine == Machine::HandMove) {
            return Err(Fail::impossible("A hand-moved lateral has no wheels to compare."));
        }
        options.space.sizes = WheelSize::ALL.to_vec();
        options.space.travels_m = Vec::new();
    }
    Ok(options)
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

/// What a search under way has found so far.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct SearchPartial {
    /// How far it has come and what leads, in a sentence or two.
    pub(crate) words: String,
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
    let economics = worth.map(|(_, economics)| economics);
    let mut so_far = |found: &Found| {
        let scene = SearchScene::new(scenario, found, economics, display_units(resolved)).ok();
        let partial = scene.map(|scene| SearchPartial { words: search_so_far(&scene) });
        // A look without a ranking says nothing; the next one, or the summary, does.
        if let Some(json) = partial.and_then(|partial| serde_json::to_string(&partial).ok()) {
            run.partial(json);
        }
    };
    let found = pool.install(|| {
        let control = SearchControl::new(&go_on).with_viewer(&mut so_far);
        search::run(scenario, &resolved.search, worth, control)
    });
    let found = found.map_err(|error| error.to_string())?;
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
