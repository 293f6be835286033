//! `evenfall catch`: catch-can tests worked up, in one table and, if asked for, a page.

mod asked;
mod calibrated;
mod found;
mod overlaps;

use crate::arguments::CatchArguments;
use crate::failure::Failure;
use crate::folder::{Draft, MARK};
use crate::inputs::shown;
use crate::reading;
use crate::report::display_units;
use crate::terminal::{self, Voice, print};
use asked::Asked;
use evenfall_figures::{
    CatchBook, PNG_SCALE, Picture, catch_json, catch_page, catch_pictures, catch_text,
};
use evenfall_scenario::catch::{CatchFile, read};
use evenfall_view::UnitSystem;
use rayon::prelude::*;
use std::fs;
use std::path::PathBuf;

pub(crate) fn run(options: &CatchArguments, voice: Voice) -> Result<(), Failure> {
    let asked = Asked::of(options, voice)?;
    let files = files(&options.files)?;
    let tests = read_all(&files, voice)?;
    // The folder comes first: better to hear of a full or forbidden disk before the work is done.
    let folder = &options.folder;
    let draft = match &folder.into {
        Some(_) => Some(Draft::begin(folder, "evenfall-catch", MARK, &[])?),
        None => None,
    };
    let calibrate = || calibrated::find(&asked, &files, &tests, voice);
    let calibration = options.calibrate.then(calibrate).transpose()?;
    let mut book = book(&asked, &files, &tests)?;
    book.calibration = calibration;
    let text = catch_text(&book);
    if let Some(mut draft) = draft {
        write(&mut draft, &book, &files)?;
        let page = draft.finish()?.join("report.html");
        let place = page.canonicalize().unwrap_or(page);
        return voice
            .say(&format!("{text}Report: {}", place.display()))
            .map_err(|error| Failure::Files(format!("cannot print: {error}")));
    }
    print(&text).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

fn book(asked: &Asked<'_>, files: &[PathBuf], tests: &[CatchFile]) -> Result<CatchBook, Failure> {
    let units = match (asked.options.units, tests.first()) {
        (Some(units), _) => units.into(),
        (None, Some(first)) => display_units(first.units),
        (None, None) => UnitSystem::Si,
    };
    // Tests do not depend on each other; collected in order, so the result never depends on threads.
    let entries: Vec<_> = files
        .par_iter()
        .zip(tests)
        .map(|(path, file)| found::of(asked, &shown(path), file, units))
        .collect::<Result<_, Failure>>()?;
    // Words that are no text are shown as well as they can be.
    let words: Vec<String> =
        std::env::args_os().skip(1).map(|word| word.to_string_lossy().into_owned()).collect();
    Ok(CatchBook {
        entries,
        units,
        level: asked.fit.confidence_level,
        calibration: None,
        command: format!("evenfall {}", words.join(" ")),
        version: env!("CARGO_PKG_VERSION").to_owned(),
    })
}

/// The files named, and every `.csv` of the folders named, in the order of their names.
fn files(named: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let mut all = Vec::new();
    for path in named {
        if !path.is_dir() {
            all.push(path.clone());
            continue;
        }
        let failed = |error: std::io::Error| {
            Failure::Files(format!("cannot read the folder `{}`: {error}", path.display()))
        };
        let mut inside = Vec::new();
        for entry in fs::read_dir(path).map_err(failed)? {
            let file = entry.map_err(failed)?.path();
            if file.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("csv")) {
                inside.push(file);
            }
        }
        if inside.is_empty() {
            let shown = path.display();
            return Err(Failure::Files(format!("there is no .csv file in the folder `{shown}`")));
        }
        inside.sort();
        all.extend(inside);
    }
    Ok(all)
}

/// Reads every file; the problems of all of them are told at once.
fn read_all(files: &[PathBuf], voice: Voice) -> Result<Vec<CatchFile>, Failure> {
    let (mut tests, mut problems, mut unreadable) = (Vec::new(), Vec::new(), Vec::new());
    for path in files {
        let bytes = match reading::bytes(path) {
            Ok(bytes) => bytes,
            Err(error) => {
                unreadable.push(format!("cannot read `{}`: {error}", path.display()));
                continue;
            }
        };
        let name = path.file_stem().map_or_else(|| shown(path), |s| s.to_string_lossy().into());
        match read(&bytes, &name) {
            Ok(test) => tests.push(test),
            Err(found) => problems
                .push(found.render(&terminal::shown(&path.display().to_string()), voice.color)),
        }
    }
    if !problems.is_empty() {
        problems.extend(unreadable);
        return Err(Failure::Scenario(problems.join("\n\n")));
    }
    if !unreadable.is_empty() {
        return Err(Failure::Files(unreadable.join("\n       ")));
    }
    Ok(tests)
}

fn write(draft: &mut Draft, book: &CatchBook, files: &[PathBuf]) -> Result<(), Failure> {
    let pictures = catch_pictures(book)?;
    draft.write("report.html", catch_page(book, &pictures)?.as_bytes())?;
    draft.write(MARK, catch_json(book)?.as_bytes())?;
    let pngs: Vec<Vec<u8>> =
        pictures.par_iter().map(|(_, picture)| picture.png(PNG_SCALE)).collect::<Result<_, _>>()?;
    for ((index, picture), png) in pictures.iter().zip(pngs) {
        let stem = stem(*index, picture);
        draft.write(&format!("pictures/{stem}.svg"), picture.svg().as_bytes())?;
        draft.write(&format!("pictures/{stem}.png"), &png)?;
    }
    for (index, path) in files.iter().enumerate() {
        let bytes = reading::bytes(path).map_err(|error| {
            Failure::Files(format!("cannot read `{}`: {error}", path.display()))
        })?;
        draft.write(&format!("tests/{:02}-{}", index + 1, shown(path)), &bytes)?;
    }
    Ok(())
}

fn stem(index: usize, picture: &Picture) -> String {
    format!("{:02}-{}", index + 1, picture.name)
}
