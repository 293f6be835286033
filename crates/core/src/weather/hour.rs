//! One hour of weather.

/// The wind of one hour at the height it was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wind {
    /// Mean speed, m/s.
    pub speed_m_s: f64,
    /// Direction it blows from, degrees clockwise from north; any value where the speed is 0.
    pub from_deg: f64,
}

impl Wind {
    /// No wind.
    pub(super) const STILL: Self = Self { speed_m_s: 0.0, from_deg: 0.0 };
}

/// One hour of weather.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeatherHour {
    /// The wind at [`super::Weather::measured_at_m`].
    pub wind: Wind,
    /// Air temperature, °C, where known.
    pub air_temperature_c: Option<f64>,
    /// Relative humidity as a fraction 0–1, where known.
    pub relative_humidity: Option<f64>,
}
