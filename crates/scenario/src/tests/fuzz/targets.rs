//! What is tried: a reader each, with the inputs that it gets.

use super::chance::{Chance, changed, changed_table, scenario, value};
use crate::issue::{Issues, harmless};
use crate::quantity::{self, Dimension};
use crate::read::Read as _;
use crate::read_time::{Stamp, ZoneName};
use crate::survey_table::{self, Surveyed};
use crate::tests::helpers::good;
use crate::weather::{csv, days, epw, tmy3};
use crate::{Carried, boundary_text, catch, document, options, read_log, resolve};
use evenfall_core::season;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// A reader: what is said of the input that chance makes.
pub(super) type One = Box<dyn Fn(&mut Chance) -> String>;

/// Its name, how many inputs the check tries, and what makes it.
pub(super) type Target = (&'static str, u64, fn() -> One);

/// All of them by name, the quickest first. A corpus is read when
/// its target is asked for.
pub(super) const TARGETS: [Target; 14] = [
    ("quantities", 20_000, quantities),
    ("times", 5_000, times),
    ("options", 10_000, values_of_options),
    ("documents", 3_000, documents),
    ("surveys", 1_000, surveys),
    ("days", 1_000, daily),
    ("weather", 600, hourly),
    ("catch tests", 600, catch_tests),
    ("boundaries", 600, boundaries),
    ("pages", 300, pages),
    ("logs", 250, || logs(".json")),
    ("log tables", 250, || logs(".csv")),
    ("scenario bytes", 250, scenario_bytes),
    ("scenario values", 250, scenario_values),
];

fn data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data")
}

/// Files of `data/` whose name ends so and holds one of these words.
fn corpus(ending: &str, words: &[&str]) -> Vec<Vec<u8>> {
    let mut found = Vec::new();
    let mut folders = vec![data()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.to_string_lossy().to_lowercase();
            if path.is_dir() {
                folders.push(path);
            } else if name.ends_with(ending) && words.iter().any(|word| name.contains(word)) {
                let mut bytes = fs::read(path).unwrap();
                // A year of weather is cut to some of its hours, so that more inputs are tried.
                if ending == ".csv" {
                    bytes.truncate(40_000);
                }
                found.push((name, bytes));
            }
        }
    }
    // The order of a folder is not the same everywhere.
    found.sort();
    assert!(!found.is_empty(), "no corpus for {ending} {words:?}");
    found.into_iter().map(|(_, bytes)| bytes).collect()
}

/// Any file that a scenario names is one of the corpus.
fn beside(name: &str) -> Result<Vec<u8>, String> {
    static FILES: LazyLock<BTreeMap<String, Vec<u8>>> = LazyLock::new(|| {
        let folders = ["hand-move", "survey", "greensboro", "corpus", "catch"];
        let entries = folders.iter().rev().flat_map(|one| fs::read_dir(data().join(one)).unwrap());
        let name = |path: &Path| path.file_name().unwrap().to_string_lossy().into_owned();
        let paths = entries.map(|entry| entry.unwrap().path());
        paths.map(|path| (name(&path), fs::read(path).unwrap())).collect()
    });
    let plain = name.rsplit('/').next().unwrap_or_default();
    FILES.get(plain).cloned().ok_or_else(|| "it is not there".to_owned())
}

/// Reads a scenario, and plans its season where it is sound.
fn read_scenario(text: &str) -> String {
    match resolve(text, &beside) {
        Ok(resolved) => {
            let plans = season::plans(&resolved.scenario);
            let told =
                plans.map_or_else(|error| error.to_string(), |plans| plans.len().to_string());
            resolved.warnings.join("\n") + &told
        }
        Err(problems) => problems.to_string(),
    }
}

fn scenarios() -> Vec<Vec<u8>> {
    corpus(".json", &["demo", "hand-move", "pipes", "orders", "survey", "scenario-"])
}

fn scenario_values() -> One {
    let corpus = scenarios();
    Box::new(move |chance| read_scenario(&scenario(chance, &corpus)))
}

fn scenario_bytes() -> One {
    let corpus = scenarios();
    Box::new(move |chance| read_scenario(&String::from_utf8_lossy(&changed(chance, &corpus))))
}

fn units() -> Vec<&'static str> {
    let mut all: Vec<&str> = quantity::UNITS.iter().flat_map(|unit| unit.names).copied().collect();
    all.extend(["", "", "furlong", "ft 6 in", "bu", "NNE", "pm"]);
    all
}

/// What is read is a number, and reads as the same when it is written in its own unit.
fn quantities() -> One {
    let units = units();
    Box::new(move |chance| {
        let text = value(chance, &units);
        match quantity::parse(&text) {
            Ok(read) => {
                assert!(read.value.is_finite(), "{text:?}");
                let unit = quantity::unit_of(&text).filter(|_| read.sign.is_none());
                if let Some(unit) = unit.filter(|_| read.dimension != Dimension::Bearing) {
                    let written = quantity::print(read.value, unit).unwrap();
                    let again = quantity::parse(&written).unwrap().value;
                    let room = 1e-9 * read.value.abs().max(1.0);
                    assert!((again - read.value).abs() <= room, "{text:?} {written:?} {again}");
                }
                String::new()
            }
            Err(problem) => harmless(problem.to_string()),
        }
    })
}

fn times() -> One {
    const PARTS: [&str; 16] = [
        "2027-05-10",
        "2027-11-07T01:30",
        "2027-03-14 02:30",
        "T06:00",
        "06:00",
        ":00",
        "-07:00",
        "+00:00",
        "-08:00",
        "America/Boise",
        "Mountain",
        "Pacific time",
        "2027-02-29",
        "24:00",
        "0",
        "Z",
    ];
    Box::new(|chance| {
        let mut text = String::new();
        for _ in 0..=chance.below(3) {
            text += *chance.one_of(&PARTS);
        }
        if chance.below(2) == 0 {
            text = value(chance, &[&text]);
        }
        let (node, mut issues) = (document::Node::of(&text), Issues::default());
        // Names of zones are looked for among all, which takes longest.
        if chance.below(8) == 0 {
            let _ = ZoneName::read(&node, &mut issues);
        }
        let _ = Stamp::read(&node, &mut issues);
        let moment = options::moment(&text);
        issues.sentences() + &moment.err().unwrap_or_default()
    })
}

/// Options of every kind: lengths, shares, counts, numbers, names.
fn values_of_options() -> One {
    let units = units();
    let read: [fn(&str) -> Option<String>; 12] = [
        |text| options::travel_per_turn(text).err(),
        |text| options::outlet_spacing(text).err(),
        |text| options::slip_and_sinkage(text).err(),
        |text| options::leveler_range(text).err(),
        |text| options::outlets(text).err(),
        |text| options::seed(text).err(),
        |text| options::net_precision(text).err(),
        |text| options::worthwhile_gain(text).err(),
        |text| options::k2(text).err(),
        |text| options::wheel_size(text).err(),
        |text| options::clock_face(text).err(),
        |text| options::first_season(text).err(),
    ];
    Box::new(move |chance| {
        let text = value(chance, &units);
        chance.one_of(&read)(&text).unwrap_or_default()
    })
}

/// A few lines of a scenario, whatever they hold.
fn documents() -> One {
    let corpus = scenarios();
    Box::new(move |chance| {
        let text = String::from_utf8_lossy(&changed_table(chance, &corpus)).into_owned();
        let mut issues = Issues::default();
        let _ = document::parse(&text, &mut issues);
        issues.sentences()
    })
}

fn logs(ending: &'static str) -> One {
    let demo = crate::tests::helpers::demo_with(|demo| {
        demo["alternatives"][1]["name"] = "Two stops".into();
    });
    let demo = good(&demo).scenario;
    let corpus = corpus(ending, &["log-"]);
    Box::new(move |chance| {
        let text = String::from_utf8_lossy(&changed(chance, &corpus)).into_owned();
        match read_log(&text, &demo) {
            Ok(log) => log.warnings.join("\n"),
            Err(problems) => problems.to_string(),
        }
    })
}

fn hourly() -> One {
    let hourly = corpus(".csv", &["weather-", "723170"]);
    Box::new(move |chance| {
        let bytes = changed_table(chance, &hourly);
        let told = [
            csv::read(&bytes, 10.0, chance.below(2) == 0).err(),
            tmy3::read(&bytes, 10.0).err(),
            epw::read(&bytes, 10.0, true).err(),
        ];
        // What a scenario says of them goes through its problems, which make it harmless.
        let told = told.into_iter().flatten().map(|error| error.to_string());
        harmless(told.collect::<Vec<_>>().join(" "))
    })
}

fn daily() -> One {
    let daily = corpus(".csv", &["days-"]);
    Box::new(move |chance| {
        let bytes = changed_table(chance, &daily);
        let column =
            if chance.below(2) == 0 { days::DayColumn::Rain } else { days::DayColumn::Et0 };
        let told = days::read(&bytes, column).err().map(|error| error.to_string());
        harmless(told.unwrap_or_default())
    })
}

fn catch_tests() -> One {
    let cans = corpus(".csv", &["catch/", "catch-"]);
    Box::new(move |chance| {
        let read = catch::read(&changed_table(chance, &cans), "a test");
        read.err().map_or_else(String::new, |problems| problems.to_string())
    })
}

fn surveys() -> One {
    let surveys = corpus(".csv", &["survey"]);
    Box::new(move |chance| {
        let of = Surveyed { sprinklers: 33, nominal_bore_m: Some(0.0036) };
        let table = survey_table::read(&changed_table(chance, &surveys), of);
        assert!(table.readings.len() <= 33);
        String::new()
    })
}

fn boundaries() -> One {
    let edges = corpus(".geojson", &["boundary"]);
    Box::new(move |chance| {
        let bytes = changed(chance, &edges);
        let told =
            boundary_text(&bytes, None).map_or_else(|all| all.join(" "), |found| found.system);
        harmless(told)
    })
}

fn pages() -> One {
    let files = [("a.csv".to_owned(), "b".to_owned())].into();
    let carried = Carried { scenario: crate::demo().to_owned(), files, ..Carried::default() };
    let (id, block) = (crate::carried::CARRIED_ID, carried.to_block());
    let page =
        format!("<html><script type=\"application/json\" id=\"{id}\">{block}</script></html>");
    let page = vec![page.into_bytes()];
    Box::new(move |chance| {
        let text = String::from_utf8_lossy(&changed(chance, &page)).into_owned();
        Carried::of_page(&text).and_then(Result::err).unwrap_or_default()
    })
}
