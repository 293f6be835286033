//! Prices with their ranges.

use crate::file::{Kind, NOT_KNOWN, PriceFile, PricesFile};
use crate::notes::Notes;
use evenfall_core::money::{Price, PriceEntry, PriceUnit, Prices};

/// The prices, with the ranges of those that have one.
pub(crate) fn prices(given: &PricesFile, notes: &mut Notes<'_>) -> Prices {
    let section = given.at.pointer.clone();
    let mut prices = Prices::default();
    for price in Price::ALL {
        let entry = given.get(*price).map(|given| entry(price.row().unit, given, notes));
        if entry.is_none() {
            let what = format!("{section}/{}", price.row().key);
            notes.assume(&what, "not known", NOT_KNOWN);
        }
        prices.set(*price, entry);
    }
    let is_usual = |given: &PriceFile| given.range.is_none();
    if Price::ALL.iter().filter_map(|price| given.get(*price)).any(is_usual) {
        tell_usual_range(&section, notes);
    }
    prices
}

/// Tells the range that prices at `section` have which were given none.
pub(super) fn tell_usual_range(section: &str, notes: &mut Notes<'_>) {
    let swing = format!("± {:.0} %", 100.0 * PriceEntry::DEFAULT_SWING);
    let why = "plausible range of every price that has no low and high; judgment, no source";
    notes.assume(section, swing, why);
}

/// What is known of one price.
pub(super) fn entry(unit: PriceUnit, given: &PriceFile, notes: &mut Notes<'_>) -> PriceEntry {
    let mut entry =
        PriceEntry { value: given.value, range: given.range, is_placeholder: given.is_placeholder };
    if given.range.is_none() {
        let (least, most) = Kind::of(unit).ends();
        let (low, high) = entry.ends();
        // The usual range must not lead to what cannot be, such as a life under a year.
        if low < least || high > most {
            entry.range = Some((low.max(least), high.min(most)));
        }
    }
    if given.is_placeholder {
        let why = "a placeholder of the scenario until you enter yours";
        notes.assume(&given.at.pointer, given.text.as_str(), why);
    }
    entry
}
