//! `evenfall season`: simulate, draw, and put the report where it was asked for.

use crate::arguments::{PageArguments, SeasonArguments};
use crate::as_it_was;
use crate::failure::Failure;
use crate::folder::{Draft, MARK};
use crate::inputs::{self, Loaded};
use crate::notes;
use crate::report::{self, Results};
use crate::sheet::load_log;
use crate::size::{self, Work};
use crate::stopping;
use crate::terminal::{PASSES, Voice};
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::schedule::Plan;
use evenfall_core::season::{self, Outcome, RunControl};
use evenfall_figures::season_headline;
use evenfall_scenario::Log;
use std::path::Path;
use std::sync::atomic::AtomicBool;

pub(crate) fn run(options: &SeasonArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stopping::flag()?;
    let (mut loaded, mut draft) = begin(&options.page, "evenfall-report", options.seed, voice)?;
    let (plans, log) = plans(&mut loaded, options, voice)?;
    let scenario = &loaded.resolved.scenario;
    let even = simulate_even(scenario, &plans, &stop, voice)?;
    let outcome = simulate(scenario, plans, &stop, voice)?;
    let report_notes =
        notes::report_notes(&loaded, &outcome, even.as_ref(), &command(options), options.seed)?;
    let results = Results { outcome: &outcome, notes: &report_notes, worth: None };
    report::write(&mut draft, &loaded, &results, &stop)?;
    let advice =
        log.map(|log| as_it_was::write(&mut draft, &loaded, &outcome, &log, &command(options)));
    let faults = notes::plan_faults(&loaded, &report_notes);
    let mut found = with_faults(&faults, &season_headline(scenario, &outcome));
    if let Some(advice) = advice.transpose()? {
        found = format!("{found}\nNext year: {advice}");
    }
    say_where(&loaded, &found, &draft.finish()?.join("report.html"), voice)
}

/// What was found, the plan's faults first.
pub(crate) fn with_faults(faults: &[String], found: &str) -> String {
    let lines = faults.iter().map(String::as_str).chain([found]);
    lines.collect::<Vec<_>>().join("\n")
}

/// Reads the scenario and begins the report's folder, `stem` being its usual name.
pub(crate) fn begin(
    options: &PageArguments,
    stem: &str,
    seed: Option<u64>,
    voice: Voice,
) -> Result<(Loaded, Draft), Failure> {
    let loaded = inputs::load_seeded(options.scenario.as_deref(), seed, voice)?;
    size::check(&loaded.resolved.scenario, Work::Season)?;
    // The folder comes first: better to hear of a full or forbidden disk before the work is done.
    let known = [("scenario.json", loaded.text.as_str())];
    let draft = Draft::begin(&options.folder, stem, MARK, &known)?;
    Ok((loaded, draft))
}

fn command(options: &SeasonArguments) -> String {
    let log = options.log.as_ref().map(|path| format!(" --log {}", inputs::shown(path)));
    let now = options.now.map(|now| format!(" --now {}", now.strftime("%Y-%m-%dT%H:%M")));
    format!("season{}{}", log.unwrap_or_default(), now.unwrap_or_default())
}

/// The plans of all alternatives; with a log, what it tells stands beside them as one more.
pub(crate) fn plans(
    loaded: &mut Loaded,
    options: &SeasonArguments,
    voice: Voice,
) -> Result<(Vec<Plan>, Option<Log>), Failure> {
    let mut plans = size::plans(&loaded.resolved.scenario)?;
    let log = options.log.as_ref();
    let log = log.map(|path| load_log(path, options.now, loaded, voice)).transpose()?;
    if let Some(log) = &log {
        let alternatives = &mut loaded.resolved.scenario.alternatives;
        let planned = &alternatives[log.alternative];
        let name = format!("{} (as it happened)", planned.name);
        let happened = Alternative { name, ..planned.clone() };
        alternatives.push(happened);
        plans.push(log.replanned.plan.clone());
        loaded.resolved.warnings.extend(log.warnings.iter().cloned());
    }
    Ok((plans, log))
}

/// Says what was found, what to note of the scenario, and where the page lies.
pub(crate) fn say_where(
    loaded: &Loaded,
    found: &str,
    page: &Path,
    voice: Voice,
) -> Result<(), Failure> {
    let place = page.canonicalize().unwrap_or_else(|_| page.to_owned());
    let notes = loaded.resolved.warnings.iter().map(|note| format!("Note: {note}"));
    let mut lines = vec![found.to_owned()];
    lines.extend(notes);
    lines.push(format!("Report: {}", place.display()));
    voice.say(&lines.join("\n")).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

pub(crate) fn simulate(
    scenario: &Scenario,
    plans: Vec<Plan>,
    stop: &AtomicBool,
    voice: Voice,
) -> Result<Outcome, Failure> {
    Ok(voice.watched(PASSES, stop, |go_on| {
        season::run_plans(scenario, plans, RunControl::new(go_on))
    })?)
}

/// The same season with all sprinklers at their stated pressure, where a pipe is described: what
/// the pressures cost is the difference.
pub(crate) fn simulate_even(
    scenario: &Scenario,
    plans: &[Plan],
    stop: &AtomicBool,
    voice: Voice,
) -> Result<Option<Outcome>, Failure> {
    let even = scenario.at_stated_pressure();
    even.map(|even| simulate(&even, plans.to_vec(), stop, voice)).transpose()
}
