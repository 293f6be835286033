//! The cans of a file, row by row; every problem is noted and reading goes on.

use super::columns::{Layout, Place, Reading};
use super::notes::issue;
use super::text::{Cell, Row};
use crate::issue::Issues;
use evenfall_core::catch::Can;
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Deepest can that is believed, mm.
const DEEPEST_MM: f64 = 500.0;
/// Farthest place that is believed, m.
const FARTHEST_M: f64 = 1000.0;
/// Most cans of a file.
const MOST_CANS: usize = 5_000;
/// Places nearer than this are one, m.
const SAME_PLACE_M: f64 = 1e-3;

/// What turns readings into depths.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Scale {
    /// Opening of the cans, m; needed for volumes.
    pub(super) can_diameter_m: Option<f64>,
    /// Whether a blank is a dry can; `None` where the file does not say.
    pub(super) blanks_are_dry: Option<bool>,
    /// Added to every wet can, mm.
    pub(super) evaporation_mm: f64,
}

/// The cans read.
#[derive(Debug, Default)]
pub(super) struct Cans {
    pub(super) read: Vec<Can>,
    pub(super) blanks: usize,
    scale: Scale,
    /// Place in thousandths of a meter, and the line it was first met in.
    known: BTreeMap<(i64, i64), usize>,
    first_blank: Option<std::ops::Range<usize>>,
}

impl Cans {
    /// None yet.
    pub(super) fn new(scale: Scale) -> Self {
        Self { scale, ..Self::default() }
    }

    /// With those of all rows.
    pub(super) fn with_rows(
        mut self,
        layout: &Layout,
        header: &Row<'_>,
        rows: &[Row<'_>],
        matrix_reading: Option<Reading>,
        issues: &mut Issues,
    ) -> Self {
        for row in rows {
            if row.cells.len() != header.cells.len() && !only_blanks_beyond(row, header) {
                let (has, wanted) = (row.cells.len(), header.cells.len());
                let whole = Cell { text: "", span: row.span.clone() };
                let problem = format!("this row has {has} cells, the header has {wanted}");
                issues.push(
                    issue(&whole, problem)
                        .allowed(format!("{wanted} cells; leave a cell blank rather than out"))
                        .hint("numbers are written with a point, not a comma"),
                );
                continue;
            }
            match layout {
                Layout::Long { x, y, reading } => {
                    let at = |place: Option<Place>, issues: &mut Issues| match place {
                        Some((column, unit_m)) => number(cell(row, column), unit_m, issues),
                        None => Some(0.0),
                    };
                    let (x_m, y_m) = (at(*x, issues), at(*y, issues));
                    let held = (cell(row, reading.0), reading.1);
                    self.add(row, (x_m, y_m), held, issues);
                }
                Layout::Leg { distance, azimuth, reading } => {
                    let r_m = number(cell(row, distance.0), distance.1, issues);
                    let degrees = match azimuth {
                        Some(column) => number(cell(row, *column), 1.0, issues),
                        None => Some(0.0),
                    };
                    let place = polar(r_m, degrees);
                    if r_m.is_some_and(|r_m| r_m < 0.0) {
                        let problem = "a distance from the sprinkler cannot be negative";
                        issues.push(issue(cell(row, distance.0), problem).allowed("0 or more"));
                    }
                    let held = (cell(row, reading.0), reading.1);
                    self.add(row, place, held, issues);
                }
                Layout::Matrix { unit_m } => {
                    let Some(reading) = matrix_reading else { continue };
                    self.add_matrix_row(header, row, *unit_m, reading, issues);
                }
            }
            if self.read.len() > MOST_CANS {
                let whole = Cell { text: "", span: row.span.clone() };
                issues.push(issue(&whole, format!("more than {MOST_CANS} cans")));
                break;
            }
        }
        self.tell_blanks(issues);
        self
    }

    fn add_matrix_row(
        &mut self,
        header: &Row<'_>,
        row: &Row<'_>,
        unit_m: f64,
        reading: Reading,
        issues: &mut Issues,
    ) {
        let y_m = number(cell(row, 0), unit_m, issues);
        for (column, head) in header.cells.iter().enumerate().skip(1) {
            // A bad head would be told once a row; the collector keeps the same problem once.
            let x_m = number(head, unit_m, issues);
            self.add(row, (x_m, y_m), (cell(row, column), reading), issues);
        }
    }

    fn add(
        &mut self,
        row: &Row<'_>,
        (x_m, y_m): (Option<f64>, Option<f64>),
        (held, reading): (&Cell<'_>, Reading),
        issues: &mut Issues,
    ) {
        let depth_mm = self.depth_mm(held, reading, issues);
        let (Some(x_m), Some(y_m)) = (x_m, y_m) else { return };
        let key = |m: f64| (m / SAME_PLACE_M).round() as i64;
        if let Some(first) = self.known.insert((key(x_m), key(y_m)), row.line) {
            let problem = format!("a can stands at this place already (line {first})");
            let whole = Cell { text: "", span: row.span.clone() };
            issues.push(issue(&whole, problem).allowed("one can a place").hint(
                "remove one, or give the mean of both; several radii of a leg need azimuth_deg",
            ));
            return;
        }
        let Ok(depth_mm) = depth_mm else { return };
        self.read.push(Can { x_m, y_m, depth_mm, line: row.line });
    }

    /// Depth of a can, mm; `Ok(None)` where there is no reading, `Err` where a problem was noted.
    fn depth_mm(
        &mut self,
        held: &Cell<'_>,
        reading: Reading,
        issues: &mut Issues,
    ) -> Result<Option<f64>, ()> {
        if held.text.is_empty() {
            self.blanks += 1;
            self.first_blank.get_or_insert(held.span.clone());
            return Ok((self.scale.blanks_are_dry == Some(true)).then_some(0.0));
        }
        let value = plain_number(held, issues).ok_or(())?;
        if value < 0.0 {
            let problem = format!("`{}`: a can cannot hold less than nothing", held.text);
            issues.push(issue(held, problem).allowed("0 or more, or blank for no reading"));
            return Err(());
        }
        let depth_mm = match reading {
            Reading::Depth(mm) => value * mm,
            // Without the opening nothing can be told, and that is told once, elsewhere.
            Reading::Volume(ml) => {
                value * ml * 1e-3 / area_m2(self.scale.can_diameter_m.ok_or(())?)
            }
        };
        if depth_mm > DEEPEST_MM {
            let problem = format!("`{}` is a depth of {depth_mm:.0} mm", held.text);
            let hint = "look at the unit in the column's name, and at `can diameter`";
            issues.push(issue(held, problem).allowed("up to 500 mm").hint(hint));
            return Err(());
        }
        Ok(Some(if depth_mm > 0.0 { depth_mm + self.scale.evaporation_mm } else { 0.0 }))
    }

    fn tell_blanks(&self, issues: &mut Issues) {
        let Some(span) = self.first_blank.clone() else { return };
        if self.scale.blanks_are_dry.is_none() {
            let blanks = self.blanks;
            let problem =
                format!("{blanks} cans are blank, and the file does not say what that means");
            issues.push(
                issue(&Cell { text: "", span }, problem)
                    .allowed("a line `# blanks: missing` or `# blanks: dry`")
                    .hint("a can that was knocked over is missing; one that stayed dry holds 0"),
            );
        }
    }
}

/// Trailing separators of a spreadsheet are no cells.
fn only_blanks_beyond(row: &Row<'_>, header: &Row<'_>) -> bool {
    row.cells.len() > header.cells.len()
        && row.cells.iter().skip(header.cells.len()).all(|cell| cell.text.is_empty())
}

fn polar(r_m: Option<f64>, degrees: Option<f64>) -> (Option<f64>, Option<f64>) {
    // Azimuths from +y clockwise, as on a compass with y to the north; without them along +x.
    match (r_m, degrees) {
        (Some(r_m), Some(0.0)) => (Some(0.0), Some(r_m)),
        (Some(r_m), Some(degrees)) => {
            let angle = degrees.to_radians();
            (Some(r_m * angle.sin()), Some(r_m * angle.cos()))
        }
        _ => (None, None),
    }
}

fn area_m2(diameter_m: f64) -> f64 {
    PI / 4.0 * diameter_m * diameter_m
}

/// The cell of a column; rows are as long as the header.
fn cell<'r, 'a>(row: &'r Row<'a>, column: usize) -> &'r Cell<'a> {
    &row.cells[column.min(row.cells.len() - 1)]
}

/// A place, m.
fn number(cell: &Cell<'_>, unit_m: f64, issues: &mut Issues) -> Option<f64> {
    if cell.text.is_empty() {
        issues.push(issue(cell, "a can without a place").hint("only readings may be blank"));
        return None;
    }
    let value = plain_number(cell, issues)? * unit_m;
    if value.abs() > FARTHEST_M {
        let problem = format!("`{}` is {value:.0} m away", cell.text);
        issues.push(issue(cell, problem).allowed("up to 1000 m"));
        return None;
    }
    Some(value)
}

/// A number without unit.
fn plain_number(cell: &Cell<'_>, issues: &mut Issues) -> Option<f64> {
    let text = cell.text;
    match text.replace('\u{2212}', "-").parse::<f64>() {
        Ok(value) if value.is_finite() => return Some(value),
        _ => {}
    }
    let hint = if crate::quantity::parse(text).is_ok() {
        "the unit stands in the column's name and nowhere else; units may not be mixed"
    } else if text.contains(',') {
        "numbers are written with a point, not a comma"
    } else {
        "leave the cell blank where there is no reading, and say `# blanks: missing`"
    };
    let problem = format!("`{text}` is not a number");
    issues.push(issue(cell, problem).allowed("a plain number, such as 0.42").hint(hint));
    None
}
