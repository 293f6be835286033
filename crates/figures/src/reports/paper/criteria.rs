//! Criteria with the values of both systems, what they must keep to, and whether they do. What rests
//! on memory stands apart: it is no authority in a client's paper until somebody has looked it up.

use super::input::{Papers, Planned};
use crate::table::{Group, Row, Table};
use evenfall_view::worth::money::yield_unit;
use evenfall_view::worth::{AlternativeWorth, OverSeasons};
use evenfall_view::{PlanRow, PlanStatus};

/// How a source that nobody has at hand is marked in the plan's check.
const FROM_MEMORY: &str = "from memory";

/// The heading of criteria that rest on a source at hand, on soil and crop as entered, or on
/// geometry.
const AT_HAND: &str = "Criteria with their source at hand, or from the soil and crop entered";
/// The heading of the others.
const RECALLED: &str =
    "Recalled from memory: no authority. Look the source up before you rely on it.";

/// The criteria of both systems.
pub(super) fn table(papers: &Papers<'_>, planned: &Planned<'_>) -> Table {
    let (existing, own) = (papers.plan_rows(0), papers.plan_rows(planned.index));
    let row = |row: &PlanRow| {
        let other = own.iter().find(|other| other.key == row.key);
        let planned = other.map_or_else(String::new, |other| other.value.text.clone());
        Row::new(
            row.label,
            vec![
                row.value.text.clone(),
                if planned == row.value.text { "the same".to_owned() } else { planned },
                row.yardstick_words(),
                met(row.status, other.map(|other| other.status)),
                row.source.to_owned(),
            ],
        )
    };
    let is_recalled = |row: &&PlanRow| row.source.contains(FROM_MEMORY);
    let known: Vec<Row> = existing.iter().filter(|r| !is_recalled(r)).map(row).collect();
    let recalled: Vec<Row> = existing.iter().filter(is_recalled).map(row).collect();
    let groups = [(AT_HAND, known), (RECALLED, recalled)];
    let groups = groups.into_iter().filter(|(_, rows)| !rows.is_empty());
    let groups = groups.map(|(heading, rows)| Group { heading: heading.to_owned(), rows });
    let head = ["", "Existing", "Planned", "Criterion", "Met?", "Source"];
    Table { groups: groups.collect(), ..Table::new("Criteria", &head) }
}

/// Whether a criterion is met: once where both stand alike.
fn met(existing: PlanStatus, planned: Option<PlanStatus>) -> String {
    match planned {
        Some(planned) if planned != existing => {
            format!("existing {}; planned {}", word(existing), word(planned))
        }
        _ => word(existing).to_owned(),
    }
}

fn word(status: PlanStatus) -> &'static str {
    match status {
        PlanStatus::Fine => "met",
        PlanStatus::Fault => "not met",
        PlanStatus::NotKnown => "not known",
    }
}

/// Uniformity, yield and water of both systems with their likely ranges.
pub(super) fn results(papers: &Papers<'_>, planned: &Planned<'_>) -> Table {
    let Some(existing) = papers.worth.alternatives.first() else { return Table::default() };
    let row = |what: &str, of: &dyn Fn(&AlternativeWorth) -> String| {
        Row::new(what, vec![of(existing), of(planned.worth)])
    };
    let mut rows = vec![
        row("CU of the season’s water, interior", &|own| told(&own.cu)),
        row("DUlq of the same", &|own| told(&own.du_lq)),
        row("Yield, of full yield", &|own| told(&own.yield_share)),
        row("Yield of the field’s worst tenth", &|own| told(&own.yield_worst_tenth)),
        row("Water lost below the root zone in a season", &|own| told(&own.percolation)),
        row("Water that leaves the nozzles in a season", &|own| own.water.gross.text.clone()),
    ];
    if existing.yield_text.is_some() {
        let unit = yield_unit(papers.scene.units);
        let told = |own: &AlternativeWorth| {
            own.yield_text.as_ref().map_or_else(String::new, |text| format!("{text}\u{a0}{unit}"))
        };
        rows.insert(3, row("Yield", &told));
    }
    let title = format!("What both come to, means of {} seasons", papers.worth.seasons_finished);
    Table::new(&title, &["", "Existing", "Planned"]).with_rows(rows).with_note(
        "Ranges in brackets are likely ranges. CU: Christiansen (1942); 84 % is often called \
         satisfactory for a single pass (common practice). DUlq: mean of the driest quarter of the area \
         over the mean of all.",
    )
}

/// Mean and likely range with the unit.
fn told(figures: &OverSeasons) -> String {
    format!("{}\u{a0}{}", figures.text, figures.mean.unit)
}
