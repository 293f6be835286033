//! Words that the pictures of the worth share.

use evenfall_view::worth::{Against, AlternativeWorth, Worth};

/// "Net return, USD per acre per year".
pub(super) fn money_label(view: &Worth, what: &str) -> String {
    format!("{what}, {}", view.money_unit)
}

/// An alternative with its place in the scenario and how it stands against the baseline.
pub(super) type Rival<'a> = (usize, &'a AlternativeWorth, &'a Against);

/// "50 seasons", or "12 of 50 seasons (partial run)".
pub(super) fn seasons(view: &Worth) -> String {
    if view.is_partial {
        format!("{} of {} seasons (partial run)", view.seasons_finished, view.seasons_wanted)
    } else {
        format!("{} seasons", view.seasons_finished)
    }
}
