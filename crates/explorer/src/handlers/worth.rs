//! Whether the alternatives pay: verdicts as seasons come in, then words, table, sensitivity, maps.

use crate::handlers::ask::display_units;
use crate::handlers::display::in_field;
use crate::jobs::run::{Kept, Order, Run};
use evenfall_core::season::{LandingMapCache, Progress};
use evenfall_core::worth::{self, Economics, Worth, WorthControl, WorthError};
use evenfall_figures::{worth_rows, worth_view};
use evenfall_view::worth::{Against, AlternativeWorth, Swing, Worth as WorthView};
use evenfall_view::{TextTable, Value};
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
    /// The alternatives as they stood in the scenario; maps and verdicts are in this order.
    pub(crate) names: Vec<String>,
    /// The answer in plain words: its first paragraph.
    pub(crate) headline: String,
    /// All paragraphs of the answer, the most important first.
    pub(crate) answer: Vec<String>,
    /// What the answer leaves out.
    pub(crate) limits: Vec<String>,
    /// One per alternative but the baseline, the best-ranked first.
    pub(crate) verdicts: Vec<Verdict>,
    /// The table that the command prints, in order of rank.
    pub(crate) table: TextTable,
    /// What each verdict hangs on.
    pub(crate) sensitivity: Vec<Sensitivity>,
    /// The maps that can be fetched.
    pub(crate) maps: Vec<&'static str>,
    /// Seasons that were run.
    pub(crate) seasons: usize,
    /// The unit of area that money is told by: `acre` or `hectare`.
    pub(crate) area_word: &'static str,
    /// Ends of the colors for the maps: yield (fraction), percolation (mm).
    #[schema(min_items = 2, max_items = 2)]
    pub(crate) yield_scale: [f64; 2],
    #[schema(min_items = 2, max_items = 2)]
    pub(crate) percolation_scale_mm: [f64; 2],
}

/// Whether an alternative pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum AnswerKey {
    Pays,
    DoesNotPay,
    Inconclusive,
}

impl AnswerKey {
    fn of(against: &Against) -> Self {
        match against.verdict.answer {
            "pays" => Self::Pays,
            "does_not_pay" => Self::DoesNotPay,
            _ => Self::Inconclusive,
        }
    }
}

/// A verdict.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct Verdict {
    /// Its alternative's place in the scenario.
    pub(crate) alternative: usize,
    pub(crate) name: String,
    pub(crate) answer: AnswerKey,
    /// The answer as people read it.
    pub(crate) answer_text: String,
    /// In sentences.
    pub(crate) words: String,
    /// Net return by area and year, with its interval; `null` without a value of the yield.
    pub(crate) net_text: Option<String>,
}

/// What one verdict hangs on, the widest swing first.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct Sensitivity {
    pub(crate) name: String,
    pub(crate) inputs: Vec<InputSwing>,
}

/// How far one price moves the net return, by shown area and year.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct InputSwing {
    pub(crate) input: String,
    pub(crate) is_placeholder: bool,
    pub(crate) low_text: String,
    pub(crate) base_text: String,
    pub(crate) high_text: String,
    pub(crate) net_low: f64,
    pub(crate) net_base: f64,
    pub(crate) net_high: f64,
    pub(crate) net_low_text: String,
    pub(crate) net_base_text: String,
    pub(crate) net_high_text: String,
    /// The price at which the answer turns, inside its range.
    pub(crate) turns_at_text: Option<String>,
}

/// What the seasons so far say.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct WorthPartial {
    /// Seasons done.
    pub(crate) seasons: usize,
    /// Seasons wanted.
    pub(crate) wanted: usize,
    /// The unit of area that money is told by.
    pub(crate) area_word: &'static str,
    /// What the others are compared against.
    pub(crate) baseline: String,
    /// The best-ranked first.
    pub(crate) alternatives: Vec<PartialVerdict>,
}

/// A verdict in the making.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct PartialVerdict {
    pub(crate) alternative: usize,
    pub(crate) name: String,
    /// Net return by shown area and year; `null` without a value of the yield.
    pub(crate) net_per_area: Option<NetInterval>,
    pub(crate) net_text: Option<String>,
    pub(crate) answer: AnswerKey,
}

/// A mean with its interval.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub(crate) struct NetInterval {
    pub(crate) mean: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
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
        if let Some(json) = view.and_then(|view| to_string(&partial(&view)).ok()) {
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

fn partial(view: &WorthView) -> WorthPartial {
    let verdict = |(index, alternative, against): (usize, &AlternativeWorth, &Against)| {
        let net = against.net.as_ref().map(|net| &net.figures);
        PartialVerdict {
            alternative: index,
            name: alternative.name.clone(),
            net_per_area: net.map(|net| {
                let number = |value: &Value| value.number.unwrap_or(0.0);
                let [low, high] = [&net.interval.low, &net.interval.high].map(number);
                NetInterval { mean: number(&net.mean), low, high }
            }),
            net_text: net.map(|net| net.text.clone()),
            answer: AnswerKey::of(against),
        }
    };
    WorthPartial {
        seasons: view.seasons_finished,
        wanted: view.seasons_wanted,
        area_word: view.area_word,
        baseline: view.baseline.clone(),
        alternatives: view.rivals().map(verdict).collect(),
    }
}

/// "pays", "does not pay" or "inconclusive".
fn word(against: &Against) -> String {
    against.verdict.answer.replace('_', " ")
}

fn summary(order: &Order, view: WorthView, worth: &Worth) -> WorthSummary {
    let boundary = order.resolved.scenario.field.boundary.as_ref();
    let maps = &worth.seasons.maps;
    let mut table = worth_rows(&view, display_units(&order.resolved)).into_iter();
    WorthSummary {
        names: view.alternatives.iter().map(|alternative| alternative.name.clone()).collect(),
        headline: view.answer.first().cloned().unwrap_or_default(),
        sensitivity: view.rivals().map(sensitivity).collect(),
        verdicts: view.rivals().map(verdict).collect(),
        table: TextTable { head: table.next().unwrap_or_default(), rows: table.collect() },
        maps: vec!["yield", "percolation"],
        seasons: view.seasons_finished,
        area_word: view.area_word,
        answer: view.answer,
        limits: view.limits,
        yield_scale: range(maps.iter().flat_map(|map| in_field(&map.yield_fraction, boundary))),
        percolation_scale_mm: range(
            maps.iter().flat_map(|map| in_field(&map.percolation_mm, boundary)),
        ),
    }
}

fn verdict((index, alternative, against): (usize, &AlternativeWorth, &Against)) -> Verdict {
    Verdict {
        alternative: index,
        answer: AnswerKey::of(against),
        answer_text: word(against),
        name: alternative.name.clone(),
        words: against.verdict.words(),
        net_text: against.net.as_ref().map(|net| net.figures.text.clone()),
    }
}

fn sensitivity((_, alternative, against): (usize, &AlternativeWorth, &Against)) -> Sensitivity {
    let input = |swing: &Swing| {
        let [low_text, base_text, high_text] = swing.price_texts.clone();
        let [net_low, net_base, net_high] = &swing.net;
        let number = |value: &Value| value.number.unwrap_or(0.0);
        InputSwing {
            input: swing.label.to_owned(),
            is_placeholder: swing.is_placeholder,
            low_text,
            base_text,
            high_text,
            net_low: number(net_low),
            net_base: number(net_base),
            net_high: number(net_high),
            net_low_text: net_low.text.clone(),
            net_base_text: net_base.text.clone(),
            net_high_text: net_high.text.clone(),
            turns_at_text: swing.break_even_text.clone(),
        }
    };
    let swings = against.swings.iter().filter(|swing| swing.matters && against.is_valued());
    Sensitivity { name: alternative.name.clone(), inputs: swings.map(input).collect() }
}

/// Lowest and highest of all values.
fn range(values: impl Iterator<Item = f64>) -> [f64; 2] {
    let ends = values.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], value| {
        [low.min(value), high.max(value)]
    });
    if ends[0] <= ends[1] { ends } else { [0.0, 1.0] }
}
