//! Times of a log, as the field's clock shows them, and the hours of the plan that they are.

use evenfall_core::clock::{FieldClock, hours_between};
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use jiff::ToSpan as _;
use jiff::civil::DateTime;
use jiff::tz::Offset;

/// From times to hours of the plan and back.
#[derive(Clone, Copy, Debug)]
pub(super) struct Hours<'a> {
    midnight: DateTime,
    clock: &'a FieldClock,
}

impl<'a> Hours<'a> {
    pub(super) fn of(scenario: &'a Scenario, plan: Option<&Plan>) -> Self {
        let midnight = plan.map_or(scenario.calendar.midnight(), |plan| plan.midnight);
        Self { midnight, clock: &scenario.calendar.clock }
    }

    /// The hour at which the clock shows `at`, of two such the one at `offset`.
    pub(super) fn hour(&self, at: DateTime, offset: Option<Offset>) -> f64 {
        hours_between(self.midnight, self.clock.standard(at, offset))
    }

    /// What the clock shows at an hour, to the minute.
    pub(super) fn shown(&self, hour_h: f64) -> DateTime {
        self.clock.shown(self.standard(hour_h)).at
    }

    /// The same as it is written, so that it is read back as the same hour.
    pub(super) fn written(&self, hour_h: f64) -> String {
        self.clock.shown(self.standard(hour_h)).to_string()
    }

    fn standard(&self, hour_h: f64) -> DateTime {
        self.midnight.saturating_add(((hour_h * 60.0).round() as i64).minutes())
    }
}
