//! How sure the long-run net return is, with every doubt in it, and where the doubt comes from.
//!
//! Weather and doubts are told apart by `variances`. Prices are known once the crop is sold, but not
//! today: they are drawn with the rest, and the net return is linear in them.
//!
//! The interval holds the stated share of draws of prices and of a normal error with that variance,
//! widened to Student's t for the number of pairs. D is shared out by the squared slopes of a linear
//! regression on the standardized draws, less what chance gives them (Saltelli et al. 2008, Global
//! Sensitivity Analysis, section 1.2.5: standardized regression coefficients; from memory).
//!
//! Neglected: that doubts act on each other and on prices (the sum is linear), that those drawn from catch
//! tests go together (their shares add up to what all of them do), and any doubt that is not in the table.

use super::sensitivity::Swing;
use super::variances::variances;
use crate::doubt::draws::{COUNT, Ranges, triangle_deviation};
use crate::doubt::table::{DOUBTS, Doubt, DoubtRow};
use crate::ensemble::{Interval, t_cdf, t_quantile};
use crate::money::PriceKey;
use nalgebra::{DMatrix, DVector};

/// Parts of equal chance that the error is cut into.
const ERROR_STEPS: u32 = 201;
/// Parts of equal chance that the prices' draws are cut into.
const PRICE_STEPS: usize = 200;

/// Fewest pairs from which one doubt is told from another: twice the slopes that are fitted.
const FEWEST_TO_PART: usize = 2 * (COUNT + 1);
/// The same in seasons.
pub const SEASONS_TO_PART: usize = 2 * FEWEST_TO_PART;

/// What a share of the variance is due to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// Pattern, losses, soil or crop.
    Doubt(Doubt),
    /// Pattern, losses, soil and crop together, where the seasons are too few to part them.
    Together,
    /// A price.
    Price(PriceKey),
    /// The weather of the seasons that happened to be drawn; more seasons narrow it.
    Seasons,
}

/// One cause's part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The cause.
    pub cause: Cause,
    /// Its share of the variance, fraction; all shares add up to 1.
    pub share: f64,
    /// Its range: low, used, high.
    pub inputs: [f64; 3],
    /// Net return at these, the rest as used, in the unit of the nets.
    pub nets: [f64; 3],
}

/// How sure a long-run mean net return is.
#[derive(Clone, Debug, PartialEq)]
pub struct Explained {
    /// Interval with every doubt in it.
    pub interval: Interval,
    /// Interval that the weather alone would leave: what more seasons can narrow.
    pub seasons_alone: Interval,
    /// Chance that the long-run net return is above the worthwhile gain, fraction.
    pub chance: f64,
    /// Every cause, the largest share first.
    pub parts: Vec<Part>,
    /// Mean net return of the seasons.
    mean: f64,
    /// What is known of the long-run mean at these prices: variance by the doubts, by the seasons'
    /// weather, and of one season by its weather.
    of_doubts: f64,
    of_seasons: f64,
    of_weather: f64,
    freedom: usize,
}

impl Explained {
    /// Chance that the mean net return of `coming` seasons is above nothing, at these prices.
    pub fn chance_over(&self, coming: u32) -> f64 {
        let coming = self.of_weather / f64::from(coming.max(1));
        let deviation = (self.of_doubts + self.of_seasons + coming).sqrt();
        if deviation > 0.0 {
            t_cdf(self.freedom, self.mean / deviation)
        } else {
            f64::from(u8::from(self.mean > 0.0))
        }
    }
}

/// Slopes of `nets` on the standardized draws, and the variance of each slope by chance; `None` for
/// too few draws.
fn slopes(nets: &[f64], (ranges, first): (&Ranges, usize)) -> Option<([f64; COUNT], [f64; COUNT])> {
    let pairs = nets.len() / 2;
    if pairs < FEWEST_TO_PART {
        return None;
    }
    let drawn: Vec<_> = (0..pairs).map(|pair| ranges.drawn(first + 2 * pair)).collect();
    let x = DMatrix::from_fn(pairs, COUNT + 1, |pair, column| match column {
        0 => 1.0,
        doubt => {
            let (middle, deviation) = ranges.spread(DOUBTS[doubt - 1].doubt);
            if deviation > 0.0 { (drawn[pair].0[doubt - 1] - middle) / deviation } else { 0.0 }
        }
    });
    let y = DVector::from_fn(pairs, |pair, _| 0.5 * (nets[2 * pair] + nets[2 * pair + 1]));
    let turned = x.transpose();
    let inverse = (&turned * &x).pseudo_inverse(1e-9).ok()?;
    let found = &inverse * (&turned * &y);
    let rest = (&y - &x * &found).norm_squared() / (pairs - COUNT - 1) as f64;
    let (mut slope, mut by_chance) = ([0.0; COUNT], [0.0; COUNT]);
    for doubt in 0..COUNT {
        slope[doubt] = found[doubt + 1];
        by_chance[doubt] = rest * inverse[(doubt + 1, doubt + 1)];
    }
    Some((slope, by_chance))
}

/// What is asked of [`explain`].
#[derive(Clone, Copy, Debug)]
pub(crate) struct Question<'a> {
    /// Net returns of the seasons in their order, alternative less baseline.
    pub nets: &'a [f64],
    /// What the doubts were drawn from.
    pub ranges: &'a Ranges,
    /// Number of the first season, from 0.
    pub first_season: usize,
    /// What each price does over its range, in any order.
    pub swings: &'a [Swing],
    /// Net return that is worthwhile.
    pub worthwhile_gain: f64,
    /// Level of the intervals, fraction.
    pub level: f64,
}

/// How sure the long-run net return is; `None` for too few seasons or a level that is none.
/// `price_nets` are net returns with all prices drawn together and everything else as it is on
/// average, sorted.
pub(crate) fn explain(question: &Question<'_>, price_nets: &[f64]) -> Option<Explained> {
    let Question { nets, worthwhile_gain, level, .. } = *question;
    let found = variances(nets)?;
    let seasons = nets.len() as f64;
    let mean = nets.iter().sum::<f64>() / seasons;
    let of_doubts = found.of_doubts();
    let of_seasons = found.weather / seasons;
    let deviation = (of_doubts + of_seasons).sqrt();
    let freedom = found.pairs.saturating_sub(1).max(1);
    // Every part of the prices' draws meets every part of the error: none is left to chance.
    let steps = ERROR_STEPS;
    let errors: Vec<f64> = (0..steps)
        .map(|step| deviation * t_quantile(freedom, (step as f64 + 0.5) / f64::from(steps)))
        .collect();
    let apart = (price_nets.len() / PRICE_STEPS).max(1);
    let mut by_price: Vec<f64> =
        price_nets.iter().copied().skip(apart / 2).step_by(apart).collect();
    if by_price.is_empty() {
        by_price.push(mean);
    }
    let mut all: Vec<f64> =
        by_price.iter().flat_map(|net| errors.iter().map(move |error| net + error)).collect();
    all.sort_by(f64::total_cmp);
    let at = |share: f64| {
        // The k-th of n stands for the middle of its part, (k + ½)/n.
        let place = (share * all.len() as f64 - 0.5).clamp(0.0, (all.len() - 1) as f64);
        let (below, above) = (place.floor() as usize, place.ceil() as usize);
        all[below] + (all[above] - all[below]) * (place - place.floor())
    };
    let above = all.iter().filter(|net| **net > worthwhile_gain).count();
    let tail = 0.5 * (1.0 - level);
    let half = of_seasons.sqrt() * t_quantile(freedom, 1.0 - tail);
    Some(Explained {
        interval: Interval { low: at(tail), high: at(1.0 - tail), level },
        seasons_alone: Interval { low: mean - half, high: mean + half, level },
        chance: above as f64 / all.len() as f64,
        parts: parts(question, mean, of_doubts, of_seasons),
        mean,
        of_doubts,
        of_seasons,
        of_weather: found.weather,
        freedom,
    })
}

/// Every cause with its share.
fn parts(question: &Question<'_>, mean: f64, of_doubts: f64, of_seasons: f64) -> Vec<Part> {
    let mut parts = of_physics(question, mean, of_doubts);
    for swing in question.swings {
        let [low, base, high] = swing.inputs;
        let width = high - low;
        let per_unit = if width > 0.0 { (swing.nets[2] - swing.nets[0]) / width } else { 0.0 };
        let deviation = per_unit * triangle_deviation([low, base, high]);
        let cause = Cause::Price(swing.price);
        let (inputs, nets) = (swing.inputs, swing.nets);
        parts.push(Part { cause, share: deviation * deviation, inputs, nets });
    }
    let (cause, share) = (Cause::Seasons, of_seasons);
    parts.push(Part { cause, share, inputs: [0.0; 3], nets: [mean; 3] });
    // Variances until here.
    let total = parts.iter().map(|part| part.share).sum::<f64>();
    for part in &mut parts {
        part.share = if total > 0.0 { part.share / total } else { 0.0 };
    }
    parts.sort_by(|a, b| b.share.total_cmp(&a.share));
    parts
}

/// The doubts, each with its part of the variance `of_doubts` as its share.
fn of_physics(question: &Question<'_>, mean: f64, of_doubts: f64) -> Vec<Part> {
    let together = Part {
        cause: Cause::Together,
        share: of_doubts,
        inputs: [0.0; 3],
        nets: [mean - of_doubts.sqrt(), mean, mean + of_doubts.sqrt()],
    };
    let Some((slope, by_chance)) = slopes(question.nets, (question.ranges, question.first_season))
    else {
        return vec![together];
    };
    let squares: Vec<f64> = slope
        .iter()
        .zip(by_chance)
        .map(|(slope, chance)| (slope * slope - chance).max(0.0))
        .collect();
    let all = squares.iter().sum::<f64>();
    if all <= 0.0 {
        return vec![together];
    }
    let part = |(at, row): (usize, &DoubtRow)| {
        let inputs = question.ranges.ends[at];
        let (middle, deviation) = question.ranges.spread(row.doubt);
        // What chance alone would give is no slope: such a doubt leaves the net return as it is.
        let sure = if squares[at] > 0.0 { slope[at] } else { 0.0 };
        let per_unit = if deviation > 0.0 { sure / deviation } else { 0.0 };
        let nets = inputs.map(|input| mean + per_unit * (input - middle));
        let share = of_doubts * squares[at] / all;
        Part { cause: Cause::Doubt(row.doubt), share, inputs, nets }
    };
    DOUBTS.iter().enumerate().map(part).collect()
}

#[cfg(test)]
mod tests;
