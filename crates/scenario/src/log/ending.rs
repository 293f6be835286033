//! From events to a log: the checks that every kind of log shares, and the rest planned anew.

use super::hours::Hours;
use super::kept::Log;
use crate::issue::{Issue, Issues};
use crate::place::At;
use evenfall_core::lateral::Machine;
use evenfall_core::lateral::stops::WHOLE_TURN_TOLERANCE;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::{
    Happened, MissedRule, Record, ReplanProblem, Replanned, Standing, replan,
};

/// One event and where it stands.
pub(super) struct Event {
    pub(super) at: At,
    /// What messages count it as, from 0.
    pub(super) number: usize,
    /// `None` if it could not be read, which has been told.
    pub(super) happened: Option<Happened>,
}

/// What a log says beside its events.
pub(super) struct Ending<'a> {
    pub(super) scenario: &'a Scenario,
    pub(super) alternative: usize,
    pub(super) plan: Plan,
    /// Up to when it goes, h, and where that stands.
    pub(super) now: (f64, &'a At),
    pub(super) missed: MissedRule,
    /// What the log calls an event.
    pub(super) word: &'static str,
}

/// The log of these events.
pub(super) fn ending(of: Ending<'_>, events: &[Event], issues: &mut Issues) -> Option<Log> {
    let alternative = &of.scenario.alternatives[of.alternative];
    // Events that could not be read have been told; the others are still worth checking.
    let sound: Vec<&Event> = events.iter().filter(|event| event.happened.is_some()).collect();
    let happened: Vec<Happened> = sound.iter().filter_map(|event| event.happened).collect();
    let record = Record { now_h: of.now.0, missed: of.missed, events: happened };
    if record.now_h < 0.0 {
        let problem = "the log ends before the first day of the season";
        let allowed = format!("from {}", Hours::of(of.scenario, Some(&of.plan)).shown(0.0));
        issues.push(Issue::new(of.now.1, problem).allowed(allowed));
        return None;
    }
    let calendar = of.scenario.calendar_of(alternative);
    match replan(&of.plan, calendar, &alternative.stops(), &record) {
        Ok(replanned) => Some(Log {
            alternative: of.alternative,
            warnings: warnings(&record, &replanned, alternative),
            first: of.plan,
            record,
            replanned,
            json: String::new(),
        }),
        Err(problems) => {
            for problem in problems {
                let at = &sound[problem.event()].at;
                let problem = problem.renumbered(|event| sound[event].number);
                issues.push(Issue::new(at, in_words(&problem, of.word)));
            }
            None
        }
    }
}

/// The problem, with what this log calls an event.
fn in_words(problem: &ReplanProblem, word: &str) -> String {
    let words = problem.to_string();
    match problem {
        ReplanProblem::Twice { .. } | ReplanProblem::Overlap { .. } => {
            words.replacen("event ", &format!("{word} "), 1)
        }
        _ => words,
    }
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
