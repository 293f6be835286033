//! The answer in plain words, from the figures alone, claiming no more than they bear.

use crate::reports::clock_lock::breaks_clock_lock;
use crate::scenes::{Entry, Scene, inside};
use evenfall_core::unevenness::UnevennessSplit;
use evenfall_core::uniformity::Uniformity;
use evenfall_view::units::{Quantity, number, percent, points};

/// A difference under this (fraction: one point) is called none.
const MEANINGFUL: f64 = 0.01;
/// An edge strip under this share of the interior's mean is mentioned.
const STARVED: f64 = 0.75;
/// Means that differ by more than this share are mentioned.
const UNEQUAL_MEANS: f64 = 0.02;

/// Said where nothing but water was calculated.
pub const ONLY_WATER: &str = "This compares the uniformity of the water in one simulated season. \
    It says nothing yet about yield or money.";

/// The answer on the season's water, one paragraph an entry; `told_worth` where the page tells what
/// it is worth as well.
pub(crate) fn answer(scene: &Scene<'_>, told_worth: bool) -> Vec<String> {
    let mut out = vec![driest_quarter(scene)];
    out.extend(differences(scene));
    out.extend(split(scene));
    out.extend(means(scene));
    out.extend(edges(scene));
    out.extend(clock(scene));
    out.extend(scene.entries.iter().filter_map(unfinished));
    if !told_worth {
        out.push(ONLY_WATER.to_owned());
    }
    out
}

fn season(entry: &Entry<'_>) -> Option<Uniformity> {
    inside(entry.found.season_figures())
}

fn quoted(entry: &Entry<'_>) -> String {
    format!("“{}”", entry.asked.name)
}

fn driest_quarter(scene: &Scene<'_>) -> String {
    let most = scene.most_passes();
    let when = match scene.entries.iter().all(|e| e.passes() == most) {
        true if most == 1 => "After 1 pass".to_owned(),
        true => format!("After {most} passes"),
        false => "At the end of the season".to_owned(),
    };
    let each = scene.entries.iter().map(|e| match season(e) {
        Some(f) => format!("{} of the mean depth under {}", percent(f.du_lq, 1), quoted(e)),
        None => format!("no water at all under {}", quoted(e)),
    });
    let each = in_a_row(each.collect());
    // Else even figures of a calm season would be taken for those of the field.
    let is_still = scene.outcome.wind.rose.iter().all(|share| *share == 0.0);
    let when = if is_still { format!("{when} in still air") } else { when };
    format!("{when}, the driest quarter of the {} got {each}.", scene.interior_name())
}

/// "a", "a and b", "a, b and c".
fn in_a_row(mut parts: Vec<String>) -> String {
    let last = parts.pop().unwrap_or_default();
    if parts.is_empty() { last } else { format!("{} and {last}", parts.join(", ")) }
}

/// Each alternative against the first.
fn differences(scene: &Scene<'_>) -> Vec<String> {
    let baseline = &scene.entries[0];
    let Some(base) = season(baseline) else { return Vec::new() };
    let others = scene.entries.iter().skip(1);
    others.filter_map(|e| Some(difference(baseline, base, e, season(e)?))).collect()
}

fn difference(baseline: &Entry<'_>, base: Uniformity, other: &Entry<'_>, f: Uniformity) -> String {
    // Between the figures as they are printed: who subtracts those finds the same.
    let printed = |share: f64| (1000.0 * share).round();
    let gain = |of: fn(&Uniformity) -> f64| (printed(of(&f)) - printed(of(&base))) / 1000.0;
    let (cu, du) = (gain(|f| f.cu), gain(|f| f.du_lq));
    let by = format!("DUlq {} points, CU {} points", points(du, 1), points(cu, 1));
    let (a, b) = (quoted(other), quoted(baseline));
    let (least, most) = (cu.min(du), cu.max(du));
    if most < MEANINGFUL && least > -MEANINGFUL {
        format!("Between {a} and {b} there is no meaningful difference ({by}).")
    } else if least > -MEANINGFUL {
        format!("{a} is more uniform than {b}: {by}.")
    } else if most < MEANINGFUL {
        format!("{a} is less uniform than {b}: {by}.")
    } else {
        format!("CU and DUlq disagree on {a} and {b} ({by}); neither is clearly more uniform.")
    }
}

/// A split that misses the cumulative CU by more than this is not told in a sentence (fraction).
const MISFIT: f64 = 0.01;

/// The systematic part of the unevenness `all` (fractions), in words; `None` where the split misses
/// CU by too much. It is in points of normal depths, so it may come out a little above the whole.
fn systematic(split: &UnevennessSplit, miss: f64, all: f64) -> Option<String> {
    let part = &split.systematic;
    let fixed = number(100.0 * part.value(), 1);
    let told = if miss > MISFIT || all <= 0.0 {
        return None;
    } else if part.value() >= all {
        "practically all of it systematic".to_owned()
    } else if fixed == "0.0" {
        format!("no systematic part that {} cycles can show", split.cycles)
    } else {
        let ends = |end: f64| number(100.0 * end.min(all), 1);
        let range = part.interval.map_or_else(String::new, |interval| {
            format!(", likely {} to {}", ends(interval.low), ends(interval.high))
        });
        format!("{fixed} of it systematic{range}")
    };
    Some(format!("{told} (from {} cycles)", split.cycles))
}

/// What of the unevenness a rotation could remove, and what is the weather's.
fn split(scene: &Scene<'_>) -> Option<String> {
    let each = scene.entries.iter().filter_map(|e| {
        let (split, f) = (e.found.split?, season(e)?);
        let all = 1.0 - f.cu;
        let points = number(100.0 * all, 1);
        let told = systematic(&split, e.found.split_miss?, all)?;
        Some(format!("{points} points under {}, {told}", quoted(e)))
    });
    let each: Vec<String> = each.collect();
    (!each.is_empty()).then(|| {
        format!(
            "Unevenness at the end (100 − CU): {}. Systematic unevenness comes back in the same \
             places pass after pass. Random unevenness, from wind and time of day, averages out as \
             passes add up, with or without a rotation. The two add up as squares, not as points.",
            each.join("; ")
        )
    })
}

/// Says so when alternatives did not get the same water.
fn means(scene: &Scene<'_>) -> Option<String> {
    let all: Vec<_> = scene.entries.iter().filter_map(|e| Some((e, season(e)?))).collect();
    let depths = all.iter().map(|(_, f)| f.mean_depth_mm);
    let least = depths.clone().fold(f64::INFINITY, f64::min);
    let most = depths.fold(0.0, f64::max);
    if all.len() < 2 || most <= least * (1.0 + UNEQUAL_MEANS) {
        return None;
    }
    let each = all.iter().map(|(e, f)| {
        let decimals = scene.units.depth_decimals();
        let depth = scene.units.text(Quantity::Depth, f.mean_depth_mm, decimals);
        format!("{depth} under {}", quoted(e))
    });
    let each = in_a_row(each.collect());
    Some(format!("The mean depth of the {} differs too: {each}.", scene.interior_name()))
}

/// The edge strips of all alternatives, where one of them is dry: without the others nobody could
/// tell whether a rotation is to blame.
fn edges(scene: &Scene<'_>) -> Option<String> {
    let each = scene.entries.iter().filter_map(|e| {
        let figures = e.found.season_figures();
        let mean = inside(figures)?.mean_depth_mm;
        let share = |strip: Option<Uniformity>| strip.map_or(0.0, |s| s.mean_depth_mm) / mean;
        let (first, last) = (share(figures.first_strip), share(figures.last_strip));
        let words = format!("{} and {} under {}", percent(first, 0), percent(last, 0), quoted(e));
        Some((first.min(last) < STARVED, words))
    });
    let (starved, each): (Vec<bool>, Vec<String>) = each.unzip();
    starved.contains(&true).then(|| {
        format!(
            "The edges are dry: the first and last strips of {1} get this share of the {0}’s mean depth: {2}.",
            scene.interior_name(),
            scene.length(scene.outcome.edge_strip_m),
            each.join("; ")
        )
    })
}

fn clock(scene: &Scene<'_>) -> Option<String> {
    let locked = scene.entries.iter().filter(|entry| entry.found.plan.day_night.is_locked());
    let locked: Vec<&Entry<'_>> = locked.collect();
    let first = locked.first()?;
    let advice = |entry: &Entry<'_>| breaks_clock_lock(scene.scenario.calendar_of(entry.asked));
    // Alternatives with clocks of their own may need another remedy each; that of the first is told
    // for those that share it, the notes have the rest.
    let alike = locked.iter().filter(|entry| advice(entry) == advice(first));
    let names: Vec<String> = alike.map(|entry| quoted(entry)).collect();
    Some(format!(
        "Clock lock under {}: every place is watered in the same half of the day all season, and \
         that can matter as much as where the lateral stands. {}",
        in_a_row(names),
        advice(first)
    ))
}

fn unfinished(entry: &Entry<'_>) -> Option<String> {
    let plan = &entry.found.plan;
    (plan.passes_into_cycle > 0).then(|| {
        format!(
            "The season of {} ends {} of {} passes into a cycle: compare it at its last complete \
             cycle as well.",
            quoted(entry),
            plan.passes_into_cycle,
            plan.cycle
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::ensemble::Interval;
    use evenfall_core::unevenness::UnevenPart;

    #[test]
    fn closed_lists_read_well() {
        assert_eq!(in_a_row(vec!["a".into()]), "a");
        assert_eq!(in_a_row(vec!["a".into(), "b".into(), "c".into()]), "a, b and c");
    }

    fn split(systematic: f64, ends: Option<(f64, f64)>) -> UnevennessSplit {
        let interval = ends.map(|(low, high)| Interval { low, high, level: 0.9 });
        UnevennessSplit {
            systematic: UnevenPart { square: systematic * systematic, interval },
            random: UnevenPart { square: 0.01, interval: None },
            cycles: 6,
        }
    }

    #[test]
    fn closed_a_part_is_never_told_above_the_whole() {
        let told = |s, miss, all| systematic(&split(s, None), miss, all);
        assert_eq!(told(0.12, 0.002, 0.2).unwrap(), "12.0 of it systematic (from 6 cycles)");
        assert!(told(0.201, 0.002, 0.2).unwrap().starts_with("practically all"));
        assert!(
            told(0.0, 0.002, 0.2).unwrap().starts_with("no systematic part that 6 cycles can show")
        );
        assert_eq!(told(0.12, 0.11, 0.2), None);
        let ranged = systematic(&split(0.12, Some((0.1, 0.21))), 0.002, 0.2).unwrap();
        assert_eq!(ranged, "12.0 of it systematic, likely 10.0 to 20.0 (from 6 cycles)");
    }
}
