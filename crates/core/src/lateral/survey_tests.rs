//! Surveys worked by hand, and the rule beside a published nozzle table.

use super::*;
use crate::lateral::hydraulics::{Feed, Ground, Inlet, Pipe, PipeSize, solve};
use crate::lateral::{Lateral, Machine};
use crate::season::tests::sprinkler;
use crate::sprinkler::FlowControl;
use crate::sprinkler::shape::Shape;
use crate::units::{KPA_PER_PSI, L_S_PER_GPM};

/// 0.3142 L/s at 345 kPa.
fn stated() -> Sprinkler {
    sprinkler(Shape::Triangular, 90.0)
}

fn survey(readings: Vec<Reading>) -> Survey {
    Survey { readings, sprinklers: 5, gauge_error_kpa: 14.0 }
}

fn at(sprinkler: usize) -> Reading {
    Reading { sprinkler, ..Reading::default() }
}

fn factors(survey: &Survey, others: &Discharges, is_piped: bool) -> Vec<f64> {
    survey.discharges(&stated(), others, is_piped).factors(survey.sprinklers).unwrap()
}

fn close(found: &[f64], expected: &[f64]) {
    let near = found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-12);
    assert!(near && found.len() == expected.len(), "{found:?} {expected:?}");
}

#[test]
fn closed_bores_pressures_flows_and_plugs_by_hand() {
    let q = stated().discharge_l_s();
    let read = survey(vec![
        Reading { pressure_kpa: Some(345.0), bore: Some(1.1), ..at(0) },
        Reading { is_plugged: true, ..at(1) },
        Reading { pressure_kpa: Some(0.81 * 345.0), flow_l_s: Some(0.99 * q), ..at(2) },
        Reading { pressure_kpa: Some(0.49 * 345.0), is_leaning: true, ..at(4) },
    ]);
    // Nozzles: 1.1² = 1.21; 0; 0.99 / 0.9 = 1.1; the rest their mean 1.155. Pressure at the fourth
    // halfway from 0.81 to 0.49, 0.65 of the stated; the fifth 0.49.
    let mean = 1.155;
    close(
        &factors(&read, &Discharges::default(), false),
        &[1.21, 0.0, 0.99, mean * 0.65_f64.sqrt(), mean * 0.7],
    );
    // With a pipe only nozzles count.
    let piped = factors(&read, &Discharges::default(), true);
    close(&piped, &[1.21, 0.0, 1.1, mean, mean]);
    let found = read.found(&stated(), &read.discharges(&stated(), &Discharges::default(), false));
    assert_eq!((found.surveyed, found.plugged, found.leaning, found.worn()), (4, 1, 1, 2));
    let (least, most) = found.range_kpa().unwrap();
    assert!((least - 0.49 * 345.0).abs() < 1e-9 && (most - 345.0).abs() < 1e-9);
    let sum = 1.21 + 0.99 + mean * (0.65_f64.sqrt() + 0.7);
    assert!((found.flow_over_stated - sum / 5.0).abs() < 1e-12);
}

#[test]
fn closed_odd_sprinklers_and_scatter_hold_where_no_nozzle_was_read() {
    let bore = survey(vec![Reading { bore: Some(1.1), ..at(2) }]);
    let others = Discharges { single: vec![(2, 0.0), (3, 0.5)], ..Discharges::default() };
    close(&factors(&bore, &others, false), &[1.21, 1.21, 1.21, 0.5, 1.21]);
    let scattered = Discharges { scatter: 0.1, ..Discharges::default() };
    let plain = scattered.factors(5).unwrap();
    let found = factors(&bore, &scattered, false);
    assert!((found[2] - 1.21).abs() < 1e-12 && (found[0] / plain[0] - 1.21).abs() < 1e-12);
    // A pressure alone says nothing of a nozzle; of a piped lateral it changes nothing.
    let pressure = survey(vec![Reading { pressure_kpa: Some(300.0), ..at(2) }]);
    assert!(!pressure.measures_nozzles() && bore.measures_nozzles());
    assert_eq!(pressure.discharges(&stated(), &Discharges::default(), true), Discharges::default());
}

#[test]
fn closed_flow_control_has_no_root_of_pressure() {
    let control = FlowControl { from_kpa: 200.0, to_kpa: Some(450.0) };
    let held = Sprinkler { flow_control: Some(control), ..stated() };
    let read = survey(vec![
        Reading { pressure_kpa: Some(430.0), ..at(0) },
        Reading { pressure_kpa: Some(50.0), ..at(4) },
    ]);
    let found = read.discharges(&held, &Discharges::default(), false).factors(5).unwrap();
    // 430, 335, 240, 145 and 50 kPa; below 200 kPa the root of the share of it.
    close(&found, &[1.0, 1.0, 1.0, (145.0_f64 / 200.0).sqrt(), 0.5]);
}

#[test]
fn closed_several_nozzles_wear_at_the_first() {
    let mut two = stated();
    let small = two.jets[0].altered(0.7, 0.25).unwrap();
    two.jets.push(small);
    // Four fifths of the water from the first: 1 + 0.8 · 0.21.
    let read = survey(vec![Reading { bore: Some(1.1), ..at(0) }]);
    let found = read.discharges(&two, &Discharges::default(), false).factors(5).unwrap();
    close(&found, &[1.168; 5]);
}

#[test]
fn published_a_nozzle_table_follows_bore_squared_and_the_root_of_pressure() {
    // Extension water-measurement sheet "scr23", Table 3 (title page not seen): gpm at psi for bores
    // of 10/64 and 11/64 in, from 10/64 at 50 psi with 4.98 gpm. Within 1.5 %.
    let mut stated = stated();
    stated = stated.altered(1.0, 4.98 * L_S_PER_GPM / stated.discharge_l_s()).unwrap();
    stated.jets[0].launch.pressure_kpa = 50.0 * KPA_PER_PSI;
    for (bore, psi, gpm) in
        [(10.0, 40.0, 4.45), (10.0, 45.0, 4.72), (11.0, 40.0, 5.37), (11.0, 50.0, 6.01)]
    {
        let reading =
            Reading { pressure_kpa: Some(psi * KPA_PER_PSI), bore: Some(bore / 10.0), ..at(0) };
        let one = Survey { sprinklers: 1, ..survey(vec![reading]) };
        let found = one.discharges(&stated, &Discharges::default(), false).factors(1);
        let found_gpm = 4.98 * found.map_or(1.0, |factors| factors[0]);
        assert!((found_gpm / gpm - 1.0).abs() < 0.015, "{bore}/64 at {psi}: {found_gpm}");
    }
}

#[test]
fn closed_readings_beside_a_pipe() {
    let lateral = Lateral {
        lines: crate::lateral::Lines::ONE,
        machine: Machine::HandMove,
        sprinklers: 5,
        sprinkler_spacing_m: 12.0,
        first_sprinkler_m: 12.0,
    };
    let feed = Feed {
        pipe: Pipe::of(PipeSize { inside_diameter_m: 0.06, roughness_c: 130.0 }),
        inlet: Inlet::Pressure(345.0),
        inlet_m: 0.0,
        ground: Ground::LEVEL,
        riser_m: 0.0,
        radius_exponent: 0.2,
    };
    let line = solve(&lateral, &stated(), &feed).unwrap();
    let off = |number: usize, kpa: f64| Reading {
        pressure_kpa: Some(line.outlets[number].nozzle_kpa + kpa),
        ..at(number)
    };
    let read = survey(vec![off(0, 3.0), off(2, -4.0), off(3, 0.0), off(4, 12.0)]);
    let found = read.found(&stated(), &Discharges::default());
    let beside = found.beside(&line).unwrap();
    // √((9 + 16 + 0 + 144) / 4) = 6.5.
    assert!((beside.off_kpa - 6.5).abs() < 1e-9, "{beside:?}");
    assert_eq!(beside.at.iter().map(|at| at.0).collect::<Vec<_>>(), [0, 3, 4]);
    assert!(beside.agrees(6.6) && !beside.agrees(6.4));
    assert!(survey(vec![at(0)]).found(&stated(), &Discharges::default()).beside(&line).is_none());
}
