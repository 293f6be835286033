//! Grids of a run as bytes: depths of passes, deviations, maps, single sets.

use super::bodies;
use super::display::{Display, bytes};
use super::figures::inside;
use super::found::{Found, Run, Runs, found, season_of};
use super::request::{PathName, Query};
use super::season::SeasonFound;
use super::worth::WorthFound;
use crate::jobs::short::{Short, Work};
use crate::limits::fail::Fail;
use axum::extract::State;
use axum::response::Response;
use evenfall_core::boundary::Boundary;
use evenfall_core::grid::DepthGrid;
use evenfall_core::model::Field;
use evenfall_core::season::zoom::{self, SetsControl};
use evenfall_core::shown::{append_singles, deviations, sum, wet_rows};
use serde::Deserialize;
use std::sync::Arc;
use utoipa::{IntoParams, ToSchema};

/// What is mapped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub(crate) enum What {
    /// Depth of one pass, mm.
    Pass,
    /// Depth of all passes up to one, mm.
    Cumulative,
    /// That depth less the mean of the interior, as a fraction of the mean.
    Deviation,
    /// Yield, as a fraction of that without stress, mean of all seasons.
    Yield,
    /// Deep percolation in a season, mm, mean of all seasons.
    Percolation,
    /// How many of the run's own cells that count for the interior lie in each cell: the weights of
    /// the mean from which deviations are told. Where there is no interior the whole field counts.
    Interior,
}

/// Which grid.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub(crate) struct GridQuery {
    /// Alternative, from 0.
    alternative: usize,
    #[param(inline)]
    what: What,
    /// Pass, from 0; the last if it is not given.
    pass: Option<usize>,
}

/// A grid as little-endian 32-bit numbers, row 0 at the edge of the first outlet; NaN where there
/// is no value. Headers `X-Rows`, `X-Columns`.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/grid",
    params(("run" = String, Path, description = "number of the run"), GridQuery),
    responses(
        (status = 200, content_type = "application/octet-stream", body = Vec<u8>),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn grid(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
    Query(asked): Query<GridQuery>,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    short.run(move |_| of_run(&run, &asked)).await
}

fn of_run(run: &Run, asked: &GridQuery) -> Result<Response, Fail> {
    let field = &run.order.resolved.scenario.field;
    match found(run)? {
        Found::Season(found) => of_season(found, field, asked),
        Found::Worth(found) => of_worth(found, field.boundary.as_ref(), asked),
        Found::Search(_) => Err(Fail::not_found("A search has a ranking, no maps.")),
    }
}

fn of_season(found: &SeasonFound, field: &Field, asked: &GridQuery) -> Result<Response, Fail> {
    let missing = || Fail::not_found("The run has no such alternative or pass.");
    let passes = found.passes.get(asked.alternative).ok_or_else(missing)?;
    let pass = asked.pass.unwrap_or_else(|| passes.len().saturating_sub(1));
    let alone = passes.get(pass).ok_or_else(missing)?;
    let values = match asked.what {
        What::Pass => alone.clone(),
        What::Cumulative => sum(&passes[..=pass]),
        What::Deviation => {
            let figures = &found.outcome.alternatives[asked.alternative].passes[pass].cumulative;
            let mean_mm = inside(figures).map_or(f64::NAN, |figures| figures.mean_depth_mm) as f32;
            deviations(&sum(&passes[..=pass]), mean_mm)
        }
        What::Interior => {
            let interior = field.interior(found.outcome.interior_margin_m);
            let counted = if interior.cells() > 0 { interior } else { field.whole() };
            found.display.count(&field.grid, &counted)
        }
        What::Yield | What::Percolation => {
            return Err(Fail::not_found(
                "A season has depths only; yield and percolation come with \
                                        a run of kind `worth`.",
            ));
        }
    };
    let Display { columns, rows, .. } = found.display;
    Ok(bodies::grid(columns, rows, bytes(&values)))
}

fn of_worth(
    found: &WorthFound,
    boundary: Option<&Boundary>,
    asked: &GridQuery,
) -> Result<Response, Fail> {
    let maps = found.worth.seasons.maps.get(asked.alternative);
    let maps = maps.ok_or_else(|| Fail::not_found("The run has no such alternative."))?;
    let map = match asked.what {
        What::Yield => &maps.yield_fraction,
        What::Percolation => &maps.percolation_mm,
        What::Pass | What::Cumulative | What::Deviation | What::Interior => {
            return Err(Fail::not_found(
                "A worth has maps of yield and percolation only; depths come with a run of kind \
                 `season`.",
            ));
        }
    };
    let grid = evenfall_core::grid::Grid {
        cells_along: map.ncols(),
        cells_across: map.nrows(),
        cell_m: 1.0,
    };
    let display = Display::of(&grid, 1);
    // Of a field without a boundary the maps are folded; with one they have its cells.
    let boundary = boundary.filter(|boundary| boundary.inside().dim() == map.dim());
    Ok(bodies::grid(display.columns, display.rows, bytes(&display.shrink(map, boundary))))
}

/// Which pass.
#[derive(Debug, Deserialize, IntoParams)]
#[into_params(parameter_in = Query)]
pub(crate) struct SetsQuery {
    /// Alternative, from 0.
    alternative: usize,
    /// Pass, from 0.
    pass: usize,
}

/// The sets of a pass, in order: for each its first row and number of rows (32-bit integers), then
/// its depths on those rows (32-bit numbers), mm; all little-endian. Other rows got nothing.
#[utoipa::path(
    get,
    path = "/api/runs/{run}/sets",
    params(("run" = String, Path, description = "number of the run"), SetsQuery),
    responses(
        (status = 200, content_type = "application/octet-stream", body = Vec<u8>),
        (status = "4XX", body = crate::limits::fail::Refusal)
    )
)]
pub(crate) async fn sets(
    State(runs): State<Arc<Runs>>,
    State(short): State<Short>,
    PathName(id): PathName,
    Query(asked): Query<SetsQuery>,
) -> Result<Response, Fail> {
    let run = runs.get(&id)?;
    short.run(move |work| sets_of(work, &run, &asked)).await
}

fn sets_of(work: &Work, run: &Run, asked: &SetsQuery) -> Result<Response, Fail> {
    let found = season_of(run, "Sets come")?;
    let pass = found.passes.get(asked.alternative).and_then(|passes| passes.get(asked.pass));
    if pass.is_none() {
        return Err(Fail::not_found("The run has no such alternative or pass."));
    }
    let _share = work.memory_for(&run.order.resolved.scenario)?;
    let display = found.display;
    let mut body = Vec::new();
    let which = (asked.alternative, asked.pass);
    let scenario = &run.order.resolved.scenario;
    let mut seen = |set_mm: &DepthGrid| {
        append_wet(
            &display.shrink(set_mm, scenario.field.boundary.as_ref()),
            display.columns,
            &mut body,
        );
    };
    let go_on = |at| work.go_on(at);
    let control = SetsControl::new(&go_on).with_landing_maps(&work.cache).with_viewer(&mut seen);
    zoom::sets_of_pass(scenario, which, control)?;
    Ok(bodies::grid(display.columns, display.rows, body))
}

/// Appends the rows from the first to the last wet one, with their place.
fn append_wet(values: &[f32], columns: usize, body: &mut Vec<u8>) {
    let rows = wet_rows(values, columns);
    body.extend((rows.start as i32).to_le_bytes());
    body.extend((rows.len() as i32).to_le_bytes());
    append_singles(&values[rows.start * columns..rows.end * columns], body);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_only_wet_rows_are_sent() {
        let mut body = Vec::new();
        append_wet(&[0.0, 0.0, 0.0, 2.0, 0.0, 0.0], 2, &mut body);
        let wanted =
            [1i32.to_le_bytes(), 1i32.to_le_bytes(), 0f32.to_le_bytes(), 2f32.to_le_bytes()];
        assert_eq!(body, wanted.concat());
        body.clear();
        append_wet(&[0.0; 4], 2, &mut body);
        assert_eq!(body, [0; 8]);
    }
}
