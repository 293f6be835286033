//! Lateral, wheel and outlets with their defaults.

use super::wheel::rolling;
use crate::file::{FieldFile, LateralFile, MachineName, MaintenanceFile, OutletsFile, WheelFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, length};
use evenfall_core::lateral::{Machine, Outlets};

/// Slack on places at the field's edge, m.
const EDGE_SLACK_M: f64 = 1e-6;

/// How the lateral moves; a wheel line needs its wheel.
pub(crate) fn machine(
    given: &LateralFile,
    wheel: Option<&WheelFile>,
    wheel_is_there: bool,
    maintenance: Option<&MaintenanceFile>,
    notes: &mut Notes<'_>,
) -> Option<Machine> {
    match (given.machine, wheel) {
        (MachineName::HandMove, _) => Some(Machine::HandMove),
        (MachineName::WheelLine, Some(wheel)) => {
            Some(Machine::WheelLine(rolling(wheel, maintenance, notes)))
        }
        (MachineName::WheelLine, None) => {
            // A wheel that is there but bad has been told already.
            if !wheel_is_there {
                notes.issues.push(
                    Issue::new(&given.at.opening(), "a wheel line needs the key `wheel`").hint(
                        "Add \"wheel\": { \"size\": \"7-foot\" } beside the lateral, or { \
                         \"travel_per_turn\": \"20 ft\" } as measured in the field.",
                    ),
                );
            }
            None
        }
    }
}

/// Place of the first sprinkler on a field of this length, m.
pub(crate) fn first_sprinkler(
    given: &LateralFile,
    field: Option<&FieldFile>,
    notes: &mut Notes<'_>,
) -> Option<f64> {
    let field_m = field?.length_along_pipe.value;
    let span_m = (given.sprinklers.value - 1) as f64 * given.sprinkler_spacing.value;
    let too_long = span_m > field_m + EDGE_SLACK_M;
    if too_long {
        let problem = format!(
            "the lateral is longer than the field: {} sprinklers span {}, the field {}",
            given.sprinklers.value,
            length(span_m),
            length(field_m)
        );
        let fit = (field_m / given.sprinkler_spacing.value).floor() + 1.0;
        notes.issues.push(
            Issue::new(&given.sprinklers.at, problem)
                .allowed(format!("at most {} sprinklers at this spacing", decimals(fit, 0))),
        );
        return None;
    }
    let Some(first) = &given.first_sprinkler else {
        let first_m = 0.5 * (field_m - span_m);
        LateralFile::first_sprinkler.assume(&given.at.pointer, length(first_m), notes);
        return Some(first_m);
    };
    if first.value + span_m > field_m + EDGE_SLACK_M {
        let problem = format!(
            "the last sprinkler would stand {} off the field",
            length(first.value + span_m - field_m)
        );
        notes.issues.push(
            Issue::new(&first.at, problem)
                .allowed(format!("at most {}", length(field_m - span_m)))
                .hint("Leave `first_sprinkler` out to center the sprinklers."),
        );
        return None;
    }
    Some(first.value)
}

/// The outlets on a field of this width.
pub(crate) fn outlets(
    given: &OutletsFile,
    field: Option<&FieldFile>,
    notes: &mut Notes<'_>,
) -> Option<Outlets> {
    let (spacing_m, width_m) = (given.spacing.value, field?.width_across.value);
    let at = &given.at.pointer;
    let first_m = given.first.as_ref().map_or_else(
        || {
            OutletsFile::first.assume(at, length(0.5 * spacing_m), notes);
            0.5 * spacing_m
        },
        |first| first.value,
    );
    if first_m > width_m + EDGE_SLACK_M {
        let place = given.first.as_ref().map_or(&given.spacing.at, |first| &first.at);
        let problem = format!("the first outlet lies outside the field: {}", length(first_m));
        notes
            .issues
            .push(Issue::new(place, problem).allowed(format!("at most {}", length(width_m))));
        return None;
    }
    let fit = ((width_m - first_m + EDGE_SLACK_M) / spacing_m).floor() as usize + 1;
    let count = match &given.count {
        None => {
            OutletsFile::count.assume(at, fit.to_string(), notes);
            fit
        }
        Some(count) if count.value as usize > fit => {
            let problem = format!(
                "outlets lie outside the field: the last of {} at {}, the field is {} wide",
                count.value,
                length(first_m + (count.value - 1) as f64 * spacing_m),
                length(width_m)
            );
            notes.issues.push(
                Issue::new(&count.at, problem).allowed(format!("at most {fit} at this spacing")),
            );
            return None;
        }
        Some(count) => count.value as usize,
    };
    Some(Outlets { spacing_m, first_m, count, reach_m: given.reach.value, field_width_m: width_m })
}
