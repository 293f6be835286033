//! A boundary's numbers brought onto the field's axes, m from the rectangle's corner.
//!
//! Longitude and latitude are projected about the middle of their box with the radii of curvature
//! of the WGS 84 ellipsoid there, x = N cos φ Δλ, y = M Δφ (equirectangular; the radii from memory,
//! confidence high). The error of a distance at d from the middle is about tan φ · d / R of it; its
//! size is told. Lengths of a projected system are taken as they are: its scale (within 0.1 % of one in
//! UTM and State Plane zones) is left out, and its north is taken as north, which it is but for up to
//! some 3°. Both are turned so that +y is the direction of travel, and put with their box in the middle
//! of the rectangle. Meters and feet from the rectangle's corner stay where they are.

use crate::boundary_file::{Found, Kind, Shape, System};
use crate::file::{BoundaryFile, CoordinatesName};
use crate::notes::{Notes, decimals};
use evenfall_core::boundary::Corner;
use evenfall_core::grid::Grid;
use evenfall_core::units::M_PER_FT;

/// Semi-major axis of WGS 84, m, and the square of its eccentricity.
const WGS84: (f64, f64) = (6_378_137.0, 0.006_694_379_990_14);

/// What is wrong and what to do.
pub(super) type Wrong = (String, String);

/// The rings on the field's axes, m.
pub(super) fn placed(
    given: &BoundaryFile,
    found: &Found,
    shape: &Shape,
    (grid, travel_bearing_deg): (&Grid, f64),
    notes: &mut Notes<'_>,
) -> Result<Vec<Vec<Corner>>, Wrong> {
    let coordinates = coordinates(given, found, shape, notes)?;
    let east_north = match coordinates {
        CoordinatesName::Meters => return Ok(scaled(shape, 1.0)),
        CoordinatesName::Feet => return Ok(scaled(shape, M_PER_FT)),
        CoordinatesName::Degrees => projected(shape, given, notes)?,
        CoordinatesName::ProjectedMeters => from_map(shape, 1.0, given, found, notes),
        CoordinatesName::ProjectedFeet => from_map(shape, M_PER_FT, given, found, notes),
    };
    let why = "the middle of the boundary's box lies in the middle of the rectangle";
    notes.assume(&format!("{}/place", given.at.pointer), "centered", why);
    Ok(centered(&turned(&east_north, travel_bearing_deg), grid))
}

/// What the numbers are: as the scenario says, else as the file says, else as the standard has it.
fn coordinates(
    given: &BoundaryFile,
    found: &Found,
    shape: &Shape,
    notes: &mut Notes<'_>,
) -> Result<CoordinatesName, Wrong> {
    use CoordinatesName::{Degrees, Feet, Meters, ProjectedFeet, ProjectedMeters};
    let by_file = |kind: Kind| match kind {
        Kind::Degrees => Some((Degrees, "lon/lat")),
        Kind::Meters => Some((ProjectedMeters, "projected m")),
        Kind::Feet => Some((ProjectedFeet, "projected ft")),
        Kind::Stretched => None,
    };
    let said = found.system.as_ref();
    let is_map = matches!(given.coordinates, None | Some(ProjectedMeters | ProjectedFeet));
    if let Some(System { name, kind: Some(Kind::Stretched) }) = said
        && is_map
    {
        let what = format!("its coordinates are {name}, a map that stretches lengths");
        let hint = "Export it as longitude and latitude, or in UTM or State Plane.";
        return Err((what, hint.to_owned()));
    }
    let told = said.and_then(|system| Some((&system.name, by_file(system.kind?)?)));
    match (given.coordinates, told) {
        (Some(chosen), told) => {
            if let Some((name, (other, word))) = told.filter(|(_, (other, _))| *other != chosen) {
                let kept = if matches!(other, Degrees) == matches!(chosen, Meters | Feet) {
                    "the scenario's is taken"
                } else {
                    "the scenario's is taken; one of the two is wrong"
                };
                notes.warn(format!(
                    "the boundary's file says that its coordinates are {name} ({word}), and the \
                     scenario says otherwise: {kept}"
                ));
            }
            Ok(chosen)
        }
        (None, Some((name, (found, word)))) => {
            let why = format!("the file says that its coordinates are {name}");
            notes.assume(&format!("{}/coordinates", given.at.pointer), word, why);
            Ok(found)
        }
        (None, None) if said.is_none() && found.is_geojson && is_lon_lat(shape) => {
            let why =
                "GeoJSON has longitude and latitude (RFC 7946), and the numbers are within them";
            notes.assume(&format!("{}/coordinates", given.at.pointer), "lon/lat", why);
            Ok(Degrees)
        }
        (None, None) => {
            let what = match said {
                Some(System { name, .. }) => {
                    format!("its coordinate system {name} is not known here")
                }
                None => "it does not say what its numbers are".to_owned(),
            };
            let hint = "Say it in `coordinates`: \"projected m\" or \"projected ft\" for UTM, State \
                        Plane and the like, \"lon/lat\", or \"m\" or \"ft\" from the field's corner.";
            Err((what, hint.to_owned()))
        }
    }
}

fn scaled(shape: &Shape, factor: f64) -> Vec<Vec<Corner>> {
    let ring = |ring: &Vec<Corner>| ring.iter().map(|[x, y]| [x * factor, y * factor]).collect();
    shape.rings.iter().map(ring).collect()
}

/// Least and greatest of both coordinates.
pub(super) fn bounds(rings: &[Vec<Corner>]) -> [[f64; 2]; 2] {
    let start = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
    rings.iter().flatten().fold(start, |[low, high], [x, y]| {
        [[low[0].min(*x), low[1].min(*y)], [high[0].max(*x), high[1].max(*y)]]
    })
}

/// Whether numbers are within longitudes and latitudes.
pub(super) fn is_lon_lat(shape: &Shape) -> bool {
    let [low, high] = bounds(&shape.rings);
    low[0] >= -180.0 && high[0] <= 180.0 && low[1] >= -90.0 && high[1] <= 90.0
}

/// Meters east and north of the middle of the box, on a map whose unit is `unit_m`.
fn from_map(
    shape: &Shape,
    unit_m: f64,
    given: &BoundaryFile,
    found: &Found,
    notes: &mut Notes<'_>,
) -> Vec<Vec<Corner>> {
    let unit = if unit_m == 1.0 { "meters" } else { "feet" };
    let name = found.system.as_ref().map_or("a projected system", |system| &system.name);
    let why = "taken as they are and turned to the direction of travel: the scale of such a map is \
               within 0.1 % of one, its north within some 3° of true north (UTM, State Plane)";
    let value = format!("{unit} east and north of {name}");
    notes.assume(&format!("{}/projection", given.at.pointer), value, why);
    let [low, high] = bounds(&shape.rings);
    let middle = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
    let local = |[x, y]: &Corner| [(x - middle[0]) * unit_m, (y - middle[1]) * unit_m];
    shape.rings.iter().map(|ring| ring.iter().map(local).collect()).collect()
}

/// Meters east and north of the middle of a box of longitudes and latitudes.
fn projected(
    shape: &Shape,
    given: &BoundaryFile,
    notes: &mut Notes<'_>,
) -> Result<Vec<Vec<Corner>>, Wrong> {
    let [low, high] = bounds(&shape.rings);
    if low[0] < -180.0 || high[0] > 180.0 || low[1] < -85.0 || high[1] > 85.0 {
        let what = format!(
            "its numbers ({} to {}, {} to {}) are no longitudes (−180 to 180) and latitudes (−85 \
             to 85)",
            low[0], high[0], low[1], high[1]
        );
        return Err((what, "If they are meters or feet, say so in `coordinates`.".to_owned()));
    }
    let middle = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
    let (east_m, north_m) = meters_a_degree(middle[1]);
    let local = |[lon, lat]: &Corner| [(lon - middle[0]) * east_m, (lat - middle[1]) * north_m];
    let rings: Vec<Vec<Corner>> =
        shape.rings.iter().map(|ring| ring.iter().map(local).collect()).collect();
    let [low_m, high_m] = bounds(&rings);
    let reach_m = 0.5 * (high_m[0] - low_m[0]).hypot(high_m[1] - low_m[1]);
    let error = middle[1].to_radians().tan().abs() * reach_m / WGS84.0;
    let value = format!("about {:.5}°, {:.5}°", middle[0], middle[1]);
    let why = format!(
        "equirectangular on WGS 84, turned to the direction of travel; distances are true to {} m at the \
         field's ends",
        decimals((error * reach_m).max(1e-4), 4)
    );
    notes.assume(&format!("{}/projection", given.at.pointer), value, why);
    Ok(rings)
}

/// East and north turned so that +y has the bearing of travel; +x lies 90° clockwise of it.
fn turned(rings: &[Vec<Corner>], travel_bearing_deg: f64) -> Vec<Vec<Corner>> {
    let (sin, cos) = travel_bearing_deg.to_radians().sin_cos();
    let turn = |[east, north]: &Corner| [east * cos - north * sin, east * sin + north * cos];
    rings.iter().map(|ring| ring.iter().map(turn).collect()).collect()
}

/// Rings with their box in the middle of the rectangle.
fn centered(rings: &[Vec<Corner>], grid: &Grid) -> Vec<Vec<Corner>> {
    let [low_m, high_m] = bounds(rings);
    let sides_m = [grid.length_along_m(), grid.width_across_m()];
    let to = [0, 1].map(|axis| 0.5 * (sides_m[axis] - low_m[axis] - high_m[axis]));
    let moved = |[x, y]: &Corner| [x + to[0], y + to[1]];
    rings.iter().map(|ring| ring.iter().map(moved).collect()).collect()
}

/// Meters in a degree of longitude and of latitude on WGS 84, at latitude `lat_deg`.
fn meters_a_degree(lat_deg: f64) -> (f64, f64) {
    let (axis_m, eccentricity2) = WGS84;
    let (sin, cos) = lat_deg.to_radians().sin_cos();
    let under = 1.0 - eccentricity2 * sin * sin;
    let (across_m, along_m) =
        (axis_m / under.sqrt(), axis_m * (1.0 - eccentricity2) / under.powf(1.5));
    ((across_m * cos).to_radians(), along_m.to_radians())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_lengths_of_a_degree() {
        // Length of a degree on WGS 84 at 0, 45 and 60°, km of longitude and latitude: common
        // geodetic tables, from memory, confidence high; half their last printed digit.
        for (lat_deg, lon_km, lat_km) in
            [(0.0, 111.319, 110.574), (45.0, 78.847, 111.132), (60.0, 55.800, 111.412)]
        {
            let (east_m, north_m) = meters_a_degree(lat_deg);
            assert!((east_m / 1000.0 - lon_km).abs() <= 0.0005, "{lat_deg}: {east_m}");
            assert!((north_m / 1000.0 - lat_km).abs() <= 0.0005, "{lat_deg}: {north_m}");
        }
    }
}
