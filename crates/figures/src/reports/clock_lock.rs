//! What to do about a clock lock, in words.

use evenfall_core::schedule::Calendar;

/// What would break a clock lock under such a calendar. With one set a day, every pass starts at the
/// same hour again, whatever the number of sets and the days between: only another hour helps.
pub(crate) fn breaks_clock_lock(calendar: &Calendar) -> &'static str {
    match calendar.sets_a_day {
        Some(1) => {
            "With one set a day neither an odd number of sets nor an idle half day breaks it: run \
             every other pass in the other half of the day, or two sets a day."
        }
        _ => "An odd number of sets or an idle half day breaks it.",
    }
}
