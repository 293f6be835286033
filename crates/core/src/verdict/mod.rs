//! The verdict: pays, does not pay, or inconclusive, and what would settle it. Numbers only.
//!
//! Rule. Let [low, high] be the interval of the mean net return against the baseline (paired
//! seasons, Student, 90 % unless said otherwise) and w ≥ 0 the worthwhile gain:
//!
//! - low > w: it **pays**;
//! - high ≤ w: it **does not pay** (a loss, too small a gain, or no difference at all);
//! - otherwise it is **inconclusive**. Where the weather of the seasons alone leaves it open, that is
//!   noise and more seasons would settle it; how many is estimated for a power of 80 %, if mean and
//!   spread stay as they are. Where pattern, losses, soil, crop or prices leave it open, knowing
//!   them would.
//!
//! Where doubts were drawn with the seasons ([`crate::doubt`]) the interval has all of them in it,
//! and prices too.
//!
//! This is a test against a margin (superiority and inferiority by the interval; common practice of
//! equivalence testing, from memory, high). With w = 0 it asks where zero lies.
//!
//! A price that is missing and matters, or equipment that nobody has spoken of, leaves nothing to judge: inconclusive, whatever the rest says.
//! More seasons settle the weather's noise, never a price. So where an input's plausible range
//! holds its own break-even (one at a time, the others at their base):
//!
//! - is it a **placeholder**, then the answer rests on no number of the user's and is inconclusive: knowing the
//!   input settles it;
//! - is it the user's own number, then the answer stands and is said to hang on it.
//!
//! What makes no difference at all is never in doubt. The search for hinges moves one input at a
//! time; what all of them do together is in the interval, or where no doubts were drawn is told
//! beside it (`price_spread`).

mod explained;
mod price_spread;
mod ranking;
mod sensitivity;
mod variances;

pub use explained::{Cause, Explained, Part, SEASONS_TO_PART};
pub(crate) use explained::{Question, explain};
pub use price_spread::PriceSpread;
pub(crate) use price_spread::drawn_nets;
pub use ranking::{Ranked, rank};
pub(crate) use sensitivity::{Input, sensitivity};
pub use sensitivity::{SensitivityError, Swing};
pub(crate) use variances::long_run;

use crate::convergence::seasons_to_settle;
use crate::doubt::table::Doubt;
use crate::ensemble::{Interval, StatisticsError};
use crate::money::{Missing, PriceKey};
use crate::paired::Paired;

/// Level of the verdict's interval unless said otherwise, fraction.
pub const LEVEL: f64 = 0.90;
/// Share of ensembles in which the estimated number of seasons would settle the question, fraction.
const SETTLING_POWER: f64 = 0.80;

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// It pays.
    Pays,
    /// It does not pay.
    DoesNotPay,
    /// It cannot be told yet.
    Inconclusive,
}

/// Why this is the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// The gain is beyond the noise and worthwhile.
    Gain,
    /// The loss is beyond the noise.
    Loss,
    /// There may be a gain, but surely no worthwhile one.
    TooSmall,
    /// The two never differ.
    NoDifference,
    /// The seasons differ too much for so few of them.
    Noise,
    /// The seasons would tell, but pattern, losses, soil, crop or prices are not known well enough.
    Doubt,
    /// The seasons would tell, but a placeholder decides.
    Placeholder,
    /// A price that matters, or what a longer reach needs, is missing, so there is no net return.
    MissingPrice,
}

/// What would settle an answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Settles {
    /// More seasons.
    Seasons {
        /// Seasons in all; `None`: so many (over a million) that noise is not worth fighting.
        in_all: Option<usize>,
        /// Beyond those at hand; `None` likewise.
        more: Option<usize>,
    },
    /// Measuring what is doubtful about pattern, losses, soil or crop.
    Measuring(Doubt),
    /// Knowing a price whose plausible range holds its break-even.
    Knowing(Hinge),
    /// Telling what is missing: a price, or what a longer reach needs.
    Giving(Missing),
}

/// A price on which the answer hangs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hinge {
    /// Which one.
    pub price: PriceKey,
    /// Its value at which the mean net return is just worthwhile, in its unit.
    pub break_even: f64,
    /// Nobody stands for its value.
    pub is_placeholder: bool,
}

/// The verdict on one alternative.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The answer.
    pub answer: Answer,
    /// Why.
    pub reason: Reason,
    /// Mean net return against the baseline, in the unit of the nets.
    pub mean_net: f64,
    /// Its interval, with every doubt that was drawn.
    pub interval: Interval,
    /// Worthwhile gain, in the same unit.
    pub worthwhile_gain: f64,
    /// What would settle it; empty where it is settled.
    pub settled_by: Vec<Settles>,
    /// Every price whose plausible range holds its break-even, the widest swing first.
    pub hangs_on: Vec<Hinge>,
}

impl Verdict {
    /// The verdict where what matters is `missing`: inconclusive until it is told.
    #[must_use]
    pub fn without(self, missing: &[Missing]) -> Self {
        if missing.is_empty() {
            return self;
        }
        let settled_by = missing.iter().copied().map(Settles::Giving).collect();
        let (answer, reason) = (Answer::Inconclusive, Reason::MissingPrice);
        Self { answer, reason, settled_by, hangs_on: Vec::new(), ..self }
    }
}

/// The verdict from the paired `nets` of an alternative. `swings` come from `sensitivity` of the
/// same mean net return with `worthwhile_gain` as its target; empty where none was made.
///
/// # Errors
/// A `worthwhile_gain` below zero or not finite.
pub fn verdict(
    nets: &Paired,
    worthwhile_gain: f64,
    swings: &[Swing],
    explained: Option<&Explained>,
) -> Result<Verdict, StatisticsError> {
    if !(worthwhile_gain >= 0.0 && worthwhile_gain.is_finite()) {
        let quantity = "the worthwhile gain";
        return Err(StatisticsError::Negative { quantity, value: worthwhile_gain });
    }
    let figures = &nets.figures;
    let interval = explained.map_or(figures.interval, |explained| explained.interval);
    let (mut answer, mut reason) = by_interval(nets, interval, worthwhile_gain);
    if let (Answer::Inconclusive, Some(explained)) = (answer, explained)
        && by_interval(nets, explained.seasons_alone, worthwhile_gain).0 != Answer::Inconclusive
    {
        reason = Reason::Doubt;
    }
    let hangs_on: Vec<Hinge> = swings.iter().filter_map(hinge).collect();
    let mut settled_by = Vec::new();
    if reason == Reason::Noise {
        settled_by.push(by_seasons(nets, worthwhile_gain)?);
    }
    if answer == Answer::Inconclusive {
        settled_by.extend(explained.into_iter().flat_map(measuring));
    }
    if reason != Reason::NoDifference {
        let open = hangs_on.iter().filter(|hinge| hinge.is_placeholder);
        settled_by.extend(open.copied().map(Settles::Knowing));
        if answer != Answer::Inconclusive && !settled_by.is_empty() {
            (answer, reason) = (Answer::Inconclusive, Reason::Placeholder);
        }
    }
    Ok(Verdict {
        answer,
        reason,
        mean_net: figures.mean,
        interval,
        worthwhile_gain,
        settled_by,
        hangs_on,
    })
}

/// Doubts with at least this share of the variance are worth measuring.
const WORTH_MEASURING: f64 = 0.1;

/// What measuring would settle, the largest share first.
fn measuring(explained: &Explained) -> impl Iterator<Item = Settles> + '_ {
    explained.parts.iter().filter(|part| part.share >= WORTH_MEASURING).filter_map(
        |part| match part.cause {
            Cause::Doubt(doubt) => Some(Settles::Measuring(doubt)),
            Cause::Together | Cause::Price(_) | Cause::Seasons => None,
        },
    )
}

/// The answer from an interval alone.
fn by_interval(nets: &Paired, interval: Interval, worthwhile_gain: f64) -> (Answer, Reason) {
    if nets.is_no_difference() {
        (Answer::DoesNotPay, Reason::NoDifference)
    } else if interval.low > worthwhile_gain {
        (Answer::Pays, Reason::Gain)
    } else if interval.high < 0.0 {
        (Answer::DoesNotPay, Reason::Loss)
    } else if interval.high <= worthwhile_gain {
        (Answer::DoesNotPay, Reason::TooSmall)
    } else {
        (Answer::Inconclusive, Reason::Noise)
    }
}

/// How many seasons would settle it.
fn by_seasons(nets: &Paired, worthwhile_gain: f64) -> Result<Settles, StatisticsError> {
    let figures = &nets.figures;
    let distance = (figures.mean - worthwhile_gain).abs();
    if distance == 0.0 {
        return Ok(Settles::Seasons { in_all: None, more: None });
    }
    let level = figures.interval.level;
    let in_all = seasons_to_settle(&nets.differences, distance, level, SETTLING_POWER)?;
    let more = in_all.map(|seasons| seasons.saturating_sub(figures.seasons));
    Ok(Settles::Seasons { in_all, more })
}

fn hinge(swing: &Swing) -> Option<Hinge> {
    let break_even = swing.break_even?;
    Some(Hinge { price: swing.price, break_even, is_placeholder: swing.is_placeholder })
}

#[cfg(test)]
mod tests;
