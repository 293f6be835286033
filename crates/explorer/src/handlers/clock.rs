//! Dates and times as the page gets them.

use evenfall_core::schedule::Plan;

/// What the field's clock shows at an hour of the season.
pub(crate) fn iso(plan: &Plan, hour_h: f64) -> String {
    plan.shown(hour_h).at.strftime("%Y-%m-%dT%H:%M").to_string()
}
