//! What to do next, in a few steps: what the plan needs first, what to buy, where to stand pass by
//! pass, and what would settle an open answer.

use super::input::{Papers, Planned};
use evenfall_core::money::Equipment;
use evenfall_view::worth::Answer;

/// Most things of the plan that are told before the rotation.
const MOST_OF_PLAN: usize = 2;

/// The steps, the first one first.
pub(super) fn steps(papers: &Papers<'_>, planned: &Planned<'_>) -> Vec<String> {
    let mut out: Vec<String> = papers
        .plan_rows(0)
        .iter()
        .filter(|row| row.is_fault() && !row.change.is_empty())
        .take(MOST_OF_PLAN)
        .map(|row| row.change.clone())
        .collect();
    let verdict = &planned.against.verdict;
    match verdict.answer {
        Answer::Pays => {
            out.extend(buy(papers, planned));
            out.push(rotation(papers, planned));
            out.extend(first_set(papers, planned));
        }
        Answer::DoesNotPay => {
            out.push(format!(
                "Stay with “{}”. Ask again when prices, crop or equipment change.",
                papers.worth.baseline
            ));
        }
        Answer::Inconclusive => {
            out.extend(asked(planned));
            out.extend(verdict.settling.first().cloned());
            out.push(format!(
                "Until that is settled, stay with “{}”; trying “{}” for a season costs little if the \
                 joints are borrowed.",
                papers.worth.baseline, planned.worth.name
            ));
        }
    }
    out
}

fn asked(planned: &Planned<'_>) -> Option<String> {
    let missing = &planned.against.missing_labels;
    (!missing.is_empty()).then(|| format!("Find out: {}.", missing.join(", ")))
}

/// What has to be bought.
fn buy(papers: &Papers<'_>, planned: &Planned<'_>) -> Option<String> {
    let all = to_buy(papers, planned);
    (!all.is_empty()).then(|| format!("Buy {}.", all.join(", ")))
}

/// What has to be bought, thing by thing.
pub(super) fn to_buy(papers: &Papers<'_>, planned: &Planned<'_>) -> Vec<String> {
    let Some(own): Option<&Equipment> = papers.economics.equipment.get(planned.index) else {
        return Vec::new();
    };
    let piece = |count: u32, one: &str, many: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        count => Some(format!("{count} {many}")),
    };
    let names = papers.economics.prices.purchases().iter().map(|bought| bought.what.as_str());
    let others = own.purchases.iter().zip(names);
    [piece(own.joints, "joint or hose", "joints or hoses"), piece(own.outlets, "outlet", "outlets")]
        .into_iter()
        .flatten()
        .chain(others.filter_map(|(count, name)| piece(*count, name, name)))
        .collect()
}

/// Where the line stands, pass by pass.
fn rotation(papers: &Papers<'_>, planned: &Planned<'_>) -> String {
    let Some(own) = papers.scene.entries.get(planned.index) else { return String::new() };
    let plan = &own.found.plan;
    if let (true, Some(pass)) = (plan.cycle <= 1, plan.passes.first()) {
        return format!("Stand {} in every pass.", papers.scene.shift_words(pass.shift));
    }
    let each = plan.passes.iter().take(plan.cycle.max(1)).enumerate().map(|(number, pass)| {
        format!("pass {}: {}", number + 1, papers.scene.shift_words(pass.shift))
    });
    format!(
        "Move through the stops in this order: {}; then from the start again. The move sheet has every \
         set.",
        each.collect::<Vec<_>>().join(", ")
    )
}

/// The first set of the season.
fn first_set(papers: &Papers<'_>, planned: &Planned<'_>) -> Option<String> {
    let plan = &papers.scene.entries.get(planned.index)?.found.plan;
    let pass = plan.passes.first()?;
    let set = pass.sets.first()?;
    let calendar =
        papers.scene.scenario.calendar_of(papers.scene.entries.get(planned.index)?.asked);
    let clock = &calendar.clock;
    let at = clock.shown(plan.date_time(set.start_h)).at;
    let whose = if clock.zone_name().is_some() { "" } else { " (standard time)" };
    Some(format!(
        "First set: outlet {}, stop {}, {}{whose}.",
        set.outlet + 1,
        pass.letter,
        at.strftime("%A, %B %-d, %H:%M")
    ))
}
