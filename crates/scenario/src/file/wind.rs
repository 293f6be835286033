//! The wind as written.

use crate::declare::{choice, section};
use crate::limits;
use crate::read::Number;
use crate::read_plain::{Text, True};
use crate::read_quantity::Quantity;

section! {
    /// Where the wind comes from.
    WindFile, one of still | steady | record | generated {
        /// No wind at all.
        still: Option<True>,
        /// The same wind all season.
        steady: Option<SteadyFile>,
        /// An hourly record.
        record: Option<RecordFile>,
        /// Drawn hour by hour.
        generated: Option<GeneratedFile>,
    }
}

section! {
    /// The same wind all season.
    SteadyFile {
        /// Speed.
        speed: Quantity<limits::WindSpeed>,
        /// Direction it blows from, clockwise from north.
        from: Quantity<limits::WindFrom>,
        /// Height above ground the speed is given for.
        height: Option<Quantity<limits::AnemometerHeight>>,
    }
}

choice! {
    /// How a record is laid out.
    pub(crate) Layout {
        /// Comma-separated values with a header that names units.
        Csv = "csv",
        /// The standard TMY3 hourly layout.
        Tmy3 = "tmy3",
    }
}

section! {
    /// An hourly record of the weather.
    RecordFile {
        /// Name of the file, beside the scenario.
        file: Text,
        /// How it is laid out.
        layout: Layout,
        /// Height of the anemometer above ground.
        height: Option<Quantity<limits::AnemometerHeight>>,
        /// Longest gap that the last known hour may bridge; without it gaps are refused.
        longest_gap: Option<Quantity<limits::LongestGap>>,
        /// Whether the record stands for any year; always so for TMY3.
        typical_year: Option<bool>,
    }
}

section! {
    /// A seeded wind climate, drawn hour by hour.
    GeneratedFile {
        /// Mean speed by day.
        day_mean: Quantity<limits::MeanWindSpeed>,
        /// Mean speed by night.
        night_mean: Quantity<limits::MeanWindSpeed>,
        /// Weibull shape of the hourly speeds.
        weibull_shape: Option<Number<limits::WeibullShape>>,
        /// Direction it mostly blows from, clockwise from north.
        prevailing_from: Quantity<limits::WindFrom>,
        /// Standard deviation of the direction.
        direction_spread: Option<Quantity<limits::DirectionSpread>>,
        /// Correlation of the speed from one hour to the next.
        speed_persistence: Option<Number<limits::Persistence>>,
        /// Correlation of the direction from one hour to the next.
        direction_persistence: Option<Number<limits::Persistence>>,
        /// Height above ground the speeds are given for.
        height: Option<Quantity<limits::AnemometerHeight>>,
    }
}
