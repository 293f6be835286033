//! Wear and scatter of the sprinklers, and those that are odd by themselves.

use crate::file::{LateralFile, OddSprinklerFile};
use crate::issue::Issue;
use crate::notes::Notes;
use evenfall_core::lateral::Discharges;
use evenfall_core::sprinkler::Sprinkler;

/// The sprinkler with its nozzles as worn as they are.
pub(crate) fn worn(
    lateral: &LateralFile,
    sprinkler: &Sprinkler,
    notes: &mut Notes<'_>,
) -> Option<Sprinkler> {
    let at = &lateral.at.pointer;
    let wear = LateralFile::nozzle_wear.or_start(Some(&lateral.nozzle_wear), at, notes);
    if wear == 0.0 {
        return Some(sprinkler.clone());
    }
    let place = lateral.nozzle_wear.as_ref().map_or(&lateral.at, |wear| &wear.at);
    let refused = |problem| notes.issues.push(Issue::new(place, format!("{problem}")));
    sprinkler.altered(1.0, 1.0 + wear).map_err(refused).ok()
}

/// How the discharges differ from those of [`worn`] sprinklers; `None` where what is given makes no
/// sense.
pub(crate) fn discharges(lateral: &LateralFile, notes: &mut Notes<'_>) -> Option<Discharges> {
    let at = &lateral.at.pointer;
    let scatter =
        LateralFile::discharge_variation.or_start(Some(&lateral.discharge_variation), at, notes);
    let wear = LateralFile::nozzle_wear.or(Some(&lateral.nozzle_wear));
    let odd = lateral.odd_sprinklers.as_ref().map_or(&[][..], |odd| &odd.items);
    check_numbers(lateral, odd, notes)?;
    let share = |odd: &OddSprinklerFile| {
        // Shares are of the stated discharge, factors of the worn nozzles'.
        ((odd.number.value - 1) as usize, odd.discharge.value / (1.0 + wear))
    };
    let single = odd.iter().map(share).collect();
    let discharges = Discharges { scatter, single, ..Discharges::default() };
    let together = discharges.factors(lateral.sprinklers.value as usize);
    if let (Some(factors), Some(first)) = (together, odd.first())
        && factors.iter().all(|factor| *factor <= 0.0)
    {
        let problem = "every sprinkler of the lateral is plugged";
        let hint = "Leave out those that deliver water.";
        notes.issues.push(Issue::new(&first.discharge.at, problem).hint(hint));
        return None;
    }
    Some(discharges)
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
