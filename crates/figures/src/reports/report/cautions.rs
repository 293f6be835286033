//! Standing limits of every report; its cautions are those of [`crate::reports::cautions`].

/// Limits of a page about the water of one season alone.
pub(super) const LIMITS_OF_ONE_SEASON: [&str; 2] = [
    "This page is about water on the ground. Whether better uniformity pays in yield or money \
     depends on soil, crop and cost, which are not calculated here.",
    ONE_SEASON,
];

/// What one season cannot say.
pub const ONE_SEASON: &str = "One season was simulated. Another season’s wind would change these \
     figures, and models of this kind miss measured CU by about 3 points (standard error 3.09: \
     Playán et al. 2006, abstract). Treat a difference of 1 or 2 points of CU or DUlq as a tie.";

/// What the page can never claim, whatever was computed.
pub(super) const LIMITS: [&str; 2] = [
    "Figures are calculated over grid cells, not catch cans; a field test also has the cans’ own \
     scatter.",
    "A sprinkler that is worn, plugged, tilted or at a pressure other than stated has a different \
     pattern from the one simulated.",
];
