//! The files of a report: names with bytes, for whoever puts them somewhere.

use crate::drawing::{
    cu_in_wind_picture, pictures, season_depth_picture, wheel_picture, worth_pictures,
};
use crate::picture::{Figure, Picture};
use crate::reports::beside::{Put, put_beside};
use crate::reports::crate_metadata::{CRATE_FILE, RunMade, crate_json};
use crate::reports::paper::{self, Papers};
use crate::reports::pressure::pressures_csv;
use crate::reports::report::{PageParts, report_html};
use crate::reports::tables::npy::grid_npy;
use crate::reports::tables::passes::{passes_csv, season_json};
use crate::reports::worth::{WorthPart, seasons_csv, seasons_json, worth_json};
use crate::scenes::{Scene, worth_view};
use evenfall_canvas::DrawError;
use evenfall_core::grid::DepthGrid;
use evenfall_core::model::Scenario;
use evenfall_core::season::Outcome;
use evenfall_core::worth::{Economics, Worth};
use evenfall_view::{ReportNotes, RowOrigin, Season, UnitSystem};
use rayon::prelude::*;

/// Pixels of a PNG to one of the drawing's units: sharp on paper at the width of a page.
pub const PNG_SCALE: f32 = 1.5;

/// Everything a report is made from.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// What was asked.
    pub scenario: &'a Scenario,
    /// The scenario's text as it was given.
    pub scenario_text: &'a str,
    /// The files that it names, name and bytes.
    pub named_files: &'a [(String, Vec<u8>)],
    /// What came out.
    pub outcome: &'a Outcome,
    /// What the page says beside.
    pub notes: &'a ReportNotes,
    /// What the alternatives are worth, where that was asked.
    pub worth: Option<(&'a Worth, &'a Economics)>,
    /// Units to show results in.
    pub units: UnitSystem,
}

/// One page for the grower.
pub const GROWER_PAGE: &str = "grower.html";
/// Two pages for the client and the office that shares the cost.
pub const CLIENT_PAGES: &str = "client.html";

/// What may stand in a report's folder by itself.
const OWN: [&str; 15] = [
    CRATE_FILE,
    "report.html",
    GROWER_PAGE,
    CLIENT_PAGES,
    "as-it-was.html",
    "as-it-was.json",
    "summary.json",
    "pressures.csv",
    "passes.csv",
    "scenario.json",
    "worth.json",
    "seasons.csv",
    "seasons.json",
    "pictures",
    "grids",
];

/// The report's page alone.
///
/// # Errors
/// If the parts do not belong together, or a library refuses.
pub fn report_page(report: &Report<'_>) -> Result<String, DrawError> {
    Drawn::of(report)?.page(report)
}

/// The papers beside the report, by their file names: the grower's page and the client's two. None
/// without worth, or where there is nothing to compare.
///
/// # Errors
/// If the parts do not belong together, or a library refuses.
pub fn papers(report: &Report<'_>) -> Result<Vec<(&'static str, String)>, DrawError> {
    let Report { scenario, outcome, notes, units, .. } = *report;
    let Some((worth, economics)) = report.worth else { return Ok(Vec::new()) };
    let view = worth_view(scenario, worth, economics, units)?;
    let Some(planned) = paper::planned(&view) else { return Ok(Vec::new()) };
    let scene = Scene::new(scenario, outcome, units)?;
    let (pair, pair_found) = pair(scenario, outcome, planned.index);
    let maps = season_depth_picture(&Scene::new(&pair, &pair_found, units)?)?;
    let season = Season::new(scenario, outcome, notes, units);
    let papers = Papers {
        scene: &scene,
        season: &season,
        worth: &view,
        economics,
        notes,
        maps: &Figure::new(&maps),
    };
    let made =
        [(GROWER_PAGE, paper::grower_html(&papers)?), (CLIENT_PAGES, paper::client_html(&papers)?)];
    Ok(made.into_iter().filter_map(|(name, page)| Some((name, page?))).collect())
}

/// The baseline and the alternative at `index` alone.
fn pair(scenario: &Scenario, outcome: &Outcome, index: usize) -> (Scenario, Outcome) {
    // Nothing but these two is copied: what was found is large.
    fn kept<T: Clone>(all: &[T], index: usize) -> Vec<T> {
        let is_kept = |(place, _): &(usize, &T)| *place == 0 || *place == index;
        all.iter().enumerate().filter(is_kept).map(|(_, one)| one.clone()).collect()
    }
    let asked = Scenario { alternatives: kept(&scenario.alternatives, index), ..scenario.clone() };
    let found = Outcome {
        alternatives: kept(&outcome.alternatives, index),
        notices: outcome.notices.clone(),
        ..*outcome
    };
    (asked, found)
}

/// Gives `put` every file of the report, name and bytes, in order; stops at the first that fails.
///
/// # Errors
/// What `put` returns, or what drawing fails with.
pub fn report_files<E: From<DrawError>>(report: &Report<'_>, put: Put<'_, E>) -> Result<(), E> {
    let mut names: Vec<String> = Vec::new();
    results(report, &mut |name, bytes| {
        names.push(name.to_owned());
        put(name, bytes)
    })?;
    let is_input = |name: &String| {
        name == "scenario.json" || report.named_files.iter().any(|(named, _)| named == name)
    };
    let (inputs, results): (Vec<String>, Vec<String>) = names.into_iter().partition(is_input);
    let about = if report.worth.is_some() {
        "Many seasons of a moved sprinkler lateral under fixed and rotated stops, through soil, crop and money."
    } else {
        "One season of a moved sprinkler lateral under fixed and rotated stops."
    };
    let made = crate_json(&RunMade {
        title: &report.scenario.title,
        about,
        version: &report.notes.version,
        command: &report.notes.command,
        made_at: report.notes.made_at.as_deref(),
        inputs: &inputs,
        results: &results,
    })?;
    put(CRATE_FILE, made.as_bytes())
}

/// All files of the report but what says what they are.
fn results<E: From<DrawError>>(report: &Report<'_>, put: Put<'_, E>) -> Result<(), E> {
    let Report { scenario, outcome, notes, worth, .. } = *report;
    let drawn = Drawn::of(report)?;
    // Rasters take longest: the page and the papers are written meanwhile.
    let (pages, pictures) = rayon::join(
        || -> Result<_, DrawError> { Ok((drawn.page(report)?, papers(report)?)) },
        || picture_files(&drawn.pictures),
    );
    let (page, papers) = pages?;
    put("report.html", page.as_bytes())?;
    for (name, paper) in papers {
        put(name, paper.as_bytes())?;
    }
    let season = Season::new(scenario, outcome, notes, UnitSystem::Si);
    put("summary.json", season_json(&season)?.as_bytes())?;
    let lines: Vec<_> = outcome.alternatives.iter().map(|found| found.pressures.clone()).collect();
    if let Some(csv) = pressures_csv(scenario, &lines)? {
        put("pressures.csv", csv.as_bytes())?;
    }
    put("passes.csv", passes_csv(&season)?.as_bytes())?;
    put("scenario.json", report.scenario_text.as_bytes())?;
    put_beside(report.named_files, &OWN, put)?;
    if let Some((worth, economics)) = worth {
        put("worth.json", worth_json(scenario, worth, economics)?.as_bytes())?;
        let origin = RowOrigin {
            seed: scenario.seed,
            scenario_sha256: notes.digest.clone(),
            version: notes.version.clone(),
            commit: notes.commit.clone(),
        };
        put("seasons.csv", seasons_csv(scenario, worth, &origin)?.as_bytes())?;
        put("seasons.json", seasons_json(scenario, worth, &origin)?.as_bytes())?;
    }
    for (name, bytes) in pictures? {
        put(&name, &bytes)?;
    }
    let mut grid = |what: &str, number: usize, grid: &DepthGrid| {
        let bytes = grid_npy(grid, scenario.field.boundary.as_ref())?;
        put(&format!("grids/{what}-{}.npy", number + 1), &bytes)
    };
    for (number, found) in outcome.alternatives.iter().enumerate() {
        grid("season-depth-mm", number, found.season_depth_mm())?;
    }
    for (number, maps) in worth.map_or(&[][..], |(worth, _)| &worth.seasons.maps).iter().enumerate()
    {
        grid("mean-yield-fraction", number, &maps.yield_fraction)?;
        grid("mean-percolation-mm", number, &maps.percolation_mm)?;
    }
    Ok(())
}

/// Every picture as SVG and PNG, in order, with names for files.
///
/// # Errors
/// If a picture cannot be made a raster of.
pub fn picture_files(drawn: &[Picture]) -> Result<Vec<(String, Vec<u8>)>, DrawError> {
    let pngs: Vec<Vec<u8>> =
        drawn.par_iter().map(|picture| picture.png(PNG_SCALE)).collect::<Result<_, DrawError>>()?;
    let files = drawn.iter().zip(pngs).flat_map(|(picture, png)| {
        let file = |ending: &str| format!("pictures/{}.{ending}", picture.name);
        [(file("svg"), picture.svg().as_bytes().to_vec()), (file("png"), png)]
    });
    Ok(files.collect())
}

/// The pictures of a report: those of the season, those of the worth, and what is known of wind.
struct Drawn {
    pictures: Vec<Picture>,
    /// How many of them show the season.
    of_season: usize,
}

impl Drawn {
    fn of(report: &Report<'_>) -> Result<Self, DrawError> {
        let Report { scenario, outcome, units, .. } = *report;
        let beside = || -> Result<_, DrawError> {
            let worth = report
                .worth
                .map(|(worth, economics)| worth_pictures(scenario, worth, economics, units));
            Ok((worth.transpose()?.unwrap_or_default(), cu_in_wind_picture(units)?))
        };
        let (season, beside) = rayon::join(|| pictures(scenario, outcome, units), beside);
        let (mut pictures, (worth, known)) = (season?, beside?);
        let of_season = pictures.len();
        pictures.extend(worth);
        pictures.push(known);
        Ok(Self { pictures, of_season })
    }

    /// The report's page with them.
    fn page(&self, report: &Report<'_>) -> Result<String, DrawError> {
        let Report { scenario, outcome, notes, units, .. } = *report;
        let scene = Scene::new(scenario, outcome, units)?;
        let (pictures, others) = self.pictures.split_at(self.of_season);
        let (known, shown) = others
            .split_last()
            .ok_or_else(|| DrawError::Library("a picture is missing".to_owned()))?;
        let worth =
            report.worth.map(|(worth, economics)| WorthPart { worth, economics, pictures: shown });
        let (wheels, known) = (wheels(notes, units)?, Figure::new(known));
        report_html(&scene, PageParts { notes, pictures, wheels, known, worth })
    }
}

/// A picture of each wheel that differs from those before it.
fn wheels(notes: &ReportNotes, units: UnitSystem) -> Result<Vec<Figure>, DrawError> {
    let all = &notes.wheels;
    let is_new = |index: &usize| all[..*index].iter().all(|w| w.reach != all[*index].reach);
    let draw = |index: usize| {
        let mut figure = Figure::new(&wheel_picture(&all[index].reach, units)?);
        figure.name = format!("wheel-{}", index + 1);
        figure.caption = format!("The wheel of “{}”. {}", all[index].alternative, figure.caption);
        Ok(figure)
    };
    (0..all.len()).filter(is_new).map(draw).collect()
}
