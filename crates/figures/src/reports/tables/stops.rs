//! Where a lateral stands: stops used, drift of a wheel line, and a wheel judged by itself.

use crate::reports::worth::terminal::aligned;
use crate::scenes::{Entry, Scene};
use crate::table::{Row, Table};
use evenfall_core::lateral::stops::{Standing, Stop, WheelReach};
use evenfall_core::lateral::{Machine, Wheel};
use evenfall_view::AlternativeWheel;
use evenfall_view::units::{Quantity, UnitSystem, number};
use std::fmt::Write as _;

/// The stops each alternative used.
pub(crate) fn used(scene: &Scene<'_>) -> Table {
    let head =
        ["", "Stop", "Shift", "Turns from the outlet", "First place", "Last place", "Passes"];
    let mut rows = Vec::new();
    for entry in &scene.entries {
        for stop in entry.stops() {
            let outlets = &entry.asked.outlets;
            let place = |index: usize| scene.length(outlets.place_m(index) + stop.shift.across_m);
            let passes = entry.found.plan.passes.iter();
            let times = passes.filter(|p| p.letter == stop.letter && p.shift == stop.shift).count();
            let cells = vec![
                stop.letter.to_string(),
                scene.shift_words(stop.shift),
                turns(entry, stop.shift.across_m),
                place(0),
                place(outlets.count.saturating_sub(1)),
                times.to_string(),
            ];
            rows.push(Row::new(&entry.asked.name, cells));
        }
    }
    Table::new("Stops", &head).with_rows(rows).with_note(&note(scene))
}

fn note(scene: &Scene<'_>) -> String {
    let mut note = "Places are distances across the field from its first edge.".to_owned();
    if scene.entries.iter().flat_map(Entry::stops).any(|stop| stop.shift.along_m != 0.0) {
        note.push_str(
            " Along the pipe means away from the mainline; back along the pipe, toward it.",
        );
    }
    note
}

fn turns(entry: &Entry<'_>, across_m: f64) -> String {
    match entry.asked.lateral.machine {
        Machine::WheelLine(wheel) => number(across_m / wheel.travel_per_turn_m, 2),
        Machine::HandMove => "moved by hand".to_owned(),
    }
}

/// Drift of the wheels.
pub(crate) fn drift(wheels: &[AlternativeWheel], units: UnitSystem) -> Table {
    let head = [
        "",
        "Turns per move",
        "Drift per move",
        "Tilt per move if rolled to the outlet",
        "Drift per pass, no turn added",
    ];
    let rows = wheels.iter().map(|w| {
        let length = |m: f64| units.text(Quantity::Length, m, 2);
        let cells = vec![
            w.reach.turns_per_move.to_string(),
            length(w.reach.drift_per_move_m),
            format!("{}°", number(w.reach.tilt_per_move_deg, 1)),
            length(w.reach.drift_per_pass_m),
        ];
        Row::new(&w.alternative, cells)
    });
    let note = "Drift: how far whole turns end from the next outlet (+ past it). The line makes \
        whole turns only and is simulated where they leave it; the hose takes up the difference.";
    Table::new("Turns and drift", &head).with_rows(rows.collect()).with_note(note)
}

/// Why a lateral can or cannot stand somewhere, in plain words.
fn standing_words(standing: Standing) -> String {
    let answer = if standing.can_stand() { "yes" } else { "no" };
    format!("{answer}: {}", standing.reason())
}

/// A wheel by itself, as text for a terminal: every place beside an outlet and whether the lateral
/// can stand there, then turns, drift and tilt. Ends with a line break.
pub fn stops_table(reach: &WheelReach, units: UnitSystem) -> String {
    let unit = units.symbol(Quantity::Length);
    let shift_head = format!("shift ({unit})");
    let mut out = format!("{:>7}  {shift_head:>11}  can it stop there?\n", "turns");
    // Writing to a String cannot fail.
    for stop in &reach.stops {
        let shift = number(units.shown(Quantity::Length, stop.shift.across_m), 1);
        let is_quarter = (2.0 * stop.turns).fract() != 0.0;
        let turns = number(stop.turns, if is_quarter { 2 } else { 1 });
        let _ = writeln!(out, "{turns:>7}  {shift:>11}  {}", standing_words(stop.standing));
    }
    out.push('\n');
    for (what, value) in drift_facts(reach, units) {
        let _ = writeln!(out, "{what:<39}{value}");
    }
    let length = |m: f64| units.text(Quantity::Length, m, 1).replace('\u{a0}', " ");
    for sentence in reach.fit_words(length) {
        let _ = writeln!(out, "{sentence}");
    }
    if reach.added_turn_every.is_some() {
        out.push_str(&stands(reach, units));
    }
    out
}

/// Wheels side by side at the same outlets, as text for a terminal: what each is called, and what it
/// can do. Ends with a line break.
pub fn wheels_table(wheels: &[(String, Wheel, WheelReach)], units: UnitSystem) -> String {
    let head = [
        "",
        "rolls a turn",
        "turns to the next outlet",
        "drift per move",
        "drift per pass",
        "tilt per move",
        "stops within reach",
    ];
    let length = |m: f64| units.text(Quantity::Length, m, 2);
    let row = |(name, wheel, reach): &(String, Wheel, WheelReach)| {
        let place = |stop: &Stop| number(units.shown(Quantity::Length, stop.shift.across_m), 1);
        let stops: Vec<String> = reach.reachable().map(place).collect();
        vec![
            name.clone(),
            length(wheel.travel_per_turn_m),
            reach.turns_per_move.to_string(),
            length(reach.drift_per_move_m),
            length(reach.drift_per_pass_m),
            format!("{}°", number(reach.tilt_per_move_deg, 1)),
            format!("{} {}", stops.join(", "), units.symbol(Quantity::Length)),
        ]
    };
    let head = head.map(str::to_owned).to_vec();
    let rows: Vec<Vec<String>> = std::iter::once(head).chain(wheels.iter().map(row)).collect();
    format!(
        "{}Drift is how far whole turns end from the next outlet (+ past it): the hose takes it up, \
         or a turn is added; tilt is that of the\nsprinklers if you roll the line to the outlet anyway.\n",
        aligned(&rows).replace('\u{a0}', " ")
    )
}

/// Where the line stands at each outlet of a pass, some outlets a row.
fn stands(reach: &WheelReach, units: UnitSystem) -> String {
    const A_ROW: usize = 8;
    let unit = units.symbol(Quantity::Length);
    match &reach.stands_m {
        Ok(stands_m) => {
            let mut out =
                format!("Where the line stands in a pass, {unit} past (−: before) its outlet:\n");
            for (row, places) in stands_m.chunks(A_ROW).enumerate() {
                let shown = places
                    .iter()
                    .map(|m| format!("{:>6}", number(units.shown(Quantity::Length, *m), 1)));
                let first = row * A_ROW + 1;
                // Writing to a String cannot fail.
                let _ = writeln!(out, "  outlet {first:>3} on{}", shown.collect::<String>());
            }
            out
        }
        Err(why) => format!("{why}.\n"),
    }
}

/// Turns, drift and tilt of a wheel from outlet to outlet: what each is, and its value.
pub fn drift_facts(reach: &WheelReach, units: UnitSystem) -> [(&'static str, String); 4] {
    let length = |m: f64| units.text(Quantity::Length, m, 2).replace('\u{a0}', " ");
    [
        ("turns from outlet to outlet", reach.turns_per_move.to_string()),
        ("drift per move (+ past the outlet)", length(reach.drift_per_move_m)),
        (
            "tilt per move if rolled to the outlet",
            format!("{}°", number(reach.tilt_per_move_deg, 1)),
        ),
        ("drift per pass, no turn added", length(reach.drift_per_pass_m)),
    ]
}
