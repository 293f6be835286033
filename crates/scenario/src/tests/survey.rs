//! A survey of the sprinklers and leaks: read, told, refused.

use super::bad_input::refused;
use super::helpers::demo_with;
use crate::{Problems, Resolved, resolve};
use serde_json::{Value, json};

/// Five of the demo's 33 sprinklers; 50 psi is what they are stated for.
const TABLE: &str = "# invented\nsprinkler,pressure_psi,bore_64ths,note\n1,50,11,\n9,48,10,leaning\n\
                     17,,,plugged\n25,46,10.5,nipple cracked\n33,42,,\n";

fn surveyed(change: impl FnOnce(&mut Value)) -> String {
    demo_with(|demo| {
        demo["lateral"]["survey"] = json!({ "file": "survey.csv", "nominal_bore": "5/32 in" });
        change(demo);
    })
}

fn with(text: &str, table: &str) -> Result<Resolved, Problems> {
    let load = |name: &str| match name {
        "survey.csv" => Ok(table.as_bytes().to_vec()),
        other => Err(format!("no file {other}")),
    };
    resolve(text, &load)
}

fn good(text: &str, table: &str) -> Resolved {
    with(text, table).unwrap_or_else(|problems| panic!("{problems}"))
}

fn told(resolved: &Resolved, what: &str) -> String {
    let found = resolved.assumptions.iter().find(|assumption| assumption.what == what);
    found.map_or_else(String::new, |found| found.value.clone())
}

#[test]
fn closed_a_survey_reaches_the_core_and_what_it_leaves_open_is_told() {
    let resolved = good(&surveyed(|_| {}), TABLE);
    let [first, second, ..] = &resolved.scenario.alternatives[..] else { panic!() };
    assert_eq!(first.condition, second.condition);
    let found = first.condition.survey.as_ref().unwrap();
    assert_eq!((found.surveyed, found.worn(), found.plugged, found.leaning), (5, 2, 1, 1));
    let factors = first.factors().unwrap();
    // Bores over 10/64 squared times the root of pressure over 50 psi; the mean nozzle is 1.1042.
    let (wear, half) = (1.21_f64, 1.05_f64 * 1.05);
    let mean = (wear + 1.0 + half) / 3.0;
    for (number, share) in [
        (1, wear),
        (5, mean * 0.98_f64.sqrt()),
        (9, 0.96_f64.sqrt()),
        (17, 0.0),
        (25, half * 0.92_f64.sqrt()),
        (33, mean * 0.84_f64.sqrt()),
    ] {
        assert!((factors[number - 1] - share).abs() < 1e-9, "{number}: {}", factors[number - 1]);
    }
    // The file counts once, whatever the number of alternatives.
    assert_eq!(resolved.files.len(), 1);
    assert!(resolved.sources.iter().any(|source| source.contains("survey.csv")));
    assert_eq!(told(&resolved, "/lateral/survey/others"), "28 not surveyed");
    assert_eq!(told(&resolved, "/lateral/survey/gauge_error"), "2 psi");
    // Bores were measured: wear is not assumed.
    assert_eq!(told(&resolved, "/lateral/nozzle_wear"), "");
    assert!(resolved.warnings.join("\n").contains("sprinkler 25: nipple cracked"));
}

#[test]
fn closed_the_surveyed_example_is_sound() {
    let text = include_str!("../../../../data/survey/scenario.json");
    let resolved = good(text, include_str!("../../../../data/survey/survey.csv"));
    assert!(resolved.invented);
    let [old, rotated, new] = &resolved.scenario.alternatives[..] else { panic!() };
    let found = old.condition.survey.as_ref().unwrap();
    assert_eq!((found.surveyed, found.worn(), found.plugged, found.leaning), (33, 4, 1, 2));
    assert_eq!(old.condition, rotated.condition);
    assert!(new.condition.survey.is_none() && new.condition.leaks == Some(0.0));
    assert_eq!(new.factors(), None);
}

#[test]
fn closed_wear_beside_a_survey_and_new_nozzles_in_place_of_it() {
    let resolved = good(
        &surveyed(|demo| {
            demo["lateral"]["nozzle_wear"] = "5 %".into();
            demo["alternatives"][1]["lateral"] = json!({ "nozzle_wear": "0 %" });
        }),
        TABLE,
    );
    assert!(resolved.warnings.join("\n").contains("`nozzle_wear` is not used"));
    let [worn, new, ..] = &resolved.scenario.alternatives[..] else { panic!() };
    assert!(worn.condition.wear.is_none() && worn.condition.survey.is_some());
    assert_eq!((new.condition.wear, new.condition.survey.is_none()), (Some(0.0), true));
    assert!(new.factors().is_none());
    // A table without bores leaves wear as it is stated.
    let pressures = "sprinkler,pressure_psi\n1,50\n33,50\n";
    let resolved = good(&surveyed(|demo| demo["lateral"]["nozzle_wear"] = "5 %".into()), pressures);
    let first = &resolved.scenario.alternatives[0];
    assert_eq!(first.condition.wear, Some(0.05));
    let over = first.condition.survey.as_ref().unwrap().flow_over_stated;
    assert!((over - 1.05).abs() < 1e-12, "{over}");
}

#[test]
fn closed_readings_are_held_against_the_pipe() {
    let piped = |psi: &str| {
        surveyed(|demo| {
            demo["lateral"]["pipe"] =
                json!({ "inside_diameter": "4.9 in", "inlet": { "mean_sprinkler_pressure": psi } });
        })
    };
    let table = "sprinkler,pressure_psi,bore_64ths\n1,51,10\n17,50,10\n33,49,10\n";
    let close = good(&piped("50 psi"), table);
    let words = told(&close, "/lateral/survey/pressure");
    for part in
        ["first read (sprinkler 1)", "middle read (sprinkler 17)", "last read (sprinkler 33)"]
    {
        assert!(words.contains(part), "{words}");
    }
    assert!(!close.warnings.join("\n").contains("pitot"), "{:?}", close.warnings);
    // Nominal bores: every nozzle as stated, the pressure the pipe's.
    assert!(close.scenario.alternatives[0].factors().is_none());
    let far = good(&piped("60 psi"), table).warnings.join("\n");
    assert!(
        far.contains("the pitot readings") && far.contains("more than the gauge may be off"),
        "{far}"
    );
}

#[test]
fn closed_what_is_wrong_with_a_survey_is_told_at_once_at_its_key() {
    let table =
        "sprinkler,pressure_psi,bore_64ths\n34,50,10\n2,5000,10\n2,50,10\n3,50,100\n3,50,10\n";
    let Err(problems) = with(&surveyed(|_| {}), table) else { panic!() };
    assert!(problems.issues().iter().all(|issue| issue.pointer == "/lateral/survey/file"));
    let text = problems.to_string();
    for words in [
        "survey.csv: line 3: there is no sprinkler 34 on a lateral of 33",
        "a pressure of 5000 is out of range",
        "a bore of 100 is out of range",
        "sprinkler 2 stands on line",
    ] {
        let words = words.replace("line 3: there", "line 2: there");
        assert!(text.contains(&words), "{words}\n{text}");
    }
    let unknown = demo_with(|demo| demo["lateral"]["survey"] = json!({ "file": "survey.csv" }));
    let Err(problems) = with(&unknown, TABLE) else { panic!() };
    assert!(problems.to_string().contains("nominal_bore"), "{problems}");
    let Err(problems) = with(&surveyed(|_| {}), "sprinkler,pressure_psi\n") else { panic!() };
    assert!(problems.to_string().contains("holds no sprinklers"), "{problems}");
    let plugged: Vec<String> = (1..=33).map(|number| format!("{number},plugged\n")).collect();
    let plugged = plugged.concat();
    let Err(problems) = with(&surveyed(|_| {}), &format!("sprinkler,note\n{plugged}")) else {
        panic!()
    };
    assert!(
        problems.to_string().contains("every sprinkler of the lateral is plugged"),
        "{problems}"
    );
    let missing = demo_with(|demo| demo["lateral"]["survey"] = json!({ "file": "gone.csv" }));
    refused(&missing, "/lateral/survey/file", &["cannot be read"]);
}

#[test]
fn closed_leaks_are_read_and_without_a_word_there_are_none() {
    let leaky = demo_with(|demo| demo["lateral"]["leaks"] = "8 %".into());
    let leaky = super::helpers::good(&leaky);
    assert_eq!(leaky.scenario.alternatives[0].condition.leaks, Some(0.08));
    let plain = super::helpers::good(crate::demo());
    assert_eq!(plain.scenario.alternatives[0].condition.leaks, None);
    assert_eq!(told(&plain, "/lateral/leaks"), "0 %");
    let all = demo_with(|demo| demo["lateral"]["leaks"] = "90 %".into());
    refused(&all, "/lateral/leaks", &["60 %"]);
}
