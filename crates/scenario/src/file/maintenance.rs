//! The machine's maintenance as written: pipe and axle, the drive's oil, moves that were timed.

use crate::declare::{choice, section};
use crate::limits;
use crate::read_plain::List;
use crate::read_quantity::Quantity;
use evenfall_core::machine::oil::Grade;

section! {
    /// What is known of the machine beyond its wheels, for the move sheet and the maintenance list.
    MaintenanceFile {
        /// Outside diameter of the pipe, which is the axle of a wheel line.
        pipe_diameter: Option<Quantity<limits::PipeDiameter>>,
            "Outside diameter of the pipe", else "5 in" because "common practice, no source";
        /// Height of the axle above the ground, as measured.
        axle_height: Option<Quantity<limits::AxleHeight>>,
            "Axle height", else "the wheel’s rolling radius";
        /// Greatest height of the crop, in place of the table’s.
        crop_height: Option<Quantity<limits::CropHeight>>, "Crop height", else "the table’s";
        /// Oil of a hydraulic drive.
        oil: Option<OilFile>, "Drive oil", else "no hydraulic drive";
        /// Moves that were timed, at two temperatures or more; they need the oil.
        timed_moves: Option<List<TimedMoveFile, { limits::MOST_TIMED_MOVES }>>,
            "Timed moves", else "none";
    }
}

section! {
    /// The oil of a hydraulic drive.
    OilFile {
        /// Its ISO viscosity grade.
        grade: GradeName, "Oil grade";
        /// Viscosity at 40 °C from its data sheet.
        viscosity_at_40_c: Option<Quantity<limits::ViscosityWarm>>,
            "Viscosity at 40 °C", else "middle of the grade (ISO 3448)";
        /// Viscosity at 100 °C from its data sheet.
        viscosity_at_100_c: Option<Quantity<limits::ViscosityHot>>,
            "Viscosity at 100 °C",
            else "a common mineral oil of the grade, from memory; a data sheet is better";
    }
}

section! {
    /// A move that was timed.
    TimedMoveFile {
        /// Air temperature at the machine.
        temperature: Quantity<limits::AirTemperature>, "Air temperature";
        /// How long the move took, from shutting off to watering again.
        time: Quantity<limits::TimedMove>, "Move time";
    }
}

choice! {
    /// An ISO viscosity grade (ISO 3448).
    pub(crate) GradeName {
        /// VG 22.
        Vg22 = "ISO VG 22",
        /// VG 32.
        Vg32 = "ISO VG 32",
        /// VG 46.
        Vg46 = "ISO VG 46",
        /// VG 68.
        Vg68 = "ISO VG 68",
        /// VG 100.
        Vg100 = "ISO VG 100",
        /// VG 150.
        Vg150 = "ISO VG 150",
        /// VG 220.
        Vg220 = "ISO VG 220",
    }
}

impl From<GradeName> for Grade {
    fn from(name: GradeName) -> Self {
        match name {
            GradeName::Vg22 => Self::Vg22,
            GradeName::Vg32 => Self::Vg32,
            GradeName::Vg46 => Self::Vg46,
            GradeName::Vg68 => Self::Vg68,
            GradeName::Vg100 => Self::Vg100,
            GradeName::Vg150 => Self::Vg150,
            GradeName::Vg220 => Self::Vg220,
        }
    }
}
