//! What a season of an alternative gains against the baseline, part by part, and at which crop price
//! it breaks even.

use super::amount::{FieldTotal, PerArea};
use super::price::Price;
use super::prices::{Missing, PriceKey};
use crate::model::Area;

/// Gains of one season (or their mean over seasons) against the baseline; a cost is below zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Area of the field.
    pub area: Area,
    /// Yield gained, t.
    pub yield_gain_t: f64,
    /// Value of the yield gained.
    pub yield_value: FieldTotal,
    /// Value of the water saved.
    pub water: FieldTotal,
    /// Value of the energy saved.
    pub energy: FieldTotal,
    /// Labor saved.
    pub labor: FieldTotal,
    /// Equipment saved, a year.
    pub equipment: FieldTotal,
}

/// A part of the balance, as results show it.
#[derive(Clone, Copy, Debug)]
pub struct BalancePart {
    /// Its key in results.
    pub name: &'static str,
    /// In plain words.
    pub label: &'static str,
    /// The prices of the table that it needs.
    pub prices: &'static [Price],
    /// Whether it is what is bought, by whatever name.
    pub is_bought: bool,
    /// How to read it.
    pub of: fn(&Balance) -> FieldTotal,
}

impl BalancePart {
    /// Whether it rests on `price`.
    pub fn rests_on(&self, price: PriceKey) -> bool {
        match price {
            PriceKey::Row(price) => self.prices.contains(&price),
            PriceKey::Purchase(..) => self.is_bought,
        }
    }

    /// Whether it has no value without `missing`.
    pub fn needs(&self, missing: Missing) -> bool {
        match missing {
            Missing::Price(price) => self.rests_on(price),
            Missing::Reach => self.is_bought,
        }
    }
}

impl Balance {
    /// The parts whose sum is the net return, in the order in which they are shown.
    pub const PARTS: [BalancePart; 5] = [
        BalancePart {
            name: "yield_value",
            label: "Value of the yield gained",
            prices: &[Price::Crop, Price::PotentialYield],
            is_bought: false,
            of: |balance| balance.yield_value,
        },
        BalancePart {
            name: "water",
            label: "Water saved",
            prices: &[Price::Water],
            is_bought: false,
            of: |balance| balance.water,
        },
        BalancePart {
            name: "energy",
            label: "Energy saved",
            prices: &[Price::Energy],
            is_bought: false,
            of: |balance| balance.energy,
        },
        BalancePart {
            name: "labor",
            label: "Labor saved",
            prices: &[Price::Labor, Price::LaborPerMove],
            is_bought: false,
            of: |balance| balance.labor,
        },
        BalancePart {
            name: "equipment",
            label: "Equipment, cost per year",
            prices: &[
                Price::Joint,
                Price::JointLife,
                Price::Outlet,
                Price::OutletLife,
                Price::DiscountRate,
            ],
            is_bought: true,
            of: |balance| balance.equipment,
        },
    ];

    /// What comes in or goes out every year, without the equipment.
    pub(crate) fn annual_gain(&self) -> FieldTotal {
        self.yield_value + self.water + self.energy + self.labor
    }

    /// Net return a year.
    pub fn net(&self) -> FieldTotal {
        self.annual_gain() + self.equipment
    }

    /// Net return a year, by area.
    pub(crate) fn net_per_area(&self) -> PerArea {
        self.net() / self.area
    }

    /// Mean of several seasons' balances of one ledger; `None` without any.
    pub fn mean(seasons: &[Self]) -> Option<Self> {
        let first = seasons.first()?;
        // As in `ensemble`: equal seasons give exactly themselves.
        let mean = |of: &dyn Fn(&Self) -> f64| {
            let off: Vec<f64> = seasons.iter().map(|season| of(season) - of(first)).collect();
            of(first) + crate::statistics::sum(&off) / seasons.len() as f64
        };
        let total = |of: fn(&Self) -> FieldTotal| FieldTotal::of(mean(&|b| of(b).currency()));
        Some(Self {
            area: first.area,
            yield_gain_t: mean(&|b| b.yield_gain_t),
            yield_value: total(|b| b.yield_value),
            water: total(|b| b.water),
            energy: total(|b| b.energy),
            labor: total(|b| b.labor),
            equipment: total(|b| b.equipment),
        })
    }

    /// The crop price at which it nets to zero: the net return is linear in
    /// it, net = price · yield gained + rest.
    pub(crate) fn break_even_crop_price(&self) -> BreakEven {
        let rest = self.water + self.energy + self.labor + self.equipment;
        let (rest, gained_t) = (rest.currency(), self.yield_gain_t);
        // 0 − rest: a break-even of nothing is 0, not −0.
        let price = (0.0 - rest) / gained_t;
        if gained_t > 0.0 {
            if rest > 0.0 { BreakEven::AtEveryPrice } else { BreakEven::PaysAbove(price) }
        } else if rest > 0.0 {
            if gained_t < 0.0 { BreakEven::PaysBelow(price) } else { BreakEven::AtEveryPrice }
        } else {
            BreakEven::AtNoPrice
        }
    }
}

/// At which crop prices (currency/t, 0 or more) the net return is above zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BreakEven {
    /// Above this one.
    PaysAbove(f64),
    /// Below this one: yield is lost, and something else saved.
    PaysBelow(f64),
    /// At every price.
    AtEveryPrice,
    /// At none.
    AtNoPrice,
}

impl BreakEven {
    /// The price at which the net return is zero; `None` if there is none.
    pub fn price(self) -> Option<f64> {
        match self {
            Self::PaysAbove(price) | Self::PaysBelow(price) => Some(price),
            Self::AtEveryPrice | Self::AtNoPrice => None,
        }
    }
}
