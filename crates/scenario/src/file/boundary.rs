//! The field's boundary as written.

use crate::declare::{choice, section};
use crate::read_plain::Text;

choice! {
    /// What the numbers of a boundary are.
    pub(crate) CoordinatesName {
        /// Meters from the field's corner: along the pipe, then the direction of travel.
        Meters = "m",
        /// Feet from the field's corner, likewise.
        Feet = "ft",
        /// Longitude and latitude in degrees, WGS 84, as RFC 7946 has it.
        Degrees = "lon/lat",
    }
}

section! {
    /// A boundary drawn elsewhere: a polygon with or without holes.
    BoundaryFile {
        /// Name of the `GeoJSON` file, beside the scenario.
        file: Text, "Boundary file";
        /// What the numbers in the file are.
        coordinates: CoordinatesName, "Coordinates";
    }
}
