//! What is told of a wheel line whose whole turns do not end at its outlets.

use crate::file::SeasonFile;
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::lateral::{Machine, OutOfReach};
use evenfall_core::model::Alternative;
use evenfall_core::schedule::Plan;

/// A length in feet and meters, as near as whoever rolls a line can stop it.
fn length(meters: f64) -> String {
    let feet = meters / evenfall_core::units::M_PER_FT;
    format!("{} ft ({} m)", decimals(feet, 1), decimals(meters, 2))
}

/// Drift that is worth a word, m (an inch).
const TOLD_M: f64 = 0.0254;

/// Warns of alternatives whose line drifts from its marks in its plan; those on the same wheels and
/// outlets share a warning.
pub(crate) fn tell(alternatives: &[Alternative], plans: &[(String, Plan)], notes: &mut Notes<'_>) {
    let mut told: Vec<(Vec<String>, Vec<String>)> = Vec::new();
    for (alternative, (name, plan)) in alternatives.iter().zip(plans) {
        let Some((words, furthest_m)) = words(alternative, plan) else { continue };
        let name = format!("{name} (up to {} off its marks)", length(furthest_m));
        match told.iter_mut().find(|(_, known)| *known == words) {
            Some((names, _)) => names.push(name),
            None => told.push((vec![name], words)),
        }
    }
    for (names, words) in told {
        // What takes notes ends them.
        let words = words.join(" ");
        notes.warn_planner(format!("{}: {}", names.join(", "), words.trim_end_matches('.')));
    }
}

/// What is told of an alternative, and how far its line stands off its marks, m.
fn words(alternative: &Alternative, plan: &Plan) -> Option<(Vec<String>, f64)> {
    let Machine::WheelLine(wheel) = &alternative.lateral.machine else { return None };
    let sets = plan.passes.iter().flat_map(|pass| &pass.sets);
    let furthest_m = sets.map(|set| set.drift_m.abs()).fold(0.0, f64::max);
    if furthest_m < TOLD_M {
        return None;
    }
    let mut words = wheel_reach(wheel, &alternative.outlets).fit_words(length);
    let rule = format!("The line is simulated where it then stands ({}).", wheel.turn_rule.words());
    words.insert(1, rule);
    Some((words, furthest_m))
}

/// The problem that an outlet is which no whole turn comes near enough to.
pub(crate) fn out_of_reach(
    given: &SeasonFile,
    alternative: &Alternative,
    why: &OutOfReach,
) -> Issue {
    let problem = format!(
        "\"{}\": the line cannot be connected at outlet {}: whole turns end {} before it or {} past it, \
         and the hose reaches {}",
        alternative.name,
        why.outlet + 1,
        length(why.short_m),
        length(why.past_m),
        length(why.reach_m)
    );
    let hint = match &alternative.lateral.machine {
        Machine::WheelLine(wheel) => {
            let words = wheel_reach(wheel, &alternative.outlets).fit_words(length);
            words.join(" ")
        }
        Machine::HandMove => String::new(),
    };
    Issue::new(&given.at.opening(), problem)
        .allowed(format!("a reach of at least {}", length(why.short_m.min(why.past_m))))
        .hint(hint)
}
