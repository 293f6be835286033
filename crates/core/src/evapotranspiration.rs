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
pub(crate) mod windy_days;

pub use crate::weather::Site;

use crate::range::{OutOfRange, within};
use crate::weather::daily::{DailySeries, Gaps, all_days};
use jiff::civil::Date;

/// Where the daily ET0 comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum ReferenceEt {
    /// The same every day, mm a day.
    Constant(f64),
    /// January to December, mm a day.
    Monthly([f64; 12]),
    /// Day by day, mm.
    Daily(DailySeries),
}

/// Why the ET0 of a day cannot be had.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum EtProblem {
    /// A number outside what is taken.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// A day's greatest temperature under its least.
    #[error("the day's greatest temperature ({t_max_c} °C) is under its least ({t_min_c} °C)")]
    TemperaturesCrossed {
        /// Greatest, °C.
        t_max_c: f64,
        /// Least, °C.
        t_min_c: f64,
    },
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
    /// A day without all its hours of sunshine: the missing ones may be the bright ones.
    #[error("{day}: {hours} hours with solar radiation, all 24 are needed")]
    FewSunHours {
        /// The day.
        day: Date,
        /// Hours that have it.
        hours: usize,
    },
}

/// Hours of a day that must be known to work out its ET0.
const HOURS_NEEDED: usize = 20;

impl ReferenceEt {
    /// ET0 of `days` days from `first` on, mm.
    ///
    /// # Errors
    /// Every day that is missing, at once.
    pub fn days(&self, first: Date, days: usize) -> Result<Vec<f64>, Gaps> {
        all_days(first, days, |day| self.on(day))
    }

    /// ET0 on `day`, mm.
    pub fn on(&self, day: Date) -> Option<f64> {
        match self {
            Self::Constant(value) => Some(*value),
            Self::Monthly(values) => values.get(usize::try_from(day.month() - 1).ok()?).copied(),
            Self::Daily(series) => series.on(day),
        }
    }
}

impl Site {
    /// Whether the place is on Earth and the day's sun rises and sets there.
    ///
    /// # Errors
    /// Latitude beyond 65° (the sun may not set), height outside −450 to 6000 m.
    pub fn check(&self) -> Result<(), EtProblem> {
        within("latitude (degrees)", self.latitude_deg, -65.0, 65.0)?;
        Ok(within("elevation (m)", self.elevation_m, -450.0, 6000.0)?)
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

        let values = vec![Some(4.0), None, Some(5.0)];
        let series = DailySeries { first_day: date(2025, 5, 31), values, typical_year: false };
        let daily = ReferenceEt::Daily(series);
        assert_eq!(daily.days(date(2025, 6, 2), 1), Ok(vec![5.0]));
        let told = daily.days(date(2025, 5, 30), 5).unwrap_err();
        let missing = [date(2025, 5, 30), date(2025, 6, 1), date(2025, 6, 3)];
        assert_eq!(told, Gaps(missing.map(|day| (day, day)).to_vec()));
    }
}
