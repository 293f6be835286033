//! What a rotation is worth, in words, tables and JSON. Numbers come from [`evenfall_core::worth`];
//! here they are only read, checked to belong together, and told.

mod json;
mod money;
mod tables;
pub(crate) mod terminal;
mod told;
mod verdict_words;
mod words;

pub use json::worth_json;
pub(crate) use money::{item_named, money, signed_money};
pub(crate) use tables::tables;
pub use terminal::worth_table;
pub use told::{SwingTold, VerdictTold, WorthTold, worth_told};
pub(crate) use words::{answer, limits};

use crate::error::DrawError;
use crate::picture::Picture;
use crate::scenes::Site;
use crate::units::UnitSystem;
use evenfall_core::model::Scenario;
use evenfall_core::money::{Equipment, Item};
use evenfall_core::seasons::SeasonFigures;
use evenfall_core::verdict::Ranked;
use evenfall_core::worth::{AgainstBaseline, AlternativeWorth, Economics, Worth};

/// The part of the report that tells what the alternatives are worth.
#[derive(Clone, Copy, Debug)]
pub(crate) struct WorthPart<'a> {
    /// The seasons and the balance.
    pub worth: &'a Worth,
    /// The terms it was drawn on.
    pub economics: &'a Economics,
    /// What [`worth_pictures`](crate::worth_pictures) drew, shown in this order.
    pub pictures: &'a [Picture],
}

/// Scenario and worth, paired and checked once.
#[derive(Debug)]
pub(crate) struct WorthScene<'a> {
    pub(crate) site: Site<'a>,
    pub(crate) worth: &'a Worth,
    pub(crate) economics: &'a Economics,
    /// All but the baseline, the best-ranked first.
    pub(crate) rivals: Vec<Rival<'a>>,
}

/// An alternative that stands against the baseline.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rival<'a> {
    /// Its place in the scenario.
    pub(crate) index: usize,
    pub(crate) name: &'a str,
    pub(crate) against: &'a AgainstBaseline,
}

impl<'a> WorthScene<'a> {
    pub(crate) fn new(
        scenario: &'a Scenario,
        worth: &'a Worth,
        economics: &'a Economics,
        units: UnitSystem,
    ) -> Result<Self, DrawError> {
        let wrong = |what: String| DrawError::Mismatch(what);
        let (asked, found) = (scenario.alternatives.len(), worth.alternatives.len());
        let maps = &worth.seasons.maps;
        if asked == 0 || asked != found || asked != maps.len() || asked != worth.ranking.len() {
            let what = format!("{asked} alternatives, {found} of known worth, {} maps", maps.len());
            return Err(wrong(what));
        }
        if worth.seasons.finished() == 0 {
            return Err(wrong("no season was finished".to_owned()));
        }
        if worth.seasons.figures.iter().any(|season| season.len() != asked) {
            return Err(wrong("a season lacks an alternative".to_owned()));
        }
        let grid = scenario.field.grid;
        let shape = (grid.cells_across, grid.cells_along);
        let fits = |m: &evenfall_core::seasons::MeanMaps| {
            m.yield_fraction.dim() == shape && m.percolation_mm.dim() == shape
        };
        if shape.0 * shape.1 == 0 || !maps.iter().all(fits) {
            return Err(wrong("a map has the wrong number of cells".to_owned()));
        }
        let rival = |ranked: &Ranked| {
            let index = ranked.alternative;
            let name = scenario.alternatives.get(index)?.name.as_str();
            let against = worth.alternatives.get(index)?.against.as_ref()?;
            Some(Rival { index, name, against })
        };
        let rivals = worth.ranking.iter().filter_map(rival).collect();
        let site = Site { scenario, grid, units, rose: None };
        Ok(Self { site, worth, economics, rivals })
    }

    pub(crate) fn units(&self) -> UnitSystem {
        self.site.units
    }

    /// The currency after an amount, with the space before it; nothing where it has no name.
    pub(crate) fn currency(&self) -> String {
        self.economics.currency.as_ref().map_or_else(String::new, |name| format!("\u{a0}{name}"))
    }

    /// A price as it is bought and sold: "180 USD per ton".
    pub(crate) fn priced(&self, item: Item, value: f64) -> String {
        money::priced(self.units(), &self.currency(), item, value)
    }

    /// Name of the baseline.
    pub(crate) fn baseline(&self) -> &'a str {
        &self.site.scenario.alternatives[0].name
    }

    /// All alternatives with their names, in the scenario's order.
    pub(crate) fn all(&self) -> impl Iterator<Item = (&'a str, &'a AlternativeWorth)> {
        let names = self.site.scenario.alternatives.iter().map(|a| a.name.as_str());
        names.zip(&self.worth.alternatives)
    }

    /// Mean over the seasons of a figure.
    pub(crate) fn mean(&self, alternative: usize, of: fn(&SeasonFigures) -> f64) -> f64 {
        let series = self.worth.seasons.series(alternative, of);
        series.iter().sum::<f64>() / series.len() as f64
    }

    /// The prices without which a yield has no value and money no verdict.
    pub(crate) fn missing_value(&self) -> Vec<Item> {
        self.economics.prices.missing_value()
    }

    /// Whether a yield has a value.
    pub(crate) fn is_valued(&self) -> bool {
        self.missing_value().is_empty()
    }

    /// Items that any rival has in `of`, each once, in their common order.
    pub(crate) fn items(&self, of: fn(&AgainstBaseline) -> &Vec<Item>) -> Vec<Item> {
        let is_in = |item: &Item| self.rivals.iter().any(|r| of(r.against).contains(item));
        Item::ALL.into_iter().filter(is_in).collect()
    }

    fn equipment(&self, alternative: usize) -> Equipment {
        self.economics.equipment.get(alternative).copied().unwrap_or_default()
    }

    /// Years until the first of what is bought wears out; `None` where nothing is bought (or its
    /// price or life is not known).
    pub(crate) fn life_years(&self, rival: &Rival<'_>) -> Option<u32> {
        let (own, other) = (self.equipment(rival.index), self.equipment(0));
        let buys = own.joints != other.joints || own.outlets != other.outlets;
        let against = rival.against;
        let is_known = buys && (against.balance.equipment != 0.0 || against.cash.len() > 2);
        against.cash.last().filter(|_| is_known).map(|year| year.year)
    }

    /// A part of the seasons only.
    pub(crate) fn is_partial(&self) -> bool {
        self.worth.seasons.finished() < self.worth.seasons.wanted
    }
}
