//! Standing limits of every report; its cautions are those of [`crate::cautions`].

/// Limits of a page about the water of one season alone.
pub(super) const LIMITS_OF_ONE_SEASON: [&str; 2] = [
    "This page is about water on the ground. Whether more even water pays in yield or money is a \
     further question: it depends on soil, crop and cost, which are not reckoned here.",
    "One season was simulated. Another season’s wind would move these figures; a difference of \
     about a point of CU or DUlq is not worth the name.",
];

/// What the page can never claim, whatever was computed.
pub(super) const LIMITS: [&str; 2] = [
    "Figures are taken over grid cells, not catch cans; a field test with cans also has the cans’ \
     own scatter.",
    "A sprinkler that is worn, plugged, tilted or at another pressure than stated lays another \
     pattern than the one simulated.",
];

/// Cautions: what, then the words.
pub(crate) const CAUTIONS: [(&str, &str); 7] = [
    (
        "Power lines",
        "Metal pipe conducts. Look up first; keep pipe and wheel lines at least 15 ft (4.6 m) from \
         power lines, carry pipe level, move on calm days, store equipment at least 100 ft (30 m) \
         from lines, and never let a jet reach a line.",
    ),
    (
        "Pressure",
        "Hoses, valves and couplers under pressure can burst or whip. Shut the outlet, let the \
         pressure off and drain the pipe before uncoupling or moving anything.",
    ),
    (
        "Rolling machinery",
        "A lateral that rolls does not stop for people, ditches or stones. Walk the way first, keep \
         others clear, stand clear yourself, keep hands and clothing from drive and wheels.",
    ),
    (
        "Wind-loose laterals",
        "An empty lateral can blow away across the field. Brace or stake it after each move and \
         whenever it stands idle.",
    ),
    (
        "Chemicals in the water",
        "Where fertiliser or pesticide is fed in, follow the label and the rules for backflow \
         protection; keep people out of spray and drift. An uneven pattern is an uneven dose.",
    ),
    (
        "Stops beside the outlet",
        "Check that hose or swing joint truly reaches a shifted stop without strain, kink or drag \
         over the crop, and keep the rotation in order all season.",
    ),
    (
        "What goes before this page",
        "Local codes, the maker’s manual and licensed practice go before anything printed here.",
    ),
];
