//! Crop height against the pipe of a wheel line through the season, in words.

use crate::scenes::{ClearedWheel, cleared_wheels, date_of};
use evenfall_core::lateral::Machine;
use evenfall_core::machine::Maintenance;
use evenfall_view::units::{Quantity, UnitSystem};

/// Crop height against axle height in words, and a row for every wheel; `None` for a hand-move or
/// without a crop.
pub(crate) fn words(
    maintenance: &Maintenance,
    machine: &Machine,
    units: UnitSystem,
) -> Option<Vec<String>> {
    let (Machine::WheelLine(wheel), Some(stand)) = (machine, &maintenance.stand) else {
        return None;
    };
    let wheels = cleared_wheels(maintenance, stand, wheel.travel_per_turn_m);
    let decimals = if units == UnitSystem::Si { 2 } else { 1 };
    let length = |meters: f64| units.text(Quantity::Length, meters, decimals);
    let told = |wheel: &ClearedWheel| {
        let found = &wheel.found;
        let fate = match found.first_touch {
            None => format!("clears the crop by at least {}", length(found.least_room_m)),
            Some(day) => format!(
                "drags through the crop from {} on ({} days), by up to {}",
                date_of(stand.planted, day).strftime("%-d %B"),
                found.days_touched,
                length(-found.least_room_m)
            ),
        };
        let name = if wheel.is_own { "This machine" } else { &wheel.name };
        format!("{name}: bottom of the pipe at {}, {fate}.", length(found.under_pipe_m))
    };
    let mut words = vec![format!(
        "Crop: {}. It grows to {} (FAO-56 Table 12 or the scenario), in a straight line through its \
         development stage. The pipe is {} in diameter. Sag, furrows and drains below the pipe are \
         left out.",
        stand.name,
        length(stand.greatest_m),
        units.small_length(maintenance.pipe_diameter_m)
    )];
    words.extend(wheels.iter().map(told));
    Some(words)
}
