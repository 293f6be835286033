use super::*;
use jiff::civil::date;

const HEAD: &str = "LOCATION,Invented Flat,XX,YYY,test,999999,40.10,-104.20,-7.0,1500.0\n\
DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n\
HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,made up\nCOMMENTS 2,made up\n\
DATA PERIODS,1,1,Data,Sunday,1/1,12/31\n";

/// A row with temperature, humidity, sun, direction, speed and rain as given.
fn row(stamp: &str, [t, rh, sun, from, speed, rain]: [&str; 6]) -> String {
    format!(
        "{stamp},0,?9,{t},1.0,{rh},83000,0,0,300,{sun},0,0,0,0,0,0,{from},{speed},5,5,20,999,9,\
         999999999,10,0.1,0,88,0.2,{rain},1.0\n"
    )
}

#[test]
fn closed_columns_stamps_and_missing_values_are_read() {
    let text = [
        HEAD.to_owned(),
        row("1998,5,1,1", ["12.5", "60", "0", "250", "3.1", "0.4"]),
        row("1998,5,1,2", ["99.9", "999", "9999", "999", "0.0", "999"]),
        row("1997,5,1,3", ["13.0", "50", "120", "999", "2.0", "0"]),
    ]
    .concat();
    let table = read(text.as_bytes(), 10.0, true).unwrap();
    let record = &table.record;
    // Hour 1 is the one from midnight, whatever its year.
    assert_eq!(record.first_hour, date(2001, 5, 1).at(0, 0, 0, 0));
    let first = record.hours[0].unwrap();
    assert_eq!((first.wind.speed_m_s, first.wind.from_deg), (3.1, 250.0));
    assert_eq!((first.air_temperature_c, first.relative_humidity), (Some(12.5), Some(0.6)));
    assert_eq!((record.sky[0].rain_mm, record.sky[0].solar_w_m2), (Some(0.4), Some(0.0)));
    // A calm needs no direction; the rest is missing.
    let second = record.hours[1].unwrap();
    assert_eq!((second.air_temperature_c, second.relative_humidity), (None, None));
    assert_eq!((record.sky[1].rain_mm, record.sky[1].solar_w_m2), (None, None));
    // A wind without direction is no hour.
    assert!(record.hours[2].is_none() && table.faults.len() == 1, "{:?}", table.faults);
    assert_eq!(record.site.map(|site| site.elevation_m), Some(1500.0));
    assert!(record.title.contains("999999"), "{}", record.title);
}

#[test]
fn closed_a_typical_year_has_no_29_february_and_a_real_one_has() {
    let day = |day: &str| row(&format!("2020,2,{day},24"), ["1", "50", "0", "10", "2", "0"]);
    let text = [HEAD.to_owned(), day("28"), day("29")].concat();
    assert_eq!(read(text.as_bytes(), 10.0, true).unwrap().record.hours.len(), 1);
    let real = read(text.as_bytes(), 10.0, false).unwrap().record;
    assert_eq!((real.first_hour, real.hours.len()), (date(2020, 2, 28).at(23, 0, 0, 0), 25));
}

#[test]
fn another_layout_and_a_bad_stamp_are_told() {
    let other = read(b"time,wind\n", 10.0, true).unwrap_err();
    assert!(other.to_string().contains("LOCATION"), "{other}");
    let text = format!("{HEAD}{}", row("2001,5,1,25", ["1", "50", "0", "10", "2", "0"]));
    let bad = read(text.as_bytes(), 10.0, true).unwrap_err();
    assert!(bad.to_string().contains("line 9") && bad.to_string().contains("1 to 24"), "{bad}");
}
