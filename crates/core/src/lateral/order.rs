//! Orders of sets: which outlet follows which in a pass.
//!
//! Every order waters every outlet once a pass. They differ in how long each place waits for its next
//! water, and in the way that the line is moved without watering:
//!
//! - down the field, then back dry: every place waits equally long; the line goes the whole way back;
//! - down in one pass and back in the next: no dry way; the two ends get two waterings close
//!   together and then wait longest (Vardiman 2021, University of Wyoming Extension);
//! - every second outlet down the field, the others on the way back: no dry way beyond an outlet, and
//!   every place waits equally long;
//! - the same with the next stop of the rotation on the way back: neighbors stand at different stops in a
//!   pass, and each place still takes the stops in turn, pass by pass;
//! - a list of one's own.
//!
//! A dry way over at most two outlets fits into the time of a usual move (judgment, no source); a
//! longer one takes its share of the return time by distance.

/// The order in which the outlets are watered.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum SetOrder {
    /// From the first outlet to the last, then back without watering.
    #[default]
    DryReturn,
    /// From the first to the last in one pass, from the last to the first in the next.
    BothWays,
    /// Every second outlet from the first on, then the others on the way back.
    EverySecond,
    /// The same, the way back at the next stop of the rotation.
    EverySecondNextStop,
    /// These outlets, counted from 0, in every pass.
    Listed(Vec<usize>),
}

/// What is wrong with a list of outlets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OrderProblem {
    /// Outlets that are not in it, counted from 0.
    Missing(Vec<usize>),
    /// An outlet that is in it more than once.
    Twice(usize),
    /// An outlet that the mainline does not have.
    NoSuch(usize),
}

/// Outlets that a line is rolled over within the time of a usual move.
const OUTLETS_IN_A_MOVE: usize = 2;

impl SetOrder {
    /// Those with a rule, the usual one first.
    pub const RULES: [Self; 4] =
        [Self::DryReturn, Self::BothWays, Self::EverySecond, Self::EverySecondNextStop];

    /// In the words of reports.
    pub fn words(&self) -> &'static str {
        match self {
            Self::DryReturn => "down the field, then back dry",
            Self::BothWays => "down the field in one pass, back in the next",
            Self::EverySecond => "every second outlet down the field, the others on the way back",
            Self::EverySecondNextStop => {
                "every second outlet down the field, the others on the way back at the next stop"
            }
            Self::Listed(_) => "the outlets in the order listed",
        }
    }

    /// Outlets of pass `pass` (from 0) in the order in which they are watered.
    pub fn outlets(&self, pass: usize, count: usize) -> Vec<usize> {
        match self {
            Self::BothWays if pass % 2 == 1 => (0..count).rev().collect(),
            Self::DryReturn | Self::BothWays => (0..count).collect(),
            Self::EverySecond | Self::EverySecondNextStop => {
                let back = (0..count).rev().filter(|outlet| outlet % 2 == 1);
                (0..count).step_by(2).chain(back).collect()
            }
            Self::Listed(list) => list.clone(),
        }
    }

    /// How many stops of the rotation ahead of the pass's own an outlet is watered, by its place in the
    /// line's round as if all were watered in order.
    pub(crate) fn stops_ahead(&self, outlet: usize) -> usize {
        if *self == Self::EverySecondNextStop { outlet % 2 } else { 0 }
    }

    /// Passes until the order comes again.
    pub fn cycle(&self) -> usize {
        if *self == Self::BothWays { 2 } else { 1 }
    }

    /// The share of the return time that the dry way from outlet `from` to outlet `to` takes, of
    /// `count` outlets; 0 where it fits into a usual move.
    pub(crate) fn dry_share(from: usize, to: usize, count: usize) -> f64 {
        let over = from.abs_diff(to);
        if over <= OUTLETS_IN_A_MOVE { 0.0 } else { over as f64 / (count.max(2) - 1) as f64 }
    }

    /// The share of the return time that it takes to get from the last set of pass `pass` to the
    /// first of the next.
    pub(crate) fn return_share(&self, pass: usize, count: usize) -> f64 {
        if *self == Self::DryReturn {
            return 1.0;
        }
        let (this, next) = (self.outlets(pass, count), self.outlets(pass + 1, count));
        match (this.last(), next.first()) {
            (Some(from), Some(to)) => Self::dry_share(*from, *to, count),
            _ => 0.0,
        }
    }

    /// What is wrong with it on a mainline of `count` outlets.
    pub fn problems(&self, count: usize) -> Vec<OrderProblem> {
        let Self::Listed(list) = self else { return Vec::new() };
        let times = |outlet: usize| list.iter().filter(|listed| **listed == outlet).count();
        let mut strange: Vec<usize> = list.iter().copied().filter(|one| *one >= count).collect();
        strange.dedup();
        let missing: Vec<usize> = (0..count).filter(|outlet| times(*outlet) == 0).collect();
        let twice = (0..count).filter(|outlet| times(*outlet) > 1).map(OrderProblem::Twice);
        let strange = strange.into_iter().map(OrderProblem::NoSuch);
        let missing = (!missing.is_empty()).then_some(OrderProblem::Missing(missing));
        missing.into_iter().chain(twice).chain(strange).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn closed_orders_of_five_and_six_outlets_laid_out_by_hand() {
        assert_eq!(SetOrder::DryReturn.outlets(1, 5), [0, 1, 2, 3, 4]);
        assert_eq!(SetOrder::BothWays.outlets(0, 5), [0, 1, 2, 3, 4]);
        assert_eq!(SetOrder::BothWays.outlets(1, 5), [4, 3, 2, 1, 0]);
        assert_eq!(SetOrder::EverySecond.outlets(3, 5), [0, 2, 4, 3, 1]);
        assert_eq!(SetOrder::EverySecond.outlets(0, 6), [0, 2, 4, 5, 3, 1]);
        let next_stop = SetOrder::EverySecondNextStop;
        assert_eq!(next_stop.outlets(2, 6), [0, 2, 4, 5, 3, 1]);
        assert_eq!(
            [0, 2, 4, 5, 3, 1].map(|outlet| next_stop.stops_ahead(outlet)),
            [0, 0, 0, 1, 1, 1]
        );
    }

    #[test]
    fn published_water_both_ways_gives_the_far_end_two_waterings_close_together() {
        // Vardiman 2021, University of Wyoming Extension: watering in both directions waters the end
        // twice in a row. Sets between two waterings of each of four outlets, pass 1 to 2, 2 to 3:
        let place = |pass: usize, outlet: usize| {
            let list = SetOrder::BothWays.outlets(pass, 4);
            4 * pass + list.iter().position(|one| *one == outlet).unwrap()
        };
        let waits = |pass: usize| [0, 1, 2, 3].map(|one| place(pass + 1, one) - place(pass, one));
        assert_eq!((waits(0), waits(1)), ([7, 5, 3, 1], [1, 3, 5, 7]));
    }

    #[test]
    fn closed_only_a_long_dry_way_takes_return_time() {
        assert_eq!(SetOrder::DryReturn.return_share(0, 22), 1.0);
        assert_eq!(SetOrder::BothWays.return_share(0, 22), 0.0);
        // From outlet 2 to outlet 1 of 22: a usual move.
        assert_eq!(SetOrder::EverySecond.return_share(0, 22), 0.0);
        let listed = SetOrder::Listed(vec![3, 2, 1, 0]);
        assert_eq!(listed.return_share(0, 4), 1.0);
        assert_eq!(SetOrder::dry_share(0, 2, 4), 0.0);
    }

    #[test]
    fn closed_bad_lists_are_told() {
        let listed = SetOrder::Listed(vec![0, 1, 1, 7]);
        let found = listed.problems(4);
        let expected =
            [OrderProblem::Missing(vec![2, 3]), OrderProblem::Twice(1), OrderProblem::NoSuch(7)];
        assert_eq!(found, expected);
        assert!(SetOrder::Listed(vec![2, 0, 1]).problems(3).is_empty());
    }

    proptest! {
        #[test]
        fn invariant_every_order_waters_every_outlet_once_a_pass(
            count in 1..40_usize, pass in 0..5_usize, which in 0..4_usize
        ) {
            let mut outlets = SetOrder::RULES[which].outlets(pass, count);
            outlets.sort_unstable();
            prop_assert_eq!(outlets, (0..count).collect::<Vec<_>>());
        }
    }
}
