//! Prices, equipment and what is asked of the statistics, as written.

use super::Price;
use crate::declare::section;
use crate::document::{Json, Node};
use crate::issue::Issues;
use crate::limits::{self, Limited};
use crate::read::{Count, Read};
use crate::read_plain::Currency;
use crate::read_quantity::Quantity;
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// What a rotation is worth: how many seasons, how sure, and at what prices.
    WorthFile {
        /// Seasons that are drawn; with `precision`, those that are drawn first.
        seasons: Option<Count<limits::Seasons>>,
        /// Precision that is asked for: half the width of the interval of the net return against the
        /// first alternative, or of yield as a share; more seasons are then drawn until it is there.
        target_precision: Option<PrecisionWish>,
        /// Seasons at the most, where a precision is asked for.
        max_seasons: Option<Count<limits::Seasons>>,
        /// Level of intervals.
        confidence_level: Option<Quantity<limits::ConfidenceLevel>>,
        /// Net return a year that is worth the name.
        worthwhile_gain: Option<Quantity<limits::WorthwhileGain>>,
        /// Name of the prices' currency, shown with amounts of money.
        currency: Option<Currency>,
        /// Prices; those left out count as nothing, and the result says so.
        prices: Option<PricesFile>,
    }
}

section! {
    /// Prices in one currency, whichever; each may be a value with its range and a mark.
    PricesFile {
        /// Price of the crop.
        crop: Option<Price<limits::CropPrice>>,
        /// Yield without any lack of water.
        potential_yield: Option<Price<limits::PotentialYield>>,
        /// Price of the water that leaves the nozzles.
        water: Option<Price<limits::WaterPrice>>,
        /// Price of the energy that brings and pressurizes that water.
        energy: Option<Price<limits::WaterPrice>>,
        /// Price of labor.
        labor: Option<Price<limits::LaborPrice>>,
        /// Labor for one move of the lateral.
        labor_per_move: Option<Price<limits::LaborPerMove>>,
        /// Price of one swing joint or hose.
        joint_each: Option<Price<limits::PiecePrice>>,
        /// Its life.
        joint_life: Option<Price<limits::Life>>,
        /// Price of one more outlet on the mainline.
        outlet_each: Option<Price<limits::PiecePrice>>,
        /// Its life.
        outlet_life: Option<Price<limits::Life>>,
        /// Discount rate a year, without inflation.
        discount_rate: Option<Price<limits::DiscountRate>>,
    }
}

section! {
    /// What an alternative needs beyond the bare machine.
    EquipmentFile {
        /// Swing joints or hoses to buy.
        joints: Option<Count<limits::Pieces>>,
        /// Outlets to add to the mainline.
        outlets: Option<Count<limits::Pieces>>,
        /// Extra sets in each pass that its schedule does not hold.
        extra_sets_per_pass: Option<Count<limits::ExtraSets>>,
        /// Labor for one move beyond the common one.
        extra_labor_per_move: Option<Quantity<limits::LaborPerMove>>,
    }
}

/// A precision: money by area, or a share of the yield.
#[derive(Clone, Debug)]
pub(crate) enum PrecisionWish {
    /// Of the net return, currency a hectare and year.
    Net(Quantity<limits::NetPrecision>),
    /// Of the yield, as a fraction of that without stress.
    Yield(Quantity<limits::YieldPrecision>),
}

impl Read for PrecisionWish {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        match &node.json {
            Json::Text(text) if text.trim_end().ends_with('%') => {
                Quantity::read(node, issues).map(Self::Yield)
            }
            _ => Quantity::read(node, issues).map(Self::Net),
        }
    }
    fn expects() -> String {
        let words = [limits::NetPrecision::LIMIT.words(), limits::YieldPrecision::LIMIT.words()];
        words.join(" or ")
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let net = Quantity::<limits::NetPrecision>::schema(generator);
        let share = Quantity::<limits::YieldPrecision>::schema(generator);
        json_schema!({ "anyOf": [net, share] })
    }
}
