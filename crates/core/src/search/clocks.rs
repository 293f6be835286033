//! Clocks: changes of the calendar alone that break the clock lock, and what each costs.
//!
//! When the sets of a pass fill whole days, every place meets the same half of the day all season.
//! Half a day without water between passes moves each pass to the other half; starting in the other
//! half swaps which places meet the day. One set more or fewer a pass does it too: that is an edge
//! treatment (one set more) or a layout (number of outlets), not a clock.
//!
//! All candidates run the same number of passes, so that they can be compared; what a clock or a
//! set more costs is told as days by which the season ends later, and as passes that would be lost
//! if it had to end when the fixed pattern's does.

use crate::schedule::{Calendar, Plan, SeasonLength};

/// A change of the calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClockChange {
    /// None.
    AsGiven,
    /// Half a day more without water between passes.
    IdleHalfDay,
    /// The season starts twelve hours later or earlier, on the same day.
    OtherHalf,
    /// Both.
    IdleAndOtherHalf,
}

/// Half a day, h.
const HALF_DAY_H: f64 = 12.0;
/// Slack on comparisons of times, h.
const SLACK_H: f64 = 1e-6;

impl ClockChange {
    /// All of them.
    pub const ALL: [Self; 4] =
        [Self::AsGiven, Self::IdleHalfDay, Self::OtherHalf, Self::IdleAndOtherHalf];

    /// In the words of reports.
    pub fn words(self) -> &'static str {
        match self {
            Self::AsGiven => "same starting hours",
            Self::IdleHalfDay => "half a day idle between passes",
            Self::OtherHalf => "started in the other half of the day",
            Self::IdleAndOtherHalf => {
                "half a day idle between passes, started in the other half of the day"
            }
        }
    }

    fn idles(self) -> bool {
        matches!(self, Self::IdleHalfDay | Self::IdleAndOtherHalf)
    }

    fn starts_otherwise(self) -> bool {
        matches!(self, Self::OtherHalf | Self::IdleAndOtherHalf)
    }

    /// `given` with this change and `passes` passes.
    pub fn calendar(self, given: &Calendar, passes: usize) -> Calendar {
        let mut calendar = Calendar { length: SeasonLength::Passes(passes), ..given.clone() };
        if self.idles() {
            match &mut calendar.pass_every_h {
                Some(every_h) => *every_h += HALF_DAY_H,
                None => calendar.idle_h += HALF_DAY_H,
            }
        }
        if self.starts_otherwise() {
            let start = given.start;
            let hour = (start.hour() + 12) % 24;
            calendar.start = start.date().at(hour, start.minute(), 0, 0);
        }
        calendar
    }
}

/// What a schedule costs in time, against the fixed pattern's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeCost {
    /// Start of pass 1 to start of pass 2, h; `None` with one pass.
    pub pass_every_h: Option<f64>,
    /// Days by which the season ends later than the fixed pattern's (−: earlier).
    pub days_longer: f64,
    /// Passes that end after the fixed pattern's season.
    pub passes_late: usize,
    /// Every place always meets the same half of the day.
    pub is_locked: bool,
}

impl TimeCost {
    /// What `plan` costs against `baseline`.
    pub fn of(plan: &Plan, baseline: &Plan) -> Self {
        let end_h = baseline.end_h();
        let start_h = |pass: usize| plan.passes.get(pass).map(|pass| pass.span_h().0);
        let late = |pass: &&crate::schedule::PassPlan| pass.span_h().1 > end_h + SLACK_H;
        Self {
            pass_every_h: start_h(1).zip(start_h(0)).map(|(second, first)| second - first),
            days_longer: (plan.end_h() - end_h) / 24.0,
            passes_late: plan.passes.iter().filter(late).count(),
            is_locked: plan.day_night.is_locked(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lateral::{EdgeTreatment, Lines};
    use crate::schedule::{Stops, plan};
    use crate::season::tests::{alternative, scenario, sprinkler};
    use crate::sprinkler::shape::Shape;

    fn planned(clock: ClockChange, edges: EdgeTreatment, shifts_ft: &[f64]) -> Plan {
        let alternative = alternative("a", shifts_ft, sprinkler(Shape::Triangular, 90.0));
        let scenario = scenario(4.0, 4, vec![alternative.clone()]);
        let stops = Stops {
            machine: &alternative.lateral.machine,
            outlets: &alternative.outlets,
            rotation: &alternative.rotation,
            edges,
            lines: Lines::default(),
        };
        plan(&clock.calendar(&scenario.calendar, 4), &stops).unwrap()
    }

    #[test]
    fn closed_half_a_day_idle_unlocks_and_costs_half_a_day_a_pass() {
        // 6 sets, 2 a day: 3 days a pass, locked. With 12 h between: 84 h a pass, 3 gaps of 12 h.
        let given = planned(ClockChange::AsGiven, EdgeTreatment::Shift, &[0.0]);
        let idle = planned(ClockChange::IdleHalfDay, EdgeTreatment::Shift, &[0.0]);
        let cost = TimeCost::of(&idle, &given);
        assert_eq!(cost.pass_every_h, Some(84.0));
        assert!((cost.days_longer - 1.5).abs() < 1e-9 && !cost.is_locked);
        // Passes end at 72, 156, 240, 324 h; the season at 288: the last one is late.
        assert_eq!(cost.passes_late, 1);
        let own = TimeCost::of(&given, &given);
        assert_eq!((own.pass_every_h, own.days_longer, own.passes_late), (Some(72.0), 0.0, 0));
        assert!(own.is_locked);
    }

    #[test]
    fn closed_the_other_half_starts_at_six_in_the_evening_of_the_same_day() {
        let other = planned(ClockChange::OtherHalf, EdgeTreatment::Shift, &[0.0]);
        assert_eq!(other.passes[0].sets[0].start_h, 18.0);
        assert!(other.day_night.is_locked());
        // One set more in shifted passes: 7 sets break the lock by themselves.
        let more = planned(ClockChange::AsGiven, EdgeTreatment::ExtraSet, &[15.0]);
        assert!(!more.day_night.is_locked());
    }
}
