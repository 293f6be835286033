//! The log of a season: what really happened, read with all its problems at once, and the rest of
//! the season timed anew (`evenfall_core::schedule::replan`).

mod event;
mod file;
#[cfg(test)]
mod tests;

use crate::document::{self, At};
use crate::issue::{Issue, Issues, Problems};
use crate::read::Read;
use crate::suggest;
use evenfall_core::clock::hours_between;
use evenfall_core::lateral::Machine;
use evenfall_core::lateral::stops::WHOLE_TURN_TOLERANCE;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::{Happened, Record, Replanned, Standing, replan};
use evenfall_core::season;
use event::happened;
use file::LogFile;
use schemars::generate::SchemaSettings;

/// A log that passed every check, with what follows from it.
#[derive(Clone, Debug)]
pub struct Log {
    /// Which of the scenario's alternatives is run.
    pub alternative: usize,
    /// What happened.
    pub record: Record,
    /// The season as it was and as it goes on.
    pub replanned: Replanned,
    /// What the reader should know, in plain words.
    pub warnings: Vec<String>,
}

/// Reads the log `text` of a season of `scenario` and plans the rest anew.
///
/// # Errors
/// Every problem of the log at once, one that belongs to another scenario among them.
pub fn read_log(text: &str, scenario: &Scenario) -> Result<Log, Problems> {
    let mut issues = Issues::default();
    let file = document::parse(text, &mut issues).and_then(|root| {
        let file = LogFile::read(&root, &mut issues)?;
        Some((root.at, file))
    });
    let log = file.and_then(|(root, file)| whole(&root, &file, scenario, &mut issues));
    match log {
        Some(log) if issues.is_empty() => Ok(log),
        _ => Err(issues.into_problems(text)),
    }
}

fn whole(root: &At, file: &LogFile, scenario: &Scenario, issues: &mut Issues) -> Option<Log> {
    check_title(file, scenario, issues);
    let index = alternative(file, scenario, issues);
    let alternative = index.map(|index| &scenario.alternatives[index]);
    let plan = match season::plans(scenario) {
        Ok(mut plans) => index.map(|index| plans.swap_remove(index)),
        Err(error) => {
            issues.push(Issue::new(&root.opening(), error.to_string()));
            None
        }
    };
    let midnight = plan.as_ref().map_or(scenario.calendar.start, |plan| plan.midnight);
    let given = file.events.0.iter().flat_map(|events| &events.items);
    let read: Vec<(&At, Option<Happened>)> = given
        .map(|(at, event)| {
            let event = event.as_ref();
            (at, event.and_then(|event| happened(event, alternative, midnight, issues)))
        })
        .collect();
    let (index, alternative, plan) = (index?, alternative?, plan?);
    let now = file.now.0.as_ref()?;
    // Events that could not be read have been told; the others are still worth checking.
    let sound: Vec<usize> = (0..read.len()).filter(|event| read[*event].1.is_some()).collect();
    let events: Vec<Happened> = read.iter().filter_map(|(_, event)| *event).collect();
    let record = Record {
        now_h: hours_between(plan.midnight, now.value),
        missed: file.missed.0.flatten().map(Into::into).unwrap_or_default(),
        events,
    };
    if record.now_h < 0.0 {
        let problem = "the log ends before the first day of the season";
        issues.push(Issue::new(&now.at, problem).allowed(format!("from {}", plan.midnight)));
        return None;
    }
    match replan(&plan, scenario.calendar_of(alternative), &alternative.stops(), &record) {
        Ok(replanned) => {
            let warnings = warnings(&record, &replanned, alternative);
            Some(Log { alternative: index, record, replanned, warnings })
        }
        Err(problems) => {
            for problem in problems {
                let problem = problem.renumbered(|event| sound[event]);
                issues.push(Issue::new(read[problem.event()].0, problem.to_string()));
            }
            None
        }
    }
}

fn check_title(file: &LogFile, scenario: &Scenario, issues: &mut Issues) {
    if let Some(title) = file.scenario.0.as_ref()
        && title.value != scenario.title.trim()
    {
        let problem = format!("this log belongs to another scenario, \"{}\"", title.value);
        issues.push(
            Issue::new(&title.at, problem)
                .allowed(format!("the title of this scenario, \"{}\"", scenario.title)),
        );
    }
}

fn alternative(file: &LogFile, scenario: &Scenario, issues: &mut Issues) -> Option<usize> {
    let name = file.alternative.0.as_ref()?;
    let names = || scenario.alternatives.iter().map(|alternative| alternative.name.as_str());
    let found = names().position(|known| known.to_lowercase() == name.value.to_lowercase());
    if found.is_none() {
        let problem = format!("the scenario has no alternative \"{}\"", name.value);
        let mut issue = Issue::new(&name.at, problem)
            .allowed(names().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", "));
        if let Some(near) = suggest::nearest(&name.value, names()) {
            issue = issue.hint(format!("Did you mean \"{near}\"?"));
        }
        issues.push(issue);
    }
    found
}

fn warnings(record: &Record, replanned: &Replanned, alternative: &Alternative) -> Vec<String> {
    let mut warnings = Vec::new();
    let taken = replanned.standing.iter().flatten();
    let taken = taken.filter(|one| **one == Standing::TakenAsDone).count();
    if taken > 0 {
        let sets = if taken == 1 { "set is" } else { "sets are" };
        warnings.push(format!("{taken} {sets} not in the log and taken as done as planned"));
    }
    if !replanned.left.is_empty() {
        let left: Vec<String> = replanned
            .left
            .iter()
            .map(|(pass, set)| format!("pass {} outlet {}", pass + 1, set.outlet + 1))
            .collect();
        warnings.push(format!("left without water in their pass: {}", left.join(", ")));
    }
    if replanned.dropped_passes > 0 {
        warnings.push(format!(
            "{} of the passes planned no longer end in the season",
            replanned.dropped_passes
        ));
    }
    if let Machine::WheelLine(wheel) = &alternative.lateral.machine {
        let tilted = |event: &&Happened| match event {
            Happened::Done { at_m: Some(at_m), .. } => {
                let turns = at_m / wheel.travel_per_turn_m;
                (turns - turns.round()).abs() > WHOLE_TURN_TOLERANCE * turns.abs().max(1.0)
            }
            _ => false,
        };
        let tilted = record.events.iter().filter(tilted).count();
        if tilted > 0 {
            warnings.push(format!(
                "{tilted} of the sets recorded stood off the whole turn, with tilted sprinklers; \
                 the simulation takes them as upright"
            ));
        }
    }
    warnings
}

/// A log to begin with, for a season of `scenario` under `alternative`: no event yet.
pub fn blank_log(scenario: &Scenario, alternative: &Alternative, plan: &Plan) -> String {
    let text = |text: &str| serde_json::Value::String(text.trim().to_owned()).to_string();
    let now = scenario.calendar_of(alternative).start.max(plan.midnight);
    format!(
        "{{\n  \"evenfall_log\": 1,\n  \"scenario\": {},\n  \"alternative\": {},\n  \"now\": \
         \"{}\",\n  \"missed\": \"catch up next\",\n  \"events\": []\n}}\n",
        text(&scenario.title),
        text(&alternative.name),
        now.strftime("%Y-%m-%dT%H:%M")
    )
}

/// The JSON Schema (draft 2020-12) of logs, as pretty JSON text with a final newline.
pub fn log_schema() -> String {
    let generator = SchemaSettings::draft2020_12().into_generator();
    let schema = generator.into_root_schema_for::<LogFile>();
    serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"
}
