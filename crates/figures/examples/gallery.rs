//! Draws the made-up season of the tests into a folder: every picture as SVG and PNG.
//!
//! `cargo run --example gallery -p evenfall-figures -- FOLDER [demo|one|six|sixty|dry|narrow]`

#[path = "../tests/synthetic/mod.rs"]
mod synthetic;

use evenfall_figures::{DrawError, UnitSystem, pictures, png, wheel_picture};
use std::{error::Error, fs, path::Path, time::Instant};
use synthetic::{Recipe, build, wheel_reach};

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
    eprintln!("{} pictures in {:?}", drawn.len(), started.elapsed());
    drawn.push(wheel_picture(&wheel_reach(), units)?);
    let started = Instant::now();
    let rasters: Vec<Result<Vec<u8>, DrawError>> =
        drawn.iter().map(|picture| png(&picture.svg, 1.0)).collect();
    eprintln!("PNGs one after another in {:?}", started.elapsed());
    for (picture, raster) in drawn.iter().zip(rasters) {
        let raster = raster?;
        eprintln!("{:20} SVG {:8} PNG {:8}", picture.name, picture.svg.len(), raster.len());
        fs::write(folder.join(format!("{}.svg", picture.name)), &picture.svg)?;
        fs::write(folder.join(format!("{}.png", picture.name)), raster)?;
    }
    Ok(())
}
