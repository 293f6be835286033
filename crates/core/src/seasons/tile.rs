//! Some rows of a field through a whole season, while they stay close to the processor.
//!
//! On a day with water the rows' depths are laid and given to the crop; all days from there to the
//! next water are one function of a cell's depletion ([`crate::root_zone::lines`]). Only days on which
//! water reaches the rows are looked at.

use super::smoothing::{Smoothing, SpreadRoom};
use super::wet_days::WetDay;
use crate::grid::DepthGrid;
use crate::overlay::RowScratch;
use crate::root_zone::CropDay;
use crate::root_zone::cells::CellStates;
use crate::root_zone::ground::Ground;
use crate::root_zone::lines::Course;
use std::ops::Range;

/// Cells that are walked together: five lists of them fit into a second-level cache of 1 MB.
const TILE_CELLS: usize = 16_384;

/// A season to be walked.
#[derive(Debug)]
pub(super) struct Tiles<'a> {
    pub(super) days: &'a [WetDay<'a>],
    pub(super) crop_days: &'a [CropDay],
    pub(super) ground: &'a Ground,
    pub(super) smoothing: Option<Smoothing>,
    pub(super) rows: usize,
    pub(super) columns: usize,
}

/// What a season's water did to every cell, mm.
#[derive(Debug)]
pub(super) struct FieldWater {
    /// Net irrigation, as cans would catch it.
    pub(super) season_mm: DepthGrid,
    /// Of it, what fell on days without a crop; `None` where none did.
    pub(super) idle_mm: Option<DepthGrid>,
    /// Water that the crop used.
    pub(super) use_mm: DepthGrid,
    /// Water lost below the roots.
    pub(super) percolation_mm: DepthGrid,
    /// Depletion on the last day.
    pub(super) depletion_mm: DepthGrid,
}

/// Room for a tile, kept from one to the next.
#[derive(Debug, Default)]
pub(super) struct Room {
    depth_mm: Vec<f64>,
    spread: SpreadRoom,
    cells: CellStates,
    course: Course,
}

impl Tiles<'_> {
    /// Walks the season.
    pub(super) fn walk(&self, room: &mut Room) -> FieldWater {
        let zeros = || DepthGrid::zeros((self.rows, self.columns));
        let mut found = FieldWater {
            season_mm: zeros(),
            idle_mm: None,
            use_mm: zeros(),
            percolation_mm: zeros(),
            depletion_mm: zeros(),
        };
        let mut scratch = WetDay::scratch(self.days);
        let rows_a_tile = (TILE_CELLS / self.columns.max(1)).max(8);
        for first in (0..self.rows).step_by(rows_a_tile) {
            let rows = first..(first + rows_a_tile).min(self.rows);
            self.tile(&rows, room, scratch.as_mut(), &mut found);
        }
        found
    }

    /// Walks the season on `rows`.
    fn tile(
        &self,
        rows: &Range<usize>,
        room: &mut Room,
        mut scratch: Option<&mut RowScratch>,
        found: &mut FieldWater,
    ) {
        let own = rows.start * self.columns..rows.end * self.columns;
        let around = self.smoothing.as_ref().map_or(rows.clone(), |by| by.around(rows));
        room.cells.start(own.len(), self.ground.depletion_mm);
        let mut watered: Vec<(usize, &WetDay<'_>)> = Vec::new();
        for day in self.days {
            match (self.crop_day(day), &mut scratch) {
                (Some(today), _) if day.reaches(&around) => watered.push((today, day)),
                (None, Some(scratch)) if day.reaches(rows) => {
                    day.lay(scratch, rows, self.columns, &mut room.depth_mm);
                    let zeros = || DepthGrid::zeros((self.rows, self.columns));
                    add(&room.depth_mm, found.idle_mm.get_or_insert_with(zeros), &own);
                    add(&room.depth_mm, &mut found.season_mm, &own);
                }
                _ => {}
            }
        }
        let until = |at: usize| watered.get(at).map_or(self.crop_days.len(), |(day, _)| *day);
        room.dry(&self.crop_days[..until(0)]);
        for (at, (today, day)) in watered.iter().enumerate() {
            let Some(scratch) = &mut scratch else { break };
            day.lay(scratch, &around, self.columns, &mut room.depth_mm);
            let first = (rows.start - around.start) * self.columns;
            let fell_mm = &room.depth_mm[first..first + own.len()];
            add(fell_mm, &mut found.season_mm, &own);
            let water_mm = match &self.smoothing {
                None => fell_mm,
                Some(by) => by.spread(&room.depth_mm, self.columns, rows.clone(), &mut room.spread),
            };
            // All water of the crop's days; what of it was used comes out at the end.
            add(water_mm, &mut found.use_mm, &own);
            room.course.set(&self.crop_days[*today..until(at + 1)]);
            room.cells.go(&room.course, Some(water_mm));
        }
        self.close(&own, &room.cells, found);
    }

    /// The crop's day of a day of the season, if it has one.
    fn crop_day(&self, day: &WetDay<'_>) -> Option<usize> {
        let number = usize::try_from(day.day - self.ground.first_day).ok()?;
        (number < self.crop_days.len()).then_some(number)
    }

    /// Brings the tile's cells home; use follows from their balance.
    fn close(&self, own: &Range<usize>, cells: &CellStates, found: &mut FieldWater) {
        let rain_mm: f64 = self.crop_days.iter().map(|day| day.rain_mm).sum();
        let beside_mm = rain_mm - self.ground.depletion_mm;
        cells_of(&mut found.depletion_mm, own).copy_from_slice(&cells.depletion_mm);
        cells_of(&mut found.percolation_mm, own).copy_from_slice(&cells.percolation_mm);
        let ends = cells.depletion_mm.iter().zip(&cells.percolation_mm);
        for (use_mm, (end_mm, lost_mm)) in cells_of(&mut found.use_mm, own).iter_mut().zip(ends) {
            *use_mm += beside_mm + end_mm - lost_mm;
        }
    }
}

impl Room {
    /// Days without irrigation.
    fn dry(&mut self, days: &[CropDay]) {
        self.course.set(days);
        self.cells.go(&self.course, None);
    }
}

fn cells_of<'a>(grid: &'a mut DepthGrid, cells: &Range<usize>) -> &'a mut [f64] {
    grid.as_slice_mut().map_or(&mut [], |all| &mut all[cells.clone()])
}

fn add(depth_mm: &[f64], to: &mut DepthGrid, cells: &Range<usize>) {
    cells_of(to, cells).iter_mut().zip(depth_mm).for_each(|(to, depth)| *to += depth);
}
