//! The treatments of the field's edges tried against each other: one rotation, the same weather.
//!
//! Every option for the edges (an [`EdgeTreatment`], or a first outlet at another place) is run as
//! an alternative of its own, over one season or several, and judged twice:
//! - at the edge: mean of the driest quarter of the first and the last strip (one outlet spacing
//!   deep, the ends of the pipe left out) over the mean of the interior;
//! - overall: `DUlq` of the whole field.
//!
//! The option with the highest mean is favored. Options within a point of it are a tie, and of these
//! the one with the fewest sets is favored. The point is our judgment. Costs are counted from the
//! schedules: sets and gross water as they were really laid.
//!
//! Neglected: that an extra set moves the clock of what follows (it is simulated, and shows in the
//! end of the season, but is not valued), and what moved outlets cost.

use crate::lateral::{EdgeTreatment, Outlets, edges::extra_shift_m};
use crate::model::{Alternative, Region, Runs, Scenario};
use crate::season::{self, Outcome, RunControl, SeasonError};
use crate::trial::{self, Tried};

/// Means closer than this (fraction) are a tie: one point.
pub const TIE: f64 = 0.01;

/// An option for the field's edges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EdgeOption {
    /// A treatment of the shifted passes; outlets stay.
    Treated(EdgeTreatment),
    /// Every stop shifted, with the first outlet here, m from the field's edge.
    FirstOutletAt(f64),
}

/// What one option did in one season; fractions, depths over the whole field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeFigures {
    /// Driest quarter of both edge strips over the interior's mean.
    pub edge_low_quarter: f64,
    /// Mean of the first strip over the interior's mean.
    pub first_strip: f64,
    /// Mean of the last strip over the interior's mean.
    pub last_strip: f64,
    /// `DUlq` of the whole field.
    pub whole_du_lq: f64,
    /// CU of the whole field.
    pub whole_cu: f64,
    /// `DUlq` of the interior.
    pub interior_du_lq: f64,
    /// Left the nozzles, mm over the field.
    pub gross_mm: f64,
    /// Fell off the field, mm over the field.
    pub off_field_mm: f64,
    /// Sets laid.
    pub sets: usize,
    /// End of the last set, h from midnight of the first day.
    pub end_h: f64,
}

/// Options tried against each other; the first is "every stop shifted".
pub type Trial = Tried<EdgeOption, EdgeFigures>;

/// Which option is favored by one figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Favor {
    /// Place of the favored option.
    pub best: usize,
    /// Places of all options within a point of the highest mean, the best among them.
    pub tied: Vec<usize>,
    /// Mean of every option.
    pub means: Vec<f64>,
}

impl Trial {
    /// The favored option by a figure of which more is better.
    pub fn favored(&self, of: impl Fn(&EdgeFigures) -> f64) -> Favor {
        let means: Vec<f64> =
            (0..self.options.len()).map(|option| self.mean(option, &of)).collect();
        let highest = means.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let tied: Vec<usize> =
            (0..means.len()).filter(|option| means[*option] >= highest - TIE).collect();
        let sets = |option: usize| self.figures[0][option].sets;
        // Moving outlets is dearer than any set: such an option wins a tie only if it stands alone.
        let dear = |option: usize| matches!(self.options[option], EdgeOption::FirstOutletAt(_));
        let best = tied.iter().copied().min_by_key(|option| (dear(*option), sets(*option)));
        Favor { best: best.unwrap_or(0), tied, means }
    }
}

/// The options worth trying for an alternative, with first outlets at `first_m` beside them. A
/// rotation that stands off to one side on the whole also gets the first outlet that centers it.
pub fn options(alternative: &Alternative, first_m: &[f64]) -> Vec<EdgeOption> {
    let shifts = alternative.rotation.shifts();
    let mut options =
        vec![EdgeOption::Treated(EdgeTreatment::Shift), EdgeOption::Treated(EdgeTreatment::Hold)];
    let opens = |across_m: f64| {
        extra_shift_m(&alternative.lateral.machine, &alternative.outlets, across_m).is_some()
    };
    if shifts.iter().any(|shift| opens(shift.across_m)) {
        options.push(EdgeOption::Treated(EdgeTreatment::ExtraSet));
    }
    let mean_m = shifts.iter().map(|shift| shift.across_m).sum::<f64>() / shifts.len() as f64;
    let centerd_m = alternative.outlets.first_m - mean_m;
    if mean_m.abs() > 1e-6 && centerd_m >= 0.0 {
        options.push(EdgeOption::FirstOutletAt(centerd_m));
    }
    for first_m in first_m {
        let known = options.iter().any(
            |option| matches!(option, EdgeOption::FirstOutletAt(place_m) if (place_m - first_m).abs() < 1e-6),
        );
        if !known {
            options.push(EdgeOption::FirstOutletAt(*first_m));
        }
    }
    options
}

/// The alternative with its edges treated as the option says.
fn treated(
    scenario: &Scenario,
    alternative: &Alternative,
    option: EdgeOption,
    name: String,
) -> Alternative {
    let mut treated = Alternative { name, ..alternative.clone() };
    match option {
        EdgeOption::Treated(edges) => treated.edges = edges,
        EdgeOption::FirstOutletAt(first_m) => {
            let spacing_m = treated.outlets.spacing_m;
            let room_m = scenario.field.grid.width_across_m() - first_m + 1e-6;
            let fit = (room_m / spacing_m).floor().max(0.0) as usize + 1;
            let count = treated.outlets.count.min(fit);
            treated.edges = EdgeTreatment::Shift;
            treated.outlets = Outlets { first_m, count, ..treated.outlets };
        }
    }
    treated
}

/// Tries `options` for alternative `index` of `scenario`, each with its name, over so many `seasons`.
///
/// # Errors
/// If a season cannot be simulated. An option without a schedule is no error but refused.
pub fn run(
    scenario: &Scenario,
    index: usize,
    options: &[(EdgeOption, String)],
    seasons: usize,
    control: &RunControl<'_>,
) -> Result<Trial, SeasonError> {
    let asked = scenario.alternatives.get(index).ok_or(SeasonError::NoAlternatives)?;
    let variants = options
        .iter()
        .map(|(option, name)| (*option, treated(scenario, asked, *option, name.clone())));
    trial::run(scenario, variants.collect(), seasons, control, |scenario, outcome| {
        Edge::of(scenario).figures(scenario, outcome)
    })
}

/// The ground on which edges are judged.
struct Edge {
    strips: Region,
}

impl Edge {
    fn of(scenario: &Scenario) -> Self {
        let margins = scenario.alternatives.iter().map(|a| a.outlets.spacing_m);
        let margin_m = margins.fold(0.0, f64::max);
        let (field, columns) = (&scenario.field, scenario.field.grid.cells_along);
        let inner = field.grid.inset(margin_m).columns;
        let inner = if inner.is_empty() { 0..columns } else { inner };
        let listed = |region: Region| -> Vec<usize> {
            match region {
                Region::Cells(runs) => runs.cells().collect(),
                Region::Window(window) => window
                    .rows
                    .flat_map(|row| window.columns.clone().map(move |c| row * columns + c))
                    .collect(),
            }
        };
        let ends = [false, true].into_iter();
        let mut cells: Vec<usize> = ends
            .flat_map(|from_end| listed(field.edge_strip(margin_m, from_end)))
            .filter(|at| inner.contains(&(at % columns)))
            .collect();
        // The strips of a very narrow field overlap.
        cells.sort_unstable();
        cells.dedup();
        Self { strips: Region::Cells(Runs::of(&cells, columns)) }
    }

    fn figures(&self, scenario: &Scenario, outcome: &Outcome) -> Vec<EdgeFigures> {
        let per_field = 1000.0 / scenario.field.area().m2();
        let one = |found: &season::AlternativeOutcome| {
            let regions = found.season_figures();
            let nothing = f64::NAN;
            let inside = regions.interior.or(regions.whole);
            let mean_mm = inside.map_or(nothing, |f| f.mean_depth_mm);
            let strips = self.strips.figures(found.season_depth_mm());
            let low = strips.map_or(0.0, |f| f.du_lq * f.mean_depth_mm);
            let share = |f: Option<crate::uniformity::Uniformity>| {
                f.map_or(0.0, |f| f.mean_depth_mm) / mean_mm
            };
            EdgeFigures {
                edge_low_quarter: low / mean_mm,
                first_strip: share(regions.first_strip),
                last_strip: share(regions.last_strip),
                whole_du_lq: regions.whole.map_or(nothing, |f| f.du_lq),
                whole_cu: regions.whole.map_or(nothing, |f| f.cu),
                interior_du_lq: inside.map_or(nothing, |f| f.du_lq),
                gross_mm: found.water.gross_m3 * per_field,
                off_field_mm: found.water.off_field_m3 * per_field,
                sets: found.plan.passes.iter().map(|pass| pass.sets.len()).sum(),
                end_h: found.plan.end_h(),
            }
        };
        outcome.alternatives.iter().map(one).collect()
    }
}

#[cfg(test)]
#[path = "edge_trial_tests.rs"]
mod tests;
