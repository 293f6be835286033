//! Made-up notes beside the made-up season.

use super::wheel_reach;
use evenfall_core::compare::{AreaDepth, RuleOfThumb};
use evenfall_core::model::Scenario;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{Economics, Worth};
use evenfall_figures::Report;
use evenfall_view::{
    AlternativeRules, AlternativeWheel, AreaTable, Assumption, ReportNotes, UnitSystem,
};

pub(crate) fn notes(scenario: &Scenario) -> ReportNotes {
    let names = || scenario.alternatives.iter().map(|a| a.name.clone());
    let rule = RuleOfThumb {
        rule: "Two alternate shifts: CUa = 10 √CU",
        source: "NEH 15-11 (1983); Keller & Bliesner 1990",
        predicted: 0.894,
        simulated: 0.891,
    };
    let area = |share: f64| AreaDepth {
        area_share: share,
        normal: 1.55 - 0.8 * share,
        simulated: 1.5 - 0.7 * share,
    };
    let rules = |alternative| AlternativeRules { alternative, rules: vec![rule.clone()] };
    let areas =
        |alternative| AreaTable { alternative, depths: [0.95, 0.8, 0.5].map(area).to_vec() };
    let wheels = |alternative| AlternativeWheel { alternative, reach: wheel_reach() };
    ReportNotes {
        even: Vec::new(),
        made_at: None,
        question: "Does it pay to stop the line 20 ft before and beyond the outlets in turn, \
            instead of always at the outlets?"
            .to_owned(),
        invented: true,
        assumptions: vec![Assumption {
            what: "Drag correction K1".to_owned(),
            value: "0.5".to_owned(),
            why: "Default; a fitted number, see the sources.".to_owned(),
        }],
        inputs: Vec::new(),
        inputs_words: "3 of the 14 numbers that matter are yours.".to_owned(),
        warnings: vec!["The drift of 7 ft a pass has to be taken out.".to_owned()],
        sources: vec![
            "Christiansen, J. E. 1942. Irrigation by sprinkling. Bulletin 670.".to_owned(),
        ],
        limits: vec!["Pressure is the same along the pipe.".to_owned()],
        version: "0.1.0".to_owned(),
        commit: String::new(),
        digest: "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08".to_owned(),
        command: "evenfall season demo.json --into report".to_owned(),
        rules: names().map(rules).collect(),
        areas: names().map(areas).collect(),
        wheels: names().map(wheels).collect(),
        plan: None,
    }
}

/// The report of a made-up season in US units, with what it is worth where that is given.
pub(crate) fn report<'a>(
    (scenario, outcome): (&'a Scenario, &'a Outcome),
    notes: &'a ReportNotes,
    worth: Option<(&'a Worth, &'a Economics)>,
) -> Report<'a> {
    let units = UnitSystem::Us;
    Report { scenario, scenario_text: "", named_files: &[], outcome, notes, worth, units }
}
