//! The clock: passes of sets with real start and end times.
//!
//! A pass takes the sets in order of outlet; then the line is rolled (or carried) back to the
//! start. Times are hours from midnight of the season's first day, local standard time.
//!
//! With *sets a day* given, each day has that many starting times, `set + gap` apart from the
//! season's starting hour on, and the next pass begins at the first of them that is free after
//! rolling back and idling. Without it, sets follow one another without pause. With *a pass every*
//! so long, passes begin at that interval.

use crate::rotation::Shift;
use jiff::civil::DateTime;

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
    /// Time to bring the lateral back to the first outlet after a pass, h (after the move gap).
    pub return_time_h: f64,
    /// Time without water between passes, h, beyond the way back.
    pub idle_h: f64,
    /// Passes begin at this interval, h; overrides `idle_h`.
    pub pass_every_h: Option<f64>,
}

/// How long a season lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SeasonLength {
    /// So many passes.
    Passes(usize),
    /// As many whole passes as end by then.
    Until(DateTime),
}

/// One watering at one stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPlan {
    /// Outlet (from 0).
    pub outlet: usize,
    /// y of the lateral, m.
    pub place_across_m: f64,
    /// Start, h from midnight of the first day.
    pub start_h: f64,
    /// End, h from midnight of the first day.
    pub end_h: f64,
}

/// All sets across the field once.
#[derive(Clone, Debug, PartialEq)]
pub struct PassPlan {
    /// The shift taken in this pass.
    pub shift: Shift,
    /// Letter of that shift.
    pub letter: char,
    /// The sets in order.
    pub sets: Vec<SetPlan>,
}

/// A whole season's sets for one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Midnight at the start of the first day: hour 0.
    pub midnight: DateTime,
    /// Passes in order.
    pub passes: Vec<PassPlan>,
    /// Passes in one cycle of the rotation.
    pub cycle: usize,
    /// Passes left over after the last whole cycle.
    pub passes_into_cycle: usize,
    /// Day and night as they fell.
    pub day_night: DayNight,
}

/// How the sets of a season fell by day and night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayNight {
    /// Share of the set hours between 06:00 and 18:00.
    pub day_share: f64,
    /// Places (outlets) that met the same half of the day in every pass.
    pub locked_places: usize,
    /// All places.
    pub places: usize,
}

impl DayNight {
    /// Every place always met the same half of the day, both halves were used, and there was more
    /// than one pass.
    pub fn is_locked(&self) -> bool {
        self.locked_places == self.places && self.places > 0
    }
}
