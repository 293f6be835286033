//! Which points a study has: a function of the plan alone.
//!
//! - Full: every level with every other, the last factor fastest; but those that only move the stops vary
//!   faster than all others, so that points with the same weather, nozzle and pressure stand together, and
//!   what is flown and drawn for one of them does for all.
//! - Latin hypercube (`McKay`, Beckman & Conover 1979, Technometrics 21:239–245; from memory, high): every
//!   factor parted into as many equal parts as there are points, one point in each, at a random place in
//!   it; the parts of each factor are shuffled by themselves (Fisher & Yates).
//! - Sobol: scrambled by Owen's way with hashes (Burley 2020, Journal of Computer Graphics Techniques
//!   9(4); the `sobol_burley` library): any first points of it cover the ranges evenly, so a plan may be
//!   made longer and keeps its points.

use crate::factor::{Factor, Values};
use crate::plan::DesignFile;
use crate::problem::Problems;
use rand::rngs::ChaCha8Rng;
use rand::{RngExt as _, SeedableRng as _};
use serde_json::Value;

/// Most points of a study.
const MOST_POINTS: usize = 1_000_000;
/// Points and dimensions of the sequence.
const LONGEST: usize = 1 << 16;
const MOST_DIMENSIONS: usize = 256;
/// Sections of a scenario that move the stops and leave weather and sprinkler as they are.
const OF_STOPS: [&str; 3] = ["/wheel/", "/outlets/", "/alternatives/"];

/// The values of every factor at each point; `listed` are those of a list.
pub(crate) fn points(
    design: &DesignFile,
    factors: &[Factor],
    seed: u32,
    listed: Option<Vec<Vec<Value>>>,
    problems: &mut Problems,
) -> Vec<Vec<Value>> {
    match design {
        DesignFile::Full => full(factors, problems),
        DesignFile::List(_) => listed.unwrap_or_default(),
        DesignFile::LatinHypercube(count) => match count_of(*count, MOST_POINTS, problems) {
            Some(count) => latin(factors, count, seed),
            None => Vec::new(),
        },
        DesignFile::Sobol(count) => {
            if factors.len() > MOST_DIMENSIONS {
                problems.push(format!(
                    "{} factors are more than the Sobol sequence has dimensions ({MOST_DIMENSIONS}). \
                     Take a Latin hypercube",
                    factors.len()
                ));
                return Vec::new();
            }
            match count_of(*count, LONGEST, problems) {
                Some(count) => sobol(factors, count, seed),
                None => Vec::new(),
            }
        }
    }
}

fn count_of(count: usize, most: usize, problems: &mut Problems) -> Option<usize> {
    if (1..=most).contains(&count) {
        return Some(count);
    }
    problems.push(format!("the design has {count} points. Expected 1 to {most}"));
    None
}

fn full(factors: &[Factor], problems: &mut Problems) -> Vec<Vec<Value>> {
    let moves_stops = |factor: &Factor| OF_STOPS.iter().any(|way| factor.pointer.starts_with(way));
    // Counted before any is made: there may be more than there is room for.
    let mut counts = factors.iter().filter_map(Factor::count);
    let count = counts.try_fold(1_usize, usize::checked_mul);
    if count.is_none_or(|count| count > MOST_POINTS) {
        problems.push(format!(
            "the full design has more than {MOST_POINTS} points. Give fewer levels, or take a Latin \
             hypercube or a Sobol sequence"
        ));
        return Vec::new();
    }
    let mut order: Vec<usize> = (0..factors.len()).collect();
    order.sort_by_key(|number| moves_stops(&factors[*number]));
    let mut points: Vec<Vec<Value>> = vec![vec![Value::Null; factors.len()]];
    for number in order {
        let factor = &factors[number];
        let Some(levels) = factor.levels() else {
            problems.push(format!(
                "“{}” has a range, and a full design needs levels. Give \"steps\" in the range, or take \
                 another design",
                factor.name
            ));
            continue;
        };
        let with = |point: &Vec<Value>| {
            let set = |level: &Value| {
                let mut point = point.clone();
                point[number] = level.clone();
                point
            };
            levels.iter().map(set).collect()
        };
        points = points.iter().map(with).collect::<Vec<Vec<_>>>().concat();
    }
    points
}

fn latin(factors: &[Factor], count: usize, seed: u32) -> Vec<Vec<Value>> {
    let columns: Vec<Vec<Value>> = factors
        .iter()
        .zip(0_u64..)
        .map(|(factor, number)| {
            // A stream for each factor: one more factor changes no other.
            let mut random = ChaCha8Rng::seed_from_u64((u64::from(seed) << 32) | number);
            let mut parts: Vec<usize> = (0..count).collect();
            for last in (1..count).rev() {
                parts.swap(last, random.random_range(0..=last));
            }
            let place = |part: usize, within: f64| (part as f64 + within) / count as f64;
            parts
                .into_iter()
                .map(|part| match factor.values {
                    // Levels are met equally often, as nearly as may be.
                    Values::Levels(_) => factor.at(place(part, 0.5)),
                    _ => factor.at(place(part, random.random::<f64>())),
                })
                .collect()
        })
        .collect();
    (0..count).map(|at| columns.iter().map(|column| column[at].clone()).collect()).collect()
}

fn sobol(factors: &[Factor], count: usize, seed: u32) -> Vec<Vec<Value>> {
    let value = |point: usize, dimension: usize| {
        let place = sobol_burley::sample(point as u32, dimension as u32, seed);
        factors[dimension].at(f64::from(place))
    };
    (0..count)
        .map(|point| (0..factors.len()).map(|dimension| value(point, dimension)).collect())
        .collect()
}

#[cfg(test)]
#[path = "design_tests.rs"]
mod tests;
