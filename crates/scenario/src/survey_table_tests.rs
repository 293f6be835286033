//! Tables read, and everything wrong with them.

use super::*;

const OF: Surveyed = Surveyed { sprinklers: 33, nominal_bore_m: Some(5.0 / 32.0 * M_PER_IN) };

#[test]
fn closed_a_table_in_mixed_order_with_blanks_and_notes() {
    let text = "\u{feff}# invented\nsprinkler;note;pressure_psi;bore_64ths;flow_gpm;who\n\
                33;leaning, riser bent;41;;5;A\n1;;52;11;;\n7;Plugged;;;;\n9;;;;0;\n";
    let table = read(text.as_bytes(), OF);
    assert_eq!(table.problems, []);
    assert_eq!(table.other_columns, ["who"]);
    assert_eq!(table.other_notes, [(33, "riser bent".to_owned())]);
    let [first, plugged, dry, last] = &table.readings[..] else { panic!("{table:?}") };
    assert_eq!((first.sprinkler, last.sprinkler), (0, 32));
    // 11/64 over 10/64.
    assert!((first.bore.unwrap() - 1.1).abs() < 1e-12);
    assert!((first.pressure_kpa.unwrap() - 52.0 * KPA_PER_PSI).abs() < 1e-9);
    assert!((last.flow_l_s.unwrap() - 5.0 * L_S_PER_GPM).abs() < 1e-12);
    assert!(plugged.is_plugged && dry.is_plugged && last.is_leaning && !last.is_plugged);
    // The same bore in inches, as a fraction.
    let inches = read(b"sprinkler,bore_in\n1,11/64", OF);
    assert!((inches.readings[0].bore.unwrap() - 1.1).abs() < 1e-12);
}

#[test]
fn closed_everything_wrong_is_told_at_once() {
    let text = "sprinkler,pressure_kpa,bore_mm,flow_l_s\n34,300,4,\n2,5,4,\n2,300,,\n3,300,40,\n\
                4,300,12,\nx,300,,\n5,,,\n6,much,,\n7,1,2,3,4\n";
    let told = read(text.as_bytes(), OF).problems;
    let wrong = [
        "no sprinkler 34 on a lateral of 33",
        "a pressure of 5 is out of range",
        "sprinkler 2 stands on line 3 and on line 4",
        "a bore of 40 is out of range",
        "a bore of 12 is 3.02 times the nominal one of 3.97 mm",
        "`x` is no sprinkler's number",
        "nothing was read at sprinkler 5",
        "`much` is not a number",
        "line 10 has 5 cells, the head has 4",
    ];
    assert_eq!(told.len(), wrong.len(), "{told:#?}");
    for (problem, words) in told.iter().zip(wrong) {
        assert!(problem.what.contains(words) && !problem.hint.is_empty(), "{problem:?} {words}");
    }
}

#[test]
fn closed_heads_that_tell_nothing_are_refused() {
    let said = |text: &str| {
        let all = read(text.as_bytes(), OF).problems;
        all.into_iter()
            .map(|problem| problem.what + " " + &problem.hint)
            .collect::<Vec<_>>()
            .join("|")
    };
    assert!(said("").contains("holds no table"));
    assert!(said("sprinkler,pressure_psi\n").contains("holds no sprinklers"));
    assert!(said("pressure_psi\n40").contains("no column has the sprinklers' numbers"));
    assert!(said("sprinkler\n4").contains("no column has readings"));
    assert!(said("sprinkler,pressure\n1,40").contains("Did you mean `pressure_"));
    assert!(said("sprinkler,bore_mm,bore_in\n1,4,").contains("second column of its kind"));
    assert!(read(&[0xff, 0xfe], OF).problems.len() == 1);
    let unknown = Surveyed { nominal_bore_m: None, ..OF };
    let told = read(b"sprinkler,bore_mm\n1,4\n2,4", unknown).problems;
    assert!(told.len() == 1 && told[0].hint.contains("nominal_bore"), "{told:?}");
}
