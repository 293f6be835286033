//! The season in words, for surfaces that lay them out themselves: made by the same functions as the
//! page, so that they say the same to the last digit.

use crate::reports::clock_lock::breaks_clock_lock;
use crate::reports::report::season_answer;
use crate::scenes::Scene;
use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::season::Outcome;
use evenfall_view::UnitSystem;

/// The report's answer on the season's water, in plain words, a paragraph an entry.
///
/// # Errors
/// If scenario and outcome do not belong together.
pub fn season_words(
    scenario: &Scenario,
    outcome: &Outcome,
    units: UnitSystem,
) -> Result<Vec<String>, DrawError> {
    Ok(season_answer(&Scene::new(scenario, outcome, units)?, false))
}

/// What the season's figures are taken over, in a sentence.
///
/// # Errors
/// If scenario and outcome do not belong together.
pub fn interior_words(
    scenario: &Scenario,
    outcome: &Outcome,
    units: UnitSystem,
) -> Result<String, DrawError> {
    Ok(Scene::new(scenario, outcome, units)?.interior_words())
}

/// The answer in a few lines: uniformity of each alternative at the season's end in the interior, or
/// on the whole field where that has no interior.
pub fn season_headline(scenario: &Scenario, outcome: &Outcome) -> String {
    let width = scenario.alternatives.iter().map(|a| a.name.chars().count()).max().unwrap_or(0);
    let has_interior = scenario.field.interior(outcome.interior_margin_m).cells() > 0;
    let part =
        if has_interior { "interior of the field" } else { "whole field, which has no interior" };
    let pairs = scenario.alternatives.iter().zip(&outcome.alternatives);
    let lines = pairs.map(|(alternative, found)| {
        let passes = found.passes.len();
        let regions = found.season_figures();
        let figures = match if has_interior { regions.interior } else { regions.whole } {
            Some(figures) => format!(
                "CU {:5.1} %   DUlq {:5.1} %   after {passes} passes",
                100.0 * figures.cu,
                100.0 * figures.du_lq
            ),
            None => "no water fell there".to_owned(),
        };
        format!("  {:width$}   {figures}", alternative.name)
    });
    let lines: Vec<String> = lines.collect();
    format!(
        "{}\nSeason's water, {part}:\n{}\nModels of this kind miss measured CU by about 3 points \
         (standard error, Playán et al. 2006).",
        scenario.title,
        lines.join("\n")
    )
}

/// What the schedules make worth telling: broken cycles and clock lock.
pub fn clock_notices(scenario: &Scenario, plans: &[Plan]) -> Vec<String> {
    let mut notices = Vec::new();
    let mut locked: Vec<(&str, Vec<&str>)> = Vec::new();
    if let Some(called) = &scenario.called {
        notices.push(format!(
            "A pass runs when the mean root zone of {} has used {:.0} % of its readily available \
             water. The dates shown are those of the first season, the same for every alternative; \
             other seasons have other dates.",
            scenario.alternatives.first().map_or("", |first| first.name.as_str()),
            100.0 * called.share_of_raw
        ));
    }
    for (alternative, plan) in scenario.alternatives.iter().zip(plans) {
        let (name, passes) = (&alternative.name, plan.passes.len());
        if plan.passes_into_cycle > 0 {
            notices.push(format!(
                "{name}: the season ends inside a cycle. {passes} passes are {} whole cycles of {} \
                 and {} more, so the stops are not watered equally often.",
                passes / plan.cycle,
                plan.cycle,
                plan.passes_into_cycle
            ));
        }
        if plan.day_night.is_locked() {
            let broken_by = breaks_clock_lock(scenario.calendar_of(alternative));
            match locked.iter_mut().find(|(known, _)| *known == broken_by) {
                Some((_, names)) => names.push(name.as_str()),
                None => locked.push((broken_by, vec![name.as_str()])),
            }
        }
    }
    notices.extend(locked.into_iter().map(|(broken_by, names)| {
        format!(
            "Clock lock ({}): every place is watered in the same half of the day in every pass. \
             {broken_by}",
            names.join("; ")
        )
    }));
    notices
}
