//! Times without water and hours without hands, as written.

use crate::declare::{choice, section};
use crate::limits;
use crate::read::Count;
use crate::read_plain::{Moment, Text};
use crate::read_quantity::Quantity;
use jiff::civil::Weekday;

choice! {
    /// A day of the week.
    pub(crate) WeekdayName {
        /// First.
        Monday = "Monday",
        /// Second.
        Tuesday = "Tuesday",
        /// Third.
        Wednesday = "Wednesday",
        /// Fourth.
        Thursday = "Thursday",
        /// Fifth.
        Friday = "Friday",
        /// Sixth.
        Saturday = "Saturday",
        /// Seventh.
        Sunday = "Sunday",
    }
}

impl From<WeekdayName> for Weekday {
    fn from(name: WeekdayName) -> Self {
        match name {
            WeekdayName::Monday => Self::Monday,
            WeekdayName::Tuesday => Self::Tuesday,
            WeekdayName::Wednesday => Self::Wednesday,
            WeekdayName::Thursday => Self::Thursday,
            WeekdayName::Friday => Self::Friday,
            WeekdayName::Saturday => Self::Saturday,
            WeekdayName::Sunday => Self::Sunday,
        }
    }
}

section! {
    /// A time without water: sets that would run into it wait until it is over.
    ClosedFile {
        /// Why no water may run: a cutting, spraying, somebody else's canal turn, frost.
        reason: Text, "Reason";
        /// Day and clock time from which no water may run.
        from: Moment, "Closed from";
        /// How long, such as the dry days before a cutting and those until the hay is off the field.
        lasts: Quantity<limits::ClosedTime>, "Closed for";
        /// From the start of one to the start of the next, where it comes again, such as cuttings.
        every: Option<Quantity<limits::ClosedEvery>>, "Comes again after", else "once";
        /// How often it comes in all.
        times: Option<Count<limits::ClosedTimes>>, "Number of times", else "as often as the season holds";
    }
}
