//! Day and night, and where the water went.

use super::{Row, Table};
use crate::scene::Scene;
use crate::units::{Quantity, number, percent};

/// How sets fell by day and night.
pub(crate) fn day_night(scene: &Scene<'_>) -> Table {
    let head = [
        "",
        "Set hours by day (06–18 h)",
        "Places that always met the same half of the day",
        "Clock lock",
    ];
    let rows = scene.entries.iter().map(|e| {
        let clock = &e.found.plan.day_night;
        let cells = vec![
            percent(clock.day_share, 0),
            format!("{} of {}", clock.locked_places, clock.places),
            if clock.is_locked() { "yes" } else { "no" }.to_owned(),
        ];
        Row::new(&e.asked.name, cells)
    });
    let note = "Clock lock: every place meets the same half of the day all season, so windy \
        afternoons always hit the same places. An odd number of sets or an idle half-day breaks it.";
    Table::new("Day and night", &head).with_rows(rows.collect()).with_note(note)
}

/// The water balance.
pub(crate) fn balance(scene: &Scene<'_>) -> Table {
    let unit = scene.units.symbol(Quantity::Volume);
    let head = [
        "",
        &format!("Left the nozzles ({unit})"),
        "On the field",
        "Outside the field",
        "Wind drift and evaporation",
        "Left over by the sum",
    ];
    let rows = scene.entries.iter().map(|e| {
        let w = &e.found.water;
        let share = |m3: f64| {
            let volume = number(scene.units.shown(Quantity::Volume, m3), 1);
            if w.gross_m3 > 0.0 {
                format!("{volume}\u{a0}({})", percent(m3 / w.gross_m3, 1))
            } else {
                volume
            }
        };
        let gross = number(scene.units.shown(Quantity::Volume, w.gross_m3), 1);
        let imbalance = match w.imbalance().abs() {
            _ if w.gross_m3 <= 0.0 => "n/a".to_owned(),
            missing if missing < 1e-9 => "under 1e-9".to_owned(),
            missing => format!("{missing:.0e}"),
        };
        let cells =
            vec![gross, share(w.on_field_m3), share(w.off_field_m3), share(w.losses_m3), imbalance];
        Row::new(&e.asked.name, cells)
    });
    let note = "The last column is what the parts miss the whole by, as a fraction of it.";
    Table::new("Where the water went", &head).with_rows(rows.collect()).with_note(note)
}
