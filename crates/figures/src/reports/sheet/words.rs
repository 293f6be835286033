//! Stops, moves and hoses in plain words.

use evenfall_core::lateral::{Lines, Outlets, Side};
use evenfall_core::rotation::Shift;
use evenfall_core::schedule::moves::Travel;
use evenfall_view::units::{Quantity, UnitSystem, number};

/// Lengths under this are nothing that anybody can set, m (2 in).
pub(super) const NOTHING_M: f64 = 0.05;
/// Where the line is not moved.
pub(super) const STAY: &str = "stay at this stop";
/// What is connected at an outlet.
pub(super) const USUAL_COUPLING: &str = "the usual coupling";
/// A pace, m (2.5 ft): common practice, no source.
const PACE_M: f64 = 0.762;

/// A length in shown units, a decimal only where it needs one; short ones in inches or centimeters.
pub(super) fn length(units: UnitSystem, meters: f64) -> String {
    let shown = units.shown(Quantity::Length, meters.abs());
    let (small, per_unit) = match units {
        UnitSystem::Us => ("in", 12.0),
        UnitSystem::Si => ("cm", 100.0),
    };
    if shown > 0.0 && shown < 0.95 {
        return format!("{}\u{a0}{small}", number(shown * per_unit, 0));
    }
    let decimals = usize::from((shown - shown.round()).abs() > 0.05);
    format!("{}\u{a0}{}", number(shown, decimals), units.symbol(Quantity::Length))
}

/// The side of a mainline that serves both, looking in the direction of travel; empty where it serves
/// one.
pub(super) fn side(lines: &Lines, side: Side) -> &'static str {
    if lines.left_first_m.is_none() { "" } else { side_name(side) }
}

fn side_name(side: Side) -> &'static str {
    match side {
        Side::Right => "right",
        Side::Left => "left",
    }
}

fn turns_word(turns: i32) -> String {
    let count = turns.unsigned_abs();
    format!("{count}\u{a0}turn{}", if count == 1 { "" } else { "s" })
}

/// Whether a place beside an outlet is what so many whole turns give.
fn is_whole(turns: Option<i32>, across_m: f64, travel_m: Option<f64>) -> Option<i32> {
    let (turns, travel_m) = (turns?, travel_m?);
    ((f64::from(turns) * travel_m - across_m).abs() < NOTHING_M).then_some(turns)
}

/// Where the line stands beside an outlet: "1 turn past outlet 7, toward outlet 8". `outlet` counts
/// from 0; `travel_m` is that of one turn, `None` for a hand-move.
pub(super) fn place(
    units: UnitSystem,
    outlets: &Outlets,
    outlet: usize,
    shift: Shift,
    (turns, travel_m): (Option<i32>, Option<f64>),
) -> String {
    let number = outlet + 1;
    let across = if shift.across_m.abs() < NOTHING_M {
        format!("at outlet {number}")
    } else {
        let far = match is_whole(turns, shift.across_m, travel_m) {
            Some(turns) => turns_word(turns),
            None => length(units, shift.across_m),
        };
        let ahead = shift.across_m > 0.0;
        let side = if ahead { "past" } else { "before" };
        let toward = match (ahead, outlet) {
            (true, outlet) if outlet + 1 < outlets.count => format!("outlet {}", number + 1),
            (true, _) => "the far edge".to_owned(),
            (false, 0) => "the near edge".to_owned(),
            (false, _) => format!("outlet {}", number - 1),
        };
        format!("{far} {side} outlet {number}, toward {toward}")
    };
    match along(units, shift.along_m) {
        Some(along) => format!("{across}; pipe {along}"),
        None => across,
    }
}

/// The same for a row of a pass that has the outlet's number beside it and the shift along the
/// pipe above it: "1 turn past 7, toward 8".
pub(super) fn short_place(place: &str) -> String {
    let across = place.split("; ").next().unwrap_or_default();
    across
        .replace("outlet ", "")
        .replace("the far edge", "far edge")
        .replace("the near edge", "near edge")
}

/// A shift along the pipe: "20 ft farther from the mainline".
pub(super) fn along(units: UnitSystem, along_m: f64) -> Option<String> {
    let side = if along_m > 0.0 { "farther from" } else { "nearer to" };
    (along_m.abs() >= NOTHING_M).then(|| format!("{} {side} the mainline", length(units, along_m)))
}

/// Where a whole pass stands: "1 turn (20 ft) past each outlet".
pub(super) fn pass_place(units: UnitSystem, shift: Shift, travel_m: Option<f64>) -> String {
    let turns = travel_m.map(|travel_m| (shift.across_m / travel_m).round() as i32);
    let across = if shift.across_m.abs() < NOTHING_M {
        "At every outlet".to_owned()
    } else {
        let side = if shift.across_m > 0.0 {
            "PAST each outlet, toward the next higher number"
        } else {
            "BEFORE each outlet, toward the next lower number"
        };
        let far = length(units, shift.across_m);
        match is_whole(turns, shift.across_m, travel_m) {
            Some(turns) => format!("{} ({far}) {side}", turns_word(turns)),
            None => format!("{far} {side}"),
        }
    };
    match along(units, shift.along_m) {
        Some(along) => format!("{across}; pipe {along}"),
        None => across,
    }
}

/// How to get to the next stop: "3 turns ahead", "8 turns back, then 4 in ahead".
pub(super) fn travel(units: UnitSystem, travel: &Travel) -> String {
    if let Some(side) = travel.across_mainline_to {
        let on = self::travel(units, &Travel { across_mainline_to: None, ..*travel });
        let on = if on == STAY { String::new() } else { format!(", then {on}") };
        return format!("across the mainline to the {} side{on}", side_name(side));
    }
    let way = |meters: f64| if meters > 0.0 { "ahead" } else { "back" };
    let across = match travel.turns {
        _ if travel.across_m.abs() < NOTHING_M => STAY.to_owned(),
        _ if travel.part_turns.is_some_and(|turns| !is_nearly(turns, 1.0)) => {
            let turned = travel.part_turns.unwrap_or_default();
            part_turns(units, turned, travel.across_m)
        }
        Some(turns) => {
            let over = travel.left_over_m;
            let rest = format!("{} {}", length(units, over), way(over));
            match (turns, over.abs() < NOTHING_M) {
                (0, _) => rest,
                (_, true) => format!("{} {}", turns_word(turns), way(f64::from(turns))),
                (_, false) => {
                    format!("{} {}, then {rest}", turns_word(turns), way(f64::from(turns)))
                }
            }
        }
        None => {
            let paces = number((travel.across_m.abs() / PACE_M).round(), 0);
            let far = length(units, travel.across_m);
            format!("{far} {} ({paces} paces)", way(travel.across_m))
        }
    };
    match along(units, travel.along_m) {
        Some(along) => format!("{across}; pipe {along}"),
        None => across,
    }
}

/// Whether `turns` is a multiple of `step` as near as anybody can stop a wheel.
fn is_nearly(turns: f64, step: f64) -> bool {
    const NEAR: f64 = 0.01;
    (turns / step - (turns / step).round()).abs() * step < NEAR
}

/// A move that ends at part of a turn: "1½ turns ahead", "50 ft ahead (3 turns and 66°)".
fn part_turns(units: UnitSystem, turns: f64, across_m: f64) -> String {
    let way = if turns > 0.0 { "ahead" } else { "back" };
    let far = turns.abs();
    if is_nearly(far, 0.25) {
        let quarters = (4.0 * far).round() as u32;
        let (whole, part) =
            (quarters / 4, ["", "\u{bc}", "\u{bd}", "\u{be}"][quarters as usize % 4]);
        let whole = if whole == 0 { String::new() } else { whole.to_string() };
        let noun = if far > 1.0 { "turns" } else { "turn" };
        return format!("{whole}{part}\u{a0}{noun} {way}");
    }
    let degrees = number(360.0 * far.fract(), 0);
    let whole = turns_word(far.floor() as i32);
    format!("{} {way} ({whole} and {degrees}°)", length(units, across_m))
}

/// The same for a narrow column, without the shift along the pipe, which the pass has in common:
/// "3 turns ahead", "3 turns ahead + 4 in"; + is farther the same way.
pub(super) fn short_travel(units: UnitSystem, one: &Travel) -> String {
    let over = one.left_over_m;
    if one.across_mainline_to.is_some() {
        return travel(units, one);
    }
    match one.turns {
        Some(turns) if turns != 0 && over.abs() >= NOTHING_M && one.part_turns.is_none() => {
            let way = if turns > 0 { "ahead" } else { "back" };
            let sign = if (over > 0.0) == (turns > 0) { "+" } else { "\u{2212}" };
            format!("{} {way} {sign}\u{a0}{}", turns_word(turns), length(units, over))
        }
        _ => travel(units, &Travel { along_m: 0.0, ..*one }),
    }
}

/// What to connect: nothing special at the outlet, else how far hose or swing joint must reach.
pub(super) fn connect(units: UnitSystem, across_m: f64) -> String {
    if across_m.abs() < NOTHING_M {
        return USUAL_COUPLING.to_owned();
    }
    let way = if across_m > 0.0 { "back" } else { "ahead" };
    format!("hose or swing joint, {} {way} to the outlet", length(units, across_m))
}

#[cfg(test)]
mod tests {
    use super::*;

    const FT: f64 = 0.3048;
    const US: UnitSystem = UnitSystem::Us;

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
        let turning = (turns, travel_ft.map(|travel| travel * FT));
        place(US, &outlets(), outlet, shift, turning).replace('\u{a0}', " ")
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
            travel(US, &one).replace('\u{a0}', " ")
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
        assert_eq!(short_travel(US, &back).replace('\u{a0}', " "), "8 turns back + 10 in");
        assert_eq!(of(60.0, Some(3), 0.3), "3 turns ahead, then 4 in ahead");
        assert_eq!(of(-160.0, Some(-8), 0.0), "8 turns back");
        assert_eq!(of(60.0, None, 0.0), "60 ft ahead (24 paces)");
        assert_eq!(of(0.0, Some(0), 0.0), "stay at this stop");
    }

    #[test]
    fn closed_moves_that_end_at_part_of_a_turn() {
        let of = |turns: f64, travel_ft: f64| {
            part_turns(US, turns, turns * travel_ft * FT).replace('\u{a0}', " ")
        };
        assert_eq!(of(1.5, 20.0), "1½ turns ahead");
        assert_eq!(of(-0.5, 20.0), "½ turn back");
        assert_eq!(of(2.25, 20.0), "2¼ turns ahead");
        assert_eq!(of(50.0 / 15.7, 15.7), "50 ft ahead (3 turns and 66°)");
    }
}
