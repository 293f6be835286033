//! What pressure along the pipe costs in time.

use crate::Fault;
use crate::report::{Section, within};
use crate::timing::{by_turns, clock, short};
use evenfall_core::lateral::hydraulics::{Feed, Ground, Inlet, Pipe, PipeSize, solve};
use evenfall_core::model::Scenario;
use evenfall_core::season;
use evenfall_core::units::M_PER_IN;

const ROUNDS: usize = 9;
/// Target for the ratio.
const MOST: f64 = 1.3;

/// Measures.
///
/// # Errors
/// If a season cannot be run.
pub fn measure(demo: &Scenario) -> Result<Section, Fault> {
    let piped = with_pipe(demo, 3.9)?;
    let (mut plain, mut fed) = (|| run(demo), || run(&piped));
    let times = by_turns(ROUNDS, &mut [&mut plain, &mut fed])?;
    let first = &piped.alternatives[0];
    let feed = first.feed.as_ref().ok_or("no pipe")?;
    let mut line = None;
    let solving = clock(100, || line = Some(solve(&first.lateral, &first.sprinkler, feed)));
    line.ok_or("not solved")??;
    let ratio = times[1].median() / times[0].median();
    Ok(Section {
        title: "Pressure along the pipe",
        notes: vec![
            "`season::run` of the demo (three alternatives, 12 passes), one thread; with 4-in pipe \
             (3.9 in inside, level) the pressures of its 33 sprinklers differ by a tenth, so that \
             footprints are made at three pressures or four."
                .to_owned(),
        ],
        heads: &["what", "time", "against without", "target"],
        rows: vec![
            vec![
                "all at the stated pressure".to_owned(),
                times[0].to_string(),
                "1".to_owned(),
                "none".to_owned(),
            ],
            vec![
                "pressure along the pipe".to_owned(),
                times[1].to_string(),
                short(ratio),
                within(ratio, MOST, "times"),
            ],
            vec![
                "solving one lateral".to_owned(),
                format!("{} µs", short(solving * 1e6)),
                String::new(),
                "none".to_owned(),
            ],
        ],
    })
}

/// The demo with level pipe of so many inches inside, mean pressure as stated.
pub(crate) fn with_pipe(demo: &Scenario, inches: f64) -> Result<Scenario, Fault> {
    let mut scenario = demo.clone();
    for alternative in &mut scenario.alternatives {
        let jet = alternative.sprinkler.jets.first().ok_or("no jet")?;
        let size = PipeSize { inside_diameter_m: inches * M_PER_IN, roughness_c: 130.0 };
        alternative.feed = Some(Feed {
            pipe: Pipe::of(size),
            inlet: Inlet::MeanSprinkler(jet.launch.pressure_kpa),
            inlet_m: 0.0,
            ground: Ground::LEVEL,
            riser_m: 0.0,
            radius_exponent: 0.2,
        });
    }
    Ok(scenario)
}

fn run(scenario: &Scenario) -> Result<f64, Fault> {
    let mut outcome = None;
    let seconds = clock(1, || outcome = Some(season::run(scenario, season::RunControl::default())));
    outcome.ok_or("not run")??;
    Ok(seconds)
}
