//! How fast candidates of a search are tried: composed of passes, and one by one in full.

use crate::Fault;
use crate::report::Section;
use crate::timing::{clock, short};
use evenfall_core::model::Scenario;
use evenfall_core::search::{self, Aim, SearchOptions};
use evenfall_core::season::RunControl;
use evenfall_core::worth::{Agronomy, Economics};

/// Seasons without a race.
const SEASONS: usize = 4;

/// Measures on all cores, each once.
///
/// # Errors
/// If a search cannot be run.
pub fn measure(
    demo: &Scenario,
    usual: &SearchOptions,
    agronomy: &Agronomy,
    economics: &Economics,
) -> Result<Section, Fault> {
    let mut rows = Vec::new();
    for (name, aim) in
        [("DUlq, passes composed", Aim::DuLqInterior), ("worst tenth", Aim::WorstTenth)]
    {
        let options = SearchOptions {
            aim,
            seasons: SEASONS,
            first_seasons: SEASONS,
            weigh_best: 0,
            ..usual.clone()
        };
        let mut found = None;
        let seconds = clock(1, || {
            found = Some(search::run(
                demo,
                &options,
                Some((agronomy, economics)),
                RunControl::default(),
            ));
        });
        let candidates = found.ok_or("not run")??.entries.len();
        let all = (candidates * SEASONS) as f64;
        rows.push(vec![
            name.to_owned(),
            candidates.to_string(),
            format!("{} s", short(seconds)),
            short(60.0 * all / seconds),
        ]);
    }
    Ok(Section {
        title: "Search",
        notes: vec![format!(
            "`search::run` of the demo without a race, {SEASONS} seasons of 12 passes on 660 × 660 \
             cells, all cores. The second aim takes every candidate through soil and crop."
        )],
        heads: &["aim", "candidates", "time", "candidate-seasons a minute"],
        rows,
    })
}
