//! Leaks at couplers, and flow control with its range, worked by hand.

use super::*;
use crate::lateral::{Lateral, Machine};
use crate::season::tests::sprinkler;
use crate::sprinkler::shape::Shape;
use crate::sprinkler::{FlowControl, Sprinkler};

/// Two sprinklers 12 m apart, the first 12 m from the inlet.
const LATERAL: Lateral = Lateral {
    lines: crate::lateral::Lines::ONE,
    machine: Machine::HandMove,
    sprinklers: 2,
    sprinkler_spacing_m: 12.0,
    first_sprinkler_m: 12.0,
};
const SIZE: PipeSize = PipeSize { inside_diameter_m: 0.05, roughness_c: 130.0 };

fn feed(inlet: Inlet) -> Feed {
    Feed {
        pipe: Pipe::of(SIZE),
        inlet,
        inlet_m: 0.0,
        ground: Ground::LEVEL,
        riser_m: 0.0,
        radius_exponent: 0.2,
    }
}

/// Holds 0.3142 L/s from 200 to 350 kPa; stated at 345 kPa.
fn held() -> Sprinkler {
    let control = FlowControl { from_kpa: 200.0, to_kpa: Some(350.0) };
    Sprinkler { flow_control: Some(control), ..sprinkler(Shape::Triangular, 90.0) }
}

#[test]
fn closed_a_fifth_that_leaks_makes_the_pipe_carry_a_quarter_more() {
    // Held discharges q: each coupler leaks q · 0.2 / 0.8 = q / 4, the inlet takes 2.5 q.
    let made = held();
    let q = made.discharge_l_s();
    let leaking = Delivery { factors: &[], leaks: 0.2 };
    let line = solve_each(&LATERAL, &made, &feed(Inlet::Pressure(340.0)), leaking).unwrap();
    assert!((line.flow_l_s() / (2.5 * q) - 1.0).abs() < 1e-12);
    assert!((line.discharge_l_s() / (2.0 * q) - 1.0).abs() < 1e-12);
    let by_hand = [SIZE.loss_kpa(2.5 * q, 12.0), SIZE.loss_kpa(1.25 * q, 12.0)];
    for (outlet, friction_kpa) in line.outlets.iter().zip(by_hand) {
        assert!((outlet.leak_l_s / (0.25 * q) - 1.0).abs() < 1e-12);
        assert!((outlet.friction_kpa / friction_kpa - 1.0).abs() < 1e-12);
    }
    // Known by its flow, leaks are in it: plain nozzles deliver four fifths.
    let plain = sprinkler(Shape::Triangular, 90.0);
    let line = solve_each(&LATERAL, &plain, &feed(Inlet::Flow(0.5)), leaking).unwrap();
    assert!((line.discharge_l_s() - 0.4).abs() < 1e-9);
    // Without leaks nothing is beside the nozzles.
    let tight = solve(&LATERAL, &plain, &feed(Inlet::Flow(0.5))).unwrap();
    assert!(tight.outlets.iter().all(|outlet| outlet.leak_l_s == 0.0));
    let all = Delivery { factors: &[], leaks: 1.0 };
    assert!(solve_each(&LATERAL, &plain, &feed(Inlet::Flow(0.5)), all).is_err());
}

#[test]
fn closed_below_its_lowest_pressure_flow_control_follows_the_root() {
    let made = held();
    let q = made.discharge_l_s();
    // No pressure to speak of is lost: 98 kPa is 0.49 of the lowest, and the root of that 0.7.
    let wide = PipeSize { inside_diameter_m: 0.5, roughness_c: 130.0 };
    let at = |kpa: f64| {
        let asked = Feed { pipe: Pipe::of(wide), ..feed(Inlet::Pressure(kpa)) };
        solve(&LATERAL, &made, &asked).unwrap().outlets[1]
    };
    let low = at(98.0);
    assert!((low.discharge_l_s / (0.7 * q) - 1.0).abs() < 1e-4, "{low:?}");
    // Its jet leaves as at 0.49 of the stated 345 kPa, and the pattern has just that discharge.
    assert!((low.jet_kpa / (0.49 * 345.0) - 1.0).abs() < 1e-4);
    let laid = at_pressure(&made, low.jet_kpa, 0.2).unwrap().discharge_l_s();
    assert!((laid / low.discharge_l_s - 1.0).abs() < 1e-12);
    let within = at(300.0);
    assert!((within.discharge_l_s / q - 1.0).abs() < 1e-12 && within.jet_kpa == 345.0);
    // 1.44 times the highest pressure: 1.2 times the discharge.
    assert!((at(504.0).discharge_l_s / (1.2 * q) - 1.0).abs() < 1e-4);
}
