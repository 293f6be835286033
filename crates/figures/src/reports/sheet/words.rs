//! Stops, moves and hoses in plain words, in the sheet's language.

use crate::texts::{Language, Text, moves as texts};
use evenfall_core::lateral::{Lines, Outlets, Side};
use evenfall_core::rotation::Shift;
use evenfall_core::schedule::moves::Travel;
use evenfall_view::units::{Quantity, UnitSystem, number};

/// Lengths under this are nothing that anybody can set, m (2 in).
pub(super) const NOTHING_M: f64 = 0.05;
/// A pace, m (2.5 ft): common practice, no source.
const PACE_M: f64 = 0.762;

/// The units and the language that words are in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Words {
    pub(super) units: UnitSystem,
    pub(super) language: Language,
}

/// Where a line stands.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing {
    /// Number of the outlet, from 0.
    pub(super) outlet: usize,
    pub(super) shift: Shift,
    /// Whole turns from the outlet; `None` for a hand-move.
    pub(super) turns: Option<i32>,
    /// Travel of one turn, m; `None` for a hand-move.
    pub(super) travel_m: Option<f64>,
}

/// The side of a mainline that serves both, for programs; empty where it serves one.
pub(super) fn side(lines: &Lines, side: Side) -> &'static str {
    match (lines.left_first_m, side) {
        (None, _) => "",
        (_, Side::Right) => "right",
        (_, Side::Left) => "left",
    }
}

/// Whether a place beside an outlet is what so many whole turns give.
fn is_whole(turns: Option<i32>, across_m: f64, travel_m: Option<f64>) -> Option<i32> {
    let (turns, travel_m) = (turns?, travel_m?);
    ((f64::from(turns) * travel_m - across_m).abs() < NOTHING_M).then_some(turns)
}

/// Whether `turns` is a multiple of `step` as near as anybody can stop a wheel.
fn is_nearly(turns: f64, step: f64) -> bool {
    const NEAR: f64 = 0.01;
    (turns / step - (turns / step).round()).abs() * step < NEAR
}

impl Words {
    fn of(self, text: Text) -> String {
        text.of(self.language).to_owned()
    }

    /// A length in shown units, a decimal only where it needs one; short ones in inches or
    /// centimeters.
    pub(super) fn length(self, meters: f64) -> String {
        let shown = self.units.shown(Quantity::Length, meters.abs());
        let (small, per_unit) = match self.units {
            UnitSystem::Us => ("in", 12.0),
            UnitSystem::Si => ("cm", 100.0),
        };
        if shown > 0.0 && shown < 0.95 {
            return format!("{}\u{a0}{small}", number(shown * per_unit, 0));
        }
        let decimals = usize::from((shown - shown.round()).abs() > 0.05);
        format!("{}\u{a0}{}", number(shown, decimals), self.units.symbol(Quantity::Length))
    }

    fn turns(self, turns: i32) -> String {
        let count = turns.unsigned_abs();
        let text = if count == 1 { texts::TURN } else { texts::TURNS };
        text.with(self.language, &[("n", &count)])
    }

    /// So far ahead or back: "3 turns ahead".
    fn way(self, far: &str, signed: f64) -> String {
        let text = if signed > 0.0 { texts::AHEAD } else { texts::BACK };
        text.with(self.language, &[("far", &far)])
    }

    fn then(self, first: &str, second: &str) -> String {
        texts::THEN.with(self.language, &[("first", &first), ("second", &second)])
    }

    fn with_pipe(self, across: String, along_m: f64) -> String {
        match self.along(along_m) {
            Some(along) => {
                let values: [(&str, &dyn std::fmt::Display); 2] =
                    [("across", &across), ("along", &along)];
                texts::WITH_PIPE.with(self.language, &values)
            }
            None => across,
        }
    }

    /// Where the line stands beside an outlet: "1 turn past outlet 7, toward outlet 8".
    pub(super) fn place(self, outlets: &Outlets, at: Standing) -> String {
        let across = self.beside(outlets, at, false);
        self.with_pipe(across, at.shift.along_m)
    }

    /// The same for a row of a pass that has the outlet's number beside it and the shift along the
    /// pipe above it: "1 turn past 7, toward 8".
    pub(super) fn short_place(self, outlets: &Outlets, at: Standing) -> String {
        self.beside(outlets, at, true)
    }

    fn beside(self, outlets: &Outlets, at: Standing, is_short: bool) -> String {
        let (number, across_m) = (at.outlet + 1, at.shift.across_m);
        let pick = |short: Text, long: Text| if is_short { short } else { long };
        if across_m.abs() < NOTHING_M {
            let text = pick(texts::SHORT_AT_OUTLET, texts::AT_OUTLET);
            return text.with(self.language, &[("n", &number)]);
        }
        let far = match is_whole(at.turns, across_m, at.travel_m) {
            Some(turns) => self.turns(turns),
            None => self.length(across_m),
        };
        let ahead = across_m > 0.0;
        let outlet = |number: usize| {
            let long = || texts::OUTLET.with(self.language, &[("n", &number)]);
            if is_short { number.to_string() } else { long() }
        };
        let toward = match (ahead, at.outlet) {
            (true, at) if at + 1 < outlets.count => outlet(number + 1),
            (true, _) => self.of(pick(texts::SHORT_FAR_EDGE, texts::FAR_EDGE)),
            (false, 0) => self.of(pick(texts::SHORT_NEAR_EDGE, texts::NEAR_EDGE)),
            (false, _) => outlet(number - 1),
        };
        let text = if ahead {
            pick(texts::SHORT_PAST, texts::PAST_OUTLET)
        } else {
            pick(texts::SHORT_BEFORE, texts::BEFORE_OUTLET)
        };
        text.with(self.language, &[("far", &far), ("n", &number), ("toward", &toward)])
    }

    /// A shift along the pipe: "20 ft farther from the mainline".
    pub(super) fn along(self, along_m: f64) -> Option<String> {
        let text = if along_m > 0.0 { texts::FARTHER } else { texts::NEARER };
        let far = self.length(along_m);
        (along_m.abs() >= NOTHING_M).then(|| text.with(self.language, &[("far", &far)]))
    }

    /// Where a whole pass stands: "1 turn (20 ft) past each outlet".
    pub(super) fn pass_place(self, shift: Shift, travel_m: Option<f64>) -> String {
        let turns = travel_m.map(|travel_m| (shift.across_m / travel_m).round() as i32);
        if shift.across_m.abs() < NOTHING_M {
            return self.with_pipe(self.of(texts::EVERY_OUTLET), shift.along_m);
        }
        let far = self.length(shift.across_m);
        let far = match is_whole(turns, shift.across_m, travel_m) {
            Some(turns) => format!("{} ({far})", self.turns(turns)),
            None => far,
        };
        let text = if shift.across_m > 0.0 { texts::PAST_EACH } else { texts::BEFORE_EACH };
        self.with_pipe(text.with(self.language, &[("far", &far)]), shift.along_m)
    }

    /// How to get to the next stop: "3 turns ahead", "8 turns back, then 4 in ahead".
    pub(super) fn travel(self, travel: &Travel) -> String {
        if let Some(side) = travel.across_mainline_to {
            let over = match side {
                Side::Right => self.of(texts::TO_RIGHT_SIDE),
                Side::Left => self.of(texts::TO_LEFT_SIDE),
            };
            let on = Travel { across_mainline_to: None, ..*travel };
            let stays = on.across_m.abs() < NOTHING_M && on.along_m.abs() < NOTHING_M;
            return if stays { over } else { self.then(&over, &self.travel(&on)) };
        }
        let across = match travel.turns {
            _ if travel.across_m.abs() < NOTHING_M => self.of(texts::STAY),
            _ if travel.part_turns.is_some_and(|turns| !is_nearly(turns, 1.0)) => {
                self.part_turns(travel.part_turns.unwrap_or_default(), travel.across_m)
            }
            Some(turns) => {
                let over = travel.left_over_m;
                let rest = self.way(&self.length(over), over);
                let rolled = self.way(&self.turns(turns), f64::from(turns));
                match (turns, over.abs() < NOTHING_M) {
                    (0, _) => rest,
                    (_, true) => rolled,
                    (_, false) => self.then(&rolled, &rest),
                }
            }
            None => {
                let paces = number((travel.across_m.abs() / PACE_M).round(), 0);
                let carried = self.way(&self.length(travel.across_m), travel.across_m);
                texts::PACES.with(self.language, &[("move", &carried), ("n", &paces)])
            }
        };
        self.with_pipe(across, travel.along_m)
    }

    /// A move that ends at part of a turn: "1½ turns ahead", "50 ft ahead (3 turns and 66°)".
    fn part_turns(self, turns: f64, across_m: f64) -> String {
        let far = turns.abs();
        if is_nearly(far, 0.25) {
            let quarters = (4.0 * far).round() as u32;
            let (whole, part) =
                (quarters / 4, ["", "\u{bc}", "\u{bd}", "\u{be}"][quarters as usize % 4]);
            let whole = if whole == 0 { String::new() } else { whole.to_string() };
            let text = if far > 1.0 { texts::TURNS } else { texts::TURN };
            let count = format!("{whole}{part}");
            return self.way(&text.with(self.language, &[("n", &count)]), turns);
        }
        let degrees = number(360.0 * far.fract(), 0);
        let whole = self.turns(far.floor() as i32);
        let rolled = self.way(&self.length(across_m), turns);
        texts::TURNS_AND_DEGREES
            .with(self.language, &[("move", &rolled), ("turns", &whole), ("n", &degrees)])
    }

    /// The same for a narrow column, without the shift along the pipe, which the pass has in common:
    /// "3 turns ahead", "3 turns ahead + 4 in"; + is farther the same way.
    pub(super) fn short_travel(self, one: &Travel) -> String {
        let over = one.left_over_m;
        if one.across_mainline_to.is_some() {
            return self.travel(one);
        }
        match one.turns {
            Some(turns) if turns != 0 && over.abs() >= NOTHING_M && one.part_turns.is_none() => {
                let sign = if (over > 0.0) == (turns > 0) { "+" } else { "\u{2212}" };
                let rolled = self.way(&self.turns(turns), f64::from(turns));
                format!("{rolled} {sign}\u{a0}{}", self.length(over))
            }
            _ => self.travel(&Travel { along_m: 0.0, ..*one }),
        }
    }

    /// What to connect: nothing special at the outlet, else how far hose or swing joint must reach.
    pub(super) fn connect(self, across_m: f64) -> String {
        if across_m.abs() < NOTHING_M {
            return self.of(texts::USUAL_COUPLING);
        }
        let text = if across_m > 0.0 { texts::HOSE_BACK } else { texts::HOSE_AHEAD };
        text.with(self.language, &[("far", &self.length(across_m))])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FT: f64 = 0.3048;
    const US: Words = Words { units: UnitSystem::Us, language: Language::English };
    const SPANISH: Words = Words { language: Language::Spanish, ..US };

    fn outlets() -> Outlets {
        Outlets {
            spacing_m: 60.0 * FT,
            first_m: 30.0 * FT,
            count: 8,
            reach_m: 25.0 * FT,
            field_width_m: f64::INFINITY,
        }
    }

    fn at(outlet: usize, across_ft: f64, along_ft: f64, travel_ft: Option<f64>) -> String {
        let shift = Shift { across_m: across_ft * FT, along_m: along_ft * FT };
        let turns = travel_ft.map(|travel| (across_ft / travel).round() as i32);
        let travel_m = travel_ft.map(|travel| travel * FT);
        US.place(&outlets(), Standing { outlet, shift, turns, travel_m }).replace('\u{a0}', " ")
    }

    #[test]
    fn closed_stops_read_like_directions() {
        assert_eq!(at(6, 20.0, 0.0, Some(20.0)), "1 turn past outlet 7, toward outlet 8");
        assert_eq!(at(7, 20.0, 0.0, Some(20.0)), "1 turn past outlet 8, toward the far edge");
        assert_eq!(at(0, -40.0, 0.0, Some(20.0)), "2 turns before outlet 1, toward the near edge");
        assert_eq!(at(3, 0.0, 0.0, Some(20.0)), "at outlet 4");
        assert_eq!(at(3, 12.0, 0.0, Some(20.0)), "12 ft past outlet 4, toward outlet 5");
        assert_eq!(
            at(3, 30.0, 20.0, None),
            "30 ft past outlet 4, toward outlet 5; pipe 20 ft farther from the mainline"
        );
    }

    #[test]
    fn closed_moves_read_like_directions() {
        let of = |across_ft: f64, turns: Option<i32>, over_ft: f64| {
            let one = Travel {
                across_m: across_ft * FT,
                along_m: 0.0,
                turns,
                left_over_m: over_ft * FT,
                across_mainline_to: None,
                part_turns: None,
            };
            US.travel(&one).replace('\u{a0}', " ")
        };
        assert_eq!(of(60.0, Some(3), 0.0), "3 turns ahead");
        let back = Travel {
            across_m: -160.0 * FT,
            along_m: 0.0,
            turns: Some(-8),
            left_over_m: -0.8 * FT,
            across_mainline_to: None,
            part_turns: None,
        };
        assert_eq!(US.short_travel(&back).replace('\u{a0}', " "), "8 turns back + 10 in");
        assert_eq!(of(60.0, Some(3), 0.3), "3 turns ahead, then 4 in ahead");
        assert_eq!(of(-160.0, Some(-8), 0.0), "8 turns back");
        assert_eq!(of(60.0, None, 0.0), "60 ft ahead (24 paces)");
        assert_eq!(of(0.0, Some(0), 0.0), "stay at this stop");
    }

    #[test]
    fn closed_moves_that_end_at_part_of_a_turn() {
        let of = |turns: f64, travel_ft: f64| {
            US.part_turns(turns, turns * travel_ft * FT).replace('\u{a0}', " ")
        };
        assert_eq!(of(1.5, 20.0), "1½ turns ahead");
        assert_eq!(of(-0.5, 20.0), "½ turn back");
        assert_eq!(of(2.25, 20.0), "2¼ turns ahead");
        assert_eq!(of(50.0 / 15.7, 15.7), "50 ft ahead (3 turns and 66°)");
    }

    #[test]
    fn closed_the_same_in_spanish() {
        let shift = Shift { across_m: 20.0 * FT, along_m: 0.0 };
        let at = Standing { outlet: 6, shift, turns: Some(1), travel_m: Some(20.0 * FT) };
        let plain = |text: String| text.replace('\u{a0}', " ");
        let place = plain(SPANISH.place(&outlets(), at));
        assert_eq!(place, "1 vuelta pasando la toma 7, hacia la toma 8");
        assert_eq!(plain(US.short_place(&outlets(), at)), "1 turn past 7, toward 8");
        assert_eq!(SPANISH.connect(0.0), "el acople de siempre");
        assert_eq!(plain(SPANISH.part_turns(-1.5, -30.0 * FT)), "1½ vueltas atrás");
    }
}
