//! The TMY3 layout of typical years.
//!
//! Source: Wilcox & Marion 2008, Users Manual for TMY3 Data Sets, NREL/TP-581-43156 (from memory,
//! confidence high): a line about the station, a line of column names, then one row an hour; stamps
//! name the *end* of the hour (01:00 is the hour from midnight, 24:00 the last), local standard
//! time. Months come from different years, so the year of a row means nothing. −9900 stands for a
//! missing value. Solar radiation is taken; the column of liquid precipitation is not: in the record
//! of Greensboro it adds up to 8345 mm a year, ten times what can be.

use super::rows::{Cell, Hours, Row, SkyRow, broken, cell, text};
use super::{ReadError, Table};
use csv::{ReaderBuilder, StringRecord, Trim};
use evenfall_core::weather::Site;
use jiff::civil::DateTime;

/// The year that stands for all; any that is no leap year, as TMY3 has no 29 February.
const NOMINAL_YEAR: i16 = 2001;
/// What TMY3 writes for a missing value.
const MISSING: f64 = -9900.0;

/// Reads a typical year measured at `measured_at_m` above ground.
///
/// # Errors
/// [`ReadError`]: no hours, a missing column, or a row that puts the record in doubt.
pub(crate) fn read(bytes: &[u8], measured_at_m: f64) -> Result<Table, ReadError> {
    let mut reader =
        ReaderBuilder::new().has_headers(false).flexible(true).trim(Trim::All).from_reader(bytes);
    let mut rows = reader.records();
    let mut next = || rows.next().transpose().map_err(|error| broken(&error));
    let Some(station) = next()? else { return Err(ReadError::Empty) };
    let Some(header) = next()? else { return Err(ReadError::Empty) };
    let columns = Columns::of(&header)?;
    let mut hours = Hours::default();
    while let Some(row) = next()? {
        let line = row.position().map_or(0, csv::Position::line);
        hours.add(line, columns.start_of(&row, line)?, columns.values_of(&row))?;
    }
    hours.into_table(title(&station), site(&station), measured_at_m, true)
}

fn title(station: &StringRecord) -> String {
    let field = |index| station.get(index).unwrap_or_default();
    format!("TMY3 typical year of station {}, {}, {}", field(0), field(1), field(2))
}

/// Where the columns stand.
struct Columns {
    date: usize,
    time: usize,
    speed: usize,
    from: usize,
    temperature: usize,
    humidity: usize,
    /// Not needed for the wind.
    solar: Option<usize>,
}

impl Columns {
    fn of(header: &StringRecord) -> Result<Self, ReadError> {
        let find = |name: &str| {
            header.iter().position(|title| title.eq_ignore_ascii_case(name)).ok_or_else(|| {
                ReadError::Column(format!("the second line names no column `{name}`"))
            })
        };
        Ok(Self {
            date: find("Date (MM/DD/YYYY)")?,
            time: find("Time (HH:MM)")?,
            speed: find("Wspd (m/s)")?,
            from: find("Wdir (degrees)")?,
            temperature: find("Dry-bulb (C)")?,
            humidity: find("RHum (%)")?,
            solar: find("GHI (W/m^2)").ok(),
        })
    }

    /// Start of the hour that the row's stamp ends, in the nominal year.
    fn start_of(&self, row: &StringRecord, line: u64) -> Result<DateTime, ReadError> {
        let (date, time) = (text(row, self.date), text(row, self.time));
        start(date, time).ok_or_else(|| {
            let problem = format!("\"{date} {time}\" is not a time stamp from 01:00 to 24:00");
            ReadError::Row { line, problem }
        })
    }

    fn values_of(&self, row: &StringRecord) -> Row {
        let value = |index: usize| -> Cell {
            Ok(cell(text(row, index))?.filter(|value| *value != MISSING))
        };
        let percent = |cell: Cell| cell.map(|value| value.map(|percent| percent / 100.0));
        Row {
            speed_m_s: value(self.speed),
            from_deg: value(self.from),
            air_temperature_c: value(self.temperature),
            relative_humidity: percent(value(self.humidity)),
            sky: SkyRow {
                solar_w_m2: self.solar.map_or(Ok(None), value),
                rain_mm: Ok(None),
                et0_mm: Ok(None),
            },
        }
    }
}

/// Place of the station: fields 5 to 7 of the first line are latitude, longitude, elevation.
fn site(station: &StringRecord) -> Option<Site> {
    let field = |index| station.get(index).unwrap_or_default().parse::<f64>().ok();
    Some(Site { latitude_deg: field(4)?, elevation_m: field(6)? })
}

fn start(date: &str, time: &str) -> Option<DateTime> {
    let mut parts = date.split('/');
    let (month, day) = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    let (hour, minute) = time.split_once(':')?;
    let hour: i8 = hour.parse().ok()?;
    if minute != "00" || !(1..=24).contains(&hour) {
        return None;
    }
    DateTime::new(NOMINAL_YEAR, month, day, hour - 1, 0, 0, 0).ok()
}

#[cfg(test)]
#[path = "tmy3_tests.rs"]
mod tests;
