use super::*;
use crate::root_zone::{CropDay, RootZone};
use proptest::prelude::*;

/// A season of days with growing roots, from plain numbers.
fn days(needs_mm: &[f64], rains_mm: &[f64], p: f64) -> Vec<CropDay> {
    let taw = |day: usize| 40.0 + 1.5 * day as f64;
    let of = |(day, (&etc_mm, &rain_mm)): (usize, (&f64, &f64))| {
        CropDay::new(etc_mm, rain_mm, p, taw(day), taw(day.saturating_sub(1)))
    };
    needs_mm.iter().zip(rains_mm).enumerate().map(of).collect()
}

proptest! {
    #[test]
    fn reference_many_cells_go_as_one_cell_does_day_after_day(
        needs_mm in prop::collection::vec(0.0..15.0_f64, 40),
        rains_mm in prop::collection::vec(prop_oneof![Just(0.0), 0.0..40.0_f64], 40),
        depths_mm in prop::collection::vec(0.0..90.0_f64, 37),
        p in 0.1..0.8_f64,
        start_mm in 0.0..40.0_f64,
    ) {
        let days = days(&needs_mm, &rains_mm, p);
        let (mut cells, mut course) = (CellStates::default(), Course::default());
        cells.start(depths_mm.len(), start_mm);
        // Water on every seventh day from the fourth on.
        course.set(&days[..3]);
        cells.go(&course, None);
        for week in days[3..].chunks(7) {
            course.set(week);
            cells.go(&course, Some(&depths_mm));
        }
        for (cell, &depth_mm) in depths_mm.iter().enumerate() {
            let mut zone = RootZone { depletion_mm: start_mm };
            let (mut et_mm, mut percolation_mm, mut came_mm) = (0.0, 0.0, 0.0);
            for (number, day) in days.iter().enumerate() {
                let water_mm = if number % 7 == 3 { depth_mm } else { 0.0 };
                let done = zone.step(day, water_mm);
                et_mm += done.et_mm;
                percolation_mm += done.percolation_mm;
                came_mm += day.rain_mm + water_mm;
            }
            let lost_mm = cells.percolation_mm[cell];
            prop_assert!((cells.depletion_mm[cell] - zone.depletion_mm).abs() < 1e-9);
            prop_assert!((lost_mm - percolation_mm).abs() < 1e-9, "{lost_mm} {percolation_mm}");
            let used_mm = cells.depletion_mm[cell] - start_mm + came_mm - lost_mm;
            prop_assert!((used_mm - et_mm).abs() < 1e-9, "{used_mm} {et_mm}");
        }
    }
}
