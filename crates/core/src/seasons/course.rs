//! The soil under one place through a season, day by day, for whoever wants to watch it.

use crate::root_zone::RootZone;
use crate::root_zone::ground::Ground;

/// The root zone at the end of a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoilDay {
    /// Water missing to field capacity, mm.
    pub depletion_mm: f64,
    /// What the roots' soil can hold for the crop, mm.
    pub taw_mm: f64,
    /// What the crop takes of it without stress, mm.
    pub raw_mm: f64,
}

/// The crop's days under waterings given as (start in h from midnight of the first set's day, depth
/// in mm). Water counts for the day on which its set starts, as in [`super::run()`]; what falls
/// outside the crop's days is left out.
pub fn soil_course(ground: &Ground, season: usize, waterings: &[(f64, f64)]) -> Vec<SoilDay> {
    let mut zone = RootZone { depletion_mm: ground.depletion_mm };
    let days = ground.days_of(season).iter().zip(ground.first_day..);
    days.map(|(day, number)| {
        let today = |start_h: f64| (start_h / 24.0).floor() as i64 == number;
        let depths = waterings.iter().filter(|(start_h, _)| today(*start_h));
        zone.step(day, depths.map(|(_, depth_mm)| depth_mm).sum());
        SoilDay { depletion_mm: zone.depletion_mm, taw_mm: day.taw_mm, raw_mm: day.raw_mm }
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::root_zone::CropDay;

    #[test]
    fn closed_a_place_dries_and_is_watered_on_the_day_its_set_starts() {
        // 100 mm of TAW, 5 mm a day, no stress; the crop's first day is the second of the season.
        let day = CropDay::with_fraction(5.0, 0.0, 0.5, 100.0, 100.0);
        let ground = Ground { first_day: 1, days: vec![vec![day; 4]], depletion_mm: 20.0, ky: 1.0 };
        // Sets at 06:00 of day 0 (before the crop), 23:30 of day 2, and long after.
        let course = soil_course(&ground, 0, &[(6.0, 30.0), (71.5, 12.0), (900.0, 9.0)]);
        let depletion: Vec<f64> = course.iter().map(|day| day.depletion_mm).collect();
        assert_eq!(depletion, [25.0, 18.0, 23.0, 28.0]);
        assert_eq!((course[0].taw_mm, course[0].raw_mm), (100.0, 50.0));
    }
}
