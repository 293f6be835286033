//! Cautions, in one place for report, move sheet and maintenance list. They restate common safety advice
//! (farm electricity safety programs; common practice where no source is named).

/// What, then the words.
pub const CAUTIONS: [(&str, &str); 7] = [
    (
        "Power lines",
        "Metal pipe conducts electricity. Look up first. Keep pipe and wheel lines at least 15 ft \
         (4.6 m) from power lines, carry pipe level, move on calm days, store equipment at least \
         100 ft (30 m) from lines, and never let a jet reach a line.",
    ),
    (
        "Pressure",
        "Hoses, valves and couplers under pressure can burst or whip. Shut the outlet, bleed off the \
         pressure and drain the pipe before you uncouple or move anything.",
    ),
    (
        "Rolling machinery",
        "A rolling lateral does not stop for people, ditches or stones. Walk the path first, keep \
         others clear, stand clear yourself, and keep hands and clothing away from the drive and \
         wheels.",
    ),
    (
        "Parked laterals and wind",
        "Wind can blow an empty lateral across the field. Brace or stake it after every move and \
         whenever it stands idle.",
    ),
    (
        "Chemicals in the water",
        "When fertilizer or pesticide is injected, follow the label and the backflow protection \
         rules, and keep people out of spray and drift. An uneven pattern is an uneven dose.",
    ),
    (
        "Stops away from the outlet",
        "Check that the hose or swing joint really reaches each shifted stop without strain, kinks \
         or dragging over the crop, and keep the rotation in order all season.",
    ),
    (
        "What comes first",
        "Local codes, the maker’s manual and licensed practice come before anything printed here.",
    ),
];

/// The same in one breath, for the head of a page that is carried into the field.
pub(crate) const CAUTIONS_IN_SHORT: &str = "Look up. Keep pipe and jets clear of power lines; carry pipe \
    level, never upright. Shut off, bleed off the pressure and drain before you uncouple or move. \
    Keep everyone clear of a rolling line. Brace or stake it after the move. Stay out of spray that \
    carries chemicals. Local codes, the maker’s manual and licensed practice come before this sheet.";
