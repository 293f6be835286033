//! The scenario file as types: what may be written, before defaults and cross-checks.

mod boundary;
mod calibration;
mod climate;
mod closed;
mod crop;
mod ground;
mod machine;
mod maintenance;
mod pipe;
mod price;
mod search;
mod season;
mod sheet;
mod shift;
mod sprinkler;
mod survey;
mod wind;
mod worth;

pub(crate) use boundary::{BoundaryFile, CoordinatesName, CornerFile};
pub(crate) use calibration::{CalibrationFile, PointFile, TestFile};
pub(crate) use climate::{ComputedFile, DaysFile, EtMethod, RadiationSource, RainWays};
pub(crate) use closed::ClosedFile;
pub(crate) use crop::{CropFile, KcFile, RootsFile, StagesFile};
pub(crate) use ground::{ClimateFile, Et0File, SoilFile};
pub(crate) use machine::{
    EdgesName, LateralFile, MachineName, OddSprinklerFile, OutletsFile, PartTurnsName, SidesName,
    WheelFile,
};
pub(crate) use maintenance::{MaintenanceFile, OilFile};
pub(crate) use pipe::{HeightFile, InletFile, PipeFile};
pub(crate) use price::{Kind, NOT_KNOWN, PriceFile, PricesFile};
pub(crate) use search::{AimName, OrdersName, SearchFile};
pub(crate) use season::{AirFile, LossFormula, LossesFile, SeasonFile};
pub(crate) use sheet::SheetFile;
pub use sheet::{ClockFace, SheetLanguage};
pub(crate) use shift::{Across, Along, ShiftFile};
pub(crate) use sprinkler::{
    DragFile, DragFormName, FlowControlFile, JetFile, LegFile, ShapeName, SprinklerFile,
};
pub(crate) use survey::SurveyFile;
pub(crate) use wind::{FromRecordFile, GeneratedFile, Layout, RecordFile, SteadyFile, WindFile};
pub(crate) use worth::{
    DoubtsName, EquipmentFile, PrecisionWish, PumpingFile, PurchaseFile, WorthFile,
};

use crate::declare::{choice, section};
use crate::limits;
use crate::part::Part;
use crate::read::{Count, Tolerant};
use crate::read_plain::{List, Text};
use crate::read_quantity::Quantity;
use crate::read_time::ZoneName;

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
    /// One season of a moved sprinkler lateral, and the alternatives that are compared.
    ScenarioFile {
        /// Version of this file format: 1.
        evenfall: Tolerant<Count<limits::Version>>, "Version of the format" in "file";
        /// Title of the report.
        title: Tolerant<Text>, "Name of this comparison" in "field";
        /// The question the scenario asks, in one sentence.
        question: Tolerant<Option<Text>>, "What you want to know" in "field", else "no question";
        /// Whether the field is invented; the report says so.
        invented: Tolerant<Option<bool>>, "This field is made up" in "field", else "false";
        /// Units in which results are shown.
        units: Tolerant<Option<UnitSystem>>,
            "Units" in "file", else "us" because "units in which results are shown";
        /// Places of values that are written here to start from and that nobody has confirmed, such as
        /// "/soil/texture"; what stands below a place counts too. Reports say whose each number is.
        starting_values: Tolerant<Option<List<Text, { limits::MOST_STARTING }>>>,
            "Starting values not confirmed" in "file", else "every value that is written is yours";
        /// Number that starts the random draws of wind and weather.
        seed: Tolerant<Option<Count<limits::Seed>>>,
            "Seed of the draw" in "wind",
            else "1" because "any seed is as good as another; the same seed gives the same weather";
        /// The field.
        field: Tolerant<FieldFile>, "Field" in "field";
        /// The pipe and its sprinklers.
        lateral: Tolerant<LateralFile>, "Lateral" in "field";
        /// The wheels of a wheel line.
        wheel: Tolerant<Option<WheelFile>>,
            "Wheels" in "wheel", else "none, for a hand-moved lateral";
        /// The outlets on the mainline.
        outlets: Tolerant<OutletsFile>, "Outlets" in "wheel";
        /// The sprinklers.
        sprinkler: Tolerant<SprinklerFile>, "Sprinkler" in "sprinkler";
        /// Wind drift and evaporation losses.
        losses: Tolerant<Option<LossesFile>>,
            "Wind drift and evaporation losses" in "sprinkler",
            else "the formula Playan 2005 day and night";
        /// Air where the weather record does not say.
        air: Tolerant<Option<AirFile>>, "Air" in "wind", else "20 C and 50 %, mild air";
        /// When the water runs.
        season: Tolerant<SeasonFile>, "Season" in "season";
        /// Where the wind comes from.
        wind: Tolerant<WindFile>, "Wind" in "wind";
        /// The crop. Together with soil and climate it gives yield and money.
        crop: Tolerant<Option<CropFile>>,
            "Crop" in "crop", else "no crop: water only, no yield and no money";
        /// The soil.
        soil: Tolerant<Option<SoilFile>>, "Soil" in "crop", else "no soil: water only";
        /// Evapotranspiration and rain.
        climate: Tolerant<Option<ClimateFile>>, "Climate" in "crop", else "no climate: water only";
        /// Prices, and how sure the answer has to be.
        worth: Tolerant<Option<WorthFile>>, "Prices and statistics" in "price", else "no prices";
        /// What is known of the machine beyond its wheels.
        maintenance: Tolerant<Option<MaintenanceFile>>,
            "Maintenance" in "maintenance", else "nothing known beyond the wheels";
        /// The move sheet: its language, its clock, and whom to call.
        sheet: Tolerant<Option<SheetFile>>,
            "Move sheet" in "maintenance", else "in English, with room to write whom to call";
        /// The search for rotations worth considering.
        search: Tolerant<Option<SearchFile>>,
            "Rotation search" in "search", else "the usual choices";
        /// What catch tests leave of the doubts about the sprinkler.
        calibration: Tolerant<Option<CalibrationFile>>,
            "Calibration" in "file", else "no tests: the doubts keep their ranges";
        /// The alternatives that are compared; the first is the baseline.
        alternatives: Tolerant<List<Tolerant<AlternativeFile>, { limits::MOST_ALTERNATIVES }>>,
            "Alternatives" in "alternatives";
    }
}

section! {
    /// The field: a rectangle, its bearing and the grid laid over it.
    FieldFile {
        /// The side of the field that the pipe lies along, mostly as long as the pipe.
        length_along_pipe: Quantity<limits::FieldSide>, "Field along the pipe";
        /// The other side: as far as this one line moves, outlet by outlet. With two lines on a
        /// field, one line’s part of it.
        width_across: Quantity<limits::FieldSide>, "Field across the pipe";
        /// From the first outlet to the last: 0 is north, 90 east, 180 south, 270 west.
        travel_bearing: Tolerant<Quantity<limits::Bearing>>, "Direction of travel";
        /// Side of a grid cell.
        cell: Tolerant<Option<Quantity<limits::Cell>>>,
            "Grid cell",
            else "2 ft"
            because "fine enough for the figures of uniformity; divides the usual spacings";
        /// What figures of the interior leave out along every edge: give it where results of several
        /// scenarios are to be compared, so that all are taken over the same ground.
        interior_margin: Tolerant<Option<Quantity<limits::InteriorMargin>>>,
            "Margin of the interior", else "the widest outlet spacing of the alternatives";
        /// The field's edge within the rectangle, where it is not all of it.
        boundary: Tolerant<Option<BoundaryFile>>, "Boundary", else "the whole rectangle";
        /// The field's time zone, such as America/Boise or Mountain. With it, the times of the season
        /// are written and shown as the clock on the wall has them, with daylight saving time.
        time_zone: Tolerant<Option<ZoneName>>,
            "Time zone", else "standard time, without daylight saving";
    }
}

section! {
    /// One alternative: a rotation, and what differs from the common sections.
    AlternativeFile {
        /// Name in pictures and tables.
        name: Text, "Name";
        /// Shift of pass 1, of pass 2 and so on, then from the start again.
        rotation: List<ShiftFile, { limits::MOST_SHIFTS }>, "Rotation";
        /// Keys of the lateral that differ.
        lateral: Option<Part<LateralFile>>, "Lateral", else "the common one";
        /// Keys of the wheels that differ.
        wheel: Option<Part<WheelFile>>, "Wheels", else "the common ones";
        /// Keys of the outlets that differ.
        outlets: Option<Part<OutletsFile>>, "Outlets", else "the common ones";
        /// Keys of the sprinkler that differ.
        sprinkler: Option<Part<SprinklerFile>>, "Sprinkler", else "the common one";
        /// What its shifted passes do at the field's edges.
        edges: Option<EdgesName>, "At the edges", else "shift";
        /// Keys of the season that differ; it starts on the same day.
        season: Option<Part<SeasonFile>>, "Season", else "the common one";
        /// What it needs beyond the bare machine.
        equipment: Option<EquipmentFile>,
            "Equipment",
            else "no joints or outlets to buy, no extra sets or labor; asked for where it stands \
                farther from its outlets than the baseline does";
    }
}
