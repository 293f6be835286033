//! Footprints for runs of many seasons: read from what is laid once a speed of wind, instead of laid hour by
//! hour.
//!
//! A season has some 3,000 hours of water, and laying an hour's wind costs the maker 30,000 lumps of
//! water, 0.12 ms. Yet all these winds are much alike: an *atlas* lays water only at speeds 0.25 m/s apart,
//! in the wind's own axes (`own_wind`), each speed when it is first met; every hour is read there, turned to
//! its own direction, at just the places where it is wanted, some 0.01 ms for 2,000 of them. The maker stays
//! the exact way, and the reference; single seasons, pictures and catch tests ask it.
//!
//! **Between speeds** an hour's water lies farther than that of the speed below it, or less far than that of
//! the one above: by (speed − nearest) · drift, the drift being what carried the center of mass to the
//! nearest speed, by each m/s. So much its places are shifted where they are read.
//!
//! **Where the sprinkler stands** costs nothing: places are read wherever they lie. (Before, patterns stood
//! on a cell's corner and were moved to their place by weights; what is narrower than four cells cannot be
//! moved by half a cell so, and 0.17 % of a pattern's water came to lie in other cells.)
//!
//! **Fewer places** than cells may be wanted (`places`); their water is made wider (`widening`).
//!
//! **Water.** Rates are per net hour; losses are each hour's own. The sum of a set is brought to
//! discharge · Σ hours · net in one step, so its water is right to the last digits, although rates are
//! kept in 16 bits and the weights' overshoot below nothing is cut off at the rims. Nothing is negative,
//! and nothing lies where the water, turned, cannot reach.
//!
//! **The same digits always.** What is laid at a speed depends on the sprinkler and the speed alone, so it
//! does not matter who lays it first, or whether two threads both do; nor whether it is kept: an atlas
//! keeps 32 MB at most, and what does not fit is laid each time. A speed takes a tenth of a megabyte.
//!
//! **How far it is off.** `benches/RESULTS.md` has it over 50 of the demo's seasons with all doubts drawn.
//! Another draw of the weather moves CU by half a point. The tests keep 0.02 points of CU and DUlq, 0.01 of
//! differences between alternatives.
//!
//! Neglected: that drops of all sizes do not drift alike, between speeds. A tilted sprinkler has no such
//! symmetry: its atlas asks the maker every time.

use super::footprint::{Footprint, WindSlice};
use super::maker::FootprintMaker;
use super::nodes::Nodes;
use super::own_wind::OwnWind;
use super::places::Places;
use super::problem::SprinklerProblem;
use super::reading::{Hour, Reading, Window};
use libm::{cos, round, sin};
use ndarray::Array2;
use std::ops::Range;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, OnceLock};

/// Most memory for what is kept, bytes. What is met beyond it is made anew each time.
const MOST_BYTES: usize = 32 << 20;
/// Farthest apart that places may lie, cells.
pub(crate) const MOST_APART: usize = 8;
/// Between the speeds at which water is laid, m/s.
const STEP_M_S: f64 = 0.25;

/// What one sprinkler lays at speeds of the wind, each laid when it is first met.
#[derive(Debug)]
pub(crate) struct Atlas {
    maker: Arc<FootprintMaker>,
    /// All that is delivered, as if onto one cell, mm/h; none for a sprinkler that stands tilted.
    discharge_mm_h: Option<f64>,
    /// By how many cells places lie apart, less one, and by speed.
    speeds: Vec<Vec<OnceLock<Arc<OwnWind>>>>,
    kept_bytes: AtomicUsize,
}

/// A set and where its water is wanted.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SetAt<'a> {
    pub(crate) slices: &'a [WindSlice],
    pub(crate) places: &'a [Places],
}

impl Atlas {
    /// Of the sprinkler that `maker` lays.
    pub(crate) fn new(maker: Arc<FootprintMaker>) -> Self {
        let discharge_mm_h = maker.upright_mm_h();
        let last = (maker.fastest_m_s() / STEP_M_S + 1e-9) as usize;
        let speeds = || (0..=last).map(|_| OnceLock::new()).collect();
        let speeds = (0..MOST_APART).map(|_| speeds()).collect();
        Self { maker, discharge_mm_h, speeds, kept_bytes: AtomicUsize::new(0) }
    }

    /// Net depths of whole sets, mm, each at each of its places, within what the head of this file says of
    /// the maker's; slices without water or time add nothing. What a set's are does not depend on the others.
    ///
    /// # Errors
    /// Those of [`FootprintMaker::set_footprint`].
    pub(crate) fn footprints(
        &self,
        sets: &[SetAt<'_>],
    ) -> Result<Vec<Vec<Footprint>>, SprinklerProblem> {
        let Some(discharge_mm_h) = self.discharge_mm_h else {
            return sets
                .iter()
                .map(|set| self.maker.set_footprints(set.slices, set.places))
                .collect();
        };
        let mut readings = Vec::new();
        let mut hours = Vec::new();
        for SetAt { slices, places } in sets {
            for places in *places {
                self.maker.check(slices, places.phase())?;
                let wet = slices.iter().filter(|slice| slice.hours * slice.net > 0.0);
                let own = wet.filter_map(|slice| self.hour(places.apart(), slice));
                let (speeds, own): (Vec<usize>, Vec<Hour>) = own.unzip();
                let net_hours: f64 = own.iter().map(|hour| hour.net_hours).sum();
                let number = readings.len();
                readings.push((Reading::of(&own, places), places, net_hours));
                hours.extend(speeds.into_iter().zip(own).map(|(at, hour)| (at, number, hour)));
            }
        }
        // Speed after speed, so that what was laid at it stays close to the processor.
        hours.sort_by_key(|(at, ..)| *at);
        for (_, number, hour) in &hours {
            readings[*number].0.add(hour);
        }
        let mut found = readings.into_iter().map(|(reading, places, net_hours)| {
            let (window, mut depths) = reading.finish();
            places.brought_to(discharge_mm_h * net_hours, &mut depths);
            cut_out(&window, &depths)
        });
        Ok(sets.iter().map(|set| found.by_ref().take(set.places.len()).collect()).collect())
    }

    /// An hour as it is read, with the number of the speed nearest to its own. By each m/s beyond that speed it
    /// carries water as much farther as it was carried to there; beyond still air, as the lightest wind does.
    fn hour(&self, apart: usize, slice: &WindSlice) -> Option<(usize, Hour)> {
        let last = self.speeds[apart - 1].len() - 1;
        let at = (round(slice.speed_m_s / STEP_M_S) as usize).min(last);
        let own = self.own_wind(apart, at)?;
        let beyond_m_s = slice.speed_m_s - at as f64 * STEP_M_S;
        let drift_cells_per_m_s = match at {
            _ if beyond_m_s == 0.0 || last == 0 => 0.0,
            0 => self.own_wind(apart, 1)?.drift_cells / STEP_M_S,
            at => own.drift_cells / (at as f64 * STEP_M_S),
        };
        let hour = Hour {
            own,
            towards: (cos(slice.towards_rad), sin(slice.towards_rad)),
            farther_cells: beyond_m_s * drift_cells_per_m_s,
            net_hours: slice.hours * slice.net,
        };
        Some((at, hour))
    }

    /// What is laid at a speed, made now if it is not known, and kept if there is room. Two threads may
    /// both make it: they make the same, and neither waits for the other.
    fn own_wind(&self, apart: usize, at: usize) -> Option<Arc<OwnWind>> {
        let place = &self.speeds[apart - 1][at];
        if let Some(known) = place.get() {
            return Some(Arc::clone(known));
        }
        let made = Arc::new(self.maker.own_wind(at as f64 * STEP_M_S, Nodes::new(apart))?);
        let bytes = made.bytes();
        let kept_bytes = self.kept_bytes.fetch_add(bytes, Ordering::Relaxed);
        if kept_bytes + bytes <= MOST_BYTES {
            return Some(Arc::clone(place.get_or_init(|| made)));
        }
        self.kept_bytes.fetch_sub(bytes, Ordering::Relaxed);
        Some(made)
    }
}

/// The rows and columns that hold water.
fn cut_out(window: &Window, depths_mm: &[f64]) -> Footprint {
    let width = window.columns.len();
    let nothing = Footprint { first_row: 0, first_column: 0, values: Array2::zeros((0, 0)) };
    let is_wet = |depth: &f64| *depth > 0.0;
    let mut wet: Option<[Range<usize>; 2]> = None;
    for (at, row) in depths_mm.chunks_exact(width.max(1)).enumerate() {
        let Some(first) = row.iter().position(is_wet) else { continue };
        let end = row.iter().rposition(is_wet).unwrap_or(first) + 1;
        wet = Some(match wet {
            None => [at..at + 1, first..end],
            Some([rows, columns]) => {
                [rows.start..at + 1, columns.start.min(first)..columns.end.max(end)]
            }
        });
    }
    let Some([rows, columns]) = wet else { return nothing };
    let mut inside = Vec::with_capacity(rows.len() * columns.len());
    for row in depths_mm.chunks_exact(width).skip(rows.start).take(rows.len()) {
        inside.extend_from_slice(&row[columns.clone()]);
    }
    let Ok(values) = Array2::from_shape_vec((rows.len(), columns.len()), inside) else {
        return nothing;
    };
    let first_row = window.rows.start + rows.start as isize;
    let first_column = window.columns.start + columns.start as isize;
    Footprint { first_row, first_column, values }
}

#[cfg(test)]
pub(super) mod tests;
