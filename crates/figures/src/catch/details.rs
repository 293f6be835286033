//! The tables of one test: its fitted leg, the cans to look at, the rules of the procedure.

use super::book::{CatchBook, CatchEntry, depth, rate_symbol};
use super::tables::rate;
use crate::table::{Row, Table};
use evenfall_core::catch::procedure::{Measure, Requirement, State};
use evenfall_view::units::{Quantity, UnitSystem, number};

/// The tables of one test that have rows; of the rules only those not met, or all.
pub(super) fn of_test(book: &CatchBook, entry: &CatchEntry, all_rules: bool) -> Vec<Table> {
    let tables = [leg(book, entry), outliers(book, entry), rules(book, entry, all_rules)];
    tables.into_iter().filter(|table| table.groups.iter().any(|g| !g.rows.is_empty())).collect()
}

fn leg(book: &CatchBook, entry: &CatchEntry) -> Table {
    let units = book.units;
    let (at, caught) = (
        format!("distance {}", units.symbol(Quantity::Length)),
        format!("rate {}", rate_symbol(units)),
    );
    let limits = format!("{} % interval", number(100.0 * book.level, 0));
    let table = Table::new("Fitted leg, net", &[&at, &caught, &limits]);
    let Some(fit) = &entry.fit else { return table };
    let knots = fit.leg.distance_m.iter().zip(&fit.leg.rate_mm_h).enumerate();
    let rows = knots.map(|(knot, (r_m, rate_mm_h))| {
        let limits = match fit.rate_intervals.get(knot) {
            Some(Some(i)) => format!("{}–{}", rate(units, i.low), rate(units, i.high)),
            Some(None) => "set to 0".to_owned(),
            None => "end of the leg".to_owned(),
        };
        let at = number(units.shown(Quantity::Length, *r_m), 1);
        Row::new(at, vec![rate(units, *rate_mm_h), limits])
    });
    table.with_rows(rows.collect())
}

fn outliers(book: &CatchBook, entry: &CatchEntry) -> Table {
    let units = book.units;
    let (length, unit) = (units.symbol(Quantity::Length), units.symbol(Quantity::Depth));
    let head = [
        "line of the file".to_owned(),
        format!("x {length}"),
        format!("y {length}"),
        format!("caught {unit}"),
        format!("neighbors {unit}"),
        "score".to_owned(),
    ];
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    let rows = entry.outliers.iter().filter_map(|outlier| {
        let can = entry.test.cans.get(outlier.can)?;
        let place = |m: f64| number(units.shown(Quantity::Length, m), 1);
        Some(Row::new(
            can.line.to_string(),
            vec![
                place(can.x_m),
                place(can.y_m),
                depth(units, outlier.depth_mm),
                depth(units, outlier.neighbors_mm),
                number(outlier.score, 1),
            ],
        ))
    });
    Table::new("Cans to check (none is left out)", &head).with_rows(rows.collect())
}

fn rules(book: &CatchBook, entry: &CatchEntry, all: bool) -> Table {
    let rows = entry.requirements.iter().filter(|rule| all || rule.state == State::NotMet);
    let rows = rows.map(|rule| {
        let measure = |m: Option<Measure>| m.map_or_else(String::new, |m| measure(m, book.units));
        let cells = vec![
            state_word(rule).to_owned(),
            measure(rule.limit),
            measure(rule.found),
            rule.source.to_owned(),
        ];
        Row::new(rule.what, cells)
    });
    let title = if all { "Rules of published procedures" } else { "Rules not met" };
    let note = "All from memory of the standards, with our confidence in each. If you must meet a standard, read it.";
    Table::new(title, &["rule", "", "required", "here", "source"])
        .with_rows(rows.collect())
        .with_note(note)
}

fn state_word(rule: &Requirement) -> &'static str {
    match rule.state {
        State::Met => "met",
        State::NotMet => "NOT MET",
        State::Unknown => "unknown",
    }
}

fn measure(measure: Measure, units: UnitSystem) -> String {
    match measure {
        // Cans are small: millimeters or inches whatever the field is measured in.
        Measure::Length(m) if m < 0.5 && units == UnitSystem::Us => {
            units.text(Quantity::Depth, 1000.0 * m, 1)
        }
        Measure::Length(m) if m < 0.5 => format!("{} mm", number(1000.0 * m, 0)),
        Measure::Length(m) => units.text(Quantity::Length, m, 1),
        Measure::Speed(speed) => units.text(Quantity::Speed, speed, 1),
        Measure::Time(hours) => format!("{} min", number(60.0 * hours, 0)),
        Measure::Count(count) => count.to_string(),
        Measure::Ratio(ratio) => number(ratio, 2),
    }
}
