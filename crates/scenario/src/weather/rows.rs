//! Rows of a weather table gathered into a record of hours.

use super::{ReadError, Table};
use evenfall_core::weather::{Site, SkyHour, WeatherHour, WeatherRecord, Wind};
use jiff::civil::DateTime;

/// Longest record that is taken, h: some forty years; more is a slip in a date.
const LONGEST_H: i64 = 360_000;
/// Fastest hourly wind that is believed, m/s.
const FASTEST_M_S: f64 = 60.0;
/// Air temperatures that are believed, °C.
const TEMPERATURES_C: std::ops::RangeInclusive<f64> = -60.0..=60.0;

/// Values of one row as found; `Err` where a cell holds something unreadable.
#[derive(Clone, Debug)]
pub(super) struct Row {
    pub(super) speed_m_s: Cell,
    pub(super) from_deg: Cell,
    pub(super) air_temperature_c: Cell,
    pub(super) relative_humidity: Cell,
    pub(super) sky: SkyRow,
}

/// The sky of one row as found.
#[derive(Clone, Debug)]
pub(super) struct SkyRow {
    pub(super) solar_w_m2: Cell,
    pub(super) rain_mm: Cell,
    pub(super) et0_mm: Cell,
}

/// Most solar radiation, rain and evapotranspiration that are believed of an hour.
const MOST_SOLAR_W_M2: f64 = 1500.0;
const MOST_RAIN_MM: f64 = 400.0;
const MOST_ET0_MM: f64 = 3.0;

impl SkyRow {
    /// The hour's sky; what cannot be is left out and told.
    fn hour(self) -> (SkyHour, Vec<String>) {
        let mut faults = Vec::new();
        let mut take = |cell: Cell, most: f64, what: &str| match cell {
            Ok(Some(value)) if !(0.0..=most).contains(&value) => {
                faults.push(format!("{what} of {value} is not possible"));
                None
            }
            Ok(value) => value,
            Err(fault) => {
                faults.push(fault);
                None
            }
        };
        let sky = SkyHour {
            solar_w_m2: take(self.solar_w_m2, MOST_SOLAR_W_M2, "solar radiation (W/m²)"),
            rain_mm: take(self.rain_mm, MOST_RAIN_MM, "rain (mm)"),
            et0_mm: take(self.et0_mm, MOST_ET0_MM, "reference evapotranspiration (mm)"),
        };
        (sky, faults)
    }
}

/// A cell: a number, nothing, or a text that is no number.
pub(super) type Cell = Result<Option<f64>, String>;

/// The error of a table that is no table.
pub(super) fn broken(error: &csv::Error) -> ReadError {
    let line = error.position().map_or(1, csv::Position::line);
    ReadError::Row { line, problem: format!("the table is broken: {error}") }
}

/// The cell of a row at a place, empty where the row ends before.
pub(super) fn text(row: &csv::StringRecord, index: usize) -> &str {
    row.get(index).unwrap_or_default()
}

/// Reads a cell's number.
pub(super) fn cell(text: &str) -> Cell {
    let text = text.trim();
    let lower = text.to_ascii_lowercase();
    if ["", "na", "nan", "null", "-", "m"].contains(&lower.as_str()) {
        return Ok(None);
    }
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(Some(value)),
        _ => Err(format!("\"{text}\" is not a number")),
    }
}

impl Row {
    /// The hour, or why there is none.
    fn hour(self) -> Result<WeatherHour, String> {
        let speed_m_s = self.speed_m_s?.ok_or("no wind speed")?;
        if !(0.0..=FASTEST_M_S).contains(&speed_m_s) {
            return Err(format!("a wind of {speed_m_s} m/s is not possible"));
        }
        let from_deg = match self.from_deg? {
            Some(from_deg) if (0.0..=360.0).contains(&from_deg) => from_deg.rem_euclid(360.0),
            Some(from_deg) => return Err(format!("a wind from {from_deg}° is not possible")),
            // A calm has no direction.
            None if speed_m_s == 0.0 => 0.0,
            None => return Err("no wind direction".to_owned()),
        };
        let air_temperature_c = self.air_temperature_c?;
        if let Some(celsius) = air_temperature_c.filter(|t| !TEMPERATURES_C.contains(t)) {
            return Err(format!("an air temperature of {celsius:.1} °C is not possible"));
        }
        let relative_humidity = self.relative_humidity?;
        if let Some(humidity) = relative_humidity.filter(|h| !(0.0..=1.0).contains(h)) {
            return Err(format!(
                "a relative humidity of {:.0} % is not possible",
                100.0 * humidity
            ));
        }
        Ok(WeatherHour { wind: Wind { speed_m_s, from_deg }, air_temperature_c, relative_humidity })
    }
}

/// The hours gathered so far.
#[derive(Debug, Default)]
pub(super) struct Hours {
    first: Option<DateTime>,
    from_first: Vec<Option<WeatherHour>>,
    sky: Vec<SkyHour>,
    faults: Vec<String>,
}

impl Hours {
    /// Adds the row of the hour that starts at `start`; hours left out become gaps.
    pub(super) fn add(&mut self, line: u64, start: DateTime, row: Row) -> Result<(), ReadError> {
        let wrong = |problem: String| Err(ReadError::Row { line, problem });
        if (start.minute(), start.second(), start.subsec_nanosecond()) != (0, 0, 0) {
            return wrong(format!("the time {start} is not on the hour"));
        }
        let first = *self.first.get_or_insert(start);
        let index = start.duration_since(first).as_hours();
        let next = self.from_first.len() as i64;
        if index == next - 1 {
            return wrong(format!("the hour {start} comes twice"));
        }
        if index < next {
            return wrong(format!("the hour {start} comes after a later one"));
        }
        if index > LONGEST_H {
            return wrong(format!("the hour {start} is over forty years after the first"));
        }
        self.from_first.resize(index as usize, None);
        self.sky.resize(index as usize, SkyHour::default());
        let (sky, faults) = row.sky.clone().hour();
        self.sky.push(sky);
        self.faults.extend(faults.iter().map(|fault| format!("line {line}: {fault}")));
        self.from_first.push(match row.hour() {
            Ok(hour) => Some(hour),
            Err(fault) => {
                self.faults.push(format!("line {line}: {fault}"));
                None
            }
        });
        Ok(())
    }

    /// The record of these hours.
    pub(super) fn into_table(
        self,
        title: String,
        site: Option<Site>,
        measured_at_m: f64,
        typical_year: bool,
    ) -> Result<Table, ReadError> {
        let Some(first_hour) = self.first else { return Err(ReadError::Empty) };
        if self.from_first.iter().all(Option::is_none) {
            return Err(ReadError::Empty);
        }
        let record = WeatherRecord {
            title,
            first_hour,
            hours: self.from_first,
            sky: self.sky,
            site,
            measured_at_m,
            typical_year,
        };
        Ok(Table { record, faults: self.faults, passed_over: Vec::new() })
    }
}
