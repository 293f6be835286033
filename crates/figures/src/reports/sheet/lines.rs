//! The lines of a sheet: one for each set, in order, ready to be laid out in any form.

use super::input::Sheet;
use super::words::{self, Standing, Words};
use crate::texts::{Text, moves as texts};
use evenfall_canvas::DrawError;
use evenfall_core::clock::WallTime;
use evenfall_core::lateral::Machine;
use evenfall_core::schedule::moves::{Move, PassMoves, SetKind, WayBack, moves};
use evenfall_core::schedule::replan::Standing as Done;
use evenfall_core::schedule::{NOBODY, SetPlan};
use evenfall_core::season::DepthRange;
use evenfall_view::units::{Quantity, UnitSystem, number};

/// One set as the irrigator reads it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    /// Number of the set in its pass, from 1.
    pub(super) set: usize,
    pub(super) on: WallTime,
    pub(super) off: WallTime,
    /// From the start of its pass to its own start and end, h.
    pub(super) after_h: (f64, f64),
    /// Letter of its stop.
    pub(super) letter: char,
    /// Whether that is another than its pass's.
    pub(super) is_next_stop: bool,
    /// Number of the line, from 1.
    pub(super) lateral: usize,
    /// Side of a mainline that serves both, for programs; empty where it serves one.
    pub(super) side: &'static str,
    /// Number of the outlet, from 1.
    pub(super) outlet: usize,
    pub(super) shift_m: f64,
    pub(super) along_m: f64,
    pub(super) place: String,
    /// The same in few words.
    pub(super) short_place: String,
    pub(super) travel: String,
    /// The same in few words.
    pub(super) short_travel: String,
    /// Whole turns from the last stop; `None` for a hand-move and for the first set.
    pub(super) turns: Option<i32>,
    pub(super) left_over_m: f64,
    pub(super) connect: String,
    pub(super) depth: DepthRange,
    pub(super) kind: SetKind,
    pub(super) standing: Option<Done>,
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
    /// Why the set is not like the others of its pass; `None` if it is.
    pub(super) fn mark(&self) -> Option<Text> {
        match (self.standing, self.kind) {
            (Some(Done::CatchUp), _) => Some(texts::CATCH_UP),
            (_, SetKind::Extra) => Some(texts::EXTRA_SET),
            (_, SetKind::Held) => Some(texts::HELD),
            (_, SetKind::Elsewhere) => Some(texts::OTHER_STOP),
            (_, SetKind::Usual) => self.is_next_stop.then_some(texts::NEXT_STOP),
        }
    }

    pub(super) fn is_done(&self) -> bool {
        matches!(self.standing, Some(Done::Recorded | Done::TakenAsDone))
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

    /// Units and language of its words.
    pub(super) fn words(&self) -> Words {
        Words { units: self.units, language: self.language }
    }

    /// The mark of a line in the sheet's language; empty where it has none.
    pub(super) fn mark(&self, line: &Line) -> String {
        let named = |text: Text| text.with(self.language, &[("letter", &line.letter)]);
        line.mark().map_or_else(String::new, named)
    }

    /// "net" or "gross", for programs.
    pub(super) fn depth_word(&self) -> &'static str {
        if self.is_gross() { "gross" } else { "net" }
    }

    /// A range of depths in shown units without its unit: "0.9 to 1.1", or one number where both
    /// ends are shown alike.
    pub(super) fn depth(&self, depth: DepthRange, to: Text) -> String {
        let shown = |mm: f64| self.units.shown(Quantity::Depth, mm);
        let decimals = match self.units {
            UnitSystem::Us => 1 + usize::from(shown(depth.high_mm) < 1.0),
            UnitSystem::Si => usize::from(shown(depth.high_mm) < 10.0),
        };
        let [low, high] = [depth.low_mm, depth.high_mm].map(|mm| number(shown(mm), decimals));
        if low == high { low } else { to.with(self.language, &[("low", &low), ("high", &high)]) }
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
        let net: Vec<usize> = self.worked.depths.iter().map(Vec::len).collect();
        let is_whole = self.worked.course.numbers.len() == passes.len()
            && fits(&net)
            && (standing.is_empty() || fits(&standing));
        let wrong = || DrawError::Mismatch("the sheet's parts are not of one plan".to_owned());
        if is_whole { Ok(()) } else { Err(wrong()) }
    }

    fn pass(&self, pass: usize, moves: &PassMoves) -> PassLines {
        let lines = moves.moves.iter().enumerate();
        let lines: Vec<Line> = lines.map(|(set, one)| self.line(pass, set, one)).collect();
        let words = self.words();
        let place = if lines.iter().any(|line| line.is_next_stop) {
            texts::TWO_STOPS.of(self.language).to_owned()
        } else {
            words.pass_place(moves.shift, self.travel_m())
        };
        let drifts = |one: &Move| one.set.drift_m.abs() >= words::NOTHING_M;
        let place = if moves.moves.iter().any(drifts) {
            texts::AS_NEAR.with(self.language, &[("place", &place)])
        } else {
            place
        };
        PassLines {
            number: self.worked.course.numbers[pass] + 1,
            letter: moves.letter,
            place,
            connect: words.connect(moves.shift.across_m),
            lines,
            ways_back: moves.ways_back.iter().map(|back| self.way_back(back)).collect(),
        }
    }

    /// Which line a set is of, and on which side, where there are several: "Line 2, left side: ".
    fn who(&self, set: &SetPlan) -> String {
        let lines = &self.alternative.lateral.lines;
        let line = (lines.count > 1).then(|| self.line_name(set.line));
        let side = match words::side(lines, set.side) {
            "" => None,
            "left" => Some(texts::LEFT_SIDE.of(self.language).to_owned()),
            _ => Some(texts::RIGHT_SIDE.of(self.language).to_owned()),
        };
        let who: Vec<String> = line.into_iter().chain(side).collect();
        if who.is_empty() { String::new() } else { format!("{}: ", who.join(", ")) }
    }

    fn line_name(&self, line: usize) -> String {
        texts::LINE.with(self.language, &[("n", &(line + 1))])
    }

    fn way_back(&self, back: &WayBack) -> String {
        let way = self.words().travel(&back.travel);
        let is_one = self.alternative.lateral.lines.count == 1;
        if is_one { way } else { format!("{}: {way}", self.line_name(back.line)) }
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
        let own = |why: &str| match why {
            NOBODY => texts::NOBODY_THERE.of(self.language).to_owned(),
            why => why.to_owned(),
        };
        before.map_or_else(String::new, |before| {
            let reasons = plan.waited(calendar, before.end_h, start_h);
            reasons.into_iter().map(own).collect::<Vec<_>>().join(", ")
        })
    }

    fn line(&self, pass: usize, set: usize, one: &Move) -> Line {
        let (words, plan) = (self.words(), &self.worked.course.plan);
        let outlets = &self.alternative.outlets;
        let at = Standing {
            outlet: one.set.outlet,
            shift: one.shift,
            turns: one.turns_from_outlet,
            travel_m: self.travel_m(),
        };
        let start_h = plan.passes[pass].span_h().0;
        let here = || texts::START_HERE.of(self.language).to_owned();
        let who = self.who(&one.set);
        Line {
            set: set + 1,
            on: plan.shown(one.set.start_h),
            off: plan.shown(one.set.end_h),
            after_h: (one.set.start_h - start_h, one.set.end_h - start_h),
            outlet: one.set.outlet + 1,
            shift_m: one.shift.across_m,
            along_m: one.shift.along_m,
            letter: self.alternative.rotation.letter_of(one.set.shift),
            is_next_stop: one.set.shift != plan.passes[pass].shift,
            lateral: one.set.line + 1,
            side: words::side(&self.alternative.lateral.lines, one.set.side),
            place: who.clone() + &words.place(outlets, at),
            short_place: who + &words.short_place(outlets, at),
            travel: one.from_last.map_or_else(here, |way| words.travel(&way)),
            short_travel: one.from_last.map_or_else(here, |way| words.short_travel(&way)),
            turns: one.from_last.and_then(|way| way.turns),
            left_over_m: one.from_last.map_or(0.0, |way| way.left_over_m),
            connect: words.connect(one.shift.across_m),
            depth: self.worked.depths[pass][set],
            kind: one.kind,
            standing: self.worked.course.standing.get(pass).map(|sets| sets[set]),
            waited: self.waited(pass, set),
        }
    }
}
