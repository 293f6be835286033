//! The pipe of the lateral as written: sizes, inlet, heights, nozzles under pressure.

use crate::declare::{choice, section};
use crate::limits;
use crate::read::Number;
use crate::read_plain::List;
use crate::read_quantity::Quantity;
use evenfall_core::lateral::hydraulics::Material;

choice! {
    /// What the pipe is made of; gives its roughness.
    pub(crate) MaterialName {
        /// Aluminum with couplers every 30 ft or so.
        Aluminum = "aluminum",
        /// Plastic.
        Plastic = "plastic",
        /// New or galvanized steel.
        NewSteel = "new steel",
        /// Steel some 15 years old.
        OldSteel = "old steel",
    }
}

impl From<MaterialName> for Material {
    fn from(name: MaterialName) -> Self {
        match name {
            MaterialName::Aluminum => Self::Aluminum,
            MaterialName::Plastic => Self::Plastic,
            MaterialName::NewSteel => Self::NewSteel,
            MaterialName::OldSteel => Self::OldSteel,
        }
    }
}

section! {
    /// The pipe of the lateral: with it, pressure and discharge are worked out sprinkler by
    /// sprinkler; without it, all have the sprinklers' stated pressure.
    PipeFile {
        /// Inside diameter, from the inlet on.
        inside_diameter: Quantity<limits::InsideDiameter>,
        /// Inside diameter beyond `change_at`.
        inside_diameter_beyond: Option<Quantity<limits::InsideDiameter>>,
        /// Distance along the pipe from the inlet where the size changes.
        change_at: Option<Quantity<limits::PlaceInField>>,
        /// What the pipe is made of; gives C where `roughness_c` does not.
        material: Option<MaterialName>,
        /// Hazen–Williams C of the whole pipe.
        roughness_c: Option<Number<limits::RoughnessC>>,
        /// Hazen–Williams C beyond `change_at`, where it differs.
        roughness_c_beyond: Option<Number<limits::RoughnessC>>,
        /// What is known of the water; without it the sprinklers' mean pressure is the stated one.
        inlet: Option<InletFile>,
        /// Place of the inlet along the pipe, from the field's edge like the first sprinkler's;
        /// without it the field's edge.
        inlet_at: Option<Quantity<limits::PlaceInField>>,
        /// Height of the nozzle above the pipe.
        riser: Option<Quantity<limits::Riser>>,
        /// Rise of the ground along the pipe away from the field's edge; negative falls.
        slope: Option<Quantity<limits::PipeSlope>>,
        /// Heights of the ground along the pipe, in place of a slope.
        heights: Option<List<HeightFile, { limits::MOST_HEIGHTS }>>,
        /// Pressure above which flow-control nozzles hold their discharge; without it they are plain.
        flow_control: Option<Quantity<limits::Pressure>>,
        /// m of R ∝ P^m, how the radius of throw grows with pressure.
        radius_exponent: Option<Number<limits::RadiusExponent>>,
    }
}

section! {
    /// What is known of the water that comes in.
    InletFile, one of pressure | flow | mean_sprinkler_pressure {
        /// Pressure in the pipe at the inlet.
        pressure: Option<Quantity<limits::InletPressure>>,
        /// Flow at the inlet.
        flow: Option<Quantity<limits::InletFlow>>,
        /// Mean pressure of the nozzles.
        mean_sprinkler_pressure: Option<Quantity<limits::Pressure>>,
    }
}

section! {
    /// Height of the ground at one place along the pipe.
    HeightFile {
        /// Place, from the field's edge.
        place: Quantity<limits::PlaceInField>,
        /// Height above any datum.
        height: Quantity<limits::GroundHeight>,
    }
}
