use super::*;
use std::fmt::Write as _;

fn file(text: &str) -> CatchFile {
    read(text.as_bytes(), "name").unwrap_or_else(|problems| panic!("{problems}"))
}

/// Lines and words of all problems.
fn problems(text: &str) -> Vec<(usize, String)> {
    let problems = read(text.as_bytes(), "name").unwrap_err();
    let told = problems.issues().iter().map(|i| (problems.line(i), i.problem.clone()));
    told.collect()
}

const EXAMPLE_B: &str = "# test: lateral\n# duration: 12 h\nx_ft,y_ft,depth_in\n\
                         0,0,1\n10,0,0.9\n0,10,0.7\n10,10,1.2\n";

#[test]
fn published_course_example_through_the_reader() {
    // NMSU Soils 456, ch. 5 Q5.6 and Q5.10: 1, 0.9, 0.7, 1.2 in, mean printed 0.95; CU 84.211 and DU
    // 73.684 are derived.
    let found = file(EXAMPLE_B);
    let limits = evenfall_core::catch::confidence::limits(&found.test.depths_mm(), 0.9).unwrap();
    assert!((limits.figures.mean_depth_mm / 25.4 - 0.95).abs() <= 0.005);
    assert!((100.0 * limits.figures.cu - 84.211).abs() <= 0.0005);
    assert!((100.0 * limits.figures.du_lq - 73.684).abs() <= 0.0005);
    assert_eq!((found.units, found.test.title.as_str()), (UnitSystem::Us, "name"));
}

#[test]
fn closed_quarter_of_ten_cans_through_the_reader() {
    // Half of the third-lowest can counts: 2.8/6 = 46.667 %, CU 66.667 %.
    let mut text = "# test: lateral\n# duration: 1 h\ny_m,depth_mm\n".to_owned();
    for (i, depth) in [2, 3, 4, 5, 6, 6, 7, 8, 9, 10].iter().enumerate() {
        let _ = writeln!(text, "{i},{depth}");
    }
    let depths = file(&text).test.depths_mm();
    let figures = evenfall_core::catch::confidence::limits(&depths, 0.9).unwrap().figures;
    assert!((100.0 * figures.du_lq - 46.667).abs() <= 0.0005);
    assert!((100.0 * figures.cu - 66.667).abs() <= 0.0005);
}

#[test]
fn closed_volumes_blanks_evaporation_and_matrix_say_the_same_as_depths() {
    // A can of 10 cm has 78.54 cm²: 78.54 mL are 10 mm.
    let matrix = "# test: single\n# duration: 60 min\n# readings: volume_ml\n# can diameter: 10 cm\n\
                  # blanks: dry\n# evaporation: 0.5 mm\ny_m/x_m,0,2\n0,78.539816339744831,\n\
                  2,0,39.269908169872416\n";
    let found = file(matrix).test;
    let depths: Vec<f64> = found.depths_mm();
    for (depth, wanted) in depths.iter().zip([10.5, 0.0, 0.0, 5.5]) {
        assert!((depth - wanted).abs() < 1e-9, "{depths:?}");
    }
    assert_eq!(found.blanks_as_dry, 1);
    assert_eq!((found.cans[3].x_m, found.cans[3].y_m, found.cans[3].line), (2.0, 2.0, 9));
    let long = "# test: single\n# duration: 1 h\n# blanks: missing\nx_m,y_m,depth_mm\n\
                0,0,10.5\n2,0,\n0,2,0\n2,2,5.5\n4,4,1\n";
    let found = file(long).test;
    assert_eq!((found.missing(), found.blanks_as_dry, found.depths_mm().len()), (1, 0, 4));
}

#[test]
fn closed_notes_of_wind_sprinkler_and_lines() {
    let text = "# test: lateral\n# title: Field 3\n# duration: 30 min\n# laterals at: 0 ft, 60 ft\n\
                # sprinkler spacing: 40 ft\n# outlet spacing: 60 ft\n# wind: 15 min, 4 mph, 270 deg\n\
                # wind: 15 min, 0 mph\n# start: 2026-06-03 20:00\n# humidity: 40 %\n\
                x_ft,y_ft,depth_in,remark\n0,0,1,ok\n10,0,1,\n0,10,1,\n10,10,2,\n";
    let found = file(text);
    let Kind::Lines(lines) = &found.test.kind else { panic!("{found:?}") };
    assert!((lines.at_m[1] - 18.288).abs() < 1e-12);
    assert_eq!(found.test.wind.len(), 2);
    assert!((found.test.wind[0].speed_m_s - 1.78816).abs() < 1e-9);
    // The same wind by a point of the compass.
    let west = file(&text.replace("270 deg", "W"));
    assert_eq!(west.test.wind, found.test.wind);
    assert_eq!(found.test.wind[0].from_deg, 270.0);
    assert_eq!(found.test.air.by_day, Some(false));
    assert_eq!(found.warnings, ["the column `remark` is not read"]);
    let assumed: Vec<&str> = found.assumptions.iter().map(|a| a.what.as_str()).collect();
    assert_eq!(assumed, ["wind height", "bearing of y"]);
}

#[test]
fn closed_a_leg_with_two_radii() {
    let text = "# test: leg\n# duration: 1 h\ndistance_m,azimuth_deg,depth_mm\n\
                1,0,5\n3,0,4\n1,90,5\n3,90,3\n";
    let test = file(text).test;
    assert!((test.cans[3].x_m - 3.0).abs() < 1e-12 && test.cans[3].y_m.abs() < 1e-12);
    assert_eq!(test.from_sprinkler_m(test.cans[1].x_m, test.cans[1].y_m), Some(3.0));
}

#[test]
fn invariant_every_problem_is_told_at_once_with_its_line() {
    let text = "# test: latteral\n# duraton: 1 h\n# can diameter: 4\nx_ft,y_ft,depth_in\n\
                0,0,wet\n10,0,-1\n0,0,1\n20,0,12 mm\n30,0\n40,0,\n50,0,9000\n,0,1\n60,0,nan\n";
    let told = problems(text);
    let lines: Vec<usize> = told.iter().map(|(line, _)| *line).collect();
    for line in [1, 2, 3, 5, 6, 7, 8, 9, 10, 11, 12, 13] {
        assert!(lines.contains(&line), "line {line} is not told: {told:#?}");
    }
    let shown = read(text.as_bytes(), "name").unwrap_err().render("cans.csv", false);
    for words in [
        "cans.csv:5:5",
        "`wet` is not a number",
        "less than nothing",
        "line 5",
        "duration",
        "2 cells",
    ] {
        assert!(shown.contains(words), "{words}: {shown}");
    }
}

#[test]
fn invariant_three_cans_dry_cans_and_empty_files_are_refused() {
    let head = "# test: lateral\n# duration: 1 h\nx_ft,y_ft,depth_in\n";
    assert!(problems(&format!("{head}0,0,1\n1,0,1\n2,0,1\n"))[0].1.contains("only 3 cans"));
    assert!(problems(&format!("{head}0,0,0\n1,0,0\n2,0,0\n3,0,0\n"))[0].1.contains("dry"));
    assert!(problems("")[0].1.contains("no table"));
    assert!(problems("# test: leg\n")[0].1.contains("no table"));
    assert!(read(b"x_m,\xff\n", "name").is_err());
}

#[test]
fn invariant_units_that_are_mixed_or_missing_are_refused() {
    let with = |header: &str| {
        problems(&format!(
            "# test: lateral\n# duration: 1 h\n{header}\n0,0,1\n0,1,1\n1,0,1\n1,1,1\n"
        ))
        .iter()
        .map(|(_, problem)| problem.clone())
        .collect::<Vec<_>>()
        .join("; ")
    };
    assert!(with("x_ft,y_m,depth_in").contains("mixed"));
    assert!(with("x_ft,y_ft,depth").contains("unit"));
    assert!(with("x,y,depth_in").contains("unit"));
    assert!(with("x_ft,y_ft,volume_ml").contains("opening of the cans"));
    assert!(with("x_ft,depth_mm,depth_in").contains("second column"));
    assert!(with("distance_ft,azimuth_deg,depth_in").contains("distances alone"));
    assert!(with("a,b,c").contains("no column holds readings"));
}

#[test]
fn invariant_nothing_makes_the_reader_panic() {
    let pieces = [
        "# test: leg\n",
        "# wind: ,,\n",
        "y_m/x_m,0,a\n",
        ",,,\n",
        "\"",
        "1,2\n",
        "#:\n",
        "distance_m,depth_mm\n",
        "é,\u{2212}1\n",
        "# laterals at: ,\n",
        "1e999,1\n",
        "\r\n",
        ";\t;\n",
    ];
    for a in pieces {
        for b in pieces {
            for c in pieces {
                let text = format!("{a}{b}{c}");
                if let Err(problems) = read(text.as_bytes(), "name") {
                    assert!(!problems.render("f.csv", false).is_empty());
                }
            }
        }
    }
}
