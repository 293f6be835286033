//! Prices, outfits and what is asked of the statistics, as written.

use super::Price;
use crate::declare::section;
use crate::limits;
use crate::read::Count;
use crate::read_quantity::Quantity;

section! {
    /// What a rotation is worth: how many seasons, how sure, and at what prices.
    WorthFile {
        /// Seasons that are drawn.
        seasons: Option<Count<limits::Seasons>>,
        /// Level of intervals.
        level: Option<Quantity<limits::Level>>,
        /// Net return a year that is worth the name.
        worth_the_name: Option<Quantity<limits::WorthTheName>>,
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
        /// Price of the energy that brings and pressurises that water.
        energy: Option<Price<limits::WaterPrice>>,
        /// Price of labour.
        labour: Option<Price<limits::LabourPrice>>,
        /// Labour for one move of the lateral.
        labour_per_move: Option<Price<limits::LabourPerMove>>,
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
    OutfitFile {
        /// Swing joints or hoses to buy.
        joints: Option<Count<limits::Pieces>>,
        /// Outlets to add to the mainline.
        outlets: Option<Count<limits::Pieces>>,
        /// Extra sets in each pass that its schedule does not hold.
        extra_sets_per_pass: Option<Count<limits::ExtraSets>>,
        /// Labour for one move beyond the common one.
        extra_labour_per_move: Option<Quantity<limits::LabourPerMove>>,
    }
}
