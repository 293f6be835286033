//! The ledger of one alternative against the baseline.

use super::amount::{FieldTotal, PerArea};
use super::capital::{
    CashYear, Purchase, annual_cost, cash_per_year, discounted_payback, simple_payback,
};
use super::price::{Price, Prices};
use super::problem::{MoneyProblems, check, check_season};
use super::used::{Equipment, SeasonUse};
use crate::model::Area;

/// Prices, field and equipment of an alternative and the baseline, checked.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Ledger {
    prices: Prices,
    area: Area,
    alternative: Equipment,
    baseline: Equipment,
    purchases: Vec<Purchase>,
}

/// Something that can be bought: how many pieces an alternative needs, their price and their life.
struct Bought {
    pieces: fn(&Equipment) -> u32,
    each: Price,
    life: Price,
}

const BOUGHT: [Bought; 2] = [
    Bought { pieces: |e| e.joints, each: Price::Joint, life: Price::JointLife },
    Bought { pieces: |e| e.outlets, each: Price::Outlet, life: Price::OutletLife },
];

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
    /// The prices it needs.
    pub prices: &'static [Price],
    /// How to read it.
    pub of: fn(&Balance) -> FieldTotal,
}

impl Balance {
    /// The parts whose sum is the net return, in the order in which they are shown.
    pub const PARTS: [BalancePart; 5] = [
        BalancePart {
            name: "yield_value",
            label: "Value of the yield gained",
            prices: &[Price::Crop, Price::PotentialYield],
            of: |balance| balance.yield_value,
        },
        BalancePart {
            name: "water",
            label: "Water saved",
            prices: &[Price::Water],
            of: |balance| balance.water,
        },
        BalancePart {
            name: "energy",
            label: "Energy saved",
            prices: &[Price::Energy],
            of: |balance| balance.energy,
        },
        BalancePart {
            name: "labor",
            label: "Labor saved",
            prices: &[Price::Labor, Price::LaborPerMove],
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

/// Share of the larger number up to which a difference is round-off of the same sums.
const ROUND_OFF: f64 = 1e-9;

impl Ledger {
    /// A ledger for a field of `area`.
    ///
    /// # Errors
    /// Every number out of its range, all at once: prices, lives, labor.
    pub(crate) fn new(
        prices: &Prices,
        area: Area,
        alternative: Equipment,
        baseline: Equipment,
    ) -> Result<Self, MoneyProblems> {
        check(prices, [&alternative, &baseline])?;
        let mut ledger =
            Self { prices: *prices, area, alternative, baseline, purchases: Vec::new() };
        let purchase = |bought: &Bought| {
            let price = ledger.pieces(bought) * prices.of(bought.each)?.value;
            Some(Purchase { price, life_years: prices.of(bought.life)?.value })
        };
        let is_bought = |bought: &&Bought| ledger.pieces(bought) != 0.0;
        ledger.purchases = BOUGHT.iter().filter(is_bought).filter_map(purchase).collect();
        Ok(ledger)
    }

    /// Pieces beyond the baseline's.
    fn pieces(&self, bought: &Bought) -> f64 {
        f64::from((bought.pieces)(&self.alternative)) - f64::from((bought.pieces)(&self.baseline))
    }

    fn discount_rate(&self) -> f64 {
        self.prices.value_or_nothing(Price::DiscountRate)
    }

    /// Gains of one season against the same season of the baseline. What is not known counts as
    /// nothing: it is no net return until [`Self::missing`] names nothing.
    ///
    /// # Errors
    /// A relative yield outside 0–1, negative water: all at once.
    pub(crate) fn season(
        &self,
        alternative: &SeasonUse,
        baseline: &SeasonUse,
    ) -> Result<Balance, MoneyProblems> {
        check_season([alternative, baseline])?;
        let price = |price| self.prices.value_or_nothing(price);
        let yield_gain_t = price(Price::PotentialYield)
            * self.area.ha()
            * (alternative.relative_yield - baseline.relative_yield);
        let gross_m3 = |used: &SeasonUse| used.gross_mm * self.area.m2() / 1000.0;
        let water_saved_m3 = gross_m3(baseline) - gross_m3(alternative);
        let hours_saved =
            self.hours(&self.baseline, baseline) - self.hours(&self.alternative, alternative);
        Ok(Balance {
            area: self.area,
            yield_gain_t,
            yield_value: FieldTotal::at(price(Price::Crop), yield_gain_t),
            water: FieldTotal::at(price(Price::Water), water_saved_m3),
            energy: FieldTotal::at(price(Price::Energy), water_saved_m3),
            labor: FieldTotal::at(price(Price::Labor), hours_saved),
            // Not the negative of a cost: nothing bought must be 0, not −0.
            equipment: FieldTotal::of(0.0 - annual_cost(&self.purchases, self.discount_rate())),
        })
    }

    /// Moves of a season, with those of extra sets that its schedule does not hold.
    fn moves(equipment: &Equipment, used: &SeasonUse) -> f64 {
        used.moves + f64::from(equipment.extra_sets_per_pass) * used.passes
    }

    /// Labor of a season, h.
    fn hours(&self, equipment: &Equipment, used: &SeasonUse) -> f64 {
        let per_move_h =
            self.prices.value_or_nothing(Price::LaborPerMove) + equipment.extra_labor_per_move_h;
        Self::moves(equipment, used) * per_move_h + used.dry_way_h
    }

    /// Simple and discounted payback of the mean `balance`, years; `None` is never.
    pub(crate) fn payback(&self, balance: &Balance) -> (Option<f64>, Option<f64>) {
        let gain = balance.annual_gain().currency();
        (
            simple_payback(&self.purchases, gain),
            discounted_payback(&self.purchases, gain, self.discount_rate()),
        )
    }

    /// Whole years of the life of what is bought first to wear out: the joints, commonly. `None`
    /// where nothing is bought.
    pub(crate) fn life_years(&self) -> Option<u32> {
        let shortest = self.purchases.iter().map(|bought| bought.life_years).reduce(f64::min);
        shortest.map(|years| years.floor() as u32)
    }

    /// Cash over the life of what is bought, of one year where nothing is, with the mean `balance`.
    pub(crate) fn cash_per_year(&self, balance: &Balance) -> Vec<CashYear> {
        let (gain, years) = (balance.annual_gain().currency(), self.life_years().unwrap_or(1));
        cash_per_year(&self.purchases, gain, self.discount_rate(), years)
    }

    /// Whether `price` is that of something which both have alike, so that nothing is bought.
    fn is_not_bought(&self, price: Price) -> bool {
        let of_price = |bought: &&Bought| {
            price == bought.each || price == bought.life || price == Price::DiscountRate
        };
        let mut pieces =
            BOUGHT.iter().filter(of_price).map(|bought| self.pieces(bought)).peekable();
        pieces.peek().is_some() && pieces.all(|pieces| pieces == 0.0)
    }

    /// Whether `price` has a part in the result: the two differ in what it is a price of in any of
    /// the `seasons` (alternative and baseline), and no other factor of the product is nothing.
    fn matters(&self, price: Price, seasons: &[[SeasonUse; 2]]) -> bool {
        let differ = |of: &dyn Fn(&SeasonUse, &Equipment) -> f64| {
            let one = |[own, other]: &[SeasonUse; 2]| {
                let (own, other) = (of(own, &self.alternative), of(other, &self.baseline));
                (own - other).abs() > ROUND_OFF * own.abs().max(other.abs())
            };
            seasons.iter().any(one)
        };
        let differ_in_yield = || differ(&|used, _| used.relative_yield);
        let differ_in_moves = || differ(&|used, equipment| Self::moves(equipment, used));
        let is_nothing = |price| self.prices.is_nothing(price);
        match price {
            Price::Crop => differ_in_yield() && !is_nothing(Price::PotentialYield),
            Price::PotentialYield => differ_in_yield() && !is_nothing(Price::Crop),
            Price::Water | Price::Energy => differ(&|used, _| used.gross_mm),
            Price::Labor => {
                differ_in_moves()
                    || differ(&|used, _| used.dry_way_h)
                    || differ(&|_, equipment| equipment.extra_labor_per_move_h)
            }
            Price::LaborPerMove => differ_in_moves() && !is_nothing(Price::Labor),
            Price::JointLife => !self.is_not_bought(price) && !is_nothing(Price::Joint),
            Price::OutletLife => !self.is_not_bought(price) && !is_nothing(Price::Outlet),
            Price::Joint | Price::Outlet | Price::DiscountRate => !self.is_not_bought(price),
        }
    }

    /// Prices that are not known though they have a part in the result of these `seasons`: until
    /// they are given there is no net return.
    pub(crate) fn missing(&self, seasons: &[[SeasonUse; 2]]) -> Vec<Price> {
        let is_missing =
            |price: &Price| self.prices.of(*price).is_none() && self.matters(*price, seasons);
        Price::ALL.iter().copied().filter(is_missing).collect()
    }

    /// Placeholders that the result rests on.
    pub(crate) fn placeholders(&self) -> Vec<Price> {
        let marked = self.prices.known().filter(|(_, known)| known.is_placeholder);
        marked.map(|(price, _)| price).filter(|price| !self.is_not_bought(*price)).collect()
    }
}
