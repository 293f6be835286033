//! Day and night, and where the water went.

use crate::table::{Row, Table};
use evenfall_view::units::percent;
use evenfall_view::{Amount, Season};

/// How sets fell by day and night.
pub(crate) fn day_night(season: &Season) -> Table {
    let head = [
        "",
        "Set hours by day (06–18 h)",
        "Places always watered in the same half of the day",
        "Clock lock",
    ];
    let rows = season.alternatives.iter().map(|own| {
        let clock = &own.day_night;
        let cells = vec![
            clock.day.text.clone(),
            format!("{} of {}", clock.locked_places, clock.places),
            if clock.clock_locked { "yes" } else { "no" }.to_owned(),
        ];
        Row::new(&own.name, cells)
    });
    let note = "Clock lock: every place is watered in the same half of the day all season, so windy \
        afternoons always hit the same places. An odd number of sets or an idle half day breaks it, \
        but not with one set a day, which starts at the same hour whatever the pass.";
    Table::new("Day and night", &head).with_rows(rows.collect()).with_note(note)
}

/// The water balance.
pub(crate) fn balance(season: &Season) -> Table {
    let first = season.alternatives.first();
    let unit = first.map_or("", |own| own.water.gross.unit.as_ref());
    let left = format!("Left the nozzles ({unit})");
    let mut head = vec![
        "",
        &left,
        "On the field",
        "Off the field",
        "Wind drift and evaporation",
        "Balance error",
    ];
    let leaks = season.alternatives.iter().any(|own| own.water.leaked.is_some());
    head.extend(leaks.then_some("Leaked before the nozzles"));
    let rows = season.alternatives.iter().map(|own| {
        let water = &own.water;
        let gross = water.gross.number.filter(|gross| *gross > 0.0);
        let share = |part: &Amount| match (gross, part.number) {
            (Some(gross), Some(part_of)) => {
                format!("{}\u{a0}({})", part.digits(), percent(part_of / gross, 1))
            }
            _ => part.digits().to_owned(),
        };
        let imbalance = match water.imbalance {
            _ if gross.is_none() => "n/a".to_owned(),
            missing if missing < 1e-9 => "under 1e-9".to_owned(),
            missing => format!("{missing:.0e}"),
        };
        let parts = [&water.on_field, &water.off_field, &water.losses].map(share);
        let leaked = water.leaked.as_ref().map_or("none", Amount::digits).to_owned();
        let last = [imbalance].into_iter().chain(leaks.then_some(leaked));
        let cells = [vec![water.gross.digits().to_owned()], parts.to_vec(), last.collect()];
        Row::new(&own.name, cells.concat())
    });
    let note = "Balance error: the water that the parts do not account for, as a fraction of all.";
    let beside = " Water that leaks is pumped beside what leaves the nozzles: it is no part of the balance and \
                  no depth on the field.";
    let note = if leaks { [note, beside].concat() } else { note.to_owned() };
    Table::new("Where the water went", &head).with_rows(rows.collect()).with_note(&note)
}
