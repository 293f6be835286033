use super::*;
use crate::weather::hour::{WeatherHour, Wind};
use crate::weather::record_days::apart;
use jiff::civil::date;

/// A typical year whose hours know their number; hours of 3 June are missing.
fn year() -> WeatherRecord {
    let hour = |number: usize| WeatherHour {
        wind: Wind { speed_m_s: number as f64, from_deg: 0.0 },
        air_temperature_c: None,
        relative_humidity: None,
    };
    let third_of_june = 24 * 153..24 * 154;
    WeatherRecord {
        title: "made up".into(),
        first_hour: date(2001, 1, 1).at(0, 0, 0, 0),
        hours: (0..8760).map(|h| (!third_of_june.contains(&h)).then(|| hour(h))).collect(),
        sky: Vec::new(),
        site: None,
        measured_at_m: 10.0,
        typical_year: true,
    }
}

const BLOCKS: Blocks = Blocks { length_days: 5, window_days: 20 };

#[test]
fn closed_days_come_in_blocks_from_around_their_dates() {
    let from = date(2027, 5, 1);
    let days: Vec<Date> =
        BLOCKS.days(&year(), from, 150, (1, 0)).into_iter().map(Option::unwrap).collect();
    let on = |number: usize| shifted(from, number as i64);
    // A block begins up to 20 days from its date and all its days keep that distance.
    assert!((0..150).all(|number| apart(days[number], on(number)) <= 20));
    let broken = (1..150).filter(|n| day_number(days[*n]) != day_number(days[n - 1]) + 1).count();
    // 30 or 31 blocks meet 29 or 30 times, some of them by chance on following days.
    assert!((25..=30).contains(&broken), "{broken}");
    // Days that are not whole are left out.
    assert!(!days.contains(&date(2001, 6, 3)));
}

#[test]
fn invariant_a_day_has_its_source_whatever_day_the_list_begins_with() {
    let of = (7, 3);
    let long = BLOCKS.days(&year(), date(2027, 4, 15), 100, of);
    let short = BLOCKS.days(&year(), date(2027, 5, 2), 40, of);
    assert_eq!(long[17..57], short[..]);
    assert_ne!(long, BLOCKS.days(&year(), date(2027, 4, 15), 100, (7, 4)));
    assert_ne!(long, BLOCKS.days(&year(), date(2027, 4, 15), 100, (8, 3)));
}

#[test]
fn closed_a_season_over_new_year_goes_round_the_typical_year() {
    let days = BLOCKS.days(&year(), date(2027, 12, 20), 30, (1, 0));
    assert!(days.iter().all(Option::is_some));
    // A record of the summer alone knows nothing of the winter.
    let summer = WeatherRecord {
        first_hour: date(2019, 6, 1).at(0, 0, 0, 0),
        hours: vec![year().hours[0]; 24 * 60],
        typical_year: false,
        ..year()
    };
    let days = BLOCKS.days(&summer, date(2027, 12, 20), 30, (1, 0));
    assert!(days.iter().all(Option::is_none));
    let in_june = BLOCKS.days(&summer, date(2027, 6, 10), 20, (1, 0));
    assert!(in_june.iter().all(|day| day.unwrap().year() == 2019));
}
