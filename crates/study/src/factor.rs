//! What is varied: a key of the scenario, by levels or over a range.

use crate::plan::{FactorFile, RangeFile};
use crate::problem::Problems;
use serde_json::Value;

/// A factor.
#[derive(Clone, Debug, PartialEq)]
pub struct Factor {
    /// Its name and that of its column.
    pub name: String,
    /// The key that it sets, a JSON pointer.
    pub pointer: String,
    /// What it may be.
    pub(crate) values: Values,
}

/// What a factor may be.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Values {
    /// One of these.
    Levels(Vec<Value>),
    /// Any number between.
    Range(RangeFile),
    /// Whatever a list says.
    Listed,
}

impl Factor {
    /// The factors of a plan; with `listed` their values come from a list.
    pub(crate) fn all(files: &[FactorFile], listed: bool, problems: &mut Problems) -> Vec<Self> {
        let factors: Vec<Self> =
            files.iter().filter_map(|file| Self::of(file, listed, problems)).collect();
        for (at, factor) in factors.iter().enumerate() {
            if factors[..at].iter().any(|known| known.name == factor.name) {
                problems.push(format!(
                    "two factors are called “{}”. Give one of them another \"name\"",
                    factor.name
                ));
            }
            if factors[..at].iter().any(|known| known.pointer == factor.pointer) {
                problems.push(format!("two factors set {}. Keep one of them", factor.pointer));
            }
        }
        factors
    }

    fn of(file: &FactorFile, listed: bool, problems: &mut Problems) -> Option<Self> {
        let pointer = file.pointer.clone();
        if !pointer.starts_with('/') || pointer.len() < 2 {
            problems.push(format!(
                "\"{pointer}\" is no JSON pointer. Expected the way to a key, such as /outlets/spacing"
            ));
            return None;
        }
        let last = pointer.rsplit('/').next().unwrap_or_default();
        let name = file.name.clone().unwrap_or_else(|| last.to_owned());
        let values = match (&file.levels, &file.range, listed) {
            (None, None, true) => Values::Listed,
            (Some(levels), None, false) if !levels.is_empty() => Values::Levels(levels.clone()),
            (None, Some(range), false) => {
                let RangeFile { low, high, steps, .. } = range;
                if !(low.is_finite() && high.is_finite() && low < high) {
                    problems.push(format!(
                        "the range of “{name}” goes from {low} to {high}. Expected \"low\" below \"high\""
                    ));
                }
                if steps.is_some_and(|steps| !(2..=10_000).contains(&steps)) {
                    problems.push(format!(
                        "the range of “{name}” has {} steps. Expected 2 to 10000",
                        steps.unwrap_or_default()
                    ));
                }
                Values::Range(range.clone())
            }
            (_, _, true) => {
                problems.push(format!(
                    "“{name}” has levels or a range, and the design is a list. Leave them out: the list \
                     has the values"
                ));
                return None;
            }
            (Some(_), Some(_), _) => {
                problems.push(format!("“{name}” has levels and a range. Give one of the two"));
                return None;
            }
            _ => {
                problems.push(format!("“{name}” has no levels. Give \"levels\" or a \"range\""));
                return None;
            }
        };
        Some(Self { name, pointer, values })
    }

    /// How many levels it has in a full design.
    pub(crate) fn count(&self) -> Option<usize> {
        match &self.values {
            Values::Levels(levels) => Some(levels.len()),
            Values::Range(range) => range.steps,
            Values::Listed => None,
        }
    }

    /// The levels of a full design.
    pub(crate) fn levels(&self) -> Option<Vec<Value>> {
        match &self.values {
            Values::Levels(levels) => Some(levels.clone()),
            Values::Range(range) => {
                let steps = range.steps?;
                let place = |step: usize| step as f64 / (steps.max(2) - 1) as f64;
                Some((0..steps).map(|step| within(range, place(step))).collect())
            }
            Values::Listed => None,
        }
    }

    /// The value at `place`, 0–1, of its levels or its range.
    pub(crate) fn at(&self, place: f64) -> Value {
        match &self.values {
            Values::Levels(levels) => {
                let number = (place * levels.len() as f64) as usize;
                levels[number.min(levels.len() - 1)].clone()
            }
            Values::Range(range) => within(range, place),
            Values::Listed => Value::Null,
        }
    }

    /// Values at its ends: what a scenario must take, whatever else is varied.
    pub(crate) fn ends(&self) -> Vec<Value> {
        match &self.values {
            Values::Levels(levels) => levels.clone(),
            Values::Range(range) => vec![within(range, 0.0), within(range, 1.0)],
            Values::Listed => Vec::new(),
        }
    }
}

/// The number at `place` of a range, with its unit as a scenario takes it.
fn within(range: &RangeFile, place: f64) -> Value {
    // Weighted, so that both ends come out exactly.
    let number = range.low * (1.0 - place) + range.high * place;
    match &range.unit {
        Some(unit) => Value::from(format!("{number} {unit}")),
        None => Value::from(number),
    }
}
