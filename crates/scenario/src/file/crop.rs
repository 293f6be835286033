//! The crop as written: a name of the tables, or a crop of one's own.

use crate::declare::section;
use crate::document::{At, Json, Node};
use crate::issue::Issues;
use crate::limits;
use crate::read::{Number, Read};
use crate::read_plain::{Day, List, Text};
use crate::read_quantity::Quantity;
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// The crop: one of the tables of FAO-56 by name, with keys of one's own laid over, or a crop
    /// of one's own with all keys.
    CropFile {
        /// Name; one of the tables, or any name for a crop of one's own.
        name: Text,
        /// Day of planting, or of the start of growth.
        planted: Day,
        /// Crop coefficients, in place of the table's.
        kc: Option<KcFile>,
        /// Lengths of the stages, in place of the table's; a list has one item for each cut.
        stages: Option<Cuts>,
        /// Root depth, in place of the table's.
        roots: Option<RootsFile>,
        /// Share of the available water that is used without stress when the crop needs 5 mm a day.
        allowable_depletion: Option<Quantity<limits::DepletionFraction>>,
        /// Yield response factor Ky of the whole season.
        yield_response: Option<Number<limits::YieldResponse>>,
    }
}

section! {
    /// Crop coefficients at the corners of their curve.
    KcFile {
        /// Initial stage.
        ini: Number<limits::CropCoefficient>,
        /// Mid-season.
        mid: Number<limits::MidCropCoefficient>,
        /// Last day.
        end: Number<limits::CropCoefficient>,
    }
}

section! {
    /// Lengths of the four stages, whole days.
    StagesFile {
        /// From planting (or the last cut) to a tenth of ground cover.
        initial: Quantity<limits::StageLength>,
        /// From there to full cover.
        development: Quantity<limits::StageLength>,
        /// From there to the start of maturity.
        mid: Quantity<limits::StageLength>,
        /// From there to harvest (or the cut).
        late: Quantity<limits::StageLength>,
    }
}

section! {
    /// How deep the roots go.
    RootsFile {
        /// On the day of planting.
        at_planting: Quantity<limits::RootDepth>,
        /// From mid-season on.
        full: Quantity<limits::RootDepth>,
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
