//! A test of one sprinkler (or of one lateral) overlapped at any spacing and rotation.
//!
//! depth(x, y) = 1/M Σ over stops m, Σ over sprinklers i, j of f(x − i a − sₘ, y − j b − tₘ), with
//! spacings a along and b across and the M shifts (s, t) of a rotation: the mean of M passes. By
//! superposition, which is exact in the test's wind (every sprinkler is taken to be that sprinkler).
//!
//! Where a, b and the shifts are whole numbers of can spacings, f is asked at the cans only, so the
//! overlap is exact on the test's own cells. Elsewhere it is interpolated linearly between the cans,
//! falls to 0 one can spacing beyond the last, and the result says so. A leg is taken as the same all
//! round. Two stops half a spacing apart are the overlap at half that spacing, an identity.
//!
//! Neglected: any change of the wind from set to set, which evens out more than one test shows.

use super::{CatchProblem, CatchTest, Kind};
use crate::grid::DepthGrid;
use crate::range::within;
use crate::rotation::Shift;
use crate::sprinkler::Leg;
use crate::uniformity::{Uniformity, figures};
use ndarray::Array2;

/// How near to whole a ratio counts as whole, in cells.
const WHOLE: f64 = 1e-6;
/// Share of the fullest can from which a can at the edge says that water fell beyond.
const CUT_OFF_SHARE: f64 = 0.05;
/// Points in a period for a leg.
const LEG_POINTS: usize = 90;
/// Most points of a period each way.
const MOST_POINTS: f64 = 2000.0;

/// Cans on a regular grid; cans without a reading hold the mean of their neighbors.
#[derive(Clone, Debug, PartialEq)]
pub struct CanGrid {
    /// Place of the first column, m.
    pub x_m: f64,
    /// Place of the first row, m.
    pub y_m: f64,
    /// Distance between columns, m.
    pub dx_m: f64,
    /// Distance between rows, m.
    pub dy_m: f64,
    /// Depths, row = y, column = x, mm.
    pub depth_mm: DepthGrid,
    /// Cells that took the mean of their neighbors.
    pub filled: usize,
}

/// What is overlapped.
#[derive(Clone, Debug, PartialEq)]
pub enum TestPattern {
    /// Depths on a grid of cans.
    Grid(CanGrid),
    /// Depth against distance; its "rates" are depths of the whole test, mm.
    Leg(Leg),
}

/// Spacing of sprinklers and outlets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spacing {
    /// Between sprinklers along the pipe, m; `None` for a test of a whole lateral.
    pub along_m: Option<f64>,
    /// Between outlets across the field, m.
    pub across_m: f64,
}

/// One period of the overlapped pattern.
#[derive(Clone, Debug, PartialEq)]
pub struct Overlapped {
    /// Mean depth of a pass, mm.
    pub depth_mm: DepthGrid,
    /// Its figures.
    pub figures: Uniformity,
    /// Whether only cans were added up, nothing interpolated.
    pub exact: bool,
}

impl TestPattern {
    /// The pattern that a test shows.
    ///
    /// # Errors
    /// No regular grid, no water, or a test of several laterals.
    pub fn of(test: &CatchTest) -> Result<Self, CatchProblem> {
        match &test.kind {
            Kind::Leg => Ok(Self::Leg(measured_leg(test)?)),
            Kind::Single { x_m, y_m } => {
                let mut grid = CanGrid::of(test)?;
                grid.x_m -= x_m;
                grid.y_m -= y_m;
                Ok(Self::Grid(grid))
            }
            Kind::Lines(lines) if lines.at_m.len() == 1 => {
                let mut grid = CanGrid::of_places(test, 1)?;
                grid.x_m -= lines.sprinkler_x_m;
                grid.y_m -= lines.at_m.first().copied().unwrap_or(0.0);
                Ok(Self::Grid(grid))
            }
            Kind::Lines(lines) if lines.at_m.is_empty() => {
                Err(CatchProblem::NotNoted("laterals at"))
            }
            Kind::Lines(_) => Err(CatchProblem::WrongKind(
                "cans under several laterals show their sum already; one sprinkler or one lateral \
                 can be overlapped",
            )),
        }
    }

    /// Whether water fell beyond the cans, as far as they tell: some can of an outermost row (or, with
    /// `both_ways`, column) holds over 5 % of the fullest. A leg ends dry by construction.
    pub fn is_cut_off(&self, both_ways: bool) -> bool {
        let Self::Grid(grid) = self else { return false };
        let depth = &grid.depth_mm;
        let (rows, columns) = depth.dim();
        let fullest = depth.iter().copied().fold(0.0, f64::max);
        depth.indexed_iter().any(|((row, column), held)| {
            let on_row = row == 0 || row + 1 == rows;
            let on_column = column == 0 || column + 1 == columns;
            (on_row || both_ways && on_column) && *held > CUT_OFF_SHARE * fullest
        })
    }

    /// Places of the outermost water each way: x from, x to, y from, y to, m.
    fn extent_m(&self) -> [f64; 4] {
        match self {
            Self::Leg(leg) => {
                let r = leg.radius_m();
                [-r, r, -r, r]
            }
            Self::Grid(g) => {
                let (rows, columns) = g.depth_mm.dim();
                let far = |from: f64, step: f64, n: usize| [from - step, from + step * n as f64];
                let (x, y) = (far(g.x_m, g.dx_m, columns), far(g.y_m, g.dy_m, rows));
                [x[0], x[1], y[0], y[1]]
            }
        }
    }

    fn at(&self, x_m: f64, y_m: f64) -> f64 {
        match self {
            Self::Leg(leg) => leg.rate_at((x_m * x_m + y_m * y_m).sqrt()),
            Self::Grid(grid) => grid.at(x_m, y_m),
        }
    }
}

/// The measured leg: mean depth (over the radii) at each distance, from the sprinkler out; where the
/// last can is wet it ends at 0 one can spacing beyond.
///
/// # Errors
/// Fewer than three distances, or no water.
fn measured_leg(test: &CatchTest) -> Result<Leg, CatchProblem> {
    let mut at: Vec<(f64, f64)> = test
        .readings()
        .iter()
        .filter_map(|(x, y, depth)| Some((test.from_sprinkler_m(*x, *y)?, *depth)))
        .collect();
    at.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut distance_m, mut depth_mm): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    let mut count = 0.0;
    for (r, depth) in at {
        match (distance_m.last(), depth_mm.last_mut()) {
            (Some(last), Some(mean)) if r - last < 1e-6 => {
                count += 1.0;
                *mean += (depth - *mean) / count;
            }
            _ => {
                count = 1.0;
                distance_m.push(r);
                depth_mm.push(depth);
            }
        }
    }
    let cans = distance_m.len();
    if cans < 3 {
        return Err(CatchProblem::TooFewCans { cans, least: 3, what: "a leg (distances)" });
    }
    if !depth_mm.iter().any(|d| *d > 0.0) {
        return Err(CatchProblem::Dry);
    }
    if depth_mm[cans - 1] > 0.0 {
        let step_m = distance_m[cans - 1] - distance_m[cans - 2];
        distance_m.push(distance_m[cans - 1] + step_m);
        depth_mm.push(0.0);
    }
    Ok(Leg::new(distance_m, depth_mm)?)
}

/// Overlaps `pattern` with itself, once a stop of the rotation; `shifts` in m, at least one.
///
/// # Errors
/// Spacings outside 1–200 m, no shift, over 2000 points a period, no water, a lateral's spacing along
/// the pipe missing for one sprinkler.
pub fn overlap(
    pattern: &TestPattern,
    spacing: Spacing,
    shifts: &[Shift],
) -> Result<Overlapped, CatchProblem> {
    within("spacing across, m", spacing.across_m, 1.0, 200.0)?;
    within("spacing along, m", spacing.along_m.unwrap_or(1.0), 1.0, 200.0)?;
    within("number of stops", shifts.len() as f64, 1.0, 1000.0)?;
    let (x_axis, y_axis, exact) = axes(pattern, spacing, shifts)?;
    let [x_from, x_to, y_from, y_to] = pattern.extent_m();
    let depth_mm = Array2::from_shape_fn((y_axis.len(), x_axis.len()), |(row, column)| {
        let mut sum = 0.0;
        for shift in shifts {
            let (x, y) = (x_axis[column] - shift.along_m, y_axis[row] - shift.across_m);
            for y in images(y, Some(spacing.across_m), (y_from, y_to)) {
                for x in images(x, spacing.along_m, (x_from, x_to)) {
                    sum += pattern.at(x, y);
                }
            }
        }
        sum / shifts.len() as f64
    });
    let figures = figures(&depth_mm.view()).ok_or(CatchProblem::Dry)?;
    Ok(Overlapped { depth_mm, figures, exact })
}

/// Places x − k · period inside the extent; only x itself where there is no period.
fn images(x: f64, period: Option<f64>, (from, to): (f64, f64)) -> impl Iterator<Item = f64> {
    let (first, last) = match period {
        Some(period) => (((x - to) / period).ceil() as i64, ((x - from) / period).floor() as i64),
        None => (0, 0),
    };
    (first..=last).map(move |k| x - k as f64 * period.unwrap_or(0.0))
}

/// Points of one period along and across, and whether all of them fall on cans.
fn axes(
    pattern: &TestPattern,
    spacing: Spacing,
    shifts: &[Shift],
) -> Result<(Vec<f64>, Vec<f64>, bool), CatchProblem> {
    let TestPattern::Grid(grid) = pattern else {
        let middle = |length: f64| {
            (0..LEG_POINTS).map(|i| (i as f64 + 0.5) * length / LEG_POINTS as f64).collect()
        };
        let along_m = spacing.along_m.ok_or(CatchProblem::NotNoted("spacing along the pipe"))?;
        return Ok((middle(along_m), middle(spacing.across_m), false));
    };
    let is_whole = |ratio: f64| (ratio - ratio.round()).abs() < WHOLE;
    let along_whole = spacing.along_m.is_none_or(|a| is_whole(a / grid.dx_m))
        && shifts.iter().all(|shift| is_whole(shift.along_m / grid.dx_m));
    let across_whole = is_whole(spacing.across_m / grid.dy_m)
        && shifts.iter().all(|shift| is_whole(shift.across_m / grid.dy_m));
    let axis = |start: f64, step: f64, period: f64, whole: bool| {
        // Between the cans twice as many points as cans: linear pieces hold nothing finer.
        let n = if whole { (period / step).round() } else { (2.0 * period / step).ceil() };
        within("points of a period", n, 1.0, MOST_POINTS)?;
        Ok::<_, CatchProblem>((0..n as usize).map(|i| start + i as f64 * period / n).collect())
    };
    let columns = grid.depth_mm.ncols();
    let x = match spacing.along_m {
        Some(along_m) => axis(grid.x_m, grid.dx_m, along_m, along_whole)?,
        None => (0..columns).map(|i| grid.x_m + i as f64 * grid.dx_m).collect(),
    };
    let y = axis(grid.y_m, grid.dy_m, spacing.across_m, across_whole)?;
    Ok((x, y, along_whole && across_whole))
}

impl CanGrid {
    /// The regular grid that the cans of a test stand on.
    ///
    /// # Errors
    /// Uneven steps, fewer than 2 × 2 cans, over a quarter of the places without a reading, no water.
    pub fn of(test: &CatchTest) -> Result<Self, CatchProblem> {
        Self::of_places(test, 2)
    }

    /// The same with at least `columns` places along the pipe: under a lateral one row of cans across
    /// it will do.
    fn of_places(test: &CatchTest, columns: usize) -> Result<Self, CatchProblem> {
        let (xs, dx_m) = steps(test.cans.iter().map(|can| can.x_m), "along the pipe (x)", columns)?;
        let (ys, dy_m) = steps(test.cans.iter().map(|can| can.y_m), "across it (y)", 2)?;
        let mut held: Array2<Option<f64>> = Array2::from_elem((ys.1, xs.1), None);
        for can in &test.cans {
            let cell = |at: f64, from: f64, step: f64| ((at - from) / step).round() as usize;
            held[(cell(can.y_m, ys.0, dy_m), cell(can.x_m, xs.0, dx_m))] = can.depth_mm;
        }
        let missing = held.iter().filter(|d| d.is_none()).count();
        if 4 * missing > held.len() {
            let places = held.len();
            return Err(CatchProblem::NoGrid(format!("{missing} of {places} places are empty")));
        }
        let depth_mm = Array2::from_shape_fn(held.dim(), |at| {
            held[at].unwrap_or_else(|| mean_around(&held, at))
        });
        if !(depth_mm.sum() > 0.0) {
            return Err(CatchProblem::Dry);
        }
        Ok(Self { x_m: xs.0, y_m: ys.0, dx_m, dy_m, depth_mm, filled: missing })
    }

    /// Depth at a place, linear between the cans, 0 from one spacing beyond the last, mm.
    fn at(&self, x_m: f64, y_m: f64) -> f64 {
        let (column, across) = split((x_m - self.x_m) / self.dx_m);
        let (row, up) = split((y_m - self.y_m) / self.dy_m);
        let cell = |row: i64, column: i64| {
            let at = (usize::try_from(row).ok(), usize::try_from(column).ok());
            let (Some(row), Some(column)) = at else { return 0.0 };
            self.depth_mm.get((row, column)).copied().unwrap_or(0.0)
        };
        let line = |row: i64| {
            let near = cell(row, column) * (1.0 - across);
            if across > 0.0 { near + cell(row, column + 1) * across } else { near }
        };
        if up > 0.0 { line(row) * (1.0 - up) + line(row + 1) * up } else { line(row) }
    }
}

/// Whole part and rest of a place in cells; within a millionth of a can it is that can.
fn split(place: f64) -> (i64, f64) {
    let whole = place.round();
    if (place - whole).abs() < WHOLE {
        return (whole as i64, 0.0);
    }
    (place.floor() as i64, place - place.floor())
}

/// First place, number of places and step of evenly spaced places.
fn steps(
    places: impl Iterator<Item = f64>,
    which: &str,
    least: usize,
) -> Result<((f64, usize), f64), CatchProblem> {
    let mut sorted: Vec<f64> = places.collect();
    sorted.sort_unstable_by(f64::total_cmp);
    sorted.dedup_by(|a, b| (*a - *b).abs() < 1e-4);
    match sorted.as_slice() {
        [one] if least == 1 => return Ok(((*one, 1), 1.0)),
        [] | [_] => return Err(CatchProblem::NoGrid(format!("only one place {which}"))),
        _ => {}
    }
    let span = sorted[sorted.len() - 1] - sorted[0];
    let step = sorted.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min);
    let n = (span / step).round();
    let step = span / n;
    let off = |at: &f64| {
        let cells = (at - sorted[0]) / step;
        (cells - cells.round()).abs() > 0.02
    };
    if n > MOST_POINTS || sorted.iter().any(off) {
        return Err(CatchProblem::NoGrid(format!("the steps {which} are not even")));
    }
    Ok(((sorted[0], n as usize + 1), step))
}

/// Mean of the nearest places that have a reading, in growing squares.
fn mean_around(held: &Array2<Option<f64>>, (row, column): (usize, usize)) -> f64 {
    for reach in 1..held.nrows().max(held.ncols()) {
        let rows = row.saturating_sub(reach)..=(row + reach).min(held.nrows() - 1);
        let columns = column.saturating_sub(reach)..=(column + reach).min(held.ncols() - 1);
        let around = rows.flat_map(|r| columns.clone().map(move |c| (r, c)));
        let near: Vec<f64> = around.filter_map(|at| held[at]).collect();
        if !near.is_empty() {
            return near.iter().sum::<f64>() / near.len() as f64;
        }
    }
    0.0
}

#[cfg(test)]
#[path = "overlap_tests.rs"]
mod tests;
