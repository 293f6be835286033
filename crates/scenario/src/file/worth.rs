//! Prices, equipment and what is asked of the statistics, as written.

use super::price::PricesFile;
use crate::declare::{choice, section};
use crate::document::{Json, Node};
use crate::issue::Issues;
use crate::limits::{self, Limited};
use crate::read::{Count, Read};
use crate::read_plain::Currency;
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
        /// Extra sets in each pass that its schedule does not hold.
        extra_sets_per_pass: Option<Count<limits::ExtraSets>>,
            "Extra sets per pass", else "0" because "the equipment does not name any";
        /// Labor for one move beyond the common one.
        extra_labor_per_move: Option<Quantity<limits::LaborPerMove>>,
            "Extra labor per move", else "0 h" because "the equipment does not name any";
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
