//! Dates and times as the page gets them.

use evenfall_core::schedule::Plan;

/// Local date and time of an hour of the season.
pub(crate) fn iso(plan: &Plan, hour_h: f64) -> String {
    plan.date_time(hour_h).strftime("%Y-%m-%dT%H:%M").to_string()
}
