//! The parts a season is made of, each by itself.

use crate::Fault;
use crate::inputs::{GRID, PIPE, SETS, Season, WindySprinkler};
use crate::machine::touch;
use crate::report::Section;
use crate::timing::{by_turns, clock};
use evenfall_core::model::Scenario;
use evenfall_core::overlay::lay;
use evenfall_core::sprinkler::footprint::{FootprintSettings, Phase};
use evenfall_core::sprinkler::maker::FootprintMaker;
use std::hint::black_box;
use std::sync::Arc;

const ROUNDS: usize = 9;
/// Hours of wind to draw footprints from.
const HOURS: usize = 120;

/// Measures.
///
/// # Errors
/// If the physics refuses the demo.
pub fn measure(demo: &Scenario) -> Result<Section, Fault> {
    let windy = WindySprinkler::new(demo, HOURS)?;
    let map = Arc::new(windy.landing_map()?);
    let jets = [(windy.sprinkler.jets[0].leg(), &map)];
    let settings = FootprintSettings::default();
    let maker = FootprintMaker::new(&jets, GRID.cell_m, settings)?;
    let season = Season::new(demo, 1)?;
    let sets = season.sets();
    let (mut pass, mut cumulative) = (GRID.zeros(), GRID.zeros());

    let mut landing = || Ok(clock(1, || drop(black_box(windy.landing_map()))));
    let mut cutting =
        || Ok(clock(10, || drop(black_box(FootprintMaker::new(&jets, GRID.cell_m, settings)))));
    let mut hour = || {
        let each = || windy.slices.chunks(1).map(|slice| maker.set_footprint(slice, Phase::CORNER));
        Ok(clock(1, || each().for_each(|made| drop(black_box(made)))) / HOURS as f64)
    };
    let mut still = || Ok(clock(10, || drop(black_box(maker.still_footprint(Phase::CORNER)))));
    let mut one_set = || {
        Ok(clock(10, || {
            black_box(lay(&GRID, PIPE, &sets[..1], &mut pass, &mut cumulative));
        }))
    };
    let (mut pass_2, mut cumulative_2) = (GRID.zeros(), GRID.zeros());
    let mut one_pass = || {
        Ok(clock(10, || {
            black_box(lay(&GRID, PIPE, &sets, &mut pass_2, &mut cumulative_2));
        }))
    };
    let (mut pass_3, mut cumulative_3) = (GRID.zeros(), GRID.zeros());
    let mut traffic = || Ok(clock(10, || touch(&mut pass_3, &mut cumulative_3)));
    let times = by_turns(
        ROUNDS,
        &mut [
            &mut landing,
            &mut cutting,
            &mut hour,
            &mut still,
            &mut one_set,
            &mut one_pass,
            &mut traffic,
        ],
    )?;
    let names = [
        "landing map of a jet".to_owned(),
        "cutting a jet into tubes".to_owned(),
        "footprint of one hour".to_owned(),
        "footprint in still air".to_owned(),
        format!("a pass of one set on {} × {} cells", GRID.cells_across, GRID.cells_along),
        format!("a pass of {SETS} sets on {} × {} cells", GRID.cells_across, GRID.cells_along),
        "writing one such grid and adding to another, nothing else: the floor of a pass".to_owned(),
    ];
    Ok(Section {
        title: "Parts",
        notes: vec!["The demo's sprinkler and winds, 2 ft cells, one thread.".to_owned()],
        heads: &["part", "time"],
        rows: names
            .into_iter()
            .zip(&times)
            .map(|(name, times)| vec![name, times.to_string()])
            .collect(),
    })
}
