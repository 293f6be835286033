//! Why no schedule can be made.

use crate::lateral::OutOfReach;

/// Hours, and from two days on days as well.
fn days(hours_h: f64) -> String {
    if hours_h < 48.0 {
        return format!("{hours_h} h");
    }
    let days = (hours_h / 24.0 * 10.0).round() / 10.0;
    format!("{hours_h} h ({days} days)")
}

/// Why no schedule can be made.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum ScheduleError {
    /// More sets a day than fit.
    #[error("{sets} sets a day of {set_time_h} h with {move_gap_h} h between them overlap: they need {} h of the 24", f64::from(*sets) * (set_time_h + move_gap_h))]
    SetsOverlap {
        /// Sets a day asked for.
        sets: u32,
        /// Set time, h.
        set_time_h: f64,
        /// Gap for the move, h.
        move_gap_h: f64,
    },
    /// The next pass would start before the last one is over.
    #[error("a pass every {} overlaps: one pass takes {} with the way back", days(*every_h), days(*needed_h))]
    PassesOverlap {
        /// Interval asked for, h.
        every_h: f64,
        /// Time one pass takes, h.
        needed_h: f64,
    },
    /// Water is called by depletion, and never is.
    #[error("the root zone never calls for water in one of the seasons, so no pass runs")]
    NoCall,
    /// A listed order of outlets does not fit them.
    #[error("the listed order of outlets does not fit {outlets} outlets, each once")]
    Order {
        /// Outlets that there are.
        outlets: usize,
    },
    /// Lines that cannot share the outlets.
    #[error(
        "{lines} lines cannot share {outlets} outlets: every line needs one, and on both sides of a mainline there are as many lines on each"
    )]
    Lines {
        /// Lines.
        lines: usize,
        /// Outlets that there are.
        outlets: usize,
    },
    /// Every starting time is closed.
    #[error(
        "no set can ever start: its starting times all fall in hours without anybody to move the line or in times without water"
    )]
    NeverOpen,
    /// No whole turn of the wheels comes near enough to an outlet.
    #[error(transparent)]
    OutOfReach(#[from] OutOfReach),
    /// Not one whole pass fits.
    #[error("the season holds no whole pass: one takes {} and the season lasts {}", days(*needed_h), days(*season_h))]
    NoPass {
        /// Time one pass takes, h.
        needed_h: f64,
        /// Length of the season, h.
        season_h: f64,
    },
}
