//! The sprinkler as written: its jets add up.

use crate::declare::{choice, section};
use crate::limits;
use crate::read::Number;
use crate::read_plain::List;
use crate::read_quantity::Quantity;

section! {
    /// The sprinklers, all alike.
    SprinklerFile {
        /// Pressure at the nozzle.
        pressure: Quantity<limits::Pressure>,
        /// Angle of the jet above the horizontal.
        trajectory_angle: Option<Quantity<limits::TrajectoryAngle>>,
        /// Height of the nozzle above ground.
        nozzle_height: Quantity<limits::NozzleHeight>,
        /// The jets of one sprinkler; they add up.
        jets: List<JetFile, 6>,
        /// Drag correction in wind: fitted numbers.
        drag: Option<DragFile>,
    }
}

section! {
    /// One jet: a measured leg, an ideal shape or a nozzle.
    JetFile, one of leg | shape | nozzle {
        /// Catch rate against distance in still air.
        leg: Option<LegFile>,
        /// Ideal shape of the pattern.
        shape: Option<ShapeName>,
        /// Diameter of the nozzle.
        nozzle: Option<Quantity<limits::NozzleDiameter>>,
        /// Radius of throw in still air; needed with a shape or nozzle.
        radius: Option<Quantity<limits::Radius>>,
        /// Wetted diameter in still air, in place of the radius.
        wetted_diameter: Option<Quantity<limits::WettedDiameter>>,
        /// Discharge; needed with a shape. A leg is scaled to it.
        discharge: Option<Quantity<limits::Discharge>>,
        /// Angle of this jet above the horizontal, where it differs.
        trajectory_angle: Option<Quantity<limits::TrajectoryAngle>>,
    }
}

section! {
    /// Catch rate against distance from one sprinkler in still air.
    LegFile {
        /// Distances from the sprinkler, rising.
        distance: List<Quantity<limits::LegDistance>, 400>,
        /// Rates there.
        rate: List<Quantity<limits::LegRate>, 400>,
    }
}

choice! {
    /// An ideal pattern, by its radial profile.
    pub(crate) ShapeName {
        /// Falls in a straight line to the edge.
        Triangle = "triangular",
        /// Quarter of an ellipse.
        Ellipse = "elliptical",
        /// Falls with the square of the distance.
        Parabola = "parabolic",
        /// The same everywhere.
        Uniform = "uniform",
        /// Little near the sprinkler, most towards the edge.
        Ring = "ring",
    }
}

section! {
    /// Drag correction in wind, C(1 + K1 sin β − K2 cos α): fitted numbers, not physics.
    DragFile {
        /// K1 narrows the pattern across the wind.
        k1: Option<Number<limits::DragK1>>,
        /// K2 lengthens it down the wind.
        k2: Option<Number<limits::DragK2>>,
        /// Spread by turbulence, as a share of wind speed times time of flight.
        turbulence: Option<Number<limits::Turbulence>>,
    }
}
