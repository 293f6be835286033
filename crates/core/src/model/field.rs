//! The field: its cells, its bearing, its boundary, and the area inside it.
//!
//! Water and money per area are taken over the area *inside the boundary*, not over the rectangle
//! of the grid. That is why an area is a type of its own, which a field alone can make.

use super::region::{Region, Runs};
use crate::boundary::Boundary;
use crate::grid::{DepthGrid, Grid, Window};
use crate::statistics;
use crate::units::M2_PER_ACRE;

/// The field: a rectangle with its grid and its bearing, or what a boundary leaves of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// Cells over the field.
    pub grid: Grid,
    /// Compass bearing of the +y axis (the direction of travel), degrees clockwise from north;
    /// +x lies 90° clockwise of it.
    pub travel_bearing_deg: f64,
    /// The field's edge, where it is not the whole rectangle; water beyond it is off the field.
    pub boundary: Option<Boundary>,
}

/// Area of a field: that of its cells inside the boundary. Made by [`Field::area`] alone.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Area {
    m2: f64,
}

impl Area {
    /// In square meters.
    pub fn m2(self) -> f64 {
        self.m2
    }

    /// In hectares.
    pub fn ha(self) -> f64 {
        self.m2 / 1e4
    }

    /// In acres.
    pub fn acres(self) -> f64 {
        self.m2 / M2_PER_ACRE
    }
}

impl Field {
    /// Area of the field's cells.
    pub fn area(&self) -> Area {
        let cells = match &self.boundary {
            None => self.grid.cells_along * self.grid.cells_across,
            Some(boundary) => boundary.cells(),
        };
        Area { m2: self.grid.cell_area_m2() * cells as f64 }
    }

    /// Every cell of the field.
    pub fn whole(&self) -> Region {
        self.part(|| self.grid.whole(), Boundary::whole)
    }

    /// The field less a margin of `margin_m` at every edge.
    pub fn interior(&self, margin_m: f64) -> Region {
        self.part(|| self.grid.inset(margin_m), |boundary| boundary.inset(&self.grid, margin_m))
    }

    /// The ground on which alternatives are judged: the interior, or the whole field where a margin
    /// of `margin_m` at every edge leaves none.
    pub fn interior_or_whole(&self, margin_m: f64) -> Region {
        let interior = self.interior(margin_m);
        if interior.cells() > 0 { interior } else { self.whole() }
    }

    /// The first strip in the direction of travel, `depth_m` deep; the last one with `from_end`.
    pub fn edge_strip(&self, depth_m: f64, from_end: bool) -> Region {
        self.part(
            || self.grid.edge_strip(depth_m, from_end),
            |boundary| boundary.edge_strip(&self.grid, depth_m, from_end),
        )
    }

    fn part(
        &self,
        window: impl FnOnce() -> Window,
        cells: impl FnOnce(&Boundary) -> Vec<usize>,
    ) -> Region {
        match &self.boundary {
            None => Region::Window(window()),
            Some(boundary) => Region::Cells(Runs::of(&cells(boundary), self.grid.cells_along)),
        }
    }

    /// Mean depth of each row of cells, the ends of the pipe (`margin_m` at each) left out where
    /// that leaves anything; `NaN` for a row without cells of the field.
    pub fn profile_mm(&self, margin_m: f64, depth_mm: &DepthGrid) -> Vec<f64> {
        let inner = self.grid.inset(margin_m).columns;
        let columns = if inner.is_empty() { 0..self.grid.cells_along } else { inner };
        let mean = |row: usize| {
            let depths = depth_mm.row(row);
            let depths = depths.as_slice().map(|depths| &depths[columns.clone()]);
            let Some(boundary) = &self.boundary else {
                let sum = depths.map_or_else(
                    || columns.clone().map(|column| depth_mm[(row, column)]).sum(),
                    statistics::sum,
                );
                return sum / columns.len() as f64;
            };
            let inside = |column: &usize| boundary.inside()[(row, *column)];
            let cells = columns.clone().filter(inside);
            let (sum, count) = cells.fold((0.0, 0_usize), |(sum, count), column| {
                (sum + depth_mm[(row, column)], count + 1)
            });
            sum / count as f64
        };
        (0..self.grid.cells_across).map(mean).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_the_area_is_that_inside_the_boundary() {
        // 100 × 80 m in cells of 2 m; a boundary that cuts off the half beyond x = 50 m.
        let grid = Grid::over(100.0, 80.0, 2.0);
        let mut field = Field { grid, travel_bearing_deg: 0.0, boundary: None };
        assert_eq!((field.area().m2(), field.area().ha()), (8000.0, 0.8));
        assert!((field.area().acres() - 8000.0 / 4046.8564224).abs() < 1e-12);
        let half = vec![[0.0, 0.0], [50.0, 0.0], [50.0, 80.0], [0.0, 80.0]];
        field.boundary = Boundary::new(vec![half], &field.grid);
        assert_eq!((field.area().m2(), field.area().ha()), (4000.0, 0.4));
    }

    #[test]
    fn closed_a_field_of_two_margins_is_judged_whole() {
        let grid = Grid::over(100.0, 40.0, 2.0);
        let field = Field { grid, travel_bearing_deg: 0.0, boundary: None };
        assert_eq!(field.interior(20.0).cells(), 0);
        assert_eq!(field.interior_or_whole(20.0), field.whole());
        assert_eq!(field.interior_or_whole(18.0), field.interior(18.0));
        assert_eq!(field.interior(18.0).cells(), 32 * 2);
    }
}
