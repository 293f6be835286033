//! The source of the wind with its defaults.

use super::Notes;
use crate::file::{GeneratedFile, Layout, RecordFile, ScenarioFile, SteadyFile, WindFile};
use crate::issue::Issue;
use crate::limits::AnemometerHeight;
use crate::read_plain::Text;
use crate::read_quantity::Quantity;
use crate::weather::{self, ReadError};
use evenfall_core::schedule::{Calendar, hours_between};
use evenfall_core::weather::{GapRule, WeatherRecord, WeatherSource, Wind, WindClimate};

/// Height of an anemometer where the scenario does not say, m: the usual one of weather stations.
const DEFAULT_HEIGHT_M: f64 = 10.0;
/// Where the default persistence comes from: see `data/greensboro/SOURCE.md`.
const PERSISTENCE_WHY: &str =
    "from hour to hour in the TMY3 record of Greensboro, May to September";
/// At most so many faults of a record are told one by one.
const MOST_FAULTS_TOLD: usize = 5;

/// Where the wind comes from; `None` if its record is bad.
pub(crate) fn source(given: &WindFile, notes: &mut Notes<'_>) -> Option<WeatherSource> {
    if let Some(record) = &given.record {
        return from_record(record, notes);
    }
    if let Some(steady) = &given.steady {
        return Some(always(steady, notes));
    }
    Some(match &given.generated {
        Some(climate) => WeatherSource::Generated(drawn(climate, notes)),
        // The reader has seen to it that one of the four is there.
        None => WeatherSource::Still,
    })
}

fn height(given: Option<&Quantity<AnemometerHeight>>, section: &str, notes: &mut Notes<'_>) -> f64 {
    given.map_or_else(
        || {
            let why = "the usual height of a weather station's anemometer";
            notes.assume(&format!("{section}/height"), format!("{DEFAULT_HEIGHT_M} m"), why);
            DEFAULT_HEIGHT_M
        },
        |height| height.value,
    )
}

fn always(given: &SteadyFile, notes: &mut Notes<'_>) -> WeatherSource {
    WeatherSource::Steady {
        wind: Wind { speed_m_s: given.speed.value, from_deg: given.from.value.rem_euclid(360.0) },
        measured_at_m: height(given.height.as_ref(), &given.at.pointer, notes),
    }
}

fn drawn(given: &GeneratedFile, notes: &mut Notes<'_>) -> WindClimate {
    let measured_at_m = height(given.height.as_ref(), &given.at.pointer, notes);
    let mut or = |value: Option<f64>, key: &str, default: f64, unit: &str, why: &str| {
        value.unwrap_or_else(|| {
            let what = format!("{}/{key}", given.at.pointer);
            notes.assume(&what, format!("{default}{unit}"), why);
            default
        })
    };
    let shape = given.weibull_shape.as_ref().map(|shape| shape.value);
    let spread = given.direction_spread.as_ref().map(|spread| spread.value);
    let speed = given.speed_persistence.as_ref().map(|speed| speed.value);
    let direction = given.direction_persistence.as_ref().map(|direction| direction.value);
    WindClimate {
        day_mean_m_s: given.day_mean.value,
        night_mean_m_s: given.night_mean.value,
        weibull_shape: or(shape, "weibull_shape", 2.0, "", "usual for hourly winds"),
        prevailing_from_deg: given.prevailing_from.value.rem_euclid(360.0),
        direction_spread_deg: or(spread, "direction_spread", 40.0, " deg", "judgment, no source"),
        speed_persistence: or(speed, "speed_persistence", 0.63, "", PERSISTENCE_WHY),
        direction_persistence: or(direction, "direction_persistence", 0.76, "", PERSISTENCE_WHY),
        measured_at_m,
    }
}

fn from_record(given: &RecordFile, notes: &mut Notes<'_>) -> Option<WeatherSource> {
    let gaps = match &given.longest_gap {
        None => {
            let what = format!("{}/longest_gap", given.at.pointer);
            notes.assume(&what, "none", "gaps while water runs are refused");
            GapRule::Refuse
        }
        Some(gap) => GapRule::HoldLast { longest_h: gap.value.floor() as u32 },
    };
    let record = record(given, "Wind", notes)?;
    Some(WeatherSource::Record { record, gaps })
}

/// Reads a record of the weather; `None` if it is bad.
pub(crate) fn record(
    given: &RecordFile,
    serves: &str,
    notes: &mut Notes<'_>,
) -> Option<WeatherRecord> {
    let measured_at_m = height(given.height.as_ref(), &given.at.pointer, notes);
    let bytes = notes.file(&given.file.value, &given.file.at)?;
    let read = match given.layout {
        Layout::Csv => {
            weather::csv::read(&bytes, measured_at_m, given.typical_year.unwrap_or(false))
        }
        Layout::Tmy3 => weather::tmy3::read(&bytes, measured_at_m),
    };
    match read {
        Ok(table) => {
            let name = &given.file.value;
            tell_faults(name, &table.faults, "this hour counts as missing", notes);
            tell(name, &table.record, notes);
            notes.sources.push(format!("{serves}: {} (file {name})", table.record.title));
            Some(table.record)
        }
        Err(error) => {
            notes.issues.push(unreadable(&given.file, &error));
            None
        }
    }
}

pub(crate) fn unreadable(file: &Text, error: &ReadError) -> Issue {
    let problem = format!("the record \"{}\": {error}", file.value);
    Issue::new(&file.at, problem).hint(error.hint())
}

/// Tells what was wrong with single rows.
pub(crate) fn tell_faults(name: &str, faults: &[String], so: &str, notes: &mut Notes<'_>) {
    for fault in faults.iter().take(MOST_FAULTS_TOLD) {
        notes.warn(format!("{name}, {fault}: {so}"));
    }
    if faults.len() > MOST_FAULTS_TOLD {
        let more = faults.len() - MOST_FAULTS_TOLD;
        notes.warn(format!("{name}: {more} more values count as missing for such reasons"));
    }
}

fn tell(name: &str, record: &WeatherRecord, notes: &mut Notes<'_>) {
    let missing = record.hours.iter().filter(|hour| hour.is_none()).count();
    if missing > 0 {
        let all = record.hours.len();
        notes.warn(format!("{name}: {missing} of {all} hours are missing or unreadable"));
    }
}

/// A record that does not reach the season's start can be told at once.
pub(crate) fn check_cover(
    file: &ScenarioFile,
    weather: &WeatherSource,
    calendar: &Calendar,
    notes: &mut Notes<'_>,
) {
    let WeatherSource::Record { record, .. } = weather else { return };
    let since_h = hours_between(record.first_hour, calendar.start);
    if record.typical_year || (0.0..record.hours.len() as f64).contains(&since_h) {
        return;
    }
    let Some(season) = file.season.0.as_ref() else { return };
    let problem = format!("the season starts at {}, outside the weather record", calendar.start);
    let covers = format!("{} hours from {}", record.hours.len(), record.first_hour);
    notes.issues.push(Issue::new(&season.start.at, problem).allowed(covers));
}
