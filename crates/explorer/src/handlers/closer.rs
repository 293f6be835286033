//! A close-up: the water of the whole season around one place, on the run's own cells.

use super::found::{Run, Runs, season_of};
use crate::handlers::display::Display;
use crate::handlers::request::{PathName, Query};
use crate::jobs::short::Short;
use crate::limits::fail::Fail;
use axum::Json;
use axum::extract::State;
use evenfall_core::grid::{Grid, Window};
use evenfall_core::shown::{shrunk, window_inside};
use serde::{Deserialize, Serialize};
use std::ops::Range;
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

/// Most cells a side that are shown; finer ones are averaged.
const SIDE: usize = 120;

/// Which ground.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
#[expect(clippy::struct_field_names, reason = "the unit stands last in every name")]
pub(crate) struct CloserQuery {
    /// Middle along the pipe, m.
    x_m: f64,
    /// Middle across, m.
    y_m: f64,
    /// Side of the square, m.
    span_m: f64,
}

/// The ground around a place; moved inwards where it would reach beyond the field.
#[derive(Debug, Serialize, ToSchema)]
pub(crate) struct CloserLook {
    columns: usize,
    rows: usize,
    /// Side of a shown cell, m.
    cell_m: f64,
    /// Its corner: along the pipe and across, m.
    #[schema(min_items = 2, max_items = 2)]
    corner_m: [f64; 2],
    /// For each alternative its depths at the end of the season, mm, row 0 first; `null` beyond the
    /// field's edge.
    depths_mm: Vec<Vec<Option<f32>>>,
}

/// The season's water around one place, under every alternative.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/closer",
    params(("run" = String, Path, description = "number of the run"), CloserQuery),
    responses((status = 200, body = CloserLook), (status = "4XX", body = crate::limits::fail::Refusal))
)]
pub(crate) async fn closer(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
    Query(asked): Query<CloserQuery>,
) -> Result<Json<CloserLook>, Fail> {
    let run = runs.get(&id)?;
    short.run(move |_| around(&run, &asked).map(Json)).await
}

fn around(run: &Run, asked: &CloserQuery) -> Result<CloserLook, Fail> {
    let found = season_of(run, "A close-up comes")?;
    let grid = found.outcome.grid;
    let is_asked = [asked.x_m, asked.y_m, asked.span_m].iter().all(|value| value.is_finite());
    if !is_asked || asked.span_m <= 0.0 {
        return Err(Fail::impossible("`x_m`, `y_m` and `span_m` are numbers, the last above 0."));
    }
    let columns = cells_around(asked.x_m, asked.span_m, grid.cell_m, grid.cells_along);
    let rows = cells_around(asked.y_m, asked.span_m, grid.cell_m, grid.cells_across);
    let part = Grid { cells_along: columns.len(), cells_across: rows.len(), cell_m: grid.cell_m };
    let factor = part.cells_along.max(part.cells_across).div_ceil(SIDE);
    let display = Display::by(&part, factor);
    let boundary = run.order.resolved.scenario.field.boundary.as_ref();
    let window = Window { rows: rows.clone(), columns: columns.clone() };
    let depths = found.outcome.alternatives.iter().map(|alternative| {
        let all = alternative.season_depth_mm();
        let part = match boundary {
            Some(boundary) => window_inside(all, boundary.inside(), &window),
            None => window.of(all).to_owned(),
        };
        let known = |depth: f32| (!depth.is_nan()).then_some(depth);
        shrunk(&part, display.factor).into_iter().map(known).collect()
    });
    Ok(CloserLook {
        columns: display.columns,
        rows: display.rows,
        cell_m: display.cell_m,
        corner_m: [columns.start as f64 * grid.cell_m, rows.start as f64 * grid.cell_m],
        depths_mm: depths.collect(),
    })
}

/// The cells of a stretch around a place, moved inwards at the ends of the field.
fn cells_around(at_m: f64, span_m: f64, cell_m: f64, cells: usize) -> Range<usize> {
    let wanted = ((span_m / cell_m).round().max(1.0) as usize).min(cells);
    let first = (at_m / cell_m - wanted as f64 / 2.0).round().max(0.0) as usize;
    let first = first.min(cells - wanted);
    first..first + wanted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_a_stretch_stays_on_the_field() {
        assert_eq!(cells_around(10.0, 4.0, 0.5, 100), 16..24);
        assert_eq!(cells_around(0.0, 4.0, 0.5, 100), 0..8);
        assert_eq!(cells_around(1e9, 4.0, 0.5, 100), 92..100);
        assert_eq!(cells_around(10.0, 1e9, 0.5, 100), 0..100);
        assert_eq!(cells_around(10.0, 1e-9, 0.5, 100), 20..21);
    }
}
