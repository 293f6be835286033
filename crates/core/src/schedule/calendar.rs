//! When water is to run: starting times, and when a lateral is free again.

use super::openings::Openings;
use super::passes::{PassPlan, Stops};
use super::problem::ScheduleError;
use crate::clock::{FieldClock, hours_between};
use crate::lateral::SetOrder;
use jiff::civil::{DateTime, Time};

/// When water is to run.
#[derive(Clone, Debug, PartialEq)]
pub struct Calendar {
    /// Start of the first set.
    pub start: DateTime,
    /// How many passes, or until when.
    pub length: SeasonLength,
    /// Water runs so long at each stop, h.
    pub set_time_h: f64,
    /// Time to drain, move and reconnect between two sets, h.
    pub move_gap_h: f64,
    /// Starting times a day; `None`: sets follow one another.
    pub sets_a_day: Option<u32>,
    /// Time to bring the lateral from one end of the field back to the other without watering, h
    /// (after the move gap).
    pub return_time_h: f64,
    /// Time without water between passes, h, beyond the way back.
    pub idle_h: f64,
    /// Passes begin at this interval, h; overrides `idle_h`.
    pub pass_every_h: Option<f64>,
    /// The order in which the outlets are watered.
    pub order: SetOrder,
    /// When no water may run, and when somebody is there to start a set.
    pub openings: Openings,
    /// The clock that its times were written in and are shown by; here all are local standard time.
    pub clock: FieldClock,
}

/// How long a season lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SeasonLength {
    /// So many passes.
    Passes(usize),
    /// As many whole passes as end by then.
    Until(DateTime),
}

/// So many closed times in a row are waited for: years of them.
const MOST_WAITS: usize = 4000;
/// Slack on comparisons of times, h: far under a second, far over rounding.
pub(super) const SLACK_H: f64 = 1e-6;

impl Calendar {
    /// Midnight at the start of the first day: hour 0.
    pub fn midnight(&self) -> DateTime {
        self.start.date().to_datetime(Time::midnight())
    }

    /// Hour at which the first set starts.
    pub(super) fn first_start_h(&self) -> f64 {
        hours_between(self.midnight(), self.start)
    }

    /// Hour by which all passes must have ended.
    pub(crate) fn season_end_h(&self) -> f64 {
        match self.length {
            SeasonLength::Passes(_) => f64::INFINITY,
            SeasonLength::Until(end) => hours_between(self.midnight(), end),
        }
    }

    /// Passes at the most.
    pub(crate) fn most_passes(&self) -> usize {
        match self.length {
            SeasonLength::Passes(passes) => passes,
            SeasonLength::Until(_) => usize::MAX,
        }
    }

    /// Hour at which a pass called for `day` begins.
    pub(super) fn called_h(&self, day: i64) -> f64 {
        24.0 * day as f64 + self.first_start_h()
    }

    /// When the lines of `stops` are at the first stops of the next pass after pass `pass`, which ended at
    /// `end_h`.
    pub(crate) fn back_h(&self, pass: usize, stops: &Stops<'_>, end_h: f64) -> f64 {
        end_h + self.move_gap_h + self.return_h(pass, stops)
    }

    /// What the way from the last set of pass `pass` to the first of the next takes, h, beyond a move.
    pub fn return_h(&self, pass: usize, stops: &Stops<'_>) -> f64 {
        self.return_time_h * stops.lines.return_share(&self.order, pass, stops.outlets.count)
    }

    /// When water may run at the next place of a pass, after a set that ended at `end_h`.
    pub(super) fn moved_h(&self, end_h: f64, (from, to): (usize, usize), outlets: usize) -> f64 {
        let dry_h = self.return_time_h * SetOrder::dry_share(from, to, outlets);
        end_h + self.move_gap_h + dry_h
    }

    /// Refuses more sets a day than fit.
    pub(super) fn check_sets_a_day(&self) -> Result<(), ScheduleError> {
        let (set_time_h, move_gap_h) = (self.set_time_h, self.move_gap_h);
        match self.sets_a_day {
            Some(sets) if f64::from(sets) * (set_time_h + move_gap_h) > 24.0 + SLACK_H => {
                Err(ScheduleError::SetsOverlap { sets, set_time_h, move_gap_h })
            }
            _ => Ok(()),
        }
    }

    /// When the lateral has moved on from pass number `pass` and the next may start.
    pub(super) fn next_pass_free_h(
        &self,
        stops: &Stops<'_>,
        pass: usize,
        done: &PassPlan,
    ) -> Result<f64, ScheduleError> {
        let (start_h, end_h) = done.span_h();
        let back_h = self.back_h(pass, stops, end_h);
        match self.pass_every_h {
            None => Ok(back_h + self.idle_h),
            // Whoever had to wait goes on when it can, and keeps the order.
            Some(every_h) if !self.openings.is_always_open() => Ok((start_h + every_h).max(back_h)),
            Some(every_h) if start_h + every_h < back_h - SLACK_H => {
                Err(ScheduleError::PassesOverlap { every_h, needed_h: back_h - start_h })
            }
            Some(every_h) => Ok(start_h + every_h),
        }
    }

    /// The first starting time at or after `free_h` from which a whole set may run; infinite where
    /// there is none.
    pub(super) fn next_start_h(&self, free_h: f64) -> f64 {
        if self.openings.is_always_open() {
            return self.next_slot_h(free_h);
        }
        let (midnight, mut free_h) = (self.midnight(), free_h);
        // After a set that never starts none does.
        let tries = if free_h.is_finite() { MOST_WAITS } else { 0 };
        for _ in 0..tries {
            let start_h = self.next_slot_h(free_h);
            let set_h = (start_h, start_h + self.set_time_h);
            match self.openings.blocked_until_h(midnight, set_h) {
                None => return start_h,
                Some(until_h) => free_h = until_h,
            }
        }
        f64::INFINITY
    }

    /// The first starting time of the day's list at or after `free_h`, open or not.
    fn next_slot_h(&self, free_h: f64) -> f64 {
        let Some(sets) = self.sets_a_day else { return free_h };
        let first_start_h = self.first_start_h();
        let since_h = free_h - first_start_h;
        let day_h = 24.0 * ((since_h + SLACK_H) / 24.0).floor();
        let step_h = self.set_time_h + self.move_gap_h;
        let slot = (((since_h - day_h - SLACK_H) / step_h).ceil()).max(0.0);
        let in_day_h = if slot < f64::from(sets) { slot * step_h } else { 24.0 };
        first_start_h + day_h + in_day_h
    }
}
