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
        inside_diameter: Quantity<limits::InsideDiameter>, "Inside diameter";
        /// Inside diameter beyond `change_at`.
        inside_diameter_beyond: Option<Quantity<limits::InsideDiameter>>,
            "Inside diameter beyond the change", else "the same all along";
        /// Distance along the pipe from the inlet where the size changes.
        change_at: Option<Quantity<limits::PlaceInField>>, "Change of size", else "none";
        /// What the pipe is made of; gives C where `roughness_c` does not.
        material: Option<MaterialName>,
            "Material",
            else "aluminum" because "the usual pipe of a moved lateral; common practice, no source";
        /// Hazen–Williams C of the whole pipe.
        roughness_c: Option<Number<limits::RoughnessC>>,
            "Roughness C",
            else "Hazen–Williams C by material (an extension service’s table); couplers included";
        /// Hazen–Williams C beyond `change_at`, where it differs.
        roughness_c_beyond: Option<Number<limits::RoughnessC>>,
            "Roughness C beyond the change",
            else "Hazen–Williams C by material (an extension service’s table); couplers included";
        /// What is known of the water; without it the sprinklers' mean pressure is the stated one.
        inlet: Option<InletFile>, "Inlet", else "the stated pressure of the sprinklers";
        /// Place of the inlet along the pipe, from the field's edge like the first sprinkler's.
        inlet_at: Option<Quantity<limits::PlaceInField>>,
            "Inlet from the edge", else "0 ft" because "the mainline lies along the field’s edge";
        /// Height of the nozzle above the pipe.
        riser: Option<Quantity<limits::Riser>>, "Riser", else "nozzle height less the pipe’s";
        /// Rise of the ground along the pipe away from the field's edge; negative falls.
        slope: Option<Quantity<limits::PipeSlope>>,
            "Slope along the pipe", else "0 %" because "level along the pipe";
        /// Heights of the ground along the pipe, in place of a slope.
        heights: Option<List<HeightFile, { limits::MOST_HEIGHTS }>>,
            "Ground heights", else "the slope";
        /// m of R ∝ P^m, how the radius of throw grows with pressure.
        radius_exponent: Option<Number<limits::RadiusExponent>>,
            "Radius exponent",
            else "0.2"
            because "the radius of throw grows as pressure to this power: judgment; catalogs of \
                impact sprinklers show 0.1 to 0.3";
    }
}

section! {
    /// What is known of the water that comes in.
    InletFile, one of pressure | flow | mean_sprinkler_pressure {
        /// Pressure in the pipe at the inlet.
        pressure: Option<Quantity<limits::InletPressure>>,
            "Inlet pressure", else "another of these is given";
        /// Flow at the inlet.
        flow: Option<Quantity<limits::InletFlow>>, "Inlet flow", else "another of these is given";
        /// Mean pressure of the nozzles.
        mean_sprinkler_pressure: Option<Quantity<limits::Pressure>>,
            "Mean nozzle pressure", else "another of these is given";
    }
}

section! {
    /// Height of the ground at one place along the pipe.
    HeightFile {
        /// Place, from the field's edge.
        place: Quantity<limits::PlaceInField>, "Place";
        /// Height above any datum.
        height: Quantity<limits::GroundHeight>, "Height";
    }
}
