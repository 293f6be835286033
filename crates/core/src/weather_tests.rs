//! What judges the season's weather from its sources.

use super::*;
use jiff::ToSpan;
use jiff::civil::date;

fn hour(speed_m_s: f64) -> WeatherHour {
    WeatherHour {
        wind: Wind { speed_m_s, from_deg: 90.0 },
        air_temperature_c: Some(20.0),
        relative_humidity: Some(0.5),
    }
}

/// A record from 1 May 00:00 whose speed is its hour number; hours 5, 6 and 7 are missing.
fn record(typical_year: bool) -> WeatherRecord {
    let hours = (0..72).map(|h| (!(5..8).contains(&h)).then(|| hour(f64::from(h)))).collect();
    WeatherRecord {
        title: "test".into(),
        first_hour: date(2019, 5, 1).at(0, 0, 0, 0),
        hours,
        sky: Vec::new(),
        site: None,
        measured_at_m: 10.0,
        typical_year,
    }
}

fn source(gaps: GapRule) -> WeatherSource {
    WeatherSource::Record { record: record(false), gaps, seasons: FromRecord::AsRecorded }
}

#[test]
fn closed_hours_are_matched_by_the_clock() {
    let midnight = date(2019, 5, 2).at(0, 0, 0, 0);
    let weather = source(GapRule::Refuse).season(midnight, &[true; 24], 0, 0).unwrap();
    assert_eq!(weather.hours[3].wind.speed_m_s, 27.0);
    assert_eq!(weather.measured_at_m, 10.0);
}

#[test]
fn closed_gaps_are_refused_or_bridged_and_told_never_filled_silently() {
    let midnight = date(2019, 5, 1).at(0, 0, 0, 0);
    let refused = source(GapRule::Refuse).season(midnight, &[true; 24], 0, 0).unwrap_err();
    let first = date(2019, 5, 1).at(5, 0, 0, 0);
    assert_eq!(refused, WeatherError::Gaps { hours: 3, first });
    let too_short = source(GapRule::HoldLast { longest_h: 2 }).season(midnight, &[true; 24], 0, 0);
    assert_eq!(
        too_short.unwrap_err(),
        WeatherError::Gaps { hours: 1, first: first.saturating_add(2.hours()) }
    );
    let bridged =
        source(GapRule::HoldLast { longest_h: 3 }).season(midnight, &[true; 24], 0, 0).unwrap();
    assert_eq!(bridged.bridged_hours, [5, 6, 7]);
    assert_eq!(bridged.hours[7].wind.speed_m_s, 4.0);
    let mut needed = [true; 24];
    needed[5..8].fill(false);
    assert!(source(GapRule::Refuse).season(midnight, &needed, 0, 0).is_ok());
}

#[test]
fn closed_a_season_outside_the_record_is_refused() {
    let midnight = date(2019, 5, 3).at(0, 0, 0, 0);
    let refused = source(GapRule::Refuse).season(midnight, &[true; 48], 0, 0).unwrap_err();
    assert!(refused.to_string().contains("2019-05-01 to 2019-05-04"), "{refused}");
    assert!(refused.to_string().contains("2019-05-04T00:00:00"), "{refused}");
}

#[test]
fn closed_a_typical_year_serves_any_year() {
    let typical = WeatherSource::Record {
        record: record(true),
        gaps: GapRule::Refuse,
        seasons: FromRecord::AsRecorded,
    };
    let midnight = date(2031, 5, 3).at(0, 0, 0, 0);
    let weather = typical.season(midnight, &[true; 24], 0, 0).unwrap();
    assert_eq!(weather.hours[0].wind.speed_m_s, 48.0);
    assert!(typical.season(date(2031, 6, 3).at(0, 0, 0, 0), &[true; 24], 0, 0).is_err());
}

#[test]
fn closed_29_february_takes_the_weather_of_the_28th() {
    let mut year = record(true);
    year.first_hour = date(2019, 2, 28).at(0, 0, 0, 0);
    year.hours = (0..48).map(|h| Some(hour(f64::from(h)))).collect();
    assert_eq!(year.index_of(date(2028, 2, 29).at(4, 0, 0, 0)), Some(4));
}
