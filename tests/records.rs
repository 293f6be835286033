//! Seasons made from a record of hourly wind, held against the record itself.
//!
//! The record is the TMY3 typical year of Greensboro (`data/greensboro`), May to September. What
//! a generator that knows only the hour before loses is judged: the share of the wind vector's
//! variance that is left in means of half-days, how much the same half of the next day resembles
//! this one, and the uniformity of a season for one, two and three stops.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail as tests do")]

use evenfall_core::season::{self, RunControl};
use evenfall_core::weather::{WeatherSource, Wind};
use evenfall_scenario::Resolved;
use jiff::civil::date;
use serde_json::{Value, json};

const AS_RECORDED: &str = "as recorded";
const DRAWN: [&str; 2] = ["drawn in blocks of days", "drawn from its climate"];
/// May to September.
const DAYS: usize = 153;

/// The record's scenario on a small field, its seasons made in this way.
fn resolved(seasons: &str, seed: u64, start_day: u32) -> Resolved {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../data/greensboro/");
    let load =
        |name: &str| std::fs::read(format!("{folder}{name}")).map_err(|error| error.to_string());
    let text = String::from_utf8(load("scenario.json").unwrap()).unwrap();
    let mut scenario: Value = serde_json::from_str(&text).unwrap();
    scenario["field"]["length_along_pipe"] = json!("240 ft");
    scenario["field"]["cell"] = json!("5 ft");
    scenario["lateral"]["sprinklers"] = json!(6);
    scenario["alternatives"].as_array_mut().unwrap().truncate(3);
    scenario["wind"]["record"]["seasons"] = json!(seasons);
    scenario["season"]["start"] = json!(format!("2027-05-{start_day:02}T06:00"));
    scenario["seed"] = json!(seed);
    evenfall_scenario::resolve(&scenario.to_string(), &load).unwrap()
}

/// The wind of the months judged, one vector an hour from 06:00 on.
fn vectors(weather: &WeatherSource, season: u32) -> Vec<[f64; 2]> {
    let midnight = date(2027, 5, 1).at(0, 0, 0, 0);
    let hours = weather.season(midnight, &[true; 24 * DAYS], 1, season).unwrap().hours;
    let vector = |wind: Wind| {
        let from = wind.from_deg.to_radians();
        [wind.speed_m_s * from.sin(), wind.speed_m_s * from.cos()]
    };
    hours[6..24 * DAYS - 18].iter().map(|hour| vector(hour.wind)).collect()
}

fn mean(vectors: &[[f64; 2]]) -> [f64; 2] {
    [0, 1].map(|of| vectors.iter().map(|v| v[of]).sum::<f64>() / vectors.len() as f64)
}

/// Sum over pairs of the products of what is left about `mean`.
fn product(pairs: impl Iterator<Item = ([f64; 2], [f64; 2])>, mean: [f64; 2]) -> f64 {
    pairs.map(|(a, b)| (0..2).map(|i| (a[i] - mean[i]) * (b[i] - mean[i])).sum::<f64>()).sum()
}

fn variance(vectors: &[[f64; 2]]) -> f64 {
    product(vectors.iter().map(|v| (*v, *v)), mean(vectors)) / vectors.len() as f64
}

/// Share of the variance left in means of half-days, and the correlation of the same half of the
/// next day.
fn spells(vectors: &[[f64; 2]]) -> [f64; 2] {
    let halves: Vec<[f64; 2]> = vectors.chunks(12).map(mean).collect();
    let next = halves.iter().copied().zip(halves[2..].iter().copied());
    let covariance = product(next, mean(&halves)) / (halves.len() - 2) as f64;
    [variance(&halves) / variance(vectors), covariance / variance(&halves)]
}

#[test]
fn reference_drawn_winds_keep_the_spells_of_the_record() {
    let weather = |seasons| resolved(seasons, 1, 1).scenario.weather;
    let record = spells(&vectors(&weather(AS_RECORDED), 0));
    assert!((record[0] - 0.64).abs() < 0.01, "as found beforehand by other means: {record:?}");
    for seasons in DRAWN {
        let weather = weather(seasons);
        let drawn: Vec<[f64; 2]> = (0..20).map(|s| spells(&vectors(&weather, s))).collect();
        for of in [0, 1] {
            let mean = drawn.iter().map(|found| found[of]).sum::<f64>() / drawn.len() as f64;
            assert!((mean - record[of]).abs() < 0.1, "{seasons}: {mean} against {}", record[of]);
        }
    }
}

/// CU and DUlq of each alternative, percent: the mean of seasons that start on four days.
fn figures(seasons: &str) -> Vec<[f64; 2]> {
    let starts = [(11, 1), (12, 9), (13, 17), (14, 25)];
    let mut sums = vec![[0.0; 2]; 3];
    for (seed, start_day) in starts {
        let scenario = resolved(seasons, seed, start_day).scenario;
        let outcome = season::run(&scenario, RunControl::new(&|_| true)).unwrap();
        for (sum, alternative) in sums.iter_mut().zip(&outcome.alternatives) {
            let interior = alternative.season_figures().interior.unwrap();
            sum[0] += 100.0 * interior.cu / starts.len() as f64;
            sum[1] += 100.0 * interior.du_lq / starts.len() as f64;
        }
    }
    sums
}

#[test]
fn reference_drawn_seasons_are_as_uniform_as_those_of_the_record() {
    let record = figures(AS_RECORDED);
    for seasons in DRAWN {
        for (drawn, record) in figures(seasons).iter().zip(&record) {
            let apart = [drawn[0] - record[0], drawn[1] - record[1]];
            let within = apart[0].abs() < 1.0 && apart[1].abs() < 1.5;
            assert!(within, "{seasons}: {drawn:?} against {record:?}");
        }
    }
}
