//! Cautions, in one place for report, move sheet and maintenance list. They restate common safety advice
//! (farm electricity safety programmes; common practice where no source is named).

/// What, then the words.
pub const CAUTIONS: [(&str, &str); 7] = [
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
        "Where fertilizer or pesticide is fed in, follow the label and the rules for backflow \
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

/// The same in one breath, for the head of a page that is carried into the field.
pub const CAUTIONS_IN_SHORT: &str = "Look up: keep pipe and jets clear of power lines, and \
    carry pipe level, never upright. Shut off, let the pressure off and drain before you uncouple or \
    move. Keep everybody clear of a line that rolls. Brace or stake it after the move. Keep out of spray that carries chemicals. Local \
    codes, the maker’s manual and licensed practice go before this sheet.";
