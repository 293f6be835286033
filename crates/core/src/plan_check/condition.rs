//! Worn nozzles and leaks beside what a line in good repair has, and the water they take.
//!
//! A nozzle is worn when it delivers more than 5 % over what it is stated to, or when a drill bit of its
//! size is loose in the bore (common practice, no source). A line whose gaskets and drains hold loses
//! next to nothing; more than 2 % of the flow is called a leak here (judgment, no source).
//!
//! Worn nozzles pass Σ (f − 1) over Σ f of the line's water beyond what they are stated to, f being the
//! discharges of those measured over the stated ones; sprinklers that were not measured are taken to be
//! like them.

use super::yardstick::Yardstick;
use crate::lateral::Condition;
use crate::lateral::survey::WORN;

/// Share of the flow into a line from which leaks are called such.
const LEAKY: f64 = 0.02;

/// Nozzles beside what they are stated to deliver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NozzleState {
    /// Those measured; `None` where wear is stated for all.
    pub measured: Option<usize>,
    /// Those of them that are worn.
    pub worn: usize,
    /// Discharge of the most worn one over the stated, less 1, against the limit.
    pub against_limit: Yardstick,
    /// What worn nozzles pass beyond what they are stated to, of the water through the nozzles.
    pub water_share: f64,
}

impl NozzleState {
    /// That of a lateral; `None` where nobody has looked.
    pub fn of(condition: &Condition) -> Option<Self> {
        let measured = condition.survey.as_ref().filter(|survey| !survey.nozzles.is_empty());
        let stated = condition.wear.map(|wear| vec![1.0 + wear]);
        let nozzles = measured.map(|survey| survey.nozzles.clone()).or(stated)?;
        let worn = || nozzles.iter().filter(|share| **share > 1.0 + WORN + 1e-9);
        let beyond: f64 = worn().map(|share| share - 1.0).sum();
        let most = nozzles.iter().copied().fold(0.0, f64::max);
        Some(Self {
            measured: measured.map(|survey| survey.nozzles.len()),
            worn: worn().count(),
            against_limit: Yardstick::at_most(most - 1.0, WORN),
            water_share: beyond / nozzles.iter().sum::<f64>(),
        })
    }
}

/// Share of the flow that leaks, against the limit; `None` where nobody has looked.
pub(super) fn leaks(condition: &Condition) -> Option<Yardstick> {
    condition.leaks.map(|share| Yardstick::at_most(share, LEAKY))
}
