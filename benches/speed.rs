//! Runs all measurements: `cargo bench -p evenfall-benches`, `-- --keep` to write `RESULTS.md`;
//! names of sections (`-- overlay figures`) run only those and keep nothing.
#![allow(clippy::print_stdout)] // printing tables is what this is for

use evenfall_benches::numpy::{HERE, Python, Worker};
use evenfall_benches::report::{Section, machine};
use evenfall_benches::{
    Fault, demo, explorer, figures, floors, growth, inputs, nearest_wind, overlay, page, parts,
    pressure, search, seasons, study,
};
use std::path::Path;
use std::process::ExitCode;
use std::{env, fs};

fn main() -> ExitCode {
    // `cargo test --all-targets` starts this too; timings have no place among tests.
    if !env::args().any(|word| word == "--bench") {
        println!("measured by `cargo bench -p evenfall-benches` only");
        return ExitCode::SUCCESS;
    }
    let only: Vec<String> = env::args().skip(1).filter(|word| !word.starts_with('-')).collect();
    let keep = only.is_empty() && env::args().any(|word| word == "--keep");
    match measure(&only, keep) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("cannot measure: {fault}");
            ExitCode::FAILURE
        }
    }
}

fn measure(only: &[String], keep: bool) -> Result<(), Fault> {
    let temporary = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let target = temporary.parent().ok_or("no folder to build in")?;
    let folder = temporary.join("bench-arrays");
    fs::create_dir_all(&folder)?;
    let python = Python::set_up(temporary)?;
    let mut numpy = Worker::start(&python)?;
    let title = format!(
        "# Speed\n\nMade by `cargo bench -p evenfall-benches -- --keep`. Times are medians (fastest \
         to slowest); contestants ran by turns.\n\n{}",
        machine(&numpy.call("versions")?)?
    );
    println!("{title}");
    let mut text = title;
    let mut tell = |section: Section| {
        let section = section.markdown();
        println!("{section}");
        text = format!("{text}\n{section}");
    };
    let resolved = inputs::demo()?;
    let scenario = resolved.scenario;
    let one_thread = rayon::ThreadPoolBuilder::new().num_threads(1).build()?;
    // A fault may not cross threads: it comes out as words.
    let alone = |work: &mut (dyn FnMut() -> Result<Section, Fault> + Send)| {
        one_thread.install(|| work().map_err(|fault| fault.to_string()))
    };
    let wanted = |name: &str| only.is_empty() || only.iter().any(|only| only == name);
    if wanted("overlay") {
        tell(alone(&mut || overlay::measure(&scenario, &mut numpy, &folder))?);
    }
    if wanted("figures") {
        tell(alone(&mut || figures::measure(&scenario, &mut numpy, &folder))?);
    }
    drop(numpy);
    if wanted("demo") {
        tell(demo::measure(&python, target, &folder)?);
    }
    if wanted("explorer") {
        tell(explorer::measure(target)?);
        tell(page::measure(&explorer::program(target)?)?);
    }
    if wanted("growth") {
        tell(alone(&mut || growth::measure(&scenario))?);
    }
    if wanted("parts") {
        tell(alone(&mut || parts::measure(&scenario))?);
    }
    if wanted("floors") {
        tell(alone(&mut || floors::measure(&scenario))?);
    }
    if wanted("pressure") {
        tell(alone(&mut || pressure::measure(&scenario))?);
    }
    if wanted("seasons") {
        let (agronomy, economics) = resolved.worth.as_ref().ok_or("the demo has no crop")?;
        tell(seasons::measure(&scenario, agronomy, economics)?);
    }
    if wanted("threads") {
        let (agronomy, economics) = resolved.worth.as_ref().ok_or("the demo has no crop")?;
        tell(seasons::by_threads(&scenario, agronomy, economics)?);
    }
    if wanted("fields") {
        let (agronomy, economics) = resolved.worth.as_ref().ok_or("the demo has no crop")?;
        tell(seasons::other_fields(&scenario, agronomy, economics)?);
    }
    if wanted("nearest-wind") {
        let (agronomy, economics) = resolved.worth.as_ref().ok_or("the demo has no crop")?;
        let of_a_foot = nearest_wind::on_cells_of_a_foot(&scenario);
        let both = [("2 ft", &scenario), ("1 ft", &of_a_foot)];
        for (named, seasons) in both.into_iter().zip(nearest_wind::SEASONS) {
            tell(nearest_wind::measure(named, agronomy, economics, seasons)?);
        }
    }
    if wanted("study") {
        tell(alone(&mut || study::measure())?);
    }
    if wanted("search") {
        let (agronomy, economics) = resolved.worth.as_ref().ok_or("the demo has no crop")?;
        tell(search::measure(&scenario, &resolved.search, agronomy, economics)?);
    }
    fs::remove_dir_all(&folder)?;
    if keep {
        fs::write(Path::new(HERE).join("RESULTS.md"), text)?;
    }
    Ok(())
}
