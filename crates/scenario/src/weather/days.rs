//! Days of rain or evapotranspiration as comma-separated values with units in the header.
//!
//! Columns: `date` (2027-05-10) and `rain_mm` or `rain_in`, or `et0_mm` or `et0_in`; others are
//! passed over and told. Days stand once each and in order; days left out or empty are gaps.

use super::csv::{broken, find, needed, passed_over};
use super::rows::cell;
use super::{DayTable, ReadError};
use csv::{ReaderBuilder, StringRecord, Trim};
use evenfall_core::units::MM_PER_IN;
use evenfall_core::weather::daily::DailySeries;
use jiff::civil::Date;

/// Which value of the day is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DayColumn {
    /// Rain.
    Rain,
    /// Reference evapotranspiration.
    Et0,
}

/// Longest file that is taken, days: some hundred years; more is a slip in a date.
const LONGEST_DAYS: i64 = 40_000;
/// Most rain and evapotranspiration that are believed of a day, mm.
const MOST_RAIN_MM: f64 = 1000.0;
const MOST_ET0_MM: f64 = 30.0;

impl DayColumn {
    /// Names of the column with the factor to mm.
    fn names(self) -> &'static [(&'static str, f64)] {
        match self {
            Self::Rain => &[("rain_mm", 1.0), ("rain_in", MM_PER_IN)],
            Self::Et0 => &[("et0_mm", 1.0), ("et0_in", MM_PER_IN)],
        }
    }

    fn most_mm(self) -> f64 {
        match self {
            Self::Rain => MOST_RAIN_MM,
            Self::Et0 => MOST_ET0_MM,
        }
    }
}

/// Reads `column` of a file of days.
///
/// # Errors
/// [`ReadError`]: no days, a missing column, or a row that puts the file in doubt.
pub(crate) fn read(bytes: &[u8], column: DayColumn) -> Result<DayTable, ReadError> {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let mut reader = ReaderBuilder::new().trim(Trim::All).comment(Some(b'#')).from_reader(bytes);
    let header = reader.headers().map_err(|error| broken(&error))?.clone();
    let dates = needed(&header, &[("date", 1.0)])?;
    let depths = match find(&header, column.names())? {
        Some(depths) => depths,
        None => needed(&header, column.names())?,
    };
    let (mut first, mut values, mut faults) = (None::<Date>, Vec::new(), Vec::new());
    for row in reader.records() {
        let row = row.map_err(|error| broken(&error))?;
        let line = row.position().map_or(0, csv::Position::line);
        let day = date_of(&row, dates.0, line)?;
        let index = index_of(*first.get_or_insert(day), day, values.len(), line)?;
        values.resize(index, None);
        let value = cell(row.get(depths.0).unwrap_or_default());
        values.push(match value.map(|value| value.map(|value| value * depths.1)) {
            Ok(Some(mm)) if !(0.0..=column.most_mm()).contains(&mm) => {
                faults.push(format!("line {line}: {mm} mm on one day is not possible"));
                None
            }
            Ok(mm) => mm,
            Err(fault) => {
                faults.push(format!("line {line}: {fault}"));
                None
            }
        });
    }
    let Some(first_day) = first else { return Err(ReadError::NoDay) };
    // A file of days may hold both, each for its own key.
    let known = ["date", "rain_mm", "rain_in", "et0_mm", "et0_in"];
    let passed_over = passed_over(&header, &known);
    let series = DailySeries { first_day, values, typical_year: false };
    Ok(DayTable { series, faults, passed_over })
}

fn date_of(row: &StringRecord, column: usize, line: u64) -> Result<Date, ReadError> {
    let text = row.get(column).unwrap_or_default();
    text.parse::<Date>().map_err(|_| {
        let problem = format!("\"{text}\" is not a date like 2027-05-10");
        ReadError::Row { line, problem }
    })
}

/// Where `day` comes; days already there are `next`.
fn index_of(first: Date, day: Date, next: usize, line: u64) -> Result<usize, ReadError> {
    let days = day.duration_since(first).as_hours() / 24;
    let wrong = |problem: String| Err(ReadError::Row { line, problem });
    match usize::try_from(days) {
        Ok(index) if index + 1 == next => wrong(format!("the day {day} comes twice")),
        Ok(index) if index >= next && days <= LONGEST_DAYS => Ok(index),
        Ok(index) if index >= next => wrong(format!("the day {day} is a century after the first")),
        _ => wrong(format!("the day {day} comes after a later one")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn closed_days_with_units_and_gaps() {
        let text = "date,rain_in,note\n2027-05-10,1,a\n2027-05-11,,b\n2027-05-14,0,c\n\
                    2027-05-15,-1,d\n2027-05-16,some,e\n";
        let table = read(text.as_bytes(), DayColumn::Rain).unwrap();
        assert_eq!(table.series.first_day, date(2027, 5, 10));
        let expected = [Some(25.4), None, None, None, Some(0.0), None, None];
        assert_eq!(table.series.values, expected);
        assert_eq!(table.faults.len(), 2, "{:?}", table.faults);
        assert!(table.faults[0].starts_with("line 5: "), "{:?}", table.faults);
    }

    #[test]
    fn closed_files_in_doubt_are_refused() {
        let told = |text: &str| read(text.as_bytes(), DayColumn::Et0).unwrap_err().to_string();
        assert!(told("date,rain_mm\n2027-05-10,1\n").contains("no column `et0_mm`"));
        assert!(told("day,et0_mm\n2027-05-10,1\n").contains("no column `date`"));
        assert!(told("date,et0_mm\n10 May,1\n").contains("not a date like"));
        assert!(told("date,et0_mm\n2027-05-10,1\n2027-05-10,1\n").contains("comes twice"));
        assert!(told("date,et0_mm\n2027-05-10,1\n2027-05-08,1\n").contains("after a later one"));
        assert!(told("date,et0_mm\n").contains("no day"));
    }
}
