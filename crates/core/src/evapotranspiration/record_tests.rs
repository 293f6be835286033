use super::*;
use crate::weather::Wind;
use jiff::ToSpan;
use jiff::civil::{Date, date};

const SITE: Site = Site { latitude_deg: 43.6, elevation_m: 830.0 };

/// Two days from 1 July: 12 °C at 5 h, 32 °C at 17 h, the same vapor pressure all day.
fn record() -> WeatherRecord {
    let hour = |h: usize| {
        let temperature_c = 22.0 - 10.0 * libm::cos((h as f64 - 5.0) * std::f64::consts::PI / 12.0);
        Some(WeatherHour {
            wind: Wind { speed_m_s: 3.2, from_deg: 270.0 },
            air_temperature_c: Some(temperature_c),
            relative_humidity: Some(1.1 / saturation_kpa(temperature_c)),
        })
    };
    WeatherRecord {
        title: "test".into(),
        first_hour: date(2021, 7, 1).at(0, 0, 0, 0),
        hours: (0..48).map(hour).collect(),
        sky: Vec::new(),
        site: None,
        measured_at_m: 10.0,
        typical_year: false,
    }
}

const INLAND: RecordMethod = RecordMethod::PenmanMonteith(Radiation::INLAND);

/// ET0 of `days` days from `first` on, mm, by `method`, or what is wrong with them.
fn et0_days(
    record: &WeatherRecord,
    site: &Site,
    method: RecordMethod,
    first: Date,
    days: usize,
) -> Result<Vec<f64>, Vec<EtProblem>> {
    let (mut values, mut problems) = (Vec::with_capacity(days), Vec::new());
    for number in 0..days {
        let day = first.saturating_add((number as i64).days());
        match et0_of_day(record, site, method, day) {
            Ok(value) => values.push(value),
            Err(problem) => problems.push(problem),
        }
    }
    // A fault of the site or the method is one fault, not one a day.
    problems.dedup();
    if problems.is_empty() { Ok(values) } else { Err(problems) }
}

#[test]
fn closed_a_day_of_hours_is_its_day_of_extremes_and_means() {
    let by_hand = DayWeather {
        day_of_year: 182,
        t_max_c: 32.0,
        t_min_c: 12.0,
        humidity: Humidity::VaporPressure(1.1),
        wind_speed_2_m_s: speed_at_2_m(3.2, 10.0).unwrap(),
        radiation: Radiation::INLAND,
        soil_heat_mj_m2: 0.0,
    };
    let found = et0_days(&record(), &SITE, INLAND, date(2021, 7, 1), 2).unwrap();
    assert!((found[0] - by_hand.et0_mm(&SITE).unwrap()).abs() < 1e-9, "{}", found[0]);
    let hargreaves =
        et0_days(&record(), &SITE, RecordMethod::Hargreaves, date(2021, 7, 1), 1).unwrap();
    let by_hand = hargreaves::et0_mm(&SITE, 182, 32.0, 12.0).unwrap();
    assert!((hargreaves[0] - by_hand).abs() < 1e-9);
}

#[test]
fn closed_thin_days_are_all_told() {
    let mut thin = record();
    thin.hours[3..8].fill(None);
    for hour in thin.hours[24..].iter_mut().flatten().take(6) {
        hour.relative_humidity = None;
    }
    let told = et0_days(&thin, &SITE, INLAND, date(2021, 7, 1), 3).unwrap_err();
    let few =
        |day, quantity, hours| EtProblem::FewHours { day: date(2021, 7, day), quantity, hours };
    let expected = [
        few(1, "air temperature", 19),
        few(2, "relative humidity", 18),
        few(3, "air temperature", 0),
    ];
    assert_eq!(told, expected);
}

#[test]
fn invariant_without_humidity_the_nights_dew_stands_in() {
    let mut dry = record();
    for hour in dry.hours.iter_mut().flatten() {
        hour.relative_humidity = None;
    }
    let known = et0_days(&record(), &SITE, INLAND, date(2021, 7, 1), 1).unwrap()[0];
    let unknown = et0_days(&dry, &SITE, INLAND, date(2021, 7, 1), 1).unwrap()[0];
    // e°(12 °C) = 1.40 kPa is moister than 1.1 kPa.
    assert!(unknown < known);
}

#[test]
fn closed_a_place_beyond_the_sun_is_told_once() {
    let pole = Site { latitude_deg: 80.0, elevation_m: 0.0 };
    let told = et0_days(&record(), &pole, INLAND, date(2021, 7, 1), 2).unwrap_err();
    assert!(matches!(told.as_slice(), [EtProblem::OutOfRange { .. }]), "{told:?}");
}

#[test]
fn closed_the_records_own_sun() {
    let mut sunny = record();
    // 300 W/m² all day are 25.92 MJ/m²; the second day lacks an hour.
    let sky = crate::weather::SkyHour { solar_w_m2: Some(300.0), ..Default::default() };
    sunny.sky = vec![sky; 48];
    sunny.sky[40].solar_w_m2 = None;
    let method = RecordMethod::PenmanMonteithSolar;
    let by_hand = DayWeather {
        radiation: Radiation::Solar(25.92),
        ..day_weather(
            &sunny.hours[..24].iter().flatten().copied().collect::<Vec<_>>(),
            10.0,
            date(2021, 7, 1),
        )
        .unwrap()
    };
    let series = et0_series(&sunny, &SITE, method);
    let found = series.on(date(2021, 7, 1)).unwrap();
    assert!((found - by_hand.et0_mm(&SITE).unwrap()).abs() < 1e-12, "{found}");
    assert_eq!(series.on(date(2021, 7, 2)), None);
    let told = et0_days(&sunny, &SITE, method, date(2021, 7, 2), 1).unwrap_err();
    assert_eq!(told, [EtProblem::FewSunHours { day: date(2021, 7, 2), hours: 23 }]);
}
