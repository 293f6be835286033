//! One event of a log, from its keys to what it means.

use super::file::{EventFile, What};
use super::hours::Hours;
use crate::file::Across;
use crate::issue::{Issue, Issues};
use crate::place::At;
use evenfall_core::lateral::Machine;
use evenfall_core::model::Alternative;
use evenfall_core::schedule::replan::{Happened, SetName};

/// One event; `None` if something about it is bad.
pub(super) fn happened(
    event: &EventFile,
    alternative: Option<&Alternative>,
    hours: &Hours<'_>,
    issues: &mut Issues,
) -> Option<Happened> {
    let span_h = match (&event.from, &event.to) {
        (Some(from), Some(to)) => {
            Some((hours.hour(from.value, from.offset), hours.hour(to.value, to.offset)))
        }
        (None, None) => None,
        _ => {
            let hint = "Give `from` and `to` together.";
            let problem = "one end of the time is missing";
            issues.push(Issue::new(&event.at.opening(), problem).hint(hint));
            return None;
        }
    };
    if !keys_fit(event, span_h.is_some(), issues) {
        return None;
    }
    if let (What::Breakdown, Some((from_h, to_h))) = (event.what, span_h) {
        return Some(Happened::Breakdown { from_h, to_h });
    }
    let from_0 = |number: u64| number as usize - 1;
    let set = SetName {
        pass: from_0(event.pass.as_ref()?.value),
        outlet: from_0(event.outlet.as_ref()?.value),
        is_extra: event.extra.unwrap_or(false),
    };
    if event.what == What::Missed {
        return Some(Happened::Missed(set));
    }
    let at_m = match &event.stood {
        Some(across) => Some(meters(across, &event.at.opening(), alternative?, issues)?),
        None => None,
    };
    Some(Happened::Done { set, span_h, at_m })
}

/// Whether the event has the keys of its kind and no others; tells those that are amiss.
fn keys_fit(event: &EventFile, has_span: bool, issues: &mut Issues) -> bool {
    let has_place = matches!(event.what, What::MovedByHand | What::WrongStop);
    let keys: [(&str, bool, Option<bool>); 5] = match event.what {
        What::Breakdown => [
            ("pass", event.pass.is_some(), Some(false)),
            ("outlet", event.outlet.is_some(), Some(false)),
            ("extra", event.extra.is_some(), Some(false)),
            ("from", has_span, Some(true)),
            ("stood", event.stood.is_some(), Some(false)),
        ],
        _ => [
            ("pass", event.pass.is_some(), Some(true)),
            ("outlet", event.outlet.is_some(), Some(true)),
            ("extra", event.extra.is_some(), None),
            ("from", has_span, (event.what == What::Missed).then_some(false)),
            ("stood", event.stood.is_some(), Some(has_place)),
        ],
    };
    let mut sound = true;
    for (key, is_given, wanted) in keys {
        if let Some(wanted) = wanted.filter(|wanted| *wanted != is_given) {
            let is = if wanted { "is missing" } else { "has no meaning" };
            let problem = format!("the key `{key}` {is} in this kind of event");
            issues.push(Issue::new(&event.at.opening(), problem));
            sound = false;
        }
    }
    sound
}

/// A place beside the outlet, m.
pub(super) fn meters(
    across: &Across,
    at: &At,
    alternative: &Alternative,
    issues: &mut Issues,
) -> Option<f64> {
    match (across, &alternative.lateral.machine) {
        (Across::Length(length), _) => Some(length.value),
        (Across::Turns(turns), Machine::WheelLine(wheel)) => {
            Some(turns.value * wheel.travel_per_turn_m)
        }
        (Across::Turns(_), Machine::HandMove) => {
            let problem = "a hand-moved lateral has no wheels to turn";
            let hint = "Give the place as a length, such as \"20 ft\".";
            issues.push(Issue::new(at, problem).hint(hint));
            None
        }
    }
}
