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
const ROWS: [(&str, Told); 13] = [
    ("How it is moved", machine),
    ("Lateral", lateral),
    ("Sprinkler spacing", |scene, own| scene.length(own.asked.lateral.sprinkler_spacing_m)),
    ("Outlets", outlets),
    ("Whole turns to the next outlet", whole_turns),
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

/// Empty where whole turns end at the outlets, and for a hand-move.
fn whole_turns(scene: &Scene<'_>, own: &Entry<'_>) -> String {
    let Some(drift) = drift(own) else { return String::new() };
    format!("{} turns, {}", drift.turns, drift_words(scene, &drift))
}

/// How far whole turns miss the next outlet.
pub(super) struct Drift {
    turns: u32,
    /// + past it, m.
    per_move_m: f64,
}

/// Less than this is nothing that anybody can see, m (2 in).
const SEEN_M: f64 = 0.05;

/// The drift of an alternative; `None` where whole turns end at the outlets, and for a hand-move.
pub(super) fn drift(own: &Entry<'_>) -> Option<Drift> {
    let Machine::WheelLine(wheel) = &own.asked.lateral.machine else { return None };
    let spacing_m = own.asked.outlets.spacing_m;
    let turns = (spacing_m / wheel.travel_per_turn_m).round().max(1.0);
    let per_move_m = turns * wheel.travel_per_turn_m - spacing_m;
    (per_move_m.abs() > SEEN_M).then_some(Drift { turns: turns as u32, per_move_m })
}

/// "3.4 ft short each time".
pub(super) fn drift_words(scene: &Scene<'_>, drift: &Drift) -> String {
    let side = if drift.per_move_m > 0.0 { "past it" } else { "short of it" };
    format!("{} {side} each time", scene.length(drift.per_move_m.abs()))
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
