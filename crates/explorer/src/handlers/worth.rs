//! Whether the alternatives pay: verdicts as seasons come in, then words, table, sensitivity, maps.

use crate::handlers::request::display_units;
use crate::jobs::run::{Kept, Order, Run};
use evenfall_core::grid::DepthGrid;
use evenfall_core::model::Field;
use evenfall_core::season::{LandingMapCache, Progress};
use evenfall_core::shown::range;
use evenfall_core::worth::{self, Economics, Worth, WorthControl, WorthError};
use evenfall_figures::{worth_rows, worth_view};
use evenfall_view::TextTable;
use evenfall_view::worth::{Against, AlternativeWorth, OverSeasons, Worth as WorthView};
use serde::Serialize;
use serde_json::to_string;
use utoipa::ToSchema;

/// A run of many seasons that is done.
#[derive(Debug)]
pub(crate) struct WorthFound {
    pub(crate) worth: Worth,
    pub(crate) economics: Economics,
    pub(crate) summary: WorthSummary,
}

impl WorthFound {
    pub(crate) fn bytes(&self) -> usize {
        let maps = &self.worth.seasons.maps;
        8 * maps.iter().map(|m| m.yield_fraction.len() + m.percolation_mm.len()).sum::<usize>()
    }
}

/// What the alternatives are worth, for the page.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct WorthSummary {
    pub(crate) worth: WorthView,
    /// The table that the command prints, in order of rank.
    pub(crate) table: TextTable,
    /// Ends of the colors for the maps: yield (fraction), percolation (mm).
    #[schema(min_items = 2, max_items = 2)]
    pub(crate) yield_scale: [f64; 2],
    #[schema(min_items = 2, max_items = 2)]
    pub(crate) percolation_scale_mm: [f64; 2],
}

/// What the seasons so far say: that part of the worth which the page draws while they run.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct WorthPartial {
    /// Seasons that were finished.
    pub(crate) seasons_finished: usize,
    /// Seasons that were wanted.
    pub(crate) seasons_wanted: usize,
    /// Unit of area that money is told by.
    pub(crate) area_word: &'static str,
    /// Name of the baseline.
    pub(crate) baseline: String,
    /// All but the baseline, the best-ranked first.
    pub(crate) rivals: Vec<RivalSoFar>,
}

/// Net return of one alternative in the making.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct RivalSoFar {
    /// Its place in the scenario.
    pub(crate) index: usize,
    pub(crate) name: String,
    /// By shown area and year; `null` without a value of the yield.
    pub(crate) net: Option<OverSeasons>,
}

/// Runs the seasons of `run`.
pub(super) fn compute<F: Kept>(
    cache: &LandingMapCache,
    run: &Run<F>,
) -> Result<WorthFound, String> {
    let Order { resolved, seasons, .. } = &run.order;
    let (scenario, units) = (&resolved.scenario, display_units(resolved));
    let Some((agronomy, economics)) = &resolved.worth else {
        return Err("the scenario has no crop, soil and climate".to_owned());
    };
    let economics = Economics { seasons: *seasons, ..economics.clone() };
    run.progress(0, *seasons, "seasons");
    let go_on = |Progress { done, total }: Progress| {
        run.progress(done, total, "seasons");
        !run.is_canceled()
    };
    let mut so_far = |worth: &Worth| {
        // What cannot be told or written now is told by the next batch, or by the summary.
        let view = worth_view(scenario, worth, &economics, units).ok();
        if let Some(json) = view.and_then(|view| to_string(&partial(view)).ok()) {
            run.partial(json);
        }
    };
    // On threads of its own, so that pictures do not wait until a whole season is through.
    let threads = rayon::current_num_threads();
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
    let pool = pool.map_err(|error| error.to_string())?;
    let worth = pool.install(|| {
        let control = WorthControl::new(&go_on).with_landing_maps(cache);
        worth::run(scenario, agronomy, &economics, control.with_viewer(&mut so_far))
    });
    let worth = worth.map_err(|error: WorthError| error.to_string())?;
    let view = worth_view(scenario, &worth, &economics, units).map_err(|e| e.to_string())?;
    let summary = summary(&run.order, view, &worth);
    Ok(WorthFound { worth, economics, summary })
}

fn partial(view: WorthView) -> WorthPartial {
    let rival = |(index, alternative, against): (usize, &AlternativeWorth, &Against)| RivalSoFar {
        index,
        name: alternative.name.clone(),
        net: against.net.as_ref().map(|net| net.figures.clone()),
    };
    WorthPartial {
        rivals: view.rivals().map(rival).collect(),
        seasons_finished: view.seasons_finished,
        seasons_wanted: view.seasons_wanted,
        area_word: view.area_word,
        baseline: view.baseline,
    }
}

fn summary(order: &Order, view: WorthView, worth: &Worth) -> WorthSummary {
    let field = &order.resolved.scenario.field;
    let maps = &worth.seasons.maps;
    let mut table = worth_rows(&view, display_units(&order.resolved)).into_iter();
    WorthSummary {
        table: TextTable { head: table.next().unwrap_or_default(), rows: table.collect() },
        worth: view,
        yield_scale: scale(field, maps.iter().map(|map| &map.yield_fraction)),
        percolation_scale_mm: scale(field, maps.iter().map(|map| &map.percolation_mm)),
    }
}

/// Lowest and highest of the values on the field.
fn scale<'a>(field: &Field, maps: impl Iterator<Item = &'a DepthGrid>) -> [f64; 2] {
    let whole = field.whole();
    // Of a field without a boundary the maps are folded.
    let runs = |map: &'a DepthGrid| match field.boundary {
        Some(_) => whole.runs_of(map),
        None => map.as_slice().into_iter().collect(),
    };
    let ends = maps.flat_map(runs).filter_map(range);
    ends.reduce(|all, run| (all.0.min(run.0), all.1.max(run.1))).unwrap_or((0.0, 1.0)).into()
}
