//! What a rotation is worth: many seasons' water through soil, crop and money to a verdict.
//!
//! For every alternative: figures of the seasons; against the first one (the baseline), season by
//! season under the same weather: yield, water below the roots, money; the verdict on the money
//! and what it hangs on. Nothing is computed here that its parts do not compute: this is the line
//! from [`crate::seasons`] through [`crate::money`] to [`crate::verdict`].

mod against;
mod climate;
mod drawn_days;
mod inputs;
mod of_plans;
mod plan;
mod precision;
mod rain;
mod shortest_set;
mod stages;
mod varied_days;

pub use against::AgainstBaseline;
pub(crate) use against::season_use;
pub use climate::seasons_there_are;
pub(crate) use climate::winds_there_are;
pub use inputs::{Agronomy, ClimateProblem, Economics, WorthError};
pub use of_plans::{CropBeside, crop_beside};
pub use plan::check_plan;
pub use precision::{HalfWidth, Precision, Reached};
pub use rain::{Rain, RainDay};
pub use shortest_set::{
    KEPT_WITHIN, RESOLUTION_H, SHORTEST_SET_SEASONS, ShortestSet, shortest_sets,
};

use crate::doubt::apply::ranges_of;
use crate::doubt::draws::Ranges;
use crate::ensemble::{SeasonsFigures, seasons_figures};
use crate::model::Scenario;
use crate::plan_check::{PlanYield, plan_yields};
use crate::root_zone::ground::Ground;
use crate::season::{self, RunControl};
use crate::seasons::{self, SeasonFigures, Seasons, SeasonsControl, Subject};
use crate::unevenness::{UnevennessSplit, over_seasons};
use crate::verdict::{Ranked, long_run, rank};

/// What the alternatives are worth.
#[derive(Clone, Debug)]
pub struct Worth {
    /// The seasons as they ran.
    pub seasons: Seasons,
    /// Per alternative, in the scenario's order.
    pub alternatives: Vec<AlternativeWorth>,
    /// The alternatives by net return, or by the worst tenth of the yield where the net return of
    /// any is not known; ties inside the noise shown as ties.
    pub ranking: Vec<Ranked>,
    /// Whether the ranking is by money.
    pub ranked_by_money: bool,
    /// How far a precision that was asked for has been reached.
    pub precision: Option<Reached>,
    /// Per alternative, what of the full yield its plan misses, and why.
    pub plan: Vec<PlanYield>,
    /// Per alternative, its shortest set, where that was asked: see [`shortest_sets`].
    pub shortest_sets: Vec<ShortestSet>,
}

/// One alternative's seasons, and how it stands against the baseline.
#[derive(Clone, Debug)]
pub struct AlternativeWorth {
    /// CU of the interior, fraction.
    pub cu: SeasonsFigures,
    /// DUlq of the interior, fraction.
    pub du_lq: SeasonsFigures,
    /// Systematic and random unevenness, from the means of the seasons' squares; `None` with fewer
    /// than two whole cycles a season.
    pub split: Option<UnevennessSplit>,
    /// Yield as a fraction of that without stress, whole field.
    pub yield_fraction: SeasonsFigures,
    /// The same of the field's worst tenth.
    pub yield_worst_tenth: SeasonsFigures,
    /// Water lost below the roots, mm.
    pub percolation_mm: SeasonsFigures,
    /// Against the baseline; `None` for the baseline itself.
    pub against: Option<AgainstBaseline>,
}

/// What a run is watched and stopped with; as seasons come in, the viewer is shown what those done
/// so far are worth.
pub type WorthControl<'a> = RunControl<'a, dyn FnMut(&Worth) + 'a>;

/// Runs the seasons and draws the balance.
///
/// # Errors
/// Inputs that make no sense, all of one kind at once; fewer than two finished seasons.
pub fn run(
    scenario: &Scenario,
    agronomy: &Agronomy,
    economics: &Economics,
    mut control: WorthControl<'_>,
) -> Result<Worth, WorthError> {
    let told: RunControl<'_> = control.unwatched();
    let begun = Begun::of(scenario, agronomy, economics, &|| told.goes_on(0, economics.seasons))?;
    let subject = begun.subject(scenario, economics, true);
    if begun.there_are < 2 {
        return Err(WorthError::TooFewYears { seasons: begun.there_are });
    }
    let wanted = |seasons: &Seasons| match &economics.precision {
        Some(precision) => stages::wanted(scenario, economics, precision, seasons).min(begun.most),
        None => begun.most,
    };
    let inner: SeasonsControl<'_> = control.unwatched();
    let is_watched = control.viewer().is_some();
    let mut show = |done: &Seasons| {
        let Some(viewer) = control.viewer() else { return };
        let mut done = done.clone();
        done.average();
        // What cannot be told yet (too few seasons) is told by the next batch.
        if let Ok(worth) = of_seasons(subject, economics, done) {
            viewer(&worth);
        }
    };
    let inner = if is_watched { inner.with_viewer(&mut show) } else { inner };
    let seasons = seasons::run_wanted(subject, begun.most, &wanted, inner)?;
    of_seasons(subject, economics, seasons)
}

/// The seasons' figures alone, those that `economics` names: as [`run`] has them, without maps and the
/// balance, and of one season too.
///
/// # Errors
/// Those of [`run`].
pub fn run_seasons(
    scenario: &Scenario,
    agronomy: &Agronomy,
    economics: &Economics,
    control: &RunControl<'_>,
) -> Result<Seasons, WorthError> {
    let begun =
        Begun::of(scenario, agronomy, economics, &|| control.goes_on(0, economics.seasons))?;
    let subject = begun.subject(scenario, economics, false);
    Ok(seasons::run_wanted(subject, begun.most, &|_| begun.most, control.unwatched())?)
}

/// What seasons run on, made once for all of them.
struct Begun {
    ground: Ground,
    doubts: Option<Ranges>,
    /// Seasons that there are from the first one on.
    there_are: usize,
    /// Seasons to run at the most.
    most: usize,
}

impl Begun {
    fn of(
        scenario: &Scenario,
        agronomy: &Agronomy,
        economics: &Economics,
        goes_on: &(dyn Fn() -> bool + Sync),
    ) -> Result<Self, WorthError> {
        let plans = season::plans(scenario)?;
        let first_plan = plans.first().ok_or(season::SeasonError::NoAlternatives)?;
        let first = economics.first_season;
        let there_are = seasons_there_are(scenario, agronomy)?.unwrap_or(usize::MAX);
        if first > 0 && first >= there_are {
            return Err(WorthError::BeyondRecord { first: first + 1, seasons: there_are });
        }
        if economics.doubts && !first.is_multiple_of(2) {
            return Err(WorthError::PartsPair { first: first + 1 });
        }
        let asked = economics.precision.map_or(economics.seasons, |precision| precision.most);
        let there_are = there_are - first;
        let most = asked.min(there_are);
        let (date, drawn) = (first_plan.midnight.date(), Some(scenario.drawn_weather()));
        let ground = agronomy.ground_from(date, first..first + most, drawn, goes_on)?;
        let doubts = economics.doubts.then(|| ranges_of(scenario));
        Ok(Self { ground, doubts, there_are, most })
    }

    fn subject<'a>(
        &'a self,
        scenario: &'a Scenario,
        economics: &Economics,
        keeps_maps: bool,
    ) -> Subject<'a> {
        Subject {
            scenario,
            ground: &self.ground,
            doubts: self.doubts.as_ref(),
            hours_laid: economics.hours_laid,
            first: economics.first_season,
            keeps_maps,
        }
    }
}

/// The balance of seasons that have run.
fn of_seasons(
    subject: Subject<'_>,
    economics: &Economics,
    seasons: Seasons,
) -> Result<Worth, WorthError> {
    let scenario = subject.scenario;
    let figures = |alternative: usize, of: fn(&SeasonFigures) -> f64| -> Result<_, WorthError> {
        let series = seasons.series(alternative, of);
        let figures = seasons_figures(&series, economics.confidence_level)?;
        Ok(if economics.doubts { long_run(figures, &series) } else { figures })
    };
    let alternative = |index: usize| -> Result<AlternativeWorth, WorthError> {
        Ok(AlternativeWorth {
            cu: figures(index, |f| f.cu)?,
            du_lq: figures(index, |f| f.du_lq)?,
            split: {
                let splits = seasons.figures.iter().filter_map(|season| season[index].split);
                over_seasons(&splits.collect::<Vec<_>>())
            },
            yield_fraction: figures(index, |f| f.yield_fraction)?,
            yield_worst_tenth: figures(index, |f| f.yield_worst_tenth)?,
            percolation_mm: figures(index, |f| f.percolation_mm)?,
            against: match index {
                0 => None,
                _ => Some(AgainstBaseline::baseline(scenario, economics, &seasons, index)?),
            },
        })
    };
    let alternatives: Vec<AlternativeWorth> =
        (0..scenario.alternatives.len()).map(alternative).collect::<Result<_, _>>()?;
    let is_valued =
        |found: &AlternativeWorth| found.against.as_ref().is_none_or(AgainstBaseline::is_valued);
    let ranked_by_money =
        economics.prices.missing_value().is_empty() && alternatives.iter().all(is_valued);
    let values: Vec<Vec<f64>> = (0..alternatives.len())
        .map(|index| match (&alternatives[index].against, ranked_by_money) {
            (Some(against), true) => against.net_per_ha.differences.clone(),
            (None, true) => vec![0.0; seasons.finished()],
            (_, false) => seasons.series(index, |f| f.yield_worst_tenth),
        })
        .collect();
    let values: Vec<&[f64]> = values.iter().map(Vec::as_slice).collect();
    let least = if ranked_by_money { economics.worthwhile_gain.per_ha() } else { 0.0 };
    let ranking = rank(&values, economics.confidence_level, least)?;
    let precision = economics
        .precision
        .and_then(|precision| stages::reached(scenario, economics, precision, &seasons));
    let plan = plan_yields(subject, &seasons)?;
    let shortest_sets = Vec::new();
    Ok(Worth { seasons, alternatives, ranking, ranked_by_money, precision, plan, shortest_sets })
}

#[cfg(test)]
pub(crate) mod tests;
