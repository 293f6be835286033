//! What is known of all prices: those of the table, and those of what the user buys by a name of
//! their own ("levelers", "nozzles"), which has a price and a life as joints have.

use super::price::{Price, PriceEntry, PriceUnit};

/// Something that is bought beside joints and outlets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Purchase {
    /// What it is, as the user calls it.
    pub what: String,
    /// Price of one piece, where it is known.
    pub each: Option<PriceEntry>,
    /// Its life, years, where that is known.
    pub life: Option<PriceEntry>,
}

/// Which number of a purchase.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PurchasePart {
    /// Price of one piece.
    Each,
    /// Life.
    Life,
}

/// Which price: what is read, drawn, varied and asked for alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PriceKey {
    /// A row of the table.
    Row(Price),
    /// A number of the purchase at this place of [`Prices::purchases`].
    Purchase(usize, PurchasePart),
}

/// What money can wait for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Missing {
    /// A price that is not known.
    Price(PriceKey),
    /// Whether an alternative that stands farther from its outlets needs longer hoses or joints.
    Reach,
}

/// How a price is named and asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceWords {
    /// Its key in results, the unit last.
    pub name: String,
    /// In plain words.
    pub label: String,
    /// How it is asked for: "You haven't said …".
    pub asked: String,
}

impl Missing {
    /// The price that is missing, where it is one.
    pub fn price(self) -> Option<PriceKey> {
        match self {
            Self::Price(price) => Some(price),
            Self::Reach => None,
        }
    }
}

impl From<Price> for PriceKey {
    fn from(price: Price) -> Self {
        Self::Row(price)
    }
}

impl PartialEq<Price> for PriceKey {
    fn eq(&self, price: &Price) -> bool {
        *self == Self::Row(*price)
    }
}

impl PartialEq<Price> for Missing {
    fn eq(&self, price: &Price) -> bool {
        *self == Self::Price(PriceKey::Row(*price))
    }
}

impl PriceKey {
    /// What its number counts.
    pub fn unit(self) -> PriceUnit {
        match self {
            Self::Row(price) => price.row().unit,
            Self::Purchase(_, PurchasePart::Each) => PriceUnit::Each,
            Self::Purchase(_, PurchasePart::Life) => PriceUnit::Years,
        }
    }

    /// In plain words that do not say what is bought; [`Prices::words`] do.
    pub(crate) fn common_label(self) -> &'static str {
        match self {
            Self::Row(price) => price.label(),
            Self::Purchase(_, PurchasePart::Each) => "price of a purchase",
            Self::Purchase(_, PurchasePart::Life) => "life of a purchase",
        }
    }
}

impl Purchase {
    /// What tells purchases apart, and names them in results: letters and digits of what it is, in
    /// small letters; empty where there are none.
    pub fn key(what: &str) -> String {
        let words = what.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
        words.collect::<Vec<_>>().join("_").to_lowercase()
    }

    fn of(&self, part: PurchasePart) -> Option<PriceEntry> {
        match part {
            PurchasePart::Each => self.each,
            PurchasePart::Life => self.life,
        }
    }

    fn slot(&mut self, part: PurchasePart) -> &mut Option<PriceEntry> {
        match part {
            PurchasePart::Each => &mut self.each,
            PurchasePart::Life => &mut self.life,
        }
    }

    /// Whether it reads as several, "levelers", and not as one, "filter".
    fn is_plural(&self) -> bool {
        self.what.ends_with(['s', 'S'])
    }

    fn words(&self, part: PurchasePart) -> PriceWords {
        let (what, key) = (&self.what, Self::key(&self.what));
        let s = if self.is_plural() { "" } else { "s" };
        match part {
            PurchasePart::Each => PriceWords {
                name: format!("purchase_{key}_each"),
                label: format!("price of {what}"),
                asked: format!("what the {what} cost{s}"),
            },
            PurchasePart::Life => PriceWords {
                name: format!("purchase_{key}_life_years"),
                label: format!("life of {what}"),
                asked: format!("how long the {what} last{s}"),
            },
        }
    }
}

/// What is known of all prices.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Prices {
    rows: [Option<PriceEntry>; Price::ALL.len()],
    purchases: Vec<Purchase>,
}

impl Prices {
    /// What is known of `price`.
    pub fn of(&self, price: impl Into<PriceKey>) -> Option<PriceEntry> {
        match price.into() {
            PriceKey::Row(price) => self.rows[price as usize],
            PriceKey::Purchase(at, part) => self.purchases.get(at)?.of(part),
        }
    }

    /// Sets what is known of `price`.
    pub fn set(&mut self, price: impl Into<PriceKey>, entry: Option<PriceEntry>) {
        if let Some(slot) = self.slot(price.into()) {
            *slot = entry;
        }
    }

    /// The same prices with another value of `price`, for sensitivity; range and mark stay. What is
    /// missing stays missing.
    #[must_use]
    pub fn with(mut self, price: impl Into<PriceKey>, value: f64) -> Self {
        if let Some(Some(entry)) = self.slot(price.into()) {
            entry.value = value;
        }
        self
    }

    fn slot(&mut self, price: PriceKey) -> Option<&mut Option<PriceEntry>> {
        match price {
            PriceKey::Row(price) => self.rows.get_mut(price as usize),
            PriceKey::Purchase(at, part) => self.purchases.get_mut(at).map(|own| own.slot(part)),
        }
    }

    /// What is bought by a name of the user's own, in order of first mention.
    pub fn purchases(&self) -> &[Purchase] {
        &self.purchases
    }

    /// Adds a purchase; its place.
    pub fn add(&mut self, purchase: Purchase) -> usize {
        self.purchases.push(purchase);
        self.purchases.len() - 1
    }

    /// Every price there is, known or not: the table's, then those of each purchase.
    pub fn keys(&self) -> impl Iterator<Item = PriceKey> + '_ {
        let parts = [PurchasePart::Each, PurchasePart::Life];
        let of = move |at: usize| parts.map(|part| PriceKey::Purchase(at, part));
        let rows = Price::ALL.iter().copied().map(PriceKey::Row);
        rows.chain((0..self.purchases.len()).flat_map(of))
    }

    /// Those that are known, in order.
    pub fn known(&self) -> impl Iterator<Item = (PriceKey, PriceEntry)> + '_ {
        self.keys().filter_map(|price| Some((price, self.of(price)?)))
    }

    /// How `price` is named and asked for.
    pub fn words(&self, price: impl Into<PriceKey>) -> PriceWords {
        match price.into() {
            PriceKey::Row(price) => {
                let row = price.row();
                let (name, label, asked) = (row.name.into(), row.label.into(), row.asked.into());
                PriceWords { name, label, asked }
            }
            PriceKey::Purchase(at, part) => {
                self.purchases.get(at).cloned().unwrap_or_default().words(part)
            }
        }
    }

    /// How long what costs so much lasts, said right after its price: "how long they last".
    pub fn asked_next(&self, price: PriceKey, before: Option<PriceKey>) -> String {
        match (price, before) {
            (
                PriceKey::Purchase(at, PurchasePart::Life),
                Some(PriceKey::Purchase(same, PurchasePart::Each)),
            ) if at == same => {
                let is_plural = self.purchases.get(at).is_some_and(Purchase::is_plural);
                if is_plural { "how long they last".into() } else { "how long it lasts".into() }
            }
            _ => self.words(price).asked,
        }
    }

    /// What is missing without which a yield has no value, and money no verdict.
    pub fn missing_value(&self) -> Vec<Price> {
        let needed = [Price::Crop, Price::PotentialYield];
        needed.into_iter().filter(|price| self.of(*price).is_none()).collect()
    }

    /// The number of `price`, nothing where it is not known.
    pub(super) fn value_or_nothing(&self, price: Price) -> f64 {
        self.of(price).map_or(0.0, |known| known.value)
    }

    /// Whether `price` is known to be nothing.
    pub(super) fn is_nothing(&self, price: impl Into<PriceKey>) -> bool {
        self.of(price).is_some_and(|known| known.value == 0.0)
    }
}

impl FromIterator<(Price, PriceEntry)> for Prices {
    fn from_iter<I: IntoIterator<Item = (Price, PriceEntry)>>(entries: I) -> Self {
        let mut prices = Self::default();
        for (price, entry) in entries {
            prices.set(price, Some(entry));
        }
        prices
    }
}
