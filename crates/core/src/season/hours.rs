//! The hours of a season: wind in the field's axes and the portion of the water that lands.

use super::error::SeasonError;
use super::outcome::{WateredHour, WindSummary};
use crate::clock::DAY_HOURS;
use crate::model::Scenario;
use crate::schedule::{Plan, SetPlan};
use crate::sprinkler::footprint::WindSlice;
use crate::weather::profile::speed_at_2_m;
use crate::weather::{Weather, WeatherHour};
use jiff::civil::DateTime;

/// What landing maps must reach up to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct WindRange {
    /// The fastest wind in an hour with water, m/s at measuring height.
    pub(crate) fastest_m_s: f64,
    /// Height of the anemometer, m.
    pub(crate) measured_at_m: f64,
}

impl WindRange {
    /// That of many seasons, all measured at the height of the first; `None` without a season.
    pub(crate) fn of_all(seasons: impl IntoIterator<Item = Self>) -> Option<Self> {
        let widest = |one: Self, other: Self| Self {
            fastest_m_s: one.fastest_m_s.max(other.fastest_m_s),
            ..one
        };
        seasons.into_iter().reduce(widest)
    }
}

/// Wind and losses of every hour from midnight of the first day.
#[derive(Debug)]
pub(crate) struct SeasonHours {
    weather: Weather,
    /// One slice per clock hour, its `hours` being 1.
    slices: Vec<WindSlice>,
    /// Hours with water.
    needed: Vec<bool>,
    /// Hours with water whose losses were clipped to 0–1.
    clipped: usize,
}

impl SeasonHours {
    /// Finds the weather of every hour in which one of `plans` runs water.
    pub(crate) fn of(
        scenario: &Scenario,
        plans: &[Plan],
        season: u32,
    ) -> Result<Self, SeasonError> {
        let Some(midnight) = plans.first().map(|plan| plan.midnight) else {
            return Err(SeasonError::NoAlternatives);
        };
        Self::from(scenario, midnight, needed_hours(plans), season)
    }

    /// The hours from `midnight` of the first season on, of which those in `needed` must be known.
    pub(crate) fn from(
        scenario: &Scenario,
        midnight: DateTime,
        needed: Vec<bool>,
        season: u32,
    ) -> Result<Self, SeasonError> {
        let weather = scenario.weather.season(midnight, &needed, scenario.seed, season)?;
        let mut hours =
            Self { slices: Vec::with_capacity(needed.len()), needed, clipped: 0, weather };
        for hour in 0..hours.needed.len() {
            let slice = hours.slice(scenario, hour)?;
            hours.slices.push(slice);
        }
        Ok(hours)
    }

    fn slice(&mut self, scenario: &Scenario, hour: usize) -> Result<WindSlice, SeasonError> {
        let WeatherHour { wind, air_temperature_c, relative_humidity } = self.weather.hours[hour];
        let measured_at_m = self.weather.measured_at_m;
        let wind_2_m = speed_at_2_m(wind.speed_m_s, measured_at_m)
            .ok_or(SeasonError::MeasuringHeight { measured_at_m })?;
        let loss = scenario.losses.fraction(
            wind_2_m,
            air_temperature_c.unwrap_or(scenario.assumed_air.temperature_c),
            relative_humidity.unwrap_or(scenario.assumed_air.relative_humidity),
            is_day(hour),
        );
        if loss.clipped && self.needed[hour] {
            self.clipped += 1;
        }
        // A wind from `from_deg` blows towards from_deg + 180; +y has the travel bearing b and +x
        // lies 90° clockwise of it, so a bearing φ is 90° − (φ − b) from +x to +y.
        let to_deg = wind.from_deg + 180.0 - scenario.field.travel_bearing_deg;
        Ok(WindSlice {
            hours: 1.0,
            net: (1.0 - scenario.losses_factor() * loss.fraction).max(0.0),
            speed_m_s: wind.speed_m_s,
            towards_rad: (90.0 - to_deg).rem_euclid(360.0).to_radians(),
        })
    }

    /// The same hours with `factor` times the losses, at most all of the water.
    pub(crate) fn with_losses(mut self, factor: f64) -> Self {
        for slice in &mut self.slices {
            slice.net = (1.0 - factor * (1.0 - slice.net)).max(0.0);
        }
        self
    }

    /// The parts of a set by clock hour; neighbors with the same wind and losses are one.
    pub(crate) fn slices_of(&self, set: &SetPlan) -> Vec<WindSlice> {
        self.slices_within((set.start_h, set.end_h))
    }

    /// The parts of the hours from `start_h` to `end_h`, likewise.
    pub(super) fn slices_within(&self, (start_h, end_h): (f64, f64)) -> Vec<WindSlice> {
        let mut slices: Vec<WindSlice> = Vec::new();
        let (first, last) = (start_h.floor() as usize, end_h.ceil() as usize);
        for hour in first..last {
            let hours = end_h.min((hour + 1) as f64) - start_h.max(hour as f64);
            let slice = WindSlice { hours, ..self.slices[hour] };
            match slices.last_mut() {
                Some(before) if (WindSlice { hours, ..*before }) == slice => before.hours += hours,
                _ => slices.push(slice),
            }
        }
        slices
    }

    /// Those that are `needed`, in order, hour by hour.
    pub(super) fn slices_in(&self, needed: &[bool]) -> Vec<WindSlice> {
        let hours = self.slices.iter().zip(needed).filter(|(_, needed)| **needed);
        hours.map(|(slice, _)| *slice).collect()
    }

    /// The air temperature of a clock hour, where the weather knows it, °C.
    pub(crate) fn air_temperature_c(&self, hour: usize) -> Option<f64> {
        self.weather.hours.get(hour)?.air_temperature_c
    }

    /// What the wind comes to in the hours with water.
    pub(crate) fn wind_range(&self) -> WindRange {
        let watered = self.weather.hours.iter().zip(&self.needed).filter(|(_, needed)| **needed);
        let speeds = watered.map(|(hour, _)| hour.wind.speed_m_s);
        WindRange {
            fastest_m_s: speeds.fold(0.0, f64::max),
            measured_at_m: self.weather.measured_at_m,
        }
    }

    /// The wind of the hours with water.
    pub(crate) fn watered(&self) -> Vec<WateredHour> {
        let hours = self.weather.hours.iter().zip(&self.needed).enumerate();
        let watered = hours.filter(|(_, (_, needed))| **needed);
        watered
            .map(|(hour, (weather, _))| WateredHour {
                hour,
                speed_m_s: weather.wind.speed_m_s,
                from_deg: weather.wind.from_deg,
            })
            .collect()
    }

    /// What the reader must be told about the weather.
    pub(crate) fn notices(&self) -> Vec<String> {
        let mut notices = Vec::new();
        let bridged = self.weather.bridged_hours.len();
        if bridged > 0 {
            notices.push(format!(
                "{bridged} hours with water are missing from the weather record; each took the \
                 last known hour, as the scenario allows."
            ));
        }
        if self.clipped > 0 {
            notices.push(format!(
                "In {} hours with water the loss formula left the range 0 to 100 % (winds or air \
                 outside the data it was fitted to); it was held at the end of the range.",
                self.clipped
            ));
        }
        notices
    }

    /// The wind in the hours when `plan` runs water.
    pub(crate) fn wind_summary(&self, plan: Option<&Plan>) -> WindSummary {
        let needed = plan.map_or_else(Vec::new, |plan| needed_hours(std::slice::from_ref(plan)));
        let mut summary = WindSummary {
            day_mean_m_s: 0.0,
            night_mean_m_s: 0.0,
            highest_m_s: 0.0,
            measured_at_m: self.weather.measured_at_m,
            rose: [0.0; 16],
            calm_share: 0.0,
        };
        let (mut day_hours, mut night_hours) = (0.0_f64, 0.0_f64);
        for hour in (0..needed.len()).filter(|hour| needed[*hour]) {
            let wind = self.weather.hours[hour].wind;
            if is_day(hour) {
                day_hours += 1.0;
                summary.day_mean_m_s += wind.speed_m_s;
            } else {
                night_hours += 1.0;
                summary.night_mean_m_s += wind.speed_m_s;
            }
            summary.highest_m_s = summary.highest_m_s.max(wind.speed_m_s);
            if wind.speed_m_s < CALM_BELOW_M_S {
                summary.calm_share += 1.0;
            } else {
                summary.rose[(wind.from_deg.rem_euclid(360.0) / 22.5).round() as usize % 16] += 1.0;
            }
        }
        let hours = (day_hours + night_hours).max(1.0);
        summary.day_mean_m_s /= day_hours.max(1.0);
        summary.night_mean_m_s /= night_hours.max(1.0);
        summary.calm_share /= hours;
        summary.rose = summary.rose.map(|count| count / hours);
        summary
    }
}

/// Winds slower than this have no direction worth drawing, m/s.
const CALM_BELOW_M_S: f64 = 0.5;

fn is_day(hour: usize) -> bool {
    let clock_h = (hour % 24) as f64;
    clock_h >= DAY_HOURS.0 && clock_h < DAY_HOURS.1
}

/// Which clock hours see water in any of `plans`.
pub(crate) fn needed_hours(plans: &[Plan]) -> Vec<bool> {
    let end_h = plans.iter().map(Plan::end_h).fold(0.0, f64::max);
    let mut needed = vec![false; end_h.ceil() as usize];
    for set in plans.iter().flat_map(|plan| &plan.passes).flat_map(|pass| &pass.sets) {
        needed[set.start_h.floor() as usize..set.end_h.ceil() as usize].fill(true);
    }
    needed
}
