//! The lines of a sheet: one for each set, in order, ready to be laid out in any form.

use super::input::Sheet;
use super::words;
use crate::error::DrawError;
use evenfall_core::lateral::Machine;
use evenfall_core::schedule::SetPlan;
use evenfall_core::schedule::moves::{Move, PassMoves, SetKind, WayBack, moves};
use evenfall_core::schedule::replan::Standing;
use evenfall_view::units::{Quantity, number};
use jiff::civil::DateTime;

/// One set as the irrigator reads it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    /// Number of the set in its pass, from 1.
    pub(super) set: usize,
    pub(super) on: DateTime,
    pub(super) off: DateTime,
    /// Letter of its stop.
    pub(super) letter: char,
    /// Whether that is another than its pass's.
    pub(super) is_next_stop: bool,
    /// Number of the line, from 1.
    pub(super) lateral: usize,
    /// Side of a mainline that serves both; empty where it serves one.
    pub(super) side: &'static str,
    /// Number of the outlet, from 1.
    pub(super) outlet: usize,
    pub(super) shift_m: f64,
    pub(super) along_m: f64,
    pub(super) place: String,
    pub(super) travel: String,
    /// The same in few words.
    pub(super) short_travel: String,
    /// Whole turns from the last stop; `None` for a hand-move and for the first set.
    pub(super) turns: Option<i32>,
    pub(super) left_over_m: f64,
    pub(super) connect: String,
    pub(super) depth_mm: Option<f64>,
    pub(super) kind: SetKind,
    pub(super) standing: Option<Standing>,
    /// Why no water ran between the set before and this one, where the calendar was closed.
    pub(super) waited: String,
}

/// One pass as the irrigator reads it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PassLines {
    /// Number in the season, from 1.
    pub(super) number: usize,
    pub(super) letter: char,
    pub(super) place: String,
    pub(super) connect: String,
    pub(super) lines: Vec<Line>,
    pub(super) ways_back: Vec<String>,
}

impl Line {
    /// Why the set is not like the others of its pass; empty if it is.
    pub(super) fn mark(&self) -> String {
        let mark = match (self.standing, self.kind) {
            (Some(Standing::CatchUp), _) => "CATCH-UP",
            (_, SetKind::Extra) => "EXTRA SET",
            (_, SetKind::Held) => "HELD",
            (_, SetKind::Elsewhere) => "OTHER STOP",
            (_, SetKind::Usual) if self.is_next_stop => return format!("STOP {}", self.letter),
            (_, SetKind::Usual) => "",
        };
        mark.to_owned()
    }

    pub(super) fn is_done(&self) -> bool {
        matches!(self.standing, Some(Standing::Recorded | Standing::TakenAsDone))
    }
}

impl PassLines {
    pub(super) fn is_done(&self) -> bool {
        self.lines.iter().all(Line::is_done)
    }
}

impl Sheet<'_> {
    /// Travel in one turn, m; `None` for a hand-move.
    pub(super) fn travel_m(&self) -> Option<f64> {
        match &self.alternative.lateral.machine {
            Machine::WheelLine(wheel) => Some(wheel.travel_per_turn_m),
            Machine::HandMove => None,
        }
    }

    /// Whether depths are those before losses.
    pub(super) fn is_gross(&self) -> bool {
        self.worked.why_gross.is_some()
    }

    /// "net" or "gross".
    pub(super) fn depth_word(&self) -> &'static str {
        if self.is_gross() { "gross" } else { "net" }
    }

    /// A depth in shown units without its unit; a dash where it is not known.
    pub(super) fn depth(&self, depth_mm: Option<f64>) -> String {
        depth_mm.map_or_else(
            || "–".to_owned(),
            |mm| number(self.units.shown(Quantity::Depth, mm), self.units.depth_decimals()),
        )
    }

    /// All passes, line by line.
    pub(super) fn passes(&self) -> Result<Vec<PassLines>, DrawError> {
        self.check()?;
        let all = moves(&self.worked.course.plan, &self.alternative.stops());
        Ok(all.iter().enumerate().map(|(pass, moves)| self.pass(pass, moves)).collect())
    }

    fn check(&self) -> Result<(), DrawError> {
        let passes = &self.worked.course.plan.passes;
        let fits = |counts: &[usize]| {
            counts.len() == passes.len()
                && counts.iter().zip(passes).all(|(count, pass)| *count == pass.sets.len())
        };
        let standing: Vec<usize> = self.worked.course.standing.iter().map(Vec::len).collect();
        let net: Vec<usize> = self.worked.depth_mm.iter().map(Vec::len).collect();
        let is_whole = self.worked.course.numbers.len() == passes.len()
            && fits(&net)
            && (standing.is_empty() || fits(&standing));
        let wrong = || DrawError::Mismatch("the sheet's parts are not of one plan".to_owned());
        if is_whole { Ok(()) } else { Err(wrong()) }
    }

    fn pass(&self, pass: usize, moves: &PassMoves) -> PassLines {
        let lines = moves.moves.iter().enumerate();
        let lines: Vec<Line> = lines.map(|(set, one)| self.line(pass, set, one)).collect();
        let place = if lines.iter().any(|line| line.is_next_stop) {
            "At two stops in turn, as each row says".to_owned()
        } else {
            words::pass_place(self.units, moves.shift, self.travel_m())
        };
        let drifts = |one: &Move| one.set.drift_m.abs() >= words::NOTHING_M;
        let place = if moves.moves.iter().any(drifts) {
            format!("{place}, as near as whole turns come: each row says where")
        } else {
            place
        };
        PassLines {
            number: self.worked.course.numbers[pass] + 1,
            letter: moves.letter,
            place,
            connect: words::connect(self.units, moves.shift.across_m),
            lines,
            ways_back: moves.ways_back.iter().map(|back| self.way_back(back)).collect(),
        }
    }

    /// Which line a set is of, and on which side, where there are several: "Line 2, left side: ".
    fn who(&self, set: &SetPlan) -> String {
        let lines = &self.alternative.lateral.lines;
        let line = (lines.count > 1).then(|| format!("line {}", set.line + 1));
        let side = words::side(lines, set.side);
        let side = (!side.is_empty()).then(|| format!("{side} side"));
        let who: Vec<String> = line.into_iter().chain(side).collect();
        if who.is_empty() { String::new() } else { format!("{}: ", who.join(", ")) }
    }

    fn way_back(&self, back: &WayBack) -> String {
        let way = words::travel(self.units, &back.travel);
        let is_one = self.alternative.lateral.lines.count == 1;
        if is_one { way } else { format!("line {}: {way}", back.line + 1) }
    }

    /// Why set `set` of pass `pass` had to wait; empty where it had not.
    fn waited(&self, pass: usize, set: usize) -> String {
        let plan = &self.worked.course.plan;
        let before = match (pass, set) {
            (0, 0) => return String::new(),
            (_, 0) => plan.passes[pass - 1].sets.last(),
            _ => plan.passes[pass].sets.get(set - 1),
        };
        let calendar = self.scenario.calendar_of(self.alternative);
        let start_h = plan.passes[pass].sets[set].start_h;
        before.map_or_else(String::new, |before| {
            plan.waited(calendar, before.end_h, start_h).join(", ")
        })
    }

    fn line(&self, pass: usize, set: usize, one: &Move) -> Line {
        let turning = (one.turns_from_outlet, self.travel_m());
        let outlets = &self.alternative.outlets;
        Line {
            set: set + 1,
            on: self.worked.course.plan.date_time(one.set.start_h),
            off: self.worked.course.plan.date_time(one.set.end_h),
            outlet: one.set.outlet + 1,
            shift_m: one.shift.across_m,
            along_m: one.shift.along_m,
            letter: self.alternative.rotation.letter_of(one.set.shift),
            is_next_stop: one.set.shift != self.worked.course.plan.passes[pass].shift,
            lateral: one.set.line + 1,
            side: words::side(&self.alternative.lateral.lines, one.set.side),
            place: self.who(&one.set)
                + &words::place(self.units, outlets, one.set.outlet, one.shift, turning),
            travel: one
                .from_last
                .map_or_else(|| "start here".to_owned(), |way| words::travel(self.units, &way)),
            short_travel: one.from_last.map_or_else(
                || "start here".to_owned(),
                |way| words::short_travel(self.units, &way),
            ),
            turns: one.from_last.and_then(|way| way.turns),
            left_over_m: one.from_last.map_or(0.0, |way| way.left_over_m),
            connect: words::connect(self.units, one.shift.across_m),
            depth_mm: self.worked.depth_mm[pass][set],
            kind: one.kind,
            standing: self.worked.course.standing.get(pass).map(|sets| sets[set]),
            waited: self.waited(pass, set),
        }
    }
}
