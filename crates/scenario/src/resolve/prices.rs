//! Prices and equipment with their defaults.

use crate::file::{EquipmentFile, Kind, NOT_KNOWN, PriceFile, PricesFile};
use crate::notes::Notes;
use evenfall_core::money::{Equipment, Price, PriceEntry, Prices};

/// The prices, with the ranges of those that have one.
pub(crate) fn prices(given: &PricesFile, notes: &mut Notes<'_>) -> Prices {
    let section = given.at.pointer.clone();
    let mut prices = Prices::default();
    for price in Price::ALL {
        let entry = given.get(*price).map(|given| entry(*price, given, notes));
        if entry.is_none() {
            let what = format!("{section}/{}", price.row().key);
            notes.assume(&what, "not known", NOT_KNOWN);
        }
        prices.set(*price, entry);
    }
    let is_usual = |given: &PriceFile| given.range.is_none();
    if Price::ALL.iter().filter_map(|price| given.get(*price)).any(is_usual) {
        let swing = format!("± {:.0} %", 100.0 * PriceEntry::DEFAULT_SWING);
        let why = "plausible range of every price that has no low and high; judgment, no source";
        notes.assume(&section, swing, why);
    }
    prices
}

/// What is known of one price.
fn entry(price: Price, given: &PriceFile, notes: &mut Notes<'_>) -> PriceEntry {
    let mut entry =
        PriceEntry { value: given.value, range: given.range, is_placeholder: given.is_placeholder };
    if given.range.is_none() {
        let (least, most) = Kind::of(price.row().unit).ends();
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

/// What an alternative at `pointer` needs beyond the bare machine.
pub(crate) fn equipment(
    given: Option<&EquipmentFile>,
    pointer: &str,
    notes: &mut Notes<'_>,
) -> Equipment {
    let Some(given) = given else {
        let why = "no joints or outlets to buy, no extra sets or labor";
        notes.assume(&format!("{pointer}/equipment"), "joints 0", why);
        return Equipment::default();
    };
    let at = &given.at.pointer;
    let (sets, labor) = (&given.extra_sets_per_pass, &given.extra_labor_per_move);
    Equipment {
        joints: EquipmentFile::joints.or_start(Some(&given.joints), at, notes) as u32,
        outlets: EquipmentFile::outlets.or_start(Some(&given.outlets), at, notes) as u32,
        extra_sets_per_pass: EquipmentFile::extra_sets_per_pass.or_start(Some(sets), at, notes)
            as u32,
        extra_labor_per_move_h: EquipmentFile::extra_labor_per_move.or_start(
            Some(labor),
            at,
            notes,
        ),
    }
}
