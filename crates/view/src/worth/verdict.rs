//! The verdict on one alternative, as values; its words are those of `sentences`.

use super::source::{Rival, Source};
use evenfall_core::verdict::{Answer as Found, Hinge as FoundHinge, Reason, Settles};
use serde::Serialize;
use utoipa::ToSchema;

/// Whether an alternative pays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// It pays.
    Pays,
    /// It does not.
    DoesNotPay,
    /// It cannot be said yet.
    Inconclusive,
}

/// The verdict on an alternative.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Verdict {
    /// Whether it pays.
    pub answer: Answer,
    /// The answer to "does it pay?".
    pub word: &'static str,
    /// Why: `gain`, `loss`, `too_small`, `no_difference`, `noise`, `doubt`, `placeholder`,
    /// `missing_price`.
    pub reason: &'static str,
    /// In one sentence or two.
    pub sentence: String,
    /// Where the baseline's plan loses more than the alternative brings; `null` where it does not.
    pub plan: Option<String>,
    /// What would settle it, or what it hangs on, in sentences.
    pub settling: Vec<String>,
    /// What would settle it.
    pub settled_by: Vec<Settled>,
    /// Every price whose plausible range holds its break-even, the widest swing first.
    pub hangs_on: Vec<Hinge>,
}

/// What would settle an open answer.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
#[serde(rename_all = "snake_case", tag = "by")]
pub enum Settled {
    /// More seasons; `null`: no number of them worth running.
    Seasons {
        /// In all.
        in_all: Option<usize>,
        /// Beyond those at hand.
        more: Option<usize>,
    },
    /// Measuring what is doubtful.
    Measurement {
        /// The doubt by its key.
        doubt: &'static str,
    },
    /// Knowing a price.
    Price(Hinge),
    /// Telling what is missing: a price, or the equipment that a longer reach needs.
    Missing {
        /// Its name.
        price: String,
    },
}

/// A price on which the answer hangs.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Hinge {
    /// Its name.
    pub price: String,
    /// Its value at which the answer turns, in the unit of its name.
    pub break_even: f64,
    /// Nobody's number.
    pub is_placeholder: bool,
}

impl Hinge {
    fn new(source: &Source<'_>, found: &FoundHinge) -> Self {
        let (break_even, is_placeholder) = (found.break_even, found.is_placeholder);
        Self { price: source.key(found.price), break_even, is_placeholder }
    }
}

impl Verdict {
    pub(super) fn new(source: &Source<'_>, rival: &Rival<'_>) -> Self {
        let found = &rival.against.verdict;
        let (answer, word) = match found.answer {
            Found::Pays => (Answer::Pays, "yes"),
            Found::DoesNotPay => (Answer::DoesNotPay, "no"),
            Found::Inconclusive => (Answer::Inconclusive, "inconclusive"),
        };
        let reason = match found.reason {
            Reason::Gain => "gain",
            Reason::Loss => "loss",
            Reason::TooSmall => "too_small",
            Reason::NoDifference => "no_difference",
            Reason::Noise => "noise",
            Reason::Doubt => "doubt",
            Reason::Placeholder => "placeholder",
            Reason::MissingPrice => "missing_price",
        };
        let settled = |settles: &Settles| match settles {
            Settles::Seasons { in_all, more } => Settled::Seasons { in_all: *in_all, more: *more },
            Settles::Measuring(doubt) => Settled::Measurement { doubt: doubt.row().key },
            Settles::Knowing(hinge) => Settled::Price(Hinge::new(source, hinge)),
            Settles::Giving(missing) => Settled::Missing { price: source.missing_key(*missing) },
        };
        Self {
            answer,
            word,
            reason,
            sentence: source.headline(rival),
            plan: source.plan_beside(rival),
            settling: source.settling(rival),
            settled_by: found.settled_by.iter().map(settled).collect(),
            hangs_on: found.hangs_on.iter().map(|hinge| Hinge::new(source, hinge)).collect(),
        }
    }

    /// The sentence, where the plan loses more, and what would settle it.
    pub fn words(&self) -> String {
        let first = std::iter::once(&self.sentence).chain(&self.plan);
        first.chain(&self.settling).cloned().collect::<Vec<_>>().join(" ")
    }
}
