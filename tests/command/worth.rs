//! `evenfall worth`: verdict, files, refusals.

use crate::runs::{evenfall_in, names};
use crate::scenarios::{demo_at, put, small};
use serde_json::{Value, json};
use std::fs;
use tempfile::TempDir;

#[test]
fn a_verdict_is_told_and_written_with_its_maps() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let words = ["worth", "scenario.json", "--seasons", "3", "--into", "r"];
    let said = evenfall_in(folder.path(), &words).said();
    assert!(said.contains("against “Fixed”") && said.contains("Placeholders"), "{said}");
    let report = folder.path().join("r");
    let worth: Value =
        serde_json::from_slice(&fs::read(report.join("worth.json")).unwrap()).unwrap();
    assert!(worth.is_object());
    assert_eq!(names(&report.join("grids")).len(), 6, "depth, yield and percolation of two");
    let page = fs::read_to_string(report.join("report.html")).unwrap();
    assert!(page.contains("What it is worth") && page.contains("worth --seasons 3"));
    assert!(!page.contains("http:") && !page.contains("https:"));
}

#[test]
fn a_plan_that_loses_more_than_a_rotation_brings_says_so_and_shorter_sets_are_found() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let words = ["worth", "scenario.json", "--seasons", "2", "--shortest-set", "--into", "r"];
    let said = evenfall_in(folder.path(), &words).said();
    let plain = said.split_whitespace().collect::<Vec<_>>().join(" ");
    // The small scenario waters a fifth of the crop's season.
    assert!(plain.contains("because water starts too late or ends too early"), "{said}");
    assert!(plain.contains("The plan itself loses more:"), "{said}");
    assert!(
        plain.contains("The shortest sets, at the same hours, that keep the yield of"),
        "{said}"
    );
    let report = folder.path().join("r");
    let read = |file: &str| -> Value {
        serde_json::from_slice(&fs::read(report.join(file)).unwrap()).unwrap()
    };
    let plan = &read("worth.json")["plan"];
    let parts = plan["parts"].as_array().unwrap();
    let missed: f64 = parts.iter().map(|part| part["missed_points"].as_f64().unwrap()).sum();
    assert!((missed + plan["reached_percent"].as_f64().unwrap() - 100.0).abs() < 1e-9, "{plan}");
    assert_eq!(plan["shortest_sets"].as_array().unwrap().len(), 2);
    assert!(!read("summary.json")["plan"]["alternatives"].as_array().unwrap().is_empty());
    let page = fs::read_to_string(report.join("report.html")).unwrap();
    assert!(page.find("The plan before the rotation") < page.find("The answer"));
    assert!(page.contains("--shortest-set"));
}

#[test]
fn the_verdict_does_not_depend_on_threads() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    for (threads, into) in [("1", "one"), ("2", "two")] {
        let words =
            ["worth", "scenario.json", "--seasons", "3", "--threads", threads, "--into", into];
        evenfall_in(folder.path(), &words).said();
    }
    for file in ["worth.json", "report.html", "grids/mean-yield-fraction-2.npy"] {
        let read = |into: &str| fs::read(folder.path().join(into).join(file)).unwrap();
        assert!(read("one") == read("two"), "{file}");
    }
}

#[test]
fn senseless_prices_soils_and_seasons_are_refused_and_nothing_is_left() {
    for (pointer, value, words) in [
        ("/worth/prices/crop", "\"-5 per t\"", &["/worth/prices/crop"][..]),
        ("/worth/prices/potential_yield", "\"0 t/ha\"", &["/worth/prices/potential_yield"]),
        ("/worth/seasons", "1", &["/worth/seasons"]),
        ("/soil", "{\"field_capacity\": 0.1, \"wilting_point\": 0.2}", &["/soil", "wilting point"]),
    ] {
        let folder = TempDir::new().unwrap();
        put(folder.path(), &demo_at(pointer, value));
        evenfall_in(folder.path(), &["worth", "scenario.json"]).refused(3, words);
        assert_eq!(names(folder.path()), ["scenario.json"]);
    }
}

/// What the terminal says and the page holds of the small scenario after `change`, as plain words.
pub(crate) fn told(change: impl FnOnce(&mut Value)) -> (String, String, Value) {
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    change(&mut scenario);
    let folder = TempDir::new().unwrap();
    put(folder.path(), &scenario.to_string());
    let words = ["worth", "scenario.json", "--seasons", "3", "--into", "r"];
    let said = evenfall_in(folder.path(), &words).said();
    let read = |name: &str| fs::read_to_string(folder.path().join("r").join(name)).unwrap();
    let page = read("report.html").replace('\u{a0}', " ");
    let worth = serde_json::from_str(&read("worth.json")).unwrap();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    (said, page, worth)
}

#[test]
fn a_rotation_against_itself_makes_no_difference_and_claims_no_chance() {
    let (said, page, worth) = told(|scenario| {
        scenario["alternatives"] = json!([
            { "name": "Fixed", "rotation": ["0 ft"] },
            { "name": "Again", "rotation": ["0 ft"] },
        ]);
    });
    let words = "“Again” does not pay against “Fixed”: it makes no difference in any season.";
    assert!(said.contains(words) && page.contains(words), "{said}");
    assert!(!said.contains("would make it pay") && !said.contains("chance of"), "{said}");
    assert!(page.contains("Yield and deep percolation are the same in every season"));
    let against = &worth["alternatives"][1]["against_baseline"];
    assert_eq!(against["balance"]["net"].as_f64(), Some(0.0), "{against}");
    assert_eq!(against["realized_share_percent"], Value::Null);
}

#[test]
fn one_alternative_alone_is_compared_with_nothing() {
    let (said, page, worth) = told(|scenario| {
        scenario["alternatives"] = json!([{ "name": "Fixed", "rotation": ["0 ft"] }]);
    });
    assert!(said.contains("One alternative alone: nothing to compare it with."), "{said}");
    for word in ["in order of", "pays", "chance"] {
        assert!(!said.contains(word), "{word} in {said}");
    }
    assert!(page.contains("There is nothing to compare “Fixed” with"));
    assert_eq!(worth["alternatives"].as_array().unwrap().len(), 1);
}

#[test]
fn six_alternatives_in_si_units_with_a_currency_are_all_told() {
    let stops = [
        ["0 ft", "0 ft"],
        ["0 ft", "20 ft"],
        ["20 ft", "-20 ft"],
        ["20 ft", "20 ft"],
        ["-20 ft", "0 ft"],
        ["-20 ft", "-20 ft"],
    ];
    let (said, page, worth) = told(|scenario| {
        scenario["units"] = "si".into();
        scenario["worth"]["currency"] = "EUR".into();
        let one = |(at, rotation): (usize, &[&str; 2])| {
            let (name, equipment) = (format!("Rotation {at}"), json!({ "joints": 0 }));
            json!({ "name": name, "rotation": rotation, "equipment": equipment })
        };
        scenario["alternatives"] = stops.iter().enumerate().map(one).collect();
    });
    for at in 1..6 {
        assert!(said.contains(&format!("“Rotation {at}”")), "{said}");
        assert!(page.contains(&format!("“Rotation {at}”")), "{at}");
    }
    assert_eq!(worth["currency"], "EUR");
    // Prices in the scenario's units and the user's currency, in words and on the page.
    for words in ["EUR a hectare a year", "EUR per t;", "t/ha", "EUR per m³"] {
        assert!(said.contains(words) && page.contains(words), "{words}: {said}");
    }
    // Only the lists of what was assumed and of whose it is quote the file, whose prices are by acre
    // and ton.
    let quotes = |line: &&str| {
        line.contains("a placeholder of the scenario") || line.contains("<td>starting value</td>")
    };
    for line in said.lines().chain(page.lines()).filter(|line| !quotes(line)) {
        for words in ["ton/ac", "ac-ft", " an acre"] {
            assert!(!line.contains(words), "{words}: {line}");
        }
    }
    assert!(page.contains("(+ is a gain, in EUR)"));
}

#[test]
fn us_prices_are_told_in_us_units_everywhere() {
    let (said, page, worth) = told(|_| {});
    for words in ["an acre a year", "180 per ton;", "7 ton/ac", "20 per ac-ft"] {
        assert!(said.contains(words) && page.contains(words), "{words}: {said}");
    }
    for text in [&said, &page] {
        for words in ["per t;", "per t.", "t/ha", "per m³", "hectare"] {
            assert!(!text.contains(words), "{words}: {said}");
        }
    }
    assert!(page.contains("Yield, ton/ac"));
    assert_eq!(worth["currency"], Value::Null);
}

#[test]
fn without_prices_no_money_is_told_but_the_crop_is() {
    let (said, page, _) = told(|scenario| {
        scenario["worth"].as_object_mut().unwrap().shift_remove("prices");
    });
    let words = "Can’t tell yet whether “Two stops” pays against “Fixed”. You haven’t said what the \
                 crop sells for or what the crop yields with no lack of water. Enter both and run \
                 again";
    assert!(said.contains(words) && page.contains(words), "{said}");
    assert!(said.contains("in order of yield of the field’s worst tenth"), "{said}");
    for word in ["an acre a year", "chance"] {
        assert!(!said.contains(word), "{word} in {said}");
    }
    assert!(page.contains("Yield changes by") && page.contains("Money (not given: crop price"));
}

#[test]
fn seasons_of_one_weather_have_no_interval_and_say_so() {
    let (said, page, _) = told(|scenario| {
        scenario["wind"] =
            json!({ "steady": { "speed": "2 m/s", "from": "255 deg", "height": "2 m" } });
        scenario["worth"]["doubts"] = json!("left out");
    });
    assert!(said.contains("(the same in every season)"), "{said}");
    assert!(page.contains("(the same in every season)"));
    assert!(!said.contains("range −") && !said.contains("range +"), "{said}");
}

#[test]
fn the_demo_realizes_more_of_the_gain_than_its_map_promises_and_says_why() {
    // With a pattern that the wind changes more than the demo's starting values have it, over low
    // grass: under the slower wind over the demo's crop the map promises as much as is realized.
    let mut scenario: Value =
        serde_json::from_str(&demo_at("/worth/doubts", "\"left out\"")).unwrap();
    scenario["sprinkler"]["drag"] = json!({ "form": "air and wind", "k1": 0.8, "k2": 0.2, "turbulence": 0.1, "jet_length": "0 m" });
    scenario["crop"]["canopy_height"] = json!("0.12 m");
    // A crop that is not cut: with the demo's cuttings the plan runs short of water, and no rotation pays.
    scenario["season"].as_object_mut().unwrap().remove("closed");
    scenario["crop"]["stages"]["mid"] = json!("115 days");
    let folder = TempDir::new().unwrap();
    put(folder.path(), &scenario.to_string());
    let words = ["worth", "scenario.json", "--seasons", "2", "--into", "r"];
    evenfall_in(folder.path(), &words).said();
    let read = |name: &str| fs::read_to_string(folder.path().join("r").join(name)).unwrap();
    let worth: Value = serde_json::from_str(&read("worth.json")).unwrap();
    let best = &worth["alternatives"][2];
    assert_eq!(worth["ranking"][0]["alternative"], best["name"]);
    assert!(best["against_baseline"]["realized_share_percent"].as_f64().unwrap() > 100.5, "{best}");
    assert!(read("report.html").contains("the map counts all water of the season"));
    // Its prices are all placeholders: who reads one sentence only must hear of it there.
    assert!(read("report.html").contains("pays against “Fixed” at placeholder prices:"));
}

#[test]
fn an_answer_is_no_surer_than_what_is_known_of_pattern_soil_and_prices() {
    let run = |doubts: &str| {
        let mut scenario: Value = serde_json::from_str(&small()).unwrap();
        scenario["worth"]["doubts"] = json!(doubts);
        // The fixed pattern takes so much more labor that two stops barely pay.
        scenario["worth"]["worthwhile_gain"] = json!("0 per ha");
        scenario["alternatives"][0]["equipment"] = json!({ "extra_labor_per_move": "0.7 min" });
        let folder = TempDir::new().unwrap();
        put(folder.path(), &scenario.to_string());
        let words = ["worth", "scenario.json", "--seasons", "20", "--into", "r"];
        evenfall_in(folder.path(), &words).said();
        let read = |name: &str| fs::read_to_string(folder.path().join("r").join(name)).unwrap();
        let worth: Value = serde_json::from_str(&read("worth.json")).unwrap();
        (read("report.html"), worth["alternatives"][1]["against_baseline"].clone())
    };
    let width = |found: &Value| {
        let ends = &found["net"]["figures"]["interval"];
        ends["high_per_ha"].as_f64().unwrap() - ends["low_per_ha"].as_f64().unwrap()
    };
    let (page, drawn) = run("drawn");
    let (_, alone) = run("left out");
    assert!(alone["net"]["figures"]["interval"]["low_per_ha"].as_f64().unwrap() > 0.0);
    assert!(width(&drawn) > 2.0 * width(&alone), "{} {}", width(&drawn), width(&alone));
    let causes = drawn["certainty"]["causes"].as_array().unwrap();
    let share: f64 = causes.iter().map(|cause| cause["share_percent"].as_f64().unwrap()).sum();
    assert!((share - 100.0).abs() < 1e-6, "{share}");
    // Twenty seasons are too few to part the doubts from one another.
    for name in ["physics", "crop_per_t", "seasons"] {
        assert!(causes.iter().any(|cause| cause["name"] == name), "{name}");
    }
    assert!(page.contains("With pattern in wind, losses, soil, crop and prices varied together"));
    assert_eq!(alone["certainty"], Value::Null);
    // Doubts leave it open, so no price is said to settle it.
    assert_eq!(drawn["verdict"]["reason"], "doubt", "{drawn}");
    let settling = drawn["verdict"]["settling"].to_string();
    assert!(settling.contains("what would narrow it") && !settling.contains("Your own"));
}

#[test]
fn regress_what_is_bought_without_price_or_life_is_asked_for_and_never_free() {
    // Twenty joints at the demo's other prices.
    let with = |prices: &[&str]| {
        told(|scenario| {
            scenario["alternatives"][1]["equipment"] = json!({ "joints": 20 });
            for price in prices {
                scenario["worth"]["prices"].as_object_mut().unwrap().shift_remove(*price);
            }
        })
    };
    for (missing, asked, names) in [
        (&["joint_life"][..], "how long a joint lasts. Enter it", json!(["joint_life_years"])),
        (
            &["joint_each", "joint_life"],
            "what a joint costs or how long a joint lasts. Enter both",
            json!(["joint_each", "joint_life_years"]),
        ),
        // Water that is the same for both, and outlets that nobody buys, are not asked for.
        (
            &["joint_life", "water", "outlet_each"],
            "how long a joint lasts. Enter it",
            json!(["joint_life_years"]),
        ),
    ] {
        let (said, page, worth) = with(missing);
        let words = format!(
            "Can’t tell yet whether “Two stops” pays against “Fixed”. You haven’t said {asked} and \
             run again"
        );
        assert!(said.contains(&words) && page.contains(&words), "{said}");
        assert!(!said.contains("pays at any") && !said.contains(" yes "), "{said}");
        let against = &worth["alternatives"][1]["against_baseline"];
        assert_eq!(against["verdict"]["answer"], "inconclusive", "{against}");
        assert_eq!(against["missing"], names);
    }
    let (said, _, worth) = with(&[]);
    assert!(!said.contains("You haven’t said"), "{said}");
    assert_eq!(worth["alternatives"][1]["against_baseline"]["missing"], json!([]));
}

#[test]
fn regress_money_within_a_boundary_is_the_same_by_area_for_the_field_and_in_the_sensitivity() {
    let folder = TempDir::new().unwrap();
    let mut scenario: Value = serde_json::from_str(&small()).unwrap();
    scenario["field"]["boundary"] = json!({ "file": "field.geojson", "coordinates": "ft" });
    scenario["alternatives"][1]["equipment"] = json!({ "joints": 20 });
    put(folder.path(), &scenario.to_string());
    let ring = [[0, 0], [320, 0], [320, 180], [160, 180], [160, 360], [0, 360], [0, 0]];
    let polygon = json!({ "type": "Polygon", "coordinates": [ring] });
    fs::write(folder.path().join("field.geojson"), polygon.to_string()).unwrap();
    let words = ["worth", "scenario.json", "--seasons", "3", "--into", "r"];
    evenfall_in(folder.path(), &words).said();
    let text = fs::read_to_string(folder.path().join("r/worth.json")).unwrap();
    let worth: Value = serde_json::from_str(&text).unwrap();
    let number = |value: &Value| value.as_f64().unwrap();
    // An L: three quarters of 320 × 360 ft.
    let area_ha = number(&worth["area_ha"]);
    assert!((area_ha - 0.75 * 320.0 * 360.0 * 0.09290304e-4).abs() < 1e-9, "{area_ha}");
    let against = &worth["alternatives"][1]["against_baseline"];
    let per_ha = number(&against["net"]["figures"]["mean_per_ha"]);
    let field = number(&against["balance"]["net"]);
    assert!((per_ha * area_ha / field - 1.0).abs() < 1e-9, "{per_ha} {area_ha} {field}");
    for swing in against["swings"].as_array().unwrap() {
        let base = number(&swing["net_per_ha"][1]);
        assert!((base / per_ha - 1.0).abs() < 1e-9, "{swing}");
    }
}

#[test]
fn every_season_is_a_row_and_an_ensemble_in_parts_is_the_whole_digit_by_digit() {
    let folder = TempDir::new().unwrap();
    put(folder.path(), &small());
    let rows = |words: &[&str], into: &str| -> Vec<String> {
        let words = [&["worth", "scenario.json", "--into", into], words].concat();
        evenfall_in(folder.path(), &words).said();
        let text = fs::read_to_string(folder.path().join(into).join("seasons.csv")).unwrap();
        text.lines().map(str::to_owned).collect()
    };
    let whole = rows(&["--seasons", "6"], "whole");
    let first = rows(&["--seasons", "4"], "first");
    let rest = rows(&["--seasons", "2", "--first-season", "5"], "rest");
    assert_eq!(whole.len(), 1 + 6 * 2);
    assert_eq!(whole[0], rest[0]);
    assert_eq!(whole[..9], first[..]);
    assert_eq!(whole[9..], rest[1..]);
    for word in
        ["season", "seed", "scenario_sha256", "version", "systematic_points", "percolation_mm"]
    {
        assert!(whole[0].split(',').any(|head| head == word), "{word} in {}", whole[0]);
    }
    let json: Value =
        serde_json::from_slice(&fs::read(folder.path().join("rest/seasons.json")).unwrap())
            .unwrap();
    assert_eq!(
        (&json["rows"][0]["season"], json["rows"].as_array().unwrap().len()),
        (&json!(5), 4)
    );
    // Doubts are drawn two by two.
    let words = ["worth", "scenario.json", "--seasons", "2", "--first-season", "2", "--into", "x"];
    evenfall_in(folder.path(), &words).refused(5, &["must be odd"]);
}
