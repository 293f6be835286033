//! Crop height against the pipe of a wheel line through the season, in words.

use crate::scenes::{ClearedWheel, cleared_wheels, date_of};
use crate::texts::{Language, dates, drive};
use evenfall_core::lateral::Machine;
use evenfall_core::machine::Maintenance;
use evenfall_view::units::{Quantity, UnitSystem};

/// Crop height against axle height in words, and a row for every wheel; `None` for a hand-move or
/// without a crop.
pub(crate) fn words(
    maintenance: &Maintenance,
    machine: &Machine,
    (units, language): (UnitSystem, Language),
) -> Option<Vec<String>> {
    let (Machine::WheelLine(wheel), Some(stand)) = (machine, &maintenance.stand) else {
        return None;
    };
    let wheels = cleared_wheels(maintenance, stand, wheel.travel_per_turn_m);
    let decimals = if units == UnitSystem::Si { 2 } else { 1 };
    let length = |meters: f64| units.text(Quantity::Length, meters, decimals);
    let told = |wheel: &ClearedWheel| {
        let found = &wheel.found;
        let (name, under) = (wheel.name(language), length(found.under_pipe_m));
        match found.first_touch {
            None => drive::CLEARS.with(
                language,
                &[("wheel", &name), ("under", &under), ("room", &length(found.least_room_m))],
            ),
            Some(day) => drive::DRAGS.with(
                language,
                &[
                    ("wheel", &name),
                    ("under", &under),
                    ("day", &dates::day_month(language, date_of(stand.planted, day))),
                    ("n", &found.days_touched),
                    ("room", &length(-found.least_room_m)),
                ],
            ),
        }
    };
    let mut words = vec![drive::CROP_GROWS.with(
        language,
        &[
            ("name", &stand.name),
            ("height", &length(stand.greatest_m)),
            ("pipe", &units.small_length(maintenance.pipe_diameter_m)),
        ],
    )];
    words.extend(wheels.iter().map(told));
    Some(words)
}
