//! Crop height against the pipe of several wheels, as picture and words read it.

use crate::texts::{Language, drive};
use evenfall_core::lateral::WheelSize;
use evenfall_core::machine::clearance::{Clearance, clearance, under_pipe_m};
use evenfall_core::machine::{Maintenance, Stand};
use jiff::ToSpan;
use jiff::civil::Date;

/// A wheel, and how its pipe clears the crop.
pub(crate) struct ClearedWheel {
    /// Its trade size; none for the machine's own.
    pub(crate) size: Option<WheelSize>,
    pub(crate) is_own: bool,
    pub(crate) found: Clearance,
}

impl ClearedWheel {
    /// What it is called: "7-foot wheel".
    pub(crate) fn name(&self, language: Language) -> String {
        let feet = |size: &WheelSize| size.name().trim_end_matches("-foot").to_owned();
        self.size.as_ref().map_or_else(
            || drive::THIS_MACHINE.of(language).to_owned(),
            |size| drive::WHEEL.with(language, &[("n", &feet(size))]),
        )
    }
}

/// The wheels to compare: the machine's own first, then the trade sizes.
pub(crate) fn cleared_wheels(
    maintenance: &Maintenance,
    stand: &Stand,
    travel_m: f64,
) -> Vec<ClearedWheel> {
    let of = |under_m: f64| clearance(&stand.crop, stand.greatest_m, under_m);
    let own_m = match maintenance.axle_height_m {
        Some(axle_m) => axle_m - 0.5 * maintenance.pipe_diameter_m,
        None => under_pipe_m(travel_m, maintenance.pipe_diameter_m),
    };
    let mut wheels = vec![ClearedWheel { size: None, is_own: true, found: of(own_m) }];
    wheels.extend(WheelSize::ALL.into_iter().map(|size| {
        let under_m = under_pipe_m(size.travel_per_turn_m(), maintenance.pipe_diameter_m);
        ClearedWheel { size: Some(size), is_own: false, found: of(under_m) }
    }));
    wheels
}

/// The date of a day of the season, counted from 1.
pub(crate) fn date_of(planted: Date, day: usize) -> Date {
    planted.saturating_add((day as i64 - 1).days())
}
