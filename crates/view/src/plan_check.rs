//! The plan before the rotation as it is shown: every number beside its yardstick, in a sentence each.
//! Made once; report, terminal, summary.json and the explorer's answer follow from it.

mod layout;
mod row;
mod shown;
mod sprinklers;
mod water;

pub use row::{PlanRow, PlanStatus};

use crate::units::UnitSystem;
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::plan_check::{AlternativeCheck, PlanCheck as Found};
use serde::Serialize;
use shown::{Kind, Show};
use utoipa::ToSchema;
use water::Subject;

/// The heading under which it stands.
pub const PLAN_HEADING: &str = "The plan before the rotation";

/// The plans of all alternatives beside their yardsticks.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct PlanCheck {
    /// What comes out, in one sentence.
    pub headline: String,
    /// In the scenario's order, the baseline first.
    pub alternatives: Vec<AlternativePlan>,
}

/// One alternative's plan.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct AlternativePlan {
    /// Its name.
    pub name: String,
    /// Every check.
    pub rows: Vec<PlanRow>,
}

impl PlanCheck {
    /// The check of the plans of `scenario` that came out as `found`; the two belong together.
    pub fn new(scenario: &Scenario, found: &Found, units: UnitSystem) -> Self {
        let show = Show(units);
        let peak_words = peak_words(show, found);
        let alternative = |(asked, own): (&Alternative, &AlternativeCheck)| {
            let subject = Subject {
                show,
                found: own,
                peak: found.peak.as_ref(),
                peak_words: &peak_words,
                is_called: found.is_called,
            };
            AlternativePlan { name: asked.name.clone(), rows: rows(&subject, asked) }
        };
        let pairs = scenario.alternatives.iter().zip(&found.alternatives);
        let alternatives: Vec<AlternativePlan> = pairs.map(alternative).collect();
        Self { headline: headline(alternatives.first()), alternatives }
    }

    /// The baseline's rows, and of every other alternative those that differ from it, with its name.
    pub fn distinct(&self) -> Vec<(&str, Vec<&PlanRow>)> {
        let Some((baseline, others)) = self.alternatives.split_first() else { return Vec::new() };
        let mut all = vec![(baseline.name.as_str(), baseline.rows.iter().collect())];
        for other in others {
            let is_own = |row: &&PlanRow| {
                let same = baseline.rows.iter().find(|known| known.key == row.key);
                same.is_none_or(|known| known.words() != row.words() || known.status != row.status)
            };
            let own: Vec<&PlanRow> = other.rows.iter().filter(is_own).collect();
            if !own.is_empty() {
                all.push((other.name.as_str(), own));
            }
        }
        all
    }

    /// The faults of the baseline, then those that others have beyond it, with their names.
    pub fn faults(&self) -> Vec<(&str, &PlanRow)> {
        let of_baseline = self.alternatives.first().map_or(&[][..], |first| &first.rows);
        let is_known = |row: &PlanRow| {
            of_baseline.iter().any(|known| known.key == row.key && known.is_fault())
        };
        let mut all: Vec<(&str, &PlanRow)> = Vec::new();
        for (number, alternative) in self.alternatives.iter().enumerate() {
            let faults = alternative.rows.iter().filter(|row| row.is_fault());
            let new = faults.filter(|row| number == 0 || !is_known(row));
            all.extend(new.map(|row| (alternative.name.as_str(), row)));
        }
        all
    }
}

fn rows(subject: &Subject<'_>, asked: &Alternative) -> Vec<PlanRow> {
    let spacing_m = [asked.outlets.spacing_m, asked.lateral.sprinkler_spacing_m];
    let mut rows = water::depths(subject);
    rows.push(water::rate(subject));
    rows.push(water::interval(subject));
    rows.extend(water::capacity(subject));
    rows.extend(layout::ends(subject));
    rows.extend(layout::spacing(subject, spacing_m));
    rows.push(sprinklers::pressure(subject));
    rows.extend(sprinklers::state(subject, asked.condition.survey.as_ref()));
    rows
}

/// "In July alfalfa uses about 0.30 in/day at its peak".
fn peak_words(show: Show, found: &Found) -> String {
    let (Some(peak), Some(plan)) = (&found.peak, found.plans.first()) else { return String::new() };
    let middle_h = 24.0 * (peak.first_day as f64 + 0.5 * peak.days as f64);
    let month = plan.date_time(middle_h).strftime("%B").to_string();
    let crop = found.crop_name.as_deref().unwrap_or("the crop");
    let crop = crop.split(',').next().unwrap_or(crop);
    let years =
        if peak.years > 1 { format!(", mean of {} years", peak.years) } else { String::new() };
    format!(
        "In {month} {crop} uses about {} (highest {}-day mean{years})",
        show.text(Kind::Daily, peak.etc_mm_d),
        peak.days
    )
}

/// How many faults the baseline's plan has, and what could not be checked.
fn headline(baseline: Option<&AlternativePlan>) -> String {
    let Some(AlternativePlan { name, rows }) = baseline else { return String::new() };
    let count = |status| rows.iter().filter(|row| row.status == status).count();
    let (faults, unknown) = (count(PlanStatus::Fault), count(PlanStatus::NotKnown));
    let found = match faults {
        0 => format!("The plan of “{name}” keeps to every yardstick that could be checked"),
        1 => format!("The plan of “{name}” misses one yardstick"),
        many => format!("The plan of “{name}” misses {many} yardsticks"),
    };
    let open = match unknown {
        0 => String::new(),
        1 => "; one thing could not be checked".to_owned(),
        many => format!("; {many} things could not be checked"),
    };
    format!("{found}{open}.")
}

#[cfg(test)]
mod tests;
