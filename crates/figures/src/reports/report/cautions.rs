//! Standing limits of every report; its cautions are those of [`crate::reports::cautions`].

/// Limits of a page about the water of one season alone.
pub(super) const LIMITS_OF_ONE_SEASON: [&str; 2] = [
    "This page is about water on the ground. Whether more even water pays in yield or money is a \
     further question: it depends on soil, crop and cost, which are not reckoned here.",
    ONE_SEASON,
];

/// What one season cannot say.
pub const ONE_SEASON: &str = "One season was simulated. Another season’s wind would move these figures; \
     a difference of about a point of CU or DUlq is not worth the name.";

/// What the page can never claim, whatever was computed.
pub(super) const LIMITS: [&str; 2] = [
    "Uniformity are taken over grid cells, not catch cans; a field test with cans also has the cans’ \
     own scatter.",
    "A sprinkler that is worn, plugged, tilted or at another pressure than stated lays another \
     pattern than the one simulated.",
];
