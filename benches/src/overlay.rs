//! The overlay of a season against numpy, which builds one strip a set and adds it.

use crate::Fault;
use crate::inputs::{GRID, PASSES, PIPE, SETS, Season, agree};
use crate::numpy::Worker;
use crate::report::{Section, judged};
use crate::timing::{by_turns, clock, short};
use evenfall_core::model::Scenario;
use evenfall_core::overlay::lay;
use ndarray::{Array1, Array2};
use ndarray_npy::{read_npy, write_npy};
use std::path::Path;

/// Rounds of the comparison.
const ROUNDS: usize = 9;

/// Measures; both sides find their arrays in `folder`.
///
/// # Errors
/// The inputs cannot be made, numpy fails, or the answers differ.
pub fn measure(demo: &Scenario, numpy: &mut Worker, folder: &Path) -> Result<Section, Fault> {
    let season = Season::new(demo, PASSES)?;
    hand_over(&season, numpy, folder)?;
    let sets = season.sets();
    let (mut pass, mut by_pass, mut at_once) = (GRID.zeros(), GRID.zeros(), GRID.zeros());
    let mut pass_by_pass = || {
        Ok(clock(1, || {
            by_pass.fill(0.0);
            for sets in sets.chunks(SETS) {
                lay(&GRID, PIPE, sets, &mut pass, &mut by_pass);
            }
        }))
    };
    let mut scratch = GRID.zeros();
    let mut all_at_once = || {
        Ok(clock(1, || {
            at_once.fill(0.0);
            lay(&GRID, PIPE, &sets, &mut scratch, &mut at_once);
        }))
    };
    let mut strips = || numpy.time("overlay", 1);
    let times = by_turns(ROUNDS, &mut [&mut pass_by_pass, &mut all_at_once, &mut strips])?;
    let theirs = folder.join("season.npy");
    numpy.call(&format!("save season {}", theirs.display()))?;
    let theirs: Array2<f64> = read_npy(theirs)?;
    let row = |name: &str, ours: usize, depth: &Array2<f64>| -> Result<Vec<String>, Fault> {
        let worst = agree(depth.iter(), theirs.iter())?;
        let ratio = times[2].median() / times[ours].median();
        Ok(vec![
            name.to_owned(),
            times[ours].to_string(),
            times[2].to_string(),
            short(ratio),
            judged(ratio, 10.0),
            format!("{worst:.0e}"),
        ])
    };
    Ok(Section {
        title: "Overlay of a season",
        notes: vec![format!(
            "{PASSES} passes × {SETS} sets × {} sprinklers on {} × {} cells, one thread on both sides. \
             The {} footprints are the demo's sprinkler in generated hourly winds, all cut to \
             {} × {} cells (at most {:.1} % of a footprint's water falls outside). Pass by pass keeps \
             the depth of every pass as well as the season's; numpy and *all sets at once* keep the \
             season's only. What a pass costs in \
             memory traffic alone stands under `Parts`.",
            PIPE.sprinklers,
            GRID.cells_across,
            GRID.cells_along,
            sets.len(),
            season.footprints[0].values.nrows(),
            season.footprints[0].values.ncols(),
            100.0 * season.cut_share
        )],
        heads: &[
            "overlay",
            "Evenfall",
            "numpy",
            "times as fast",
            "target",
            "largest relative difference",
        ],
        rows: vec![row("pass by pass", 0, &by_pass)?, row("all sets at once", 1, &at_once)?],
    })
}

/// Writes the season as arrays and has numpy load them.
fn hand_over(season: &Season, numpy: &mut Worker, folder: &Path) -> Result<(), Fault> {
    let first_row = season.footprints[0].first_row;
    let first_rows: Array1<i64> = season.rows.iter().map(|row| (row + first_row) as i64).collect();
    let first_column = PIPE.first_column + season.footprints[0].first_column;
    let layout: Array1<i64> = [
        GRID.cells_across as i64,
        GRID.cells_along as i64,
        first_column as i64,
        PIPE.spacing_cells as i64,
        PIPE.sprinklers as i64,
    ]
    .into_iter()
    .collect();
    let path = |name: &str| folder.join(format!("{name}.npy"));
    write_npy(path("footprints"), &season.stacked())?;
    write_npy(path("first_rows"), &first_rows)?;
    write_npy(path("layout"), &layout)?;
    for name in ["footprints", "first_rows", "layout"] {
        numpy.call(&format!("load {name} {}", path(name).display()))?;
    }
    Ok(())
}
