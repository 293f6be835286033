//! Footprints of sets kept from run to run.
//!
//! Laying the hours of a set takes most of what is left once landing maps are kept, and a stop that
//! moves leaves most sets as they were: their hours, and mostly their place within a cell, are the
//! same, so their footprint is the same to the last bit. Only for who asks for it: many seasons never
//! meet the same hours twice.

use crate::sprinkler::Sprinkler;
use crate::sprinkler::footprint::{Footprint, FootprintSettings};
use crate::sprinkler::landing::LandingMap;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// What lays footprints: the same one lays the same.
#[derive(Debug)]
pub(super) struct Layer {
    pub(super) sprinkler: Sprinkler,
    /// Known by where they lie: kept maps are the same ones.
    pub(super) maps: Vec<Arc<LandingMap>>,
    pub(super) cell_m: f64,
    pub(super) settings: FootprintSettings,
}

impl Layer {
    pub(super) fn is(&self, other: &Self) -> bool {
        let pairs = self.maps.iter().zip(&other.maps);
        self.maps.len() == other.maps.len()
            && pairs.into_iter().all(|(one, other)| Arc::ptr_eq(one, other))
            && (self.cell_m, self.settings) == (other.cell_m, other.settings)
            && self.sprinkler == other.sprinkler
    }
}

/// Place within a cell and hours of a set, as bits.
pub(super) type SetBits = ([u64; 2], Vec<[u64; 4]>);

/// Footprints by what lays them and by set; those longest unused go first.
#[derive(Debug)]
pub(super) struct KeptFootprints {
    most_bytes: usize,
    kept: Mutex<Kept>,
}

#[derive(Debug, Default)]
struct Kept {
    /// By number; what lays nothing that is kept goes.
    layers: BTreeMap<u64, Arc<Layer>>,
    sets: BTreeMap<(u64, SetBits), Entry>,
    bytes: usize,
    /// Counts uses.
    clock: u64,
}

#[derive(Debug)]
struct Entry {
    footprint: Arc<Footprint>,
    used: u64,
}

impl KeptFootprints {
    /// Room for so many bytes.
    pub(super) fn new(most_bytes: usize) -> Self {
        Self { most_bytes, kept: Mutex::default() }
    }

    /// The number of what lays, the same for the same.
    pub(super) fn number(&self, layer: Layer) -> u64 {
        let mut kept = self.lock();
        if let Some((number, _)) = kept.layers.iter().find(|(_, known)| known.is(&layer)) {
            return *number;
        }
        kept.clock += 1;
        let number = kept.clock;
        kept.layers.insert(number, Arc::new(layer));
        number
    }

    /// The footprint of a set, where it is kept.
    pub(super) fn get(&self, key: &(u64, SetBits)) -> Option<Arc<Footprint>> {
        let mut kept = self.lock();
        kept.clock += 1;
        let used = kept.clock;
        let entry = kept.sets.get_mut(key)?;
        entry.used = used;
        Some(Arc::clone(&entry.footprint))
    }

    /// Keeps a footprint.
    pub(super) fn put(&self, key: (u64, SetBits), footprint: &Arc<Footprint>) {
        let mut kept = self.lock();
        kept.clock += 1;
        let entry = Entry { footprint: Arc::clone(footprint), used: kept.clock };
        kept.bytes += bytes(footprint);
        if let Some(before) = kept.sets.insert(key, entry) {
            kept.bytes -= bytes(&before.footprint);
        }
        if kept.bytes > self.most_bytes {
            kept.make_room(self.most_bytes / 4 * 3);
        }
    }

    fn lock(&self) -> MutexGuard<'_, Kept> {
        // A panic elsewhere leaves it whole: nothing panics while it is held.
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Kept {
    /// The longest unused go until no more than so many bytes are left.
    fn make_room(&mut self, left_bytes: usize) {
        let mut by_use: Vec<(u64, usize)> =
            self.sets.values().map(|entry| (entry.used, bytes(&entry.footprint))).collect();
        by_use.sort_unstable();
        let mut bytes_now = self.bytes;
        let mut oldest = 0;
        for (used, bytes) in by_use {
            if bytes_now <= left_bytes {
                break;
            }
            bytes_now -= bytes;
            oldest = used;
        }
        self.bytes = bytes_now;
        self.sets.retain(|_, entry| entry.used > oldest);
        let sets = &self.sets;
        self.layers.retain(|number, _| sets.keys().any(|(layer, _)| layer == number));
    }
}

fn bytes(footprint: &Footprint) -> usize {
    footprint.values.len() * size_of::<f64>() + 512
}

#[cfg(test)]
mod tests {
    use super::*;
    use ndarray::Array2;

    #[test]
    fn closed_the_longest_unused_goes_first() {
        let one =
            Arc::new(Footprint { first_row: 0, first_column: 0, values: Array2::zeros((10, 10)) });
        let kept = KeptFootprints::new(4 * bytes(&one));
        let key = |number: u64| (1, ([number, 0], Vec::new()));
        (0..4).for_each(|number| kept.put(key(number), &one));
        assert!(kept.get(&key(0)).is_some());
        // One more than fits: room is made to three.
        kept.put(key(4), &one);
        let there: Vec<bool> = (0..5).map(|number| kept.get(&key(number)).is_some()).collect();
        assert_eq!(there, [true, false, false, true, true]);
    }
}
