//! Hours laid in the nearest wind against hours in their own: how far apart, and how much faster.

use crate::Fault;
use crate::report::Section;
use crate::timing::{clock, short};
use evenfall_core::grid::Grid;
use evenfall_core::model::Scenario;
use evenfall_core::season::{HoursLaid, RunControl};
use evenfall_core::seasons::{SeasonFigures, Seasons};
use evenfall_core::units::M_PER_FT;
use evenfall_core::worth::{self, Agronomy, Economics};

/// Seasons of each way, and on cells of a foot, where each takes four times as long.
pub const SEASONS: [usize; 2] = [50, 12];

/// A figure that is compared: its name, how far apart it may be, its digits, and where it is found.
type Compared = (&'static str, f64, usize, fn(&[SeasonFigures], usize) -> f64);

const COMPARED: [Compared; 5] = [
    ("CU, points", 0.02, 4, |season, at| 100.0 * season[at].cu),
    ("DUlq, points", 0.02, 4, |season, at| 100.0 * season[at].du_lq),
    ("CU less the first's, points", 0.01, 4, |season, at| 100.0 * (season[at].cu - season[0].cu)),
    ("DUlq less the first's, points", 0.01, 4, |season, at| {
        100.0 * (season[at].du_lq - season[0].du_lq)
    }),
    ("yield, fraction", 1e-4, 6, |season, at| season[at].yield_fraction),
];

/// The demo on cells of a foot, which many seasons look at in fewer places.
pub fn on_cells_of_a_foot(demo: &Scenario) -> Scenario {
    let mut scenario = demo.clone();
    let (along_m, across_m) = (demo.field.grid.length_along_m(), demo.field.grid.width_across_m());
    scenario.field.grid = Grid::over(along_m, across_m, M_PER_FT);
    scenario
}

/// Runs the same seasons both ways on all cores.
///
/// # Errors
/// If the seasons cannot be run.
pub fn measure(
    (name, demo): (&str, &Scenario),
    agronomy: &Agronomy,
    economics: &Economics,
    seasons: usize,
) -> Result<Section, Fault> {
    let run = |hours_laid| -> Result<(Seasons, f64), Fault> {
        let economics = Economics { seasons, hours_laid, ..economics.clone() };
        let mut found = None;
        let seconds = clock(1, || {
            found = Some(worth::run(demo, agronomy, &economics, RunControl::default()));
        });
        Ok((found.ok_or("not run")??.seasons, seconds))
    };
    let (nearest, nearest_s) = run(HoursLaid::NearestWind)?;
    let (own, own_s) = run(HoursLaid::OwnWind)?;
    let mut rows = Vec::new();
    for (name, most, digits, of) in COMPARED {
        let alternatives = demo.alternatives.len();
        let apart: Vec<f64> = nearest
            .figures
            .iter()
            .zip(&own.figures)
            .flat_map(|(one, other)| {
                (0..alternatives).map(|at| of(one, at) - of(other, at)).collect::<Vec<_>>()
            })
            .collect();
        let worst = apart.iter().fold(0.0, |worst: f64, apart| worst.max(apart.abs()));
        let mean = apart.iter().sum::<f64>() / apart.len() as f64;
        let met = if worst <= most { "met" } else { "missed" };
        rows.push(vec![
            name.to_owned(),
            format!("{worst:.digits$}"),
            format!("{mean:.digits$}"),
            format!("at most {most}: {met}"),
        ]);
    }
    Ok(Section {
        title: "Hours in the nearest wind against hours in their own",
        notes: vec![format!(
            "`worth::run` of the demo on cells of {name}, {seasons} seasons, three alternatives in each: {} s by the \
             nearest wind, {} s with every hour in its own, on all cores.",
            short(nearest_s),
            short(own_s)
        )],
        heads: &["figure of a season", "farthest apart", "mean", "target"],
        rows,
    })
}
