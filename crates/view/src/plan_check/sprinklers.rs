//! Rows on the state of the sprinklers and couplers: pressure, worn nozzles, leaks; with what each
//! takes in water.

use super::row::{PlanRow, PlanStatus};
use super::shown::{Kind, Show};
use super::water::{Subject, not_known, row};
use crate::units::percent;
use crate::value::Amount;
use evenfall_core::lateral::survey::{SurveyFound, WORN};
use evenfall_core::plan_check::{NozzleState, Yardstick};

/// Water more for the weakest nozzle, a fraction, under which discharge counts as held.
const HELD: f64 = 0.005;
/// What field tests found of leaks and wear.
const FIELD_TESTS: &str = "field tests of wheel lines, Idaho and Idaho Power 2012 (summary)";
const LOOK_FOR_LEAKS: &str = "Look along the line for leaks, or compare a meter at the inlet with what \
                              the nozzles deliver.";
const MEASURE_NOZZLES: &str =
    "Try drill bits in the bores, or catch the discharge of a few nozzles in a bucket.";

/// Pressure along the pipe beside the 20 % rule.
pub(super) fn pressure(subject: &Subject<'_>) -> PlanRow {
    const SOURCE: &str = "20 % of the stated pressure: SCS NEH 15-11; Merkley & Allen, Utah State \
                          University lectures, lecture 7";
    let head = ("pressure", "Pressure between sprinklers");
    let Subject { show, found, .. } = *subject;
    let Some(pressure) = &found.pressure else {
        let sentence = "No pipe is described, so pressure along it is not checked.".to_owned();
        let change = "Describe the pipe, or measure pressure at the first and the last sprinkler.";
        return not_known(head, Amount::none("%", "not given"), sentence, change, SOURCE);
    };
    let (value, limit) = show.both(Kind::Share, &pressure.against_rule);
    let (value_text, limit_text) = (value.text.clone(), limit.text.clone());
    let mut row = row(head, (value, limit), &pressure.against_rule, SOURCE);
    row.sentence = format!(
        "{} {} to {}: they differ by {value_text} of the stated pressure; the rule allows \
         {limit_text}.",
        if pressure.is_read { "Your pitot readings run from" } else { "Nozzles get" },
        show.pressure(pressure.lowest_kpa),
        show.pressure(pressure.highest_kpa)
    );
    // Plain nozzles beyond the rule differ by far more.
    if row.is_fault() && pressure.extra_water < HELD {
        row.status = PlanStatus::Fine;
        row.sentence.push_str(" Flow control holds the discharge all the same.");
    } else if row.is_fault() {
        let equal = format!(
            " For the weakest nozzle to get what the average one gets takes {} more water.",
            percent(pressure.extra_water, 0)
        );
        row.sentence.push_str(&equal);
        row.change.push_str("Fit flow-control nozzles, or a larger pipe.");
    }
    row
}

/// Wear and leaks; one row where nobody has looked for either.
pub(super) fn state(subject: &Subject<'_>, survey: Option<&SurveyFound>) -> Vec<PlanRow> {
    let Subject { show, found, .. } = *subject;
    if found.nozzles.is_none() && found.leaks.is_none() && survey.is_none() {
        return vec![unseen()];
    }
    let season_m3 = found.application.season_m3;
    let tight = found.application.line_l_s / found.application.inflow_l_s;
    let nozzles = match &found.nozzles {
        Some(nozzles) => worn(show, nozzles, survey, season_m3 * tight),
        None => unmeasured(show, survey),
    };
    let leaks = found.leaks.as_ref().map_or_else(unknown_leaks, |it| leaks(show, it, season_m3));
    vec![nozzles, leaks]
}

/// What cannot be seen from a plan: wear and leaks.
fn unseen() -> PlanRow {
    let sentence = "Leaks and worn nozzles are not in a plan. Field tests found that they raise the water \
                    that wheel lines use by about 25 % on average, up to 48 %.";
    let change =
        "Catch the discharge of a few nozzles in a bucket, and look along the line for leaks.";
    let value = Amount::none("", "not given");
    not_known(NOZZLES, value, sentence.to_owned(), change, FIELD_TESTS)
}

const NOZZLES: (&str, &str) = ("sprinklers", "State of the sprinklers");
const LEAKS: (&str, &str) = ("leaks", "Leaks at couplers");

/// Worn nozzles; `through_m3` is what all nozzles pass in the season.
fn worn(
    show: Show,
    nozzles: &NozzleState,
    survey: Option<&SurveyFound>,
    through_m3: f64,
) -> PlanRow {
    const SOURCE: &str = "5 % over the stated discharge, or a drill bit of the nozzle’s size loose in the \
                          bore: common practice, no source";
    let (value, limit) = show.both(Kind::Share, &nozzles.against_limit);
    let value_text = value.text.clone();
    let mut row = row(NOZZLES, (value, limit), &nozzles.against_limit, SOURCE);
    let more = match (survey, nozzles.measured) {
        (Some(survey), Some(_)) => survey_words(show, survey),
        _ if nozzles.against_limit.value > 0.0 => {
            format!("Nozzles are said to deliver {value_text} more than stated.")
        }
        _ => "Nozzles are said to deliver no more than stated.".to_owned(),
    };
    let plugged = survey.map_or(0, |survey| survey.plugged);
    if plugged > 0 {
        row.status = PlanStatus::Fault;
    }
    row.sentence = more;
    if nozzles.worn > 0 {
        let beyond = format!(
            " Worn nozzles pass {} more than stated, about {} in a season.",
            percent(nozzles.water_share, 1),
            show.volume(nozzles.water_share * through_m3)
        );
        row.sentence.push_str(&beyond);
    }
    let these = |count: usize, one: &str, many: &str| match count {
        1 => one.to_owned(),
        many_of => many.replace('#', &many_of.to_string()),
    };
    let replace = (nozzles.worn > 0).then(|| match nozzles.measured {
        Some(_) => these(nozzles.worn, "replace the worn nozzle", "replace the # worn nozzles"),
        None => "replace the nozzles".to_owned(),
    });
    let clear = (plugged > 0)
        .then(|| these(plugged, "clear the plugged sprinkler", "clear the # plugged sprinklers"));
    row.change =
        sentence(&[replace, clear].into_iter().flatten().collect::<Vec<_>>().join(", and "));
    row
}

fn unmeasured(show: Show, survey: Option<&SurveyFound>) -> PlanRow {
    let sentence = survey.map_or_else(
        || "How worn the nozzles are is not given.".to_owned(),
        |survey| format!("{} No nozzle was measured.", survey_words(show, survey)),
    );
    not_known(NOZZLES, Amount::none("%", "not given"), sentence, MEASURE_NOZZLES, FIELD_TESTS)
}

fn unknown_leaks() -> PlanRow {
    let sentence = "How much leaks is not given.".to_owned();
    not_known(LEAKS, Amount::none("%", "not given"), sentence, LOOK_FOR_LEAKS, FIELD_TESTS)
}

fn leaks(show: Show, found: &Yardstick, season_m3: f64) -> PlanRow {
    const SOURCE: &str =
        "2 %: judgment, no source; gaskets and drains that hold lose next to nothing";
    let (value, limit) = show.both(Kind::Share, found);
    let value_text = value.text.clone();
    let mut row = row(LEAKS, (value, limit), found, SOURCE);
    row.sentence = if found.value > 0.0 {
        format!(
            "{value_text} of the flow into the line leaks before it reaches a nozzle, about {} in a \
             season.",
            show.volume(found.value * season_m3)
        )
    } else {
        "Nothing is said to leak.".to_owned()
    };
    if row.is_fault() {
        row.change.push_str("Replace the gaskets and drains that leak.");
    }
    row
}

/// "33 surveyed: pressure 41 to 52 psi, 4 nozzles worn by more than 5 % of discharge, 1 plugged; flow 8 %
/// above the nozzles’ nominal."
fn survey_words(show: Show, found: &SurveyFound) -> String {
    let surveyed = if found.surveyed == found.sprinklers {
        format!("{} surveyed", found.surveyed)
    } else {
        format!("{} of {} surveyed", found.surveyed, found.sprinklers)
    };
    let mut parts = Vec::new();
    if let Some((least_kpa, most_kpa)) = found.range_kpa() {
        let (least, most) = (show.pressure(least_kpa), show.pressure(most_kpa));
        let low = least.split('\u{a0}').next().unwrap_or(&least);
        let is_one = least == most;
        parts.push(if is_one {
            format!("pressure {most}")
        } else {
            format!("pressure {low} to {most}")
        });
    }
    if !found.nozzles.is_empty() {
        let limit = percent(WORN, 0);
        parts.push(match found.worn() {
            0 => format!("no nozzle worn by more than {limit} of discharge"),
            1 => format!("1 nozzle worn by more than {limit} of discharge"),
            many => format!("{many} nozzles worn by more than {limit} of discharge"),
        });
    }
    let counted = [(found.plugged, "plugged"), (found.leaning, "leaning")];
    parts.extend(counted.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}")));
    let over = found.flow_over_stated - 1.0;
    let flow = match percent(over.abs(), 0) {
        none if none.starts_with('0') => "flow as the nozzles’ nominal".to_owned(),
        share if over > 0.0 => format!("flow {share} above the nozzles’ nominal"),
        share => format!("flow {share} below the nozzles’ nominal"),
    };
    let parts = parts.join(", ");
    let gap = if parts.is_empty() { "" } else { "; " };
    format!("{surveyed}: {parts}{gap}{flow}.")
}

/// A clause as a sentence; nothing stays nothing.
fn sentence(clause: &str) -> String {
    let mut letters = clause.chars();
    letters
        .next()
        .map_or_else(String::new, |first| format!("{}{}.", first.to_uppercase(), letters.as_str()))
}
