//! Climate that comes from records, as written.

use super::wind::RecordFile;
use crate::declare::{choice, section};
use crate::document::{Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{self, Limited};
use crate::read::Read;
use crate::read_plain::{Day, List, Text};
use crate::read_quantity::Quantity;
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// Reference evapotranspiration that changes in the course of the year.
    Et0YearFile, one of monthly | record | computed {
        /// By month, January first.
        monthly: Option<Months>, "Reference evapotranspiration by month", else "another of these is given";
        /// As a record gives it.
        record: Option<DaysFile>, "Evapotranspiration record", else "another of these is given";
        /// Calculated from a weather record.
        computed: Option<ComputedFile>, "Evapotranspiration from weather", else "another of these is given";
    }
}

section! {
    /// Values by the day out of a record.
    DaysFile {
        /// File of days in comma-separated values.
        file: Option<Text>, "File of days", else "the wind record’s own column";
        /// What missing days count as.
        missing_days: Option<MissingDays>, "Missing days", else "refused";
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
        /// How evapotranspiration is calculated.
        method: Option<EtMethod>,
            "Method", else "Penman-Monteith where the record has humidity, else Hargreaves";
        /// Where radiation comes from, for Penman-Monteith.
        radiation: Option<RadiationSource>,
            "Radiation",
            else "the record’s own column where it has one, else from temperatures, inland";
        /// Latitude of the weather station; north is positive.
        latitude: Option<Quantity<limits::Latitude>>, "Latitude", else "the record’s own";
        /// Height of the weather station above sea level.
        elevation: Option<Quantity<limits::Elevation>>, "Elevation", else "the record’s own";
        /// The weather record.
        weather: Option<RecordFile>, "Weather record", else "the wind’s record";
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
        record: DaysFile, "Rain record";
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

section! {
    /// Rain on one day.
    RainFile {
        /// The day.
        date: Day, "Day";
        /// Depth.
        depth: Quantity<limits::RainDepth>, "Depth of rain";
    }
}

/// Twelve rates, January first, mm/h.
#[derive(Clone, Debug)]
pub(crate) struct Months(pub(crate) [f64; 12]);

type MonthList = List<Quantity<limits::DailyEt>, 12>;

impl Read for Months {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let list = MonthList::read(node, issues)?;
        let rates: Vec<f64> = list.items.iter().map(|rate| rate.value).collect();
        let months = <[f64; 12]>::try_from(rates).ok();
        if months.is_none() {
            let problem = format!("{} months are given, a year has 12", list.items.len());
            issues.push(Issue::new(&list.at, problem).allowed(Self::expects()));
        }
        months.map(Self)
    }
    fn expects() -> String {
        format!("a list of 12 items, January first, each {}", limits::DailyEt::LIMIT.words())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let item = Quantity::<limits::DailyEt>::schema(generator);
        json_schema!({ "type": "array", "items": item, "minItems": 12, "maxItems": 12 })
    }
}
