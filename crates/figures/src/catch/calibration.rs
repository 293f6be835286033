//! What catch tests leave of the doubts about the sprinkler, as tables.

use super::book::CatchBook;
use super::judged;
use crate::table::{Row, Table};
use evenfall_core::catch::calibrate::{LEAST_EFFECTIVE, NARROWED, Narrowed};
use evenfall_core::doubt::table::{Doubt, Measure};
use evenfall_view::units::{Quantity, UnitSystem, number};

/// Every doubt before the tests and after.
pub(super) fn doubts(book: &CatchBook) -> Table {
    let title = "What your tests leave of the doubts about the sprinkler";
    let head = ["doubt", "before", "with your tests", "width kept %", ""];
    let Some(calibration) = &book.calibration else { return Table::new(title, &head) };
    let found = &calibration.found;
    let row = |doubt: &Narrowed| {
        let range = |ends: [f64; 3]| {
            let [low, middle, high] = ends.map(|end| in_its_unit(book.units, doubt.doubt, end));
            format!("{middle} ({low} to {high})")
        };
        let told = if doubt.is_narrowed() { "narrowed" } else { "your tests say nothing of it" };
        let cells = vec![
            range(doubt.prior),
            range(doubt.posterior),
            number(100.0 * doubt.kept(), 0),
            told.to_owned(),
        ];
        Row::new(doubt.doubt.row().label, cells)
    };
    let saved = match &calibration.saved {
        Some(file) => {
            format!(" Written to {file}: season, worth and search use it from there, and say so.")
        }
        None => " Nothing was written; --calibrated FILE writes it as a new scenario.".to_owned(),
    };
    let note = format!(
        "Sprinkler of “{}”. Median, and in brackets the range of nine tenths. Narrowed: the range keeps at \
         most {} % of its width. Effective sample size {} of {} draws (Kish 1965; at least {} are needed), kept \
         as {} points of equal weight. Taken into account: errors of the cans, a pattern that the model \
         may miss by 10 % (judgment), the discharge. Not: errors of the wind you noted.{saved}",
        calibration.alternative,
        number(100.0 * NARROWED, 0),
        number(found.effective, 0),
        found.draws,
        number(LEAST_EFFECTIVE, 0),
        found.points.len(),
    );
    Table::new(title, &head).with_rows(found.doubts.iter().map(row).collect()).with_note(&note)
}

/// How each test was taken, and whether the model passes it before and after.
pub(super) fn tests(book: &CatchBook) -> Table {
    let head = [
        "test",
        "cans used",
        "left out",
        "can error %",
        "discharge %",
        "model before",
        "model after",
    ];
    let title = "Tests that calibrate";
    let Some(calibration) = &book.calibration else { return Table::new(title, &head) };
    let rows = book.entries.iter().zip(&calibration.found.tests).zip(&calibration.judged);
    let rows = rows.map(|((entry, test), after)| {
        let word = |judgment: Option<&evenfall_core::catch::judge::Judgment>| {
            judgment.map_or("–", judged::word).to_owned()
        };
        let cells = vec![
            test.cans.to_string(),
            test.left_out.len().to_string(),
            number(100.0 * test.can_error, 1),
            number(100.0 * test.discharge_ratio, 0),
            word(entry.judgment.as_ref()),
            word(after.as_ref()),
        ];
        Row::new(&entry.test.title, cells)
    });
    let note = "Left out: cans that do not fit their neighbors. Can error: coefficient of variation of a \
        reading. Discharge: as noted, in % of the scenario’s; simulated depths are taken times that. \
        Model: whether its pass agrees with the test’s, as stated and with the point used.";
    Table::new(title, &head).with_rows(rows.collect()).with_note(note)
}

fn in_its_unit(units: UnitSystem, doubt: Doubt, value: f64) -> String {
    match (doubt.row().measure, doubt) {
        (Measure::Factor, _) => format!("{} %", number(100.0 * value, 1)),
        (Measure::Value, Doubt::JetLength) => units.text(Quantity::Length, value, 1),
        (Measure::Value, Doubt::Turbulence) => number(value, 3),
        (Measure::Value, _) => number(value, 2),
    }
}
