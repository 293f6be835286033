//! What judges the pressures: the handbook's worked numbers, conservation, a slow independent way.

use super::friction::{KPA_PER_M, adjusted_f, christiansen_f};
use super::*;
use crate::lateral::{Lateral, Lines, Machine};
use crate::season::tests::sprinkler;
use crate::sprinkler::shape::Shape;
use crate::sprinkler::{FlowControl, Jet, Sprinkler};
use crate::units::{KPA_PER_PSI, L_S_PER_GPM, M_PER_FT, M_PER_IN};
use proptest::prelude::*;

const FT: f64 = M_PER_FT;
const KPA_PER_FT: f64 = KPA_PER_M * FT;
/// Outside 4 and 5 in less 0.1 in of wall.
const FOUR_IN: PipeSize = PipeSize { inside_diameter_m: 3.9 * M_PER_IN, roughness_c: 130.0 };
const FIVE_IN: PipeSize = PipeSize { inside_diameter_m: 4.9 * M_PER_IN, roughness_c: 130.0 };

/// Sprinklers 40 ft apart, the first one whole spacing from the field's edge.
fn lateral(sprinklers: usize) -> Lateral {
    Lateral {
        machine: Machine::HandMove,
        sprinklers,
        sprinkler_spacing_m: 40.0 * FT,
        first_sprinkler_m: 40.0 * FT,
        lines: Lines::default(),
    }
}

/// 50 psi, so many gpm.
fn nozzles(gpm: f64) -> Sprinkler {
    let mut made = sprinkler(Shape::Triangular, 90.0);
    let leg = made.jets[0].leg().with_discharge(gpm * L_S_PER_GPM).unwrap();
    made.jets[0] = Jet::new(leg, made.jets[0].launch);
    made.jets[0].launch.pressure_kpa = 50.0 * KPA_PER_PSI;
    made
}

/// The same, its discharge held from so many psi on.
fn held(gpm: f64, from_psi: f64) -> Sprinkler {
    let control = FlowControl { from_kpa: from_psi * KPA_PER_PSI, to_kpa: None };
    Sprinkler { flow_control: Some(control), ..nozzles(gpm) }
}

fn feed(size: PipeSize, inlet: Inlet) -> Feed {
    Feed {
        pipe: Pipe::of(size),
        inlet,
        inlet_m: 0.0,
        ground: Ground::LEVEL,
        riser_m: 0.0,
        radius_exponent: 0.2,
    }
}

/// Every sprinkler the same discharge: flow control far under the working pressure.
fn equal(size: PipeSize, sprinklers: usize, gpm: f64) -> PressureLine {
    let even = feed(size, Inlet::Pressure(60.0 * KPA_PER_PSI));
    solve(&lateral(sprinklers), &held(gpm, 25.0), &even).unwrap()
}

#[test]
fn published_christiansens_f() {
    // Christiansen 1942, m = 1.852 (formula from memory, high; digits derived), first outlet a
    // whole spacing from the inlet.
    for (outlets, f) in [
        (2, 0.6391),
        (3, 0.5344),
        (4, 0.4852),
        (5, 0.4568),
        (10, 0.4022),
        (16, 0.3825),
        (20, 0.3760),
        (30, 0.3675),
        (32, 0.3664),
        (33, 0.3659),
        (40, 0.3632),
        (100, 0.3556),
    ] {
        let found = christiansen_f(outlets);
        assert!((found - f).abs() <= 5e-5, "{outlets}: {found}");
        // The formula is a fit of the exact sum, within 0.0006.
        let n = outlets as f64;
        let line = equal(FIVE_IN, outlets, 0.5);
        let whole = FIVE_IN.loss_kpa(line.flow_l_s(), 40.0 * FT * n);
        let solved = line.friction_kpa()[1] / whole;
        assert!((solved - f).abs() <= 6.5e-4, "{outlets}: {solved}");
    }
    // Jensen & Fratini 1957: first outlet at half a spacing.
    for (outlets, f) in [(10, 0.3707), (20, 0.3600), (32, 0.3563)] {
        assert!((adjusted_f(outlets, 0.5) - f).abs() <= 5e-5);
    }
}

#[test]
fn published_pipe_loss_by_size_and_flow() {
    // J, ft in 100 ft, C = 130 (NEH 15-11's form; digits derived): half the last digit.
    let table = [
        (2.9, [2.390, 5.064, 8.627, 13.042, 19.716]),
        (3.9, [0.564, 1.196, 2.038, 3.080, 4.657]),
        (4.9, [0.186, 0.393, 0.670, 1.013, 1.532]),
    ];
    for (inches, row) in table {
        let size = PipeSize { inside_diameter_m: inches * M_PER_IN, roughness_c: 130.0 };
        for (gpm, feet) in [80.0, 120.0, 160.0, 200.0, 250.0].into_iter().zip(row) {
            let found = size.loss_kpa(gpm * L_S_PER_GPM, 100.0 * FT) / KPA_PER_FT;
            assert!((found - feet).abs() <= 5.1e-4, "{inches} in, {gpm} gpm: {found}");
        }
    }
    // Fire-hydraulics baseline: V (ft/s) = 0.4085 Q / d².
    let speed = FOUR_IN.velocity_m_s(160.0 * L_S_PER_GPM) / FT;
    assert!((speed - 0.4085 * 160.0 / (3.9 * 3.9)).abs() < 5e-4, "{speed}");
    // The same source: psi/ft = 4.52 Q^1.85 / (C^1.85 d^4.87); rounder exponents, within 1 %.
    let per_ft = FOUR_IN.loss_kpa(160.0 * L_S_PER_GPM, FT) / KPA_PER_PSI;
    let other = 4.52 * (160.0f64 / 130.0).powf(1.85) / 3.9f64.powf(4.87);
    assert!((per_ft / other - 1.0).abs() < 0.01, "{per_ft} {other}");
}

#[test]
fn published_quarter_mile_laterals() {
    // 32 sprinklers 40 ft apart, equal discharge, level (digits derived with F): ft and psi.
    for (size, gpm, feet, psi) in
        [(FOUR_IN, 4.98, 9.49, 4.11), (FIVE_IN, 4.98, 3.12, 1.35), (FIVE_IN, 7.18, 6.14, 2.66)]
    {
        let line = equal(size, 32, gpm);
        assert!((line.flow_l_s() / L_S_PER_GPM / (32.0 * gpm) - 1.0).abs() < 1e-12);
        let rule = line.friction_rule().unwrap();
        assert!((rule.by_rule_kpa / KPA_PER_FT - feet).abs() <= 5e-3, "{rule:?}");
        assert!((rule.by_rule_kpa / KPA_PER_PSI - psi).abs() <= 5e-3, "{rule:?}");
        // The solution against the rule: F is within 0.0003 of the sum here.
        assert!((rule.solved_kpa / rule.by_rule_kpa - 1.0).abs() < 1e-3, "{rule:?}");
        assert!(line.keeps_rule());
    }
}

#[test]
fn published_mean_pressure_lies_at_two_fifths_after_three_quarters_of_the_loss() {
    // Merkley & Allen lecture 7: about 40 % of the length and 3/4 of the loss with 30 outlets and
    // more. Continuous outlets (derived from 1 − (1 − x)^2.852): 37.7 % and 74.0 %.
    let line = equal(FOUR_IN, 100, 1.5);
    let (inlet, mean) = (line.inlet_kpa, line.mean_kpa());
    let friction = line.friction_kpa()[1];
    let share = (inlet - mean) / friction;
    assert!((share - 0.740).abs() < 0.01, "{share}");
    let before = line.outlets.iter().filter(|outlet| outlet.nozzle_kpa > mean).count();
    let place = before as f64 / 100.0;
    assert!((place - 0.377).abs() <= 0.01, "{place}");
}

#[test]
fn published_twenty_percent_of_pressure_is_ten_of_flow() {
    // √1.2 = 1.0954 and √0.8 = 0.8944 (extension article, 2013).
    let of = |psi: f64| {
        let one = feed(FIVE_IN, Inlet::MeanSprinkler(psi * KPA_PER_PSI));
        solve(&lateral(1), &nozzles(4.98), &one).unwrap().flow_l_s() / (4.98 * L_S_PER_GPM)
    };
    assert!((of(60.0) - 1.0954).abs() < 5e-5 && (of(40.0) - 0.8944).abs() < 5e-5);
}

#[test]
fn published_system_uniformity_factors() {
    // SCS NEH 15-11; Keller & Bliesner: lowest over mean pressure 0.9 → 0.9743 and 0.9615.
    let mut line = equal(FIVE_IN, 2, 5.0);
    line.outlets[0].nozzle_kpa = 110.0;
    line.outlets[1].nozzle_kpa = 90.0;
    assert!((line.system_cu_factor() - 0.9743).abs() <= 5e-5);
    assert!((line.system_du_factor() - 0.9615).abs() <= 5e-5);
}

/// Energy and mass from sprinkler to sprinkler, and at the inlet.
fn conserves(line: &PressureLine) -> Result<(), String> {
    let feed = &line.feed;
    let tolerance = 1e-10 * line.inlet_kpa.abs().max(100.0);
    for beyond in [false, true] {
        let mut side: Vec<_> =
            line.outlets.iter().filter(|o| (o.place_m >= feed.inlet_m) == beyond).collect();
        if !beyond {
            side.reverse();
        }
        let mut before = (line.inlet_kpa, line.inlet_height_m);
        for (index, outlet) in side.iter().enumerate() {
            let rise = KPA_PER_M * (outlet.height_m - before.1);
            let miss = before.0 - outlet.friction_kpa - rise - outlet.pipe_kpa;
            let rest: f64 = side[index..].iter().map(|o| o.discharge_l_s + o.leak_l_s).sum();
            if miss.abs() > tolerance || (rest / outlet.flow_l_s - 1.0).abs() > 1e-12 {
                return Err(format!("outlet {index}: {miss} kPa, {rest} L/s, {outlet:?}"));
            }
            before = (outlet.pipe_kpa, outlet.height_m);
        }
    }
    Ok(())
}

/// Pipe pressures found another way: from assumed discharges outwards from the inlet, discharges
/// from the pressures, half of the change taken, until nothing moves.
fn by_repetition(line: &PressureLine, law: impl Fn(f64) -> f64) -> Vec<f64> {
    let feed = &line.feed;
    let places: Vec<f64> = line.outlets.iter().map(|outlet| outlet.place_m).collect();
    let mut discharges = vec![law(line.nominal_kpa); places.len()];
    let mut pressures = vec![0.0; places.len()];
    for _ in 0..3000 {
        for (i, &x) in places.iter().enumerate() {
            let mut kpa = line.inlet_kpa
                - KPA_PER_M * (feed.ground.height_m(x) - feed.ground.height_m(feed.inlet_m));
            // Every stretch between inlet and sprinkler carries what lies beyond it.
            let (low, high) = (x.min(feed.inlet_m), x.max(feed.inlet_m));
            let mut marks: Vec<f64> =
                places.iter().copied().filter(|at| *at > low && *at < high).collect();
            marks.extend([low, high]);
            if let Some((change_m, _)) = feed.pipe.far {
                let mark = feed.inlet_m + change_m * if x < feed.inlet_m { -1.0 } else { 1.0 };
                marks.extend((mark > low && mark < high).then_some(mark));
            }
            marks.sort_by(f64::total_cmp);
            for stretch in marks.windows(2) {
                let middle = 0.5 * (stretch[0] + stretch[1]);
                let beyond = |at: &f64| {
                    if middle > feed.inlet_m { *at > middle } else { *at < middle }
                };
                let flow: f64 =
                    places.iter().zip(&discharges).filter(|(at, _)| beyond(at)).map(|p| p.1).sum();
                let size = match feed.pipe.far {
                    Some((change_m, far)) if (middle - feed.inlet_m).abs() > change_m => far,
                    _ => feed.pipe.near,
                };
                kpa -= size.loss_kpa(flow, stretch[1] - stretch[0]);
            }
            pressures[i] = kpa;
        }
        for (discharge, pipe_kpa) in discharges.iter_mut().zip(&pressures) {
            *discharge += 0.5 * (law(pipe_kpa - KPA_PER_M * feed.riser_m) - *discharge);
        }
    }
    pressures
}

#[test]
fn reference_an_independent_simple_method_agrees_to_1e_6() {
    let made = nozzles(6.0);
    let (q0, p0) = (made.discharge_l_s(), 50.0 * KPA_PER_PSI);
    let hill = Ground::Profile(vec![(0.0, 100.0), (150.0, 103.0), (300.0, 98.0)]);
    let mut two_sizes = feed(FIVE_IN, Inlet::Pressure(62.0 * KPA_PER_PSI));
    two_sizes.pipe.far = Some((500.0 * FT, FOUR_IN));
    two_sizes.ground = hill;
    two_sizes.riser_m = 0.9;
    let middle = Feed { inlet_m: 620.0 * FT, ..two_sizes.clone() };
    let (from_kpa, to_kpa) = (50.0 * KPA_PER_PSI, 55.0 * KPA_PER_PSI);
    let control = Some(FlowControl { from_kpa, to_kpa: Some(to_kpa) });
    let held = Sprinkler { flow_control: control, ..made.clone() };
    let plain = |kpa: f64| q0 * (kpa / p0).sqrt();
    let ranged = |kpa: f64| q0 * ((kpa / from_kpa).min(1.0) * (kpa / to_kpa).max(1.0)).sqrt();
    for (feed, made, law) in [
        (feed(FOUR_IN, Inlet::Pressure(400.0)), &made, &plain as &dyn Fn(f64) -> f64),
        (two_sizes.clone(), &made, &plain),
        (middle, &made, &plain),
        (two_sizes, &held, &ranged),
    ] {
        let line = solve(&lateral(32), made, &feed).unwrap();
        let slow = by_repetition(&line, law);
        for (outlet, slow_kpa) in line.outlets.iter().zip(slow) {
            assert!((outlet.pipe_kpa / slow_kpa - 1.0).abs() < 1e-6, "{outlet:?} {slow_kpa}");
        }
        assert_eq!(conserves(&line), Ok(()));
    }
}

#[test]
fn closed_heights_risers_and_one_sprinkler() {
    // One sprinkler 10 m uphill on a riser of 1 m, no flow to speak of: 11 m of water are lost.
    let mut one = feed(FIVE_IN, Inlet::Pressure(400.0));
    one.ground = Ground::Profile(vec![(0.0, 5.0), (40.0 * FT, 15.0)]);
    one.riser_m = 1.0;
    let line = solve(&lateral(1), &nozzles(0.01), &one).unwrap();
    assert!((line.outlets[0].nozzle_kpa - (400.0 - 11.0 * KPA_PER_M)).abs() < 1e-4);
    assert!((line.outlets[0].pipe_kpa - line.outlets[0].nozzle_kpa - KPA_PER_M).abs() < 1e-12);
}

#[test]
fn closed_two_sizes_lose_what_each_length_loses() {
    let mut two = feed(FIVE_IN, Inlet::Flow(5.0));
    two.pipe.far = Some((25.0 * FT, FOUR_IN));
    let line = solve(&lateral(1), &nozzles(60.0), &two).unwrap();
    let by_hand = FIVE_IN.loss_kpa(5.0, 25.0 * FT) + FOUR_IN.loss_kpa(5.0, 15.0 * FT);
    assert!((line.outlets[0].friction_kpa / by_hand - 1.0).abs() < 1e-12);
    assert!((line.fastest_m_s() - FOUR_IN.velocity_m_s(5.0)).abs() < 1e-12);
}

#[test]
fn closed_a_lateral_that_runs_dry_names_the_sprinkler_and_the_remedy() {
    let mut uphill = feed(FOUR_IN, Inlet::Pressure(300.0));
    uphill.ground = Ground::Slope(0.08);
    let problem = solve(&lateral(32), &nozzles(4.98), &uphill).unwrap_err();
    let HydraulicsProblem::RunsDry(dry) = problem else { panic!("{problem}") };
    assert_eq!((dry.sprinkler, dry.sprinklers), (32, 32));
    let words = dry.to_string();
    assert!(words.contains("sprinkler 32 of 32") && words.contains("wider pipe"), "{words}");
    // The remedy is true: with it the worst sprinkler has just what it needs.
    uphill.inlet = Inlet::Pressure(dry.needed_kpa.unwrap() * (1.0 + 1e-9));
    let mended = solve(&lateral(32), &nozzles(4.98), &uphill).unwrap();
    assert!((mended.lowest().1.nozzle_kpa / dry.least_kpa - 1.0).abs() < 1e-6);
    // A thread of a pipe cannot be mended by pressure.
    let thin = PipeSize { inside_diameter_m: 0.02, roughness_c: 130.0 };
    let problem = solve(&lateral(32), &nozzles(4.98), &feed(thin, Inlet::Pressure(300.0)));
    let Err(HydraulicsProblem::RunsDry(dry)) = problem else { panic!("{problem:?}") };
    assert!(dry.needed_kpa.is_none() && dry.nozzle_kpa.is_finite());
}

#[test]
fn closed_flow_control_holds_and_hides_the_pressure() {
    let mut fed = feed(FIVE_IN, Inlet::Pressure(500.0));
    let line = solve(&lateral(20), &held(5.0, 45.0), &fed).unwrap();
    let all = line.outlets.iter().map(|outlet| outlet.discharge_l_s / L_S_PER_GPM);
    assert!(all.clone().all(|gpm| (gpm - 5.0).abs() < 1e-12));
    assert_eq!(Blend::of(&line).nodes_kpa, vec![50.0 * KPA_PER_PSI]);
    fed.inlet = Inlet::Flow(100.0 * L_S_PER_GPM);
    let hidden = solve(&lateral(20), &held(5.0, 45.0), &fed);
    assert!(matches!(hidden, Err(HydraulicsProblem::FlowHeldBack { .. })), "{hidden:?}");
}

#[test]
fn invariant_bad_numbers_are_refused() {
    let good = feed(FIVE_IN, Inlet::Pressure(400.0));
    let (lateral, made) = (lateral(3), nozzles(5.0));
    for bad in [
        Feed { inlet: Inlet::Pressure(f64::NAN), ..good.clone() },
        Feed { inlet: Inlet::Flow(-1.0), ..good.clone() },
        Feed { riser_m: -1.0, ..good.clone() },
        Feed { ground: Ground::Profile(vec![(5.0, 0.0), (5.0, 1.0)]), ..good.clone() },
        Feed { pipe: Pipe::of(PipeSize { inside_diameter_m: 0.0, ..FIVE_IN }), ..good.clone() },
        Feed { radius_exponent: f64::INFINITY, ..good.clone() },
    ] {
        assert!(solve(&lateral, &made, &bad).is_err(), "{bad:?}");
    }
    let none = Lateral { sprinklers: 0, ..lateral };
    assert_eq!(solve(&none, &made, &good), Err(HydraulicsProblem::NoOutlets));
}

proptest! {
    #[test]
    fn invariant_mass_and_energy_hold_and_the_inlet_is_met(
        (sprinklers, gpm, inches) in (1usize..60, 1.0f64..9.0, 3.0f64..6.0),
        (inlet_psi, slope, inlet_share) in (45.0f64..90.0, -0.03f64..0.03, -0.1f64..1.1),
        (change_m, riser_m) in (0.0f64..700.0, 0.0f64..1.5), (held, leaks) in (0usize..2, 0.0f64..0.3),
    ) {
        let lateral = lateral(sprinklers);
        let far = PipeSize { inside_diameter_m: 0.85 * inches * M_PER_IN, roughness_c: 120.0 };
        let near = PipeSize { inside_diameter_m: inches * M_PER_IN, roughness_c: 130.0 };
        let mut asked = feed(near, Inlet::Pressure(inlet_psi * KPA_PER_PSI));
        asked.pipe.far = Some((change_m, far));
        asked.ground = Ground::Slope(slope);
        asked.riser_m = riser_m;
        asked.inlet_m = inlet_share * sprinklers as f64 * 40.0 * FT;
        let mut made = nozzles(gpm);
        made.flow_control = (held == 1).then_some(FlowControl { from_kpa: 330.0, to_kpa: Some(400.0) });
        let solve = |feed: &Feed| solve_each(&lateral, &made, feed, Delivery { factors: &[], leaks });
        let Ok(line) = solve(&asked) else { return Ok(()) };
        prop_assert_eq!(conserves(&line), Ok(()));
        prop_assert!((line.inlet_kpa - inlet_psi * KPA_PER_PSI).abs() < 1e-9);
        prop_assert!((line.discharge_l_s() / line.flow_l_s() - 1.0 + leaks).abs() < 1e-12);
        // The same line from its mean pressure, and from its flow where flow tells anything.
        let mean = Feed { inlet: Inlet::MeanSprinkler(line.mean_kpa()), ..asked.clone() };
        let again = solve(&mean).unwrap();
        prop_assert!((again.inlet_kpa / line.inlet_kpa - 1.0).abs() < 1e-8);
        if held == 0 {
            let flow = Feed { inlet: Inlet::Flow(line.flow_l_s()), ..asked };
            let again = solve(&flow).unwrap();
            prop_assert!((again.inlet_kpa / line.inlet_kpa - 1.0).abs() < 1e-8);
        }
    }

    #[test]
    fn invariant_a_blend_keeps_every_discharge_and_lies_between_neighbors(
        inlet_psi in 45.0f64..80.0, slope in -0.02f64..0.02
    ) {
        let mut asked = feed(FOUR_IN, Inlet::Pressure(inlet_psi * KPA_PER_PSI));
        asked.ground = Ground::Slope(slope);
        let made = nozzles(4.98);
        let Ok(line) = solve(&lateral(33), &made, &asked) else { return Ok(()) };
        let blend = Blend::of(&line);
        let node: Vec<f64> = blend.nodes_kpa.iter()
            .map(|kpa| at_pressure(&made, *kpa, 0.2).unwrap().discharge_l_s()).collect();
        for (sprinkler, outlet) in line.outlets.iter().enumerate() {
            let laid: f64 = blend.portions.iter().zip(&node).map(|(p, q)| p[sprinkler] * q).sum();
            prop_assert!((laid / outlet.discharge_l_s - 1.0).abs() < 1e-12);
            let used = blend.portions.iter().filter(|p| p[sprinkler] > 0.0).count();
            prop_assert!((1..=2).contains(&used));
            prop_assert!(blend.portions.iter().all(|p| p[sprinkler] >= 0.0));
        }
        let steps = blend.nodes_kpa.windows(2).map(|pair| (pair[1] / pair[0]).ln());
        prop_assert!(steps.into_iter().all(|step| step > 0.0 && step < 0.0625 + 1e-9));
        // What blends miss goes with s (1 − s) Δ²: in the mean no more than even steps of 0.05 miss.
        let nodes: Vec<f64> = blend.nodes_kpa.iter().map(|kpa| kpa.ln()).collect();
        let missed = line.outlets.iter().map(|outlet| outlet.jet_kpa.ln()).map(|at| {
            nodes.windows(2).map(|pair| (at - pair[0]) * (pair[1] - at)).fold(0.0, f64::max)
        });
        let mean = missed.sum::<f64>() / line.outlets.len() as f64;
        prop_assert!(mean <= 0.05 * 0.05 / 6.0 + 1e-9, "{mean}");
    }
}
