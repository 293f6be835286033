use super::*;
use crate::root_zone::RootZone;
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
    fn reference_many_cells_have_the_bits_of_one_cell(
        needs_mm in prop::collection::vec(0.0..15.0_f64, 40),
        rains_mm in prop::collection::vec(prop_oneof![Just(0.0), 0.0..40.0_f64], 40),
        depths_mm in prop::collection::vec(0.0..90.0_f64, 37),
        p in 0.1..0.8_f64,
        start_mm in 0.0..40.0_f64,
    ) {
        let days = days(&needs_mm, &rains_mm, p);
        let mut cells = CellStates::new(depths_mm.len(), start_mm);
        for (number, day) in days.iter().enumerate() {
            let none_mm = vec![0.0; depths_mm.len()];
            cells.step(day, if number % 7 == 3 { &depths_mm } else { &none_mm });
        }
        for (cell, &depth_mm) in depths_mm.iter().enumerate() {
            let mut zone = RootZone { depletion_mm: start_mm };
            let (mut et_mm, mut percolation_mm) = (0.0, 0.0);
            for (number, day) in days.iter().enumerate() {
                let done = zone.step(day, if number % 7 == 3 { depth_mm } else { 0.0 });
                et_mm += done.et_mm;
                percolation_mm += done.percolation_mm;
            }
            prop_assert_eq!(cells.depletion_mm[cell].to_bits(), zone.depletion_mm.to_bits());
            prop_assert_eq!(cells.et_mm[cell].to_bits(), et_mm.to_bits());
            prop_assert_eq!(cells.percolation_mm[cell].to_bits(), percolation_mm.to_bits());
        }
    }
}
