//! The state of sprinklers and couplers: a survey, wear and scatter, odd sprinklers, leaks.

use super::survey;
use crate::file::{LateralFile, OddSprinklerFile, SprinklerFile};
use crate::issue::Issue;
use crate::notes::Notes;
use evenfall_core::lateral::survey::Survey;
use evenfall_core::lateral::{Condition, Discharges};
use evenfall_core::sprinkler::Sprinkler;

/// The sprinklers of a lateral in the state that they are in.
#[derive(Clone, Debug)]
pub(crate) struct State {
    pub(crate) sprinkler: Sprinkler,
    /// How the discharges differ from those of `sprinkler`.
    pub(crate) discharges: Discharges,
    pub(crate) condition: Condition,
}

/// The state of `stated` sprinklers on `lateral`; `None` where what is given makes no sense.
pub(crate) fn state(
    lateral: &LateralFile,
    (given, stated): (&SprinklerFile, &Sprinkler),
    notes: &mut Notes<'_>,
) -> Option<State> {
    let survey = survey::resolve(lateral, given, notes);
    let odd = lateral.odd_sprinklers.as_ref().map_or(&[][..], |odd| &odd.items);
    let sound = check_numbers(lateral, odd, notes);
    let leaks = leaks(lateral, notes);
    let Ok(survey) = survey else { return None };
    sound?;
    let is_measured = survey.as_ref().is_some_and(Survey::measures_nozzles);
    let wear = wear(lateral, is_measured, notes);
    let sprinkler = worn(lateral, stated, wear, notes)?;
    let is_complete = survey.as_ref().is_some_and(Survey::reads_every_nozzle);
    let others = others(lateral, odd, (wear, is_complete), notes);
    let (discharges, found) = match &survey {
        None => (others, None),
        Some(survey) => {
            let read = survey.discharges(&sprinkler, &others, false);
            let mut found = survey.found(&sprinkler, &read);
            found.flow_over_stated *= 1.0 + wear;
            let is_piped = lateral.pipe.is_some();
            let used = if is_piped { survey.discharges(&sprinkler, &others, true) } else { read };
            (used, Some(found))
        }
    };
    check_plugs(lateral, odd, &discharges, notes)?;
    let stated_wear = lateral.nozzle_wear.as_ref().filter(|_| !is_measured);
    let wear = stated_wear.map(|wear| wear.value);
    Some(State { sprinkler, discharges, condition: Condition { wear, leaks, survey: found } })
}

/// Share that leaks, where it is said.
fn leaks(lateral: &LateralFile, notes: &mut Notes<'_>) -> Option<f64> {
    LateralFile::leaks.or_start(Some(&lateral.leaks), &lateral.at.pointer, notes);
    lateral.leaks.as_ref().map(|leaks| leaks.value)
}

/// How much more than stated all nozzles deliver; a survey that measured nozzles goes before it.
fn wear(lateral: &LateralFile, is_measured: bool, notes: &mut Notes<'_>) -> f64 {
    let at = &lateral.at.pointer;
    if !is_measured {
        return LateralFile::nozzle_wear.or_start(Some(&lateral.nozzle_wear), at, notes);
    }
    if lateral.nozzle_wear.is_some() {
        notes.warn_planner(format!(
            "{at}: `nozzle_wear` is not used, because the survey measured nozzles"
        ));
    }
    0.0
}

/// The sprinkler with its nozzles as worn as they are.
fn worn(
    lateral: &LateralFile,
    sprinkler: &Sprinkler,
    wear: f64,
    notes: &mut Notes<'_>,
) -> Option<Sprinkler> {
    if wear == 0.0 {
        return Some(sprinkler.clone());
    }
    let place = lateral.nozzle_wear.as_ref().map_or(&lateral.at, |wear| &wear.at);
    let refused = |problem| notes.issues.push(Issue::new(place, format!("{problem}")));
    sprinkler.altered(1.0, 1.0 + wear).map_err(refused).ok()
}

/// How the discharges differ from those of [`worn`] sprinklers, any survey left out; a complete one
/// leaves nothing to vary.
fn others(
    lateral: &LateralFile,
    odd: &[OddSprinklerFile],
    (wear, is_complete): (f64, bool),
    notes: &mut Notes<'_>,
) -> Discharges {
    let (row, at) = (&LateralFile::discharge_variation, &lateral.at.pointer);
    let scatter = match &lateral.discharge_variation {
        None if is_complete => row.or(None),
        given => row.or_start(Some(given), at, notes),
    };
    let share = |odd: &OddSprinklerFile| {
        // Shares are of the stated discharge, factors of the worn nozzles'.
        ((odd.number.value - 1) as usize, odd.discharge.value / (1.0 + wear))
    };
    let single = odd.iter().map(share).collect();
    Discharges { scatter, single, ..Discharges::default() }
}

/// Some sprinkler delivers water.
fn check_plugs(
    lateral: &LateralFile,
    odd: &[OddSprinklerFile],
    discharges: &Discharges,
    notes: &mut Notes<'_>,
) -> Option<()> {
    let factors = discharges.factors(lateral.sprinklers.value as usize);
    if factors.is_none_or(|factors| factors.iter().any(|factor| *factor > 0.0)) {
        return Some(());
    }
    let odd = odd.first().map(|first| &first.discharge.at);
    let at = lateral.survey.as_ref().map(|survey| &survey.file.at).or(odd).unwrap_or(&lateral.at);
    let problem = "every sprinkler of the lateral is plugged";
    notes.issues.push(Issue::new(at, problem).hint("Leave out those that deliver water."));
    None
}

/// Each number is one of the lateral's, and named once.
fn check_numbers(
    lateral: &LateralFile,
    odd: &[OddSprinklerFile],
    notes: &mut Notes<'_>,
) -> Option<()> {
    let sprinklers = lateral.sprinklers.value;
    let mut sound = Some(());
    for (at, one) in odd.iter().enumerate() {
        let number = one.number.value;
        let issue = if number > sprinklers {
            let problem = format!("there is no sprinkler {number} on a lateral of {sprinklers}");
            Issue::new(&one.number.at, problem).allowed(format!("a number from 1 to {sprinklers}"))
        } else if odd[..at].iter().any(|other| other.number.value == number) {
            let problem = format!("sprinkler {number} is named twice");
            Issue::new(&one.number.at, problem).hint("Remove one of the two.")
        } else {
            continue;
        };
        notes.issues.push(issue);
        sound = None;
    }
    sound
}
