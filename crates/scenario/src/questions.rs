//! Quantities that were taken one way and could have been meant otherwise: each is told or asked about.
//!
//! A comma before three digits, a value far from what it usually is, prices in two currencies, bushels.
//! Where nothing can be told, as for an option of a command, a number of two meanings is refused.

use crate::document::Node;
use crate::issue::{Issue, Issues};
use crate::limits::Limit;
use crate::notes::Notes;
use crate::quantity::{self, Dimension, Parsed, Sign};
use crate::readings::Bushel;

/// Takes note of what may be meant otherwise in the quantity `text`; `None` where it is refused.
pub(crate) fn ask(
    limit: &Limit,
    text: &str,
    parsed: &Parsed,
    node: &Node,
    issues: &mut Issues,
) -> Option<()> {
    let subject = issues.subject();
    if let Some(Sign { currency, .. }) = parsed.sign
        && !currency.is_empty()
        && !issues.readings.currencies.contains(&currency)
    {
        issues.readings.currencies.push(currency);
    }
    let by_weight = [Dimension::PricePerWeight, Dimension::Yield].contains(&parsed.dimension);
    if by_weight && quantity::parse(text).is_err() {
        issues.readings.in_bushels.push((node.at.pointer.clone(), text.to_owned()));
    }
    let other = parsed.with_decimal_comma.filter(|other| limit.holds(*other));
    if other.is_some() && limit.holds(parsed.value) {
        let [thousands, decimals] = ["", "."].map(|mark| text.trim().replacen(',', mark, 1));
        if issues.readings.is_strict {
            let problem = format!("{subject} is {text}, which can be {thousands} or {decimals}");
            issues.push(Issue::new(&node.at, problem).hint("Write it without the comma."));
            return None;
        }
        issues.readings.questions.push(format!(
            "{subject} is written {text} and taken as {thousands}. If you mean {decimals}, write it \
             with a point"
        ));
    } else if limit.is_unusual(parsed.value) {
        let question = unusual(limit, parsed.value, text, subject);
        issues.readings.questions.push(question);
    }
    Some(())
}

/// What to ask about a value that is allowed and seldom right.
fn unusual(limit: &Limit, value: f64, text: &str, subject: &str) -> String {
    let unit = &quantity::spelt_unit_of(text).unwrap_or_default();
    let (least, most) = limit.usual.unwrap_or((limit.least, limit.most));
    let usual = match [least, most].map(|end| quantity::in_unit(end, unit)) {
        [Some(least), Some(most)] => format!("{least} to {most} {unit}"),
        _ => format!("{least} to {most}"),
    };
    let meant = slipped(limit, value, unit);
    let meant = meant.map_or_else(String::new, |meant| format!("Did you mean {meant}? "));
    format!("{subject} is {}, usually {usual}. {meant}Taken as written", text.trim())
}

/// What was probably meant by a value with its decimal point in the wrong place, with its unit.
pub(crate) fn slipped(limit: &Limit, value: f64, unit: &str) -> Option<String> {
    let factors = [10.0, 0.1, 100.0, 0.01].into_iter();
    let meant = factors.map(|factor| factor * value).find(|meant| limit.is_typical(*meant))?;
    let meant = quantity::in_unit(&quantity::print(meant, unit)?, unit)?;
    Some(format!("{meant} {unit}"))
}

/// Tells it all, once everything is read.
pub(crate) fn tell(notes: &mut Notes<'_>) {
    let readings = std::mem::take(&mut notes.issues.readings);
    for question in readings.questions {
        notes.warn_planner(question);
    }
    if readings.currencies.len() > 1 {
        notes.warn_planner(format!(
            "prices are written with {}: all are taken as one currency, and nothing is converted",
            readings.currencies.join(" and ")
        ));
    }
    let Some(Bushel { crop, pounds }) = readings.bushel else { return };
    for (place, written) in readings.in_bushels {
        let why = format!(
            "a bushel of {crop} taken as {pounds} lb, the usual weight in US trade (from memory, \
             confidence high)"
        );
        notes.assume(&place, written, why);
    }
}
