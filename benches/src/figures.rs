//! The figures of a grid against numpy's mean and partition.

use crate::Fault;
use crate::inputs::agree;
use crate::numpy::Worker;
use crate::report::Section;
use crate::timing::{by_turns, clock, short};
use evenfall_core::model::Scenario;
use evenfall_core::season;
use evenfall_core::uniformity::{Uniformity, figures};
use ndarray::Array1;
use ndarray_npy::{read_npy, write_npy};
use std::hint::black_box;
use std::path::Path;

/// Rounds of the comparison, and runs that each timing is the mean of.
const ROUNDS: usize = 15;
const RUNS: usize = 20;

/// Measures; both sides find their arrays in `folder`.
///
/// # Errors
/// The demo cannot be run, numpy fails, or the answers differ.
pub fn measure(demo: &Scenario, numpy: &mut Worker, folder: &Path) -> Result<Section, Fault> {
    let outcome = season::run(demo, season::RunControl::default())?;
    let depth_mm = outcome.alternatives[0].season_depth_mm();
    let path = folder.join("depth.npy");
    write_npy(&path, depth_mm)?;
    numpy.call(&format!("load depth {}", path.display()))?;
    let mut found = None;
    let mut rows = Vec::new();
    for (work, name) in [("quarter", "mean and partition"), ("all_figures", "the same figures")] {
        let mut ours = || Ok(clock(RUNS, || found = figures(&black_box(depth_mm).view())));
        let mut theirs = || numpy.time(work, RUNS);
        let times = by_turns(ROUNDS, &mut [&mut ours, &mut theirs])?;
        let answer = folder.join("figures.npy");
        numpy.call(&format!("save figures {}", answer.display()))?;
        let answer: Array1<f64> = read_npy(answer)?;
        let ours = in_order(found.as_ref().ok_or("the demo's grid has no figures")?);
        let worst = agree(ours[..answer.len()].iter(), answer.iter())?;
        let ratio = times[1].median() / times[0].median();
        rows.push(vec![
            name.to_owned(),
            times[0].to_string(),
            times[1].to_string(),
            short(ratio),
            format!("{worst:.0e}"),
        ]);
    }
    Ok(Section {
        title: "Figures of a grid",
        notes: vec![format!(
            "The demo's season, fixed stops, {} cells, one thread on both sides. Evenfall always \
             computes all its figures (CU, DUlq, CV, range, shares); numpy first only the mean and, \
             by partition, the low quarter, then everything.",
            depth_mm.len()
        )],
        heads: &[
            "numpy computes",
            "Evenfall",
            "numpy",
            "times as fast",
            "largest relative difference",
        ],
        rows,
    })
}

/// The figures in the baseline's order.
fn in_order(figures: &Uniformity) -> [f64; 8] {
    [
        figures.mean_depth_mm,
        figures.du_lq,
        figures.cu,
        figures.cv,
        figures.lowest_depth_mm,
        figures.highest_depth_mm,
        figures.share_under_75,
        figures.share_over_125,
    ]
}
