//! Evapotranspiration and rain with their defaults: given, read, or worked out from a record.

use super::wind;
use crate::document::At;
use crate::file::{
    ClimateFile, ComputedFile, DaysFile, Et0File, EtMethod, RadiationSource, RainWays,
};
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use crate::read_plain::Text;
use crate::weather::days::{self, DayColumn};
use evenfall_core::evapotranspiration::ReferenceEt;
use evenfall_core::evapotranspiration::radiation::Radiation;
use evenfall_core::evapotranspiration::record::{RecordMethod, et0_series};
use evenfall_core::weather::daily::DailySeries;
use evenfall_core::weather::{Site, SkyHour, WeatherHour, WeatherRecord, WeatherSource};
use evenfall_core::worth::{ClimateProblem, Rain, RainDay};

/// Columns that a record of hours may have beside wind and air.
const COLUMNS: &str = "Columns of a csv record: solar_radiation_w_m2 (or _mj_m2), rain_mm (or \
                       _in), et0_mm (or _in), air_temperature_c (or _f), relative_humidity_pct.";

/// Evapotranspiration and rain.
#[derive(Debug)]
pub(crate) struct Climate {
    pub(crate) et0: ReferenceEt,
    pub(crate) et0_day_spread: f64,
    pub(crate) rain: Rain,
}

/// Reference evapotranspiration and rain; `None` if something about them is bad.
pub(crate) fn climate(
    given: &ClimateFile,
    wind: Option<&WeatherSource>,
    notes: &mut Notes<'_>,
) -> Option<Climate> {
    let own = match wind {
        Some(WeatherSource::Record { record, .. }) => Some(record),
        _ => None,
    };
    let et0 = match &given.et0 {
        Et0File::Constant(rate) => Some(ReferenceEt::Constant(rate.value * 24.0)),
        Et0File::Year(year) => match (&year.monthly, &year.record, &year.computed) {
            (Some(monthly), ..) => Some(ReferenceEt::Monthly(monthly.0.map(|rate| rate * 24.0))),
            (_, Some(record), _) => {
                by_day(record, DayColumn::Et0, own, notes).map(ReferenceEt::Daily)
            }
            (.., computed) => computed.as_ref().and_then(|given| computed_et0(given, own, notes)),
        },
    };
    let rain = rain(given, own, notes);
    let et0 = et0?;
    let et0_day_spread = day_spread(given, &et0, wind, notes);
    Some(Climate { et0, et0_day_spread, rain: rain? })
}

/// How much days differ; told only where they are drawn.
fn day_spread(
    given: &ClimateFile,
    et0: &ReferenceEt,
    wind: Option<&WeatherSource>,
    notes: &mut Notes<'_>,
) -> f64 {
    let is_drawn =
        matches!(wind, Some(WeatherSource::Generated(_))) && !matches!(et0, ReferenceEt::Daily(_));
    if is_drawn {
        return ClimateFile::et0_day_spread.or_start(
            Some(&given.et0_day_spread),
            "/climate",
            notes,
        );
    }
    if given.et0_day_spread.is_some() {
        notes.warn(
            "`climate.et0_day_spread` has no effect: it is for evapotranspiration that is constant \
             or by month, under a generated wind"
                .to_owned(),
        );
    }
    0.0
}

fn rain(given: &ClimateFile, own: Option<&WeatherRecord>, notes: &mut Notes<'_>) -> Option<Rain> {
    let rain = match &given.rain {
        None => {
            ClimateFile::rain.assume("/climate", "none", notes);
            return Some(Rain::Listed(Vec::new()));
        }
        Some(RainWays::Record(file)) => {
            return by_day(&file.record, DayColumn::Rain, own, notes).map(Rain::Record);
        }
        Some(RainWays::Listed(rain)) => rain,
    };
    let mut days: Vec<RainDay> = Vec::with_capacity(rain.items.len());
    for rain in &rain.items {
        let date = rain.date.value;
        if days.iter().any(|known| known.date == date) {
            notes.warn(format!("rain is given more than once for {date}: the depths add up"));
        }
        days.push(RainDay { date, depth_mm: rain.depth.value * 1000.0 });
    }
    Some(Rain::Listed(days))
}

/// Days out of a file of their own, or out of the wind record's hours.
fn by_day(
    given: &DaysFile,
    column: DayColumn,
    own: Option<&WeatherRecord>,
    notes: &mut Notes<'_>,
) -> Option<DailySeries> {
    let mut series = match &given.file {
        Some(file) => file_of_days(file, column, notes)?,
        None => days_of_hours(given, column, own, notes)?,
    };
    if given.missing_days.is_none() {
        return Some(series);
    }
    if column == DayColumn::Et0 {
        let problem = "days without evapotranspiration cannot count as dry";
        notes.issues.push(Issue::new(&given.at.opening(), problem));
        return None;
    }
    let missing = series.values.iter().filter(|value| value.is_none()).count();
    notes.warn(format!(
        "{missing} of {} days of the rain record are missing and count as dry, as the scenario says",
        series.values.len()
    ));
    series.values.iter_mut().for_each(|value| *value = value.or(Some(0.0)));
    Some(series)
}

/// What a column of days serves, for the sources.
fn serves(column: DayColumn) -> &'static str {
    match column {
        DayColumn::Rain => "Rain",
        DayColumn::Et0 => "Reference evapotranspiration",
    }
}

fn file_of_days(file: &Text, column: DayColumn, notes: &mut Notes<'_>) -> Option<DailySeries> {
    let bytes = notes.file(&file.value, &file.at)?;
    match days::read(&bytes, column) {
        Ok(table) => {
            let so = "this day counts as missing";
            wind::tell_faults(&file.value, &table.faults, so, notes);
            wind::tell_passed_over(&file.value, &table.passed_over, notes);
            notes.sources.push(format!("{}: days of the file {}", serves(column), file.value));
            Some(table.series)
        }
        Err(error) => {
            notes.issues.push(wind::unreadable(file, &error));
            None
        }
    }
}

fn days_of_hours(
    given: &DaysFile,
    column: DayColumn,
    own: Option<&WeatherRecord>,
    notes: &mut Notes<'_>,
) -> Option<DailySeries> {
    type Take = fn(&SkyHour) -> Option<f64>;
    let (take, name): (Take, _) = match column {
        DayColumn::Rain => (|sky| sky.rain_mm, "`rain_mm`"),
        DayColumn::Et0 => (|sky| sky.et0_mm, "`et0_mm`"),
    };
    let at = given.at.opening();
    let record = wind_record(&at, own, notes)?;
    if !record.sky.iter().any(|sky| take(sky).is_some()) {
        lacks(&at, name, notes);
        return None;
    }
    notes.sources.push(format!("{}: hours of the wind's record", serves(column)));
    Some(record.daily_sums(take))
}

/// The wind's record, for those who name none of their own.
fn wind_record<'a>(
    at: &At,
    own: Option<&'a WeatherRecord>,
    notes: &mut Notes<'_>,
) -> Option<&'a WeatherRecord> {
    if own.is_none() {
        let problem = "no weather record is named here, and the wind does not come from one";
        notes
            .issues
            .push(Issue::new(at, problem).hint("Name a file here, or give the wind a record."));
    }
    own
}

fn lacks(at: &At, column: &str, notes: &mut Notes<'_>) {
    let problem = format!("the record has no {column}, which this needs");
    notes.issues.push(Issue::new(at, problem).hint(COLUMNS));
}

fn computed_et0(
    given: &ComputedFile,
    own: Option<&WeatherRecord>,
    notes: &mut Notes<'_>,
) -> Option<ReferenceEt> {
    let at = given.at.opening();
    let read = match &given.weather {
        Some(file) => {
            wind::tell_no_seasons(file, notes);
            Some(wind::record(file, "Evapotranspiration", notes)?)
        }
        None => None,
    };
    let record = match &read {
        Some(record) => record,
        None => wind_record(&at, own, notes)?,
    };
    let site = site(given, record, notes);
    let method = method(given, record, notes);
    let (site, method) = (site?, method?);
    if let Err(problem) = site.check() {
        notes.issues.push(Issue::new(&at, problem.to_string()));
        return None;
    }
    Some(ReferenceEt::Daily(et0_series(record, &site, method)))
}

/// Latitude and elevation, given or the record's.
fn site(given: &ComputedFile, record: &WeatherRecord, notes: &mut Notes<'_>) -> Option<Site> {
    let pointer = &given.at.pointer;
    let from_record = |key: &str, value: Option<f64>, unit: &str, notes: &mut Notes<'_>| {
        if let Some(value) = value {
            let why = "the station of the record";
            notes.assume(
                &format!("{pointer}/{key}"),
                format!("{} {unit}", decimals(value, 3)),
                why,
            );
        } else {
            let problem = format!("the record does not say its {key}");
            let hint = format!("Add the key `{key}`.");
            notes.issues.push(Issue::new(&given.at.opening(), problem).hint(hint));
        }
        value
    };
    let latitude_deg = match &given.latitude {
        Some(latitude) => Some(latitude.value),
        None => from_record("latitude", record.site.map(|site| site.latitude_deg), "deg", notes),
    };
    let elevation_m = match &given.elevation {
        Some(elevation) => Some(elevation.value),
        None => from_record("elevation", record.site.map(|site| site.elevation_m), "m", notes),
    };
    Some(Site { latitude_deg: latitude_deg?, elevation_m: elevation_m? })
}

/// The method, if the record has the columns that it needs.
fn method(
    given: &ComputedFile,
    record: &WeatherRecord,
    notes: &mut Notes<'_>,
) -> Option<RecordMethod> {
    let (at, pointer) = (given.at.opening(), &given.at.pointer);
    let has = |of: fn(&WeatherHour) -> Option<f64>| {
        record.hours.iter().flatten().any(|h| of(h).is_some())
    };
    let has_humidity = has(|hour| hour.relative_humidity);
    let has_sun = record.sky.iter().any(|sky| sky.solar_w_m2.is_some());
    let mut sound = true;
    if !has(|hour| hour.air_temperature_c) {
        lacks(&at, "`air_temperature_c`", notes);
        sound = false;
    }
    let method = given.method.unwrap_or_else(|| {
        let (method, name, why) = if has_humidity {
            (
                EtMethod::PenmanMonteith,
                "Penman-Monteith",
                "FAO-56 equation 6: the record has humidity and wind",
            )
        } else {
            (EtMethod::Hargreaves, "Hargreaves", "FAO-56 equation 52: the record has no humidity")
        };
        notes.assume(&format!("{pointer}/method"), name, why);
        method
    });
    if method == EtMethod::Hargreaves {
        if given.radiation.is_some() {
            notes.warn("Hargreaves does not use `radiation`; the key has no effect".to_owned());
        }
        return sound.then_some(RecordMethod::Hargreaves);
    }
    if !has_humidity {
        lacks(&at, "`relative_humidity_pct` (without it take \"Hargreaves\")", notes);
        sound = false;
    }
    let radiation = given.radiation.unwrap_or_else(|| {
        let (source, name, why) = if has_sun {
            (RadiationSource::Record, "record", "the record has solar radiation")
        } else {
            let why = "the record has no solar radiation: kRs 0.16, FAO-56 equation 50";
            (RadiationSource::Inland, "temperatures, inland", why)
        };
        notes.assume(&format!("{pointer}/radiation"), name, why);
        source
    });
    if radiation == RadiationSource::Record && !has_sun {
        lacks(&at, "`solar_radiation_w_m2`", notes);
        sound = false;
    }
    sound.then_some(match radiation {
        RadiationSource::Record => RecordMethod::PenmanMonteithSolar,
        RadiationSource::Inland => RecordMethod::PenmanMonteith(Radiation::INLAND),
        RadiationSource::Coast => RecordMethod::PenmanMonteith(Radiation::COAST),
    })
}

/// Tells the gaps of records on days of the crop.
pub(crate) fn tell_gaps(at: &At, problems: &[ClimateProblem], notes: &mut Notes<'_>) {
    for problem in problems {
        let hint = if problem.quantity == "rain" {
            "Fill the gaps in the record, or let them count as no rain: \"missing_days\": \"dry\"."
        } else {
            "Fill the gaps in the record: a day needs 20 hours of temperature (and humidity), and \
             all 24 of radiation, rain or evapotranspiration."
        };
        notes.issues.push(
            Issue::new(at, problem.to_string())
                .allowed("a value for every day of the crop")
                .hint(hint),
        );
    }
}
