//! What a search tries, with its defaults and cross-checks.

use super::field::warn_if_no_interior;
use crate::document::At;
use crate::file::{Across, AimName, OrdersName, ScenarioFile, SearchFile};
use crate::issue::Issue;
use crate::notes::{Notes, length};
use crate::read::optional;
use evenfall_core::lateral::stops::WHOLE_TURN_TOLERANCE;
use evenfall_core::lateral::{EdgeTreatment, Lateral, Machine};
use evenfall_core::model::Scenario;
use evenfall_core::money::Equipment;
use evenfall_core::search::{
    Aim, ClockChange, EquipmentRule, HandGrid, RotationRule, SearchOptions, SearchSpace,
    WorthwhileDifference,
};
use evenfall_core::season;
use evenfall_core::worth::Economics;

/// Seasons where neither `search` nor `worth` says.
const DEFAULT_SEASONS: usize = 50;
/// Level of intervals where the scenario does not say.
const DEFAULT_LEVEL: f64 = 0.9;
/// So many of the best are weighed when the aim is water.
const WEIGH_BEST: usize = 8;
/// What a search tries, by what it ranks and how exactly: a section left out is one without keys.
pub(crate) fn options(
    file: &ScenarioFile,
    scenario: &Scenario,
    economics: Option<&Economics>,
    notes: &mut Notes<'_>,
) -> SearchOptions {
    let given = optional(&file.search);
    let seasons = given.and_then(|given| given.seasons.as_ref()).map(|count| count.value as usize);
    let seasons =
        seasons.or(economics.map(|economics| economics.seasons)).unwrap_or(DEFAULT_SEASONS);
    let level = given.and_then(|given| given.confidence_level.as_ref()).map(|level| level.value);
    if let Some(given) = given {
        check_aim(given, economics.is_some(), notes);
        check_length(given, scenario, notes);
    }
    let space = space(given, scenario, notes);
    if let Some(widest_m) = space.spacings_m.iter().copied().reduce(f64::max) {
        warn_if_no_interior(&scenario.field, widest_m, notes);
    }
    SearchOptions {
        space,
        equipment: equipment_rule(given, scenario, economics),
        aim: given.and_then(|given| given.aim).map_or_else(|| usual_aim(economics), Aim::from),
        worthwhile: worthwhile(given),
        seasons,
        first_seasons: first_seasons(given, seasons, notes),
        confidence_level: level
            .or(economics.map(|economics| economics.confidence_level))
            .unwrap_or(DEFAULT_LEVEL),
        weigh_best: WEIGH_BEST,
    }
}

/// What is too close to matter; that of the net return is the economics'.
fn worthwhile(given: Option<&SearchFile>) -> WorthwhileDifference {
    WorthwhileDifference {
        du_lq: SearchFile::worthwhile_gain_du_lq
            .or(given.map(|given| &given.worthwhile_gain_du_lq)),
        worst_tenth: SearchFile::worthwhile_gain_worst_tenth
            .or(given.map(|given| &given.worthwhile_gain_worst_tenth)),
        net_per_ha: None,
    }
}

/// What matters most of what can be told.
fn usual_aim(economics: Option<&Economics>) -> Aim {
    match economics {
        Some(economics) if economics.prices.missing_value().is_empty() => Aim::NetReturn,
        Some(_) => Aim::WorstTenth,
        None => Aim::DuLqInterior,
    }
}

fn check_aim(given: &SearchFile, has_crop: bool, notes: &mut Notes<'_>) {
    let needs_crop = matches!(given.aim, Some(AimName::WorstTenth | AimName::NetReturn));
    if needs_crop && !has_crop {
        let problem = "yield and net return need `crop`, `soil` and `climate`";
        notes.issues.push(
            Issue::new(&given.at.opening(), problem)
                .allowed("\"DUlq\" or \"DUlq of the whole field\""),
        );
    }
}

/// A cycle must fit into the season.
fn check_length(given: &SearchFile, scenario: &Scenario, notes: &mut Notes<'_>) {
    let plans = season::plans(scenario).unwrap_or_default();
    let (Some(longest), Some(plan)) = (&given.longest_cycle, plans.first()) else { return };
    let passes = plan.passes.len();
    if longest.value as usize > passes {
        let problem = format!("a cycle of {} passes is longer than the season", longest.value);
        notes.issues.push(
            Issue::new(&longest.at, problem).allowed(format!("at most the {passes} of a season")),
        );
    }
}

fn first_seasons(given: Option<&SearchFile>, seasons: usize, notes: &mut Notes<'_>) -> usize {
    let Some(first) = given.and_then(|given| given.screening_seasons.as_ref()) else {
        return (SearchFile::screening_seasons.start() as usize).min(seasons);
    };
    if first.value as usize > seasons {
        let problem = "the screening would come after the last season";
        notes.issues.push(Issue::new(&first.at, problem).allowed(format!("at most {seasons}")));
    }
    first.value as usize
}

fn space(given: Option<&SearchFile>, scenario: &Scenario, notes: &mut Notes<'_>) -> SearchSpace {
    let mut space = SearchSpace {
        rotations: RotationRule {
            longest: SearchFile::longest_cycle.or(given.map(|given| &given.longest_cycle)) as usize,
            repeats: given.and_then(|given| given.repeat_stops).unwrap_or(true),
            every_order: given.is_some_and(|given| given.stop_orders == Some(OrdersName::Every)),
        },
        hand: HandGrid {
            parts_across: SearchFile::stops_per_spacing
                .or(given.map(|given| &given.stops_per_spacing)) as u32,
            half_along: given.and_then(|given| given.half_joint_shifts).unwrap_or(true),
        },
        edges: EdgeTreatment::ALL.to_vec(),
        clocks: vec![ClockChange::AsGiven, ClockChange::IdleHalfDay, ClockChange::OtherHalf],
        insets_m: Vec::new(),
        outlet_counts: Vec::new(),
        travels_m: Vec::new(),
        spacings_m: Vec::new(),
    };
    let Some(given) = given else { return space };
    let rotations = &mut space.rotations;
    rotations.longest =
        given.longest_cycle.as_ref().map_or(rotations.longest, |count| count.value as usize);
    rotations.repeats = given.repeat_stops.unwrap_or(rotations.repeats);
    rotations.every_order = given.stop_orders == Some(OrdersName::Every);
    if let Some(edges) = &given.edges {
        space.edges = edges.items.iter().map(|name| EdgeTreatment::from(*name)).collect();
    }
    if let Some(clocks) = &given.schedules {
        space.clocks = clocks.items.iter().map(|name| ClockChange::from(*name)).collect();
    }
    layouts(given, scenario, &mut space, notes);
    space
}

/// Layouts, wheels and spacings.
fn layouts(
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
    if let Some(travels) = &given.travels_per_turn {
        space.travels_m = travels.items.iter().map(|travel| travel.value).collect();
        if alternative.lateral.machine == Machine::HandMove {
            let problem = "a hand-moved lateral has no wheels to compare";
            notes.issues.push(Issue::new(&travels.at, problem).hint("Remove `travels_per_turn`."));
        }
    }
    let has_grid = given.stops_per_spacing.is_some() || given.half_joint_shifts.is_some();
    if has_grid && alternative.lateral.machine != Machine::HandMove {
        notes.warn(
            "/search: `stops_per_spacing` and `half_joint_shifts` have no effect: a wheel line stands at \
             whole turns"
                .to_owned(),
        );
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

/// What shifted rotations need: as the search says, else as the scenario's first shifted
/// alternative has it.
fn equipment_rule(
    given: Option<&SearchFile>,
    scenario: &Scenario,
    economics: Option<&Economics>,
) -> EquipmentRule {
    let shifted = |at: &usize| {
        let shifts = scenario.alternatives[*at].rotation.shifts();
        shifts.iter().any(|shift| shift.across_m != 0.0 || shift.along_m != 0.0)
    };
    let usual: Equipment = (0..scenario.alternatives.len())
        .find(shifted)
        .and_then(|at| economics?.equipment.get(at).copied())
        .unwrap_or_default();
    let own = |count: Option<u64>| count.map(|count| count as u32);
    let joints = own(given.and_then(|g| g.joints.as_ref()).map(|count| count.value));
    let each = own(given.and_then(|g| g.joints_per_outlet.as_ref()).map(|count| count.value));
    let labor_h = given.and_then(|g| g.extra_labor_per_move.as_ref()).map(|time| time.value);
    EquipmentRule {
        // Joints for each outlet take the place of the usual ones for the lateral.
        joints: joints.unwrap_or(if each.is_some() { 0 } else { usual.joints }),
        joints_per_outlet: each.unwrap_or(0),
        extra_labor_per_move_h: labor_h.unwrap_or(usual.extra_labor_per_move_h),
    }
}
