//! What is told of a wheel line whose whole turns do not end at its outlets, and of one that stops at part
//! of a turn.

use crate::file::SeasonFile;
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use evenfall_core::lateral::part_turns::attitude;
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::lateral::{Machine, OutOfReach};
use evenfall_core::model::Alternative;
use evenfall_core::schedule::{Plan, SetPlan};
use evenfall_core::sprinkler::Sprinkler;
use evenfall_core::sprinkler::attitude::Attitude;

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
    tell_part_turns(alternatives, plans, notes);
    tell_meeting(alternatives, plans, notes);
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
    let mut words = wheel_reach(wheel, &alternative.line_outlets()).fit_words(length);
    let rule = match wheel.part_turns {
        None => format!("({})", wheel.turn_rule.words()),
        Some(_) => "(where the levelers swing no farther)".to_owned(),
    };
    words.insert(1, format!("The line is simulated where it then stands {rule}."));
    Some((words, furthest_m))
}

/// Sets of a pass nearer to one another than this share of the outlet spacing are told. Judgment.
const TOO_NEAR: f64 = 0.5;

/// Warns of alternatives whose drift brings two sets of a pass close together.
fn tell_meeting(alternatives: &[Alternative], plans: &[(String, Plan)], notes: &mut Notes<'_>) {
    for (alternative, (name, plan)) in alternatives.iter().zip(plans) {
        let passes = plan.passes.iter().enumerate();
        let nearest = passes.filter_map(|(number, pass)| {
            let mut sets: Vec<&SetPlan> = pass.sets.iter().collect();
            sets.sort_by(|one, other| one.place_across_m.total_cmp(&other.place_across_m));
            let pairs = sets.windows(2).filter(|two| {
                let drifts = two.iter().any(|set| set.drift_m.abs() > TOLD_M);
                drifts && two[0].side == two[1].side && two[0].outlet != two[1].outlet
            });
            let apart = |two: &[&SetPlan]| two[1].place_across_m - two[0].place_across_m;
            let nearest = pairs.min_by(|one, other| apart(one).total_cmp(&apart(other)))?;
            Some((number, apart(nearest), [nearest[0].outlet, nearest[1].outlet]))
        });
        let nearest = nearest.min_by(|one, other| one.1.total_cmp(&other.1));
        let Some((pass, apart_m, outlets)) = nearest else { continue };
        if apart_m < TOO_NEAR * alternative.outlets.spacing_m {
            notes.warn_planner(format!(
                "{name}: in pass {} the line stands only {} apart at outlets {} and {}, as whole turns \
                 bring it there: that strip gets twice the water and its neighbors little. Make a turn more \
                 or less as soon as it brings the line nearer (`added_turn`: \"nearest\")",
                pass + 1,
                length(apart_m),
                outlets[0] + 1,
                outlets[1] + 1
            ));
        }
    }
}

/// Warns of alternatives whose sets stand at part of a turn, with what strikes the pipe there.
fn tell_part_turns(alternatives: &[Alternative], plans: &[(String, Plan)], notes: &mut Notes<'_>) {
    let mut is_told = false;
    for (alternative, (name, plan)) in alternatives.iter().zip(plans) {
        let Machine::WheelLine(wheel) = &alternative.lateral.machine else { continue };
        let sets: Vec<_> = plan.passes.iter().flat_map(|pass| &pass.sets).collect();
        let stood = |set: &&SetPlan| attitude(wheel, &alternative.outlets, set.place_across_m);
        let stood: Vec<Attitude> = sets.iter().filter_map(stood).collect();
        if stood.is_empty() {
            continue;
        }
        let furthest_deg = stood.iter().map(|one| one.roll_deg.abs()).fold(0.0, f64::max);
        let mut words = format!(
            "{name}: {} of {} sets stand at part of a turn, up to {}° from upright, held level by \
             levelers; of the water of these sets {} % strikes the pipe and drips from it",
            stood.len(),
            sets.len(),
            decimals(furthest_deg, 0),
            decimals(100.0 * blocked_share(&alternative.sprinkler, &stood), 1)
        );
        if !is_told {
            words = format!("{words}. {PART_TURN_VIEWS}");
            is_told = true;
        }
        notes.warn(words);
    }
}

/// What handbook and practitioners say of stops at part of a turn.
const PART_TURN_VIEWS: &str = "SCS NEH 15-11 (1983) wants a self-leveler on every sprinkler, so that it \
    is upright wherever the line stops; practitioners stop with the sprinklers on top of the pipe all \
    the same (common practice, no source)";

/// Share of the water that strikes the pipe, over sprinklers that stand so.
fn blocked_share(sprinkler: &Sprinkler, stood: &[Attitude]) -> f64 {
    let of = |attitude: &Attitude| {
        let jets = sprinkler.jets.iter().map(|jet| {
            attitude.blocked_share(jet.launch.trajectory_angle_deg) * jet.leg().discharge_l_s()
        });
        jets.sum::<f64>() / sprinkler.discharge_l_s()
    };
    // Sets share few rolls.
    let mut known: Vec<(f64, f64)> = Vec::new();
    let shares = stood.iter().map(|attitude| {
        if let Some((_, share)) = known.iter().find(|(roll, _)| *roll == attitude.roll_deg) {
            return *share;
        }
        known.push((attitude.roll_deg, of(attitude)));
        known[known.len() - 1].1
    });
    shares.sum::<f64>() / stood.len() as f64
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
            let words = wheel_reach(wheel, &alternative.line_outlets()).fit_words(length);
            words.join(" ")
        }
        Machine::HandMove => String::new(),
    };
    Issue::new(&given.at.opening(), problem)
        .allowed(format!("a reach of at least {}", length(why.short_m.min(why.past_m))))
        .hint(hint)
}
