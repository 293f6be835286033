//! Lateral, wheel and outlets as written.

use super::PipeFile;
use crate::declare::{choice, section};
use crate::limits;
use crate::read::Count;
use crate::read_quantity::Quantity;
use evenfall_core::lateral::EdgeTreatment;

choice! {
    /// How a lateral is moved.
    pub(crate) MachineName {
        /// Rolled on wheels.
        WheelLine = "wheel line",
        /// Carried.
        HandMove = "hand move",
    }
}

choice! {
    /// What shifted passes do at the first and the last stop.
    pub(crate) EdgesName {
        /// Every stop is shifted.
        Shift = "shift",
        /// First and last stop stay at their outlets.
        Hold = "hold",
        /// One set more on the side that the shift opens.
        ExtraSet = "extra set",
    }
}

impl From<EdgesName> for EdgeTreatment {
    fn from(name: EdgesName) -> Self {
        match name {
            EdgesName::Shift => Self::Shift,
            EdgesName::Hold => Self::Hold,
            EdgesName::ExtraSet => Self::ExtraSet,
        }
    }
}

section! {
    /// The pipe and its sprinklers.
    LateralFile {
        /// How it is moved.
        machine: MachineName,
        /// Number of sprinklers.
        sprinklers: Count<limits::Sprinklers>,
        /// Distance between sprinklers along the pipe.
        sprinkler_spacing: Quantity<limits::SprinklerSpacing>,
        /// Distance of the first sprinkler from the field's edge; without it they are centered.
        first_sprinkler: Option<Quantity<limits::PlaceInField>>,
        /// The pipe; with it pressure and discharge are worked out along it.
        pipe: Option<PipeFile>,
    }
}

section! {
    /// The wheels of a wheel line: travel as measured, or the diameter it is worked out from.
    WheelFile, one of travel_per_turn | outside_diameter {
        /// Distance rolled in one whole turn, as measured in the field.
        travel_per_turn: Option<Quantity<limits::TravelPerTurn>>,
        /// Outside diameter over the lugs.
        outside_diameter: Option<Quantity<limits::WheelDiameter>>,
        /// Share of the circumference lost to sinkage and slip; only with a diameter.
        slip_and_sinkage: Option<Quantity<limits::SlipAndSinkage>>,
        /// Tilt that the levelers of the sprinklers take up.
        leveler_range: Option<Quantity<limits::LevelerRange>>,
    }
}

section! {
    /// The outlets (hydrant valves) on the mainline.
    OutletsFile {
        /// Distance between outlets.
        spacing: Quantity<limits::OutletSpacing>,
        /// Distance of the first outlet from the field's edge; without it half a spacing.
        first: Option<Quantity<limits::PlaceInField>>,
        /// Number of outlets; without it as many as fit.
        count: Option<Count<limits::OutletCount>>,
        /// How far the lateral may stand from its outlet: reach of the hose or swing joint.
        reach: Quantity<limits::Reach>,
    }
}
