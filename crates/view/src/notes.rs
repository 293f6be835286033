//! What a report says beside scenario and outcome: plain texts, and values from the caller.

mod about;

use evenfall_core::compare::{AreaDepth, RuleOfThumb};
use evenfall_core::lateral::stops::WheelReach;
use evenfall_core::plan_check::PlanCheck;
use evenfall_core::uniformity::Uniformity;
use serde::Serialize;
use utoipa::ToSchema;

/// What the page says beside scenario and outcome: plain strings and values from the caller.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ReportNotes {
    /// The question the run answers.
    pub question: String,
    /// The scenario is made up; marked at the top of the page.
    pub invented: bool,
    /// Assumptions and defaults that were used.
    pub assumptions: Vec<Assumption>,
    /// The inputs that matter, and whose they are.
    pub inputs: Vec<Input>,
    /// How many of them are known, in a sentence.
    pub inputs_words: String,
    /// Warnings of the scenario reader.
    pub warnings: Vec<String>,
    /// Sources of equations, constants and data.
    pub sources: Vec<String>,
    /// Limits of what was computed.
    pub limits: Vec<String>,
    /// Version of the program.
    pub version: String,
    /// Commit that it was built from; empty where that was not told to the build.
    pub commit: String,
    /// Digest of the scenario text.
    pub digest: String,
    /// Command line that gives this report again.
    pub command: String,
    /// When it was made, ISO 8601, where the environment says so; results hold no other clock.
    pub made_at: Option<String>,
    /// Rules of thumb per alternative.
    pub rules: Vec<AlternativeRules>,
    /// Area table per alternative.
    pub areas: Vec<AreaTable>,
    /// Wheels per alternative (wheel lines only).
    pub wheels: Vec<AlternativeWheel>,
    /// Per alternative with its pipe described, the season's interior with all sprinklers at their
    /// stated pressure.
    pub even: Vec<AlternativeFigures>,
    /// The plans beside their yardsticks, where they were checked.
    pub plan: Option<PlanCheck>,
}

/// Figures of one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct AlternativeFigures {
    /// Name of the alternative.
    pub alternative: String,
    /// The figures.
    pub figures: Uniformity,
}

/// An assumption or default.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, ToSchema)]
pub struct Assumption {
    /// What was assumed.
    pub what: String,
    /// Its value with unit.
    pub value: String,
    /// Why, or whence.
    pub why: String,
}

/// An input that the answer rests on, and whose it is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, ToSchema)]
pub struct Input {
    /// Where it stands in the scenario, as a JSON pointer.
    pub what: String,
    /// What it is.
    pub label: &'static str,
    /// Its value as it is written; empty where it is not given.
    pub value: String,
    /// `yours`, `starting value`, `from a test` or `not given`.
    pub whose: &'static str,
    /// Somebody stated or measured it for this field.
    pub is_known: bool,
}

/// Rules of thumb of one alternative.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AlternativeRules {
    /// Name of the alternative.
    pub alternative: String,
    /// The rules.
    pub rules: Vec<RuleOfThumb>,
}

/// Area table of one alternative.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AreaTable {
    /// Name of the alternative.
    pub alternative: String,
    /// Depths by share of the area.
    pub depths: Vec<AreaDepth>,
}

/// The wheel of one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct AlternativeWheel {
    /// Name of the alternative.
    pub alternative: String,
    /// What its wheel can do.
    pub reach: WheelReach,
}
