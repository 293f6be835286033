//! The layouts that a search tries beside the scenario's own: outlets moved, more or fewer, other
//! wheels and spacings.

use crate::document::At;
use crate::file::{Across, SearchFile};
use crate::issue::Issue;
use crate::notes::{Notes, length};
use evenfall_core::lateral::stops::WHOLE_TURN_TOLERANCE;
use evenfall_core::lateral::{Lateral, Machine, WheelSize};
use evenfall_core::model::Scenario;
use evenfall_core::search::SearchSpace;

/// Adds the section's layouts, wheels and spacings to `space`.
pub(crate) fn add(
    given: &SearchFile,
    scenario: &Scenario,
    space: &mut SearchSpace,
    notes: &mut Notes<'_>,
) {
    let Some(alternative) = scenario.alternatives.first() else { return };
    let outlets = &alternative.outlets;
    let width_m = scenario.field.grid.width_across_m();
    for inset in given.first_outlet_shifts.iter().flat_map(|list| &list.items) {
        if let Some(inset_m) = inset_m(inset, &alternative.lateral, notes) {
            if outlets.first_m + inset_m < 0.0 || outlets.first_m + inset_m > width_m {
                let problem = "the first outlet would lie outside the field";
                notes.issues.push(Issue::new(at_of(inset), problem));
            }
            space.insets_m.push(inset_m);
        }
    }
    for count in given.outlet_counts.iter().flat_map(|list| &list.items) {
        let fit = ((width_m - outlets.first_m) / outlets.spacing_m + 1e-9).floor() as u64 + 1;
        if count.value > fit {
            let problem = format!("{} outlets do not lie in the field", count.value);
            notes.issues.push(Issue::new(&count.at, problem).allowed(format!("at most {fit}")));
        }
        space.outlet_counts.push(count.value as usize);
    }
    if let Some(spacings) = &given.outlet_spacings {
        space.spacings_m = spacings.items.iter().map(|spacing| spacing.value).collect();
    }
    add_wheels(given, alternative.lateral.machine, space, notes);
    let has_grid = given.stops_per_spacing.is_some() || given.half_joint_shifts.is_some();
    if has_grid && alternative.lateral.machine != Machine::HandMove {
        notes.warn(
            "/search: `stops_per_spacing` and `half_joint_shifts` have no effect: a wheel line stands at \
             whole turns"
                .to_owned(),
        );
    }
}

/// The wheels to compare: those by name, then those by their travel.
fn add_wheels(
    given: &SearchFile,
    machine: Machine,
    space: &mut SearchSpace,
    notes: &mut Notes<'_>,
) {
    let mut refuse = |at: &At, key: &str| {
        if machine == Machine::HandMove {
            let problem = "a hand-moved lateral has no wheels to compare";
            notes.issues.push(Issue::new(at, problem).hint(format!("Remove `{key}`.")));
        }
    };
    if let Some(sizes) = &given.wheel_sizes {
        refuse(&sizes.at, SearchFile::wheel_sizes.key);
        space.sizes = sizes.items.iter().map(|size| WheelSize::from(*size)).collect();
    }
    if let Some(travels) = &given.travels_per_turn {
        refuse(&travels.at, SearchFile::travels_per_turn.key);
        space.travels_m = travels.items.iter().map(|travel| travel.value).collect();
    }
}

fn at_of(across: &Across) -> &At {
    match across {
        Across::Length(length) => &length.at,
        Across::Turns(turns) => &turns.at,
    }
}

/// How far the first outlet is moved: whole turns for a wheel line.
fn inset_m(inset: &Across, lateral: &Lateral, notes: &mut Notes<'_>) -> Option<f64> {
    let (machine, at) = (lateral.machine, at_of(inset).clone());
    match (inset, machine) {
        (Across::Turns(turns), Machine::HandMove) => {
            let problem = "a hand-moved lateral has no wheels to turn";
            let hint = "Give the shift as a length, such as \"20 ft\".";
            notes.issues.push(Issue::new(&turns.at, problem).hint(hint));
            None
        }
        (Across::Length(length), Machine::HandMove) => Some(length.value),
        (_, Machine::WheelLine(wheel)) => {
            let travel_m = wheel.travel_per_turn_m;
            let turns = match inset {
                Across::Turns(turns) => turns.value,
                Across::Length(length) => length.value / travel_m,
            };
            if (turns - turns.round()).abs() > WHOLE_TURN_TOLERANCE * turns.abs().max(1.0) {
                let problem = "a shift of the first outlet must be whole turns of the wheel";
                notes.issues.push(
                    Issue::new(&at, problem)
                        .allowed(format!("multiples of {}", length(travel_m)))
                        .hint("The line has to come to it with its sprinklers on top."),
                );
                return None;
            }
            Some(turns.round() * travel_m)
        }
    }
}
