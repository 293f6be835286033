//! Season, losses and air as written.

use crate::declare::{choice, section};
use crate::limits;
use crate::read::Count;
use crate::read_plain::Moment;
use crate::read_quantity::Quantity;

section! {
    /// When water is to run.
    SeasonFile, one of passes | until {
        /// Start of the first set, local standard time.
        start: Moment,
        /// Number of passes.
        passes: Option<Count<limits::Passes>>,
        /// End: as many whole passes as end by then.
        until: Option<Moment>,
        /// Water runs so long at each stop.
        set_time: Quantity<limits::SetTime>,
        /// Time to drain, move and reconnect between two sets.
        move_time: Option<Quantity<limits::MoveGap>>,
        /// Starting times a day; without it sets follow one another.
        sets_per_day: Option<Count<limits::SetsADay>>,
        /// Time to bring the lateral back to the first outlet, beyond the move gap.
        return_time: Option<Quantity<limits::ReturnTime>>,
        /// Time without water between passes, beyond the way back.
        idle_between_passes: Option<Quantity<limits::Idle>>,
        /// Passes begin at this interval; takes the place of `idle_between_passes`.
        pass_interval: Option<Quantity<limits::PassEvery>>,
        /// Passes wait until the field's mean root zone has used up this share of its readily
        /// available water; needs crop, soil and climate. Takes the place of `pass_interval`.
        irrigate_at_depletion: Option<Quantity<limits::ShareOfRaw>>,
        /// Called passes begin at least so long after one another.
        min_pass_interval: Option<Quantity<limits::PassEvery>>,
    }
}

choice! {
    /// A published regression of wind drift and evaporation losses.
    pub(crate) LossFormula {
        /// By day and by night.
        PlayanDayNight = "Playan 2005 day and night",
        /// All hours alike.
        PlayanAll = "Playan 2005 all hours",
        /// Fit of a nomograph.
        Trimmer = "Trimmer 1987",
        /// Effective portion.
        KellerBliesner = "Keller and Bliesner 1990",
    }
}

section! {
    /// Wind drift and evaporation losses: a stated fraction or a published formula.
    LossesFile, one of fraction | formula {
        /// Fraction of what leaves the nozzles.
        fraction: Option<Quantity<limits::LossFraction>>,
        /// Name of the formula.
        formula: Option<LossFormula>,
        /// Diameter of the main nozzle, for Trimmer and for Keller and Bliesner.
        nozzle_diameter: Option<Quantity<limits::NozzleDiameter>>,
        /// Reference evapotranspiration, for Keller and Bliesner.
        reference_et: Option<Quantity<limits::ReferenceEt>>,
    }
}

section! {
    /// Air that is assumed where the weather does not say.
    AirFile {
        /// Air temperature.
        temperature: Quantity<limits::AirTemperature>,
        /// Relative humidity.
        humidity: Quantity<limits::Humidity>,
    }
}
