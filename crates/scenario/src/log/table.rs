//! The table of a move sheet, filled in, as a log.

use super::cells::{self, Row};
use super::columns::{Column, Columns, is_head};
use super::ending::{Ending, Event, ending};
use super::filled::{Ground, Said, said};
use super::hours::Hours;
use super::kept::{Log, LogAsked};
use super::text;
use super::whose::{alternative, check_clock, check_title, plan};
use crate::issue::{Issue, Issues};
use crate::limits;
use crate::place::At;
use evenfall_core::clock::hours_between;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::replan::MissedRule;

/// Whether `text` looks like a sheet's table and not like JSON.
pub(super) fn is_table(text: &str) -> bool {
    let begins_json = cells::body(text).trim_start().starts_with(['{', '[']);
    !begins_json && cells::rows(text).first().is_some_and(is_head)
}

/// The log that the table says.
pub(super) fn whole(
    text: &str,
    scenario: &Scenario,
    asked: &LogAsked<'_>,
    issues: &mut Issues,
) -> Option<Log> {
    let rows = cells::rows(text);
    let Some((head, rows)) = rows.split_first() else {
        let hint = "Fill in the sheet.csv that `evenfall sheet` wrote.";
        issues.push(Issue::new(&At::default(), "the table is empty").hint(hint));
        return None;
    };
    let columns = Columns::of(head, issues)?;
    let filled: Vec<&Row> = rows.iter().filter(|row| columns.is_filled_in(row)).collect();
    if filled.len() > limits::MOST_EVENTS {
        let problem = format!("{} rows are filled in", filled.len());
        let allowed = format!("at most {}", limits::MOST_EVENTS);
        issues.push(Issue::new(&head.at(), problem).allowed(allowed));
        return None;
    }
    let index = whose(&columns, head, rows, scenario, asked, issues);
    let plan = plan(&head.at(), index, scenario, issues);
    let (index, plan) = (index?, plan?);
    let own = &scenario.alternatives[index];
    let hours = Hours::of(scenario, Some(&plan));
    let of = Ground { plan: &plan, alternative: own, hours, is_called: scenario.called.is_some() };
    let all: Vec<Said> = filled.iter().filter_map(|row| said(of, &columns, row, issues)).collect();
    let start = scenario.calendar_of(own).start.max(plan.midnight);
    let (now_h, notes) = now(&all, &hours, asked, hours_between(plan.midnight, start));
    let events: Vec<Event> = all
        .into_iter()
        // Messages count from 1, spreadsheets too.
        .map(|said| Event { at: said.at, number: said.row - 1, happened: said.happened })
        .collect();
    let json = text::log_of((scenario, own), &plan, now_h, &events);
    let at = head.at();
    let missed = MissedRule::default();
    let of = Ending { scenario, alternative: index, plan, now: (now_h, &at), missed, word: "row" };
    let log = ending(of, &events, issues)?;
    Some(Log { json, warnings: [notes, log.warnings].concat(), ..log })
}

/// Up to when the table goes, h, and what is to be told of that.
fn now(all: &[Said], hours: &Hours<'_>, asked: &LogAsked<'_>, start_h: f64) -> (f64, Vec<String>) {
    let said = |hour_h: f64| hours.shown(hour_h).strftime("%Y-%m-%d %H:%M").to_string();
    if let Some(now) = asked.now {
        return (hours.hour(now, None), Vec::new());
    }
    let latest = all.iter().filter_map(|said| said.until_h).reduce(f64::max);
    if let Some(now_h) = latest {
        let note = format!(
            "the table is taken to go up to {}, the latest time filled in; --now gives another",
            said(now_h)
        );
        return (now_h, vec![note]);
    }
    let note = "no row of the table says up to when it goes, so all is still to come from the first \
                day on; --now gives another time";
    (start_h, vec![note.to_owned()])
}

/// Which alternative the table is of: by its own column, by what was asked, or the only one.
fn whose(
    columns: &Columns,
    head: &Row,
    rows: &[Row],
    scenario: &Scenario,
    asked: &LogAsked<'_>,
    issues: &mut Issues,
) -> Option<usize> {
    for row in rows {
        let title = columns.cell(row, Column::Scenario).text;
        if !title.is_empty() {
            check_title(&title, &columns.at(row, Column::Scenario), scenario, issues);
            break;
        }
    }
    for row in rows {
        let clock = columns.cell(row, Column::Clock).text;
        if !clock.is_empty() {
            check_clock(&clock, &columns.at(row, Column::Clock), scenario, issues);
            break;
        }
    }
    let mut found: Option<(String, Option<usize>)> = None;
    for row in rows {
        let name = columns.cell(row, Column::Alternative).text;
        let at = || columns.at(row, Column::Alternative);
        match &found {
            _ if name.is_empty() => {}
            None => {
                let index = alternative(&name, &at(), scenario, issues);
                found = Some((name, index));
            }
            Some((first, _)) if *first != name => {
                let problem = format!("the table is of \"{first}\", and this row of \"{name}\"");
                issues.push(Issue::new(&at(), problem).hint("One table is of one alternative."));
            }
            Some(_) => {}
        }
    }
    match (found, asked.alternative) {
        (Some((_, index)), _) => index,
        (None, Some(name)) => alternative(name, &head.at(), scenario, issues),
        (None, None) if scenario.alternatives.len() == 1 => Some(0),
        (None, None) => {
            let names = scenario.alternatives.iter().map(|one| format!("\"{}\"", one.name));
            let names = names.collect::<Vec<_>>().join(", ");
            let problem = "the table does not say of which alternative it is";
            let hint = format!("Keep its column `alternative`, which holds one of {names}.");
            issues.push(Issue::new(&head.at(), problem).hint(hint));
            None
        }
    }
}
