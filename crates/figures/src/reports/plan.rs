//! The plan before the rotation: a table and sentences for the report, lines for a terminal. All
//! numbers and words are those of [`evenfall_view::PlanCheck`]; here they are only laid out.

use crate::error::DrawError;
use crate::reports::file_json::file_value;
use crate::reports::worth::terminal::folded;
use crate::table::{Group, Row, Table};
use evenfall_core::model::Scenario;
use evenfall_core::plan_check::PlanCheck as Found;
use evenfall_view::units::UnitSystem;
use evenfall_view::{PLAN_HEADING, PlanCheck, PlanRow};
use serde_json::Value;

/// Most characters of a line of sentences on a terminal.
const LINE: usize = 96;

/// The faults in sentences; those that an alternative has beyond the baseline with its name.
pub(crate) fn faults(plan: &PlanCheck) -> Vec<String> {
    let baseline = plan.alternatives.first().map_or("", |first| first.name.as_str());
    let line = |(name, row): (&str, &PlanRow)| {
        let of = if name == baseline { String::new() } else { format!("{name}: ") };
        format!("{of}{}", row.words())
    };
    plan.faults().into_iter().map(line).collect()
}

/// Every check of the baseline, then what differs in the others.
pub(crate) fn table(plan: &PlanCheck) -> Table {
    let row = |row: &&PlanRow| {
        // Faults stand above the table in full.
        let words = if row.is_fault() { String::new() } else { row.words() + " " };
        let finding = format!("{words}Yardstick: {}.", row.source);
        let own = [row.value.text.clone(), row.yardstick_words(), row.status.word().to_owned()];
        Row::new(row.label, own.into_iter().chain([finding]).collect())
    };
    let distinct = plan.distinct();
    let is_alone = distinct.len() == 1;
    let groups = distinct.iter().enumerate().map(|(number, (name, rows))| {
        let heading = match number {
            _ if is_alone => String::new(),
            0 => (*name).to_owned(),
            _ => format!("{name}, where it differs"),
        };
        Group { heading, rows: rows.iter().map(row).collect() }
    });
    let head = ["", "Plan", "Yardstick", "", "What that means"];
    Table { groups: groups.collect(), ..Table::new("", &head) }
}

/// The whole check for a terminal, under its heading. Ends with a line break.
pub fn plan_text(scenario: &Scenario, found: &Found, units: UnitSystem) -> String {
    let plan = PlanCheck::new(scenario, found, units);
    let mut lines = vec![PLAN_HEADING.to_owned(), plan.headline.clone()];
    for (number, (name, rows)) in plan.distinct().iter().enumerate() {
        lines.extend((number > 0).then(|| format!("{name}, where it differs:")));
        let told = rows.iter().map(|row| format!("{}: {}", row.status.word(), row.words()));
        lines.extend(told.flat_map(|words| indented(&words)));
    }
    lines.join("\n") + "\n"
}

/// The whole check in SI for other programs.
///
/// # Errors
/// If the library refuses.
pub fn plan_json(scenario: &Scenario, found: &Found) -> Result<Value, DrawError> {
    file_value(&PlanCheck::new(scenario, found, UnitSystem::Si))
}

/// One line for every fault, for a terminal; empty without any.
pub fn plan_fault_lines(scenario: &Scenario, found: &Found, units: UnitSystem) -> Vec<String> {
    let plan = PlanCheck::new(scenario, found, units);
    let line = |words: String| format!("Plan: {}", words.replace('\u{a0}', " "));
    faults(&plan).into_iter().map(line).collect()
}

/// Folded lines, the first one less indented.
fn indented(words: &str) -> Vec<String> {
    let text = folded(&words.replace('\u{a0}', " "), LINE);
    let lines = text.lines().enumerate();
    lines
        .map(|(number, line)| format!("{}{line}", if number == 0 { "  " } else { "    " }))
        .collect()
}
