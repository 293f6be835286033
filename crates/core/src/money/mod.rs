//! Money: what an alternative costs and brings against the baseline, season by season.
//!
//! One season, per field (differences, alternative less baseline; a gain is above zero):
//!
//! ```text
//! yield      crop price · potential yield · area · (relative yield − baseline's)
//! water      water price  · (baseline's gross water − gross water)
//! energy     energy price · (baseline's gross water − gross water)
//! labor     labor price · (baseline's hours − hours)
//! equipment  Σ price · (baseline's pieces − pieces) · capital recovery factor
//! ```
//!
//! The capital recovery factor and discounting are those of engineering economics (`capital`).
//! Inside, everything is SI: hectares, tonnes, cubic meters, hours. The currency is the
//! caller's and has no name here. One season is one year.
//!
//! Every price may be missing. What is missing counts as nothing, in gains and in costs alike, and
//! is named in `left_out`: a net return with something left out is no net return, and says so. To
//! let a verdict depend on it, give it as a placeholder of 0 with its plausible range.
//! Every price may be a marked placeholder; those that had a part in the result are named too.
//!
//! Neglected: taxes, inflation (the rate is the real one), repair, resale, the quality of the crop.

mod capital;
mod ledger;
mod problem;

pub use capital::{CashYear, Purchase, capital_recovery_factor};
pub use ledger::{Balance, BreakEven, Ledger};
pub use problem::{MoneyProblem, MoneyProblems};

/// Hectares in one acre.
pub const HA_PER_ACRE: f64 = crate::units::M2_PER_ACRE / 10_000.0;

/// A number that somebody stands for, or a placeholder that nobody does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Assumption {
    /// The number, in the unit of its field.
    pub value: f64,
    /// Nobody's number: it keeps the sums going and must be marked wherever it is shown.
    pub is_placeholder: bool,
}

impl Assumption {
    /// The user's own number.
    pub fn own(value: f64) -> Self {
        Self { value, is_placeholder: false }
    }

    /// A placeholder.
    pub fn placeholder(value: f64) -> Self {
        Self { value, is_placeholder: true }
    }
}

/// Prices, and the few quantities that are known no better than a price. `None`: not known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Prices {
    /// Price of the crop, currency/t.
    pub crop_per_t: Option<Assumption>,
    /// Yield without any stress, t/ha.
    pub potential_yield_t_ha: Option<Assumption>,
    /// Price of water, currency/m³ of gross water.
    pub water_per_m3: Option<Assumption>,
    /// Price of the energy that brings and pressurizes it, currency/m³ of gross water.
    pub energy_per_m3: Option<Assumption>,
    /// Price of labor, currency/h.
    pub labor_per_h: Option<Assumption>,
    /// Labor for one move of the lateral, h.
    pub labor_per_move_h: Option<Assumption>,
    /// Price of one swing joint or hose, currency.
    pub joint_each: Option<Assumption>,
    /// Its life, years.
    pub joint_life_years: Option<Assumption>,
    /// Price of one more outlet on the mainline, currency.
    pub outlet_each: Option<Assumption>,
    /// Its life, years.
    pub outlet_life_years: Option<Assumption>,
    /// Real discount rate, fraction a year.
    pub discount_rate: Option<Assumption>,
}

/// The names of the prices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// Price of the crop.
    CropPrice,
    /// Yield without stress.
    PotentialYield,
    /// Price of water.
    WaterPrice,
    /// Price of energy.
    EnergyPrice,
    /// Price of labor.
    LaborPrice,
    /// Labor for one move.
    LaborPerMove,
    /// Price of a joint.
    JointPrice,
    /// Life of a joint.
    JointLife,
    /// Price of an outlet.
    OutletPrice,
    /// Life of an outlet.
    OutletLife,
    /// Discount rate.
    DiscountRate,
}

impl Item {
    /// All of them, in the order of [`Prices`].
    pub const ALL: [Self; 11] = [
        Self::CropPrice,
        Self::PotentialYield,
        Self::WaterPrice,
        Self::EnergyPrice,
        Self::LaborPrice,
        Self::LaborPerMove,
        Self::JointPrice,
        Self::JointLife,
        Self::OutletPrice,
        Self::OutletLife,
        Self::DiscountRate,
    ];

    /// In plain words.
    pub fn label(self) -> &'static str {
        match self {
            Self::CropPrice => "crop price",
            Self::PotentialYield => "potential yield",
            Self::WaterPrice => "water price",
            Self::EnergyPrice => "energy price",
            Self::LaborPrice => "labor price",
            Self::LaborPerMove => "labor per move",
            Self::JointPrice => "price of a joint",
            Self::JointLife => "life of a joint",
            Self::OutletPrice => "price of an outlet",
            Self::OutletLife => "life of an outlet",
            Self::DiscountRate => "discount rate",
        }
    }
}

impl Prices {
    /// The number of `item`.
    pub fn of(&self, item: Item) -> Option<Assumption> {
        match item {
            Item::CropPrice => self.crop_per_t,
            Item::PotentialYield => self.potential_yield_t_ha,
            Item::WaterPrice => self.water_per_m3,
            Item::EnergyPrice => self.energy_per_m3,
            Item::LaborPrice => self.labor_per_h,
            Item::LaborPerMove => self.labor_per_move_h,
            Item::JointPrice => self.joint_each,
            Item::JointLife => self.joint_life_years,
            Item::OutletPrice => self.outlet_each,
            Item::OutletLife => self.outlet_life_years,
            Item::DiscountRate => self.discount_rate,
        }
    }

    /// What is missing without which a yield has no value, and money no verdict.
    pub fn missing_value(&self) -> Vec<Item> {
        let needed = [Item::CropPrice, Item::PotentialYield];
        needed.into_iter().filter(|item| self.of(*item).is_none()).collect()
    }

    /// The same prices with another value of `item`, for sensitivity; its mark stays. What is
    /// missing stays missing.
    #[must_use]
    pub fn with(mut self, item: Item, value: f64) -> Self {
        let place = match item {
            Item::CropPrice => &mut self.crop_per_t,
            Item::PotentialYield => &mut self.potential_yield_t_ha,
            Item::WaterPrice => &mut self.water_per_m3,
            Item::EnergyPrice => &mut self.energy_per_m3,
            Item::LaborPrice => &mut self.labor_per_h,
            Item::LaborPerMove => &mut self.labor_per_move_h,
            Item::JointPrice => &mut self.joint_each,
            Item::JointLife => &mut self.joint_life_years,
            Item::OutletPrice => &mut self.outlet_each,
            Item::OutletLife => &mut self.outlet_life_years,
            Item::DiscountRate => &mut self.discount_rate,
        };
        if let Some(assumption) = place {
            assumption.value = value;
        }
        self
    }
}

/// What an alternative needs beyond the bare machine. The baseline commonly needs nothing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Equipment {
    /// Swing joints or hoses to buy, pieces.
    pub joints: u32,
    /// Outlets to add to the mainline, pieces.
    pub outlets: u32,
    /// Extra sets a pass that its schedule does not hold, such as one on the opened side: each is
    /// one more move. Their water is not added here: it must be in the gross water.
    pub extra_sets_per_pass: u32,
    /// Labor for one move beyond the common one, such as swinging the joint, h.
    pub extra_labor_per_move_h: f64,
}

/// What one season of one alternative used and brought, whole field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeasonUse {
    /// Mean yield over the field as a fraction of the potential yield, 0–1.
    pub relative_yield: f64,
    /// Water that left the nozzles, m³.
    pub gross_water_m3: f64,
    /// Moves of the lateral (sets laid) in the schedule; a mean need not be whole.
    pub moves: f64,
    /// Passes.
    pub passes: f64,
}

#[cfg(test)]
mod tests;
