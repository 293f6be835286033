//! Prices, pumping, equipment and what is asked of the statistics, as written.

use super::price::{PricesFile, Written};
use crate::declare::{choice, section};
use crate::document::{Json, Node};
use crate::issue::Issues;
use crate::limits::{self, Limited};
use crate::read::{Count, Read};
use crate::read_plain::{Currency, List, Name};
use crate::read_quantity::Quantity;
use schemars::{Schema, SchemaGenerator, json_schema};

choice! {
    /// Whether what is doubtful is drawn.
    pub(crate) DoubtsName {
        /// Each from its range, in every season.
        Drawn = "drawn",
        /// All taken as they stand.
        LeftOut = "left out",
    }
}

section! {
    /// What a rotation is worth: how many seasons, how sure, and at what prices.
    WorthFile {
        /// Seasons that are drawn; with `target_precision`, those that are drawn first.
        seasons: Option<Count<limits::Seasons>>,
            "Number of seasons",
            else "50" because "enough for most questions; a close one needs more";
        /// Half the width of the confidence interval of the net return against the baseline, or of
        /// yield as a share; more seasons are drawn until it is reached.
        target_precision: Option<PrecisionWish>,
            "Target precision", else "the number of seasons counts";
        /// Most seasons, where a precision is asked for.
        max_seasons: Option<Count<limits::Seasons>>,
            "Maximum seasons",
            else "1000"
            because "more would take long; the result says so if the precision is not reached by \
                then";
        /// Confidence level of intervals.
        confidence_level: Option<Quantity<limits::ConfidenceLevel>>,
            "Confidence level", else "90 %" because "common for intervals of this kind; judgment";
        /// Whether pattern in wind, losses, soil and yield response are drawn from their ranges,
        /// season by season, so that the answer is no surer than they are.
        doubts: Option<DoubtsName>,
            "Doubts", else "drawn" because "an answer that takes them as known is surer than it can be";
        /// Smallest net return a year that is worth the effort.
        worthwhile_gain: Option<Quantity<limits::WorthwhileGain>>,
            "Worthwhile gain", else "0 per ha" because "any net return above nothing counts";
        /// Name of the currency, shown with amounts of money.
        currency: Option<Currency>, "Currency", else "no name";
        /// Prices; without one that matters money is inconclusive, and the result asks for it.
        prices: Option<PricesFile>, "Prices", else "none";
        /// Energy worked out from lift and pressure; takes the place of the price of energy by water
        /// pumped.
        pumping: Option<PumpingFile>, "Pumping", else "the price of energy by water pumped";
    }
}

section! {
    /// What the pump has to do, and what a kilowatt-hour costs: energy by volume of water is lift and
    /// pressure over the efficiency.
    PumpingFile {
        /// Height from the water, drawn down, to the inlet of the lateral; 0 where the water comes
        /// level.
        lift: Quantity<limits::Lift>, "Lift";
        /// Pressure at the pump, the same for all alternatives. Left out, each needs the pressure at its
        /// inlet and what is lost on the way to it.
        pressure: Option<Quantity<limits::InletPressure>>,
            "Pressure at the pump",
            else "each alternative’s pressure at the inlet, or of its sprinklers without a pipe, and \
                `losses`";
        /// Pressure lost between pump and inlet: mainline, valves, hose.
        losses: Option<Quantity<limits::PressureLost>>,
            "Pressure lost on the way",
            else "5 psi" because "mainline, valves and hose together; judgment, no source";
        /// Efficiency of pump and motor together.
        efficiency: Option<Quantity<limits::PumpEfficiency>>,
            "Efficiency of pump and motor",
            else "66 %"
            because "the Nebraska performance criteria for pumping plants: 0.885 water horsepower-hours \
                a kilowatt-hour (from memory); have yours tested";
        /// Price of a kilowatt-hour.
        energy_price: Option<Written<limits::EnergyPrice>>,
            "Price of energy",
            else "not known: asked for where the alternatives differ in it; 0 if it costs nothing";
    }
}

section! {
    /// What an alternative needs beyond the bare machine.
    EquipmentFile {
        /// Swing joints or hoses to buy.
        joints: Option<Count<limits::Pieces>>,
            "Number of joints to buy", else "0" because "the equipment does not name any";
        /// Outlets to add to the mainline.
        outlets: Option<Count<limits::Pieces>>,
            "Number of outlets to add", else "0" because "the equipment does not name any";
        /// What else is to buy, by name: wheels, nozzles, levelers.
        purchases: Option<List<PurchaseFile, { limits::MOST_PURCHASES }>>,
            "Other purchases", else "none";
        /// Extra sets in each pass that its schedule does not hold.
        extra_sets_per_pass: Option<Count<limits::ExtraSets>>,
            "Extra sets per pass", else "0" because "the equipment does not name any";
        /// Labor for one move beyond the common one.
        extra_labor_per_move: Option<Quantity<limits::LaborPerMove>>,
            "Extra labor per move", else "0 h" because "the equipment does not name any";
    }
}

section! {
    /// Something to buy beside joints and outlets. What has the same name in several alternatives has one
    /// price and one life, given in any of them; what the baseline has of it is not bought again.
    PurchaseFile {
        /// What it is.
        what: Name, "What it is";
        /// Number of pieces.
        count: Count<limits::Pieces>, "Number of pieces";
        /// Price of one piece.
        each: Option<Written<limits::PiecePrice>>,
            "Price of one",
            else "not known: asked for where the alternatives differ in it; 0 if it costs nothing";
        /// How long it lasts.
        life: Option<Written<limits::Life>>,
            "Life", else "not known: asked for where the alternatives differ in it";
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
