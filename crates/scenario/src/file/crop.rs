//! The crop as written: a name of the tables, or a crop of one's own.

use crate::declare::section;
use crate::document::{At, Json, Node};
use crate::issue::Issues;
use crate::limits;
use crate::read::{Number, Read};
use crate::read_plain::{Day, List, Text};
use crate::read_quantity::Quantity;
use evenfall_core::crop::table::CROPS;
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// The crop: one of the tables of FAO-56 by name, with keys of one's own laid over, or a crop
    /// of one's own with all keys.
    CropFile {
        /// Name of a crop in the table of FAO-56, what growers call it, or any name for a crop of your
        /// own.
        name: CropName, "Crop";
        /// Day of planting, or of the start of growth.
        planted: Day, "Planted";
        /// Crop coefficients, in place of the table’s.
        kc: Option<KcFile>, "Crop coefficients", else "FAO-56, Table 12";
        /// Lengths of the growth stages, in place of the table’s; a list has one item for each cut.
        stages: Option<Cuts>, "Growth stages", else "FAO-56, Table 11";
        /// Root depth, in place of the table’s.
        roots: Option<RootsFile>, "Root depth", else "FAO-56, Table 22";
        /// Share p of the available water that the crop can use without stress, at 5 mm (0.2 in) a
        /// day.
        allowable_depletion: Option<Quantity<limits::DepletionFraction>>,
            "Allowable depletion", else "FAO-56, Table 22";
        /// Yield response factor Ky of the whole season.
        yield_response: Option<Number<limits::YieldResponse>>, "Yield response Ky", else "FAO-33";
        /// Height of the crop over which the wind blows and on which the water lands, one for the whole
        /// season.
        canopy_height: Option<Quantity<limits::CanopyHeight>>,
            "Height of the canopy", else "mean over the season, from the greatest height in FAO-56, Table 12";
    }
}

section! {
    /// Crop coefficients at the corners of their curve.
    KcFile {
        /// Initial stage.
        ini: Number<limits::CropCoefficient>, "Initial stage";
        /// Mid-season.
        mid: Number<limits::MidCropCoefficient>, "Mid-season";
        /// Last day.
        end: Number<limits::CropCoefficient>, "Last day";
    }
}

section! {
    /// Lengths of the four stages, whole days.
    StagesFile {
        /// From planting (or the last cut) to 10 % ground cover.
        initial: Quantity<limits::StageLength>, "Initial stage";
        /// From there to full cover.
        development: Quantity<limits::StageLength>, "Development";
        /// From there to the start of maturity.
        mid: Quantity<limits::StageLength>, "Mid-season";
        /// From there to harvest (or the cut).
        late: Quantity<limits::StageLength>, "Late season";
    }
}

section! {
    /// How deep the roots go.
    RootsFile {
        /// On the day of planting.
        at_planting: Quantity<limits::RootDepth>, "Root depth at planting";
        /// From mid-season on.
        full: Quantity<limits::RootDepth>, "Full root depth";
    }
}

/// Name of a crop; the schema lists those of the tables.
#[derive(Clone, Debug)]
pub(crate) struct CropName {
    pub(crate) value: String,
    pub(crate) at: At,
}

impl Read for CropName {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        Text::read(node, issues).map(|Text { value, at }| Self { value, at })
    }
    fn expects() -> String {
        Text::expects()
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let mut schema = Text::schema(generator);
        schema.insert("examples".into(), CROPS.iter().map(|entry| entry.name).collect());
        schema
    }
}

/// Stages, once for each cut: most crops have one, and write it without a list.
#[derive(Clone, Debug)]
pub(crate) struct Cuts {
    pub(crate) at: At,
    pub(crate) cuts: Vec<StagesFile>,
}

impl Read for Cuts {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let cuts = if matches!(node.json, Json::List(_)) {
            List::<StagesFile, { limits::MOST_CUTS }>::read(node, issues)?.items
        } else {
            vec![StagesFile::read(node, issues)?]
        };
        Some(Self { at: node.at.clone(), cuts })
    }
    fn expects() -> String {
        format!("{}, or a list of them", StagesFile::expects())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let one = StagesFile::schema(generator);
        let list = List::<StagesFile, { limits::MOST_CUTS }>::schema(generator);
        json_schema!({ "anyOf": [one, list] })
    }
}
