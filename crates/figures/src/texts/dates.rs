//! Days, months and times of day.

use super::text::{Language, Text, texts};
use jiff::civil::{Date, Weekday};

texts! {
    MONDAY: "Mon", "lun";
    TUESDAY: "Tue", "mar";
    WEDNESDAY: "Wed", "mié";
    THURSDAY: "Thu", "jue";
    FRIDAY: "Fri", "vie";
    SATURDAY: "Sat", "sáb";
    SUNDAY: "Sun", "dom";
    JANUARY: "January", "enero";
    FEBRUARY: "February", "febrero";
    MARCH: "March", "marzo";
    APRIL: "April", "abril";
    MAY: "May", "mayo";
    JUNE: "June", "junio";
    JULY: "July", "julio";
    AUGUST: "August", "agosto";
    SEPTEMBER: "September", "septiembre";
    OCTOBER: "October", "octubre";
    NOVEMBER: "November", "noviembre";
    DECEMBER: "December", "diciembre";
    DAY_FIRST: "{weekday} {day} {month}", "{weekday} {day} {month}";
    MONTH_FIRST: "{weekday} {month} {day}", "{weekday} {day} {month}";
    DAY_MONTH: "{day} {month}", "{day} de {month}";
    DAY_MONTH_YEAR: "{day} {month} {year}", "{day} de {month} de {year}";
    MONTH_YEAR: "{month} {year}", "{month} de {year}";
    MORNING: "{time}\u{a0}am", "{time}\u{a0}a.m.";
    AFTERNOON: "{time}\u{a0}pm", "{time}\u{a0}p.m.";
    NOON: "noon", "mediodía";
    MIDNIGHT: "midnight", "medianoche";
    PASS_DAY: "day {n}", "día {n}";
}

/// From Monday on.
pub(crate) const WEEKDAYS: [Text; 7] =
    [MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, SATURDAY, SUNDAY];

/// From January on.
pub(crate) const MONTHS: [Text; 12] = [
    JANUARY, FEBRUARY, MARCH, APRIL, MAY, JUNE, JULY, AUGUST, SEPTEMBER, OCTOBER, NOVEMBER,
    DECEMBER,
];

/// Letters of a short month, in both languages.
const SHORT: usize = 3;

/// A day of the week in short.
pub(crate) fn weekday(language: Language, day: Weekday) -> &'static str {
    WEEKDAYS[day.to_monday_zero_offset() as usize].of(language)
}

/// The name of a date's month.
pub(crate) fn month(language: Language, date: Date) -> &'static str {
    MONTHS[date.month() as usize - 1].of(language)
}

/// The same in short.
pub(crate) fn short_month(language: Language, date: Date) -> &'static str {
    let name = month(language, date);
    name.get(..SHORT).unwrap_or(name)
}

/// "10 May", "10 de mayo".
pub(crate) fn day_month(language: Language, date: Date) -> String {
    DAY_MONTH.with(language, &[("day", &date.day()), ("month", &month(language, date))])
}

/// "10 May 2027", "10 de mayo de 2027".
pub(crate) fn day_month_year(language: Language, date: Date) -> String {
    let (name, year) = (month(language, date), date.year());
    DAY_MONTH_YEAR.with(language, &[("day", &date.day()), ("month", &name), ("year", &year)])
}
