//! What goes into the report beside the results: assumptions, rules of thumb, limits, sources.

use crate::failure::Failure;
use crate::inputs::{self, Loaded};
use crate::made_at::made_at;
use crate::report::display_units;
use evenfall_core::model::Scenario;
use evenfall_core::plan_check::PlanCheck;
use evenfall_core::schedule::Plan;
use evenfall_core::season::{self, Outcome};
use evenfall_core::worth::{WorthError, check_plan};
use evenfall_figures::plan_fault_lines;
use evenfall_scenario::known_words;
use evenfall_view::{Assumption, Input, ReportNotes};
use std::path::Path;

/// Notes for the report of `outcome`; `even` is the same season with all sprinklers at their stated
/// pressure, where a pipe is described.
pub(crate) fn report_notes(
    loaded: &Loaded,
    outcome: &Outcome,
    even: Option<&Outcome>,
    command: &str,
    seed: Option<u64>,
) -> Result<ReportNotes, Failure> {
    let resolved = &loaded.resolved;
    let scenario = &resolved.scenario;
    let mut notes = ReportNotes::of(scenario, outcome, even);
    notes.sources.extend(resolved.sources.iter().cloned());
    let plans = outcome.alternatives.iter().map(|found| found.plan.clone()).collect();
    Ok(ReportNotes {
        question: resolved.question.clone(),
        invented: resolved.invented,
        assumptions: assumptions(resolved),
        inputs: inputs(resolved),
        inputs_words: known_words(&resolved.inputs),
        warnings: resolved.warnings.clone(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        command: command_line(command, &loaded.argument, seed),
        made_at: made_at()?,
        plan: Some(plan_check(loaded, plans)?),
        ..notes
    })
}

/// The plans beside their yardsticks.
pub(crate) fn plan_check(loaded: &Loaded, plans: Vec<Plan>) -> Result<PlanCheck, Failure> {
    let resolved = &loaded.resolved;
    let agronomy = resolved.worth.as_ref().map(|(agronomy, _)| agronomy);
    check_plan(&resolved.scenario, plans, agronomy).map_err(|error| match error {
        WorthError::Season(error) => error.into(),
        other => Failure::Season(other.to_string()),
    })
}

/// What is to be said of a sound scenario and its `plan`.
pub(crate) fn checked_notes(
    resolved: &evenfall_scenario::Resolved,
    plan: PlanCheck,
) -> ReportNotes {
    ReportNotes {
        assumptions: assumptions(resolved),
        inputs: inputs(resolved),
        warnings: resolved.warnings.clone(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        plan: Some(plan),
        ..ReportNotes::default()
    }
}

/// A line for every fault of the plans that a report holds.
pub(crate) fn plan_faults(loaded: &Loaded, notes: &ReportNotes) -> Vec<String> {
    let units = display_units(loaded.resolved.units);
    let lines = |found| plan_fault_lines(&loaded.resolved.scenario, found, units);
    notes.plan.as_ref().map(lines).unwrap_or_default()
}

/// Notes for a page of its own, which `command` makes again.
pub(crate) fn study_notes(loaded: &Loaded, command: &str) -> ReportNotes {
    let resolved = &loaded.resolved;
    let (name, options) = command.split_once(' ').unwrap_or((command, ""));
    ReportNotes {
        invented: resolved.invented,
        assumptions: assumptions(resolved),
        warnings: resolved.warnings.clone(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        command: format!("{} {options}", command_line(name, &loaded.argument, None)),
        ..ReportNotes::of_limits()
    }
}

/// The starting values that the scenario was given, as results show them.
fn assumptions(resolved: &evenfall_scenario::Resolved) -> Vec<Assumption> {
    resolved.assumptions.iter().map(shown).collect()
}

/// The inputs that matter, as results show them.
pub(crate) fn inputs(resolved: &evenfall_scenario::Resolved) -> Vec<Input> {
    let shown = |input: &evenfall_scenario::Input| Input {
        what: input.what.clone(),
        label: input.label,
        value: input.value.clone(),
        whose: input.whose.word(),
        is_known: input.whose.is_known(),
    };
    resolved.inputs.iter().map(shown).collect()
}

/// The same with those of its search, less the keys that options of the command take the place of.
pub(crate) fn search_assumptions(
    resolved: &evenfall_scenario::Resolved,
    replaced: &[&str],
) -> Vec<Assumption> {
    let is_replaced = |a: &&evenfall_scenario::Assumption| {
        a.what.strip_prefix("/search/").is_some_and(|key| replaced.contains(&key))
    };
    let of_search = resolved.search_assumptions.iter().filter(|a| !is_replaced(a));
    resolved.assumptions.iter().chain(of_search).map(shown).collect()
}

fn shown(a: &evenfall_scenario::Assumption) -> Assumption {
    Assumption { what: a.what.clone(), value: a.value.clone(), why: a.why.clone() }
}

fn command_line(command: &str, argument: &str, seed: Option<u64>) -> String {
    // The file's name alone: where it lies on this machine is nobody else's business.
    let name = inputs::shown(Path::new(argument));
    let scenario = if argument.is_empty() { String::new() } else { format!(" {name}") };
    let seed = seed.map_or_else(String::new, |seed| format!(" --seed {seed}"));
    format!("evenfall {command}{scenario}{seed}")
}

/// What the schedules make worth telling.
pub(crate) fn clock_notices(scenario: &Scenario) -> Result<Vec<String>, Failure> {
    let plans = season::plans(scenario)?;
    Ok(evenfall_figures::clock_notices(scenario, &plans))
}
