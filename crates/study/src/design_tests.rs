use super::*;
use crate::plan::RangeFile;
use serde_json::json;

fn levels(name: &str, levels: &[Value]) -> Factor {
    let pointer = format!("/{name}");
    Factor { name: name.to_owned(), pointer, values: Values::Levels(levels.to_vec()) }
}

fn range(low: f64, high: f64, unit: Option<&str>) -> Factor {
    let unit = unit.map(str::to_owned);
    let values = Values::Range(RangeFile { low, high, unit, steps: Some(3) });
    Factor { name: "r".to_owned(), pointer: "/r".to_owned(), values }
}

fn of(design: &DesignFile, factors: &[Factor], seed: u32) -> Vec<Vec<Value>> {
    let mut problems = Problems::default();
    let points = points(design, factors, seed, None, &mut problems);
    problems.or(points).unwrap()
}

#[test]
fn closed_a_full_design_has_every_level_with_every_other() {
    let factors = [levels("a", &[json!(1), json!("x")]), range(2.0, 4.0, Some("ft"))];
    let found = of(&DesignFile::Full, &factors, 1);
    let expected =
        json!([[1, "2 ft"], [1, "3 ft"], [1, "4 ft"], ["x", "2 ft"], ["x", "3 ft"], ["x", "4 ft"]]);
    assert_eq!(json!(found), expected);
    assert_eq!(of(&DesignFile::Full, &[], 1), [Vec::<Value>::new()]);
}

#[test]
fn closed_what_moves_the_stops_varies_fastest_in_a_full_design() {
    let at = |pointer: &str| Factor {
        pointer: pointer.to_owned(),
        ..levels("n", &[json!(1), json!(2)])
    };
    let factors = [at("/wheel/outside_diameter"), at("/seed"), at("/outlets/spacing")];
    let found = of(&DesignFile::Full, &factors, 1);
    let expected = json!([
        [1, 1, 1],
        [1, 1, 2],
        [2, 1, 1],
        [2, 1, 2],
        [1, 2, 1],
        [1, 2, 2],
        [2, 2, 1],
        [2, 2, 2]
    ]);
    assert_eq!(json!(found), expected);
}

#[test]
fn invariant_drawn_designs_part_every_range_evenly() {
    let factors = [levels("a", &[json!(0), json!(1)]), range(0.0, 64.0, None)];
    for (design, whole) in [(DesignFile::LatinHypercube(64), true), (DesignFile::Sobol(64), true)] {
        let found = of(&design, &factors, 7);
        let second = found.iter().filter(|point| point[0] == json!(1)).count();
        assert_eq!(second, 32, "{design:?}");
        let mut parts: Vec<usize> =
            found.iter().map(|point| point[1].as_f64().unwrap() as usize).collect();
        parts.sort_unstable();
        assert!(!whole || parts == (0..64).collect::<Vec<_>>(), "{design:?}: {parts:?}");
        assert_eq!(found, of(&design, &factors, 7));
        assert_ne!(found, of(&design, &factors, 8));
    }
}

#[test]
fn invariant_a_longer_sobol_design_keeps_its_points_and_another_factor_no_column() {
    let factors = [range(0.0, 1.0, None), range(5.0, 6.0, None)];
    let (short, long) =
        (of(&DesignFile::Sobol(10), &factors, 3), of(&DesignFile::Sobol(40), &factors, 3));
    assert_eq!(short, long[..10]);
    let one = of(&DesignFile::LatinHypercube(9), &factors[..1], 3);
    let both = of(&DesignFile::LatinHypercube(9), &factors, 3);
    assert!(one.iter().zip(&both).all(|(one, both)| one[0] == both[0]));
}

#[test]
fn closed_what_a_design_cannot_do_is_said() {
    let mut problems = Problems::default();
    let mut open = range(0.0, 1.0, None);
    open.values = Values::Range(RangeFile { low: 0.0, high: 1.0, unit: None, steps: None });
    points(&DesignFile::Full, &[open], 1, None, &mut problems);
    points(&DesignFile::Sobol(70_000), &[], 1, None, &mut problems);
    assert_eq!(problems.all().len(), 2, "{problems}");
    assert!(problems.all()[1].contains("Expected 1 to 65536"), "{problems}");
}
