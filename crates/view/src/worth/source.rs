//! Scenario, seasons and prices of which a view is made.

use super::money;
use crate::units::UnitSystem;
use evenfall_core::model::Scenario;
use evenfall_core::money::{PerArea, Price, PriceKey};
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::worth::{AgainstBaseline, Economics, Worth};

/// What the view is made of; they belong together.
#[derive(Clone, Copy)]
pub(super) struct Source<'a> {
    pub(super) scenario: &'a Scenario,
    pub(super) worth: &'a Worth,
    pub(super) economics: &'a Economics,
    pub(super) units: UnitSystem,
}

/// An alternative that stands against the baseline.
#[derive(Clone, Copy)]
pub(super) struct Rival<'a> {
    /// Its place in the scenario.
    pub(super) index: usize,
    pub(super) name: &'a str,
    pub(super) against: &'a AgainstBaseline,
}

impl<'a> Source<'a> {
    pub(super) fn name(&self, alternative: usize) -> &'a str {
        self.scenario.alternatives.get(alternative).map_or("", |a| a.name.as_str())
    }

    /// Name of the baseline.
    pub(super) fn baseline(&self) -> &'a str {
        self.name(0)
    }

    /// All but the baseline, the best-ranked first.
    pub(super) fn rivals(&self) -> Vec<Rival<'a>> {
        let rival = |index: usize| {
            let against = self.worth.alternatives.get(index)?.against.as_ref()?;
            Some(Rival { index, name: self.name(index), against })
        };
        self.worth.ranking.iter().filter_map(|ranked| rival(ranked.alternative)).collect()
    }

    /// The prices' currency, where it has a name.
    pub(super) fn currency(&self) -> Option<&'a str> {
        self.economics.currency.as_deref()
    }

    /// A price as it is bought and sold: "180 USD per ton". That of energy is by the kilowatt-hour where
    /// what a cubic meter takes is worked out.
    pub(super) fn priced(&self, price: impl Into<PriceKey>, value: f64) -> String {
        let price = price.into();
        match self.economics.kwh_per_m3.first() {
            Some(kwh_per_m3) if price == Price::Energy && *kwh_per_m3 > 0.0 => {
                money::priced_by_energy(self.currency(), value, *kwh_per_m3)
            }
            _ => money::priced(self.units, self.currency(), price, value),
        }
    }

    /// A price in plain words.
    pub(super) fn label(&self, price: PriceKey) -> String {
        self.economics.prices.words(price).label
    }

    /// Its key in results.
    pub(super) fn key(&self, price: PriceKey) -> String {
        self.economics.prices.words(price).name
    }

    /// An amount by area, in the shown unit of area.
    pub(super) fn by_area(&self, amount: PerArea) -> f64 {
        self.units.per_area(amount.per_ha())
    }

    /// Mean over the seasons of a figure.
    pub(super) fn mean(&self, alternative: usize, of: fn(&SeasonFigures) -> f64) -> f64 {
        let series = self.worth.seasons.series(alternative, of);
        series.iter().sum::<f64>() / series.len() as f64
    }

    /// Prices that any rival has in `of`, each once, in their common order.
    pub(super) fn prices_of(&self, of: fn(&AgainstBaseline) -> &Vec<PriceKey>) -> Vec<PriceKey> {
        let all = self.worth.alternatives.iter().filter_map(|found| found.against.as_ref());
        let is_in = |price: &PriceKey| all.clone().any(|against| of(against).contains(price));
        self.economics.prices.keys().filter(is_in).collect()
    }

    /// A part of the seasons only.
    pub(super) fn is_partial(&self) -> bool {
        self.worth.seasons.finished() < self.worth.seasons.wanted
    }
}
