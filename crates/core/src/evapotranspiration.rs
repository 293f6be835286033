//! Reference evapotranspiration ET0 by day: what well-watered short grass would use.
//!
//! Sources, from the best to the poorest: [`penman_monteith`] (FAO-56 equation 6) from a record of
//! weather, [`hargreaves`] (equation 52) from temperatures alone, a daily series of one's own,
//! monthly values, one constant. A monthly value holds on each of its days; the step between months
//! is kept, so that each month's sum is as given.
//!
//! Authority: Allen et al. 1998, FAO Irrigation and Drainage Paper 56.

pub mod air;
pub mod hargreaves;
pub mod penman_monteith;
pub mod radiation;
pub mod record;

use jiff::ToSpan;
use jiff::civil::Date;

/// Place of a weather station.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Site {
    /// Latitude, degrees; south is negative.
    pub latitude_deg: f64,
    /// Height above the sea, m.
    pub elevation_m: f64,
}

/// Where the daily ET0 comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum ReferenceEt {
    /// The same every day, mm a day.
    Constant(f64),
    /// January to December, mm a day.
    Monthly([f64; 12]),
    /// Day by day; `None` marks a day that is missing.
    Daily {
        /// Day of the first value.
        first_day: Date,
        /// Values, mm a day.
        et0_mm: Vec<Option<f64>>,
    },
}

/// Why the ET0 of a day cannot be had.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum EtProblem {
    /// A number outside what is taken.
    #[error("{quantity} is {value}; it must lie between {lowest} and {highest}")]
    OutOfRange {
        /// Name with its unit.
        quantity: &'static str,
        /// What was given.
        value: f64,
        /// Lowest value taken.
        lowest: f64,
        /// Highest value taken.
        highest: f64,
    },
    /// A day's greatest temperature under its least.
    #[error("the day's greatest temperature ({t_max_c} °C) is under its least ({t_min_c} °C)")]
    TemperaturesCrossed {
        /// Greatest, °C.
        t_max_c: f64,
        /// Least, °C.
        t_min_c: f64,
    },
    /// A day that the series does not hold.
    #[error("no ET0 for {0}")]
    Missing(Date),
    /// A day of the record with too few hours.
    #[error("{day}: {hours} hours with {quantity}, {HOURS_NEEDED} are needed")]
    FewHours {
        /// The day.
        day: Date,
        /// What is missing.
        quantity: &'static str,
        /// Hours that have it.
        hours: usize,
    },
}

/// Hours of a day that must be known to work out its ET0.
pub const HOURS_NEEDED: usize = 20;

/// Highest ET0 that is taken, mm a day.
pub const MOST_ET0_MM: f64 = 30.0;

impl ReferenceEt {
    /// ET0 of `days` days from `first` on, mm.
    ///
    /// # Errors
    /// Every day that is missing or has a value outside 0–30 mm, at once.
    pub fn days(&self, first: Date, days: usize) -> Result<Vec<f64>, Vec<EtProblem>> {
        let (mut values, mut problems) = (Vec::with_capacity(days), Vec::new());
        for number in 0..days {
            let day = first.saturating_add((number as i64).days());
            match self.on(day) {
                Some(value) if (0.0..=MOST_ET0_MM).contains(&value) => values.push(value),
                Some(value) => problems.push(EtProblem::OutOfRange {
                    quantity: "ET0 (mm a day)",
                    value,
                    lowest: 0.0,
                    highest: MOST_ET0_MM,
                }),
                None => problems.push(EtProblem::Missing(day)),
            }
        }
        // A wrong constant or month is one fault, not one a day.
        problems.dedup();
        if problems.is_empty() { Ok(values) } else { Err(problems) }
    }

    fn on(&self, day: Date) -> Option<f64> {
        match self {
            Self::Constant(value) => Some(*value),
            Self::Monthly(values) => values.get(usize::try_from(day.month() - 1).ok()?).copied(),
            Self::Daily { first_day, et0_mm } => {
                let since = (day - *first_day).get_days();
                et0_mm.get(usize::try_from(since).ok()?).copied().flatten()
            }
        }
    }
}

/// `Ok` if `lowest ≤ value ≤ highest`; NaN is outside of everything.
fn within(quantity: &'static str, value: f64, lowest: f64, highest: f64) -> Result<(), EtProblem> {
    if value >= lowest && value <= highest {
        Ok(())
    } else {
        Err(EtProblem::OutOfRange { quantity, value, lowest, highest })
    }
}

impl Site {
    /// Whether the place is on Earth and the day's sun rises and sets there.
    ///
    /// # Errors
    /// Latitude beyond 65° (the sun may not set), height outside −450 to 6000 m.
    pub fn check(&self) -> Result<(), EtProblem> {
        within("latitude (degrees)", self.latitude_deg, -65.0, 65.0)?;
        within("elevation (m)", self.elevation_m, -450.0, 6000.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn closed_constants_months_and_series_by_date() {
        let constant = ReferenceEt::Constant(6.0);
        assert_eq!(constant.days(date(2024, 2, 28), 3), Ok(vec![6.0; 3]));

        let mut months = [0.0; 12];
        (months[5], months[6]) = (7.0, 8.0);
        let monthly = ReferenceEt::Monthly(months);
        assert_eq!(monthly.days(date(2025, 6, 29), 4), Ok(vec![7.0, 7.0, 8.0, 8.0]));

        let et0_mm = vec![Some(4.0), None, Some(5.0)];
        let daily = ReferenceEt::Daily { first_day: date(2025, 5, 31), et0_mm };
        assert_eq!(daily.days(date(2025, 6, 2), 1), Ok(vec![5.0]));
        let told = daily.days(date(2025, 5, 30), 5).unwrap_err();
        let missing = [date(2025, 5, 30), date(2025, 6, 1), date(2025, 6, 3)];
        assert_eq!(told, missing.map(EtProblem::Missing));
    }

    #[test]
    fn closed_a_wrong_constant_is_told_once() {
        let told = ReferenceEt::Constant(-3.0).days(date(2025, 6, 1), 90).unwrap_err();
        assert_eq!(told.len(), 1);
        assert!(ReferenceEt::Monthly([31.0; 12]).days(date(2025, 6, 1), 90).is_err());
    }
}
