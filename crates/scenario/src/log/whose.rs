//! Which scenario and which of its alternatives a log is of.

use crate::issue::{Issue, Issues};
use crate::place::At;
use crate::suggest;
use evenfall_core::clock::STANDARD_TIME;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Plan;
use evenfall_core::season;

/// The plan of the alternative at `index`.
pub(super) fn plan(
    root: &At,
    index: Option<usize>,
    scenario: &Scenario,
    issues: &mut Issues,
) -> Option<Plan> {
    match season::plans(scenario) {
        Ok(mut plans) => index.map(|index| plans.swap_remove(index)),
        Err(error) => {
            issues.push(Issue::new(&root.opening(), error.to_string()));
            None
        }
    }
}

/// Refuses a log of another scenario.
pub(super) fn check_title(title: &str, at: &At, scenario: &Scenario, issues: &mut Issues) {
    if title != scenario.title.trim() {
        let problem = format!("this log belongs to another scenario, \"{title}\"");
        issues.push(
            Issue::new(at, problem)
                .allowed(format!("the title of this scenario, \"{}\"", scenario.title)),
        );
    }
}

/// Refuses times of another clock, which would be an hour off without anybody seeing it.
pub(super) fn check_clock(clock: &str, at: &At, scenario: &Scenario, issues: &mut Issues) {
    let own = scenario.calendar.clock.zone_name().unwrap_or(STANDARD_TIME);
    if clock != own {
        let problem = format!("its times are of the clock \"{clock}\"");
        let hint = "The scenario's `time_zone` has changed since. Set it back, or write the times as \
                    its clock shows them and change this too.";
        issues.push(Issue::new(at, problem).allowed(format!("\"{own}\"")).hint(hint));
    }
}

/// Which alternative is called `name`.
pub(super) fn alternative(
    name: &str,
    at: &At,
    scenario: &Scenario,
    issues: &mut Issues,
) -> Option<usize> {
    let names = || scenario.alternatives.iter().map(|alternative| alternative.name.as_str());
    let found = names().position(|known| known.to_lowercase() == name.to_lowercase());
    if found.is_none() {
        let problem = format!("the scenario has no alternative \"{name}\"");
        let mut issue = Issue::new(at, problem)
            .allowed(names().map(|name| format!("\"{name}\"")).collect::<Vec<_>>().join(", "));
        if let Some(near) = suggest::nearest(name, names()) {
            issue = issue.hint(format!("Did you mean \"{near}\"?"));
        }
        issues.push(issue);
    }
    found
}
