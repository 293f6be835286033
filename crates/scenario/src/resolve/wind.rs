//! The source of the wind with its defaults.

use crate::file::{GeneratedFile, Layout, RecordFile, ScenarioFile, SteadyFile, WindFile};
use crate::issue::Issue;
use crate::notes::Notes;
use crate::read_plain::Text;
use crate::weather::{self, ReadError};
use evenfall_core::clock::hours_between;
use evenfall_core::schedule::Calendar;
use evenfall_core::weather::{GapRule, WeatherRecord, WeatherSource, Wind, WindClimate};

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

fn always(given: &SteadyFile, notes: &mut Notes<'_>) -> WeatherSource {
    WeatherSource::Steady {
        wind: Wind { speed_m_s: given.speed.value, from_deg: given.from.value.rem_euclid(360.0) },
        measured_at_m: SteadyFile::height.or_start(Some(&given.height), &given.at.pointer, notes),
    }
}

fn drawn(given: &GeneratedFile, notes: &mut Notes<'_>) -> WindClimate {
    let measured_at_m =
        GeneratedFile::height.or_start(Some(&given.height), &given.at.pointer, notes);
    let at = &given.at.pointer;
    let (spread, speed) = (Some(&given.direction_spread), Some(&given.speed_persistence));
    let direction = Some(&given.direction_persistence);
    WindClimate {
        day_mean_m_s: given.day_mean.value,
        night_mean_m_s: given.night_mean.value,
        weibull_shape: GeneratedFile::weibull_shape.or_start(Some(&given.weibull_shape), at, notes),
        prevailing_from_deg: given.prevailing_from.value.rem_euclid(360.0),
        direction_spread_deg: GeneratedFile::direction_spread.or_start(spread, at, notes),
        speed_persistence: GeneratedFile::speed_persistence.or_start(speed, at, notes),
        direction_persistence: GeneratedFile::direction_persistence.or_start(direction, at, notes),
        measured_at_m,
    }
}

fn from_record(given: &RecordFile, notes: &mut Notes<'_>) -> Option<WeatherSource> {
    let gaps = match &given.longest_gap {
        None => {
            RecordFile::longest_gap.assume(&given.at.pointer, "none", notes);
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
    let measured_at_m = RecordFile::height.or_start(Some(&given.height), &given.at.pointer, notes);
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
        notes.warn(format!("{name}: {more} more values count as missing, for the same reasons"));
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
