//! A scenario: everything that a season's simulation needs.

use super::alternative::Alternative;
use super::called::Called;
use super::field::Field;
use crate::calibration::Calibration;
use crate::schedule::Calendar;
use crate::sprinkler::losses::Losses;
use crate::weather::{AssumedAir, DrawnWeather, WeatherSource};
use std::sync::Arc;

/// Everything a season's simulation needs, in SI, already checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// Title for reports.
    pub title: String,
    /// The field.
    pub field: Field,
    /// When water is to run, but where an alternative says otherwise.
    pub calendar: Calendar,
    /// Where the wind comes from.
    pub weather: WeatherSource,
    /// Air assumed where the weather does not say.
    pub assumed_air: AssumedAir,
    /// Wind drift and evaporation losses.
    pub losses: Losses,
    /// What is compared, in order; the first is the baseline.
    pub alternatives: Vec<Alternative>,
    /// Seed of everything drawn.
    pub seed: u64,
    /// Height of the crop over which wind blows and on which water lands, m; `None` for grass, and
    /// water that lands on the ground.
    pub canopy_height_m: Option<f64>,
    /// Standard deviation over which roots and soil spread the water that falls, m.
    pub smoothing_m: f64,
    /// Margin of the interior where it is given, m.
    pub interior_margin_given_m: Option<f64>,
    /// Whether passes wait until the crop calls for water; else they run by the calendar.
    pub called: Option<Called>,
    /// What catch tests leave of the doubts about the sprinkler. The alternatives' sprinklers are
    /// those of its point used.
    pub calibration: Option<Arc<Calibration>>,
}

impl Scenario {
    /// Factor on the losses as stated: that of the tests, if there are any.
    pub fn losses_factor(&self) -> f64 {
        self.calibration.as_ref().map_or(1.0, |tests| tests.used().losses)
    }

    /// When `alternative` runs water.
    pub fn calendar_of<'a>(&'a self, alternative: &'a Alternative) -> &'a Calendar {
        alternative.calendar.as_ref().unwrap_or(&self.calendar)
    }

    /// The same with every sprinkler at its stated pressure; nothing where no pipe is described.
    pub fn at_stated_pressure(&self) -> Option<Self> {
        if self.alternatives.iter().all(|alternative| alternative.feed.is_none()) {
            return None;
        }
        let mut even = self.clone();
        even.alternatives.iter_mut().for_each(|alternative| alternative.feed = None);
        Some(even)
    }

    /// What the days of its seasons are drawn with.
    pub fn drawn_weather(&self) -> DrawnWeather<'_> {
        DrawnWeather {
            source: &self.weather,
            seed: self.seed,
            midnight: self.calendar.midnight(),
            air: self.assumed_air,
        }
    }

    /// Margin that the interior leaves out at each edge, m: the one given, so that results of several
    /// scenarios compare, else the widest outlet spacing of all alternatives, so that all are judged on
    /// the same ground.
    pub fn interior_margin_m(&self) -> f64 {
        if let Some(given_m) = self.interior_margin_given_m {
            return given_m;
        }
        self.alternatives.iter().map(|own| own.outlets.spacing_m).fold(0.0, f64::max)
    }
}
