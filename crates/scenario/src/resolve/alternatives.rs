//! The alternatives: common sections with each one's own keys laid over, and their rotations.

use super::pipe::Served;
use super::rotation::{self, Beside};
use super::{discharges, lines, machine, pipe, season, sprinkler};
use crate::document::{Json, Node};
use crate::file::{
    AlternativeFile, EdgesName, FieldFile, LateralFile, OutletsFile, ScenarioFile, SeasonFile,
    SprinklerFile,
};
use crate::issue::Issue;
use crate::notes::{Notes, decimals, length};
use crate::part::Part;
use crate::read::{Read, optional};
use crate::section::Section;
use evenfall_core::lateral::{EdgeTreatment, Lateral, Outlets, Side};
use evenfall_core::model::Alternative;

/// All alternatives; `None` if any is bad.
pub(crate) fn resolve(
    root: &Node,
    file: &ScenarioFile,
    notes: &mut Notes<'_>,
) -> Option<Vec<Alternative>> {
    let Some(list) = file.alternatives.0.as_ref() else {
        // Even without alternatives the common sections are worth checking.
        common(root, file, notes);
        return None;
    };
    let mut names: Vec<String> = Vec::new();
    let alternatives: Vec<Option<Alternative>> = list
        .items
        .iter()
        .map(|item| {
            let given = item.0.as_ref()?;
            check_name(given, &mut names, notes);
            let alternative = alternative(root, file, given, notes)?;
            warn_of_places(&alternative, file.field.0.as_ref()?, notes);
            Some(alternative)
        })
        .collect();
    alternatives.into_iter().collect()
}

fn check_name(alternative: &AlternativeFile, names: &mut Vec<String>, notes: &mut Notes<'_>) {
    let folded = alternative.name.value.to_lowercase();
    if names.contains(&folded) {
        let problem =
            format!("two alternatives have the same name, \"{}\"", alternative.name.value);
        let hint =
            "Give each alternative a name of its own: pictures and tables tell them apart by it.";
        notes.issues.push(Issue::new(&alternative.name.at, problem).hint(hint));
    }
    names.push(folded);
}

fn common(root: &Node, file: &ScenarioFile, notes: &mut Notes<'_>) {
    let field = file.field.0.as_ref();
    if let Some(lateral) = file.lateral.0.as_ref() {
        let (wheel, maintenance) = (optional(&file.wheel), optional(&file.maintenance));
        machine::machine(lateral, wheel, root.get("wheel").is_some(), maintenance, notes);
        lines::resolve(lateral, field, notes);
    }
    if let Some(outlets) = file.outlets.0.as_ref() {
        machine::outlets(outlets, field, notes);
    }
    if let Some(given) = file.sprinkler.0.as_ref() {
        sprinkler::resolve(given, notes);
    }
}

/// One alternative. Each part is worked out before any is given up, so that all problems are told.
fn alternative(
    root: &Node,
    file: &ScenarioFile,
    given: &AlternativeFile,
    notes: &mut Notes<'_>,
) -> Option<Alternative> {
    let field = file.field.0.as_ref();
    let wheel_node = merged("wheel", given.wheel.as_ref(), root);
    let wheel = wheel_node.as_ref().and_then(|node| Read::read(node, &mut notes.issues));
    let lateral: Option<LateralFile> = laid_over("lateral", given.lateral.as_ref(), root, notes);
    let outlets: Option<OutletsFile> = laid_over("outlets", given.outlets.as_ref(), root, notes);
    let given_sprinkler: Option<SprinklerFile> =
        laid_over("sprinkler", given.sprinkler.as_ref(), root, notes);
    let sprinkler = given_sprinkler.as_ref().and_then(|given| sprinkler::resolve(given, notes));
    let machine = lateral.as_ref().and_then(|lateral| {
        let (is_there, maintenance) = (wheel_node.is_some(), optional(&file.maintenance));
        machine::machine(lateral, wheel.as_ref(), is_there, maintenance, notes)
    });
    let standing = lateral.as_ref().and_then(|lateral| lines::resolve(lateral, field, notes));
    let placed = outlets.as_ref().and_then(|outlets| machine::outlets(outlets, field, notes));
    let own_season: Option<Option<SeasonFile>> =
        given.season.as_ref().map(|own| laid_over("season", Some(own), root, notes));
    let calendar = match (&own_season, file.season.0.as_ref()) {
        (Some(Some(own)), Some(common)) => Some(season::own_calendar(own, common, notes)),
        _ => None,
    };
    check_extra_sets(given, notes);
    let (lateral, outlets, machine) = (lateral?, outlets?, machine?);
    let beside = Beside {
        name: &given.name.value,
        machine,
        sprinkler_spacing_m: lateral.sprinkler_spacing.value,
        // A shift is judged beside any one outlet.
        outlet: Outlets {
            spacing_m: outlets.spacing.value,
            first_m: 0.0,
            count: 1,
            reach_m: outlets.reach.value,
            field_width_m: f64::INFINITY,
        },
    };
    let rotation = rotation::resolve(&beside, &given.rotation.items, notes);
    let core_lateral = Lateral {
        machine,
        sprinklers: lateral.sprinklers.value as usize,
        sprinkler_spacing_m: lateral.sprinkler_spacing.value,
        first_sprinkler_m: standing?.0,
        lines: standing?.1,
    };
    if let Some(placed) = &placed
        && !lines::check_shares(&lateral, &core_lateral.lines, placed.count, notes)
    {
        return None;
    }
    let state = discharges::state(&lateral, (&given_sprinkler?, &sprinkler?), notes)?;
    let served = Served { lateral: &core_lateral, state: &state };
    let feed = pipe::feed(lateral.pipe.as_ref(), &lateral.at.pointer, served, notes);
    Some(Alternative {
        name: given.name.value.clone(),
        lateral: core_lateral,
        outlets: placed?,
        rotation: rotation?,
        feed: feed.ok()?,
        sprinkler: state.sprinkler,
        discharges: state.discharges,
        condition: state.condition,
        edges: given.edges.map_or(EdgeTreatment::Shift, EdgeTreatment::from),
        calendar,
    })
}

/// Extra sets that the schedule holds must not be named a second time.
fn check_extra_sets(given: &AlternativeFile, notes: &mut Notes<'_>) {
    let named =
        given.equipment.as_ref().and_then(|equipment| equipment.extra_sets_per_pass.as_ref());
    if let (Some(EdgesName::ExtraSet), Some(sets)) = (given.edges, named)
        && sets.value > 0
    {
        let problem = "the extra set of `edges` would be counted twice";
        notes
            .issues
            .push(Issue::new(&sets.at, problem).allowed("0 beside \"edges\": \"extra set\"").hint(
            "The schedule already has that set, and its water and labor are counted from there.",
        ));
    }
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

/// Warns of stops outside the field and of gaps that no sprinkler reaches.
fn warn_of_places(alternative: &Alternative, field: &FieldFile, notes: &mut Notes<'_>) {
    let (outlets, width_m) = (&alternative.outlets, field.width_across.value);
    let last_m = outlets.place_m(outlets.count - 1);
    for shift in alternative.rotation.distinct() {
        if outlets.first_m + shift.across_m < -1e-6 || last_m + shift.across_m > width_m + 1e-6 {
            notes.warn(format!(
                "{}: shifted by {}, the lateral stands off the field at its edge",
                alternative.name,
                length(shift.across_m)
            ));
        }
    }
    let (lateral, length_m) = (&alternative.lateral, field.length_along_pipe.value);
    let span_m = (lateral.sprinklers - 1) as f64 * lateral.sprinkler_spacing_m;
    for shift in alternative.rotation.distinct() {
        let first_m = |side| lateral.first_m(side, shift.along_m);
        let stands_off =
            |side: &Side| first_m(*side) < -1e-6 || first_m(*side) + span_m > length_m + 1e-6;
        if lateral.lines.sides().iter().any(stands_off) {
            notes.warn(format!(
                "{}: shifted by {} along the pipe, its last sprinkler stands off the field",
                alternative.name,
                length(shift.along_m)
            ));
        }
    }
    let radius_m = alternative.sprinkler.jets.iter().filter_map(|jet| jet.leg().distance_m.last());
    let radius_m = radius_m.fold(0.0, |most: f64, &radius_m| most.max(radius_m));
    for (what, spacing_m) in
        [("outlets", outlets.spacing_m), ("sprinklers", alternative.lateral.sprinkler_spacing_m)]
    {
        if radius_m < 0.5 * spacing_m {
            notes.warn(format!(
                "{}: a throw of {} does not meet between {what} {} apart ({} short)",
                alternative.name,
                length(radius_m),
                length(spacing_m),
                decimals(spacing_m - 2.0 * radius_m, 2) + " m"
            ));
        }
    }
}
