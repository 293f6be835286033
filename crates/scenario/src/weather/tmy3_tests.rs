//! The reader of TMY3 against the statistics of a real record, and bad rows.

use super::*;
use evenfall_core::weather::{WeatherHour, WeatherRecord};

const GREENSBORO: &[u8] = include_bytes!("../../../../data/greensboro/723170TYA.CSV");

/// Hours of May to September with their clock hour.
fn summer(record: &WeatherRecord) -> Vec<(i8, WeatherHour)> {
    let hours = record.hours.iter().enumerate().filter_map(|(index, hour)| {
        let at = record.first_hour.saturating_add(jiff::Span::new().hours(index as i64));
        (5..=9).contains(&at.month()).then_some((at.hour(), (*hour)?))
    });
    hours.collect()
}

fn mean(speeds: &[f64]) -> f64 {
    speeds.iter().sum::<f64>() / speeds.len() as f64
}

/// CHECKS section 9: statistics of the file's months May to September, derived beforehand with
/// another program; tolerance half the last printed digit.
#[test]
fn reference_statistics_of_greensboro() {
    let table = read(GREENSBORO, 10.0).unwrap();
    assert!(table.faults.is_empty(), "{:?}", table.faults);
    assert_eq!(table.record.hours.len(), 8760);
    let summer = summer(&table.record);
    assert_eq!(summer.len(), 3672);
    let speeds = |keep: &dyn Fn(i8) -> bool| -> Vec<f64> {
        summer.iter().filter(|(h, _)| keep(*h)).map(|(_, hour)| hour.wind.speed_m_s).collect()
    };
    let all = speeds(&|_| true);
    let (day, night) = (speeds(&|h| (7..19).contains(&h)), speeds(&|h| !(7..19).contains(&h)));
    let calm = |speeds: &[f64]| {
        100.0 * speeds.iter().filter(|speed| **speed == 0.0).count() as f64 / speeds.len() as f64
    };
    assert_eq!((day.len(), night.len()), (1836, 1836));
    assert!((mean(&all) - 2.597).abs() < 0.0005, "{}", mean(&all));
    assert!((mean(&day) - 3.197).abs() < 0.0005, "{}", mean(&day));
    assert!((mean(&night) - 1.996).abs() < 0.0005, "{}", mean(&night));
    assert!((calm(&all) - 17.6).abs() < 0.05, "{}", calm(&all));
    assert!((calm(&day) - 8.2).abs() < 0.05, "{}", calm(&day));
    assert!((calm(&night) - 27.1).abs() < 0.05, "{}", calm(&night));
}

/// First row of the file, stamped 01:00: the hour from midnight on 1 January.
#[test]
fn closed_first_row_is_the_hour_from_midnight() {
    let record = read(GREENSBORO, 10.0).unwrap().record;
    assert_eq!((record.first_hour.month(), record.first_hour.day()), (1, 1));
    assert_eq!(record.first_hour.hour(), 0);
    assert!(record.typical_year);
    let first = record.hours[0].unwrap();
    assert_eq!((first.wind.speed_m_s, first.wind.from_deg), (6.2, 200.0));
    assert_eq!(first.air_temperature_c, Some(10.0));
    assert!((first.relative_humidity.unwrap() - 0.77).abs() < 1e-12);
}

const HEAD: &str = "1,\"A PLACE\",XX,0,0,0,0\nDate (MM/DD/YYYY),Time (HH:MM),Dry-bulb (C),\
                    RHum (%),Wdir (degrees),Wspd (m/s)\n";

#[test]
fn closed_missing_values_are_gaps() {
    let rows = "05/01/1990,01:00,10,50,200,3\n05/01/1990,02:00,10,50,-9900,3\n\
                05/01/1990,04:00,10,50,200,-9900\n05/01/1990,24:00,-9900,50,200,4\n";
    let table = read(format!("{HEAD}{rows}").as_bytes(), 10.0).unwrap();
    let known: Vec<usize> =
        (0..table.record.hours.len()).filter(|&h| table.record.hours[h].is_some()).collect();
    assert_eq!(known, [0, 23]);
    assert_eq!(table.record.hours[23].unwrap().air_temperature_c, None);
    assert_eq!(table.faults.len(), 2);
}

#[test]
fn closed_bad_rows_are_refused_with_their_line() {
    for row in ["05/01/1990,00:00,1,50,0,3", "13/01/1990,01:00,1,50,0,3", "05/01,25:00,1,50,0,3"] {
        let error = read(format!("{HEAD}{row}\n").as_bytes(), 10.0).unwrap_err();
        assert!(error.to_string().starts_with("line 3: "), "{error}");
    }
    let twice = "05/01/1990,01:00,1,50,0,3\n05/01/1990,01:00,1,50,0,3\n";
    let error = read(format!("{HEAD}{twice}").as_bytes(), 10.0).unwrap_err();
    assert!(error.to_string().contains("comes twice"), "{error}");
    assert!(read(b"", 10.0).is_err());
    assert!(read(HEAD.as_bytes(), 10.0).is_err());
    assert!(read(b"a\nb\nc\n", 10.0).is_err());
}

#[test]
fn closed_station_and_sun_of_greensboro() {
    let bytes = include_bytes!("../../../../data/greensboro/723170TYA.CSV");
    let record = read(bytes, 10.0).unwrap().record;
    let site = record.site.unwrap();
    assert!((site.latitude_deg - 36.1).abs() < 1e-12 && (site.elevation_m - 273.0).abs() < 1e-12);
    // Means by hand from the file's column GHI: 4.4 kWh/m² a day is usual at 36° N.
    let sun: Vec<f64> = record.sky.iter().filter_map(|sky| sky.solar_w_m2).collect();
    assert_eq!(sun.len(), 8760);
    let kwh_day = sun.iter().sum::<f64>() / 365.0 / 1000.0;
    assert!((4.0..4.8).contains(&kwh_day), "{kwh_day}");
    assert!(record.sky.iter().all(|sky| sky.rain_mm.is_none()));
}
