//! Water called by depletion: the rule, and the dates it gives in the first season.

use super::{crop_calendar, season};
use crate::file::ScenarioFile;
use crate::issue::Issue;
use crate::notes::Notes;
use crate::read::optional;
use evenfall_core::model::{Called, Scenario};
use evenfall_core::schedule::Plan;
use evenfall_core::season::{SeasonError, plans};
use evenfall_core::worth::Agronomy;

/// The scenario with its rule of calling; `None` if something about it is bad.
pub(crate) fn resolve(
    file: &ScenarioFile,
    scenario: Scenario,
    agronomy: Option<&Agronomy>,
    notes: &mut Notes<'_>,
) -> Option<Scenario> {
    let Some(given) = file.season.0.as_ref() else { return Some(scenario) };
    let Some(share) = &given.irrigate_at_depletion else { return Some(scenario) };
    let (Some(agronomy), Some(crop)) = (agronomy, optional(&file.crop)) else {
        if notes.issues.is_empty() {
            let problem = "`irrigate_at_depletion` needs a crop, a soil and a climate";
            let hint = "Add `crop`, `soil` and `climate`, or use `pass_interval`.";
            notes.issues.push(Issue::new(&share.at, problem).hint(hint));
        }
        return None;
    };
    // What is wrong with the ground is told with the crop.
    let first = scenario.calendar.start.date();
    let ground = match agronomy.ground(first, 1, Some(scenario.drawn_weather())) {
        Ok(ground) => ground,
        Err(error) => {
            notes.issues.push(Issue::new(&crop.at.opening(), error.to_string()));
            return None;
        }
    };
    let least_every_h = given.min_pass_interval.as_ref().map_or(0.0, |every| every.value);
    let called = Called { share_of_raw: share.value, least_every_h, ground };
    let scenario = Scenario { called: Some(called), ..scenario };
    let why = "calls follow the mean root zone of the first alternative, with its net water taken \
               as uniform; all alternatives run on the same days; other seasons call on other days";
    notes.assume("/season/irrigate_at_depletion", share.text.clone(), why);
    match plans(&scenario) {
        Ok(plans) => {
            let names = scenario.alternatives.iter().map(|alternative| alternative.name.clone());
            let named: Vec<(String, Plan)> = names.zip(plans).collect();
            let ground = (agronomy, Some(scenario.drawn_weather()));
            crop_calendar::check(crop, given, ground, &named, notes);
            Some(scenario)
        }
        Err(SeasonError::Schedule { problem, .. }) => {
            notes.issues.push(season::clash(given, &problem));
            None
        }
        Err(error) => {
            notes.issues.push(Issue::new(&share.at, error.to_string()));
            None
        }
    }
}
