//! Some rows of a field through a whole season, while they stay close to the processor.
//!
//! On a day with water the rows' depths are laid and given to the crop; all days from there to the
//! next water are one function of a cell's depletion ([`crate::root_zone::lines`]). Only days on which
//! water reaches the rows are looked at.

use super::between::OnCells;
use super::smoothing::{Smoothing, SpreadRoom};
use super::weighted::LastRegions;
use super::wet_days::{WetDay, WetDays};
use crate::grid::DepthGrid;
use crate::root_zone::CropDay;
use crate::root_zone::cells::CellStates;
use crate::root_zone::ground::Ground;
use crate::root_zone::lines::Course;
use std::collections::BTreeMap;
use std::ops::Range;

/// Cells that are walked together: few rows, since all of them are stepped on every day on which water
/// reaches any, and five lists of them fit into a second-level cache of 256 kB.
const TILE_CELLS: usize = 4_096;
/// Rows of a tile, however long: each tile of a field with a boundary also lays the rows beside it.
const FEWEST_ROWS: usize = 24;

/// A season to be walked.
#[derive(Debug)]
pub(super) struct Tiles<'a> {
    pub(super) wet: WetDays<'a>,
    pub(super) crop_days: &'a [CropDay],
    pub(super) ground: &'a Ground,
    pub(super) smoothing: Option<&'a Smoothing>,
    pub(super) rows: usize,
    pub(super) columns: usize,
}

/// What a season's water did to every cell, mm.
#[derive(Debug, Default)]
#[expect(clippy::struct_field_names, reason = "the unit stands last in every name")]
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

/// Room for a season, kept from one to the next.
#[derive(Debug, Default)]
pub(crate) struct Room {
    /// What the season walked last did.
    pub(super) water: FieldWater,
    /// Where figures were taken last.
    pub(super) regions: LastRegions,
    pub(super) on_cells: OnCells,
    depth_mm: Vec<f64>,
    spread: SpreadRoom,
    cells: CellStates,
    courses: Courses,
}

/// What a season's days make of cells, from one of them until another: the same for all rows and
/// alternatives.
#[derive(Debug, Default)]
struct Courses(BTreeMap<(usize, usize), Course>);

impl Courses {
    fn of(&mut self, crop_days: &[CropDay], days: Range<usize>) -> &Course {
        self.0.entry((days.start, days.end)).or_insert_with(|| {
            let mut course = Course::default();
            course.set(&crop_days[days]);
            course
        })
    }
}

impl FieldWater {
    /// Nothing yet, on so many rows and columns, in the room that is there.
    fn start(&mut self, rows: usize, columns: usize) {
        let Self { season_mm, idle_mm, use_mm, percolation_mm, depletion_mm } = self;
        *idle_mm = None;
        if season_mm.dim() == (rows, columns) {
            // They are written over.
            return;
        }
        for grid in [season_mm, use_mm, percolation_mm, depletion_mm] {
            *grid = DepthGrid::zeros((rows, columns));
        }
    }
}

impl Tiles<'_> {
    /// Walks the season.
    pub(super) fn walk(mut self, room: &mut Room) {
        room.water.start(self.rows, self.columns);
        let rows_a_tile = (TILE_CELLS / self.columns.max(1)).max(FEWEST_ROWS);
        for first in (0..self.rows).step_by(rows_a_tile) {
            self.tile(&(first..(first + rows_a_tile).min(self.rows)), room);
        }
    }

    /// Walks the season on `rows`.
    fn tile(&mut self, rows: &Range<usize>, room: &mut Room) {
        let (columns, smoothing) = (self.columns, self.smoothing);
        let own = rows.start * columns..rows.end * columns;
        room.cells.start(own.len(), self.ground.depletion_mm);
        self.wet.lay_all(rows, columns, cells_of(&mut room.water.season_mm, &own));
        self.idle(rows, room);
        let around = smoothing.map_or(rows.clone(), |by| by.around(rows));
        let WetDays { days, scratch: Some(scratch), spread, .. } = &mut self.wet else {
            room.dry(self.crop_days, self.crop_days.len());
            return self.close(&own, room);
        };
        let crop_day = |day: &WetDay<'_>| crop_day(day, self.ground, self.crop_days);
        let watered = days.iter().filter(|day| day.reaches(&around));
        let watered: Vec<_> = watered.filter_map(|day| Some((crop_day(day)?, day))).collect();
        let until = |at: usize| watered.get(at).map_or(self.crop_days.len(), |(day, _)| *day);
        room.dry(self.crop_days, until(0));
        for (at, (today, day)) in watered.iter().enumerate() {
            let depth_mm = &mut room.depth_mm;
            let water_mm = match (smoothing, &mut *spread) {
                (Some(Smoothing::Within(within)), _) => {
                    day.lay(scratch, &around, columns, depth_mm);
                    let both = (around.clone(), rows.clone());
                    within.spread(depth_mm, both, &mut room.spread)
                }
                (_, Some(spread)) => day.lay(spread, rows, columns, depth_mm),
                (_, None) => day.lay(scratch, rows, columns, depth_mm),
            };
            let course = room.courses.of(self.crop_days, *today..until(at + 1));
            room.cells.go(course, Some(water_mm));
        }
        self.close(&own, room);
    }

    /// Lays the water of days without a crop, apart.
    fn idle(&mut self, rows: &Range<usize>, room: &mut Room) {
        let (all_rows, columns) = (self.rows, self.columns);
        let own = rows.start * columns..rows.end * columns;
        let WetDays { days, scratch: Some(scratch), .. } = &mut self.wet else { return };
        let is_idle = |day: &&WetDay<'_>| crop_day(day, self.ground, self.crop_days).is_none();
        for day in days.iter().filter(|day| day.reaches(rows)).filter(is_idle) {
            let depth_mm = day.lay(scratch, rows, columns, &mut room.depth_mm);
            let zeros = || DepthGrid::zeros((all_rows, columns));
            add(depth_mm, room.water.idle_mm.get_or_insert_with(zeros), &own);
        }
    }

    /// Brings the tile's cells home; use follows from their balance.
    fn close(&self, own: &Range<usize>, room: &mut Room) {
        let Room { cells, water, .. } = room;
        let rain_mm: f64 = self.crop_days.iter().map(|day| day.rain_mm).sum();
        let beside_mm = rain_mm - self.ground.depletion_mm;
        cells_of(&mut water.depletion_mm, own).copy_from_slice(&cells.depletion_mm);
        cells_of(&mut water.percolation_mm, own).copy_from_slice(&cells.percolation_mm);
        let lost_and_came = cells.percolation_mm.iter().zip(&cells.irrigation_mm);
        let ends = cells.depletion_mm.iter().zip(lost_and_came);
        for (use_mm, (end_mm, (lost_mm, came_mm))) in
            cells_of(&mut water.use_mm, own).iter_mut().zip(ends)
        {
            *use_mm = came_mm + beside_mm + end_mm - lost_mm;
        }
    }
}

/// The crop's day of a day of the season, if it has one.
fn crop_day(day: &WetDay<'_>, ground: &Ground, crop_days: &[CropDay]) -> Option<usize> {
    let number = usize::try_from(day.day - ground.first_day).ok()?;
    (number < crop_days.len()).then_some(number)
}

impl Room {
    /// For the alternatives of another season: its days are others.
    pub(super) fn start_season(&mut self) {
        self.courses.0.clear();
    }

    /// The first days, without irrigation.
    fn dry(&mut self, crop_days: &[CropDay], until: usize) {
        self.cells.go(self.courses.of(crop_days, 0..until), None);
    }
}

fn cells_of<'a>(grid: &'a mut DepthGrid, cells: &Range<usize>) -> &'a mut [f64] {
    grid.as_slice_mut().map_or(&mut [], |all| &mut all[cells.clone()])
}

fn add(depth_mm: &[f64], to: &mut DepthGrid, cells: &Range<usize>) {
    cells_of(to, cells).iter_mut().zip(depth_mm).for_each(|(to, depth)| *to += depth);
}
