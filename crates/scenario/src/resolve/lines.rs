//! Lines that share a field, and both sides of a mainline, with their cross-checks.

use super::machine;
use crate::file::{FieldFile, LateralFile, MachineName, SidesName};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, length};
use evenfall_core::lateral::{Lines, Sharing};

/// Slack on places at the field's edge, m.
const EDGE_SLACK_M: f64 = 1e-6;

/// x of the first sprinkler (right of a mainline that serves both sides), m, and the lines; `None` where
/// what is given makes no sense.
pub(crate) fn resolve(
    given: &LateralFile,
    field: Option<&FieldFile>,
    notes: &mut Notes<'_>,
) -> Option<(f64, Lines)> {
    let count = given.lines.as_ref().map_or(1, |lines| lines.value as usize);
    let sharing = given.lines_run.map_or(Sharing::AtOnce, Sharing::from);
    if sharing == Sharing::AtOnce && count > 1 {
        notes.warn(format!(
            "{count} lines water at once and stop at once: as many crews move them, or one crew in a \
             `move_time` that holds {count} moves"
        ));
    }
    if sharing == Sharing::ByTurns && count < 2 {
        let problem = "one line alone takes no turns";
        let hint = "Add `lines`, or remove `lines_run`.";
        notes.issues.push(Issue::new(&given.at.opening(), problem).hint(hint));
    }
    if given.sides != Some(SidesName::Both) {
        if let Some(mainline) = &given.mainline_at {
            let problem = "a mainline through the field that serves one side";
            let hint = "Add \"sides\": \"both sides\"; for a mainline along the edge leave `mainline_at` \
                        out, and give `first_sprinkler` and the pipe's `inlet_at`.";
            notes.issues.push(Issue::new(&mainline.at, problem).hint(hint));
        }
        let first_m = machine::first_sprinkler(given, field, notes)?;
        return Some((first_m, Lines { count, sharing, left_first_m: None }));
    }
    if count == 1 {
        let across = match given.machine {
            MachineName::WheelLine => "taken across the mainline, not rolled",
            MachineName::HandMove => "carried across the mainline",
        };
        notes.warn(format!(
            "one line serves both sides of the mainline: twice a pass it is {across}, which is given the \
             time of a usual move; lengthen `move_time`, or give each side its own line (`lines`: 2)"
        ));
    }
    both_sides(given, field?, notes)
        .map(|(right_m, left_m)| (right_m, Lines { count, sharing, left_first_m: Some(left_m) }))
}

/// x of the first sprinklers right and left of the mainline, m.
fn both_sides(given: &LateralFile, field: &FieldFile, notes: &mut Notes<'_>) -> Option<(f64, f64)> {
    if let Some(first) = &given.first_sprinkler {
        let problem =
            "on both sides of a mainline the first sprinkler stands half a spacing from it";
        let hint = "Remove `first_sprinkler`; `mainline_at` says where the mainline runs.";
        notes.issues.push(Issue::new(&first.at, problem).hint(hint));
    }
    let field_m = field.length_along_pipe.value;
    let mainline_m = given.mainline_at.as_ref().map_or_else(
        || {
            LateralFile::mainline_at.assume(&given.at.pointer, length(0.5 * field_m), notes);
            0.5 * field_m
        },
        |mainline| mainline.value,
    );
    let (spacing_m, sprinklers) = (given.sprinkler_spacing.value, given.sprinklers.value);
    let reach_m = (sprinklers as f64 - 0.5) * spacing_m;
    let room_m = mainline_m.min(field_m - mainline_m);
    if reach_m > room_m + EDGE_SLACK_M {
        let problem = format!(
            "the lateral is longer than its side of the mainline: {sprinklers} sprinklers reach {}, and \
             there is room for {}",
            length(reach_m),
            length(room_m)
        );
        let fit = (room_m / spacing_m + 0.5).floor().max(0.0);
        let allowed = format!("at most {} sprinklers at this spacing", decimals(fit, 0));
        let hint = "On both sides of a mainline `sprinklers` counts those of one side.";
        notes.issues.push(Issue::new(&given.sprinklers.at, problem).allowed(allowed).hint(hint));
        return None;
    }
    Some((mainline_m + 0.5 * spacing_m, mainline_m - reach_m))
}

/// Whether the lines can share so many outlets; told where they cannot.
pub(crate) fn check_shares(
    given: &LateralFile,
    lines: &Lines,
    outlets: usize,
    notes: &mut Notes<'_>,
) -> bool {
    if lines.fit(outlets) {
        return true;
    }
    let sides = lines.sides().len();
    let at = given.lines.as_ref().map_or(&given.at, |lines| &lines.at);
    let problem = format!("{} lines cannot share {outlets} outlets", lines.count);
    let allowed = if sides == 1 {
        format!("1 to {outlets}")
    } else {
        format!("1, or an even number up to {}", 2 * outlets)
    };
    let hint = "Every line takes at least one outlet; on both sides of a mainline there are as many lines \
                on each.";
    notes.issues.push(Issue::new(at, problem).allowed(allowed).hint(hint));
    false
}
