//! The pictures of a season, one file each.

mod area_curve;
mod build_up;
mod calendar;
mod course;
mod cu_in_wind;
mod depth_maps;
pub(crate) mod edge_profile;
mod gain;
mod map_sheet;
mod pressure;
mod search;
pub(crate) mod season_map;
mod stop_diagram;
pub(crate) mod tilt;
mod wheel;
mod wind_rose;
mod worth;

pub(crate) use cu_in_wind::cu_in_wind_picture;
pub(crate) use map_sheet::scale_of;
pub use pressure::pressure_picture;
pub use search::search_pictures;
pub use wheel::wheel_picture;
pub use worth::worth_pictures;

pub(crate) use season_map::depth as season_depth_picture;

use crate::picture::Picture;
use crate::scenes::Scene;
use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::season::Outcome;
use evenfall_view::units::UnitSystem;
use rayon::prelude::*;

type Draw = fn(&Scene<'_>) -> Result<Picture, DrawError>;

const ALL: [Draw; 10] = [
    season_map::depth,
    season_map::deviation,
    build_up::detail,
    build_up::field,
    course::draw,
    area_curve::draw,
    edge_profile::draw,
    stop_diagram::draw,
    calendar::draw,
    wind_rose::draw,
];

/// Draws all pictures of a season, in the order of the report. Each is drawn on a thread of its
/// own where there are several; the result does not depend on how many.
///
/// # Errors
/// If scenario and outcome do not belong together, or a library refuses.
pub fn pictures(
    scenario: &Scenario,
    outcome: &Outcome,
    units: UnitSystem,
) -> Result<Vec<Picture>, DrawError> {
    let scene = Scene::new(scenario, outcome, units)?;
    let drawn: Vec<_> = ALL.par_iter().map(|draw| draw(&scene)).collect();
    // Only where a pipe is described.
    let pressure = pressure::draw(&scene).transpose();
    // Only where there is something to gain against.
    let gain = gain::draw(&scene).transpose();
    let mut all: Vec<Picture> = drawn.into_iter().chain(pressure).collect::<Result<_, _>>()?;
    if let Some(gain) = gain {
        let after = all.iter().position(|picture| picture.name == "course");
        all.insert(after.map_or(all.len(), |place| place + 1), gain?);
    }
    Ok(all)
}
