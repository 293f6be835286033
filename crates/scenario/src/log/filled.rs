//! A sheet's table, filled in: each row that says something becomes an event, as in a log.
//!
//! A row that is done without times was done at the times that stand on it; where those are the
//! first plan's, it counts as done as planned. A breakdown is a row with neither pass nor outlet.

use super::cells::Row;
use super::columns::{Column, Columns};
use super::event::meters;
use super::hours::Hours;
use super::times::{self, TIMES, Written};
use crate::document::{Json, Node};
use crate::file::Across;
use crate::issue::{Issue, Issues};
use crate::limits;
use crate::place::At;
use crate::read::{Count, Read};
use evenfall_core::model::Alternative;
use evenfall_core::schedule::Plan;
use evenfall_core::schedule::replan::{Happened, SetName};
use jiff::civil::DateTime;
use jiff::tz::Offset;

/// Times that agree to a minute are the same, h: the sheet shows minutes.
const SAME_TIME_H: f64 = 1.0 / 60.0;

/// Something that a row says.
pub(super) struct Said {
    pub(super) at: At,
    /// Number of its row.
    pub(super) row: usize,
    /// `None` if something about it is bad.
    pub(super) happened: Option<Happened>,
    /// Up to when the row knows what happened, h.
    pub(super) until_h: Option<f64>,
}

/// A time as the clock shows it, and its offset from UTC where that is told.
type Clocked = (DateTime, Option<Offset>);

/// What is bad in a cell has been told.
struct Told;

/// What the column `done` says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Done {
    Yes,
    No,
    Breakdown,
}

const DONE: [(Done, &[&str]); 3] = [
    // In the sheet's languages, however it is written.
    (
        Done::Yes,
        &["yes", "y", "done", "x", "✓", "✔", "true", "1", "ok", "sí", "si", "s", "hecho", "hecha"],
    ),
    (Done::No, &["no", "n", "missed", "false", "0", "perdido", "perdida"]),
    (Done::Breakdown, &["breakdown", "avería", "averia"]),
];

/// The plan that the rows are of, and where its line may stand.
#[derive(Clone, Copy)]
pub(super) struct Ground<'a> {
    pub(super) plan: &'a Plan,
    pub(super) alternative: &'a Alternative,
    pub(super) hours: Hours<'a>,
    /// Whether the crop calls its passes, so that a sheet has no dates to begin with.
    pub(super) is_called: bool,
}

/// A row on its way to an event.
struct Reader<'a> {
    of: Ground<'a>,
    columns: &'a Columns,
    row: &'a Row,
}

/// What `row` says; `None` where nothing is filled in.
pub(super) fn said(
    of: Ground<'_>,
    columns: &Columns,
    row: &Row,
    issues: &mut Issues,
) -> Option<Said> {
    columns.is_filled_in(row).then(|| {
        let found = Reader { of, columns, row }.event(issues);
        Said {
            at: row.at(),
            row: row.number,
            happened: found.map(|(happened, _)| happened),
            until_h: found.and_then(|(_, until_h)| until_h),
        }
    })
}

impl Reader<'_> {
    fn text(&self, column: Column) -> String {
        self.columns.cell(self.row, column).text
    }

    fn problem(&self, column: Column, problem: impl Into<String>) -> Issue {
        Issue::new(&self.columns.at(self.row, column), problem)
    }

    /// The event, and up to when it goes.
    fn event(&self, issues: &mut Issues) -> Option<(Happened, Option<f64>)> {
        // Everything is read before any of it is missed, so that all that is bad is told.
        let done = self.done(issues);
        let span = self.span(issues).ok();
        let at_m = self.place(issues).ok();
        if done == Some(Done::Breakdown) {
            return self.breakdown(span?, issues);
        }
        let set = self.set(issues);
        let (done, span, at_m, set) = (done?, span?, at_m?, set?);
        let planned = self.planned();
        if done == Done::Yes {
            self.needs_times(span.or(planned), issues)?;
            let span_h = span.or_else(|| planned.filter(|span| !self.is_first_plan(set, *span)));
            let until_h = span.or(planned).map(|(_, to_h)| to_h);
            return Some((Happened::Done { set, span_h, at_m }, until_h));
        }
        for column in [Column::ReallyOn, Column::ReallyOff, Column::ReallyAt] {
            if !self.text(column).is_empty() {
                let problem = format!("`{}` is filled in, but the set was not done", column.name());
                let hint = "Empty it, or write yes under `done`.";
                issues.push(self.problem(column, problem).hint(hint));
                return None;
            }
        }
        Some((Happened::Missed(set), planned.map(|(_, to_h)| to_h)))
    }

    /// Refuses a set of a called pass without times: its sheet had none.
    fn needs_times(&self, known: Option<(f64, f64)>, issues: &mut Issues) -> Option<()> {
        if known.is_none() && self.of.is_called {
            let problem =
                "the set has no times, and the sheet of a pass that the crop calls has none";
            let hint = "Fill in `really_on` and `really_off`, with the date.";
            issues.push(self.problem(Column::ReallyOn, problem).hint(hint));
            return None;
        }
        Some(())
    }

    fn done(&self, issues: &mut Issues) -> Option<Done> {
        let word = self.text(Column::Done).to_lowercase();
        let known = DONE.iter().find(|(_, words)| words.contains(&word.as_str()));
        match known {
            // Times or a place say that it was done.
            _ if word.is_empty() => Some(Done::Yes),
            Some((done, _)) => Some(*done),
            None => {
                let problem = format!("`done` is \"{word}\"");
                let allowed = "yes, no or missed, or breakdown where nothing could run";
                issues.push(self.problem(Column::Done, problem).allowed(allowed));
                None
            }
        }
    }

    fn breakdown(
        &self,
        span: Option<(f64, f64)>,
        issues: &mut Issues,
    ) -> Option<(Happened, Option<f64>)> {
        let before = issues.len();
        for column in [Column::Pass, Column::Outlet, Column::ReallyAt] {
            if !self.text(column).is_empty() {
                let problem = format!("`{}` has no meaning in a breakdown", column.name());
                let hint =
                    "Put the breakdown in a row of its own. A set that was lost to it is missed.";
                issues.push(self.problem(column, problem).hint(hint));
            }
        }
        if span.is_none() {
            let problem = "the breakdown has no times";
            let hint = "Fill in `really_on` and `really_off`: from when to when nothing could run.";
            issues.push(self.problem(Column::ReallyOn, problem).hint(hint));
        }
        let (from_h, to_h) = span.filter(|_| issues.len() == before)?;
        Some((Happened::Breakdown { from_h, to_h }, Some(to_h)))
    }

    fn set(&self, issues: &mut Issues) -> Option<SetName> {
        let pass = self.number::<limits::PassNumber>(Column::Pass, "Number of the pass", issues);
        let outlet =
            self.number::<limits::OutletNumber>(Column::Outlet, "Number of the outlet", issues);
        let is_extra = self.text(Column::Kind).to_lowercase().contains("extra");
        Some(SetName { pass: pass?, outlet: outlet?, is_extra })
    }

    /// A number from 1, as one from 0.
    fn number<L: limits::Counted>(
        &self,
        column: Column,
        label: &'static str,
        issues: &mut Issues,
    ) -> Option<usize> {
        let text = self.text(column);
        let at = self.columns.at(self.row, column);
        if text.is_empty() {
            let problem = format!("`{}` is empty in a row that is filled in", column.name());
            let hint = "Each row keeps the pass and the outlet that the sheet gave it.";
            issues.push(Issue::new(&at, problem).hint(hint));
            return None;
        }
        // Some programs write every number with decimals.
        let whole = text.strip_suffix(".0").unwrap_or(&text).to_owned();
        let is_number = whole.parse::<f64>().is_ok_and(f64::is_finite);
        let json = if is_number { Json::Number(whole) } else { Json::Text(text) };
        let found = issues.about(label, |issues| Count::<L>::read(&Node { at, json }, issues));
        found.map(|count| count.value as usize - 1)
    }

    /// When the set really ran; `None` where nothing is said of it.
    fn span(&self, issues: &mut Issues) -> Result<Option<(f64, f64)>, Told> {
        let on = self.time(Column::ReallyOn, Column::On, None, issues);
        let began = on.as_ref().ok().copied().flatten();
        let off = self.time(Column::ReallyOff, Column::Off, began.map(|(at, _)| at), issues);
        match (on?, off?) {
            (Some(on), Some(off)) => Ok(Some((self.hour(on), self.hour(off)))),
            (None, None) => Ok(None),
            (on, _) => {
                let (empty, given) = match on {
                    Some(_) => (Column::ReallyOff, Column::ReallyOn),
                    None => (Column::ReallyOn, Column::ReallyOff),
                };
                let problem =
                    format!("`{}` is filled in and `{}` is empty", given.name(), empty.name());
                let hint = "Fill in both, or neither if it ran as planned.";
                issues.push(self.problem(empty, problem).hint(hint));
                Err(Told)
            }
        }
    }

    fn hour(&self, (at, offset): Clocked) -> f64 {
        self.of.hours.hour(at, offset)
    }

    /// The time in `column`, its own day being that of `planned`.
    fn time(
        &self,
        column: Column,
        planned: Column,
        after: Option<DateTime>,
        issues: &mut Issues,
    ) -> Result<Option<Clocked>, Told> {
        let text = self.text(column);
        if text.is_empty() {
            return Ok(None);
        }
        let own = self.full(planned).map(|(at, _)| at.date());
        let at = match (times::read(&text, own), own) {
            (Some(Written::Full(at, offset)), _) => Some((at, offset)),
            (Some(Written::Clock(clock)), Some(own)) => {
                Some((times::on_day(clock, own, after), None))
            }
            (Some(Written::Clock(clock)), None) if after.is_some() => {
                after.map(|after| (times::on_day(clock, after.date(), Some(after)), None))
            }
            _ => None,
        };
        if at.is_none() {
            let problem = format!("`{}` is \"{text}\"", column.name());
            let hint = "Write the date too, year first: 2027-05-10 06:00, as the clock shows it \
                        by which the sheet goes.";
            issues.push(self.problem(column, problem).allowed(TIMES).hint(hint));
        }
        at.map(Some).ok_or(Told)
    }

    /// A planned time, where the row still has it.
    fn full(&self, column: Column) -> Option<Clocked> {
        match times::read(&self.text(column), Some(self.of.plan.midnight.date())) {
            Some(Written::Full(at, offset)) => Some((at, offset)),
            _ => None,
        }
    }

    /// The times that the row was written with, h.
    fn planned(&self) -> Option<(f64, f64)> {
        let (on, off) = (self.full(Column::On)?, self.full(Column::Off)?);
        Some((self.hour(on), self.hour(off)))
    }

    /// Whether the set runs at these times in the first plan.
    fn is_first_plan(&self, set: SetName, (from_h, to_h): (f64, f64)) -> bool {
        let same = |one: f64, other: f64| (one - other).abs() < SAME_TIME_H;
        self.of.plan.passes.get(set.pass).is_some_and(|pass| {
            pass.sets.iter().any(|one| {
                one.outlet == set.outlet && same(one.start_h, from_h) && same(one.end_h, to_h)
            })
        })
    }

    /// Where the line really stood; `None` where nothing is said of it.
    fn place(&self, issues: &mut Issues) -> Result<Option<f64>, Told> {
        let text = self.text(Column::ReallyAt);
        if text.is_empty() {
            return Ok(None);
        }
        let at = self.columns.at(self.row, Column::ReallyAt);
        let node = Node { at: at.clone(), json: Json::Text(text) };
        let across = issues.about("`really_at`", |issues| Across::read(&node, issues));
        let at_m = across.and_then(|across| meters(&across, &at, self.of.alternative, issues));
        at_m.map(Some).ok_or(Told)
    }
}
