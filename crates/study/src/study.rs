//! A study: a plan with its scenario, its points and its blocks.

use crate::base::{self, Load, Wrong, checked};
use crate::blocks::{Block, Blocks};
use crate::columns::Layout;
use crate::csv_list;
use crate::design::points;
use crate::factor::Factor;
use crate::plan::{DesignFile, PlanFile};
use crate::point::set;
use crate::problem::Problems;
use evenfall_scenario::Resolved;
use serde_json::{Value, json};
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// What tells the layout of parts apart from an earlier one's.
const LAYOUT: &str = "evenfall study 1";

/// Values of a listed factor that are tried by themselves before anything runs.
const MOST_TRIED: usize = 100;

/// A study.
#[derive(Debug)]
pub struct Study {
    /// The plan.
    pub plan: PlanFile,
    pub(crate) factors: Vec<Factor>,
    pub(crate) points: Vec<Vec<Value>>,
    pub(crate) base: Value,
    pub(crate) layout: Layout,
    pub(crate) version: String,
    digest: String,
    blocks: Blocks,
    /// Alternatives of the base scenario.
    alternatives: usize,
}

impl Study {
    /// A study after `plan`, of the scenario `base_text`, whose files come through `load`; `list` is
    /// the file of points where the plan names one, `version` that of the program.
    ///
    /// # Errors
    /// Everything that is wrong: factors that name no key, levels out of their limits, designs that
    /// cannot be made.
    pub fn new(
        plan: PlanFile,
        base_text: &str,
        list: Option<&str>,
        load: Load<'_>,
        version: &str,
    ) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let listed = matches!(plan.design, DesignFile::List(_));
        let factors = Factor::all(&plan.factors, listed, &mut problems);
        let base = base::json(base_text)
            .map_err(|why| Problems::of(format!("{} cannot be read, {why}", plan.base)))?;
        let of_list = match (&plan.design, list) {
            (DesignFile::List(name), Some(text)) => {
                Some(csv_list::read(text, name, &factors, &mut problems))
            }
            _ => None,
        };
        let points = points(&plan.design, &factors, plan.design_seed, of_list, &mut problems);
        let resolved = match checked(&base, load) {
            Ok(resolved) => Some(resolved),
            Err(refused) => {
                for one in &refused.wrong {
                    problems.push(format!("{}, at {}: {}", plan.base, one.pointer, one.words));
                }
                problems.count_on(refused.more);
                None
            }
        };
        if let Some(resolved) = &resolved {
            check_base(&plan, resolved, &mut problems);
            // Of a design that cannot be made no level is tried: that may take as long as a study.
            if !(points.is_empty() && matches!(plan.design, DesignFile::Full)) {
                check_factors(&base, (&factors, &points), load, &mut problems);
            }
        }
        let layout = Layout::of(&factors, &points, plan.responses.as_deref(), &mut problems);
        let blocks = Blocks {
            points: points.len(),
            seasons: (plan.first_season - 1, plan.replicates),
            block_points: plan.block_points,
            block_seasons: plan.block_seasons,
        };
        let base_digest = resolved.as_ref().map_or("", |resolved| resolved.digest.as_str());
        let digest = digest(&[
            LAYOUT,
            version,
            base_digest,
            &serde_json::to_string(&bare(&plan)).unwrap_or_default(),
            &serde_json::to_string(&points).unwrap_or_default(),
        ]);
        let alternatives = resolved.map_or(0, |resolved| resolved.scenario.alternatives.len());
        let version = version.to_owned();
        problems.or(Self {
            plan,
            factors,
            points,
            base,
            layout,
            version,
            digest,
            blocks,
            alternatives,
        })
    }

    /// Digest of the plan, its points, the scenario with its files, and the program's version.
    pub fn digest(&self) -> &str {
        &self.digest
    }

    /// What the study is, as JSON: for its folder, and for whoever finds it.
    pub fn about(&self) -> String {
        let all = json!({
            "study_sha256": self.digest,
            "title": self.plan.title,
            "version": self.version,
            "points": self.points.len(),
            "blocks": self.blocks.count(),
            "rows_at_most": self.rows(),
            "plan": bare(&self.plan),
            "base_scenario": self.base,
            "columns": self.layout.about(),
        });
        format!("{all:#}\n")
    }

    /// Number of points.
    pub fn points(&self) -> usize {
        self.points.len()
    }

    /// Number of blocks.
    pub fn blocks(&self) -> usize {
        self.blocks.count()
    }

    /// A block.
    pub fn block(&self, number: usize) -> Block {
        self.blocks.block(number)
    }

    /// Rows to expect, if every point can be reached and has as many alternatives as the base.
    pub fn rows(&self) -> usize {
        self.points.len() * self.plan.replicates * self.alternatives
    }

    /// The same of one block.
    pub fn rows_of(&self, block: &Block) -> usize {
        block.points.len() * block.seasons.len() * self.alternatives
    }

    /// The scenario of point `point`.
    pub(crate) fn scenario(&self, point: usize) -> Value {
        let mut scenario = self.base.clone();
        for (factor, value) in self.factors.iter().zip(&self.points[point]) {
            // The way was checked when the study was made.
            let _ = set(&mut scenario, &factor.pointer, value.clone());
        }
        scenario
    }
}

/// The plan without the folders of the files that it names: where they lie is nobody else's business,
/// and what they hold counts by itself.
fn bare(plan: &PlanFile) -> PlanFile {
    let name = |path: &str| path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned();
    let mut bare = PlanFile { base: name(&plan.base), ..plan.clone() };
    if let DesignFile::List(list) = &mut bare.design {
        *list = name(list);
    }
    bare
}

fn check_base(plan: &PlanFile, resolved: &Resolved, problems: &mut Problems) {
    let Some((_, economics)) = &resolved.worth else {
        problems.push(format!(
            "{} has no crop, soil and climate, so there are no seasons to run. Fill these sections in",
            plan.base
        ));
        return;
    };
    if economics.doubts && plan.first_season.is_multiple_of(2) {
        problems.push(format!(
            "first_season is {}. With doubts drawn it must be odd: seasons 1 and 2, 3 and 4 … share what is \
             drawn of the doubts",
            plan.first_season
        ));
    }
}

/// Sets every factor by itself to each of its ends: what the key itself refuses is a fault of the plan.
/// What other keys refuse with it may be right at other points, and is told there.
fn check_factors(
    base: &Value,
    (factors, points): (&[Factor], &[Vec<Value>]),
    load: Load<'_>,
    problems: &mut Problems,
) {
    for (number, factor) in factors.iter().enumerate() {
        let mut values = factor.ends();
        if values.is_empty() {
            for point in points {
                // Of a long list the rest is told by the rows themselves.
                if values.len() < MOST_TRIED && !values.contains(&point[number]) {
                    values.push(point[number].clone());
                }
            }
        }
        for value in values {
            let mut scenario = base.clone();
            if let Err(why) = set(&mut scenario, &factor.pointer, value.clone()) {
                problems.push(format!(
                    "factor “{}” sets {}, and {why}. Name a key of the scenario, or put it there",
                    factor.name, factor.pointer
                ));
                break;
            }
            let Err(refused) = checked(&scenario, load) else { continue };
            for one in refused.wrong.iter().filter(|one| one.is_at(&factor.pointer)) {
                let Wrong { pointer, words } = one;
                problems
                    .push(format!("factor “{}” at {pointer}, value {value}: {words}", factor.name));
            }
        }
    }
}

fn digest(parts: &[&str]) -> String {
    let mut hash = Sha256::new();
    for part in parts {
        // Lengths go in so that no two lists run together to the same bytes.
        hash.update((part.len() as u64).to_le_bytes());
        hash.update(part.as_bytes());
    }
    hash.finalize().iter().fold(String::new(), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
