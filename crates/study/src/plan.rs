//! The plan file: which scenario, what varies in it, how often, what is kept.

use crate::base;
use crate::plain_words::plain_words;
use crate::problem::Problems;
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A plan as it is written.
///
/// ```json
/// {
///   "base": "my-field.json",
///   "factors": [
///     { "name": "spacing", "pointer": "/outlets/spacing", "levels": ["50 ft", "60 ft"] },
///     { "pointer": "/weather/mean_speed", "range": { "low": 2, "high": 6, "unit": "m/s" } }
///   ],
///   "replicates": 20,
///   "design": { "sobol": 64 },
///   "responses": ["cu_percent", "systematic_points"]
/// }
/// ```
#[derive(Clone, Debug, Deserialize, Serialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct PlanFile {
    /// What the study is about, for whoever reads it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub title: String,
    /// The scenario that is varied: a file beside the plan.
    pub base: String,
    /// What is varied.
    #[serde(default)]
    pub factors: Vec<FactorFile>,
    /// Seasons of every point.
    #[serde(default = "one")]
    pub replicates: usize,
    /// Number of the first season, from 1.
    #[serde(default = "one")]
    pub first_season: usize,
    /// Which points: `"full"`, `{"list": "points.csv"}`, `{"latin_hypercube": 64}`, `{"sobol": 64}`.
    #[serde(default)]
    pub design: DesignFile,
    /// Seed of what a design draws.
    #[serde(default = "seed")]
    pub design_seed: u32,
    /// Figures that are kept; all of them where this is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub responses: Option<Vec<String>>,
    /// Points of a block.
    #[serde(default = "block_points")]
    pub block_points: usize,
    /// Seasons of a block, an even number.
    #[serde(default = "block_seasons")]
    pub block_seasons: usize,
}

/// A factor as it is written.
#[derive(Clone, Debug, Deserialize, Serialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct FactorFile {
    /// Its name and that of its column; else the end of the pointer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The key that it sets, a JSON pointer (RFC 6901) into the base scenario.
    pub pointer: String,
    /// Its levels, as they stand in a scenario.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub levels: Option<Vec<Value>>,
    /// A range instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub range: Option<RangeFile>,
}

/// A range of a number.
#[derive(Clone, Debug, Deserialize, Serialize, PartialEq)]
#[serde(deny_unknown_fields)]
pub struct RangeFile {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Unit as a scenario takes it; none for a bare number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Levels that a full design makes of it, ends included.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub steps: Option<usize>,
}

/// Which points a study has.
#[derive(Clone, Debug, Default, Deserialize, Serialize, PartialEq, Eq)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum DesignFile {
    /// Every level with every other.
    #[default]
    Full,
    /// Those of a CSV file beside the plan, a column a factor.
    List(String),
    /// So many, each range and list of levels parted evenly, at random places within the parts.
    LatinHypercube(usize),
    /// So many of a scrambled Sobol sequence.
    Sobol(usize),
}

fn one() -> usize {
    1
}

fn seed() -> u32 {
    1
}

fn block_points() -> usize {
    8
}

fn block_seasons() -> usize {
    64
}

/// Most replicates, and the largest number of a season.
const MOST_SEASONS: usize = 1_000_000;

impl PlanFile {
    /// The file with the points, where the design is a list.
    pub fn list(&self) -> Option<&str> {
        match &self.design {
            DesignFile::List(name) => Some(name),
            _ => None,
        }
    }

    /// Reads a plan and checks what can be told of it alone.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn read(text: &str) -> Result<Self, Problems> {
        let unread = |why: String| Problems::of(format!("the plan cannot be read, {why}"));
        if text.trim_start_matches('\u{feff}').trim().is_empty() {
            return Err(Problems::of(
                "the plan is empty. Give at least its \"base\", a scenario file",
            ));
        }
        base::json(text).map_err(unread)?;
        let mut json = serde_json::Deserializer::from_str(text.trim_start_matches('\u{feff}'));
        let plan: Self = serde_path_to_error::deserialize(&mut json)
            .map_err(|error| unread(plain_words(&error)))?;
        let mut problems = Problems::default();
        let mut within = |name: &str, value: usize, most: usize| {
            if !(1..=most).contains(&value) {
                problems.push(format!("{name} is {value}. Expected 1 to {most}"));
            }
        };
        within("replicates", plan.replicates, MOST_SEASONS);
        within("first_season", plan.first_season, MOST_SEASONS);
        within("block_points", plan.block_points, 10_000);
        within("block_seasons", plan.block_seasons, 10_000);
        if !plan.block_seasons.is_multiple_of(2) {
            problems.push(format!(
                "block_seasons is {}. Expected an even number: two seasons share what is drawn of the \
                 doubts",
                plan.block_seasons
            ));
        }
        problems.or(plan)
    }
}
