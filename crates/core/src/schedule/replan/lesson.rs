//! What a season as it was teaches for the next plan: the one thing that came to most hours.
//!
//! Moves and set times count with what they took longer or shorter in all; a set left without water
//! counts with its set time. A rule of our own, no source: hours can be held against each other
//! whatever the water or the labor costs.

use super::against_plan::{AgainstPlan, Beside};

/// Differences under this are no lesson, h a move or a set: five minutes.
const LEAST_H: f64 = 5.0 / 60.0;
/// Hours that differ by less are the same; then moves come first, as they may be why sets were cut.
const SAME_H: f64 = 1e-6;
/// A plan's times are told in tenths of an hour.
const STEP_H: f64 = 0.1;

/// What to change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lesson {
    /// Nothing is recorded.
    Unknown,
    /// The plan was kept.
    Kept,
    /// Moves took longer or shorter: allow so much for one.
    Moves {
        /// What they took.
        found: Beside,
        /// Move time that would have been kept on average, h.
        move_time_h: f64,
    },
    /// Sets stayed without water.
    Left {
        /// How many.
        sets: usize,
        /// Of so many that were planned.
        of: usize,
    },
    /// Sets ran longer or shorter.
    SetTimes(Beside),
}

/// The lesson of `found`, where `set_time_h` and `move_time_h` were planned.
pub fn lesson(found: &AgainstPlan, set_time_h: f64, move_time_h: f64) -> Lesson {
    if found.counts.recorded == 0 && found.counts.left == 0 {
        return Lesson::Unknown;
    }
    let worth_telling = |beside: &Beside| beside.longer_h().abs() >= LEAST_H;
    let moves = found.moves.filter(worth_telling).map(|found| {
        let needed_h = (move_time_h + found.longer_h()).max(0.0);
        // Up, so that it is kept; rounding of the sum is no step.
        let move_time_h = STEP_H * (needed_h / STEP_H - 1e-6).ceil();
        (found.longer_in_all_h().abs(), Lesson::Moves { found, move_time_h })
    });
    let (left, of) = (found.counts.left, found.counts.planned);
    let left = (left > 0).then_some((left as f64 * set_time_h, Lesson::Left { sets: left, of }));
    let set_times = found
        .set_times
        .filter(worth_telling)
        .map(|found| (found.longer_in_all_h().abs(), Lesson::SetTimes(found)));
    let most = [moves, left, set_times]
        .into_iter()
        .flatten()
        .reduce(|one, other| if other.0 > one.0 + SAME_H { other } else { one });
    most.map_or(Lesson::Kept, |(_, lesson)| lesson)
}

#[cfg(test)]
mod tests {
    use super::super::SetCounts;
    use super::*;

    fn found(moves: Option<Beside>, left: usize, set_times: Option<Beside>) -> AgainstPlan {
        let counts = SetCounts { planned: 18, recorded: 5, left, ..SetCounts::default() };
        AgainstPlan { counts, starts: None, moves, set_times, passes: Vec::new() }
    }

    fn beside(count: usize, planned_h: f64, real_h: f64) -> Beside {
        Beside { count, planned_h, real_h }
    }

    #[test]
    fn closed_the_lesson_is_what_came_to_most_hours() {
        // Four moves of 40 min more: 2.67 h. Allow 0.5 + 0.67 h, rounded up to tenths.
        let moves = beside(4, 0.5, 0.5 + 2.0 / 3.0);
        let slow = lesson(&found(Some(moves), 0, None), 11.5, 0.5);
        let Lesson::Moves { move_time_h, .. } = slow else { panic!("{slow:?}") };
        assert!((move_time_h - 1.2).abs() < 1e-12);
        // One set left counts with 11.5 h.
        let left = lesson(&found(Some(moves), 1, None), 11.5, 0.5);
        assert_eq!(left, Lesson::Left { sets: 1, of: 18 });
        // Five sets of an hour less: 5 h against 2.67 h.
        let short = beside(5, 11.5, 10.5);
        let cut = lesson(&found(Some(moves), 0, Some(short)), 11.5, 0.5);
        assert_eq!(cut, Lesson::SetTimes(short));
    }

    #[test]
    fn closed_a_few_minutes_are_no_lesson_and_quick_moves_are_one() {
        let few = lesson(&found(Some(beside(9, 0.5, 0.55)), 0, None), 11.5, 0.5);
        assert_eq!(few, Lesson::Kept);
        let quick = lesson(&found(Some(beside(9, 1.0, 0.6)), 0, None), 11.5, 1.0);
        let Lesson::Moves { move_time_h, .. } = quick else { panic!("{quick:?}") };
        assert!((move_time_h - 0.6).abs() < 1e-12);
        let nothing = AgainstPlan { counts: SetCounts::default(), ..found(None, 0, None) };
        assert_eq!(lesson(&nothing, 11.5, 0.5), Lesson::Unknown);
    }
}
