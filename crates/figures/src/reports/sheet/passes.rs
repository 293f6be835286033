//! The printed page of one pass, row by row.

use super::input::Sheet;
use super::lines::{Line, PassLines};
use super::sketch::sketch;
use super::times::after;
use crate::texts::{dates, moves as texts, page};
use evenfall_core::schedule::PassPlan;
use evenfall_core::schedule::replan::Standing;

/// Room for the rows of a pass on one page of Letter, with what always stands above and below them, mm.
const ROOM_MM: f64 = 146.0;
/// What each sentence that may stand above them takes of it, mm.
const SENTENCE_MM: f64 = 10.0;
/// Tallest and lowest row that reads well, mm.
const ROW_MM: (f64, f64) = (9.0, 4.6);
/// More rows than this are set in small type.
const MANY_ROWS: usize = 16;

/// One line of the list of passes.
pub(super) struct PassRow {
    pub(super) number: usize,
    pub(super) letter: char,
    pub(super) place: String,
    pub(super) from: String,
    pub(super) to: String,
    pub(super) sets: String,
}

/// The printed page of one pass.
pub(super) struct PassPage {
    pub(super) title: String,
    pub(super) place: String,
    pub(super) connect: String,
    /// From when to when; empty where the crop calls for it.
    pub(super) dates: String,
    pub(super) sketch: String,
    pub(super) changes: Vec<String>,
    pub(super) rows: Vec<SetRow>,
    /// Height of a row, mm.
    pub(super) row_mm: String,
    pub(super) is_dense: bool,
    pub(super) way_back: String,
}

/// One row of it.
pub(super) struct SetRow {
    pub(super) day: String,
    pub(super) on: String,
    pub(super) off: String,
    pub(super) outlet: usize,
    pub(super) place: String,
    pub(super) travel: String,
    pub(super) depth: String,
    /// What to connect, where that is not what the pass connects.
    pub(super) connect: String,
    /// Why no water ran before it, where the calendar was closed; empty where it was not.
    pub(super) waited: String,
    /// Why the set is unlike the others; empty where it is not.
    pub(super) mark: String,
    pub(super) is_done: bool,
    pub(super) taken: bool,
}

pub(super) fn pass_row(sheet: &Sheet<'_>, pass: &PassLines) -> PassRow {
    let is_dated = |line: &Line| !sheet.is_called() || line.is_done();
    let times = sheet.times();
    let when = |line: Option<&Line>, is_end: bool| {
        line.filter(|line| is_dated(line)).map_or_else(String::new, |line| {
            times.moment(if is_end { &line.off } else { &line.on })
        })
    };
    let done = pass.lines.iter().filter(|line| line.is_done()).count();
    let sets = pass.lines.len();
    PassRow {
        number: pass.number,
        letter: pass.letter,
        place: pass.place.clone(),
        from: when(pass.lines.first(), false),
        to: when(pass.lines.last(), true),
        sets: match done {
            0 => sets.to_string(),
            done => page::SETS_DONE.with(sheet.language, &[("sets", &sets), ("done", &done)]),
        },
    }
}

/// The page of pass `index` of the course (from 0), with so many `sentences` above its rows.
pub(super) fn pass_page(
    sheet: &Sheet<'_>,
    (index, pass): (usize, &PassLines),
    (is_last, sentences): (bool, usize),
) -> PassPage {
    let language = sheet.language;
    let day = |time: Option<&Line>, is_end: bool| {
        let at = time.map(|line| if is_end { &line.off } else { &line.on });
        at.map_or_else(String::new, |time| sheet.times().day(time.at.date()))
    };
    let (from, to) = (day(pass.lines.first(), false), day(pass.lines.last(), true));
    let span_h = sheet.worked.course.plan.passes.get(index).map_or((0.0, 0.0), PassPlan::span_h);
    // A set that had to wait has the reason in a row above it.
    let rows =
        pass.lines.iter().map(|line| 1 + usize::from(!line.waited.is_empty())).sum::<usize>();
    let changes = if sheet.is_called() { Vec::new() } else { sheet.clock_changes(span_h) };
    let room_mm = ROOM_MM - SENTENCE_MM * (sentences + changes.len()) as f64;
    PassPage {
        title: page::PASS_TITLE.with(language, &[("n", &pass.number), ("letter", &pass.letter)]),
        place: pass.place.clone(),
        connect: page::CONNECT.with(language, &[("what", &pass.connect)]),
        dates: if sheet.is_called() {
            String::new()
        } else {
            page::FROM_TO.with(language, &[("from", &from), ("to", &to)])
        },
        sketch: sketch(sheet, index),
        changes,
        rows: pass.lines.iter().map(|line| set_row(sheet, pass, line)).collect(),
        row_mm: format!("{:.1}", (room_mm / rows.max(1) as f64).clamp(ROW_MM.1, ROW_MM.0)),
        is_dense: rows > MANY_ROWS,
        way_back: way_on(sheet, pass, is_last),
    }
}

/// The day of a pass that the crop has called: the first is that of the call.
fn day_of_pass(sheet: &Sheet<'_>, line: &Line) -> String {
    let day = (line.after_h.0 / 24.0 + 1e-6).floor() as i64 + 1;
    dates::PASS_DAY.with(sheet.language, &[("n", &day)])
}

/// What comes after the last set of a pass.
fn way_on(sheet: &Sheet<'_>, pass: &PassLines, is_last: bool) -> String {
    let (way, language) = (pass.ways_back.join("; "), sheet.language);
    if way.is_empty() {
        return way;
    }
    let on = match (is_last, way == texts::STAY.of(language)) {
        (true, _) => page::WAY_OVER.with(language, &[("way", &way)]),
        (_, true) => page::WAY_STAY.of(language).to_owned(),
        _ => page::WAY_NEXT.with(language, &[("way", &way)]),
    };
    page::AFTER_LAST.with(language, &[("what", &on)])
}

fn set_row(sheet: &Sheet<'_>, pass: &PassLines, line: &Line) -> SetRow {
    let (times, language) = (sheet.times(), sheet.language);
    let is_dated = !sheet.is_called() || line.is_done();
    let usual = texts::USUAL_COUPLING.of(language);
    SetRow {
        day: if is_dated { times.day(line.on.at.date()) } else { day_of_pass(sheet, line) },
        on: if is_dated { times.clock(&line.on) } else { after(line.after_h.0) },
        off: if is_dated { times.end(&line.off, line.on.at.date()) } else { after(line.after_h.1) },
        outlet: line.outlet,
        place: line.short_place.clone(),
        travel: line.short_travel.clone(),
        depth: sheet.depth(line.depth, page::RANGE),
        // Where each row says what to connect, the usual coupling needs no word.
        connect: if line.connect == pass.connect || line.connect == usual {
            String::new()
        } else {
            line.connect.clone()
        },
        waited: match line.waited.as_str() {
            "" => String::new(),
            why => page::NO_WATER.with(language, &[("why", &why)]),
        },
        mark: sheet.mark(line),
        is_done: line.is_done(),
        taken: line.standing == Some(Standing::TakenAsDone),
    }
}
