//! What can be wrong with a record, all of it at once.

use super::record::{Happened, Record, SetName};
use crate::lateral::REACH_SLACK_M;
use crate::schedule::calendar::SLACK_H;
use crate::schedule::moves::{Move, SetKind, moves};
use crate::schedule::passes::Stops;
use crate::schedule::plan::Plan;

/// One thing that is wrong; `event` is its place in the record.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ReplanProblem {
    /// A pass that the season does not have.
    #[error("there is no pass {}: the season has {passes}", pass + 1)]
    NoSuchPass {
        /// Which event.
        event: usize,
        /// Pass, from 0.
        pass: usize,
        /// Passes planned.
        passes: usize,
    },
    /// An outlet that the field does not have.
    #[error("there is no outlet {}: the field has {outlets}", outlet + 1)]
    NoSuchOutlet {
        /// Which event.
        event: usize,
        /// Outlet, from 0.
        outlet: usize,
        /// Outlets there are.
        outlets: usize,
    },
    /// A set more where the pass has none.
    #[error("pass {} has no extra set at outlet {}", pass + 1, outlet + 1)]
    NoExtraSet {
        /// Which event.
        event: usize,
        /// Pass, from 0.
        pass: usize,
        /// Outlet, from 0.
        outlet: usize,
    },
    /// The same set twice.
    #[error("the same set is recorded twice (first as event {})", first + 1)]
    Twice {
        /// Which event.
        event: usize,
        /// The event that has it already.
        first: usize,
    },
    /// An end that is not after its start.
    #[error("the times run backwards: it ends before it starts, or at once")]
    Backwards {
        /// Which event.
        event: usize,
    },
    /// Before the season's first day.
    #[error("it starts before the first day of the season")]
    BeforeSeason {
        /// Which event.
        event: usize,
    },
    /// After now.
    #[error("it lies after `now`: the record holds what has happened")]
    AfterNow {
        /// Which event.
        event: usize,
    },
    /// A place that the hose does not reach.
    #[error("it stands farther from its outlet than the hose or swing joint reaches")]
    BeyondReach {
        /// Which event.
        event: usize,
    },
    /// Several lines, or both sides of a mainline.
    #[error(
        "a record is kept for one line on one side of its mainline so far, and this field has more"
    )]
    SeveralLines {
        /// Which event.
        event: usize,
    },
    /// Two events at the same time.
    #[error("it overlaps event {}: one lateral cannot do both", other + 1)]
    Overlap {
        /// Which event.
        event: usize,
        /// The other event.
        other: usize,
    },
    /// A set that nobody recorded was to run at the time of an event.
    #[error(
        "it overlaps the set of pass {} at outlet {}, which is not in the record and so counts as \
         done as planned; record that set too, with its true times or as missed", pass + 1, outlet + 1
    )]
    OverlapsUnrecorded {
        /// Which event.
        event: usize,
        /// Pass of the other set, from 0.
        pass: usize,
        /// Outlet of the other set, from 0.
        outlet: usize,
    },
}

impl ReplanProblem {
    /// The event that it is about.
    pub fn event(&self) -> usize {
        match self {
            Self::NoSuchPass { event, .. }
            | Self::NoSuchOutlet { event, .. }
            | Self::NoExtraSet { event, .. }
            | Self::Twice { event, .. }
            | Self::Backwards { event }
            | Self::BeforeSeason { event }
            | Self::AfterNow { event }
            | Self::BeyondReach { event }
            | Self::SeveralLines { event }
            | Self::Overlap { event, .. }
            | Self::OverlapsUnrecorded { event, .. } => *event,
        }
    }

    /// The same problem where events have other numbers, because the record was part of a list.
    #[must_use]
    pub fn renumbered(mut self, number: impl Fn(usize) -> usize) -> Self {
        match &mut self {
            Self::Twice { event, first: other } | Self::Overlap { event, other } => {
                (*event, *other) = (number(*event), number(*other));
            }
            Self::NoSuchPass { event, .. }
            | Self::NoSuchOutlet { event, .. }
            | Self::NoExtraSet { event, .. }
            | Self::Backwards { event }
            | Self::BeforeSeason { event }
            | Self::AfterNow { event }
            | Self::BeyondReach { event }
            | Self::SeveralLines { event }
            | Self::OverlapsUnrecorded { event, .. } => *event = number(*event),
        }
        self
    }
}

/// Where the set `name` stands among the sets of its pass.
pub(super) fn find(plan: &Plan, stops: &Stops<'_>, name: SetName) -> Option<usize> {
    let pass = moves(plan, stops).into_iter().nth(name.pass)?;
    let is_it =
        |one: &Move| one.set.outlet == name.outlet && (one.kind == SetKind::Extra) == name.is_extra;
    pass.moves.iter().position(is_it)
}

/// Everything that is wrong with `record`, whatever else is wrong with it; empty if nothing is.
pub fn check(plan: &Plan, stops: &Stops<'_>, record: &Record) -> Vec<ReplanProblem> {
    let mut problems = Vec::new();
    if !stops.lines.is_one() && !record.events.is_empty() {
        return vec![ReplanProblem::SeveralLines { event: 0 }];
    }
    let mut spans: Vec<(usize, (f64, f64))> = Vec::new();
    let mut named: Vec<(usize, SetName, bool)> = Vec::new();
    for (event, happened) in record.events.iter().enumerate() {
        let (set, span_h) = match *happened {
            Happened::Done { set, span_h, at_m } => {
                if at_m.is_some_and(|at_m| at_m.abs() > stops.outlets.reach_m + REACH_SLACK_M) {
                    problems.push(ReplanProblem::BeyondReach { event });
                }
                (Some((set, true)), span_h)
            }
            Happened::Missed(set) => (Some((set, false)), None),
            Happened::Breakdown { from_h, to_h } => (None, Some((from_h, to_h))),
        };
        if let Some((set, is_done)) = set {
            check_name(event, set, plan, stops, &mut problems);
            let same = |known: &&(usize, SetName, bool)| known.1 == set && known.2 == is_done;
            if let Some((first, ..)) = named.iter().find(same) {
                problems.push(ReplanProblem::Twice { event, first: *first });
            }
            named.push((event, set, is_done));
        }
        if let Some(span_h) = span_h {
            check_span(event, span_h, record.now_h, &mut problems);
            let clash = spans.iter().find(|(_, other)| overlap(*other, span_h));
            if let Some((other, _)) = clash {
                problems.push(ReplanProblem::Overlap { event, other: *other });
            }
            spans.push((event, span_h));
        }
    }
    problems
}

fn check_name(
    event: usize,
    set: SetName,
    plan: &Plan,
    stops: &Stops<'_>,
    problems: &mut Vec<ReplanProblem>,
) {
    let (passes, outlets) = (plan.passes.len(), stops.outlets.count);
    if set.pass >= passes {
        problems.push(ReplanProblem::NoSuchPass { event, pass: set.pass, passes });
    }
    if set.outlet >= outlets {
        problems.push(ReplanProblem::NoSuchOutlet { event, outlet: set.outlet, outlets });
    } else if set.pass < passes && find(plan, stops, set).is_none() {
        let SetName { pass, outlet, .. } = set;
        problems.push(ReplanProblem::NoExtraSet { event, pass, outlet });
    }
}

fn check_span(
    event: usize,
    (from_h, to_h): (f64, f64),
    now_h: f64,
    problems: &mut Vec<ReplanProblem>,
) {
    if !(from_h < to_h) {
        problems.push(ReplanProblem::Backwards { event });
    } else if from_h < 0.0 {
        problems.push(ReplanProblem::BeforeSeason { event });
    } else if to_h > now_h + SLACK_H {
        problems.push(ReplanProblem::AfterNow { event });
    }
}

/// Whether two spans have more than an instant in common.
pub(super) fn overlap(one: (f64, f64), other: (f64, f64)) -> bool {
    one.0 < other.1 - SLACK_H && other.0 < one.1 - SLACK_H
}
