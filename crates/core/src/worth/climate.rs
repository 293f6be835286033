//! The crop's days out of the climate, one list for each year that the climate tells apart.
//!
//! Season s is that of the year s years after the first one. A record of several years gives each
//! season its own evapotranspiration and rain; constant and monthly values, rain listed by hand and
//! typical years are the same every year. Where the days of a season are drawn from a record, its
//! evapotranspiration and rain are those of the drawn days, together with their wind; where winds are
//! drawn from a climate, constant and monthly evapotranspiration go up and down with them.

use super::drawn_days::DrawnDays;
use super::inputs::{Agronomy, ClimateProblem, WorthError};
use super::rain::{Rain, later};
use super::varied_days::varied_et0_mm;
use crate::evapotranspiration::ReferenceEt;
use crate::model::Scenario;
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::root_zone::inputs::SeasonInputs;
use crate::root_zone::season::SeasonWater;
use crate::schedule::Plan;
use crate::season::{self, SeasonError};
use crate::weather::daily::{DailySeries, all_days};
use crate::weather::{DrawnWeather, WeatherSource};
use jiff::ToSpan;
use jiff::civil::Date;
use rayon::prelude::*;
use std::ops::Range;

impl Agronomy {
    /// The ground for `seasons` seasons, the first of whose first set starts on `first_set`, their
    /// days drawn with `drawn`; without it, as they stand.
    ///
    /// # Errors
    /// Everything that is wrong with crop, soil or climate, in whichever season.
    pub fn ground(
        &self,
        first_set: Date,
        seasons: usize,
        drawn: Option<DrawnWeather<'_>>,
    ) -> Result<Ground, WorthError> {
        self.ground_from(first_set, 0..seasons, drawn, &|| true)
    }

    /// The same for `seasons` by their numbers, as long as `goes_on` says so: thousands of drawn seasons
    /// take a while. Of drawn seasons those before are left without days.
    pub(super) fn ground_from(
        &self,
        first_set: Date,
        seasons: Range<usize>,
        drawn: Option<DrawnWeather<'_>>,
        goes_on: &(dyn Fn() -> bool + Sync),
    ) -> Result<Ground, WorthError> {
        let years = self.years(first_set).map(|years| years.max(1));
        let unlike = match drawn {
            Some(drawn) if drawn.source.is_drawn() => seasons.clone(),
            _ => 0..years.unwrap_or(1).min(seasons.end),
        };
        let season = |season: usize| {
            if !goes_on() {
                let (done, total) = (0, seasons.len());
                return Err(WorthError::Season(SeasonError::Stopped { done, total }));
            }
            let year = season % years.unwrap_or(1);
            let drawn = drawn.map(|drawn| (drawn, season as u32));
            let water = self.season(first_set, year as i64, drawn)?;
            Ok((water.at_planting().depletion_mm, water.days().to_vec()))
        };
        let numbers = unlike.start..unlike.end.max(unlike.start + 1);
        let found: Vec<Result<_, WorthError>> = numbers.into_par_iter().map(season).collect();
        let (mut depletion_mm, mut missing) = (None, Vec::new());
        let mut days: Vec<Vec<CropDay>> = vec![Vec::new(); unlike.start];
        for season in found {
            match season {
                Ok((at_planting_mm, own)) => {
                    depletion_mm.get_or_insert(at_planting_mm);
                    days.push(own);
                }
                Err(WorthError::Climate(gaps)) => missing.extend(gaps),
                Err(other) => return Err(other),
            }
        }
        if !missing.is_empty() {
            return Err(WorthError::Climate(missing));
        }
        Ok(Ground {
            first_day: self.first_day(first_set),
            depletion_mm: depletion_mm.unwrap_or(0.0),
            days,
            ky: self.crop.yield_response,
        })
    }

    /// Day of the season (0 = the day of the first set) on which the crop's first day falls.
    fn first_day(&self, first_set: Date) -> i64 {
        self.planted.duration_since(first_set).as_hours() / 24
    }

    /// The season whose climate is that of the year `years` after the first, where its days are not
    /// drawn.
    fn season(
        &self,
        first_set: Date,
        years: i64,
        drawn: Option<(DrawnWeather<'_>, u32)>,
    ) -> Result<SeasonWater, WorthError> {
        let days = self.crop.season_days();
        let planted = self.planted_in(first_set, years);
        let drawn_days = DrawnDays::of(drawn, (self.planted_in(first_set, 0), days));
        let et0_mm = match (&self.et0, &drawn_days) {
            (ReferenceEt::Daily(series), Some(drawn)) if drawn.goes_with(series) => {
                drawn.values(|day| series.on(day))
            }
            _ => self.et0.days(planted, days),
        };
        let et0_mm = et0_mm.map(|mean_mm| match (&self.et0, drawn) {
            (ReferenceEt::Constant(_) | ReferenceEt::Monthly(_), Some((drawn, season))) => {
                varied_et0_mm(drawn, (planted, mean_mm), self.et0_day_spread, season)
            }
            _ => mean_mm,
        });
        let rain_mm = match (&self.rain, &drawn_days) {
            (Rain::Record(series), Some(drawn)) if drawn.goes_with(series) => {
                drawn.values(|day| series.on(day))
            }
            _ => all_days(planted, days, |day| self.rain.on(day, years)),
        };
        let (et0_mm, rain_mm) = match (et0_mm, rain_mm) {
            (Ok(et0_mm), Ok(rain_mm)) => (et0_mm, rain_mm),
            (et0, rain) => {
                let told = [("reference evapotranspiration", et0.err()), ("rain", rain.err())];
                let problem = |(quantity, gaps): (&'static str, Option<_>)| {
                    Some(ClimateProblem { quantity, gaps: gaps? })
                };
                return Err(WorthError::Climate(told.into_iter().filter_map(problem).collect()));
            }
        };
        SeasonWater::prepare(&SeasonInputs {
            crop: &self.crop,
            soil: &self.soil,
            et0_mm: &et0_mm,
            rain_mm: &rain_mm,
            start_depletion: self.start_depletion,
        })
        .map_err(WorthError::Water)
    }

    /// Planting in the season that lies `years` after the first: as many days from the first set.
    fn planted_in(&self, first_set: Date, years: i64) -> Date {
        later(first_set, years).saturating_add(self.first_day(first_set).days())
    }

    /// Seasons that the climate's records hold, if it differs from year to year.
    pub fn years(&self, first_set: Date) -> Option<usize> {
        let of_years = |series: &DailySeries| !series.typical_year;
        let et0 = match &self.et0 {
            ReferenceEt::Daily(series) => Some(series).filter(|series| of_years(series)),
            ReferenceEt::Constant(_) | ReferenceEt::Monthly(_) => None,
        };
        let rain = match &self.rain {
            Rain::Record(series) => Some(series).filter(|series| of_years(series)),
            Rain::Listed(_) => None,
        };
        let records: Vec<&DailySeries> = et0.into_iter().chain(rain).collect();
        let last = self.crop.season_days() as i64 - 1;
        let covered = |years: &usize| {
            let planted = self.planted_in(first_set, *years as i64);
            let ends = [planted, planted.saturating_add(last.days())];
            records.iter().all(|series| ends.iter().all(|day| series.covers(*day)))
        };
        (!records.is_empty()).then(|| (0..MOST_YEARS).take_while(covered).count())
    }
}

/// No record is longer, years.
const MOST_YEARS: usize = 200;

/// Seasons that there are, if a record of several years gives each its own wind; `None` if there
/// are as many as one likes.
///
/// # Errors
/// The scenario has no schedule.
pub fn seasons_there_are(
    scenario: &Scenario,
    agronomy: &Agronomy,
) -> Result<Option<usize>, WorthError> {
    let Some(winds) = winds_there_are(scenario)? else { return Ok(None) };
    let plans = season::plans(scenario)?;
    let first = plans.first().ok_or(SeasonError::NoAlternatives)?;
    let climate = agronomy.years(first.midnight.date()).unwrap_or(MOST_YEARS);
    Ok(Some(winds.min(climate)))
}

/// The same where nothing is known of crop and climate.
///
/// # Errors
/// The scenario has no schedule.
pub(crate) fn winds_there_are(scenario: &Scenario) -> Result<Option<usize>, SeasonError> {
    let WeatherSource::Record { record, .. } = &scenario.weather else { return Ok(None) };
    if record.typical_year || scenario.weather.is_drawn() {
        return Ok(None);
    }
    let plans = season::plans(scenario)?;
    let first = plans.first().ok_or(SeasonError::NoAlternatives)?;
    let hours = plans.iter().map(Plan::end_h).fold(0.0, f64::max).ceil() as i64;
    let starts_h = first.passes.first().map_or(0.0, |pass| pass.span_h().0).floor() as i64;
    let winds = (0..MOST_YEARS).take_while(|years| {
        let midnight = first.midnight.saturating_add((*years as i64).years());
        let start = midnight.saturating_add(starts_h.hours());
        record.covers_span(start, midnight.saturating_add(hours.hours()))
    });
    Ok(Some(winds.count()))
}
