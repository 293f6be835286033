//! Years of a record as seasons: how many there are, and whether each is whole.

use super::climate;
use crate::file::ScenarioFile;
use crate::issue::Issue;
use crate::notes::Notes;
use crate::read::optional;
use evenfall_core::evapotranspiration::ReferenceEt;
use evenfall_core::model::Scenario;
use evenfall_core::weather::WeatherSource;
use evenfall_core::worth::{Agronomy, Economics, Rain, WorthError, seasons_there_are};
use jiff::civil::Date;

/// A record that holds one season, and how to go on.
const ONE_YEAR: &str = "the weather record holds one season only, and whether it pays is told from two or \
    more. Set \"typical_year\": true in the record: its days then stand for any year, and the other \
    seasons are drawn from it in blocks of days. Or give a record of more years";

/// What makes seasons that differ.
fn unlike(weather: &WeatherSource) -> &'static str {
    match weather {
        WeatherSource::Record { .. } => {
            "For seasons that differ leave out `seasons` of the record beside \"typical_year\": true, so \
             that they are drawn from it in blocks of days, or give a record of more years"
        }
        _ => "For seasons that differ give a weather record, or `generated` wind",
    }
}

/// Limits the seasons to the years there are; tells years with gaps, and seasons that are all alike.
pub(crate) fn check(
    file: &ScenarioFile,
    scenario: &Scenario,
    agronomy: &Agronomy,
    economics: &mut Economics,
    notes: &mut Notes<'_>,
) {
    let first: Date = scenario.calendar.start.date();
    // What is amiss with the schedule has been told already.
    let Ok(there_are) = seasons_there_are(scenario, agronomy) else { return };
    // Years of a record whose days are drawn are no seasons.
    let drawn = scenario.drawn_weather();
    let climate_years = agronomy.years(first).filter(|_| drawn.typical_year() != Some(false));
    if let Some(there_are) = there_are {
        economics.max_seasons = Some(there_are);
        let last = first.year() + i16::try_from(there_are.saturating_sub(1)).unwrap_or(0);
        if economics.seasons > there_are {
            let value = format!("{there_are}, the years {} to {last}", first.year());
            let why = "each season is a year of the record from the scenario's own on; there are \
                       no more";
            notes.assume("/worth/seasons", value, why);
            economics.seasons = there_are;
        }
        if there_are == 1 {
            notes.warn(ONE_YEAR.to_owned());
        }
    } else if let Some(years) = climate_years {
        let why = match years {
            0 | 1 => {
                "the wind is drawn anew each season; the record of evapotranspiration or rain holds one \
                 year, so all seasons have it alike. Give more years of it for seasons that differ"
            }
            _ => {
                "the wind is drawn anew each season; evapotranspiration and rain take the years of their \
                 record in turn"
            }
        };
        notes.assume("/climate", format!("{years} years"), why);
    } else if !scenario.weather.is_drawn() {
        let so = if economics.doubts {
            "the likely ranges hold what is doubtful about pattern, losses, soil, crop and prices, \
             and no weather"
        } else {
            "the intervals have no width and say nothing about how sure the answer is"
        };
        notes.warn(format!(
            "every season has the same weather (one typical year, a steady wind or none), so {so}. {}",
            unlike(&scenario.weather)
        ));
    }
    let is_drawn = scenario.weather.is_drawn();
    if !is_drawn && climate_years.is_none_or(|years| years < 2) {
        return;
    }
    // Only records have gaps; all else was tried with the first season, and drawing every one takes long.
    if !matches!(agronomy.et0, ReferenceEt::Daily(_)) && !matches!(agronomy.rain, Rain::Record(_)) {
        return;
    }
    let Some(given) = optional(&file.climate) else { return };
    let at = given.at.opening();
    match agronomy.ground(first, economics.seasons, Some(drawn)) {
        Err(WorthError::Climate(gaps)) => climate::tell_gaps(&at, &gaps, notes),
        Err(error) => notes.issues.push(Issue::new(&at, error.to_string())),
        Ok(_) => {}
    }
}
