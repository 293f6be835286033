//! Which rotations there are: stops beside an outlet, and the orders in which they are taken.
//!
//! A rotation is a sequence of stops. What a season adds up to at whole cycles depends on how often
//! each stop is taken and not on the order, but for the weather that each pass meets and the clock;
//! inside a cycle the order counts too. So by default each weighting of the stops gets one order:
//! the outlet first, then the nearest stop in the direction of travel, then its mirror image, and so
//! on outwards, round after round until each has had its turns. *Every order* enumerates all
//! sequences instead, with every stop as the first.
//!
//! A wheel line stands at whole turns within reach. A hand-moved lateral could stand anywhere: it
//! is given a grid of even parts of the outlet spacing, and half a sprinkler spacing along the
//! pipe. What lies between those is not looked at.

use crate::lateral::REACH_SLACK_M;
use crate::lateral::stops::wheel_reach;
use crate::lateral::{Machine, Outlets};
use crate::rotation::Shift;
use std::cmp::Ordering;

/// Which rotations over the stops are tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RotationRule {
    /// Most passes in one cycle.
    pub longest: usize,
    /// Whether a stop may come more than once in a cycle (weights).
    pub repeats: bool,
    /// Whether all orders are taken, and not one for each weighting.
    pub every_order: bool,
}

/// The grid of stops for a hand-moved lateral.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HandGrid {
    /// Parts into which the outlet spacing is divided across the field.
    pub parts_across: u32,
    /// Whether half a sprinkler spacing along the pipe is tried too.
    pub half_along: bool,
}

/// The stops beside an outlet, the outlet first, then outwards, the direction of travel before its mirror.
pub(super) fn stops_of(
    machine: &Machine,
    outlets: &Outlets,
    sprinkler_spacing_m: f64,
    hand: HandGrid,
) -> Vec<Shift> {
    let mut stops: Vec<Shift> = match machine {
        Machine::WheelLine(wheel) => {
            wheel_reach(wheel, outlets).reachable().map(|stop| stop.shift).collect()
        }
        Machine::HandMove => {
            let step_m = outlets.spacing_m / f64::from(hand.parts_across.max(1));
            let most = ((outlets.reach_m + REACH_SLACK_M) / step_m).floor() as i32;
            let along_m = 0.5 * sprinkler_spacing_m;
            let along = if hand.half_along { vec![0.0, along_m] } else { vec![0.0] };
            let at = |step: i32| {
                let across_m = f64::from(step) * step_m;
                along.iter().map(move |along_m| Shift { across_m, along_m: *along_m })
            };
            (-most..=most).flat_map(at).collect()
        }
    };
    stops.sort_by(outwards);
    stops
}

fn outwards(a: &Shift, b: &Shift) -> Ordering {
    let by_distance = a.across_m.abs().total_cmp(&b.across_m.abs());
    by_distance
        .then(b.across_m.total_cmp(&a.across_m))
        .then(a.along_m.abs().total_cmp(&b.along_m.abs()))
        .then(b.along_m.total_cmp(&a.along_m))
}

/// How many rotations `rotations_over` gives for so many stops, before equal ones are merged; `None`
/// if it is beyond counting.
pub fn count(stops: usize, rule: RotationRule) -> Option<usize> {
    let of_length = |length: usize| -> Option<usize> {
        match (rule.every_order, rule.repeats) {
            (true, true) => stops.checked_pow(length as u32),
            (true, false) => (0..length)
                .try_fold(1_usize, |orders, taken| orders.checked_mul(stops.saturating_sub(taken))),
            (false, true) => choose(stops + length - 1, length),
            (false, false) => choose(stops, length),
        }
    };
    (1..=rule.longest).try_fold(0_usize, |sum, length| sum.checked_add(of_length(length)?))
}

fn choose(of: usize, taken: usize) -> Option<usize> {
    if taken > of {
        return Some(0);
    }
    (0..taken).try_fold(1_usize, |choices, at| Some(choices.checked_mul(of - at)? / (at + 1)))
}

/// The rotations over `stops`, shorter ones first. Rotations that come to the same season (A A is A)
/// are all there: it takes a schedule to know them for equal.
pub(crate) fn rotations_over(stops: &[Shift], rule: RotationRule) -> Vec<Vec<Shift>> {
    let mut all = Vec::new();
    for length in 1..=rule.longest {
        let mut counts = vec![0; stops.len()];
        if rule.every_order {
            every(stops, length, rule.repeats, &mut Vec::new(), &mut all);
        } else {
            weightings(0, length, rule.repeats, &mut counts, &mut |counts| {
                all.push(in_rounds(stops, counts));
            });
        }
    }
    all
}

/// All sequences of `length`, stop after stop.
fn every(
    stops: &[Shift],
    length: usize,
    repeats: bool,
    begun: &mut Vec<Shift>,
    all: &mut Vec<Vec<Shift>>,
) {
    if begun.len() == length {
        all.push(begun.clone());
        return;
    }
    for stop in stops {
        if repeats || !begun.contains(stop) {
            begun.push(*stop);
            every(stops, length, repeats, begun, all);
            begun.pop();
        }
    }
}

/// Every distribution of `left` turns to the stops from `from` on.
fn weightings(
    from: usize,
    left: usize,
    repeats: bool,
    counts: &mut Vec<usize>,
    tell: &mut dyn FnMut(&[usize]),
) {
    if from == counts.len() {
        if left == 0 {
            tell(counts);
        }
        return;
    }
    let most = if repeats { left } else { left.min(1) };
    for turns in (0..=most).rev() {
        counts[from] = turns;
        weightings(from + 1, left - turns, repeats, counts, tell);
    }
    counts[from] = 0;
}

/// The one order of a weighting: round after round over the stops that have turns left.
fn in_rounds(stops: &[Shift], counts: &[usize]) -> Vec<Shift> {
    let rounds = counts.iter().copied().max().unwrap_or(0);
    let round = |round: usize| {
        let has_turns = move |pair: &(&Shift, &usize)| *pair.1 > round;
        stops.iter().zip(counts).filter(has_turns).map(|(stop, _)| *stop)
    };
    (0..rounds).flat_map(round).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lateral::Wheel;
    use crate::units::M_PER_FT as FT;

    fn outlets(reach_ft: f64) -> Outlets {
        Outlets {
            spacing_m: 60.0 * FT,
            first_m: 30.0 * FT,
            count: 6,
            reach_m: reach_ft * FT,
            field_width_m: f64::INFINITY,
        }
    }

    fn feet(stops: &[Shift]) -> Vec<(f64, f64)> {
        let round = |m: f64| (m / FT * 100.0).round() / 100.0;
        stops.iter().map(|s| (round(s.across_m), round(s.along_m))).collect()
    }

    const HAND: HandGrid = HandGrid { parts_across: 4, half_along: true };

    #[test]
    fn closed_stops_go_outwards_from_the_outlet() {
        let wheel = Wheel::new(15.0 * FT, 15.0);
        let of = |machine, reach_ft| feet(&stops_of(&machine, &outlets(reach_ft), 40.0 * FT, HAND));
        assert_eq!(
            of(Machine::WheelLine(wheel), 30.0),
            [(0.0, 0.0), (15.0, 0.0), (-15.0, 0.0), (30.0, 0.0), (-30.0, 0.0)]
        );
        assert_eq!(
            of(Machine::HandMove, 20.0),
            [(0.0, 0.0), (0.0, 20.0), (15.0, 0.0), (15.0, 20.0), (-15.0, 0.0), (-15.0, 20.0)]
        );
    }

    #[test]
    fn closed_counts_are_those_of_combinatorics() {
        let stops: Vec<Shift> =
            (0..4).map(|i| Shift { across_m: f64::from(i), along_m: 0.0 }).collect();
        // 4 stops, up to 3 passes: multisets 4 + 10 + 20, sets 4 + 6 + 4, sequences 4 + 16 + 64,
        // arrangements 4 + 12 + 24.
        for (repeats, every_order, wanted) in
            [(true, false, 34), (false, false, 14), (true, true, 84), (false, true, 40)]
        {
            let rule = RotationRule { longest: 3, repeats, every_order };
            let all = rotations_over(&stops, rule);
            assert_eq!((all.len(), count(4, rule)), (wanted, Some(wanted)));
            let distinct = all.iter().enumerate().all(|(i, rotation)| !all[..i].contains(rotation));
            assert!(distinct, "a rotation twice");
        }
        assert_eq!(
            count(1000, RotationRule { longest: 40, repeats: true, every_order: true }),
            None
        );
    }

    #[test]
    fn closed_a_weighting_is_taken_in_rounds() {
        let stop = |across_m| Shift { across_m, along_m: 0.0 };
        let stops = [stop(0.0), stop(6.0), stop(-6.0)];
        let across = |counts: &[usize]| -> Vec<f64> {
            in_rounds(&stops, counts).iter().map(|s| s.across_m).collect()
        };
        assert_eq!(across(&[1, 1, 1]), [0.0, 6.0, -6.0]);
        assert_eq!(across(&[2, 1, 0]), [0.0, 6.0, 0.0]);
        assert_eq!(across(&[2, 2, 0]), [0.0, 6.0, 0.0, 6.0]);
    }
}
