//! Variants of one alternative run side by side: the same weather, over one season or several.
//!
//! What is tried (edges, ways out of drift) and which figures are taken is the caller's. A variant
//! that no schedule can be made of is refused with its reason, never an error of the whole.

use crate::model::{Alternative, Scenario};
use crate::schedule;
use crate::season::{self, Outcome, Progress, RunControl, SeasonError};

/// Variants tried against each other: `T` says what one is, `F` what it did in a season.
#[derive(Clone, Debug)]
pub struct Tried<T, F> {
    /// The options that could be run, in order; the first is what the others are held against.
    pub options: Vec<T>,
    /// Options that could not, and why.
    pub refused: Vec<(T, String)>,
    /// The scenario that was run: one alternative per option.
    pub scenario: Scenario,
    /// Its first season.
    pub outcome: Outcome,
    /// Per season, per option.
    pub figures: Vec<Vec<F>>,
}

impl<T, F> Tried<T, F> {
    /// Mean of a figure of one option over the seasons.
    pub fn mean(&self, option: usize, of: impl Fn(&F) -> f64) -> f64 {
        self.figures.iter().map(|season| of(&season[option])).sum::<f64>()
            / self.figures.len() as f64
    }

    /// Least and greatest difference of one option from the first over the seasons.
    pub fn range_of_gain(&self, option: usize, of: impl Fn(&F) -> f64) -> (f64, f64) {
        let gains = self.figures.iter().map(|season| of(&season[option]) - of(&season[0]));
        gains.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), gain| {
            (low.min(gain), high.max(gain))
        })
    }
}

/// Runs `variants` in the weather of `scenario` over so many `seasons`.
///
/// # Errors
/// If a season cannot be simulated, or no variant can be run.
pub(crate) fn run<T, F>(
    scenario: &Scenario,
    variants: Vec<(T, Alternative)>,
    seasons: usize,
    control: &RunControl<'_>,
    figures: impl Fn(&Scenario, &Outcome) -> Vec<F>,
) -> Result<Tried<T, F>, SeasonError> {
    let (mut options, mut alternatives, mut refused) = (Vec::new(), Vec::new(), Vec::new());
    for (option, alternative) in variants {
        match schedule::plan(scenario.calendar_of(&alternative), &alternative.stops()) {
            Ok(_) => {
                options.push(option);
                alternatives.push(alternative);
            }
            Err(problem) => refused.push((option, problem.to_string())),
        }
    }
    let scenario = Scenario { alternatives, ..scenario.clone() };
    let (mut first, mut all) = (None, Vec::with_capacity(seasons));
    for number in 0..seasons.max(1) {
        let report = |progress: Progress| {
            let total = progress.total * seasons.max(1);
            control.goes_on(number * progress.total + progress.done, total)
        };
        let outcome = season::run_season(&scenario, number as u32, control.reporting_to(&report))?;
        all.push(figures(&scenario, &outcome));
        first.get_or_insert(outcome);
    }
    let outcome = first.ok_or(SeasonError::NoAlternatives)?;
    Ok(Tried { options, refused, scenario, outcome, figures: all })
}
