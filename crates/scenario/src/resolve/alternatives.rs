//! The alternatives: common sections with each one's own keys laid over, and their rotations.

use super::{Notes, decimals, length, machine, sprinkler};
use crate::document::{At, Json, Node};
use crate::file::{Across, AlternativeFile, ScenarioFile, ShiftFile};
use crate::issue::Issue;
use crate::part::Part;
use crate::read::Read;
use crate::section::Section;
use evenfall_core::lateral::{Lateral, Machine, Outlets, stops};
use evenfall_core::rotation::{Rotation, Shift};
use evenfall_core::season::{Alternative, Field};
use evenfall_core::sprinkler::Sprinkler;

/// An alternative before its rotation is settled.
#[derive(Clone, Debug)]
pub(crate) struct Draft {
    name: String,
    at: At,
    pub(crate) lateral: Lateral,
    outlets: Outlets,
    sprinkler: Sprinkler,
    shifts: Vec<ShiftFile>,
}

/// All alternatives; `None` if any is bad.
pub(crate) fn resolve(
    root: &Node,
    file: &ScenarioFile,
    notes: &mut Notes<'_>,
) -> Option<Vec<Draft>> {
    let Some(list) = file.alternatives.0.as_ref() else {
        // Even without alternatives the common sections are worth checking.
        common(root, file, notes);
        return None;
    };
    let mut names: Vec<String> = Vec::new();
    let drafts: Vec<Option<Draft>> = list
        .items
        .iter()
        .map(|item| {
            let alternative = item.0.as_ref()?;
            check_name(alternative, &mut names, notes);
            draft(root, file, alternative, notes)
        })
        .collect();
    drafts.into_iter().collect()
}

fn check_name(alternative: &AlternativeFile, names: &mut Vec<String>, notes: &mut Notes<'_>) {
    let folded = alternative.name.value.to_lowercase();
    if names.contains(&folded) {
        let problem =
            format!("two alternatives have the same name, \"{}\"", alternative.name.value);
        let hint = "Names tell alternatives apart in pictures and tables.";
        notes.issues.push(Issue::new(&alternative.name.at, problem).hint(hint));
    }
    names.push(folded);
}

fn common(root: &Node, file: &ScenarioFile, notes: &mut Notes<'_>) {
    let field = file.field.0.as_ref();
    if let Some(lateral) = file.lateral.0.as_ref() {
        let wheel = super::optional(&file.wheel);
        machine::lateral(lateral, wheel, root.get("wheel").is_some(), field, notes);
    }
    if let Some(outlets) = file.outlets.0.as_ref() {
        machine::outlets(outlets, field, notes);
    }
    if let Some(given) = file.sprinkler.0.as_ref() {
        sprinkler::resolve(given, notes);
    }
}

fn draft(
    root: &Node,
    file: &ScenarioFile,
    alternative: &AlternativeFile,
    notes: &mut Notes<'_>,
) -> Option<Draft> {
    let field = file.field.0.as_ref();
    let wheel_node = merged("wheel", alternative.wheel.as_ref(), root);
    let wheel = wheel_node.as_ref().and_then(|node| Read::read(node, &mut notes.issues));
    let lateral =
        laid_over("lateral", alternative.lateral.as_ref(), root, notes).and_then(|given| {
            machine::lateral(&given, wheel.as_ref(), wheel_node.is_some(), field, notes)
        });
    let outlets = laid_over("outlets", alternative.outlets.as_ref(), root, notes)
        .and_then(|given| machine::outlets(&given, field, notes));
    let sprinkler = laid_over("sprinkler", alternative.sprinkler.as_ref(), root, notes)
        .and_then(|given| sprinkler::resolve(&given, notes));
    Some(Draft {
        name: alternative.name.value.clone(),
        at: alternative.at.clone(),
        lateral: lateral?,
        outlets: outlets?,
        sprinkler: sprinkler?,
        shifts: alternative.rotation.items.clone(),
    })
}

/// The common section with the alternative's own keys laid over it.
fn merged<T: Section>(key: &str, own: Option<&Part<T>>, root: &Node) -> Option<Node> {
    let common = root.get(key);
    match (own, common) {
        (Some(own), Some(common)) => Some(own.over(common)),
        (Some(own), None) => Some(own.node.clone()),
        (None, common) => common.cloned(),
    }
}

fn laid_over<T: Section>(
    key: &str,
    own: Option<&Part<T>>,
    root: &Node,
    notes: &mut Notes<'_>,
) -> Option<T> {
    // A common section that is missing or no object has been told already.
    root.get(key).filter(|common| matches!(common.json, Json::Object(_)))?;
    T::read(&merged(key, own, root)?, &mut notes.issues)
}

/// Settles every rotation on stops where its lateral can stand; `None` if any cannot.
pub(crate) fn settle(
    drafts: Vec<Draft>,
    field: Field,
    notes: &mut Notes<'_>,
) -> Option<Vec<Alternative>> {
    let settled: Vec<Option<Alternative>> = drafts
        .into_iter()
        .map(|draft| {
            let shifts: Vec<Option<Shift>> =
                draft.shifts.iter().map(|shift| stop(&draft, shift, notes)).collect();
            let rotation = Rotation::new(shifts.into_iter().collect::<Option<_>>()?)?;
            warn_of_places(&draft, &rotation, field, notes);
            let Draft { name, lateral, outlets, sprinkler, .. } = draft;
            Some(Alternative { name, lateral, outlets, rotation, sprinkler })
        })
        .collect();
    settled.into_iter().collect()
}

/// The stop that a shift of a rotation comes to.
fn stop(draft: &Draft, shift: &ShiftFile, notes: &mut Notes<'_>) -> Option<Shift> {
    let across_m = match (&shift.across, draft.lateral.machine) {
        (None, _) => 0.0,
        (Some(Across::Length(length)), _) => length.value,
        (Some(Across::Turns(turns)), Machine::WheelLine(wheel)) => {
            turns.value * wheel.travel_per_turn_m
        }
        (Some(Across::Turns(turns)), Machine::HandMove) => {
            let problem = "a hand-moved lateral has no wheels to turn";
            let hint = "Give the shift as a length, such as \"20 ft\".";
            notes.issues.push(Issue::new(&turns.at, problem).hint(hint));
            return None;
        }
    };
    let asked = Shift { across_m, along_m: shift.along.as_ref().map_or(0.0, |along| along.value) };
    let spacing_m = draft.lateral.sprinkler_spacing_m;
    match stops::check(&draft.lateral.machine, &draft.outlets, spacing_m, asked) {
        Ok(taken) => {
            if (taken.across_m - across_m).abs() > 1e-6 {
                let why = format!("moved from {} onto whole turns of the wheel", length(across_m));
                notes.assume(&shift.at.pointer, length(taken.across_m), why);
            }
            Some(taken)
        }
        Err(unreachable) => {
            notes.issues.push(refusal(draft, shift, asked, &unreachable));
            None
        }
    }
}

fn refusal(
    draft: &Draft,
    shift: &ShiftFile,
    asked: Shift,
    unreachable: &stops::Unreachable,
) -> Issue {
    let problem = format!(
        "\"{}\" cannot stand {} from its outlet: {}",
        draft.name,
        length(asked.across_m),
        unreachable.why.reason()
    );
    let places = unreachable.reachable.iter().map(|shift| length(shift.across_m));
    let places = places.collect::<Vec<_>>();
    let (allowed, hint) = match draft.lateral.machine {
        Machine::WheelLine(wheel) => (
            places.join(", "),
            format!(
                "Its wheel rolls {} a turn and its hose reaches {}.",
                length(wheel.travel_per_turn_m),
                length(draft.outlets.reach_m)
            ),
        ),
        Machine::HandMove => (
            places.join(" to "),
            format!(
                "Its hose reaches {}; along the pipe it shifts by at most {}.",
                length(draft.outlets.reach_m),
                length(draft.lateral.sprinkler_spacing_m)
            ),
        ),
    };
    Issue::new(&shift.at, problem).allowed(allowed).hint(hint)
}

/// Warns of stops outside the field and of gaps that no sprinkler reaches.
fn warn_of_places(draft: &Draft, rotation: &Rotation, field: Field, notes: &mut Notes<'_>) {
    let (outlets, width_m) = (&draft.outlets, field.grid.width_across_m());
    let last_m = outlets.place_m(outlets.count - 1);
    for shift in rotation.distinct() {
        if outlets.first_m + shift.across_m < -1e-6 || last_m + shift.across_m > width_m + 1e-6 {
            notes.warn(format!(
                "{} at {}: shifted by {} the lateral stands outside the field at its edge",
                draft.name,
                draft.at.pointer,
                length(shift.across_m)
            ));
        }
    }
    let radius_m = draft.sprinkler.jets.iter().filter_map(|jet| jet.leg.distance_m.last());
    let radius_m = radius_m.fold(0.0, |most: f64, &radius_m| most.max(radius_m));
    for (what, spacing_m) in
        [("outlets", outlets.spacing_m), ("sprinklers", draft.lateral.sprinkler_spacing_m)]
    {
        if radius_m < 0.5 * spacing_m {
            notes.warn(format!(
                "{}: water thrown {} does not meet between {what} {} apart ({} short)",
                draft.name,
                length(radius_m),
                length(spacing_m),
                decimals(spacing_m - 2.0 * radius_m, 2) + " m"
            ));
        }
    }
}
