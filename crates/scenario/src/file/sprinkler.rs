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
        pressure: Quantity<limits::Pressure>, "Nozzle pressure";
        /// Angle of the jet above the horizontal.
        trajectory_angle: Option<Quantity<limits::TrajectoryAngle>>,
            "Trajectory angle", else "25 deg" because "common for impact sprinklers, no source";
        /// Height of the nozzle above the ground.
        nozzle_height: Quantity<limits::NozzleHeight>, "Nozzle height";
        /// Pressures between which flow-control nozzles hold their discharge.
        flow_control: Option<FlowControlFile>, "Flow control", else "plain nozzles";
        /// The jets of one sprinkler; they add up.
        jets: List<JetFile, 6>, "Jets";
        /// Drag correction in wind: fitted numbers.
        drag: Option<DragFile>, "Drag in wind", else "the usual values";
    }
}

section! {
    /// Flow-control nozzles: between two pressures they deliver what they are stated to; below and above
    /// discharge goes with the root of pressure.
    FlowControlFile {
        /// Lowest pressure at which the discharge is held; the stated pressure must lie in the range.
        from: Quantity<limits::Pressure>, "Held from";
        /// Highest pressure at which it is held.
        to: Option<Quantity<limits::Pressure>>, "Held up to", else "any higher pressure";
    }
}

section! {
    /// One jet: a measured leg, an ideal shape or a nozzle.
    JetFile, one of leg | shape | nozzle {
        /// Catch rate against distance in still air.
        leg: Option<LegFile>, "Measured leg", else "another of these is given";
        /// Ideal shape of the pattern.
        shape: Option<ShapeName>, "Shape", else "another of these is given";
        /// Diameter of the nozzle.
        nozzle: Option<Quantity<limits::NozzleDiameter>>,
            "Nozzle diameter", else "another of these is given";
        /// In still air, as the maker’s table has it for this nozzle at this pressure; needed with
        /// a shape or nozzle.
        radius: Option<Quantity<limits::Radius>>, "Radius of throw", else "the leg’s own";
        /// In still air, in place of the radius.
        wetted_diameter: Option<Quantity<limits::WettedDiameter>>,
            "Wetted diameter", else "twice the radius";
        /// Needed with a shape. A leg is scaled to it.
        discharge: Option<Quantity<limits::Discharge>>,
            "Discharge", else "what the leg adds up to, or what the nozzle gives at this pressure";
        /// Angle of this jet above the horizontal, where it differs.
        trajectory_angle: Option<Quantity<limits::TrajectoryAngle>>,
            "Trajectory angle", else "the sprinkler’s";
    }
}

section! {
    /// Catch rate against distance from one sprinkler in still air.
    LegFile {
        /// Distances from the sprinkler, rising.
        distance: List<Quantity<limits::LegDistance>, 400>, "Distance";
        /// Rates there.
        rate: List<Quantity<limits::LegRate>, 400>, "Catch rate";
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

choice! {
    /// Which angles K1 and K2 go with.
    pub(crate) DragFormName {
        /// K1: between the velocities through the air and over the ground.
        AirAndGround = "air and ground",
        /// K1: between the velocity through the air and the wind.
        AirAndWind = "air and wind",
    }
}

section! {
    /// Drag of drops in wind, C(1 + K1 sin β − K2 cos α), and while the jet holds together: fitted
    /// numbers, not physics.
    DragFile {
        /// Which angles K1 and K2 go with. "air and ground": K1 with the angle between a drop’s
        /// velocities through the air and over the ground, K2 with that between its velocity through
        /// the air and the wind. "air and wind": K1 with the angle between its velocity through the
        /// air and the wind, K2 with that between its two velocities.
        form: Option<DragFormName>,
            "Form", else "air and ground" because "of two readings of the published formula, the one whose uniformity falls with the wind as field tests do";
        /// The more, the shorter drops fall that the wind turns: the pattern shrinks across and
        /// against the wind.
        k1: Option<Number<limits::DragK1>>,
            "K1", else "0.3" because "a fitted number, not physics: chosen with K2, turbulence and jet length by published signs of uniformity in wind";
        /// The more, the farther the pattern reaches down the wind, and the shorter against it.
        k2: Option<Number<limits::DragK2>>,
            "K2", else "0.3" because "a fitted number, not physics: chosen together with K1";
        /// Spread by turbulence, as a share of wind speed times time of flight.
        turbulence: Option<Number<limits::Turbulence>>,
            "Turbulence", else "0.05" because "spreads the smallest drops; chosen together with K1";
        /// Distance over which the jet holds together and its drops meet less drag, growing to that
        /// of a lone drop.
        jet_length: Option<Quantity<limits::JetLength>>,
            "Jet length", else "1.5 m" because "lone drops fall too short (Murzabaev & Yarin 1985); the length is judgment, no source";
    }
}
