//! The prices, and the few quantities that are known no better than a price: one row each.
//!
//! What is read, checked, varied and shown of a price follows from its row. To add one, add a row
//! here and use it in the ledger.

/// What the number of a price counts, in the core's units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PriceUnit {
    /// Currency a tonne.
    PerTonne,
    /// Tonnes a hectare.
    TonnesPerHa,
    /// Currency a cubic meter of gross water.
    PerCubicMeter,
    /// Currency an hour.
    PerHour,
    /// Hours.
    Hours,
    /// Currency a piece.
    Each,
    /// Years.
    Years,
    /// Fraction a year.
    FractionPerYear,
}

impl PriceUnit {
    /// Whether it is money, and not a time, a yield or a rate.
    pub fn is_money(self) -> bool {
        matches!(self, Self::PerTonne | Self::PerCubicMeter | Self::PerHour | Self::Each)
    }
}

/// What is fixed about a price.
#[derive(Clone, Copy, Debug)]
pub struct PriceRow {
    /// Its key in a scenario.
    pub key: &'static str,
    /// Its key in results, the unit last.
    pub name: &'static str,
    /// In plain words.
    pub label: &'static str,
    /// What its entry is called.
    pub entry: &'static str,
    /// What it is, in a sentence.
    pub help: &'static str,
    /// How it is asked for: "You haven't said …".
    pub asked: &'static str,
    /// What its number counts.
    pub unit: PriceUnit,
}

macro_rules! prices {
    ($($price:ident: $unit:ident, $key:literal, $name:literal, $label:literal,
       $entry:literal, $help:literal, $asked:literal;)*) => {
        /// A price, or another number that is known no better than one.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Price { $(#[doc = $help] $price,)* }

        impl Price {
            /// All of them, in the order in which they are shown.
            pub const ALL: &'static [Self] = &[$(Self::$price),*];
            /// Their keys in a scenario, in the same order.
            pub const KEYS: &'static [&'static str] = &[$($key),*];

            /// Its row of the table.
            pub fn row(self) -> PriceRow {
                match self {
                    $(Self::$price => PriceRow {
                        key: $key, name: $name, label: $label, entry: $entry, help: $help,
                        asked: $asked,
                        unit: PriceUnit::$unit,
                    },)*
                }
            }
        }
    };
}

prices! {
    Crop: PerTonne, "crop", "crop_per_t", "crop price",
        "Price of the crop", "Price of the crop.", "what the crop sells for";
    PotentialYield: TonnesPerHa, "potential_yield", "potential_yield_t_ha", "potential yield",
        "Yield without stress", "Yield when the crop never runs short of water.", "what the crop yields with no lack of water";
    Water: PerCubicMeter, "water", "water_per_m3", "water price",
        "Price of water", "Price of the water that leaves the nozzles.", "what water costs";
    Energy: PerCubicMeter, "energy", "energy_per_m3", "energy price",
        "Price of energy, by water pumped", "Price of the energy that brings and pressurizes that water.",
        "what the energy to pump it costs";
    Labor: PerHour, "labor", "labor_per_h", "labor price",
        "Price of labor", "Price of labor.", "what labor costs";
    LaborPerMove: Hours, "labor_per_move", "labor_per_move_h", "labor per move",
        "Labor for one move", "Labor for one move of the lateral.", "how long one move takes";
    Joint: Each, "joint_each", "joint_each", "price of a joint",
        "One swing joint or hose", "Price of one swing joint or hose.", "what a joint costs";
    JointLife: Years, "joint_life", "joint_life_years", "life of a joint",
        "Life of a joint", "How long a swing joint or hose lasts.", "how long a joint lasts";
    Outlet: Each, "outlet_each", "outlet_each", "price of an outlet",
        "One more outlet", "Price of one more outlet on the mainline.", "what an added outlet costs";
    OutletLife: Years, "outlet_life", "outlet_life_years", "life of an outlet",
        "Life of an outlet", "How long an outlet lasts in the ground.", "how long an added outlet lasts";
    DiscountRate: FractionPerYear, "discount_rate", "discount_rate", "discount rate",
        "Discount rate per year", "Discount rate per year, without inflation.", "what interest to count (discount rate)";
}

impl Price {
    /// In plain words.
    pub fn label(self) -> &'static str {
        self.row().label
    }
}

/// What is known of a price: a number that somebody stands for, or a placeholder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PriceEntry {
    /// The number, in the unit of its row.
    pub value: f64,
    /// Lowest and highest plausible value; `None` for the usual ± [`PriceEntry::DEFAULT_SWING`].
    pub range: Option<(f64, f64)>,
    /// Nobody's number: it keeps the sums going and must be marked wherever it is shown.
    pub is_placeholder: bool,
}

impl PriceEntry {
    /// Half-width of a price's range where none is given: ± 30 % (judgment).
    pub const DEFAULT_SWING: f64 = 0.3;

    /// The user's own number.
    pub fn own(value: f64) -> Self {
        Self { value, range: None, is_placeholder: false }
    }

    /// A placeholder.
    pub fn placeholder(value: f64) -> Self {
        Self { is_placeholder: true, ..Self::own(value) }
    }

    /// Lowest and highest plausible value.
    pub fn ends(&self) -> (f64, f64) {
        let swing = Self::DEFAULT_SWING;
        self.range.unwrap_or((self.value * (1.0 - swing), self.value * (1.0 + swing)))
    }
}
