//! The crop's days before the first water and after the last, beside what the soil lasts on them.
//!
//! Before: from planting, with what is missing then, to the first pass reaching the last outlet. After:
//! from the last pass leaving the first outlet, root zone full, to the crop's last day. Each runs through
//! the daily balance's own ETc and rain, roots and RAW of the first year (FAO-56 chapter 8), and lasts
//! until the depletion passes RAW.

use super::yardstick::Yardstick;
use crate::root_zone::CropDay;
use crate::root_zone::ground::Ground;
use crate::schedule::Plan;

/// Crop days without irrigation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrySpell {
    /// How long they are, days, against how long the soil lasts.
    pub against_soil: Yardstick,
    /// Whether the soil lasts to the end of what is looked at: the limit is then the spell itself.
    pub lasts_all: bool,
    /// First day, days from the day of the first set.
    pub first_day: i64,
    /// Days by which water can begin earlier, or end later, while the crop grows.
    pub room_days: f64,
}

/// Before and after the irrigation season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonSpan {
    /// Before the first water.
    pub before: DrySpell,
    /// After the last water.
    pub after: DrySpell,
}

impl SeasonSpan {
    /// That of `plan` on `ground`; `None` without crop days or sets.
    pub(super) fn of(plan: &Plan, ground: &Ground) -> Option<Self> {
        let days = ground.days_of(0);
        let place = |hour: f64| (hour / 24.0).floor() as i64 - ground.first_day;
        let within = |place: i64| place.clamp(0, days.len() as i64) as usize;
        let first = plan.passes.first()?.sets.last()?;
        let last = plan.passes.last()?.sets.first()?;
        let (until, from) = (within(place(first.start_h)), within(place(last.start_h)));
        let begins_h = plan.passes.first()?.sets.first()?.start_h;
        let ends_h = plan.passes.last()?.sets.last()?.start_h;
        let room_days = [within(place(begins_h)), days.len() - within(place(ends_h))];
        (!days.is_empty()).then(|| Self {
            before: spell(&days[..until], ground.depletion_mm, ground.first_day, room_days[0]),
            after: spell(&days[from..], 0.0, ground.first_day + from as i64, room_days[1]),
        })
    }
}

/// How long a root zone lasts on `days` from a depletion on, where water can be moved by so many days.
fn spell(days: &[CropDay], depletion_mm: f64, first_day: i64, room_days: usize) -> DrySpell {
    let mut missing_mm = depletion_mm;
    let lasts = days.iter().position(|day| {
        missing_mm = (missing_mm - day.rain_mm).max(0.0) + day.etc_mm;
        missing_mm > day.raw_mm
    });
    let length = days.len() as f64;
    let against_soil = Yardstick::at_most(length, lasts.map_or(length, |days| days as f64));
    DrySpell { against_soil, lasts_all: lasts.is_none(), first_day, room_days: room_days as f64 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_a_soil_lasts_until_its_readily_available_water_is_used() {
        // RAW 50 mm, 5 mm a day: the depletion passes 50 on the eleventh day.
        let day = |rain_mm| CropDay::with_fraction(5.0, rain_mm, 0.5, 100.0, 100.0);
        let found = spell(&[day(0.0); 20], 0.0, 3, 0);
        assert_eq!((found.against_soil.value, found.against_soil.limit), (20.0, 10.0));
        assert!(!found.lasts_all && !found.against_soil.is_within());
        // 20 mm missing at the start: six days; 30 mm of rain on the third brings it back to 4 + ….
        assert_eq!(spell(&[day(0.0); 20], 20.0, 0, 0).against_soil.limit, 6.0);
        let mut wet = [day(0.0); 8];
        wet[2] = day(30.0);
        let found = spell(&wet, 20.0, 0, 0);
        assert!(found.lasts_all && found.against_soil.is_within());
        assert!(spell(&[], 0.0, 0, 0).against_soil.is_within());
    }
}
