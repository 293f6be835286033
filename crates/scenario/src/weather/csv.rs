//! Hourly weather as comma-separated values (RFC 4180) with units in the header.
//!
//! `time` is the start of the hour, ISO 8601, local standard time; a numeric offset is allowed and
//! not used. Other columns than the known ones are passed over and told.

use super::rows::{Cell, Hours, Row, SkyRow, cell};
use super::{ReadError, Table};
use crate::suggest;
use csv::{ReaderBuilder, StringRecord, Trim};
use evenfall_core::units::{M_PER_FT, M_S_PER_KNOT, M_S_PER_MPH, MM_PER_IN};
use jiff::civil::DateTime;

const TIMES: &[(&str, f64)] = &[("time", 1.0), ("date_time", 1.0), ("datetime", 1.0)];
const SPEEDS: &[(&str, f64)] = &[
    ("wind_speed_m_s", 1.0),
    ("wind_speed_mph", M_S_PER_MPH),
    ("wind_speed_kmh", 1.0 / 3.6),
    ("wind_speed_km_h", 1.0 / 3.6),
    ("wind_speed_kn", M_S_PER_KNOT),
    ("wind_speed_ft_s", M_PER_FT),
];
const DIRECTIONS: &[(&str, f64)] = &[("wind_from_deg", 1.0)];
const CELSIUS: &[(&str, f64)] = &[("air_temperature_c", 1.0)];
const FAHRENHEIT: &[(&str, f64)] = &[("air_temperature_f", 1.0)];
const SOLAR: &[(&str, f64)] =
    &[("solar_radiation_w_m2", 1.0), ("solar_radiation_mj_m2", 1e6 / 3600.0)];
const RAINS: &[(&str, f64)] = &[("rain_mm", 1.0), ("rain_in", MM_PER_IN)];
const ET0S: &[(&str, f64)] = &[("et0_mm", 1.0), ("et0_in", MM_PER_IN)];
const HUMIDITIES: &[(&str, f64)] = &[("relative_humidity_pct", 0.01)];

/// A column and the factor to the unit used inside.
pub(super) type Column = (usize, f64);

/// Where the columns stand.
struct Columns {
    time: Column,
    speed: Column,
    from: Column,
    celsius: Option<Column>,
    fahrenheit: Option<Column>,
    humidity: Option<Column>,
    solar: Option<Column>,
    rain: Option<Column>,
    et0: Option<Column>,
}

/// Reads a record measured at `measured_at_m` above ground.
///
/// # Errors
/// [`ReadError`]: no hours, a missing column, or a row that puts the record in doubt.
pub(crate) fn read(
    bytes: &[u8],
    measured_at_m: f64,
    typical_year: bool,
) -> Result<Table, ReadError> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut reader = ReaderBuilder::new().trim(Trim::All).comment(Some(b'#')).from_reader(bytes);
    let header = reader.headers().map_err(|error| broken(&error))?.clone();
    if header.is_empty() {
        return Err(ReadError::Empty);
    }
    let columns = Columns::of(&header)?;
    let mut hours = Hours::default();
    for row in reader.records() {
        let row = row.map_err(|error| broken(&error))?;
        let line = row.position().map_or(0, csv::Position::line);
        hours.add(line, columns.time_of(&row, line)?, columns.values_of(&row))?;
    }
    let table = hours.into_table(
        "hourly record in comma-separated values".to_owned(),
        None,
        measured_at_m,
        typical_year,
    )?;
    Ok(Table { passed_over: passed_over(&header, &all_columns()), ..table })
}

/// Every column that is read, by name.
fn all_columns() -> Vec<&'static str> {
    let all = [TIMES, SPEEDS, DIRECTIONS, CELSIUS, FAHRENHEIT, SOLAR, RAINS, ET0S, HUMIDITIES];
    all.iter().flat_map(|names| names.iter().map(|(name, _)| *name)).collect()
}

/// Columns of `header` that are none of `known`, with the one that may be meant.
pub(super) fn passed_over(header: &StringRecord, known: &[&str]) -> Vec<String> {
    let is_known = |title: &&str| known.iter().any(|name| title.eq_ignore_ascii_case(name));
    let others = header.iter().filter(|title| !title.is_empty() && !is_known(title));
    let told = |title: &str| match suggest::nearest(title, known.iter().copied()) {
        Some(near) => format!("`{title}` (did you mean `{near}`?)"),
        None => format!("`{title}`"),
    };
    others.map(told).collect()
}

pub(super) fn broken(error: &csv::Error) -> ReadError {
    let line = error.position().map_or(1, csv::Position::line);
    ReadError::Row { line, problem: format!("the table is broken: {error}") }
}

impl Columns {
    fn of(header: &StringRecord) -> Result<Self, ReadError> {
        let (celsius, fahrenheit) = (find(header, CELSIUS)?, find(header, FAHRENHEIT)?);
        if celsius.is_some() && fahrenheit.is_some() {
            return Err(ReadError::Column("the air temperature is given twice".to_owned()));
        }
        Ok(Self {
            time: needed(header, TIMES)?,
            speed: needed(header, SPEEDS)?,
            from: needed(header, DIRECTIONS)?,
            celsius,
            fahrenheit,
            humidity: find(header, HUMIDITIES)?,
            solar: find(header, SOLAR)?,
            rain: find(header, RAINS)?,
            et0: find(header, ET0S)?,
        })
    }

    fn time_of(&self, row: &StringRecord, line: u64) -> Result<DateTime, ReadError> {
        let text = row.get(self.time.0).unwrap_or_default();
        let time = text.parse::<DateTime>().ok().filter(|_| text.contains(':'));
        time.ok_or_else(|| {
            let problem = format!("\"{text}\" is not a time like 2027-05-10T06:00");
            ReadError::Row { line, problem }
        })
    }

    fn values_of(&self, row: &StringRecord) -> Row {
        let value = |column: Option<Column>| -> Cell {
            let Some((index, factor)) = column else { return Ok(None) };
            Ok(cell(row.get(index).unwrap_or_default())?.map(|value| value * factor))
        };
        let from_fahrenheit =
            |cell: Cell| cell.map(|value| value.map(|fahrenheit| (fahrenheit - 32.0) / 1.8));
        Row {
            speed_m_s: value(Some(self.speed)),
            from_deg: value(Some(self.from)),
            air_temperature_c: match self.fahrenheit {
                Some(column) => from_fahrenheit(value(Some(column))),
                None => value(self.celsius),
            },
            relative_humidity: value(self.humidity),
            sky: SkyRow {
                solar_w_m2: value(self.solar),
                rain_mm: value(self.rain),
                et0_mm: value(self.et0),
            },
        }
    }
}

pub(super) fn find(
    header: &StringRecord,
    names: &[(&str, f64)],
) -> Result<Option<Column>, ReadError> {
    let found: Vec<Column> = header
        .iter()
        .enumerate()
        .filter_map(|(index, title)| {
            let known = names.iter().find(|(name, _)| title.eq_ignore_ascii_case(name))?;
            Some((index, known.1))
        })
        .collect();
    match found.as_slice() {
        [] => Ok(None),
        [column] => Ok(Some(*column)),
        _ => Err(ReadError::Column(format!("more than one column like `{}`", names[0].0))),
    }
}

pub(super) fn needed(header: &StringRecord, names: &[(&str, f64)]) -> Result<Column, ReadError> {
    find(header, names)?.ok_or_else(|| {
        let is_known =
            |title: &str| all_columns().iter().any(|name| title.eq_ignore_ascii_case(name));
        let is_near =
            |title: &str| suggest::nearest(title, names.iter().map(|(name, _)| *name)).is_some();
        let near = header.iter().find(|title| !is_known(title) && is_near(title));
        let near = near.map_or_else(String::new, |near| format!("; `{near}` is not known"));
        ReadError::Column(format!("there is no column `{}`{near}", names[0].0))
    })
}

#[cfg(test)]
#[path = "csv_tests.rs"]
mod tests;
