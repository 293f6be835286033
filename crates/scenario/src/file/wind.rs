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
        still: Option<True>, "No wind", else "another of these is given";
        /// The same wind all season.
        steady: Option<SteadyFile>, "Steady wind", else "another of these is given";
        /// An hourly record.
        record: Option<RecordFile>, "Wind record", else "another of these is given";
        /// Drawn hour by hour.
        generated: Option<GeneratedFile>, "Generated wind", else "another of these is given";
    }
}

section! {
    /// The same wind all season.
    SteadyFile {
        /// Speed.
        speed: Quantity<limits::WindSpeed>, "Wind speed";
        /// Direction it blows from, clockwise from north.
        from: Quantity<limits::WindFrom>, "Wind from";
        /// Height above ground the speed is given for.
        height: Option<Quantity<limits::AnemometerHeight>>,
            "Anemometer height",
            else "10 m" because "the usual height of a weather station’s anemometer";
    }
}

choice! {
    /// How a record is laid out.
    pub(crate) Layout {
        /// Comma-separated values with a header that names units.
        Csv = "csv",
        /// The standard TMY3 hourly layout.
        Tmy3 = "tmy3",
        /// The standard EPW hourly layout.
        Epw = "epw",
    }
}

choice! {
    /// How seasons are made from a record.
    pub(crate) FromRecordFile {
        /// Each season is a year of the record; a typical year is the same every season.
        AsRecorded = "as recorded",
        /// Days in a row out of the record, put together around their dates, with their rain and
        /// evapotranspiration.
        Blocks = "drawn in blocks of days",
        /// Hour by hour from a climate that is fitted to the record.
        Climate = "drawn from its climate",
    }
}

section! {
    /// An hourly record of the weather.
    RecordFile {
        /// Name of the file, beside the scenario.
        file: Text, "Weather file";
        /// How it is laid out.
        layout: Layout, "Layout of the file";
        /// Height of the anemometer above ground.
        height: Option<Quantity<limits::AnemometerHeight>>,
            "Anemometer height",
            else "10 m" because "the usual height of a weather station’s anemometer";
        /// Longest gap that the last known hour may bridge.
        longest_gap: Option<Quantity<limits::LongestGap>>,
            "Longest gap to bridge", else "none: gaps while water runs are refused";
        /// Whether the record is one typical year that serves for any; always so for TMY3.
        typical_year: Option<bool>, "A typical year", else "false, or true for TMY3 and EPW";
        /// How seasons are made from it.
        seasons: Option<FromRecordFile>,
            "Seasons from the record",
            else "as recorded; of a typical year the first season as recorded, the others drawn in \
                  blocks of days";
        /// Days in a row that are drawn together.
        block_length: Option<Quantity<limits::BlockLength>>,
            "Days in a block", else "5 days" because "wind keeps its half-days and turns of weather; judgment";
        /// How far from its date in the record a block may be put.
        block_window: Option<Quantity<limits::BlockWindow>>,
            "Window around the date", else "20 days" because "judgment, no source";
    }
}

section! {
    /// A seeded wind climate, drawn hour by hour.
    GeneratedFile {
        /// Mean speed by day.
        day_mean: Quantity<limits::MeanWindSpeed>, "Mean wind speed by day";
        /// Mean speed by night.
        night_mean: Quantity<limits::MeanWindSpeed>, "Mean wind speed by night";
        /// Weibull shape of the hourly speeds.
        weibull_shape: Option<Number<limits::WeibullShape>>,
            "Weibull shape", else "2" because "usual for hourly winds";
        /// Direction it mostly blows from, clockwise from north.
        prevailing_from: Quantity<limits::WindFrom>, "Prevailing wind from";
        /// Direction it mostly blows from by night, clockwise from north.
        prevailing_from_night: Option<Quantity<limits::WindFrom>>,
            "Prevailing wind from, by night", else "as by day";
        /// Standard deviation of the direction.
        direction_spread: Option<Quantity<limits::DirectionSpread>>,
            "Spread of direction", else "40 deg" because "judgment, no source";
        /// Correlation of the speed from one hour to the next.
        speed_persistence: Option<Number<limits::Persistence>>,
            "Persistence of speed",
            else "0.63"
            because "from hour to hour in the TMY3 record of Greensboro, May to September";
        /// Correlation of the direction from one hour to the next.
        direction_persistence: Option<Number<limits::Persistence>>,
            "Persistence of direction",
            else "0.76"
            because "from hour to hour in the TMY3 record of Greensboro, May to September";
        /// Share of the wind's variance that comes in spells of days, not hours.
        spell_share: Option<Number<limits::SpellShare>>,
            "Share of wind in spells",
            else "0.6"
            because "across the prevailing wind in the TMY3 record of Greensboro, May to September";
        /// Time in which a spell's correlation falls to a third (1/e).
        spell_length: Option<Quantity<limits::SpellLength>>,
            "Length of spells",
            else "18 h" because "the TMY3 record of Greensboro, May to September";
        /// Height above ground the speeds are given for.
        height: Option<Quantity<limits::AnemometerHeight>>,
            "Anemometer height",
            else "10 m" because "the usual height of a weather station’s anemometer";
    }
}
