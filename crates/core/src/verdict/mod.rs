//! The verdict: pays, does not pay, or cannot be told, and what would settle it. Numbers only.
//!
//! Rule. Let [low, high] be the interval of the mean net return against the baseline (paired
//! seasons, Student, 90 % unless said otherwise) and w ≥ 0 the net return worth the name:
//!
//! - low > w: it **pays**;
//! - high ≤ w: it **does not pay** (a loss, too small a gain, or no difference at all);
//! - otherwise it **cannot be told** from these seasons: noise. More seasons would settle it; how
//!   many is estimated for a power of 80 %, if mean and spread stay as they are.
//!
//! This is a test against a margin (superiority and inferiority by the interval; common practice of
//! equivalence testing, from memory, high). With w = 0 it asks where zero lies.
//!
//! More seasons settle the weather's noise, never a price. So where an input's plausible range
//! holds its own break-even (one at a time, the others at their base):
//!
//! - is it a **placeholder**, then nobody stands for the answer, and it cannot be told: knowing the
//!   input settles it;
//! - is it the user's own number, then the answer stands and is said to hang on it.
//!
//! What makes no difference at all is never in doubt. The rule moves one input at a time; what all
//! of them do together is told beside it ([`together()`]).

mod ranking;
mod sensitivity;
mod together;

pub use ranking::{Ranked, rank};
pub use sensitivity::{Input, SensitivityError, Swing, sensitivity};
pub use together::{Together, together};

use crate::convergence::seasons_to_settle;
use crate::ensemble::{Interval, StatisticsError};
use crate::paired::Paired;

/// Level of the verdict's interval unless said otherwise, fraction.
pub const LEVEL: f64 = 0.90;
/// Share of ensembles in which the estimated number of seasons would settle the question, fraction.
pub const SETTLING_POWER: f64 = 0.80;

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// It pays.
    Pays,
    /// It does not pay.
    DoesNotPay,
    /// It cannot be told.
    CannotBeTold,
}

/// Why this is the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// The gain is beyond the noise and worth the name.
    Gain,
    /// The loss is beyond the noise.
    Loss,
    /// There may be a gain, but surely not one worth the name.
    TooSmall,
    /// The two never differ.
    NoDifference,
    /// The seasons differ too much for so few of them.
    Noise,
    /// The seasons would tell, but a placeholder decides.
    Placeholder,
    /// No value of the yield is known, so the net return leaves out what matters most.
    NoValue,
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
    /// Knowing an input whose plausible range holds its break-even.
    Input(Hinge),
}

/// An input on which the answer hangs.
#[derive(Clone, Debug, PartialEq)]
pub struct Hinge {
    /// Its name.
    pub name: String,
    /// Its value at which the mean net return is just worth the name, in its unit.
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
    /// Its interval.
    pub interval: Interval,
    /// Net return worth the name, in the same unit.
    pub worthwhile_gain: f64,
    /// What would settle it; empty where it is settled.
    pub settled_by: Vec<Settles>,
    /// Every input whose plausible range holds its break-even, the widest swing first.
    pub hangs_on: Vec<Hinge>,
}

impl Verdict {
    /// The verdict where no value of the yield is known: it cannot be told, whatever the rest of
    /// the money says.
    #[must_use]
    pub fn without_value(self) -> Self {
        let (answer, reason) = (Answer::CannotBeTold, Reason::NoValue);
        Self { answer, reason, settled_by: Vec::new(), ..self }
    }
}

/// The verdict from the paired `nets` of an alternative. `swings` come from [`sensitivity()`] of the
/// same mean net return with `worthwhile_gain` as its target; empty where none was made.
///
/// # Errors
/// A `worthwhile_gain` below zero or not finite.
pub fn verdict(
    nets: &Paired,
    worthwhile_gain: f64,
    swings: &[Swing],
) -> Result<Verdict, StatisticsError> {
    if !(worthwhile_gain >= 0.0 && worthwhile_gain.is_finite()) {
        let quantity = "the net return worth the name";
        return Err(StatisticsError::Negative { quantity, value: worthwhile_gain });
    }
    let figures = &nets.figures;
    let (mut answer, mut reason) = by_noise(nets, worthwhile_gain);
    let hangs_on: Vec<Hinge> = swings.iter().filter_map(hinge).collect();
    let mut settled_by = Vec::new();
    if answer == Answer::CannotBeTold {
        settled_by.push(by_seasons(nets, worthwhile_gain)?);
    }
    if reason != Reason::NoDifference {
        let open = hangs_on.iter().filter(|hinge| hinge.is_placeholder);
        settled_by.extend(open.cloned().map(Settles::Input));
        if answer != Answer::CannotBeTold && !settled_by.is_empty() {
            (answer, reason) = (Answer::CannotBeTold, Reason::Placeholder);
        }
    }
    Ok(Verdict {
        answer,
        reason,
        mean_net: figures.mean,
        interval: figures.interval,
        worthwhile_gain,
        settled_by,
        hangs_on,
    })
}

/// The answer from the interval alone.
fn by_noise(nets: &Paired, worthwhile_gain: f64) -> (Answer, Reason) {
    let interval = nets.figures.interval;
    if nets.is_no_difference() {
        (Answer::DoesNotPay, Reason::NoDifference)
    } else if interval.low > worthwhile_gain {
        (Answer::Pays, Reason::Gain)
    } else if interval.high < 0.0 {
        (Answer::DoesNotPay, Reason::Loss)
    } else if interval.high <= worthwhile_gain {
        (Answer::DoesNotPay, Reason::TooSmall)
    } else {
        (Answer::CannotBeTold, Reason::Noise)
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
    Some(Hinge { name: swing.name.clone(), break_even, is_placeholder: swing.is_placeholder })
}

#[cfg(test)]
mod tests;
