//! Evapotranspiration and rain from records, and years of a record as seasons.

use super::helpers::demo_with;
use crate::{Problems, Resolved, resolve};
use evenfall_core::evapotranspiration::ReferenceEt;
use evenfall_core::worth::Rain;
use jiff::ToSpan;
use jiff::civil::{Date, date};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// An hourly record from 1 April of `years` years on: 10 to 30 °C, a steady wind; `columns` and
/// `row` add to it.
fn hours(years: i64, columns: &str, row: impl Fn(Date, i8) -> String) -> String {
    let mut text = format!("time,wind_speed_m_s,wind_from_deg,air_temperature_c{columns}\n");
    let first = date(2027, 1, 1);
    let end = first.saturating_add(years.years());
    let mut day = first;
    while day < end {
        for hour in 0..24_i8 {
            let celsius =
                20.0 - 10.0 * ((f64::from(hour) - 3.0) / 12.0 * std::f64::consts::PI).cos();
            let _ = writeln!(text, "{day}T{hour:02}:00,2,255,{celsius:.2}{}", row(day, hour));
        }
        day = day.saturating_add(1.days());
    }
    text
}

fn with(record: &str, days: &str, change: impl FnOnce(&mut Value)) -> Result<Resolved, Problems> {
    let text = demo_with(|demo| {
        demo["wind"] =
            json!({ "record": { "file": "hours.csv", "layout": "csv", "height": "2 m" } });
        change(demo);
    });
    let load = |name: &str| match name {
        "hours.csv" => Ok(record.as_bytes().to_vec()),
        "days.csv" => Ok(days.as_bytes().to_vec()),
        other => Err(format!("no {other}")),
    };
    resolve(&text, &load)
}

fn computed() -> Value {
    json!({ "computed": { "latitude": "45 deg", "elevation": "200 m" } })
}

#[test]
fn closed_evapotranspiration_from_the_winds_record() {
    let plain = hours(1, "", |_, _| String::new());
    let found = with(&plain, "", |demo| demo["climate"]["et0"] = computed()).unwrap();
    let told =
        |what: &str| found.assumptions.iter().find(|a| a.what == what).map(|a| a.value.as_str());
    assert_eq!(told("/climate/et0/computed/method"), Some("Hargreaves"));
    assert_eq!(told("/worth/seasons"), Some("1, the years 2027 to 2027"));
    // A record of one year tells how to go on, and going on so gives seasons that differ.
    let one_year = |found: &Resolved| found.warnings.iter().any(|w| w.contains("one season only"));
    let way_out = "Set \"typical_year\": true in the record";
    assert!(one_year(&found) && found.warnings.iter().any(|w| w.contains(way_out)));
    let typical = with(&plain, "", |demo| {
        demo["climate"]["et0"] = computed();
        demo["wind"]["record"]["typical_year"] = json!(true);
    });
    let typical = typical.unwrap();
    assert!(!one_year(&typical) && typical.scenario.weather.is_drawn());
    assert_eq!(typical.worth.unwrap().1.max_seasons, None);
    let alike = with(&plain, "", |demo| {
        demo["climate"]["et0"] = computed();
        demo["wind"]["record"]["typical_year"] = json!(true);
        demo["wind"]["record"]["seasons"] = json!("as recorded");
    });
    let told_alike = alike.unwrap().warnings.join("\n");
    assert!(told_alike.contains("every season has the same weather"), "{told_alike}");
    assert!(told_alike.contains("leave out `seasons` of the record"), "{told_alike}");
    let (agronomy, economics) = found.worth.unwrap();
    assert_eq!((economics.seasons, economics.max_seasons), (1, Some(1)));
    let ReferenceEt::Daily(series) = &agronomy.et0 else { panic!("not by day") };
    // By hand: 0.0023 (20 + 17.8) √20 · 0.408 Ra, Ra of 15 July at 45° N 40.6 MJ/m² (FAO-56
    // Table 2.6 gives 40.6 for 44° and 40.3 for 46°): 6.4 mm.
    let july = series.on(date(2027, 7, 15)).unwrap();
    assert!((july - 6.42).abs() < 0.05, "{july}");
}

#[test]
fn closed_penman_monteith_needs_its_columns_and_tells_its_sun() {
    let humid = hours(1, ",relative_humidity_pct", |_, _| ",50".to_owned());
    let found = with(&humid, "", |demo| demo["climate"]["et0"] = computed()).unwrap();
    let told =
        |what: &str| found.assumptions.iter().find(|a| a.what == what).map(|a| a.value.as_str());
    assert_eq!(told("/climate/et0/computed/method"), Some("Penman-Monteith"));
    assert_eq!(told("/climate/et0/computed/radiation"), Some("temperatures, inland"));

    let plain = hours(1, "", |_, _| String::new());
    let problems = with(&plain, "", |demo| {
        demo["climate"]["et0"] = json!({ "computed": {
            "method": "Penman-Monteith", "radiation": "record", "elevation": "200 m" } });
    })
    .unwrap_err();
    let told = problems.to_string();
    assert_eq!(problems.issues().len(), 3, "{told}");
    for words in ["`relative_humidity_pct`", "`solar_radiation_w_m2`", "does not say its latitude"]
    {
        assert!(told.contains(words), "{told}");
    }
    let problems = with(&plain, "", |demo| demo["climate"]["et0"] = json!({ "record": {} }));
    assert!(problems.unwrap_err().to_string().contains("no `et0_mm`"));
}

#[test]
fn closed_rain_by_the_day_and_its_gaps() {
    let plain = hours(1, "", |_, _| String::new());
    let rain = |missing: &[&str]| {
        let mut text = "date,rain_mm\n".to_owned();
        let mut day = date(2027, 1, 1);
        while day.year() == 2027 {
            if !missing.contains(&day.to_string().as_str()) {
                let _ = writeln!(text, "{day},{}", if day.day() == 10 { 12.5 } else { 0.0 });
            }
            day = day.saturating_add(1.days());
        }
        text
    };
    let file = json!({ "record": { "file": "days.csv" } });
    let found = with(&plain, &rain(&[]), |demo| demo["climate"]["rain"] = file.clone()).unwrap();
    let Rain::Record(series) = found.worth.unwrap().0.rain else { panic!("not by day") };
    assert_eq!(series.on(date(2027, 6, 10)), Some(12.5));

    let thin = rain(&["2027-05-02", "2027-05-03", "2027-07-09", "2027-12-31"]);
    let problems = with(&plain, &thin, |demo| demo["climate"]["rain"] = file).unwrap_err();
    let told = problems.to_string();
    assert_eq!(problems.issues().len(), 1, "{told}");
    assert!(
        told.contains("rain is missing on 3 days: 2027-05-02 to 2027-05-03, 2027-07-09"),
        "{told}"
    );
    let dry = json!({ "record": { "file": "days.csv", "missing_days": "dry" } });
    let found = with(&plain, &thin, |demo| demo["climate"]["rain"] = dry).unwrap();
    assert!(found.warnings.iter().any(|w| w.contains("count as dry")), "{:?}", found.warnings);
}

#[test]
fn closed_years_of_a_record_are_the_seasons() {
    // Each year rains as many mm on every 10th as its last digit.
    let record = hours(3, ",rain_mm", |day, hour| {
        let mm = if day.day() == 10 && hour == 5 { f64::from(day.year() % 10) } else { 0.0 };
        format!(",{mm}")
    });
    let rained = |demo: &mut Value| demo["climate"]["rain"] = json!({ "record": {} });
    let found = with(&record, "", rained).unwrap();
    let (agronomy, economics) = found.worth.unwrap();
    assert_eq!((economics.seasons, economics.max_seasons), (3, Some(3)));
    let told = found.assumptions.iter().find(|a| a.what == "/worth/seasons").unwrap();
    assert_eq!(told.value, "3, the years 2027 to 2029");
    let ground = agronomy.ground(date(2027, 5, 10), economics.seasons, None).unwrap();
    let rain = |season: usize| ground.days_of(season).iter().map(|day| day.rain_mm).sum::<f64>();
    // From 15 April on 165 days: five 10ths.
    let rains = [0, 1, 2].map(rain);
    for (rain, expected) in rains.iter().zip([35.0, 40.0, 45.0]) {
        assert!((rain - expected).abs() < 1e-9, "{rains:?}");
    }
}

#[test]
fn closed_a_gap_in_a_later_year_is_told_before_the_run() {
    let record = hours(3, ",rain_mm", |day, _| {
        if day == date(2028, 6, 1) { ",".to_owned() } else { ",0".to_owned() }
    });
    let rained = |demo: &mut Value| demo["climate"]["rain"] = json!({ "record": {} });
    let told = with(&record, "", rained).unwrap_err().to_string();
    assert!(told.contains("rain is missing on 1 day: 2028-06-01"), "{told}");
}

#[test]
fn closed_drawn_seasons_take_rain_and_wind_from_the_same_days() {
    // Humidity and rain of a day both tell its number.
    let code = |day: Date| f64::from(day.day_of_year() % 60);
    let record = hours(2, ",relative_humidity_pct,rain_mm", |day, hour| {
        let mm = if hour == 5 { 0.1 * code(day) } else { 0.0 };
        format!(",{},{mm}", 20.0 + code(day))
    });
    for seasons in ["drawn in blocks of days", "drawn from its climate"] {
        let found = with(&record, "", |demo| {
            demo["climate"]["rain"] = json!({ "record": {} });
            demo["wind"]["record"]["seasons"] = json!(seasons);
        })
        .unwrap();
        let scenario = found.scenario;
        let (agronomy, economics) = found.worth.unwrap();
        // As many seasons as asked for, though the record has two years.
        assert_eq!(economics.max_seasons, None);
        let first = date(2027, 5, 10);
        let ground = agronomy.ground(first, 5, Some(scenario.drawn_weather())).unwrap();
        let midnight = first.at(0, 0, 0, 0);
        let mut seen = Vec::new();
        for season in 0..5 {
            let hours =
                scenario.weather.season(midnight, &[true; 24 * 90], scenario.seed, season).unwrap();
            for day in 0..90 {
                let humidity = hours.hours[24 * day].relative_humidity.unwrap();
                let of_crop = usize::try_from(day as i64 - ground.first_day).unwrap();
                let rain_mm = ground.days_of(season as usize)[of_crop].rain_mm;
                assert!(
                    (rain_mm - 0.1 * (100.0 * humidity - 20.0)).abs() < 1e-9,
                    "{seasons} {day}"
                );
            }
            seen.push(ground.days_of(season as usize).to_vec());
        }
        assert_ne!(seen[0], seen[1]);
    }
}

#[test]
fn closed_a_typical_year_serves_as_recorded_first_and_drawn_after() {
    let record = hours(1, ",rain_mm", |day, hour| {
        format!(",{}", if hour == 5 { f64::from(day.day_of_year() % 9) } else { 0.0 })
    });
    let typical = |demo: &mut Value| {
        demo["climate"]["rain"] = json!({ "record": {} });
        demo["wind"]["record"]["typical_year"] = json!(true);
    };
    let found = with(&record, "", typical).unwrap();
    assert!(found.assumptions.iter().any(|a| a.what == "/wind/record/seasons"));
    assert!(found.warnings.iter().all(|w| !w.contains("same weather")), "{:?}", found.warnings);
    let (agronomy, _) = found.worth.unwrap();
    let drawn = found.scenario.drawn_weather();
    let ground = agronomy.ground(date(2027, 5, 10), 3, Some(drawn)).unwrap();
    let as_it_stands = agronomy.ground(date(2027, 5, 10), 3, None).unwrap();
    assert_eq!(ground.days_of(0), as_it_stands.days_of(0));
    assert_ne!(ground.days_of(1), ground.days_of(0));
    assert_ne!(ground.days_of(1), ground.days_of(2));
}

#[test]
fn closed_monthly_evapotranspiration_goes_up_and_down_under_a_generated_wind() {
    let drawn = |spread: &str| {
        let text = demo_with(|demo| demo["climate"]["et0_day_spread"] = json!(spread));
        let found = resolve(&text, &|name| Err(format!("no {name}"))).unwrap();
        let (agronomy, _) = found.worth.unwrap();
        let first = found.scenario.calendar.start.date();
        let ground = agronomy.ground(first, 40, Some(found.scenario.drawn_weather())).unwrap();
        let plain = agronomy.ground(first, 1, None).unwrap();
        let sums: Vec<f64> = (0..40).map(|season| ground.need_mm(season)).collect();
        let mean = sums.iter().sum::<f64>() / 40.0;
        let sd = (sums.iter().map(|sum| (sum - mean).powi(2)).sum::<f64>() / 39.0).sqrt();
        (mean / plain.need_mm(0), sd / mean)
    };
    // 165 days, of which 24 % each with the next day's correlation 0.3: 0.24·√(1.86/165) = 2.5 % of
    // the season, and the wind's part on top.
    let (mean, sd) = drawn("24 %");
    assert!((mean - 1.0).abs() < 0.02 && (0.02..0.06).contains(&sd), "{mean} {sd}");
    // The wind's part alone.
    let (mean, sd) = drawn("0 %");
    assert!((mean - 1.0).abs() < 0.02 && sd > 0.0 && sd < 0.03, "{mean} {sd}");
}

#[test]
fn closed_an_earlier_years_record_serves_when_its_days_are_drawn() {
    let record = hours(1, ",rain_mm", |_, _| ",0.01".to_owned());
    let later = |seasons: Option<&str>| {
        with(&record, "", |demo| {
            demo["climate"]["rain"] = json!({ "record": {} });
            demo["season"]["start"] = json!("2031-05-10T06:00");
            demo["season"].as_object_mut().unwrap().remove("closed");
            demo["crop"]["planted"] = json!("2031-04-15");
            if let Some(seasons) = seasons {
                demo["wind"]["record"]["seasons"] = json!(seasons);
            }
        })
    };
    // As recorded, the year is simply not there.
    assert!(later(None).unwrap_err().to_string().contains("outside the weather record"));
    for seasons in ["drawn in blocks of days", "drawn from its climate"] {
        let found = later(Some(seasons)).unwrap();
        let drawn = Some(found.scenario.drawn_weather());
        let (agronomy, economics) = found.worth.unwrap();
        assert_eq!(economics.max_seasons, None);
        let ground = agronomy.ground(date(2031, 5, 10), 2, drawn).unwrap();
        assert!((ground.days_of(1)[10].rain_mm - 0.24).abs() < 1e-9);
        assert!(found.assumptions.iter().all(|a| a.what != "/climate"), "{:?}", found.assumptions);
    }
}
