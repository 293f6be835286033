//! The existing and the planned system side by side, as a design sheet states them.

use super::input::Papers;
use crate::scenes::{Entry, Scene};
use crate::table::{Row, Table};
use evenfall_core::lateral::Machine;
use evenfall_core::schedule::Calendar;
use evenfall_view::units::{Quantity, number};

/// A row: what it is, and how it reads of an alternative.
type Told = fn(&Scene<'_>, &Entry<'_>) -> String;

/// Every row; one that is empty for both is left out.
const ROWS: [(&str, Told); 12] = [
    ("How it is moved", machine),
    ("Lateral", lateral),
    ("Sprinkler spacing", |scene, own| scene.length(own.asked.lateral.sprinkler_spacing_m)),
    ("Outlets", outlets),
    ("Reach of hose or joint", |scene, own| scene.length(own.asked.outlets.reach_m)),
    ("Sprinkler", sprinkler),
    ("Set time", |scene, own| hours(scene.scenario.calendar_of(own.asked).set_time_h)),
    ("Starting times", |scene, own| starts(scene.scenario.calendar_of(own.asked))),
    ("Order of sets", |scene, own| scene.scenario.calendar_of(own.asked).order.words().to_owned()),
    ("Sets in a pass", sets),
    ("Passes in the season", |_, own| own.passes().to_string()),
    ("Stops, in order", stops),
];

/// The two systems, row by row.
pub(super) fn table(papers: &Papers<'_>, entries: &[Entry<'_>; 2]) -> Table {
    let rows = ROWS.iter().filter_map(|(what, told)| {
        let [existing, planned] = [0, 1].map(|which: usize| told(papers.scene, &entries[which]));
        let shown = if planned == existing { "the same".to_owned() } else { planned };
        (!existing.is_empty() || !shown.is_empty()).then(|| Row::new(*what, vec![existing, shown]))
    });
    let name = |which: usize, what: &str| format!("{what} (“{}”)", entries[which].asked.name);
    let head = ["", &name(0, "Existing"), &name(1, "Planned")];
    Table::new("The system", &head).with_rows(rows.collect())
}

fn machine(scene: &Scene<'_>, own: &Entry<'_>) -> String {
    match &own.asked.lateral.machine {
        Machine::WheelLine(wheel) => {
            format!("wheel line, {} a turn", scene.length(wheel.travel_per_turn_m))
        }
        Machine::HandMove => "moved by hand".to_owned(),
    }
}

fn lateral(scene: &Scene<'_>, own: &Entry<'_>) -> String {
    let lateral = &own.asked.lateral;
    let length_m = lateral.sprinklers as f64 * lateral.sprinkler_spacing_m;
    format!("{} sprinklers, {}", lateral.sprinklers, scene.length(length_m))
}

fn outlets(scene: &Scene<'_>, own: &Entry<'_>) -> String {
    let outlets = &own.asked.outlets;
    format!("{}, {} apart", outlets.count, scene.length(outlets.spacing_m))
}

fn sprinkler(scene: &Scene<'_>, own: &Entry<'_>) -> String {
    let jets = &own.asked.sprinkler.jets;
    let discharge_l_s: f64 = jets.iter().map(|jet| jet.leg().discharge_l_s()).sum();
    let Some(first) = jets.first() else { return String::new() };
    format!(
        "{} at {}",
        scene.units.text(Quantity::Discharge, discharge_l_s, 2),
        scene.units.text(Quantity::Pressure, first.launch.pressure_kpa, 0)
    )
}

fn hours(hours: f64) -> String {
    let decimals = usize::from((hours - hours.round()).abs() > 1e-6);
    format!("{}\u{a0}h", number(hours, decimals))
}

fn starts(calendar: &Calendar) -> String {
    match calendar.sets_a_day {
        Some(1) => "one set a day".to_owned(),
        Some(many) => format!("{many} sets a day"),
        None => format!("one set after another, {} to move", hours(calendar.move_gap_h)),
    }
}

fn sets(_: &Scene<'_>, own: &Entry<'_>) -> String {
    let sets = own.found.plan.passes.iter().map(|pass| pass.sets.len());
    let (least, most) = (sets.clone().min().unwrap_or(0), sets.max().unwrap_or(0));
    if least == most { most.to_string() } else { format!("{least} to {most}") }
}

fn stops(scene: &Scene<'_>, own: &Entry<'_>) -> String {
    let each = own
        .stops()
        .into_iter()
        .map(|stop| format!("{} {}", stop.letter, scene.shift_words(stop.shift)));
    each.collect::<Vec<_>>().join("; ")
}
