//! What a lateral's pressures amount to, in sentences.

use evenfall_core::lateral::hydraulics::{FAST_M_S, OutletState, PRESSURE_RULE, PressureLine};
use evenfall_view::units::{Quantity, UnitSystem, number, percent};

/// Whether the 20 % rule is kept, and by what.
pub(super) fn judgment(line: &PressureLine, units: UnitSystem) -> String {
    let pressure = |kpa: f64| units.text(Quantity::Pressure, kpa, pressure_decimals(units));
    let ((low, lowest), (high, highest)) = (line.lowest(), line.highest());
    let variation = line.pressure_variation();
    let verdict = if line.keeps_rule() { "within" } else { "more than" };
    let held = flow_control(line);
    format!(
        "Nozzle pressure runs from {} (sprinkler {}) to {} (sprinkler {}). That is a difference of {} \
         of the stated {}, {verdict} the {} that laterals are designed to. Discharge differs by \
         {}.{held}",
        pressure(lowest.nozzle_kpa),
        low + 1,
        pressure(highest.nozzle_kpa),
        high + 1,
        percent(variation, 1),
        pressure(line.nominal_kpa),
        percent(PRESSURE_RULE, 0),
        percent(line.discharge_variation(), 1),
    )
}

/// What flow-control nozzles do; nothing where they are plain, whose jets have the nozzle's pressure.
fn flow_control(line: &PressureLine) -> String {
    let is_plain = |outlet: &OutletState| outlet.jet_kpa == outlet.nozzle_kpa;
    if line.outlets.iter().all(is_plain) {
        return String::new();
    }
    let count = |is: &dyn Fn(&OutletState) -> bool| line.outlets.iter().filter(|o| is(o)).count();
    let jet_is =
        |ratio: f64, outlet: &OutletState| ratio * outlet.jet_kpa > ratio * line.nominal_kpa;
    let (below, above) = (count(&|o| jet_is(-1.0, o)), count(&|o| jet_is(1.0, o)));
    let held = line.outlets.len() - below - above;
    let told = [(below, "get less than the range needs"), (above, "get more than the range holds")];
    let beyond = told.iter().filter(|(number, _)| *number > 0);
    let beyond: Vec<String> = beyond.map(|(number, what)| format!("; {number} {what}")).collect();
    format!(
        " Flow-control nozzles hold the stated discharge at {held} of {} sprinklers{}.",
        line.outlets.len(),
        beyond.concat()
    )
}

/// Inlet, friction and velocity.
pub(super) fn totals(line: &PressureLine, units: UnitSystem) -> String {
    let pressure = |kpa: f64| units.text(Quantity::Pressure, kpa, pressure_decimals(units));
    let [before, after] = line.friction_kpa();
    let friction = match (before > 0.0, after > 0.0) {
        (true, true) => {
            format!(
                "friction losses are {} and {} to the two ends",
                pressure(before),
                pressure(after)
            )
        }
        _ => format!("the friction loss is {} to the far end", pressure(before + after)),
    };
    let fast = if line.fastest_m_s() > FAST_M_S {
        format!(", above the {} where water hammer becomes a concern", velocity(FAST_M_S, units))
    } else {
        String::new()
    };
    let leaked_l_s = line.flow_l_s() - line.discharge_l_s();
    let leaked = if line.outlets.iter().any(|outlet| outlet.leak_l_s > 0.0) {
        let text = units.text(Quantity::Discharge, leaked_l_s, discharge_decimals(units));
        format!(", of which {text} leaks at couplers")
    } else {
        String::new()
    };
    format!(
        "The inlet takes {} at {}{leaked}; {friction}; the water runs at up to {}{fast}. The mean nozzle \
         pressure is {}.",
        units.text(Quantity::Discharge, line.flow_l_s(), discharge_decimals(units)),
        pressure(line.inlet_kpa),
        velocity(line.fastest_m_s(), units),
        pressure(line.mean_kpa()),
    )
}

/// Christiansen's rule beside the solution, and the handbook's factors.
pub(super) fn rules(line: &PressureLine, units: UnitSystem) -> String {
    let pressure = |kpa: f64| units.text(Quantity::Pressure, kpa, 2);
    let friction = line.friction_rule().map_or_else(
        || {
            "Christiansen’s F does not apply (two sizes of pipe, or an inlet between sprinklers). "
                .to_owned()
        },
        |rule| {
            format!(
                "Check: with Christiansen’s F = {} and equal discharges the friction loss would be {}; \
                 solved outlet by outlet it is {}. ",
                number(rule.factor, 3),
                pressure(rule.by_rule_kpa),
                pressure(rule.solved_kpa)
            )
        },
    );
    format!(
        "{friction}Rule of thumb (SCS NEH 15-11; Keller & Bliesner 1990): a system has {} of its \
         pattern’s CU and {} of its DUlq.",
        percent(line.system_cu_factor(), 1),
        percent(line.system_du_factor(), 1),
    )
}

/// A velocity in the pipe.
pub(super) fn velocity(m_s: f64, units: UnitSystem) -> String {
    let decimals = if units == UnitSystem::Us { 1 } else { 2 };
    format!("{}/s", units.text(Quantity::Length, m_s, decimals))
}

/// Decimals that suit a pressure.
pub(super) fn pressure_decimals(units: UnitSystem) -> usize {
    usize::from(units == UnitSystem::Us)
}

/// Decimals that suit a discharge of a lateral.
fn discharge_decimals(units: UnitSystem) -> usize {
    if units == UnitSystem::Us { 1 } else { 2 }
}
