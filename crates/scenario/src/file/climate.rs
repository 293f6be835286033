//! Climate that comes from records, as written.

use super::wind::RecordFile;
use crate::declare::{choice, section};
use crate::document::{Json, Node};
use crate::file::ground::{Months, RainFile};
use crate::issue::Issues;
use crate::limits;
use crate::read::Read;
use crate::read_plain::{List, Text};
use crate::read_quantity::Quantity;
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// Reference evapotranspiration that changes in the course of the year.
    Et0WaysFile, one of monthly | record | computed {
        /// By month, January first.
        monthly: Option<Months>,
        /// As a record gives it.
        record: Option<DaysFile>,
        /// Worked out from a record of the weather.
        computed: Option<ComputedFile>,
    }
}

section! {
    /// Values by the day out of a record.
    DaysFile {
        /// File of days in comma-separated values; without it the wind record's own column counts.
        file: Option<Text>,
        /// What days of which it says nothing count as; without it they are refused.
        missing_days: Option<MissingDays>,
    }
}

choice! {
    /// What missing days count as.
    pub(crate) MissingDays {
        /// Nothing falls.
        Dry = "dry",
    }
}

section! {
    /// Reference evapotranspiration worked out from a record of the weather.
    ComputedFile {
        /// Method; without it Penman-Monteith where the record has humidity, else Hargreaves.
        method: Option<EtMethod>,
        /// Where radiation comes from, for Penman-Monteith.
        radiation: Option<RadiationSource>,
        /// Latitude of the station, north positive; without it the record's own.
        latitude: Option<Quantity<limits::Latitude>>,
        /// Height of the station above the sea; without it the record's own.
        elevation: Option<Quantity<limits::Elevation>>,
        /// The record; without it the wind's.
        weather: Option<RecordFile>,
    }
}

choice! {
    /// How evapotranspiration is worked out.
    pub(crate) EtMethod {
        /// FAO-56 equation 6.
        PenmanMonteith = "Penman-Monteith",
        /// FAO-56 equation 52.
        Hargreaves = "Hargreaves",
    }
}

choice! {
    /// Where the radiation comes from.
    pub(crate) RadiationSource {
        /// The record's own column.
        Record = "record",
        /// From the day's range of temperature, away from coasts.
        Inland = "temperatures, inland",
        /// From the day's range of temperature, on a coast.
        Coast = "temperatures, coast",
    }
}

/// Rain: days by hand, or a record.
#[derive(Clone, Debug)]
pub(crate) enum RainWays {
    /// Days with rain.
    Listed(List<RainFile, { limits::MOST_RAIN_DAYS }>),
    /// A record.
    Record(RainRecordFile),
}

section! {
    /// Rain out of a record.
    RainRecordFile {
        /// The record.
        record: DaysFile,
    }
}

impl Read for RainWays {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        if matches!(node.json, Json::Object(_)) {
            return RainRecordFile::read(node, issues).map(Self::Record);
        }
        List::read(node, issues).map(Self::Listed)
    }
    fn expects() -> String {
        let list = List::<RainFile, { limits::MOST_RAIN_DAYS }>::expects();
        format!("{list} or {}", RainRecordFile::expects())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let listed = List::<RainFile, { limits::MOST_RAIN_DAYS }>::schema(generator);
        let record = RainRecordFile::schema(generator);
        json_schema!({ "anyOf": [listed, record] })
    }
}
