//! Clearance: the height of the crop through the season against the axle of a wheel line.
//!
//! The pipe is the axle, so it lies at the wheel's rolling radius, travel per turn / 2π, and its
//! underside half a pipe lower. A crop above the underside is dragged and bends the pipe.
//!
//! Height of the crop: low until a tenth of the ground is covered, a straight line through the
//! development stage up to the greatest height (FAO-56 Table 12, Allen et al. 1998), and that
//! height from mid-season on; after a cut it starts again. The straight line and the 5 cm at the
//! start and after a cut are assumptions. Neglected: drains and fittings under the pipe, sag
//! between wheels, wheels that sink or stand in a furrow, lodging.

use crate::crop::Crop;
use std::f64::consts::PI;

/// Height at emergence and after a cut, m; assumed.
const START_M: f64 = 0.05;

/// Height of the crop on `day` (1 is the day of planting), m; `None` before and after its season.
pub fn crop_height_m(crop: &Crop, greatest_m: f64, day: usize) -> Option<f64> {
    let start_m = START_M.min(greatest_m);
    let mut in_cycle = day;
    for stages in &crop.cycles {
        let days = stages.total_days();
        if (1..=days).contains(&in_cycle) {
            let growing = (in_cycle as f64 - f64::from(stages.initial_days)).max(0.0);
            let grown = growing / f64::from(stages.development_days.max(1));
            return Some(start_m + (greatest_m - start_m) * grown.min(1.0));
        }
        in_cycle = in_cycle.checked_sub(days)?;
    }
    None
}

/// Least height of what a wind blows over: FAO-56's grass, m.
const GRASS_M: f64 = 0.12;

/// Mean height of the crop over its season, m, no day lower than clipped grass: the one height over
/// which wind blows and on which water lands all season. Where one curve stands for all cuts
/// (`averages_cuts`), the stand between two cuts is taken as half grown; an assumption.
pub fn mean_height_m(crop: &Crop, greatest_m: f64, averages_cuts: bool) -> f64 {
    let greatest_m = if averages_cuts { 0.5 * greatest_m } else { greatest_m };
    let days = crop.season_days();
    let heights = (1..=days).filter_map(|day| crop_height_m(crop, greatest_m, day));
    heights.map(|height_m| height_m.max(GRASS_M)).sum::<f64>() / days.max(1) as f64
}

/// Height of the pipe's underside above the ground, m.
pub fn under_pipe_m(travel_per_turn_m: f64, pipe_diameter_m: f64) -> f64 {
    travel_per_turn_m / (2.0 * PI) - 0.5 * pipe_diameter_m
}

/// How a pipe at a height fares over a season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Underside of the pipe, m.
    pub under_pipe_m: f64,
    /// Least room between crop and pipe, m; below 0 where the crop stands higher.
    pub least_room_m: f64,
    /// First day (1 is the day of planting) on which the crop touches; `None` if it never does.
    pub first_touch: Option<usize>,
    /// Days on which it touches.
    pub days_touched: usize,
}

/// The clearance of `crop` under a pipe whose underside is `under_pipe_m` high.
pub fn clearance(crop: &Crop, greatest_m: f64, under_pipe_m: f64) -> Clearance {
    let days = 1..=crop.season_days();
    let heights = days.filter_map(|day| Some((day, crop_height_m(crop, greatest_m, day)?)));
    let touched = heights.clone().filter(|(_, height_m)| *height_m > under_pipe_m);
    Clearance {
        under_pipe_m,
        least_room_m: heights.map(|(_, h)| under_pipe_m - h).fold(f64::INFINITY, f64::min),
        first_touch: touched.clone().next().map(|(day, _)| day),
        days_touched: touched.count(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::crop::table::crop_named;
    use crate::units::{M_PER_FT, M_PER_IN};

    #[test]
    fn closed_height_follows_the_stages_and_starts_again_after_a_cut() {
        let maize = crop_named("maize, grain").unwrap();
        let crop = maize.crop();
        let height = |day| crop_height_m(&crop, maize.height_m, day);
        // 30 + 40 + 50 + 50 days, 2 m.
        assert_eq!(height(30), Some(START_M));
        assert!((height(50).unwrap() - (START_M + 0.5 * (2.0 - START_M))).abs() < 1e-12);
        assert_eq!((height(70), height(170)), (Some(2.0), Some(2.0)));
        assert_eq!((height(0), height(171)), (None, None));
        let alfalfa = crop_named("alfalfa, cut by cut").unwrap();
        let crop = alfalfa.crop();
        // First cut after 75 days.
        assert_eq!(crop_height_m(&crop, 0.7, 75), Some(0.7));
        assert_eq!(crop_height_m(&crop, 0.7, 76), Some(START_M));
    }

    #[test]
    fn closed_the_mean_height_is_that_of_the_days() {
        let maize = crop_named("maize, grain").unwrap();
        // 30 days of 0.12 m, 40 of growth from 0.05 to 2 m (the last at 2 m), 100 of 2 m.
        let growth: f64 = (1..=40).map(|day| (0.05 + 1.95 * f64::from(day) / 40.0).max(0.12)).sum();
        let expected = (30.0 * 0.12 + growth + 100.0 * 2.0) / 170.0;
        assert!((mean_height_m(&maize.crop(), 2.0, false) - expected).abs() < 1e-12);
        let cut = crop_named("alfalfa, mean over cuts").unwrap();
        assert!(cut.averages_cuts && mean_height_m(&cut.crop(), 0.7, true) < 0.35);
    }

    #[test]
    fn closed_a_76_inch_wheel_clears_alfalfa_and_not_maize() {
        // Axle at 38 in, underside of a 5-in pipe at 35.5 in.
        let travel_m = 76.0 * M_PER_IN * PI;
        let under_m = under_pipe_m(travel_m, 5.0 * M_PER_IN);
        assert!((under_m / M_PER_IN - 35.5).abs() < 1e-9);
        let of = |name: &str| {
            let entry = crop_named(name).unwrap();
            clearance(&entry.crop(), entry.height_m, under_m)
        };
        assert_eq!(of("alfalfa, mean over cuts").first_touch, None);
        let maize = of("maize, grain");
        // 0.9017 m is reached (0.9017 − 0.05)/1.95 · 40 = 17.5 days into development: day 48.
        assert_eq!((maize.first_touch, maize.days_touched), (Some(48), 170 - 47));
        assert!((maize.least_room_m - (under_m - 2.0)).abs() < 1e-12);
        // 20 ft a turn is an axle at 3.18 ft.
        assert!((under_pipe_m(20.0 * M_PER_FT, 0.0) / M_PER_FT - 3.183).abs() < 5e-4);
    }
}
