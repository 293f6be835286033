//! The table of a move sheet, filled in and read back as a log.

use crate::runs::{Ran, evenfall_in, names};
use crate::scenarios::{put, small};
use crate::sheet::put_log;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

fn sheet(folder: &Path, more: &[&str]) -> Ran {
    evenfall_in(folder, &[&["sheet", "scenario.json"], more].concat())
}

/// A folder with the small scenario, and the table of its sheet.
pub(crate) fn begun() -> (TempDir, Table) {
    begun_with(&small(), &[])
}

/// The same with another scenario, and with more said of the sheet.
pub(crate) fn begun_with(scenario: &str, more: &[&str]) -> (TempDir, Table) {
    let folder = TempDir::new().unwrap();
    put(folder.path(), scenario);
    let words = [&["--alternative", "Two stops", "--into", "first"], more].concat();
    sheet(folder.path(), &words).said();
    let table = Table::read(&folder.path().join("first/sheet.csv"));
    (folder, table)
}

/// A table as a spreadsheet holds it.
#[derive(Clone)]
pub(crate) struct Table {
    rows: Vec<Vec<String>>,
}

impl Table {
    fn read(path: &Path) -> Self {
        let text = fs::read_to_string(path).unwrap();
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
        let rows = reader.records().map(Result::unwrap);
        Self { rows: rows.map(|row| row.iter().map(str::to_owned).collect()).collect() }
    }

    fn column(&self, name: &str) -> usize {
        self.rows[0].iter().position(|one| one == name).unwrap()
    }

    pub(crate) fn cell(&self, row: usize, name: &str) -> &str {
        &self.rows[row][self.column(name)]
    }

    /// Fills in row `row`, the head being row 0.
    pub(crate) fn fill(mut self, row: usize, cells: &[(&str, &str)]) -> Self {
        for (name, text) in cells {
            let column = self.column(name);
            self.rows[row][column] = (*text).to_owned();
        }
        self
    }

    /// A row more, with these cells alone.
    fn with_row(mut self, cells: &[(&str, &str)]) -> Self {
        self.rows.push(vec![String::new(); self.rows[0].len()]);
        let last = self.rows.len() - 1;
        self.fill(last, cells)
    }

    fn text(&self, separator: u8, end: csv::Terminator) -> String {
        let mut writer =
            csv::WriterBuilder::new().delimiter(separator).terminator(end).from_writer(Vec::new());
        self.rows.iter().for_each(|row| writer.write_record(row).unwrap());
        String::from_utf8(writer.into_inner().unwrap()).unwrap()
    }

    pub(crate) fn put(&self, folder: &Path) {
        let text = self.text(b',', csv::Terminator::Any(b'\n'));
        fs::write(folder.join("filled.csv"), text).unwrap();
    }
}

/// Rows that say all kinds of things: late, missed, elsewhere, as planned, and a breakdown.
pub(crate) fn busy(table: Table) -> Table {
    table
        .fill(1, &[("done", "yes"), ("really_on", "7:15 am"), ("really_off", "17:30")])
        .fill(2, &[("really_on", "2027-05-10 18:30"), ("really_off", "6:00")])
        .fill(3, &[("done", "missed")])
        .fill(4, &[("done", "X"), ("really_at", "-1 turn")])
        .with_row(&[
            ("done", "breakdown"),
            ("really_on", "2027-05-12T05:45"),
            ("really_off", "2027-05-12 12:00"),
        ])
}

fn busy_events() -> Value {
    json!([
        { "what": "done", "pass": 1, "outlet": 1, "from": "2027-05-10T07:15", "to": "2027-05-10T17:30" },
        { "what": "done", "pass": 1, "outlet": 2, "from": "2027-05-10T18:30", "to": "2027-05-11T06:00" },
        { "what": "missed", "pass": 1, "outlet": 3 },
        { "what": "moved by hand", "pass": 1, "outlet": 4, "stood": "-1 turn" },
        { "what": "breakdown", "from": "2027-05-12T05:45", "to": "2027-05-12T12:00" },
    ])
}

/// What a sheet's folder says of the plan, whichever way it came there.
pub(crate) fn plan_of(folder: &Path) -> String {
    fs::read_to_string(folder.join("sheet.csv")).unwrap()
}

#[test]
fn reference_a_filled_in_table_says_what_the_log_says() {
    let (folder, table) = begun();
    let at = |name: &str| folder.path().join(name);
    busy(table).put(folder.path());
    put_log(folder.path(), "2027-05-12T12:00", &busy_events());
    let said = sheet(folder.path(), &["--log", "filled.csv", "--into", "table"]).said();
    assert!(said.contains("up to 2027-05-12 12:00, the latest time filled in"), "{said}");
    sheet(folder.path(), &["--log", "log.json", "--into", "log"]).said();
    assert_eq!(plan_of(&at("table")), plan_of(&at("log")));
    // Told up to when it goes, the table has nothing of its own to note: the sheets are the same.
    let told = ["--log", "filled.csv", "--now", "2027-05-12 12:00", "--into", "told"];
    sheet(folder.path(), &told).said();
    for name in ["sheet.csv", "sheet.ics", "sheet.html"] {
        let read = |folder: &str| fs::read_to_string(at(folder).join(name)).unwrap();
        assert!(read("told") == read("log"), "{name}");
    }
    // Beside the sheet lie the table as it was given, and the log that it amounts to.
    let kept = fs::read_to_string(at("table/log.csv")).unwrap();
    assert_eq!(kept, fs::read_to_string(at("filled.csv")).unwrap());
    sheet(folder.path(), &["--log", "table/log.json", "--into", "again"]).said();
    assert_eq!(plan_of(&at("again")), plan_of(&at("log")));
    // And the new table, gone on with, says the same once more.
    let more = ["--log", "table/sheet.csv", "--now", "2027-05-12 12:00", "--into", "on"];
    sheet(folder.path(), &more).said();
    assert_eq!(plan_of(&at("on")), plan_of(&at("log")));
}

#[test]
fn reference_a_season_takes_the_table_as_it_takes_the_log() {
    let (folder, table) = begun();
    busy(table).put(folder.path());
    put_log(folder.path(), "2027-05-12T12:00", &busy_events());
    for (log, into) in [("filled.csv", "table"), ("log.json", "log")] {
        let words = ["season", "scenario.json", "--log", log, "--into", into];
        evenfall_in(folder.path(), &words).said();
    }
    let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
    assert_eq!(read("table/passes.csv"), read("log/passes.csv"));
    assert_eq!(read("table/grids/season-depth-mm-3.npy"), read("log/grids/season-depth-mm-3.npy"));
}

#[test]
fn reference_every_way_of_saving_the_table_reads_the_same() {
    let (folder, table) = begun();
    let mut table = busy(table);
    let plain = table.text(b',', csv::Terminator::Any(b'\n'));
    let windows = format!("\u{feff}{}", table.text(b';', csv::Terminator::CRLF));
    let blank_rows = plain.replacen('\n', "\n,,,,\n\n", 1);
    for row in &mut table.rows {
        row.reverse();
    }
    table.rows[1..].reverse();
    let reordered = table.text(b'\t', csv::Terminator::CRLF);
    let mut found = Vec::new();
    for (number, text) in [plain, windows, blank_rows, reordered].into_iter().enumerate() {
        let (file, into) = (format!("{number}.txt"), format!("sheet-{number}"));
        fs::write(folder.path().join(&file), text).unwrap();
        sheet(folder.path(), &["--log", &file, "--into", &into]).said();
        found.push(plan_of(&folder.path().join(into)));
    }
    // The breakdown comes first where rows are reversed, and it is the only one.
    assert!(found.iter().all(|one| *one == found[0]));
    assert!(found[0].contains("to come, missed earlier"));
}

#[test]
fn closed_slow_moves_push_the_rest_on() {
    let (folder, table) = begun();
    // A set of 11.5 h that ends at 6:40 leaves no half hour to the start at 6:00: 18:00 is next.
    table
        .fill(1, &[("really_on", "6:00"), ("really_off", "17:30")])
        .fill(2, &[("really_on", "19:10"), ("really_off", "6:40")])
        .put(folder.path());
    sheet(folder.path(), &["--log", "filled.csv", "--into", "second"]).said();
    let (first, second) = (
        Table::read(&folder.path().join("first/sheet.csv")),
        Table::read(&folder.path().join("second/sheet.csv")),
    );
    assert_eq!(first.cell(3, "on"), "2027-05-11T06:00");
    assert_eq!((second.cell(3, "on"), second.cell(3, "outlet")), ("2027-05-11T18:00", "3"));
    assert_eq!(second.cell(2, "really_off"), "2027-05-11T06:40");
    assert_eq!(second.cell(3, "done"), "");
    let (last_first, last_second) = (first.cell(18, "on"), second.cell(18, "on"));
    assert_eq!((last_first, last_second), ("2027-05-18T18:00", "2027-05-19T06:00"));
}

#[test]
fn a_new_sheet_is_empty_where_it_is_filled_in() {
    let (folder, table) = begun();
    for row in 1..table.rows.len() {
        for name in ["done", "really_on", "really_off", "really_at", "notes"] {
            assert_eq!(table.cell(row, name), "");
        }
        assert_eq!(table.cell(row, "alternative"), "Two stops");
    }
    table.put(folder.path());
    let said = sheet(folder.path(), &["--log", "filled.csv", "--into", "same"]).said();
    assert!(said.contains("all is still to come"), "{said}");
}

#[test]
fn the_filled_in_sheet_may_be_replaced_and_nothing_is_lost() {
    let (folder, table) = begun();
    let own = folder.path().join("first/sheet.csv");
    let filled = busy(table).fill(1, &[("notes", "pump, slow")]);
    fs::write(&own, filled.text(b',', csv::Terminator::CRLF)).unwrap();
    let given = fs::read(&own).unwrap();
    let words = ["--log", "first/sheet.csv", "--into", "first", "--replace"];
    sheet(folder.path(), &words).said();
    assert_eq!(fs::read(folder.path().join("first/log.csv")).unwrap(), given);
    assert_ne!(fs::read(&own).unwrap(), given);
    // Gone on with, a table leaves what was noted in the one before it.
    let more = fs::read_to_string(&own).unwrap() + "\r\n";
    fs::write(&own, &more).unwrap();
    sheet(folder.path(), &words).said();
    let kept = |name: &str| fs::read(folder.path().join("first").join(name)).unwrap();
    assert_eq!((kept("log.csv"), kept("log-1.csv")), (more.clone().into_bytes(), given.clone()));
    let log = ["--log", "first/log.json", "--into", "first", "--replace"];
    sheet(folder.path(), &log).said();
    assert_eq!((kept("log-2.csv"), kept("log-1.csv")), (more.into_bytes(), given));
    // A sheet without a log would throw the events away.
    let anew = ["--alternative", "Two stops", "--into", "first", "--replace"];
    sheet(folder.path(), &anew).refused(4, &["`first/log.json` holds 6 events"]);
}

#[test]
fn every_kind_of_bad_row_is_told_at_once_with_row_and_column() {
    let (folder, table) = begun();
    table
        .fill(1, &[("done", "perhaps")])
        .fill(2, &[("really_on", "whenever"), ("really_off", "6:00")])
        .fill(3, &[("really_on", "6:00")])
        .fill(4, &[("done", "no"), ("really_at", "20 ft")])
        .fill(5, &[("done", "yes"), ("really_at", "20")])
        .fill(6, &[("done", "yes"), ("pass", "")])
        .fill(7, &[("done", "yes"), ("outlet", "two")])
        .fill(8, &[("done", "breakdown")])
        .with_row(&[("done", "breakdown"), ("really_on", "6:00"), ("really_off", "7:00")])
        .put(folder.path());
    let told = [
        "`done` is \"perhaps\"",
        "row 2, column done",
        "`really_on` is \"whenever\"",
        "row 3, column really_on",
        "`really_on` is filled in and `really_off` is empty",
        "row 4, column really_off",
        "`really_at` is filled in, but the set was not done",
        "row 5, column really_at",
        "`really_at` is \"20\"",
        "row 6, column really_at",
        "`pass` is empty",
        "row 7, column pass",
        "Number of the outlet is \"two\"",
        "row 8, column outlet",
        "`pass` has no meaning in a breakdown",
        "the breakdown has no times",
        "row 9, column really_on",
        "`really_on` is \"6:00\"",
        "row 20, column really_on",
        "filled.csv",
    ];
    sheet(folder.path(), &["--log", "filled.csv"]).refused(3, &told);
    let words = ["season", "scenario.json", "--log", "filled.csv"];
    evenfall_in(folder.path(), &words).refused(3, &told);
    assert_eq!(names(folder.path()), ["filled.csv", "first", "scenario.json"]);
}

#[test]
fn what_cannot_have_happened_is_told_with_its_row() {
    let (folder, table) = begun();
    table
        .fill(1, &[("really_on", "8:00"), ("really_off", "17:30")])
        .fill(2, &[("really_on", "2027-05-10 16:00"), ("really_off", "2027-05-10 20:00")])
        .fill(3, &[("really_on", "2027-05-11 9:00"), ("really_off", "2027-05-11 8:00")])
        .fill(4, &[("done", "yes"), ("outlet", "77")])
        .with_row(&[("pass", "1"), ("outlet", "1"), ("done", "yes")])
        .put(folder.path());
    let told = [
        "it overlaps row 2",
        "at row 3",
        "the times run backwards",
        "at row 4",
        "there is no outlet 77",
        "at row 5",
        "recorded twice (first as row 2)",
        "at row 20",
    ];
    sheet(folder.path(), &["--log", "filled.csv"]).refused(3, &told);
}

#[test]
fn a_table_goes_with_its_own_scenario_and_alternative() {
    let (folder, table) = begun();
    let wrong = |table: Table, told: &[&str]| {
        table.put(folder.path());
        sheet(folder.path(), &["--log", "filled.csv"]).refused(3, told);
    };
    let all = |name: &str, text: &str| {
        (1..table.rows.len()).fold(table.clone(), |table, row| table.fill(row, &[(name, text)]))
    };
    wrong(all("scenario", "Another"), &["belongs to another scenario", "row 2, column scenario"]);
    wrong(all("alternative", "Two stop"), &["no alternative", "Did you mean \"Two stops\"?"]);
    wrong(all("alternative", ""), &["of which alternative", "\"Fixed\", \"Two stops\""]);
    wrong(
        table.clone().fill(3, &[("alternative", "Fixed")]),
        &["this row of \"Fixed\"", "row 4, column alternative"],
    );
    // Without the column the command says it.
    all("alternative", "").put(folder.path());
    let named = ["--log", "filled.csv", "--alternative", "Two stops", "--into", "named"];
    sheet(folder.path(), &named).said();
    table.put(folder.path());
    sheet(folder.path(), &["--log", "filled.csv", "--alternative", "Fixed"])
        .refused(2, &["\"Two stops\""]);
}

#[test]
fn a_head_that_would_lose_something_is_refused() {
    let (folder, table) = begun();
    let with_head = |from: &str, to: &str| {
        let column = table.column(from);
        let mut table = table.clone();
        table.rows[0][column] = to.to_owned();
        table.put(folder.path());
        sheet(folder.path(), &["--log", "filled.csv"])
    };
    with_head("really_on", "realy on").refused(3, &["Did you mean `really_on`?"]);
    with_head("pass", "number").refused(3, &["the table has no column `pass`"]);
    with_head("notes", "done").refused(3, &["the column `done` is there twice"]);
    for (name, text) in [("empty.csv", ""), ("words.csv", "what, is, this\n1,2,3\n")] {
        fs::write(folder.path().join(name), text).unwrap();
        sheet(folder.path(), &["--log", name]).refused(3, &["sheet.csv", name]);
    }
    fs::write(folder.path().join("latin.csv"), b"pass,outlet,done\n1,1,\xe9\n").unwrap();
    sheet(folder.path(), &["--log", "latin.csv"]).refused(4, &["UTF-8"]);
}

#[test]
fn now_is_said_or_found() {
    let (folder, table) = begun();
    table.fill(1, &[("done", "yes")]).put(folder.path());
    let said = sheet(folder.path(), &["--log", "filled.csv", "--into", "found"]).said();
    assert!(said.contains("up to 2027-05-10 17:30"), "{said}");
    let now = ["--log", "filled.csv", "--now", "2027-05-11T00:00", "--into", "said"];
    let said = sheet(folder.path(), &now).said();
    assert!(said.contains("1 set is not in the log") && !said.contains("latest time"), "{said}");
    let early = ["--log", "filled.csv", "--now", "2027-05-10T05:00"];
    sheet(folder.path(), &early).refused(3, &["it lies after `now`", "row 2"]);
    let bad = ["--log", "filled.csv", "--now", "noon"];
    sheet(folder.path(), &bad).refused(2, &["--now", "YYYY-MM-DDTHH:MM"]);
    sheet(folder.path(), &["--now", "2027-05-11T00:00"]).refused(2, &["--log"]);
    put_log(folder.path(), "2027-05-12T07:00", &json!([]));
    sheet(folder.path(), &["--log", "log.json", "--now", "2027-05-11T00:00"])
        .refused(3, &["says `now` itself"]);
}
