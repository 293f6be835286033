//! How cost grows with cells and with passes.

use crate::Fault;
use crate::report::Section;
use crate::timing::{Times, by_turns, clock, short};
use evenfall_core::grid::Grid;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::SeasonLength;
use evenfall_core::season;

const ROUNDS: usize = 3;
/// The demo's own size.
const PASSES: usize = 12;
const CELLS: usize = 660;

/// Measures.
///
/// # Errors
/// If a season cannot be run.
pub fn measure(demo: &Scenario) -> Result<Section, Fault> {
    let by_cells = [CELLS / 2, CELLS, 2 * CELLS].map(|cells| (cells, PASSES));
    let by_passes = [PASSES / 2, PASSES, 2 * PASSES].map(|passes| (CELLS, passes));
    let mut rows = Vec::new();
    for sizes in [by_cells, by_passes] {
        let scenarios = sizes.map(|(cells, passes)| resized(demo, cells, passes));
        let [mut small, mut middle, mut large] =
            scenarios.each_ref().map(|scenario| move || run(scenario));
        let times = by_turns(ROUNDS, &mut [&mut small, &mut middle, &mut large])?;
        let middle = for_each(&times[1], sizes[1]);
        for (&(cells, passes), times) in sizes.iter().zip(&times) {
            let each = for_each(times, (cells, passes));
            rows.push(vec![
                format!("{cells} × {cells}"),
                passes.to_string(),
                times.to_string(),
                format!("{} ns", short(each * 1e9)),
                short(each / middle),
            ]);
        }
    }
    Ok(Section {
        title: "Growth with cells and passes",
        notes: vec![
            "`season::run` of the demo (three alternatives), one thread. The field stays the same \
             and its cells get finer: so the number of sets stays too, and footprints, overlay and \
             figures all have their work in cells. (A larger field at the same cell would add sets \
             and sprinklers.) The last column is 1 where cost grows in proportion; landing maps \
             cost the same at every size, which tells in the smallest. Their share is under `Parts`."
                .to_owned(),
        ],
        heads: &["cells", "passes", "time", "per cell and pass", "against the demo's size"],
        rows,
    })
}

/// The demo with its field in `cells` × `cells` and so many passes.
fn resized(demo: &Scenario, cells: usize, passes: usize) -> Scenario {
    let mut scenario = demo.clone();
    let side_m = demo.field.grid.length_along_m();
    scenario.field.grid =
        Grid { cells_along: cells, cells_across: cells, cell_m: side_m / cells as f64 };
    scenario.calendar.length = SeasonLength::Passes(passes);
    scenario
}

fn run(scenario: &Scenario) -> Result<f64, Fault> {
    let mut outcome = None;
    let seconds = clock(1, || outcome = Some(season::run(scenario, season::RunControl::default())));
    outcome.ok_or("not run")??;
    Ok(seconds)
}

/// Time per cell and pass, s.
fn for_each(times: &Times, (cells, passes): (usize, usize)) -> f64 {
    times.median() / (cells * cells * passes) as f64
}
