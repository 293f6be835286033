//! Reading a survey of sprinklers: a table in, readings by sprinkler out, with all that is wrong.
//!
//! A plain table, comments in lines `#`. Columns name their units: `sprinkler` (its number, 1 is the
//! first), and any of pressure, bore, flow and `note`. Blank cells were not read.

use crate::catch::text::{Cell, Row, Sheet};
use crate::limits::{self, Limit, Limited};
use crate::suggest;
use evenfall_core::lateral::survey::Reading;
use evenfall_core::units::{KPA_PER_PSI, L_S_PER_GPM, M_PER_IN};

/// What a column holds; numbers with the factor to the unit used inside.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Column {
    Sprinkler,
    Pressure(f64),
    Bore(f64),
    Flow(f64),
    Note,
}

/// Every column by name.
const COLUMNS: [(&str, Column); 11] = [
    ("sprinkler", Column::Sprinkler),
    ("pressure_psi", Column::Pressure(KPA_PER_PSI)),
    ("pressure_kpa", Column::Pressure(1.0)),
    ("pressure_bar", Column::Pressure(100.0)),
    ("bore_64ths", Column::Bore(M_PER_IN / 64.0)),
    ("bore_in", Column::Bore(M_PER_IN)),
    ("bore_mm", Column::Bore(1e-3)),
    ("flow_gpm", Column::Flow(L_S_PER_GPM)),
    ("flow_l_s", Column::Flow(1.0)),
    ("flow_l_min", Column::Flow(1.0 / 60.0)),
    ("note", Column::Note),
];

/// Bores over the nominal one that are believed.
const BORES: std::ops::RangeInclusive<f64> = 0.5..=2.0;

/// What is known of the lateral that was surveyed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Surveyed {
    pub(crate) sprinklers: u64,
    /// Bore for which the (first) nozzle is stated, m.
    pub(crate) nominal_bore_m: Option<f64>,
}

/// Something wrong with a survey.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Problem {
    pub(crate) what: String,
    pub(crate) hint: String,
}

/// A survey as read.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Table {
    /// Rising by number.
    pub(crate) readings: Vec<Reading>,
    /// Notes that say nothing that is computed with: sprinkler's number from 1, and words.
    pub(crate) other_notes: Vec<(usize, String)>,
    /// Columns that are not read.
    pub(crate) other_columns: Vec<String>,
    pub(crate) problems: Vec<Problem>,
}

/// Reads a survey of such a lateral.
pub(crate) fn read(bytes: &[u8], of: Surveyed) -> Table {
    let mut table = Table::default();
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let Ok(text) = std::str::from_utf8(bytes) else {
        table.problem("it is not text in UTF-8", "Save the table as CSV in UTF-8.");
        return table;
    };
    let sheet = Sheet::of(text);
    let Some(header) = &sheet.header else {
        table.problem("it holds no table", "Name the columns and put a sprinkler in each row.");
        return table;
    };
    let columns = table.columns(header);
    if sheet.rows.is_empty() {
        table.problem("it holds no sprinklers", "Put a sprinkler in each row under the head.");
    }
    if columns.iter().any(|(_, column)| *column == Column::Sprinkler) {
        let mut lines = Vec::new();
        for row in &sheet.rows {
            table.row(row, header, &columns, (of, &mut lines));
        }
    }
    table.readings.sort_by_key(|reading| reading.sprinkler);
    table
}

impl Table {
    fn problem(&mut self, what: impl Into<String>, hint: impl Into<String>) {
        self.problems.push(Problem { what: what.into(), hint: hint.into() });
    }

    /// The columns that are known, by place.
    fn columns(&mut self, header: &Row<'_>) -> Vec<(usize, Column)> {
        let mut found: Vec<(usize, Column)> = Vec::new();
        for (place, cell) in header.cells.iter().enumerate() {
            let name = cell.text.to_lowercase();
            let Some((_, column)) = COLUMNS.iter().find(|(known, _)| *known == name) else {
                self.unknown(cell.text, &name);
                continue;
            };
            let kind = std::mem::discriminant(column);
            if found.iter().any(|(_, other)| std::mem::discriminant(other) == kind) {
                let what = format!("`{}` is a second column of its kind", cell.text);
                self.problem(what, "Keep one; units may not be mixed.");
            } else {
                found.push((place, *column));
            }
        }
        let has = |is: fn(&Column) -> bool| found.iter().any(|(_, column)| is(column));
        if !has(|column| *column == Column::Sprinkler) {
            let hint = "Name it `sprinkler`; 1 is the first sprinkler from the field's edge.";
            self.problem("no column has the sprinklers' numbers", hint);
        }
        if !has(|column| *column != Column::Sprinkler) {
            let hint = format!("Any of {}.", names());
            self.problem("no column has readings", hint);
        }
        found
    }

    /// A name that looks like one of ours is a problem; any other column is passed over and told.
    fn unknown(&mut self, shown: &str, name: &str) {
        let stem = name.split(['_', ' ', '(']).next().unwrap_or_default();
        if ["sprinkler", "pressure", "bore", "nozzle", "flow"].contains(&stem) {
            let known = COLUMNS.iter().map(|(known, _)| *known);
            let near = suggest::nearest(name, known).map_or_else(
                || format!("One of {}.", names()),
                |near| format!("Did you mean `{near}`?"),
            );
            let what = format!("the column `{shown}` does not name a unit that is known");
            self.problem(what, format!("{near} The unit stands in the column's name."));
        } else if !name.is_empty() {
            self.other_columns.push(shown.to_owned());
        }
    }

    fn row(
        &mut self,
        row: &Row<'_>,
        header: &Row<'_>,
        columns: &[(usize, Column)],
        (of, lines): (Surveyed, &mut Vec<(u64, usize)>),
    ) {
        let line = row.line;
        let beyond = row.cells.iter().skip(header.cells.len()).any(|cell| !cell.text.is_empty());
        if beyond {
            let (has, wanted) = (row.cells.len(), header.cells.len());
            let what = format!("line {line} has {has} cells, the head has {wanted}");
            self.problem(what, "Numbers are written with a point, not a comma.");
            return;
        }
        let mut reading = Reading::default();
        let (mut number, mut is_blank, mut note) = (None, true, "");
        for (place, column) in columns {
            let Some(cell) = row.cells.get(*place) else { continue };
            if *column == Column::Sprinkler {
                number = self.number(cell, line, of.sprinklers);
                continue;
            }
            is_blank &= cell.text.is_empty();
            match column {
                Column::Pressure(kpa) => {
                    let limit = limits::SurveyPressure::LIMIT;
                    reading.pressure_kpa = self.value(cell, line, (*kpa, "a pressure", limit));
                }
                Column::Bore(m) => reading.bore = self.bore(cell, line, *m, of.nominal_bore_m),
                // Nothing caught is a plug.
                Column::Flow(_) if plain_number(cell.text) == Some(0.0) => {
                    reading.is_plugged = true;
                }
                Column::Flow(l_s) => {
                    let limit = limits::Discharge::LIMIT;
                    reading.flow_l_s = self.value(cell, line, (*l_s, "a flow", limit));
                }
                Column::Note => note = cell.text,
                Column::Sprinkler => {}
            }
        }
        let Some(number) = number else { return };
        if let Some((_, first)) = lines.iter().find(|(known, _)| *known == number) {
            let what = format!("sprinkler {number} stands on line {first} and on line {line}");
            self.problem(what, "Remove one of the two.");
            return;
        }
        lines.push((number, line));
        if is_blank {
            let what = format!("line {line}: nothing was read at sprinkler {number}");
            self.problem(what, "Remove the row: sprinklers that were not read may be left out.");
        }
        reading.sprinkler = (number - 1) as usize;
        self.note(note, &mut reading);
        self.readings.push(reading);
    }

    fn note(&mut self, note: &str, reading: &mut Reading) {
        for word in note.split([',', ';']).map(str::trim).filter(|word| !word.is_empty()) {
            match word.to_lowercase().as_str() {
                "plugged" => reading.is_plugged = true,
                "leaning" => reading.is_leaning = true,
                _ => self.other_notes.push((reading.sprinkler + 1, word.to_owned())),
            }
        }
    }

    /// A sprinkler's number.
    fn number(&mut self, cell: &Cell<'_>, line: usize, sprinklers: u64) -> Option<u64> {
        let number = cell.text.parse::<u64>().ok().filter(|number| *number > 0);
        if let Some(number) = number.filter(|number| *number <= sprinklers) {
            return Some(number);
        }
        let what = match number {
            Some(number) => {
                format!("line {line}: there is no sprinkler {number} on a lateral of {sprinklers}")
            }
            None => format!("line {line}: `{}` is no sprinkler's number", cell.text),
        };
        self.problem(what, format!("A whole number from 1 to {sprinklers}; 1 is the first one."));
        None
    }

    /// A number of a column, in the unit used inside; `None` where it is blank or wrong.
    fn value(
        &mut self,
        cell: &Cell<'_>,
        line: usize,
        (factor, what, limit): (f64, &str, Limit),
    ) -> Option<f64> {
        if cell.text.is_empty() {
            return None;
        }
        let Some(value) = plain_number(cell.text) else {
            let problem = format!("line {line}: `{}` is not a number", cell.text);
            self.problem(problem, "A plain number: the unit stands in the column's name. Leave a cell blank where nothing was read.");
            return None;
        };
        if limit.holds(value * factor) {
            return Some(value * factor);
        }
        let problem = format!("line {line}: {what} of {} is out of range", cell.text);
        self.problem(
            problem,
            format!("Expected {}. Look at the unit in the column's name.", limit.words()),
        );
        None
    }

    /// A bore over the nominal one.
    fn bore(
        &mut self,
        cell: &Cell<'_>,
        line: usize,
        unit_m: f64,
        nominal_m: Option<f64>,
    ) -> Option<f64> {
        let limit = limits::NozzleDiameter::LIMIT;
        let bore_m = self.value(cell, line, (unit_m, "a bore", limit))?;
        let Some(nominal_m) = nominal_m else {
            // Said once, whatever the number of rows.
            let what = "bores are given, but not the bore for which the discharge is stated";
            if !self.problems.iter().any(|problem| problem.what == what) {
                let hint = "Add \"nominal_bore\": \"5/32 in\" beside `file`, or give the sprinkler by its `nozzle`.";
                self.problem(what, hint);
            }
            return None;
        };
        let bore = bore_m / nominal_m;
        if BORES.contains(&bore) {
            return Some(bore);
        }
        let what = format!(
            "line {line}: a bore of {} is {bore:.2} times the nominal one of {:.2} mm",
            cell.text,
            1000.0 * nominal_m
        );
        let hint = format!(
            "Expected {} to {} times it. Look at the unit in the column's name.",
            BORES.start(),
            BORES.end()
        );
        self.problem(what, hint);
        None
    }
}

fn names() -> String {
    COLUMNS.map(|(name, _)| format!("`{name}`")).join(", ")
}

/// A plain number, or a fraction such as 5/32.
fn plain_number(text: &str) -> Option<f64> {
    let number = |text: &str| text.trim().parse::<f64>().ok();
    let value = match text.split_once('/') {
        Some((above, below)) => number(above)? / number(below)?,
        None => number(text)?,
    };
    value.is_finite().then_some(value)
}

#[cfg(test)]
#[path = "survey_table_tests.rs"]
mod tests;
