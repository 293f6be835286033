//! What a set puts on the ground that it serves: the water of its sprinklers over sprinkler spacing ×
//! outlet spacing, before losses and as a range after them.
//!
//! depth = flow of the line · time / (sprinklers · sprinkler spacing · outlet spacing)
//!
//! Of the losses of one set in one drawn season nothing can be promised. So the range is that of the
//! plan: the 10th and the 90th percentile of the share that lands in all of its sets that start in the
//! same hour of the day, or in all of its sets where those are few. Neglected: how the water lies
//! within the strip, what neighboring sets lay over its border, and what falls beyond the field.

use super::error::SeasonError;
use super::hours::SeasonHours;
use super::pressures::discharge_m3_h;
use crate::model::{Alternative, Scenario};
use crate::schedule::{Plan, SetPlan};
use crate::statistics::quantile_of_sorted;

/// Between these shares of the plan's sets lies the range of what lands.
pub const DEPTH_SHARES: (f64, f64) = (0.1, 0.9);
/// Fewer sets than this say nothing of an hour of the day; judgment.
const FEW_SETS: usize = 5;

/// A range of depths, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthRange {
    /// The lower end, mm.
    pub low_mm: f64,
    /// The upper end, mm.
    pub high_mm: f64,
}

/// What every set of `plan` puts on its ground before losses, mm: per pass, per set.
///
/// # Errors
/// If the pressures along the pipe cannot be found.
pub(super) fn gross_depths(
    alternative: &Alternative,
    plan: &Plan,
) -> Result<Vec<Vec<DepthRange>>, SeasonError> {
    let lateral = &alternative.lateral;
    let served_m2 =
        lateral.sprinklers as f64 * lateral.sprinkler_spacing_m * alternative.outlets.spacing_m;
    let mm_h = 1000.0 * discharge_m3_h(alternative)? / served_m2;
    let depth = |set: &SetPlan| {
        let depth_mm = mm_h * (set.end_h - set.start_h);
        DepthRange { low_mm: depth_mm, high_mm: depth_mm }
    };
    Ok(plan.passes.iter().map(|pass| pass.sets.iter().map(depth).collect()).collect())
}

/// The same after losses, under the season's own weather.
///
/// # Errors
/// As [`super::run()`].
pub(super) fn net_depths(
    scenario: &Scenario,
    alternative: &Alternative,
    plan: &Plan,
) -> Result<Vec<Vec<DepthRange>>, SeasonError> {
    let alone = Scenario { alternatives: vec![alternative.clone()], ..scenario.clone() };
    let hours = SeasonHours::of(&alone, std::slice::from_ref(plan), 0)?;
    let sets = || plan.passes.iter().flat_map(|pass| &pass.sets);
    // Hour of the day of the start, and the share that lands.
    let landed: Vec<(i64, f64)> =
        sets().map(|set| (hour_of_day(set), landed(&hours, set))).collect();
    let mut depths = gross_depths(alternative, plan)?;
    for (depth, set) in depths.iter_mut().flatten().zip(sets()) {
        let hour = hour_of_day(set);
        let own: Vec<f64> = landed.iter().filter(|one| one.0 == hour).map(|one| one.1).collect();
        let all = || landed.iter().map(|one| one.1).collect();
        let mut shares: Vec<f64> = if own.len() < FEW_SETS { all() } else { own };
        // Never empty: this set is among them.
        shares.sort_unstable_by(f64::total_cmp);
        let at = |share: f64| quantile_of_sorted(&shares, share);
        let gross_mm = depth.low_mm;
        *depth = DepthRange {
            low_mm: gross_mm * at(DEPTH_SHARES.0),
            high_mm: gross_mm * at(DEPTH_SHARES.1),
        };
    }
    Ok(depths)
}

fn hour_of_day(set: &SetPlan) -> i64 {
    (set.start_h.round() as i64).rem_euclid(24)
}

/// The share of a set's water that lands.
fn landed(hours: &SeasonHours, set: &SetPlan) -> f64 {
    let slices = hours.slices_of(set);
    let all_h: f64 = slices.iter().map(|slice| slice.hours).sum();
    slices.iter().map(|slice| slice.hours * slice.net).sum::<f64>() / all_h
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season;
    use crate::season::tests::{alternative, scenario, sprinkler, windy};
    use crate::sprinkler::losses::Losses;
    use crate::sprinkler::shape::Shape;

    fn asked() -> (Scenario, Plan) {
        let fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 90.0));
        let mut asked = scenario(2.0, 4, vec![fixed]);
        asked.weather = windy(3.5);
        let plan = season::plans(&asked).unwrap().remove(0);
        (asked, plan)
    }

    #[test]
    fn closed_gross_depth_of_a_set() {
        let (asked, plan) = asked();
        let depths = gross_depths(&asked.alternatives[0], &plan).unwrap();
        // 96.3 · 4.98 gpm / (40 · 60 ft²) · 11.5 h = 2.298 in (SCS NEH 15-11's constant 96.3).
        assert!((depths[0][5].low_mm / 25.4 - 2.298).abs() < 0.002, "{depths:?}");
    }

    #[test]
    fn closed_a_stated_loss_leaves_the_same_share_of_every_set() {
        let (mut asked, plan) = asked();
        asked.losses = Losses::Fraction(0.2);
        let depths = net_depths(&asked, &asked.alternatives[0], &plan).unwrap();
        let gross = gross_depths(&asked.alternatives[0], &plan).unwrap();
        for (net, gross) in depths.iter().flatten().zip(gross.iter().flatten()) {
            assert!((net.low_mm / gross.low_mm - 0.8).abs() < 1e-12);
            assert!((net.high_mm / gross.low_mm - 0.8).abs() < 1e-12);
        }
    }

    #[test]
    fn invariant_the_range_is_of_the_plan_and_not_of_one_set() {
        let (mut asked, plan) = asked();
        asked.losses = Losses::PlayanDayNight;
        let depths = net_depths(&asked, &asked.alternatives[0], &plan).unwrap();
        // Sets at 6:00 lose by day, sets at 18:00 by night: two ranges, whatever the day.
        let (day, night) = (depths[0][0], depths[0][1]);
        assert!(day.low_mm < day.high_mm && day.high_mm < night.low_mm, "{day:?} {night:?}");
        for (depth, set) in depths.iter().flatten().zip(plan.passes.iter().flat_map(|p| &p.sets)) {
            assert_eq!(*depth, if hour_of_day(set) == 6 { day } else { night });
        }
    }
}
