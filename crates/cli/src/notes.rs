//! What goes into the report beside the results: assumptions, rules of thumb, limits, sources.

use crate::failure::Failure;
use crate::inputs::Loaded;
use evenfall_core::compare::{area_table, rules_of_alternation, rules_of_pressure, rules_within};
use evenfall_core::lateral::Machine;
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::rotation::Rotation;
use evenfall_core::season::{self, Outcome, Scenario};
use evenfall_figures::{
    AlternativeFigures, AlternativeRules, AlternativeWheel, AreaTable, Assumption, ReportNotes,
};

/// Notes for the report of `outcome`; `even` is the same season with all sprinklers at their stated
/// pressure, where a pipe is described.
pub(crate) fn report_notes(
    loaded: &Loaded,
    outcome: &Outcome,
    even: Option<&Outcome>,
    command: &str,
    seed: Option<u64>,
) -> ReportNotes {
    let resolved = &loaded.resolved;
    let scenario = &resolved.scenario;
    let assumption = |a: &evenfall_scenario::Assumption| Assumption {
        what: a.what.clone(),
        value: a.value.clone(),
        why: a.why.clone(),
    };
    let mut sources = SOURCES.map(str::to_owned).to_vec();
    sources.push(format!("Losses: {}", scenario.losses.name()));
    let piped = scenario.alternatives.iter().any(|alternative| alternative.feed.is_some());
    if piped {
        sources.push(HYDRAULICS_SOURCE.to_owned());
    }
    let limits = LIMITS.into_iter().chain([if piped { LIMIT_OF_PIPES } else { LIMIT_OF_PRESSURE }]);
    sources.extend(resolved.sources.iter().cloned());
    ReportNotes {
        question: resolved.question.clone(),
        invented: resolved.invented,
        assumptions: resolved.assumptions.iter().map(assumption).collect(),
        warnings: resolved.warnings.clone(),
        sources,
        limits: limits.map(str::to_owned).collect(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        command: command_line(command, &loaded.argument, seed),
        rules: rules(scenario, outcome, even),
        even: even.map_or_else(Vec::new, |even| even_figures(scenario, even)),
        areas: areas(scenario, outcome),
        wheels: wheels(scenario),
    }
}

/// Notes for a page of its own, which `command` makes again.
pub(crate) fn study_notes(loaded: &Loaded, command: &str) -> ReportNotes {
    let resolved = &loaded.resolved;
    let assumption = |a: &evenfall_scenario::Assumption| Assumption {
        what: a.what.clone(),
        value: a.value.clone(),
        why: a.why.clone(),
    };
    let (name, options) = command.split_once(' ').unwrap_or((command, ""));
    ReportNotes {
        invented: resolved.invented,
        assumptions: resolved.assumptions.iter().map(assumption).collect(),
        limits: LIMITS.map(str::to_owned).to_vec(),
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        command: format!("{} {options}", command_line(name, &loaded.argument, None)),
        ..ReportNotes::default()
    }
}

fn command_line(command: &str, argument: &str, seed: Option<u64>) -> String {
    let scenario = if argument.is_empty() { String::new() } else { format!(" {argument}") };
    let seed = seed.map_or_else(String::new, |seed| format!(" --seed {seed}"));
    format!("evenfall {command}{scenario}{seed}")
}

/// What the schedules make worth telling: broken cycles and clock lock.
pub(crate) fn clock_notices(scenario: &Scenario) -> Result<Vec<String>, Failure> {
    let plans = season::plans(scenario).map_err(|error| Failure::Season(error.to_string()))?;
    let (mut notices, mut locked) = (Vec::new(), Vec::new());
    if let Some(called) = &scenario.called {
        notices.push(format!(
            "Passes are called when the mean root zone of {} has used up {:.0} % of its readily \
             available water; the dates are those of the first season and the same for every \
             alternative, other seasons call on other days.",
            scenario.alternatives.first().map_or("", |first| first.name.as_str()),
            100.0 * called.share_of_raw
        ));
    }
    for (alternative, plan) in scenario.alternatives.iter().zip(&plans) {
        let (name, passes) = (&alternative.name, plan.passes.len());
        if plan.passes_into_cycle > 0 {
            notices.push(format!(
                "{name}: the season ends inside a cycle: {passes} passes are {} whole cycles of {} \
                 and {} more, so the stops are not watered equally often.",
                passes / plan.cycle,
                plan.cycle,
                plan.passes_into_cycle
            ));
        }
        if plan.day_night.is_locked() {
            locked.push(name.as_str());
        }
    }
    if !locked.is_empty() {
        notices.push(format!(
            "Clock lock ({}): every place is watered in the same half of the day in every pass. An \
             odd number of sets or half a day of idling breaks it.",
            locked.join("; ")
        ));
    }
    Ok(notices)
}

/// The interior of alternatives with a pipe, all sprinklers at their stated pressure.
fn even_figures(scenario: &Scenario, even: &Outcome) -> Vec<AlternativeFigures> {
    let pairs = scenario.alternatives.iter().zip(&even.alternatives);
    pairs
        .filter(|(alternative, _)| alternative.feed.is_some())
        .filter_map(|(alternative, found)| {
            let figures = found.season_figures().interior?;
            Some(AlternativeFigures { alternative: alternative.name.clone(), figures })
        })
        .collect()
}

fn rules(scenario: &Scenario, outcome: &Outcome, even: Option<&Outcome>) -> Vec<AlternativeRules> {
    let fixed = scenario.alternatives.iter().position(|a| a.rotation == Rotation::fixed());
    let fixed_pass = fixed.and_then(|index| outcome.alternatives[index].passes[0].alone.interior);
    let of = |index: usize| {
        let found = &outcome.alternatives[index];
        let mut rules = Vec::new();
        if let Some(figures) = found.season_figures().interior {
            rules.extend(rules_within(&figures));
            let even = even.and_then(|even| even.alternatives[index].season_figures().interior);
            if let (Some(even), Some(line)) = (even, &found.pressures) {
                rules.extend(rules_of_pressure(&even, &figures, line));
            }
        }
        let two_passes = found.passes.get(1).and_then(|pass| pass.cumulative.interior);
        if let (2, Some(fixed), Some(two)) = (found.plan.cycle, fixed_pass, two_passes) {
            rules.extend(rules_of_alternation(&fixed, &two));
        }
        AlternativeRules { alternative: scenario.alternatives[index].name.clone(), rules }
    };
    (0..outcome.alternatives.len()).map(of).collect()
}

fn areas(scenario: &Scenario, outcome: &Outcome) -> Vec<AreaTable> {
    let interior = scenario.field.interior(outcome.interior_margin_m);
    let pairs = scenario.alternatives.iter().zip(&outcome.alternatives);
    pairs
        .filter_map(|(alternative, found)| {
            let figures = found.season_figures().interior?;
            let depths = area_table(found.season_depth_mm(), &interior, &figures);
            Some(AreaTable { alternative: alternative.name.clone(), depths })
        })
        .collect()
}

fn wheels(scenario: &Scenario) -> Vec<AlternativeWheel> {
    scenario
        .alternatives
        .iter()
        .filter_map(|alternative| match &alternative.lateral.machine {
            Machine::WheelLine(wheel) => Some(AlternativeWheel {
                alternative: alternative.name.clone(),
                reach: wheel_reach(wheel, &alternative.outlets),
            }),
            Machine::HandMove => None,
        })
        .collect()
}

/// Sources of the equations, as the code names them.
const SOURCES: [&str; 7] = [
    "CU: Christiansen 1942. DUlq: SCS National Engineering Handbook 15-11 (1983); the low quarter \
     is a quarter of the area.",
    "Drag of drops: Fukui et al. 1980 (from memory, high). Correction in wind C (1 + K1 sin β − K2 \
     cos α): Tarjuelo, Carrión et al. 2001, Playán et al. 2006 (from memory, medium); K1 and K2 are \
     fitted numbers.",
    "Wind with height: log profile over short grass, FAO-56 equation 47 (Allen et al. 1998).",
    "Generated wind: Weibull speeds (Justus et al. 1978), first-order autoregression of normal \
     scores (Brett & Tuller 1991); both from memory.",
    "Rules of thumb: SCS NEH 15-11; Keller & Bliesner 1990; Hart 1961 (from memory, high).",
    "The split (100 − CU)² ≈ S² + R²/N is this program's own; its miss is shown.",
    "Whole turns, reach of hoses, order of the rotation: common practice, no source.",
];

/// What the simulation leaves out.
const LIMITS: [&str; 6] = [
    "Water on the ground is not yet water in the crop: soil and crop even some of it out.",
    "The wind is one value an hour for the whole field; gusts within the hour are left out.",
    "Drops are rigid spheres: against Gunn & Kinzer (1949) they fall up to 9 % too slowly below 1.4 \
     mm and 5 % (3 mm) to 21 % (5 mm) too fast above, so large drops are somewhat too wind-proof.",
    "Each stop is taken at its exact place; a crew's error in stopping is left out.",
    "The drift of wheels whose whole turns miss the outlet spacing is taken as corrected at each \
     outlet; its size is shown with the stops.",
    "Hours are local standard time; day is 06:00 to 18:00.",
];

/// Said where no pipe is described.
const LIMIT_OF_PRESSURE: &str =
    "Pressure, and so discharge and pattern, is taken as the same for all sprinklers of a lateral.";

/// Said where one is.
const LIMIT_OF_PIPES: &str = "Where a pipe is described, pressure changes along it (friction, heights) but is the same at \
     every outlet of the mainline and all season; losses in hose, risers and couplers are left to C; \
     the leg keeps its shape at other pressures, so the ring that low pressure leaves is not made.";

/// Where a pipe is described.
const HYDRAULICS_SOURCE: &str = "Pressure along the pipe: Hazen–Williams and the 20 % rule, SCS NEH 15-11 (1983), Keller & \
     Bliesner 1990 (from memory, high); Christiansen 1942; radius of throw against pressure is \
     judgement.";
