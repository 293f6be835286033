//! The soil under one place through a season, day by day, for whoever wants to watch it.

use super::Ground;
use crate::root_zone::RootZone;

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
/// in mm). Water counts for the day on which its set starts, as in [`super::run`]; what falls
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
