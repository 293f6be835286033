//! Ideal patterns overlapped in still air, against values calculated elsewhere.

use crate::runs::evenfall;

/// CU and DUlq (%) of 1 to 4 equally spaced stops, and the rule of thumb of two, as printed.
fn overlap(words: &[&str]) -> (Vec<(f64, f64)>, f64) {
    let table = evenfall(&[&["overlap"], words].concat()).said();
    let numbers = |line: &str| -> Vec<f64> {
        line.split_whitespace().map_while(|word| word.parse().ok()).collect()
    };
    let rows: Vec<Vec<f64>> = table.lines().map(numbers).filter(|row| row.len() >= 3).collect();
    assert_eq!(rows.iter().map(|row| row[0] as usize).collect::<Vec<_>>(), [1, 2, 3, 4], "{table}");
    (rows.iter().map(|row| (row[1], row[2])).collect(), rows[1][3])
}

/// One row of the table of baseline: fixed, pair of stops half an outlet spacing apart, and
/// 10 √CU of the fixed one; all percent.
type Baseline = (&'static str, &'static str, [f64; 2], [f64; 2], f64);

/// 40 × 60 ft, still air, by an independent program of cells 1/90 of the spacings; the shapes are
/// those of Christiansen 1942, the numbers are derived, not his.
const REFERENCE: [Baseline; 9] = [
    ("triangular", "80 ft", [73.16, 63.53], [96.61, 93.86], 85.54),
    ("triangular", "90 ft", [84.58, 80.21], [96.84, 94.22], 91.97),
    ("triangular", "100 ft", [93.11, 89.55], [97.47, 96.07], 96.49),
    ("elliptical", "80 ft", [87.49, 79.66], [90.28, 82.35], 93.53),
    ("elliptical", "90 ft", [91.76, 88.45], [93.40, 91.63], 95.79),
    ("elliptical", "100 ft", [88.67, 82.62], [96.12, 93.69], 94.17),
    ("parabolic", "80 ft", [79.50, 72.88], [92.56, 87.36], 89.16),
    ("parabolic", "90 ft", [91.15, 86.17], [93.80, 90.39], 95.47),
    ("parabolic", "100 ft", [95.31, 93.39], [96.33, 95.51], 97.63),
];

#[test]
fn reference_shapes_on_forty_by_sixty_feet_fixed_and_paired() {
    for (shape, diameter, fixed, pair, rule) in REFERENCE {
        let (found, found_rule) = overlap(&["--shape", shape, "--wetted-diameter", diameter]);
        for ((cu, du), [wanted_cu, wanted_du]) in found.iter().zip([fixed, pair]) {
            let told = format!("{shape} {diameter}: {cu} {du}, wanted {wanted_cu} {wanted_du}");
            assert!((cu - wanted_cu).abs() <= 0.1 && (du - wanted_du).abs() <= 0.1, "{told}");
        }
        // 10 √CU moves by less than CU itself.
        assert!((found_rule - rule).abs() <= 0.1, "{shape} {diameter}: {found_rule}");
    }
}

/// Two stops half an outlet spacing apart are the overlap at half that spacing, to the last digit
/// printed (exact in still air). 88 cells make 30 ft a whole number of cells.
#[test]
fn closed_a_pair_of_stops_is_the_overlap_at_half_the_spacing() {
    let of = |across: &str| {
        let words = ["--shape", "elliptical", "--wetted-diameter", "90 ft", "--cells", "88"];
        overlap(
            &[&words[..], &["--sprinkler-spacing", "40 ft", "--outlet-spacing", across]].concat(),
        )
        .0
    };
    assert_eq!(of("60 ft")[1], of("30 ft")[0]);
}

#[test]
fn closed_meters_and_feet_say_the_same() {
    let of = |words: &[&str]| overlap(&[&["--shape", "parabolic"], words].concat());
    let feet = of(&["--wetted-diameter", "90 ft"]);
    let meters = of(&[
        "--wetted-diameter",
        "27.432 m",
        "--sprinkler-spacing",
        "12.192 m",
        "--outlet-spacing",
        "18.288 m",
    ]);
    assert_eq!(feet, meters);
}
