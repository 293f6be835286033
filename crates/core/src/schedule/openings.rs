//! When no water may run, and when nobody is there to move the line.
//!
//! A *closure* is a span of time without water: a cutting with the days before and after it, spraying, a
//! canal turn that is somebody else's, a frost night. A set that would run into one waits until it is
//! over; it is never cut in two. *Hands* are the hours of the day and the days of the week on which
//! somebody is there to start a set. Sets wait and keep their order, and so does the rotation.
//!
//! Common practice, no source. Neglected: that a set may end while nobody is there; water is taken to be
//! shut off when the set time is over.

use crate::clock::hours_between;
use jiff::ToSpan;
use jiff::civil::{DateTime, Weekday};

/// A span of time without water.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Closure {
    /// From when.
    pub from: DateTime,
    /// Until when.
    pub to: DateTime,
    /// Why, in a word or two.
    pub why: String,
}

/// When somebody is there to start a set.
#[derive(Clone, Debug, PartialEq)]
pub struct Hands {
    /// From this hour of the day on, h.
    pub from_h: f64,
    /// Until this hour of the day, h.
    pub to_h: f64,
    /// Days of the week without anybody.
    pub days_off: Vec<Weekday>,
}

impl Default for Hands {
    /// Around the clock on every day.
    fn default() -> Self {
        Self { from_h: 0.0, to_h: 24.0, days_off: Vec::new() }
    }
}

/// When sets may start and water may run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Openings {
    /// Times without water.
    pub closures: Vec<Closure>,
    /// Hours with somebody there.
    pub hands: Hands,
}

/// Why a set waits where nobody is there.
pub const NOBODY: &str = "nobody there to move the line";
/// Slack on comparisons of times, h.
const SLACK_H: f64 = 1e-6;

impl Openings {
    /// Whether nothing is ever closed.
    pub fn is_always_open(&self) -> bool {
        self.closures.is_empty() && self.hands == Hands::default()
    }

    /// Until when a set from `start_h` to `end_h` cannot start, h from `midnight`; `None` if it can.
    pub(super) fn blocked_until_h(
        &self,
        midnight: DateTime,
        (start_h, end_h): (f64, f64),
    ) -> Option<f64> {
        let spans = self.closures.iter().map(|closure| span_h(closure, midnight));
        let hit =
            spans.filter(|(from_h, to_h)| *from_h < end_h - SLACK_H && start_h < to_h - SLACK_H);
        let closed = hit.map(|(_, to_h)| to_h).reduce(f64::max);
        closed.or_else(|| self.without_hands_until_h(midnight, start_h))
    }

    /// Until when nobody is there, h from `midnight`; `None` if somebody is.
    fn without_hands_until_h(&self, midnight: DateTime, start_h: f64) -> Option<f64> {
        let day = ((start_h + SLACK_H) / 24.0).floor();
        let (in_day_h, hands) = (start_h - 24.0 * day, &self.hands);
        let date = midnight.saturating_add((day as i64).days());
        if hands.days_off.contains(&date.weekday()) {
            return Some(24.0 * (day + 1.0) + hands.from_h);
        }
        if in_day_h < hands.from_h - SLACK_H {
            return Some(24.0 * day + hands.from_h);
        }
        (in_day_h > hands.to_h + SLACK_H).then_some(24.0 * (day + 1.0) + hands.from_h)
    }

    /// Why nothing started between `from_h` and `to_h`, each reason once; empty where nothing was closed.
    pub fn reasons(&self, midnight: DateTime, (from_h, to_h): (f64, f64)) -> Vec<&str> {
        let mut reasons: Vec<&str> = Vec::new();
        for closure in &self.closures {
            let (closed_h, open_h) = span_h(closure, midnight);
            let is_met = closed_h < to_h - SLACK_H && from_h < open_h - SLACK_H;
            if is_met && !reasons.contains(&closure.why.as_str()) {
                reasons.push(&closure.why);
            }
        }
        if reasons.is_empty() && self.without_hands_until_h(midnight, from_h).is_some() {
            reasons.push(NOBODY);
        }
        reasons
    }
}

fn span_h(closure: &Closure, midnight: DateTime) -> (f64, f64) {
    (hours_between(midnight, closure.from), hours_between(midnight, closure.to))
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn cutting() -> Openings {
        let closure = Closure {
            from: date(2026, 5, 5).at(12, 0, 0, 0),
            to: date(2026, 5, 9).at(6, 0, 0, 0),
            why: "cutting".to_owned(),
        };
        Openings { closures: vec![closure], ..Openings::default() }
    }

    #[test]
    fn closed_a_set_that_would_run_into_a_closure_waits_until_it_is_over() {
        let midnight = date(2026, 5, 4).at(0, 0, 0, 0);
        // Closed from hour 36 to hour 126.
        let until = |start_h: f64| cutting().blocked_until_h(midnight, (start_h, start_h + 11.5));
        assert_eq!((until(24.5), until(24.6), until(126.0)), (None, Some(126.0), None));
        assert_eq!(cutting().reasons(midnight, (30.0, 126.0)), ["cutting"]);
        assert!(cutting().reasons(midnight, (126.0, 130.0)).is_empty());
    }

    #[test]
    fn closed_nobody_starts_a_set_at_night_or_on_a_day_off() {
        // 4 May 2026 is a Monday; Sunday the 10th begins at hour 144.
        let midnight = date(2026, 5, 4).at(0, 0, 0, 0);
        let hands = Hands { from_h: 6.0, to_h: 19.0, days_off: vec![Weekday::Sunday] };
        let openings = Openings { hands, ..Openings::default() };
        let until = |start_h: f64| openings.blocked_until_h(midnight, (start_h, start_h + 1.0));
        assert_eq!((until(5.0), until(6.0), until(19.0)), (Some(6.0), None, None));
        assert_eq!((until(20.0), until(150.0)), (Some(30.0), Some(174.0)));
        assert_eq!(openings.reasons(midnight, (20.0, 30.0)), [NOBODY]);
    }
}
