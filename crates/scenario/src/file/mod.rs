//! The scenario file as types: what may be written, before defaults and cross-checks.

mod boundary;
mod climate;
mod crop;
mod ground;
mod machine;
mod maintenance;
mod pipe;
mod price;
mod search;
mod season;
mod shift;
mod sprinkler;
mod wind;
mod worth;

pub(crate) use boundary::{BoundaryFile, CoordinatesName};
pub(crate) use climate::{ComputedFile, DaysFile, EtMethod, RadiationSource, RainWays};
pub(crate) use crop::{CropFile, KcFile, RootsFile, StagesFile};
pub(crate) use ground::{ClimateFile, Et0File, SoilFile};
pub(crate) use machine::{EdgesName, LateralFile, MachineName, OutletsFile, WheelFile};
pub(crate) use maintenance::{MaintenanceFile, OilFile};
pub(crate) use pipe::{HeightFile, InletFile, PipeFile};
pub(crate) use price::Price;
pub(crate) use search::{AimName, OrdersName, SearchFile};
pub(crate) use season::{AirFile, LossFormula, LossesFile, SeasonFile};
pub(crate) use shift::{Across, Along, ShiftFile};
pub(crate) use sprinkler::{DragFile, JetFile, LegFile, ShapeName, SprinklerFile};
pub(crate) use wind::{GeneratedFile, Layout, RecordFile, SteadyFile, WindFile};
pub(crate) use worth::{EquipmentFile, PrecisionWish, PricesFile, WorthFile};

use crate::declare::{choice, section};
use crate::limits;
use crate::part::Part;
use crate::read::{Count, Tolerant};
use crate::read_plain::{List, Text};
use crate::read_quantity::Quantity;

choice! {
    /// The units in which results are shown.
    pub UnitSystem {
        /// Feet, inches, acres.
        Us = "us",
        /// Meters, millimeters, hectares.
        Si = "si",
    }
}

section! {
    /// One season of a moved sprinkler lateral, and the ways of running it that are compared.
    ScenarioFile {
        /// Version of this format: 1.
        evenfall: Tolerant<Count<limits::Version>>,
        /// Title of the report.
        title: Tolerant<Text>,
        /// The question the scenario asks, in one sentence.
        question: Tolerant<Option<Text>>,
        /// Whether the field is invented; the report says so.
        invented: Tolerant<Option<bool>>,
        /// Units in which results are shown.
        units: Tolerant<Option<UnitSystem>>,
        /// Seed of everything drawn at random.
        seed: Tolerant<Option<Count<limits::Seed>>>,
        /// The field.
        field: Tolerant<FieldFile>,
        /// The pipe and its sprinklers.
        lateral: Tolerant<LateralFile>,
        /// The wheels of a wheel line.
        wheel: Tolerant<Option<WheelFile>>,
        /// The outlets on the mainline.
        outlets: Tolerant<OutletsFile>,
        /// The sprinklers.
        sprinkler: Tolerant<SprinklerFile>,
        /// Wind drift and evaporation losses.
        losses: Tolerant<Option<LossesFile>>,
        /// Air where the weather does not say.
        air: Tolerant<Option<AirFile>>,
        /// When water is to run.
        season: Tolerant<SeasonFile>,
        /// Where the wind comes from.
        wind: Tolerant<WindFile>,
        /// The crop; with soil and climate it lets what the rotation is worth be told.
        crop: Tolerant<Option<CropFile>>,
        /// The soil.
        soil: Tolerant<Option<SoilFile>>,
        /// Evapotranspiration and rain.
        climate: Tolerant<Option<ClimateFile>>,
        /// Prices, and what is asked of the statistics.
        worth: Tolerant<Option<WorthFile>>,
        /// What is known of the machine beyond its wheels.
        maintenance: Tolerant<Option<MaintenanceFile>>,
        /// The search for rotations worth considering.
        search: Tolerant<Option<SearchFile>>,
        /// What is compared; the first is the baseline.
        alternatives: Tolerant<List<Tolerant<AlternativeFile>, { limits::MOST_ALTERNATIVES }>>,
    }
}

section! {
    /// The field: a rectangle, its bearing and the grid laid over it.
    FieldFile {
        /// Side along the pipe.
        length_along_pipe: Quantity<limits::FieldSide>,
        /// Side across the pipe, the way the lateral travels.
        width_across: Quantity<limits::FieldSide>,
        /// Compass bearing of the way the lateral travels, clockwise from north.
        travel_bearing: Tolerant<Quantity<limits::Bearing>>,
        /// Side of a grid cell.
        cell: Tolerant<Option<Quantity<limits::Cell>>>,
        /// The field's edge within the rectangle, where it is not all of it.
        boundary: Tolerant<Option<BoundaryFile>>,
    }
}

section! {
    /// One way of running the season: a rotation, and what differs from the common sections.
    AlternativeFile {
        /// Name in pictures and tables.
        name: Text,
        /// Shift of pass 1, of pass 2 and so on, then from the start again.
        rotation: List<ShiftFile, { limits::MOST_SHIFTS }>,
        /// Keys of the lateral that differ.
        lateral: Option<Part<LateralFile>>,
        /// Keys of the wheel that differ.
        wheel: Option<Part<WheelFile>>,
        /// Keys of the outlets that differ.
        outlets: Option<Part<OutletsFile>>,
        /// Keys of the sprinkler that differ.
        sprinkler: Option<Part<SprinklerFile>>,
        /// What its shifted passes do at the field's edges.
        edges: Option<EdgesName>,
        /// Keys of the season that differ; it starts on the same day.
        season: Option<Part<SeasonFile>>,
        /// What it needs beyond the bare machine.
        equipment: Option<EquipmentFile>,
    }
}
