//! The schedules of a scenario's alternatives, which all start on the same day.

use super::called;
use super::error::SeasonError;
use crate::model::{Alternative, Scenario};
use crate::root_zone::ground::Ground;
use crate::schedule::{self, Plan};

/// Schedules of all alternatives in the first season.
///
/// # Errors
/// If one of them cannot be made.
pub fn plans(scenario: &Scenario) -> Result<Vec<Plan>, SeasonError> {
    plans_in(scenario, None, 0)
}

/// Schedules of all alternatives in season number `season`. Only passes that are called differ from
/// season to season; `ground` stands in for the scenario's where there is one.
pub(crate) fn plans_in(
    scenario: &Scenario,
    ground: Option<&Ground>,
    season: u32,
) -> Result<Vec<Plan>, SeasonError> {
    let days = match &scenario.called {
        Some(called) => Some(called::days(scenario, called, ground, season)?),
        None => None,
    };
    let plan = |alternative: &Alternative| {
        let calendar = scenario.calendar_of(alternative);
        let plan = match &days {
            Some(days) => schedule::plan_called(calendar, &alternative.stops(), days),
            None => schedule::plan(calendar, &alternative.stops()),
        };
        let plan = plan.map_err(|problem| SeasonError::Schedule {
            alternative: alternative.name.clone(),
            problem,
        })?;
        if calendar.start.date() == scenario.calendar.start.date() {
            Ok(plan)
        } else {
            Err(SeasonError::OtherFirstDay { alternative: alternative.name.clone() })
        }
    };
    scenario.alternatives.iter().map(plan).collect()
}
