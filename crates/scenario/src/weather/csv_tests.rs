//! The reader of comma-separated weather, good and bad.

use super::*;

fn table(text: &str) -> Table {
    read(text.as_bytes(), 10.0, false).unwrap_or_else(|error| panic!("{error}"))
}

fn error(text: &str) -> String {
    read(text.as_bytes(), 10.0, false).unwrap_err().to_string()
}

#[test]
fn closed_units_of_the_header() {
    for (column, speed) in [
        ("wind_speed_m_s", "4.4704"),
        ("wind_speed_mph", "10"),
        ("wind_speed_kmh", "16.09344"),
        ("Wind_Speed_kn", "8.689762419006479"),
    ] {
        let text = format!(
            "time,{column},wind_from_deg,air_temperature_f,relative_humidity_pct,rain\n\
             2027-05-10T06:00,{speed},360,77,50,0\n"
        );
        let hour = table(&text).record.hours[0].unwrap();
        assert!((hour.wind.speed_m_s - 4.4704).abs() < 1e-12, "{column}");
        assert!(hour.wind.from_deg.abs() < 1e-12);
        assert!((hour.air_temperature_c.unwrap() - 25.0).abs() < 1e-12);
        assert!((hour.relative_humidity.unwrap() - 0.5).abs() < 1e-12);
    }
}

#[test]
fn closed_gaps_stay_gaps_and_are_told() {
    let table = table(
        "time,wind_speed_m_s,wind_from_deg\n2027-05-10 00:00,2,90\n2027-05-10 01:00,,90\n\
         2027-05-10 02:00,-1,90\n2027-05-10 03:00,fast,90\n2027-05-10 04:00,3,400\n\
         2027-05-10 05:00,3,\n2027-05-10 06:00,0,\n2027-05-10 09:00,500,10\n\
         2027-05-10 10:00:00,1,10\n",
    );
    let known: Vec<usize> =
        (0..table.record.hours.len()).filter(|&h| table.record.hours[h].is_some()).collect();
    assert_eq!(table.record.hours.len(), 11);
    assert_eq!(known, [0, 6, 10]);
    let lines: Vec<&str> =
        table.faults.iter().map(|fault| fault.split(':').next().unwrap()).collect();
    assert_eq!(lines, ["line 3", "line 4", "line 5", "line 6", "line 7", "line 9"]);
}

#[test]
fn closed_records_in_doubt_are_refused_with_their_line() {
    let head = "time,wind_speed_m_s,wind_from_deg\n2027-05-10T05:00,1,90\n";
    for (row, told) in [
        ("2027-05-10T05:00,1,90", "line 3: the hour 2027-05-10T05:00:00 comes twice"),
        ("2027-05-10T03:00,1,90", "line 3: the hour 2027-05-10T03:00:00 comes after a later one"),
        ("2027-05-10T06:30,1,90", "line 3: the time 2027-05-10T06:30:00 is not on the hour"),
        ("10 May,1,90", "line 3: \"10 May\" is not a time like 2027-05-10T06:00"),
        ("2027-05-11,1,90", "line 3: \"2027-05-11\" is not a time like 2027-05-10T06:00"),
        ("9027-05-11T00:00,1,90", "line 3: the hour 9027-05-11T00:00:00 is over forty years"),
    ] {
        let told_now = error(&format!("{head}{row}\n"));
        assert!(told_now.starts_with(told), "{told_now}");
    }
    assert!(error(&format!("{head}2027-05-10T06:00,1\n")).starts_with("line 3: "));
}

#[test]
fn closed_missing_columns_and_empty_records_are_refused() {
    assert_eq!(error(""), "it holds no hour with a wind in it");
    assert_eq!(error("time,wind_speed_m_s,wind_from_deg\n"), "it holds no hour with a wind in it");
    assert_eq!(
        error("time,wind_speed_m_s,wind_from_deg\n2027-05-10T05:00,,\n"),
        "it holds no hour with a wind in it"
    );
    assert_eq!(error("time,speed,wind_from_deg\n"), "there is no column `wind_speed_m_s`");
    assert_eq!(
        error("time,wind_speed_m_s,wind_speed_mph,wind_from_deg\n"),
        "more than one column like `wind_speed_m_s`"
    );
    assert!(read(b"\xff\xfe\x00", 10.0, false).is_err());
}

#[test]
fn closed_columns_that_are_not_read_are_named() {
    let wrong = error("time,wind_speed_ms,wind_from_deg\n2027-05-10T05:00,1,90\n");
    assert_eq!(wrong, "there is no column `wind_speed_m_s`; `wind_speed_ms` is not known");
    let head = "time,wind_speed_m_s,wind_from_deg,air_temperature,remarks";
    let read = table(&format!("{head}\n2027-05-10T05:00,1,90,20,a\n"));
    let told = ["`air_temperature` (did you mean `air_temperature_c`?)", "`remarks`"];
    assert_eq!(read.passed_over, told);
}

#[test]
fn closed_offsets_are_passed_over_but_not_world_time() {
    let head = "time,wind_speed_m_s,wind_from_deg\n";
    let offset = table(&format!("{head}2027-05-10T06:00-06:00,1,90\n"));
    assert_eq!(offset.record.first_hour.hour(), 6);
    assert!(error(&format!("{head}2027-05-10T06:00Z,1,90\n")).contains("is not a time like"));
}
