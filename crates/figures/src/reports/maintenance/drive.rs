//! Move time against temperature in words: what cold does to the gap between sets.

use crate::texts::{Language, drive as texts, page};
use evenfall_core::machine::drive::Drive;
use evenfall_core::schedule::Calendar;
use evenfall_view::units::{UnitSystem, number};

/// Temperatures between which the gap is judged, °C: beyond them nobody irrigates; judgment.
const RANGE_C: (f64, f64) = (-10.0, 45.0);

/// Move times at a few temperatures, and what they mean for the gap.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MoveTimes {
    /// Temperature, time, and whether the fit reaches beyond the timed moves there.
    pub(crate) rows: Vec<MoveTime>,
    /// What it means, one sentence an entry.
    pub(crate) words: Vec<String>,
}

/// The time of a move at one temperature.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MoveTime {
    pub(crate) temperature: String,
    pub(crate) time: String,
    pub(crate) fits: bool,
    pub(crate) is_beyond: bool,
}

/// The table and the words for a drive whose sets run by `calendar`.
/// `air_c` is the air at each move of the season.
pub(crate) fn move_times(
    drive: &Drive,
    calendar: &Calendar,
    air_c: &[f64],
    (units, language): (UnitSystem, Language),
) -> MoveTimes {
    let gap_h = calendar.move_gap_h;
    let celsius: Vec<f64> = match units {
        UnitSystem::Us => (0..6).map(|i| (20.0 + 15.0 * f64::from(i) - 32.0) / 1.8).collect(),
        UnitSystem::Si => (0..6).map(|i| -5.0 + 8.0 * f64::from(i)).collect(),
    };
    let row = |celsius: &f64| MoveTime {
        temperature: temperature(units, *celsius),
        time: minutes(drive.move_time_h(*celsius)),
        fits: drive.move_time_h(*celsius) <= gap_h,
        is_beyond: drive.is_beyond(*celsius),
    };
    let mut words = vec![gap_words(drive, gap_h, (units, language))];
    words.extend(day_words(calendar, language));
    words.extend(season_words(drive, gap_h, air_c, (units, language)));
    let (coldest_c, warmest_c) = drive.timed_c();
    words.push(texts::FITTED.with(
        language,
        &[
            ("coldest", &temperature(units, coldest_c)),
            ("warmest", &temperature(units, warmest_c)),
            ("power", &number(drive.exponent(), 2)),
        ],
    ));
    if drive.largest_miss > 0.005 {
        let miss = number(100.0 * drive.largest_miss, 0);
        words.push(texts::MISS.with(language, &[("miss", &miss)]));
    }
    MoveTimes { rows: celsius.iter().map(row).collect(), words }
}

/// What cold does to the gap, in one sentence.
pub(crate) fn gap_words(
    drive: &Drive,
    gap_h: f64,
    (units, language): (UnitSystem, Language),
) -> String {
    let gap = minutes(gap_h);
    let limit_c = match drive.too_cold_below_c(gap_h, RANGE_C) {
        None => return texts::GAP_ENOUGH.with(language, &[("gap", &gap)]),
        Some(limit_c) if limit_c >= RANGE_C.1 => {
            return texts::GAP_TOO_SHORT.with(language, &[("gap", &gap)]);
        }
        Some(limit_c) => limit_c,
    };
    let cold_c = match units {
        UnitSystem::Us => ((1.8 * limit_c + 32.0 - 10.0) / 5.0).floor() * 5.0,
        UnitSystem::Si => ((limit_c - 5.0) / 5.0).floor() * 5.0,
    };
    let cold_c = if units == UnitSystem::Us { (cold_c - 32.0) / 1.8 } else { cold_c };
    let beyond = if drive.is_beyond(cold_c) { page::BEYOND.of(language) } else { "" };
    texts::GAP_IN_COLD.with(
        language,
        &[
            ("limit", &temperature(units, limit_c)),
            ("gap", &gap),
            ("cold", &temperature(units, cold_c)),
            ("time", &minutes(drive.move_time_h(cold_c))),
            ("beyond", &beyond),
        ],
    )
}

/// What the season's air makes of the moves: how many are slower than the gap, and the labor.
fn season_words(
    drive: &Drive,
    gap_h: f64,
    air_c: &[f64],
    (units, language): (UnitSystem, Language),
) -> Option<String> {
    let coldest_c = air_c.iter().copied().reduce(f64::min)?;
    let times: Vec<f64> = air_c.iter().map(|celsius| drive.move_time_h(*celsius)).collect();
    let all_h: f64 = times.iter().sum();
    let slow = times.iter().filter(|time_h| **time_h > gap_h).count();
    Some(texts::SEASON_MOVES.with(
        language,
        &[
            ("coldest", &temperature(units, coldest_c)),
            ("slow", &slow),
            ("all", &times.len()),
            ("gap", &minutes(gap_h)),
            ("hours", &number(all_h, 0)),
            ("each", &minutes(all_h / times.len() as f64)),
        ],
    ))
}

/// How much the day has to spare, where its starting times are fixed.
fn day_words(calendar: &Calendar, language: Language) -> Option<String> {
    let sets = f64::from(calendar.sets_a_day?);
    let spare_h = 24.0 - sets * (calendar.set_time_h + calendar.move_gap_h);
    Some(if spare_h < 1.0 / 120.0 {
        texts::NO_SPARE.of(language).to_owned()
    } else {
        texts::SPARE.with(language, &[("time", &minutes(spare_h))])
    })
}

/// A temperature in shown units, whole degrees.
pub(crate) fn temperature(units: UnitSystem, celsius: f64) -> String {
    match units {
        UnitSystem::Us => format!("{}\u{a0}°F", number(1.8 * celsius + 32.0, 0)),
        UnitSystem::Si => format!("{}\u{a0}°C", number(celsius, 0)),
    }
}

/// A time in minutes, or in hours where it is long.
pub(crate) fn minutes(hours: f64) -> String {
    if hours < 3.0 - 1e-9 {
        format!("{}\u{a0}min", number(60.0 * hours, 0))
    } else {
        format!("{}\u{a0}h", number(hours, 1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::machine::drive::TimedMove;
    use evenfall_core::machine::oil::Oil;

    fn drive() -> Drive {
        let timed = |temperature_c, time_h| TimedMove { temperature_c, time_h };
        let moves = [timed((70.0 - 32.0) / 1.8, 0.3), timed((35.0 - 32.0) / 1.8, 0.8)];
        Drive::fit(Oil::new(32.0, 5.4).unwrap(), &moves).unwrap()
    }

    #[test]
    fn closed_labor_of_the_season_adds_up() {
        let air_c = [(70.0 - 32.0) / 1.8, (70.0 - 32.0) / 1.8, (35.0 - 32.0) / 1.8];
        // 0.3 + 0.3 + 0.8 h.
        let words =
            season_words(&drive(), 0.5, &air_c, (UnitSystem::Us, Language::English)).unwrap();
        let words = words.replace('\u{a0}', " ");
        assert!(words.contains("1 of 3 moves") && words.contains("take 1 h of labor"), "{words}");
        assert!(
            words.contains("28 min each") && words.contains("coldest move at 35 °F"),
            "{words}"
        );
        assert_eq!(season_words(&drive(), 0.5, &[], (UnitSystem::Us, Language::English)), None);
    }

    #[test]
    fn closed_a_gap_that_cold_makes_too_short_is_told() {
        let words =
            gap_words(&drive(), 0.5, (UnitSystem::Us, Language::English)).replace('\u{a0}', " ");
        assert!(words.contains("the gap of 30 min"), "{words}");
        assert!(words.contains("the gap is too short"), "{words}");
        let cold =
            gap_words(&drive(), 0.7, (UnitSystem::Us, Language::English)).replace('\u{a0}', " ");
        assert!(cold.starts_with("Below 39 °F") || cold.starts_with("Below 38 °F"), "{cold}");
        assert!(
            gap_words(&drive(), 20.0, (UnitSystem::Us, Language::English)).contains("long enough")
        );
        assert!(
            gap_words(&drive(), 0.01, (UnitSystem::Si, Language::English))
                .contains("any temperature")
        );
    }
}
