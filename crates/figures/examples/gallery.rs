//! Draws the made-up season of the tests into a folder: every picture as SVG and PNG.
//!
//! `cargo run --example gallery -p evenfall-figures -- FOLDER [demo|one|six|sixty|dry|narrow|own|unpriced|partial]
//! What it is worth comes from real seasons of the scenario: build with `--release`.`

#[path = "../tests/synthetic/mod.rs"]
mod synthetic;

use evenfall_figures::{
    Report, grid_npy, passes_csv, pictures, report_page, season_json, stops_table, wheel_picture,
    worth_json, worth_pictures, worth_table,
};
use evenfall_view::{Season, UnitSystem};
use rayon::prelude::*;
use std::{error::Error, fs, path::Path, time::Instant};
use synthetic::{Recipe, build, notes, wheel_reach, worth};

fn recipe(kind: &str) -> Recipe {
    let mut recipe = Recipe::demo();
    match kind {
        "one" => {
            recipe.alternatives.truncate(1);
            recipe.passes = 1;
            recipe.bearing_deg = 0.0;
        }
        "six" => {
            let long = "A rotation with a name far longer than anyone would wish to print beside";
            for (index, shifts) in [[20.0, -20.0], [10.0, -10.0], [0.0, 30.0]].iter().enumerate() {
                recipe.alternatives.push((format!("{long} number {index}"), shifts.to_vec()));
            }
        }
        "sixty" => recipe.passes = 60,
        "dry" => recipe.dry = true,
        "narrow" => recipe.field_ft = (280.0, 1320.0),
        _ => {}
    }
    recipe
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let folder = arguments.next().unwrap_or_else(|| "gallery".to_owned());
    let kind = arguments.next().unwrap_or_else(|| "demo".to_owned());
    let folder = Path::new(&folder);
    fs::create_dir_all(folder)?;
    let (scenario, outcome) = build(&recipe(&kind));
    let units = if kind == "sixty" { UnitSystem::Si } else { UnitSystem::Us };
    let started = Instant::now();
    let mut drawn = pictures(&scenario, &outcome, units)?;
    eprintln!("{:4} ms  {} pictures", started.elapsed().as_millis(), drawn.len());
    let notes = notes::notes(&scenario);
    let economics = worth::prices_of_kind(&kind, scenario.alternatives.len());
    let worth = worth::real(&scenario, &economics, kind == "partial");
    eprintln!("{:4} ms  {} seasons", started.elapsed().as_millis(), worth.seasons.finished());
    let told = worth_pictures(&scenario, &worth, &economics, units)?;
    eprintln!("{:4} ms  {} pictures of worth", started.elapsed().as_millis(), told.len());
    let asked = notes::report((&scenario, &outcome), &notes, Some((&worth, &economics)));
    let html = report_page(&Report { units, ..asked })?;
    fs::write(folder.join("worth.json"), worth_json(&scenario, &worth, &economics)?)?;
    fs::write(folder.join("worth.txt"), worth_table(&scenario, &worth, &economics, units)?)?;
    drawn.extend(told.iter().cloned());
    eprintln!("{:4} ms  page of {} bytes", started.elapsed().as_millis(), html.len());
    drawn.push(wheel_picture(&wheel_reach(), units)?);
    let rasters: Vec<_> = drawn.par_iter().map(|picture| picture.png(1.5)).collect();
    eprintln!("{:4} ms  PNGs", started.elapsed().as_millis());
    let season = Season::new(&scenario, &outcome, &notes, UnitSystem::Si);
    let summary = season_json(&season)?;
    let csv = passes_csv(&season)?;
    let grid = grid_npy(outcome.alternatives[0].season_depth_mm(), None)?;
    eprintln!("{:4} ms  summary, CSV, a grid", started.elapsed().as_millis());
    for (picture, raster) in drawn.iter().zip(rasters) {
        let raster = raster?;
        eprintln!("{:20} SVG {:8} PNG {:8}", picture.name, picture.svg().len(), raster.len());
        fs::write(folder.join(format!("{}.svg", picture.name)), picture.svg())?;
        fs::write(folder.join(format!("{}.png", picture.name)), raster)?;
    }
    fs::write(folder.join("report.html"), html)?;
    fs::write(folder.join("summary.json"), summary)?;
    fs::write(folder.join("passes.csv"), csv)?;
    fs::write(folder.join("grid.npy"), grid)?;
    fs::write(folder.join("stops.txt"), stops_table(&wheel_reach(), units))?;
    Ok(())
}
