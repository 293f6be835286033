//! The machine's care as written: pipe and axle, the drive's oil, moves that were timed.

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
        /// Height of the axle above the ground, as measured; without it the wheel's rolling radius.
        axle_height: Option<Quantity<limits::AxleHeight>>,
        /// Greatest height of the crop, in place of the table's.
        crop_height: Option<Quantity<limits::CropHeight>>,
        /// Oil of a hydraulic drive.
        oil: Option<OilFile>,
        /// Moves that were timed, at two temperatures or more; they need the oil.
        timed_moves: Option<List<TimedMoveFile, { limits::MOST_TIMED_MOVES }>>,
    }
}

section! {
    /// The oil of a hydraulic drive.
    OilFile {
        /// Its ISO viscosity grade.
        grade: GradeName,
        /// Viscosity at 40 °C from its data sheet; without it the middle of the grade.
        viscosity_at_40_c: Option<Quantity<limits::ViscosityWarm>>,
        /// Viscosity at 100 °C from its data sheet; without it that of a common mineral oil.
        viscosity_at_100_c: Option<Quantity<limits::ViscosityHot>>,
    }
}

section! {
    /// A move that was timed.
    TimedMoveFile {
        /// Air temperature at the machine.
        temperature: Quantity<limits::AirTemperature>,
        /// How long the move took, from shutting off to watering again.
        time: Quantity<limits::TimedMove>,
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
