//! What whoever moves the line is handed, as written.

use crate::declare::{choice, section};
use crate::limits;
use crate::read_plain::{List, Text};

choice! {
    /// How the clock is written on the move sheet.
    pub ClockFace {
        /// With am and pm.
        TwelveHours = "12-hour",
        /// From 0:00 to 24:00.
        TwentyFourHours = "24-hour",
    }
}

choice! {
    /// The language of the move sheet.
    pub SheetLanguage {
        /// English.
        English = "en",
        /// Spanish; from memory, not reviewed by a native speaker.
        Spanish = "es",
    }
}

section! {
    /// The move sheet: its language, its clock, and whom to call.
    SheetFile {
        /// Whom to call when something goes wrong, such as "Pump house: 555-0100"; a line each.
        contact: Option<List<Text, { limits::MOST_CONTACTS }>>,
            "Whom to call", else "left blank, to fill in by hand";
        /// How the clock is written: 12-hour has am and pm.
        clock: Option<ClockFace>, "Clock of the sheet", else "12-hour in US units, 24-hour in SI units";
        /// Language of the sheet: en is English, es Spanish.
        language: Option<SheetLanguage>,
            "Language of the sheet", else "en" because "the language of everything else";
    }
}
