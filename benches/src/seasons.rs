//! How the cost of many seasons, with soil and crop, grows with their number.

use crate::Fault;
use crate::report::{Section, within};
use crate::timing::{clock, short};
use evenfall_core::model::Scenario;
use evenfall_core::season::RunControl;
use evenfall_core::worth::{self, Agronomy, Economics};

/// Seasons of the three sizes; the last is the one with a target.
const SIZES: [usize; 3] = [8, 40, 200];
/// Target for the last size on 2 cores, s.
const MOST_S: f64 = 90.0;

/// Measures on all cores, each size once: the largest takes the better part of a minute.
///
/// # Errors
/// If the seasons cannot be run.
pub fn measure(
    demo: &Scenario,
    agronomy: &Agronomy,
    economics: &Economics,
) -> Result<Section, Fault> {
    let mut rows = Vec::new();
    for seasons in SIZES {
        let economics = Economics { seasons, ..economics.clone() };
        let mut found = None;
        let seconds = clock(1, || {
            found = Some(worth::run(demo, agronomy, &economics, RunControl::default()));
        });
        found.ok_or("not run")??;
        let target =
            if seasons == SIZES[2] { within(seconds, MOST_S, "s") } else { "none".to_owned() };
        rows.push(vec![
            seasons.to_string(),
            format!("{} s", short(seconds)),
            format!("{} ms", short(1000.0 * seconds / seasons as f64)),
            target,
        ]);
    }
    Ok(Section {
        title: "Many seasons, soil and crop",
        notes: vec![
            "`worth::run` of the demo (three alternatives, 12 passes, 660 × 660 cells, a root zone \
             in every cell every day) on all cores, without the report. Landing maps are made once, \
             so few seasons cost more each."
                .to_owned(),
        ],
        heads: &["seasons", "time", "per season", "target"],
        rows,
    })
}
