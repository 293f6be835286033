//! Lines that share a field, and the two sides of a mainline.
//!
//! A field may have several lines alike. Each takes its own run of neighboring outlets and its own side of
//! the mainline, in the order of sets. They water at once, or by turns: one waters while the others are
//! drained and moved, so the water never waits for a move.
//!
//! Where the mainline runs through the field, laterals reach out to both sides of it, each other's mirror
//! image. Sides are right and left of the mainline, looking in the direction of travel; right is where x
//! grows. One line that serves both sides takes the right side down the field and the left side back, so
//! it has no dry way; the move across the mainline takes a usual move. With every second outlet out and the
//! others back, or with a list, each side is watered in that order by itself.
//!
//! Geometry only; common practice, no source. Neglected: pressure lost in the mainline, and that moving a
//! wheel line across a mainline takes longer than a usual move.

use super::order::SetOrder;
use std::ops::Range;

/// A side of the mainline, looking in the direction of travel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Where x grows; where the mainline runs along the field's edge, all of the field.
    #[default]
    Right,
    /// Where x falls.
    Left,
}

/// How lines that share a field water.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sharing {
    /// All at the same time.
    #[default]
    AtOnce,
    /// One after another.
    ByTurns,
}

/// Lines alike that share a field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lines {
    /// How many.
    pub count: usize,
    /// Whether they water at once.
    pub sharing: Sharing,
    /// x of the first sprinkler left of a mainline that serves both sides, m from the field's edge;
    /// `None` where it serves one.
    pub left_first_m: Option<f64>,
}

/// One line that serves one side.
impl Default for Lines {
    fn default() -> Self {
        Self::ONE
    }
}

/// What one line waters in a pass on one side, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Round {
    /// Side of the mainline.
    pub side: Side,
    /// First outlet of the line's own, from 0.
    pub first: usize,
    /// Outlets, from 0.
    pub outlets: Vec<usize>,
}

impl Lines {
    /// One line that serves one side.
    pub const ONE: Self = Self { count: 1, sharing: Sharing::AtOnce, left_first_m: None };

    /// Sides that are watered.
    pub fn sides(&self) -> &'static [Side] {
        if self.left_first_m.is_some() { &[Side::Right, Side::Left] } else { &[Side::Right] }
    }

    /// The order of sets in the words of reports.
    pub fn order_words(&self, order: &SetOrder) -> String {
        let is_there_and_back = matches!(order, SetOrder::DryReturn | SetOrder::BothWays);
        match (self.sides().len(), self.count) {
            (2, 1) if is_there_and_back => {
                "down the right side of the mainline, then back up the left".to_owned()
            }
            (2, 1) => format!("on each side of the mainline by itself, {}", order.words()),
            (_, 1) => order.words().to_owned(),
            _ => format!("each line {}", order.words()),
        }
    }

    /// Whether it is one line on one side.
    pub fn is_one(&self) -> bool {
        self.count == 1 && self.left_first_m.is_none()
    }

    /// Lines that water at the same time.
    pub fn at_once(&self) -> usize {
        match self.sharing {
            Sharing::AtOnce => self.count,
            Sharing::ByTurns => 1,
        }
    }

    /// Whether every line has an outlet, and every side as many lines as the other.
    pub fn fit(&self, outlets: usize) -> bool {
        let sides = self.sides().len();
        self.count >= 1
            && (self.count == 1 || self.count.is_multiple_of(sides))
            && self.lines_a_side() <= outlets
    }

    fn lines_a_side(&self) -> usize {
        (self.count / self.sides().len()).max(1)
    }

    /// The outlets of line `line`, of `outlets`: neighbors, as equally many as can be.
    fn block(&self, line: usize, outlets: usize) -> Range<usize> {
        let (all, own) = (self.lines_a_side(), line % self.lines_a_side());
        own * outlets / all..(own + 1) * outlets / all
    }

    /// Most outlets that a line of `outlets` has on a side.
    pub fn outlets_a_line(&self, outlets: usize) -> usize {
        outlets.div_ceil(self.lines_a_side())
    }

    /// What line `line` waters in pass `pass`, side by side in the order in which it takes them.
    pub fn rounds(&self, order: &SetOrder, pass: usize, line: usize, outlets: usize) -> Vec<Round> {
        let block = self.block(line, outlets);
        let listed = |pass: usize| -> Vec<usize> {
            match order {
                SetOrder::Listed(list) => {
                    list.iter().copied().filter(|outlet| block.contains(outlet)).collect()
                }
                rule => rule.outlets(pass, block.len()).iter().map(|at| block.start + at).collect(),
            }
        };
        if self.sides().len() == 1 {
            return vec![Round { side: Side::Right, first: block.start, outlets: listed(pass) }];
        }
        if self.count > 1 {
            let side = if line < self.lines_a_side() { Side::Right } else { Side::Left };
            return vec![Round { side, first: block.start, outlets: listed(pass) }];
        }
        let right = listed(0);
        let is_there_and_back = matches!(order, SetOrder::DryReturn | SetOrder::BothWays);
        let left =
            if is_there_and_back { right.iter().rev().copied().collect() } else { right.clone() };
        vec![
            Round { side: Side::Right, first: block.start, outlets: right },
            Round { side: Side::Left, first: block.start, outlets: left },
        ]
    }

    /// The share of the return time that the longest way of any line takes from its last set of pass
    /// `pass` to its first of the next.
    pub(crate) fn return_share(&self, order: &SetOrder, pass: usize, outlets: usize) -> f64 {
        if self.is_one() {
            return order.return_share(pass, outlets);
        }
        let of = |line: usize| {
            let last = self
                .rounds(order, pass, line, outlets)
                .pop()
                .and_then(|r| r.outlets.last().copied());
            let next = self.rounds(order, pass + 1, line, outlets);
            let next = next.first().and_then(|round| round.outlets.first().copied());
            match (last, next) {
                (Some(from), Some(to)) => SetOrder::dry_share(from, to, outlets),
                _ => 0.0,
            }
        };
        (0..self.count).map(of).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lines(count: usize, both_sides: bool) -> Lines {
        Lines { count, left_first_m: both_sides.then_some(0.0), ..Lines::default() }
    }

    fn rounds(lines: &Lines, order: &SetOrder, line: usize) -> Vec<(Side, Vec<usize>)> {
        let rounds = lines.rounds(order, 1, line, 4).into_iter();
        rounds.map(|round| (round.side, round.outlets)).collect()
    }

    #[test]
    fn closed_one_line_takes_the_right_side_down_and_the_left_side_back() {
        let one = lines(1, true);
        let by = |order: &SetOrder| rounds(&one, order, 0);
        let there_and_back = vec![(Side::Right, vec![0, 1, 2, 3]), (Side::Left, vec![3, 2, 1, 0])];
        assert_eq!(by(&SetOrder::DryReturn), there_and_back);
        assert_eq!(by(&SetOrder::BothWays), there_and_back);
        let second = vec![0, 2, 3, 1];
        assert_eq!(
            by(&SetOrder::EverySecond),
            [(Side::Right, second.clone()), (Side::Left, second)]
        );
        // Back at the first outlet, only across the mainline.
        assert_eq!(one.return_share(&SetOrder::DryReturn, 0, 22), 0.0);
    }

    #[test]
    fn closed_lines_take_neighboring_outlets_and_their_own_side() {
        let two = lines(2, false);
        assert_eq!(rounds(&two, &SetOrder::DryReturn, 0), [(Side::Right, vec![0, 1])]);
        assert_eq!(rounds(&two, &SetOrder::BothWays, 1), [(Side::Right, vec![3, 2])]);
        let listed = SetOrder::Listed(vec![3, 1, 0, 2]);
        assert_eq!(rounds(&two, &listed, 1), [(Side::Right, vec![3, 2])]);
        let mirrored = lines(2, true);
        assert_eq!(rounds(&mirrored, &SetOrder::DryReturn, 1), [(Side::Left, vec![0, 1, 2, 3])]);
        // Half the outlets, half the way back: ten of 21 outlets on.
        assert!((two.return_share(&SetOrder::DryReturn, 0, 22) - 10.0 / 21.0).abs() < 1e-12);
    }

    #[test]
    fn closed_what_does_not_go_together() {
        assert!(lines(1, true).fit(1) && lines(4, true).fit(2) && lines(3, false).fit(3));
        assert!(!lines(3, true).fit(9) && !lines(4, false).fit(3) && !lines(0, false).fit(3));
    }

    proptest! {
        #[test]
        fn invariant_every_outlet_is_watered_once_a_pass_on_every_side(
            outlets in 4..30_usize, count in 1..5_usize, both in any::<bool>(), which in 0..4_usize,
            pass in 0..3_usize
        ) {
            let lines = lines(count, both);
            prop_assume!(lines.fit(outlets));
            let order = &SetOrder::RULES[which];
            for side in lines.sides() {
                let all = (0..count).flat_map(|line| lines.rounds(order, pass, line, outlets));
                let mut here: Vec<usize> =
                    all.filter(|round| round.side == *side).flat_map(|round| round.outlets).collect();
                here.sort_unstable();
                prop_assert_eq!(here, (0..outlets).collect::<Vec<_>>());
            }
        }
    }
}
