//! What each alternative needs beyond the bare machine, purchases by name with their prices among it.

use super::prices::{entry, tell_usual_range};
use crate::document::At;
use crate::file::{
    AlternativeFile, EquipmentFile, Kind, NOT_KNOWN, PriceFile, PurchaseFile, ScenarioFile,
};
use crate::issue::Issue;
use crate::notes::Notes;
use evenfall_core::model::Alternative;
use evenfall_core::money::{Equipment, PriceKey, PriceUnit, Prices, Purchase, PurchasePart};

/// What each alternative needs; the prices of what is bought by name go to `prices`. `alternatives` are
/// those of the file, where all of them are good.
pub(crate) fn equipment(
    file: &ScenarioFile,
    alternatives: Option<&[Alternative]>,
    prices: &mut Prices,
    notes: &mut Notes<'_>,
) -> Vec<Equipment> {
    let given: Vec<&AlternativeFile> = file
        .alternatives
        .0
        .iter()
        .flat_map(|list| &list.items)
        .filter_map(|item| item.0.as_ref())
        .collect();
    let farther = |index: usize| {
        let rotation = |index: usize| Some(&alternatives?.get(index)?.rotation);
        match (rotation(index), rotation(0)) {
            (Some(own), Some(baseline)) => own.reaches_beyond(baseline.farthest_m()),
            _ => false,
        }
    };
    let mut bought = Bought { prices, told: Vec::new() };
    let each = given.iter().enumerate().map(|(index, alternative)| match &alternative.equipment {
        Some(own) => stated(own, &mut bought, notes),
        None => unstated(&alternative.at.pointer, farther(index), notes),
    });
    let each = each.collect();
    bought.tell_missing(notes);
    each
}

/// The equipment of an alternative whose file says nothing of it.
fn unstated(pointer: &str, is_farther: bool, notes: &mut Notes<'_>) -> Equipment {
    let at = format!("{pointer}/equipment");
    if is_farther {
        let why = "it stands farther from its outlets than the baseline does: asked for; write \
                   { \"joints\": 0 } if the hoses or joints there are reach";
        notes.assume(&at, "not known", why);
    } else {
        notes.assume(&at, "joints 0", "no joints or outlets to buy, no extra sets or labor");
    }
    Equipment { is_reach_open: is_farther, ..Equipment::default() }
}

fn stated(given: &EquipmentFile, bought: &mut Bought<'_>, notes: &mut Notes<'_>) -> Equipment {
    let at = &given.at.pointer;
    let (sets, labor) = (&given.extra_sets_per_pass, &given.extra_labor_per_move);
    let sets = EquipmentFile::extra_sets_per_pass.or_start(Some(sets), at, notes);
    Equipment {
        joints: EquipmentFile::joints.or_start(Some(&given.joints), at, notes) as u32,
        outlets: EquipmentFile::outlets.or_start(Some(&given.outlets), at, notes) as u32,
        purchases: bought.pieces(given, notes),
        extra_sets_per_pass: sets as u32,
        extra_labor_per_move_h: EquipmentFile::extra_labor_per_move.or_start(
            Some(labor),
            at,
            notes,
        ),
        is_reach_open: false,
    }
}

/// Purchases by name as they are read, alternative after alternative.
struct Bought<'a> {
    prices: &'a mut Prices,
    /// Where each was named first.
    told: Vec<At>,
}

impl Bought<'_> {
    /// Pieces of each purchase that an alternative names.
    fn pieces(&mut self, given: &EquipmentFile, notes: &mut Notes<'_>) -> Vec<u32> {
        let mut pieces: Vec<Option<u32>> = Vec::new();
        let items = given.purchases.iter().flat_map(|list| &list.items);
        for item in items.clone() {
            let place = self.place(item);
            pieces.resize(pieces.len().max(place + 1), None);
            if pieces[place].is_some() {
                let problem = format!("\"{}\" is on the list twice", item.what.value);
                let hint = "Give it once, with the number of all its pieces.";
                notes.issues.push(Issue::new(&item.what.at, problem).hint(hint));
            }
            pieces[place] = Some(item.count.value as u32);
            let life = item.life.as_ref().map(|life| life.price.clone());
            let each = item.each.as_ref().map(|each| each.price.clone());
            self.price(place, PurchasePart::Each, each, notes);
            self.price(place, PurchasePart::Life, life, notes);
        }
        let has_usual = |item: &PurchaseFile| {
            let each = item.each.as_ref().map(|each| &each.price);
            let life = item.life.as_ref().map(|life| &life.price);
            each.into_iter().chain(life).any(|price| price.range.is_none())
        };
        if let Some(list) = given.purchases.as_ref().filter(|list| list.items.iter().any(has_usual))
        {
            tell_usual_range(&list.at.pointer, notes);
        }
        pieces.into_iter().map(|count| count.unwrap_or(0)).collect()
    }

    /// The place of a purchase among all, by its name.
    fn place(&mut self, item: &PurchaseFile) -> usize {
        let key = Purchase::key(&item.what.value);
        let known = self.prices.purchases().iter().position(|one| Purchase::key(&one.what) == key);
        known.unwrap_or_else(|| {
            self.told.push(item.at.clone());
            self.prices.add(Purchase { what: item.what.value.clone(), ..Purchase::default() })
        })
    }

    /// Takes a price of a purchase; another one than before is refused.
    fn price(
        &mut self,
        place: usize,
        part: PurchasePart,
        given: Option<PriceFile>,
        notes: &mut Notes<'_>,
    ) {
        let Some(given) = given else { return };
        let unit = match part {
            PurchasePart::Each => PriceUnit::Each,
            PurchasePart::Life => PriceUnit::Years,
        };
        let given = Kind::of(unit).in_core(given);
        let entry = entry(unit, &given, notes);
        let key = PriceKey::Purchase(place, part);
        if self.prices.of(key).is_some_and(|known| known != entry) {
            let label = self.prices.words(key).label;
            let problem = format!("the {label} is \"{}\" here and another before", given.text);
            let hint = "Give it in one place, or call what differs by another name.";
            notes.issues.push(
                Issue::new(&given.at, problem)
                    .allowed("one price and one life for what has one name")
                    .hint(hint),
            );
            return;
        }
        self.prices.set(key, Some(entry));
    }

    /// Tells what is not known of purchases, where they were named first.
    fn tell_missing(&self, notes: &mut Notes<'_>) {
        for (place, at) in self.told.iter().enumerate() {
            for (part, key) in [(PurchasePart::Each, "each"), (PurchasePart::Life, "life")] {
                if self.prices.of(PriceKey::Purchase(place, part)).is_none() {
                    notes.assume(&format!("{}/{key}", at.pointer), "not known", NOT_KNOWN);
                }
            }
        }
    }
}
