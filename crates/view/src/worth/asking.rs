//! What is asked for where the money is inconclusive: prices by name, and what a longer reach needs.

use super::sentences::quoted;
use super::source::{Rival, Source};
use evenfall_core::money::{Missing, Price, PriceKey};

impl Source<'_> {
    /// "You haven’t said what a joint costs or how long a joint lasts. Enter both and run again." Whether
    /// longer hoses or joints are needed is asked by itself.
    pub(super) fn asking(&self, rival: &Rival<'_>) -> String {
        let missing = &rival.against.missing;
        let prices: Vec<PriceKey> = missing.iter().filter_map(|missing| missing.price()).collect();
        let reach = missing.contains(&Missing::Reach).then(|| {
            format!(
                "You haven’t said whether {} needs longer hoses or joints. Write equipment \
                 {{ joints: 0 }} if those you have reach.",
                quoted(rival.name)
            )
        });
        let prices = (!prices.is_empty()).then(|| self.asking_prices(&prices));
        prices.into_iter().chain(reach).collect::<Vec<_>>().join(" ")
    }

    fn asking_prices(&self, prices: &[PriceKey]) -> String {
        let before = std::iter::once(None).chain(prices.iter().copied().map(Some));
        let asked = |(price, before): (&PriceKey, Option<PriceKey>)| {
            self.economics.prices.asked_next(*price, before)
        };
        let each: Vec<String> = prices.iter().zip(before).map(asked).collect();
        let enter = match each.len() {
            1 => "it",
            2 => "both",
            _ => "them",
        };
        let list = match each.split_last() {
            Some((last, others)) if !others.is_empty() => {
                format!("{} or {last}", others.join(", "))
            }
            _ => each.concat(),
        };
        let is_cost = |price: &PriceKey| *price != Price::Crop && *price != Price::PotentialYield;
        let free = if prices.iter().all(is_cost) { "; 0 if it costs nothing" } else { "" };
        format!("You haven’t said {list}. Enter {enter} and run again{free}.")
    }

    /// The key in results of what is missing.
    pub(super) fn missing_key(&self, missing: Missing) -> String {
        match missing {
            Missing::Price(price) => self.key(price),
            Missing::Reach => "equipment".to_owned(),
        }
    }

    /// The same in plain words.
    pub(super) fn missing_label(&self, missing: Missing) -> String {
        match missing {
            Missing::Price(price) => self.label(price),
            Missing::Reach => "whether longer hoses or joints are needed".to_owned(),
        }
    }
}
