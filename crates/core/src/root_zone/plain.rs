//! A season of the root zone over a field in the plainest way: cell after cell, day after day, by
//! [`RootZone::step`]. What runs many cells at once, or a folded field, is judged against it.

use super::RootZone;
use super::season::SeasonWater;
use super::yields::yield_fraction;

/// Net irrigation of one day on some neighboring cells.
#[derive(Clone, Debug)]
pub(crate) struct Watering {
    /// Day of the season (1 is the day of planting).
    pub(crate) day: usize,
    /// First cell that is watered.
    pub(crate) first_cell: usize,
    /// Depth on that cell and those after it, mm.
    pub(crate) depth_mm: Vec<f64>,
}

/// What a season did to one cell; depths in mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct CellWater {
    pub(crate) irrigation_mm: f64,
    pub(crate) et_mm: f64,
    pub(crate) percolation_mm: f64,
    /// Depletion on the last day.
    pub(crate) depletion_mm: f64,
    pub(crate) stress_days: usize,
    /// Ya/Ym, fraction.
    pub(crate) yield_fraction: f64,
    /// Water that came less water that went or stayed.
    pub(crate) imbalance_mm: f64,
}

impl SeasonWater {
    /// Need of the season without stress, `ETm`, mm.
    pub(crate) fn etm_mm(&self) -> f64 {
        self.days().iter().map(|day| day.etc_mm).sum()
    }

    /// Runs the season over `cells` cells of a crop with yield response `ky`. Waterings of the same
    /// cell and day add up.
    pub(crate) fn run(&self, cells: usize, ky: f64, waterings: &[Watering]) -> Vec<CellWater> {
        (0..cells).map(|cell| self.cell(cell, ky, waterings)).collect()
    }

    fn cell(&self, cell: usize, ky: f64, waterings: &[Watering]) -> CellWater {
        let RootZone { depletion_mm: start_mm } = self.at_planting();
        let mut zone = self.at_planting();
        let mut found = CellWater::default();
        let mut brought_mm = 0.0;
        for (i, day) in self.days().iter().enumerate() {
            let mut depth_mm = 0.0;
            for watering in waterings.iter().filter(|watering| watering.day == i + 1) {
                let at = cell.checked_sub(watering.first_cell);
                depth_mm += at.and_then(|at| watering.depth_mm.get(at)).unwrap_or(&0.0);
            }
            let done = zone.step(day, depth_mm);
            found.irrigation_mm += depth_mm;
            found.et_mm += done.et_mm;
            found.percolation_mm += done.percolation_mm;
            found.stress_days += usize::from(done.ks < 1.0);
            brought_mm += day.rain_mm + day.rooted_mm + depth_mm;
        }
        let rooted_mm: f64 = self.days().iter().map(|day| day.rooted_mm).sum();
        let stored_mm = rooted_mm + start_mm - zone.depletion_mm;
        CellWater {
            depletion_mm: zone.depletion_mm,
            yield_fraction: yield_fraction(ky, found.et_mm, self.etm_mm()),
            imbalance_mm: brought_mm - (found.et_mm + found.percolation_mm + stored_mm),
            ..found
        }
    }
}
