//! Catch tests put to use: whose numbers are used, and what is refused.

use super::helpers::{bad, demo_with, good, only_problem};
use crate::sprinkler_fingerprint;
use evenfall_core::doubt::tested::TESTED;
use serde_json::{Value, json};

fn point(k1: f64, radius: &str, losses: &str) -> Value {
    json!({ "k1": k1, "k2": 0.2, "turbulence": 0.06, "jet_length": "4 ft", "radius": radius, "losses": losses })
}

fn calibrated(change: impl FnOnce(&mut Value)) -> String {
    let stated = &good(crate::demo()).scenario.alternatives[0].sprinkler;
    let fingerprint = sprinkler_fingerprint(stated);
    demo_with(|demo| {
        demo["calibration"] = json!({
            "tests": [
                { "title": "Morning", "file_name": "a.csv", "date": "2026-06-03 09:00", "sha256": "1" },
                { "title": "Evening", "file_name": "b.csv", "sha256": "2" },
            ],
            "sprinkler_sha256": fingerprint,
            "points": [point(0.4, "98 %", "90 %"), point(0.5, "98 %", "80 %"), point(0.6, "98 %", "70 %")],
        });
        change(demo);
    })
}

#[test]
fn closed_the_middle_point_is_used_and_said_whose_it_is() {
    let (demo, found) = (good(crate::demo()), good(&calibrated(|_| {})));
    let (stated, own) =
        (&demo.scenario.alternatives[0].sprinkler, &found.scenario.alternatives[0].sprinkler);
    assert_eq!((own.drag.k1, own.drag.k2, own.drag.turbulence), (0.5, 0.2, 0.06));
    assert!((own.drag.jet_length_m - 4.0 * 0.3048).abs() < 1e-12);
    assert!((own.radius_m() / stated.radius_m() - 0.98).abs() < 1e-12);
    assert!((own.discharge_l_s() / stated.discharge_l_s() - 1.0).abs() < 1e-12);
    assert!((found.scenario.losses_factor() - 0.8).abs() < 1e-12);
    assert_eq!(demo.scenario.losses_factor(), 1.0);
    let calibration = found.scenario.calibration.as_ref().unwrap();
    assert_eq!((calibration.points().len(), calibration.tests.len()), (3, 2));
    assert_eq!(calibration.used().numbers().len(), TESTED.len());
    let with = "with your tests of “Morning” and “Evening”";
    assert!(found.warnings.iter().any(|warning| warning.starts_with(with)), "{:?}", found.warnings);
    let k1 = found.assumptions.iter().find(|a| a.what == "/sprinkler/drag/k1").unwrap();
    assert_eq!((k1.value.as_str(), k1.why.as_str()), ("0.5", with));
}

#[test]
fn closed_an_alternative_with_a_drag_of_its_own_keeps_what_sets_it_apart() {
    let found = good(&calibrated(|demo| {
        demo["alternatives"][1]["sprinkler"] = json!({ "drag": { "k1": 0.7 } });
    }));
    // Stated 0.3 and 0.7; the tests say 0.5 of the first.
    let k1 = |at: usize| found.scenario.alternatives[at].sprinkler.drag.k1;
    assert!((k1(0) - 0.5).abs() < 1e-12 && (k1(1) - 0.9).abs() < 1e-12);
}

#[test]
fn closed_another_sprinkler_is_refused_and_units_are_not() {
    for (pointer, value) in [
        ("/sprinkler/pressure", json!("45 psi")),
        ("/sprinkler/nozzle_height", json!("6 ft")),
        ("/sprinkler/jets/0/discharge", json!("5.2 gpm")),
        ("/sprinkler/drag", json!({ "form": "air and wind" })),
    ] {
        let text = calibrated(|demo| {
            let (section, key) = pointer.rsplit_once('/').unwrap();
            demo.pointer_mut(section).unwrap()[key] = value;
        });
        let (at, said) = only_problem(&text);
        assert_eq!(at, "/calibration/sprinkler_sha256", "{pointer}");
        assert!(said.contains("another sprinkler") && said.contains("--calibrate"), "{said}");
    }
    good(&calibrated(|demo| demo["sprinkler"]["pressure"] = json!("344.738 kPa")));
    let other = good(&calibrated(|demo| {
        demo["alternatives"][1]["sprinkler"] = json!({ "pressure": "45 psi" });
    }));
    assert!(
        other.warnings.iter().any(|warning| warning.contains("is not the one that was tested"))
    );
}

#[test]
fn closed_every_bad_number_of_a_point_is_told() {
    let text = calibrated(|demo| {
        demo["calibration"]["points"][0]["k1"] = json!(-1);
        demo["calibration"]["points"][1]["jet_length"] = json!("40 m");
        demo["calibration"]["points"][2]["radius"] = json!("5 %");
    });
    assert_eq!(bad(&text).issues().len(), 3);
}
