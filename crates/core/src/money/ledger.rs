//! The ledger of one alternative against the baseline.

use super::amount::FieldTotal;
use super::balance::Balance;
use super::capital::{
    CashYear, Outlay, annual_cost, cash_per_year, discounted_payback, simple_payback,
};
use super::price::Price;
use super::prices::{Missing, PriceKey, Prices, PurchasePart};
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
    /// Energy that a cubic meter of the alternative's water takes, as a share of the baseline's.
    energy_ratio: f64,
    outlays: Vec<Outlay>,
}

/// Something that is bought: how many pieces beyond the baseline's, and by which prices.
struct Bought {
    pieces: f64,
    each: PriceKey,
    life: PriceKey,
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
        let (prices, outlays) = (prices.clone(), Vec::new());
        let mut ledger = Self { prices, area, alternative, baseline, energy_ratio: 1.0, outlays };
        let outlay = |bought: Bought| {
            let price = bought.pieces * ledger.prices.of(bought.each)?.value;
            Some(Outlay { price, life_years: ledger.prices.of(bought.life)?.value })
        };
        ledger.outlays = ledger.bought().filter_map(outlay).collect();
        Ok(ledger)
    }

    /// The same where a cubic meter of the alternative's water takes `ratio` times the energy of the
    /// baseline's, for which the price of energy stands: see [`super::Pumping`].
    #[must_use]
    pub(crate) fn pumped(self, ratio: f64) -> Self {
        Self { energy_ratio: ratio, ..self }
    }

    /// Everything of which the two need different numbers: joints, outlets, and purchases by name.
    fn bought(&self) -> impl Iterator<Item = Bought> + '_ {
        let beyond = |own: u32, other: u32| f64::from(own) - f64::from(other);
        let (own, other) = (&self.alternative, &self.baseline);
        let fixed = [
            (beyond(own.joints, other.joints), Price::Joint, Price::JointLife),
            (beyond(own.outlets, other.outlets), Price::Outlet, Price::OutletLife),
        ];
        let fixed = fixed.map(|(pieces, each, life)| Bought {
            pieces,
            each: PriceKey::Row(each),
            life: PriceKey::Row(life),
        });
        let named = (0..self.prices.purchases().len()).map(move |at| Bought {
            pieces: beyond(own.pieces(at), other.pieces(at)),
            each: PriceKey::Purchase(at, PurchasePart::Each),
            life: PriceKey::Purchase(at, PurchasePart::Life),
        });
        fixed.into_iter().chain(named).filter(|bought| bought.pieces != 0.0)
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
        let energy_saved = gross_m3(baseline) - self.energy_ratio * gross_m3(alternative);
        let hours_saved =
            self.hours(&self.baseline, baseline) - self.hours(&self.alternative, alternative);
        Ok(Balance {
            area: self.area,
            yield_gain_t,
            yield_value: FieldTotal::at(price(Price::Crop), yield_gain_t),
            water: FieldTotal::at(price(Price::Water), water_saved_m3),
            energy: FieldTotal::at(price(Price::Energy), energy_saved),
            labor: FieldTotal::at(price(Price::Labor), hours_saved),
            // Not the negative of a cost: nothing bought must be 0, not −0.
            equipment: FieldTotal::of(0.0 - annual_cost(&self.outlays, self.discount_rate())),
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
            simple_payback(&self.outlays, gain),
            discounted_payback(&self.outlays, gain, self.discount_rate()),
        )
    }

    /// Whole years of the life of what is bought first to wear out: the joints, commonly. `None`
    /// where nothing is bought.
    pub(crate) fn life_years(&self) -> Option<u32> {
        let shortest = self.outlays.iter().map(|bought| bought.life_years).reduce(f64::min);
        shortest.map(|years| years.floor() as u32)
    }

    /// Cash over the life of what is bought, of one year where nothing is, with the mean `balance`.
    pub(crate) fn cash_per_year(&self, balance: &Balance) -> Vec<CashYear> {
        let (gain, years) = (balance.annual_gain().currency(), self.life_years().unwrap_or(1));
        cash_per_year(&self.outlays, gain, self.discount_rate(), years)
    }

    /// Whether `price` is that of something which both have alike, so that nothing is bought.
    fn is_not_bought(&self, price: PriceKey) -> bool {
        let is_bought = |of: fn(&Bought) -> PriceKey| self.bought().any(|one| of(&one) == price);
        match price {
            PriceKey::Row(Price::Joint | Price::Outlet)
            | PriceKey::Purchase(_, PurchasePart::Each) => !is_bought(|bought| bought.each),
            PriceKey::Row(Price::JointLife | Price::OutletLife)
            | PriceKey::Purchase(_, PurchasePart::Life) => !is_bought(|bought| bought.life),
            PriceKey::Row(Price::DiscountRate) => self.bought().next().is_none(),
            PriceKey::Row(_) => false,
        }
    }

    /// Whether the price of a piece is known to be nothing, of which `life` is the life.
    fn is_free(&self, life: PriceKey) -> bool {
        self.bought().any(|bought| bought.life == life && self.prices.is_nothing(bought.each))
    }

    /// Whether `price` has a part in the result: the two differ in what it is a price of in any of
    /// the `seasons` (alternative and baseline), and no other factor of the product is nothing.
    fn matters(&self, price: PriceKey, seasons: &[[SeasonUse; 2]]) -> bool {
        let differ = |of: &dyn Fn(&SeasonUse, &Equipment) -> f64| {
            let one = |[own, other]: &[SeasonUse; 2]| {
                is_apart(of(own, &self.alternative), of(other, &self.baseline))
            };
            seasons.iter().any(one)
        };
        let differ_in_yield = || differ(&|used, _| used.relative_yield);
        let differ_in_moves = || differ(&|used, equipment| Self::moves(equipment, used));
        let takes_more = |[own, other]: &[SeasonUse; 2]| {
            is_apart(self.energy_ratio * own.gross_mm, other.gross_mm)
        };
        let is_nothing = |price: Price| self.prices.is_nothing(price);
        let PriceKey::Row(row) = price else {
            return !self.is_not_bought(price) && !self.is_free(price);
        };
        match row {
            Price::Crop => differ_in_yield() && !is_nothing(Price::PotentialYield),
            Price::PotentialYield => differ_in_yield() && !is_nothing(Price::Crop),
            Price::Water => differ(&|used, _| used.gross_mm),
            Price::Energy => seasons.iter().any(takes_more),
            Price::Labor => {
                differ_in_moves()
                    || differ(&|used, _| used.dry_way_h)
                    || differ(&|_, equipment| equipment.extra_labor_per_move_h)
            }
            Price::LaborPerMove => differ_in_moves() && !is_nothing(Price::Labor),
            Price::Joint
            | Price::JointLife
            | Price::Outlet
            | Price::OutletLife
            | Price::DiscountRate => !self.is_not_bought(price) && !self.is_free(price),
        }
    }

    /// What is not known though it has a part in the result of these `seasons`: until it is told
    /// there is no net return.
    pub(crate) fn missing(&self, seasons: &[[SeasonUse; 2]]) -> Vec<Missing> {
        let is_missing =
            |price: &PriceKey| self.prices.of(*price).is_none() && self.matters(*price, seasons);
        let prices = self.prices.keys().filter(is_missing).map(Missing::Price);
        let reach = self.alternative.is_reach_open.then_some(Missing::Reach);
        prices.chain(reach).collect()
    }

    /// Placeholders that the result rests on.
    pub(crate) fn placeholders(&self) -> Vec<PriceKey> {
        let marked = self.prices.known().filter(|(_, known)| known.is_placeholder);
        marked.map(|(price, _)| price).filter(|price| !self.is_not_bought(*price)).collect()
    }
}

/// Whether two sums are further apart than round-off.
fn is_apart(own: f64, other: f64) -> bool {
    (own - other).abs() > ROUND_OFF * own.abs().max(other.abs())
}
