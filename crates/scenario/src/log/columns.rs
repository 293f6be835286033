//! The columns of a sheet's table that say what happened.

use super::cells::{Cell, Row};
use crate::issue::{Issue, Issues};
use crate::place::At;
use crate::suggest;

/// What a log takes from a sheet's table, in the order of [`NAMES`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Column {
    Pass,
    Outlet,
    On,
    Off,
    Kind,
    Done,
    ReallyOn,
    ReallyOff,
    ReallyAt,
    Scenario,
    Alternative,
    Clock,
}

const NAMES: [(&str, Column); 12] = [
    ("pass", Column::Pass),
    ("outlet", Column::Outlet),
    ("on", Column::On),
    ("off", Column::Off),
    ("kind", Column::Kind),
    ("done", Column::Done),
    ("really_on", Column::ReallyOn),
    ("really_off", Column::ReallyOff),
    ("really_at", Column::ReallyAt),
    ("scenario", Column::Scenario),
    ("alternative", Column::Alternative),
    ("clock", Column::Clock),
];

/// Columns that are filled in.
const FILLED_IN: [Column; 4] =
    [Column::Done, Column::ReallyOn, Column::ReallyOff, Column::ReallyAt];

/// Which column of the table is which.
pub(super) struct Columns {
    places: [Option<usize>; NAMES.len()],
}

fn name(cell: &Cell) -> String {
    cell.text.to_lowercase().replace([' ', '-'], "_")
}

/// Whether `head` begins a sheet's table.
pub(super) fn is_head(head: &Row) -> bool {
    let has = |wanted: &str| head.cells.iter().any(|cell| name(cell) == wanted);
    has("pass") || has("outlet") || FILLED_IN.iter().any(|column| has(column.name()))
}

impl Column {
    pub(super) fn name(self) -> &'static str {
        NAMES[self as usize].0
    }
}

impl Columns {
    /// Finds the columns; `None` where one that is needed is missing.
    pub(super) fn of(head: &Row, issues: &mut Issues) -> Option<Self> {
        let mut places = [None; NAMES.len()];
        for (index, cell) in head.cells.iter().enumerate() {
            let name = name(cell);
            let at = At { span: cell.span.clone(), pointer: format!("row {}", head.number) };
            match NAMES.iter().find(|(known, _)| *known == name) {
                Some((_, column)) if places[*column as usize].is_some() => {
                    let problem = format!("the column `{name}` is there twice");
                    issues.push(Issue::new(&at, problem).hint("Keep one of the two."));
                }
                Some((_, column)) => places[*column as usize] = Some(index),
                None => misspelt(&name, &at, issues),
            }
        }
        let found = Self { places };
        let needed = [Column::Pass, Column::Outlet].map(|column| (column, found.has(column)));
        for (column, _) in needed.iter().filter(|(_, is_there)| !is_there) {
            let problem = format!("the table has no column `{}`", column.name());
            let hint = "Fill in the sheet.csv that `evenfall sheet` wrote, with its head.";
            issues.push(Issue::new(&head.at(), problem).hint(hint));
        }
        let can_be_filled_in = FILLED_IN.iter().any(|column| found.has(*column));
        if !can_be_filled_in {
            let names = FILLED_IN.map(|column| format!("`{}`", column.name()));
            let problem = "the table has no column that says what happened";
            issues.push(Issue::new(&head.at(), problem).allowed(names.join(", ")));
        }
        (needed.iter().all(|(_, is_there)| *is_there) && can_be_filled_in).then_some(found)
    }

    pub(super) fn has(&self, column: Column) -> bool {
        self.places[column as usize].is_some()
    }

    /// The cell of `row` in `column`; empty where the table has no such column.
    pub(super) fn cell(&self, row: &Row, column: Column) -> Cell {
        let end = row.at().span.end;
        let none = || Cell { text: String::new(), span: end..end };
        self.places[column as usize].map_or_else(none, |index| row.cell(index))
    }

    /// Where that cell stands, with row and column in words.
    pub(super) fn at(&self, row: &Row, column: Column) -> At {
        let pointer = format!("row {}, column {}", row.number, column.name());
        let span = self.cell(row, column).span;
        // An empty cell has nothing to point at: its row stands for it.
        At { span: if span.is_empty() { row.at().span } else { span }, pointer }
    }

    /// Whether anybody filled in something.
    pub(super) fn is_filled_in(&self, row: &Row) -> bool {
        FILLED_IN.iter().any(|column| !self.cell(row, *column).text.is_empty())
    }
}

/// A name that is near one that is filled in would lose what stands under it.
fn misspelt(name: &str, at: &At, issues: &mut Issues) {
    let known = || FILLED_IN.iter().map(|column| column.name());
    // "notes" is near nothing here; "real_on" and "really on time" are.
    let near =
        suggest::nearest(name, known()).filter(|_| name.starts_with("real") || name.len() <= 5);
    if let Some(near) = near {
        let problem = format!("there is no column `{name}`, and what stands in it would be lost");
        issues.push(Issue::new(at, problem).hint(format!("Did you mean `{near}`?")));
    }
}
