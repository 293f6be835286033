//! The ledger of one alternative against the baseline.

use super::capital::{
    CashYear, Purchase, annual_cost, cash_per_year, discounted_payback, simple_payback,
};
use super::problem::{MoneyProblems, check, check_season};
use super::{Assumption, Equipment, HA_PER_ACRE, Item, Prices, SeasonUse};

/// Prices, field and equipment of an alternative and the baseline, checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Ledger {
    prices: Prices,
    area_ha: f64,
    alternative: Equipment,
    baseline: Equipment,
    purchases: Vec<Purchase>,
}

/// Gains of one season (or their mean over seasons) against the baseline, currency for the whole
/// field; a cost is below zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Area of the field, ha.
    pub area_ha: f64,
    /// Yield gained, t.
    pub yield_gain_t: f64,
    /// Value of the yield gained.
    pub yield_value: f64,
    /// Value of the water saved.
    pub water: f64,
    /// Value of the energy saved.
    pub energy: f64,
    /// Labor saved.
    pub labor: f64,
    /// Equipment saved, a year.
    pub equipment: f64,
}

impl Balance {
    /// What comes in or goes out every year, without the equipment.
    pub fn annual_gain(&self) -> f64 {
        self.yield_value + self.water + self.energy + self.labor
    }

    /// Net return a year, currency for the field.
    pub fn net(&self) -> f64 {
        self.annual_gain() + self.equipment
    }

    /// Net return a year, currency/ha.
    pub fn net_per_ha(&self) -> f64 {
        self.net() / self.area_ha
    }

    /// Net return a year, currency/acre (for the edges).
    pub fn net_per_acre(&self) -> f64 {
        self.net_per_ha() * HA_PER_ACRE
    }

    /// Mean of several seasons' balances of one ledger; `None` without any.
    pub fn mean(seasons: &[Self]) -> Option<Self> {
        let first = seasons.first()?;
        // As in `ensemble`: equal seasons give exactly themselves.
        let mean = |of: fn(&Self) -> f64| {
            let off: Vec<f64> = seasons.iter().map(|season| of(season) - of(first)).collect();
            of(first) + crate::statistics::sum(&off) / seasons.len() as f64
        };
        Some(Self {
            area_ha: first.area_ha,
            yield_gain_t: mean(|b| b.yield_gain_t),
            yield_value: mean(|b| b.yield_value),
            water: mean(|b| b.water),
            energy: mean(|b| b.energy),
            labor: mean(|b| b.labor),
            equipment: mean(|b| b.equipment),
        })
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

fn value_or_nothing(assumption: Option<Assumption>) -> f64 {
    assumption.map_or(0.0, |known| known.value)
}

impl Ledger {
    /// A ledger for a field of `area_ha`.
    ///
    /// # Errors
    /// Every number out of its range, all at once: prices, lives, area, labor.
    pub fn new(
        prices: Prices,
        area_ha: f64,
        alternative: Equipment,
        baseline: Equipment,
    ) -> Result<Self, MoneyProblems> {
        check(&prices, area_ha, [&alternative, &baseline])?;
        let pieces =
            |of: fn(&Equipment) -> u32| f64::from(of(&alternative)) - f64::from(of(&baseline));
        let bought = [
            (pieces(|equipment| equipment.joints), prices.joint_each, prices.joint_life_years),
            (pieces(|equipment| equipment.outlets), prices.outlet_each, prices.outlet_life_years),
        ];
        let purchases = bought
            .into_iter()
            .filter(|(pieces, ..)| *pieces != 0.0)
            .filter_map(|(pieces, each, life)| {
                Some(Purchase { price: pieces * each?.value, life_years: life?.value })
            })
            .collect();
        Ok(Self { prices, area_ha, alternative, baseline, purchases })
    }

    /// What has to be bought beyond the baseline.
    pub fn purchases(&self) -> &[Purchase] {
        &self.purchases
    }

    fn discount_rate(&self) -> f64 {
        value_or_nothing(self.prices.discount_rate)
    }

    /// Gains of one season against the same season of the baseline.
    ///
    /// # Errors
    /// A relative yield outside 0–1, negative water: all at once.
    pub fn season(
        &self,
        alternative: &SeasonUse,
        baseline: &SeasonUse,
    ) -> Result<Balance, MoneyProblems> {
        check_season([alternative, baseline])?;
        let prices = &self.prices;
        let yield_gain_t = value_or_nothing(prices.potential_yield_t_ha)
            * self.area_ha
            * (alternative.relative_yield - baseline.relative_yield);
        let water_saved_m3 = baseline.gross_water_m3 - alternative.gross_water_m3;
        let hours_saved =
            self.hours(&self.baseline, baseline) - self.hours(&self.alternative, alternative);
        Ok(Balance {
            area_ha: self.area_ha,
            yield_gain_t,
            yield_value: value_or_nothing(prices.crop_per_t) * yield_gain_t,
            water: value_or_nothing(prices.water_per_m3) * water_saved_m3,
            energy: value_or_nothing(prices.energy_per_m3) * water_saved_m3,
            labor: value_or_nothing(prices.labor_per_h) * hours_saved,
            // Not the negative of a cost: nothing bought must be 0, not −0.
            equipment: 0.0 - annual_cost(&self.purchases, self.discount_rate()),
        })
    }

    /// Labor of a season, h.
    fn hours(&self, equipment: &Equipment, used: &SeasonUse) -> f64 {
        let extra = f64::from(equipment.extra_sets_per_pass) * used.passes;
        let per_move_h =
            value_or_nothing(self.prices.labor_per_move_h) + equipment.extra_labor_per_move_h;
        (used.moves + extra) * per_move_h
    }

    /// The crop price at which `balance` of this ledger nets to zero: the net return is linear in
    /// it, net = price · yield gained + rest.
    pub fn break_even_crop_price(&self, balance: &Balance) -> BreakEven {
        let rest = balance.water + balance.energy + balance.labor + balance.equipment;
        let gained_t = balance.yield_gain_t;
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

    /// Simple and discounted payback of the mean `balance`, years; `None` is never.
    pub fn payback(&self, balance: &Balance) -> (Option<f64>, Option<f64>) {
        let gain = balance.annual_gain();
        (
            simple_payback(&self.purchases, gain),
            discounted_payback(&self.purchases, gain, self.discount_rate()),
        )
    }

    /// Whole years of the life of what is bought first to wear out: the joints, commonly. 1 where
    /// nothing is bought.
    pub fn life_years(&self) -> u32 {
        let shortest = self.purchases.iter().map(|bought| bought.life_years).reduce(f64::min);
        shortest.map_or(1, |years| years.floor() as u32)
    }

    /// Cash of years 0 to `years` with the mean `balance`.
    pub fn cash_per_year(&self, balance: &Balance, years: u32) -> Vec<CashYear> {
        cash_per_year(&self.purchases, balance.annual_gain(), self.discount_rate(), years)
    }

    /// Whether `item` has a part in this ledger: the price of what neither buys has none.
    fn matters(&self, item: Item) -> bool {
        let joints = self.alternative.joints != self.baseline.joints;
        let outlets = self.alternative.outlets != self.baseline.outlets;
        match item {
            Item::JointPrice | Item::JointLife => joints,
            Item::OutletPrice | Item::OutletLife => outlets,
            Item::DiscountRate => joints || outlets,
            _ => true,
        }
    }

    /// What is not known and so counts as nothing. A purchase whose price or life is missing is
    /// left out whole; without a discount rate it is 0.
    pub fn left_out(&self) -> Vec<Item> {
        let is_missing = |item: &Item| self.matters(*item) && self.prices.of(*item).is_none();
        Item::ALL.into_iter().filter(is_missing).collect()
    }

    /// Placeholders that had a part in the result.
    pub fn placeholders(&self) -> Vec<Item> {
        let is_placeholder = |item: &Item| {
            self.matters(*item) && self.prices.of(*item).is_some_and(|known| known.is_placeholder)
        };
        Item::ALL.into_iter().filter(is_placeholder).collect()
    }
}
