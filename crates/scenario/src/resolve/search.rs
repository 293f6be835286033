//! What a search tries, with its defaults and cross-checks.

use super::field::warn_if_no_interior;
use super::layouts;
use crate::file::{AimName, AlternativeFile, OrdersName, ScenarioFile, SearchFile, WorthFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use crate::read::optional;
use evenfall_core::lateral::{EdgeTreatment, Machine, SetOrder};
use evenfall_core::model::Scenario;
use evenfall_core::money::Equipment;
use evenfall_core::search::{
    Aim, ClockChange, EquipmentRule, HandGrid, RotationRule, SearchOptions, SearchSpace,
    WorthwhileDifference,
};
use evenfall_core::season;
use evenfall_core::worth::Economics;

/// The section's place in the scenario.
const AT: &str = "/search";
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
    let seasons = seasons(given, economics, notes);
    let confidence_level = confidence_level(given, economics, notes);
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
        equipment: equipment_rule(file, scenario, economics),
        aim: given.and_then(|given| given.aim).map_or_else(|| usual_aim(economics), Aim::from),
        worthwhile: worthwhile(given, notes),
        seasons,
        first_seasons: first_seasons(given, seasons, notes),
        confidence_level,
        weigh_best: WEIGH_BEST,
    }
}

/// Seasons for those that stay to the end: the search's own, else those of the economics.
fn seasons(
    given: Option<&SearchFile>,
    economics: Option<&Economics>,
    notes: &mut Notes<'_>,
) -> usize {
    if let Some(own) = given.and_then(|given| given.seasons.as_ref()) {
        return own.value as usize;
    }
    let usual = || WorthFile::seasons.start() as usize;
    let seasons = economics.map_or_else(usual, |economics| economics.seasons);
    SearchFile::seasons.assume(AT, seasons.to_string(), notes);
    seasons
}

/// The search's own confidence level, else that of the economics.
fn confidence_level(
    given: Option<&SearchFile>,
    economics: Option<&Economics>,
    notes: &mut Notes<'_>,
) -> f64 {
    if let Some(own) = given.and_then(|given| given.confidence_level.as_ref()) {
        return own.value;
    }
    let usual = || WorthFile::confidence_level.start();
    let level = economics.map_or_else(usual, |economics| economics.confidence_level);
    SearchFile::confidence_level.assume(AT, format!("{} %", decimals(100.0 * level, 3)), notes);
    level
}

/// What is too close to matter; that of the net return is the economics'.
fn worthwhile(given: Option<&SearchFile>, notes: &mut Notes<'_>) -> WorthwhileDifference {
    let du_lq = given.map(|given| &given.worthwhile_gain_du_lq);
    let worst_tenth = given.map(|given| &given.worthwhile_gain_worst_tenth);
    WorthwhileDifference {
        du_lq: SearchFile::worthwhile_gain_du_lq.or_start(du_lq, AT, notes),
        worst_tenth: SearchFile::worthwhile_gain_worst_tenth.or_start(worst_tenth, AT, notes),
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
        let first = (SearchFile::screening_seasons.start() as usize).min(seasons);
        SearchFile::screening_seasons.assume(AT, first.to_string(), notes);
        return first;
    };
    if first.value as usize > seasons {
        let problem = "the screening would come after the last season";
        notes.issues.push(Issue::new(&first.at, problem).allowed(format!("at most {seasons}")));
    }
    first.value as usize
}

fn space(given: Option<&SearchFile>, scenario: &Scenario, notes: &mut Notes<'_>) -> SearchSpace {
    let longest = given.map(|given| &given.longest_cycle);
    let mut space = SearchSpace {
        rotations: RotationRule {
            longest: SearchFile::longest_cycle.or_start(longest, AT, notes) as usize,
            repeats: given.and_then(|given| given.repeat_stops).unwrap_or(true),
            every_order: given.is_some_and(|given| given.stop_orders == Some(OrdersName::Every)),
        },
        hand: hand_grid(given, scenario, notes),
        edges: EdgeTreatment::ALL.to_vec(),
        clocks: vec![ClockChange::AsGiven, ClockChange::IdleHalfDay, ClockChange::OtherHalf],
        orders: Vec::new(),
        insets_m: Vec::new(),
        outlet_counts: Vec::new(),
        sizes: Vec::new(),
        travels_m: Vec::new(),
        spacings_m: Vec::new(),
    };
    let Some(given) = given else { return space };
    if let Some(edges) = &given.edges {
        space.edges = edges.items.iter().map(|name| EdgeTreatment::from(*name)).collect();
    }
    if let Some(orders) = &given.set_orders {
        space.orders = orders.items.iter().map(|name| SetOrder::from(*name)).collect();
    }
    if let Some(clocks) = &given.schedules {
        space.clocks = clocks.items.iter().map(|name| ClockChange::from(*name)).collect();
    }
    layouts::add(given, scenario, &mut space, notes);
    space
}

/// The grid of a hand-moved lateral; a wheel line has none, so nothing of it is noted.
fn hand_grid(given: Option<&SearchFile>, scenario: &Scenario, notes: &mut Notes<'_>) -> HandGrid {
    let parts = given.map(|given| &given.stops_per_spacing);
    let row = SearchFile::stops_per_spacing;
    let machine = scenario.alternatives.first().map(|a| a.lateral.machine);
    let parts = match machine {
        Some(Machine::HandMove) => row.or_start(parts, AT, notes),
        _ => row.or(parts),
    };
    let half_along = given.and_then(|given| given.half_joint_shifts).unwrap_or(true);
    HandGrid { parts_across: parts as u32, half_along }
}

/// What shifted rotations need: as the search says, else as the scenario's first shifted
/// alternative that says it.
fn equipment_rule(
    file: &ScenarioFile,
    scenario: &Scenario,
    economics: Option<&Economics>,
) -> EquipmentRule {
    let given = optional(&file.search);
    let alternatives = file.alternatives.0.iter().flat_map(|list| &list.items);
    let is_stated =
        |file: Option<&AlternativeFile>| file.is_some_and(|own| own.equipment.is_some());
    let stated = alternatives.map(|item| is_stated(item.0.as_ref()));
    let shifted = scenario.alternatives.iter().map(|own| own.rotation.reaches_beyond(0.0));
    let usual = shifted.zip(stated).position(|(is_shifted, is_stated)| is_shifted && is_stated);
    let of = |at: usize| economics.map_or_else(Equipment::default, |known| known.equipment_of(at));
    let (usual, is_told) = (usual.map(of).unwrap_or_default(), usual.is_some());
    let baseline = of(0);
    let purchases = usual.purchases.iter().enumerate();
    let own = |count: Option<u64>| count.map(|count| count as u32);
    let joints = own(given.and_then(|g| g.joints.as_ref()).map(|count| count.value));
    let each = own(given.and_then(|g| g.joints_per_outlet.as_ref()).map(|count| count.value));
    let labor_h = given.and_then(|g| g.extra_labor_per_move.as_ref()).map(|time| time.value);
    EquipmentRule {
        // Joints for each outlet take the place of the usual ones for the lateral.
        joints: joints.unwrap_or(if each.is_some() { 0 } else { usual.joints }),
        joints_per_outlet: each.unwrap_or(0),
        // What the fixed pattern has already is not bought again.
        purchases: purchases.map(|(at, count)| count.saturating_sub(baseline.pieces(at))).collect(),
        open_beyond_m: match scenario.alternatives.first() {
            Some(first) if !is_told && joints.is_none() && each.is_none() => {
                Some(first.rotation.farthest_m())
            }
            _ => None,
        },
        extra_labor_per_move_h: labor_h.unwrap_or(usual.extra_labor_per_move_h),
    }
}
