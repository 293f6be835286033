//! Season, losses and air as written.

use super::closed::{ClosedFile, WeekdayName};
use crate::declare::{choice, section};
use crate::limits;
use crate::read::Count;
use crate::read_plain::{List, Moment};
use crate::read_quantity::Quantity;
use evenfall_core::lateral::SetOrder;

choice! {
    /// The order in which the outlets are watered.
    pub(crate) SetOrderName {
        /// From the first outlet to the last, then back without watering.
        DryReturn = "dry return",
        /// Down the field in one pass, back in the next.
        BothWays = "both ways",
        /// Every second outlet down the field, the others on the way back.
        EverySecond = "every second outlet",
        /// The same, the way back at the next stop of the rotation.
        EverySecondNextStop = "every second outlet, next stop back",
    }
}

impl From<SetOrderName> for SetOrder {
    fn from(name: SetOrderName) -> Self {
        match name {
            SetOrderName::DryReturn => Self::DryReturn,
            SetOrderName::BothWays => Self::BothWays,
            SetOrderName::EverySecond => Self::EverySecond,
            SetOrderName::EverySecondNextStop => Self::EverySecondNextStop,
        }
    }
}

section! {
    /// When water is to run.
    SeasonFile, one of passes | until {
        /// Day and clock time: as the clock on the wall shows it where the field has a time zone, else
        /// without daylight saving time.
        start: Moment, "First set starts";
        /// Number of passes.
        passes: Option<Count<limits::Passes>>, "Number of passes", else "as many as end by `until`";
        /// As many whole passes run as end by then.
        until: Option<Moment>, "Ends by", else "after `passes`";
        /// How long water runs at each stop.
        set_time: Quantity<limits::SetTime>, "Set time";
        /// Time to drain, move and reconnect between two sets.
        move_time: Option<Quantity<limits::MoveGap>>,
            "Move time", else "0.5 h" because "common practice, no source";
        /// Number of starting times a day.
        sets_per_day: Option<Count<limits::SetsADay>>,
            "Number of sets per day", else "sets follow one another without pause";
        /// The order in which the outlets are watered: down the field and back without watering, down
        /// in one pass and back in the next, or every second outlet down and the others on the way back, at the same stop of the rotation
        /// or at its next.
        set_order: Option<SetOrderName>,
            "Order of sets", else "dry return" because "the line is brought back after each pass";
        /// The outlets by number, in the order in which every pass waters them; takes the place of
        /// `set_order`.
        outlet_order: Option<List<Count<limits::OutletCount>, { limits::MOST_OUTLETS }>>,
            "Outlets in this order", else "by the order of sets";
        /// Time to bring the lateral from one end of the field back to the other without watering,
        /// beyond the move time.
        return_time: Option<Quantity<limits::ReturnTime>>,
            "Return time",
            else "0 h" because "the lateral is brought back within the last move time";
        /// Time without water between passes, beyond the return.
        idle_between_passes: Option<Quantity<limits::Idle>>,
            "Idle between passes", else "0 h" because "passes follow one another";
        /// From the start of one pass to the start of the next, such as 7 days; takes the place of
        /// the idle time.
        pass_interval: Option<Quantity<limits::PassEvery>>,
            "Pass interval", else "the idle time counts";
        /// Times without water, such as cuttings, spraying, canal turns and frost nights. Sets that would
        /// run into one wait until it is over; their order and the rotation stay.
        closed: Option<List<ClosedFile, { limits::MOST_CLOSED }>>,
            "Times without water", else "none";
        /// Hour of the day from which somebody is there to start a set: 6 h is six in the morning.
        labor_from: Option<Quantity<limits::HourOfDay>>,
            "Somebody there from", else "0 h" because "somebody is there around the clock";
        /// Hour of the day until which somebody is there to start a set.
        labor_until: Option<Quantity<limits::HourOfDay>>,
            "Somebody there until", else "24 h" because "somebody is there around the clock";
        /// Days of the week on which nobody starts a set.
        days_off: Option<List<WeekdayName, 6>>, "Days off", else "none";
        /// Passes wait until the field's mean root zone has used this share of its readily
        /// available water; needs crop, soil and climate. Takes the place of the pass interval.
        irrigate_at_depletion: Option<Quantity<limits::ShareOfRaw>>,
            "Irrigate at depletion", else "by the calendar";
        /// Passes that wait for the soil start at least this long after one another.
        min_pass_interval: Option<Quantity<limits::PassEvery>>,
            "Minimum pass interval",
            else "a pass may start as soon as the longest pass of all alternatives is over";
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
        /// Share of the water that leaves the nozzles.
        fraction: Option<Quantity<limits::LossFraction>>, "Share lost", else "by formula";
        /// Name of a published formula.
        formula: Option<LossFormula>, "Formula", else "a stated share";
        /// Diameter of the main nozzle, for Trimmer and for Keller and Bliesner.
        nozzle_diameter: Option<Quantity<limits::NozzleDiameter>>,
            "Main nozzle", else "only some formulas need it";
        /// Reference evapotranspiration, for Keller and Bliesner.
        reference_et: Option<Quantity<limits::ReferenceEt>>,
            "Reference evapotranspiration", else "only some formulas need it";
    }
}

section! {
    /// Air that is assumed where the weather does not say.
    AirFile {
        /// Air temperature where the weather record does not say.
        temperature: Quantity<limits::AirTemperature>, "Air temperature";
        /// Relative humidity where the weather record does not say.
        humidity: Quantity<limits::Humidity>, "Relative humidity";
    }
}
