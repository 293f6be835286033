//! What scenario and outcome themselves give the report to say: rules of thumb, areas, wheels,
//! sources, limits.

use super::{AlternativeFigures, AlternativeRules, AlternativeWheel, AreaTable, ReportNotes};
use crate::season_rows::COMMIT;
use evenfall_core::compare::{area_table, rules_of_alternation, rules_of_pressure, rules_within};
use evenfall_core::lateral::Machine;
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::rotation::Rotation;
use evenfall_core::season::Outcome;

impl ReportNotes {
    /// The notes that follow from scenario and outcome alone; question, assumptions, digest and the
    /// like are the caller's to add. `even` is the same season with all sprinklers at their stated
    /// pressure, where a pipe is described.
    pub fn of(scenario: &Scenario, outcome: &Outcome, even: Option<&Outcome>) -> Self {
        let mut sources = SOURCES.map(str::to_owned).to_vec();
        sources.push(format!("Losses: {}", scenario.losses.name()));
        if let Some(calibration) = &scenario.calibration {
            sources.extend(calibration.tests.iter().map(|test| {
                let date = test.date.as_ref().map_or_else(String::new, |date| format!(", {date}"));
                format!(
                    "Drag in wind, radius and losses: your test “{}” (file {}{date})",
                    test.title, test.file_name
                )
            }));
        }
        let piped = scenario.alternatives.iter().any(|alternative| alternative.feed.is_some());
        if piped {
            sources.push(HYDRAULICS_SOURCE.to_owned());
        }
        let has = |is: fn(&Alternative) -> bool| scenario.alternatives.iter().any(is);
        if has(|alternative| alternative.condition.survey.is_some()) {
            sources.push(SURVEY_SOURCE.to_owned());
        }
        let last = if piped { LIMIT_OF_PIPES } else { LIMIT_OF_PRESSURE };
        let leaks = has(|own| own.condition.leaked_share() > 0.0).then_some(LIMIT_OF_LEAKS);
        Self {
            commit: COMMIT.to_owned(),
            sources,
            limits: LIMITS.into_iter().chain([last]).chain(leaks).map(str::to_owned).collect(),
            rules: rules(scenario, outcome, even),
            even: even.map_or_else(Vec::new, |even| even_figures(scenario, even)),
            areas: areas(scenario, outcome),
            wheels: wheels(scenario),
            ..Self::default()
        }
    }

    /// The limits of any simulation alone, for pages that show no report's outcome.
    pub fn of_limits() -> Self {
        Self { limits: LIMITS.map(str::to_owned).to_vec(), ..Self::default() }
    }
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
                reach: wheel_reach(wheel, &alternative.line_outlets()),
            }),
            Machine::HandMove => None,
        })
        .collect()
}

/// Sources of the equations, as the code names them.
const SOURCES: [&str; 7] = [
    "CU: Christiansen 1942. DUlq: SCS National Engineering Handbook 15-11 (1983); the low quarter \
     is a quarter of the area.",
    "Drag of drops: Fukui et al. 1980; drops over 2 mm flattened so that they fall as Atlas et al. \
     1973 have it (both from memory). Correction in wind C (1 + K1 sin β − K2 cos α): Tarjuelo, Carrión et al. 2001, Playán et al. 2006 (from memory, medium); K1, K2 \
     and jet length are fitted numbers.",
    "Wind with height: log profile over short grass, FAO-56 equation 47 (Allen et al. 1998); over a \
     crop d = 2/3 and z0 = 0.123 of its height (the same), the wind at 10 m taken as that over grass.",
    "Generated wind: Weibull speeds (Justus et al. 1978, from memory), persistence on two time \
     scales; seasons drawn from a record: blocks of days (Künsch 1989), days of like wind (Lall & \
     Sharma 1996, from memory).",
    "Rules of thumb: SCS NEH 15-11; Keller & Bliesner 1990; Hart 1961 (from memory, high).",
    "The split (100 − CU)² ≈ S² + R²/N is this program's own; its residual is shown.",
    "Whole turns, reach of hoses, order of the rotation: common practice, no source.",
];

/// What the simulation leaves out.
const LIMITS: [&str; 6] = [
    "Water on the ground is not yet water in the crop: soil and roots smooth out some of the unevenness.",
    "The wind is one value per hour for the whole field; gusts within the hour are left out.",
    "How wind bends a pattern is fitted, not physics: drag in wind follows a published form with \
     numbers chosen by the signs that field tests show, unless a test of yours is named among \
     the sources.",
    "Every stop is exact; a crew’s error in stopping is left out.",
    "Where whole turns of the wheel do not add up to the outlet spacing, the line is simulated where they \
     bring it. That wheels slip and sink more on one turn than on another is left out.",
    "Times are as the field’s clock shows them: standard time, without daylight saving, where it has no \
     time zone. Day is 06:00 to 18:00 standard time.",
];

/// Said where no pipe is described.
const LIMIT_OF_PRESSURE: &str = "Pressure, and with it the pattern, is assumed to be the same for all sprinklers of a lateral, and \
     so is discharge where the scenario does not say otherwise.";

/// Said where one is.
const LIMIT_OF_PIPES: &str = "Where a pipe is described, pressure changes along it (friction, heights) but is the same at \
     every outlet of the mainline and all season; losses in hose, risers and couplers are left to C; \
     the leg keeps its shape at other pressures, so the ring that low pressure leaves is not made.";

/// Said where couplers leak.
const LIMIT_OF_LEAKS: &str = "Water that leaks is pumped and paid for and counts as lost beside the pipe, not as depth on the field; \
     the wet spots it makes are left out. It is spread along the pipe as the sprinklers’ discharge is.";

/// Where sprinklers were surveyed.
const SURVEY_SOURCE: &str = "Discharge by bore and pressure: the orifice equation, SCS NEH 15-11 (1983), Keller & Bliesner 1990 \
     (from memory, high); patterns keep shape and radius.";

/// Where a pipe is described.
const HYDRAULICS_SOURCE: &str = "Pressure along the pipe: Hazen–Williams and the 20 % rule, SCS NEH 15-11 (1983), Keller & \
     Bliesner 1990 (from memory, high); Christiansen 1942; radius of throw against pressure is \
     judgment.";
