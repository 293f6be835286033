//! The source of the wind with its defaults.

use crate::file::{
    FromRecordFile, GeneratedFile, Layout, RecordFile, ScenarioFile, SteadyFile, WindFile,
};
use crate::issue::Issue;
use crate::notes::Notes;
use crate::read_plain::Text;
use crate::weather::{self, ReadError};
use evenfall_core::clock::hours_between;
use evenfall_core::schedule::Calendar;
use evenfall_core::weather::{
    Blocks, FromRecord, GapRule, KeptWinds, WeatherRecord, WeatherSource, Wind, WindClimate,
    climate_of,
};
use std::sync::Arc;

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
        night_prevailing_from_deg: given
            .prevailing_from_night
            .as_ref()
            .unwrap_or(&given.prevailing_from)
            .value
            .rem_euclid(360.0),
        direction_spread_deg: GeneratedFile::direction_spread.or_start(spread, at, notes),
        speed_persistence: GeneratedFile::speed_persistence.or_start(speed, at, notes),
        direction_persistence: GeneratedFile::direction_persistence.or_start(direction, at, notes),
        spell_share: GeneratedFile::spell_share.or_start(Some(&given.spell_share), at, notes),
        spell_length_h: GeneratedFile::spell_length.or_start(Some(&given.spell_length), at, notes),
        measured_at_m,
        kept: KeptWinds::default(),
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
    let seasons = seasons(given, &record, notes)?;
    Some(WeatherSource::Record { record, gaps, seasons })
}

/// How seasons are made from the record; `None` if it cannot give them.
fn seasons(
    given: &RecordFile,
    record: &WeatherRecord,
    notes: &mut Notes<'_>,
) -> Option<FromRecord> {
    let blocks = |first_as_recorded: bool, notes: &mut Notes<'_>| {
        let at = &given.at.pointer;
        let length_h = RecordFile::block_length.or_start(Some(&given.block_length), at, notes);
        let window_h = RecordFile::block_window.or_start(Some(&given.block_window), at, notes);
        let days = |hours: f64| (hours / 24.0).round() as u32;
        let blocks = Blocks { length_days: days(length_h), window_days: days(window_h) };
        FromRecord::Blocks { blocks, first_as_recorded }
    };
    match given.seasons {
        None if record.typical_year => {
            let value = "the first season as recorded, the others drawn in blocks of days";
            let why = "one typical year says nothing of other years; blocks of its days around the \
                       same dates stand for them";
            notes.assume(&format!("{}/seasons", given.at.pointer), value, why);
            Some(blocks(true, notes))
        }
        None | Some(FromRecordFile::AsRecorded) => {
            tell_no_blocks(given, notes);
            Some(FromRecord::AsRecorded)
        }
        Some(FromRecordFile::Blocks) => Some(blocks(false, notes)),
        Some(FromRecordFile::Climate) => {
            tell_no_blocks(given, notes);
            climate(given, record, notes)
        }
    }
}

fn climate(
    given: &RecordFile,
    record: &WeatherRecord,
    notes: &mut Notes<'_>,
) -> Option<FromRecord> {
    let climate = climate_of(record);
    if climate.months.iter().all(Option::is_none) {
        let problem = "the record is too short to fit a climate: no hour of the day is known on \
                       enough days around any month";
        let hint = "Take a record of a season or longer, or draw \"in blocks of days\".";
        notes.issues.push(Issue::new(&given.at.opening(), problem).hint(hint));
        return None;
    }
    Some(FromRecord::Climate(Arc::new(climate)))
}

fn tell_no_blocks(given: &RecordFile, notes: &mut Notes<'_>) {
    if given.block_length.is_some() || given.block_window.is_some() {
        notes.warn(
            "`block_length` and `block_window` have no effect: seasons are not drawn in blocks of \
             days"
                .to_owned(),
        );
    }
}

/// Tells that a record that serves for something else than the wind makes no seasons.
pub(crate) fn tell_no_seasons(given: &RecordFile, notes: &mut Notes<'_>) {
    if given.seasons.is_some() {
        notes.warn(
            "`seasons` has no effect here: the wind's record says how they are made".to_owned(),
        );
    }
    tell_no_blocks(given, notes);
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
        Layout::Epw => {
            weather::epw::read(&bytes, measured_at_m, given.typical_year.unwrap_or(true))
        }
    };
    match read {
        Ok(table) => {
            let name = &given.file.value;
            tell_faults(name, &table.faults, "this hour counts as missing", notes);
            tell_passed_over(name, &table.passed_over, notes);
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

/// Tells which columns are not read: one that is misspelt would be missed without a word.
pub(crate) fn tell_passed_over(name: &str, columns: &[String], notes: &mut Notes<'_>) {
    if columns.is_empty() {
        return;
    }
    let told = columns[..columns.len().min(MOST_FAULTS_TOLD)].join(", ");
    let more = match columns.len().saturating_sub(MOST_FAULTS_TOLD) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let are = if columns.len() == 1 { "the column" } else { "the columns" };
    let not = if columns.len() == 1 { "is not read" } else { "are not read" };
    notes.warn(format!("{name}: {are} {told}{more} {not}"));
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
    if record.typical_year
        || weather.is_drawn()
        || (0.0..record.hours.len() as f64).contains(&since_h)
    {
        return;
    }
    let Some(season) = file.season.0.as_ref() else { return };
    let problem = format!("the season starts at {}, outside the weather record", calendar.start);
    let covers = format!("{} hours from {}", record.hours.len(), record.first_hour);
    notes.issues.push(Issue::new(&season.start.at, problem).allowed(covers));
}
