//! A row of the check of a plan.

use crate::value::Amount;
use serde::Serialize;
use utoipa::ToSchema;

/// How a number of the plan stands beside its yardstick.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PlanStatus {
    /// Keeps to it.
    Fine,
    /// Does not.
    Fault,
    /// Something is missing that is needed to say so.
    NotKnown,
}

impl PlanStatus {
    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Fault => "fault",
            Self::NotKnown => "not known",
        }
    }
}

/// A number of the plan beside its yardstick.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct PlanRow {
    /// Which check: `set_depth`, `set_against_use`, `application_rate`, `interval`, `capacity`,
    /// `outlet_spacing`, `sprinkler_spacing`, `pressure`, `sprinklers`, `leaks`, `season_start`,
    /// `season_end`.
    pub key: &'static str,
    /// What is checked.
    pub label: &'static str,
    /// What the plan has.
    pub value: Amount,
    /// What it must keep to; `null` where that is not known.
    pub yardstick: Option<Amount>,
    /// "at most", "at least", or empty where there is no yardstick.
    pub side: &'static str,
    /// How it stands.
    pub status: PlanStatus,
    /// In one sentence or two.
    pub sentence: String,
    /// One thing to change; empty where nothing need be.
    pub change: String,
    /// Where the yardstick comes from.
    pub source: &'static str,
}

impl PlanRow {
    /// The finding and what to change.
    pub fn words(&self) -> String {
        let both = [self.sentence.as_str(), self.change.as_str()];
        both.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// "at most 2.30 in"; empty without a yardstick.
    pub fn yardstick_words(&self) -> String {
        let text = |limit: &Amount| format!("{} {}", self.side, limit.text).trim().to_owned();
        self.yardstick.as_ref().map_or_else(String::new, text)
    }

    /// Whether it misses its yardstick.
    pub fn is_fault(&self) -> bool {
        self.status == PlanStatus::Fault
    }
}
