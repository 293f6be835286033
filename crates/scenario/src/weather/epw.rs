//! The EPW layout of hourly years, in which most stations' typical years are published.
//!
//! Source: Crawley, Hand & Lawrie 1999, Improving the weather information available to simulation
//! programs, Building Simulation '99 (the layout from memory, confidence high; the places of the
//! columns held against a record): eight lines about the station, of which the first begins with
//! LOCATION and the last with DATA PERIODS, then one row an hour without a header. Hours are numbered
//! 1 to 24 by their *end*, local standard time. Missing values are 99.9 (°C), 999 (%, °, m/s, mm) and
//! 9999 (W/m²). In a typical year months come from different years, so the year of a row means
//! nothing and 29 February is left out.

use super::rows::{Cell, Hours, Row, SkyRow, broken, cell, text};
use super::{ReadError, Table};
use csv::{ReaderBuilder, StringRecord, Trim};
use evenfall_core::weather::Site;
use jiff::civil::DateTime;

/// The year that stands for all; any that is no leap year.
const NOMINAL_YEAR: i16 = 2001;

/// Places of the columns, and what each writes for a missing value.
const TEMPERATURE: (usize, f64) = (6, 99.9);
const HUMIDITY: (usize, f64) = (8, 999.0);
const SOLAR: (usize, f64) = (13, 9999.0);
const FROM: (usize, f64) = (20, 999.0);
const SPEED: (usize, f64) = (21, 999.0);
const RAIN: (usize, f64) = (33, 999.0);

/// Reads an hourly year measured at `measured_at_m` above ground.
///
/// # Errors
/// [`ReadError`]: not this layout, no hours, or a row that puts the record in doubt.
pub(crate) fn read(
    bytes: &[u8],
    measured_at_m: f64,
    typical_year: bool,
) -> Result<Table, ReadError> {
    let mut reader =
        ReaderBuilder::new().has_headers(false).flexible(true).trim(Trim::All).from_reader(bytes);
    let mut rows = reader.records();
    let mut next = || rows.next().transpose().map_err(|error| broken(&error));
    let Some(station) = next()? else { return Err(ReadError::Empty) };
    if !station.get(0).is_some_and(|word| word.eq_ignore_ascii_case("LOCATION")) {
        let problem = "the first line does not begin with LOCATION".to_owned();
        return Err(ReadError::Column(problem));
    }
    let mut hours = Hours::default();
    let mut is_header = true;
    while let Some(row) = next()? {
        let line = row.position().map_or(0, csv::Position::line);
        // Lines about the station begin with a word, hours with their year.
        is_header &= text(&row, 0).parse::<i16>().is_err();
        if is_header || (typical_year && (text(&row, 1), text(&row, 2)) == ("2", "29")) {
            continue;
        }
        hours.add(line, start_of(&row, line, typical_year)?, values_of(&row))?;
    }
    hours.into_table(title(&station, typical_year), site(&station), measured_at_m, typical_year)
}

fn title(station: &StringRecord, typical_year: bool) -> String {
    let kind = if typical_year { "typical year" } else { "year" };
    format!(
        "EPW {kind} of station {}, {}, {}",
        text(station, 5),
        text(station, 1),
        text(station, 2)
    )
}

/// Fields 7 and 10 of the first line are latitude and elevation.
fn site(station: &StringRecord) -> Option<Site> {
    let field = |index| text(station, index).parse::<f64>().ok();
    Some(Site { latitude_deg: field(6)?, elevation_m: field(9)? })
}

/// Start of the hour whose end the row names.
fn start_of(row: &StringRecord, line: u64, typical_year: bool) -> Result<DateTime, ReadError> {
    let number = |index: usize| text(row, index).parse::<i16>().ok();
    let start = || -> Option<DateTime> {
        let year = if typical_year { NOMINAL_YEAR } else { number(0)? };
        let part = |index: usize| number(index).and_then(|value| i8::try_from(value).ok());
        let hour = part(3).filter(|hour| (1..=24).contains(hour))?;
        DateTime::new(year, part(1)?, part(2)?, hour - 1, 0, 0, 0).ok()
    };
    start().ok_or_else(|| {
        let stamp: Vec<&str> = row.iter().take(4).collect();
        let problem =
            format!("\"{}\" is not a year, month, day and hour from 1 to 24", stamp.join(","));
        ReadError::Row { line, problem }
    })
}

fn values_of(row: &StringRecord) -> Row {
    let value = |(index, missing): (usize, f64)| -> Cell {
        Ok(cell(text(row, index))?.filter(|value| *value < missing))
    };
    let percent = |cell: Cell| cell.map(|value| value.map(|percent| percent / 100.0));
    Row {
        speed_m_s: value(SPEED),
        from_deg: value(FROM),
        air_temperature_c: value(TEMPERATURE),
        relative_humidity: percent(value(HUMIDITY)),
        sky: SkyRow { solar_w_m2: value(SOLAR), rain_mm: value(RAIN), et0_mm: Ok(None) },
    }
}

#[cfg(test)]
#[path = "epw_tests.rs"]
mod tests;
