//! From the file as written to the checked scenario of the core: defaults, cross-checks, snapping.

mod alternatives;
mod boundary;
mod calibration;
mod called;
mod canopy;
mod climate;
mod closed;
mod crop;
mod crop_calendar;
pub(crate) mod crop_names;
mod discharges;
mod drift;
mod equipment;
mod field;
mod ground;
mod layouts;
mod lines;
mod machine;
mod maintenance;
mod pipe;
mod prices;
mod pumping;
mod refused;
mod rotation;
mod search;
mod season;
mod sheet;
pub(crate) mod sprinkler;
mod survey;
pub(crate) mod wheel;
mod wind;
mod worth;
mod years;

pub use calibration::sprinkler_fingerprint;
pub use sheet::SheetWishes;

use crate::document::{self, Node};
use crate::file::{LossesFile, ScenarioFile, SoilFile, UnitSystem};
use crate::issue::Problems;
use crate::notes::{Assumption, Load, Notes};
use crate::questions;
use crate::read::{Read, Tolerant, optional};
use crate::whose::{self, Input};
use evenfall_core::machine::Maintenance;
use evenfall_core::model::Scenario;
use evenfall_core::schedule::Calendar;
use evenfall_core::search::SearchOptions;
use evenfall_core::weather::{AssumedAir, DrawnWeather, WeatherSource};
use evenfall_core::worth::{Agronomy, Economics};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// A scenario that passed every check.
#[derive(Clone, Debug)]
pub struct Resolved {
    /// What the core simulates.
    pub scenario: Scenario,
    /// What the worth of the rotations hangs on, where crop, soil and climate are given.
    pub worth: Option<(Agronomy, Economics)>,
    /// What is known of the machine beyond its wheels.
    pub maintenance: Maintenance,
    /// What is asked of the move sheet.
    pub sheet: SheetWishes,
    /// What a search for rotations tries.
    pub search: SearchOptions,
    /// Starting values that the search alone rests on.
    pub search_assumptions: Vec<Assumption>,
    /// Everything that was assumed or moved to fit.
    pub assumptions: Vec<Assumption>,
    /// The inputs that matter, and whose they are.
    pub inputs: Vec<Input>,
    /// What the reader should know, in plain words.
    pub warnings: Vec<String>,
    /// Those of them that are for whoever plans, not for whoever moves the line.
    for_planning: Vec<String>,
    /// The question the scenario asks; empty if it asks none.
    pub question: String,
    /// Whether the field is invented.
    pub invented: bool,
    /// Units in which to show results.
    pub units: UnitSystem,
    /// SHA-256 (hexadecimal) of the scenario, however laid out, and of the files it names.
    pub digest: String,
    /// Where data came from.
    pub sources: Vec<String>,
    /// Name and content of every file it names, in the order in which they were read.
    pub files: Vec<(String, Vec<u8>)>,
}

impl Resolved {
    /// What whoever moves the line should know, in plain words.
    pub fn field_warnings(&self) -> Vec<String> {
        let is_theirs = |warning: &&String| !self.for_planning.contains(warning);
        self.warnings.iter().filter(is_theirs).cloned().collect()
    }
}

/// Checks the text of a scenario and makes of it what the core simulates. Files named in it (a
/// record of the weather) are got through `load`.
///
/// ```
/// let no_files = |name: &str| Err(format!("{name} is not here"));
/// let demo = evenfall_scenario::resolve(evenfall_scenario::demo(), &no_files)?;
/// assert_eq!(demo.scenario.alternatives.len(), 3);
///
/// let problems = evenfall_scenario::resolve("{", &no_files).unwrap_err();
/// assert!(problems.render("field.json", false).contains("this is not JSON"));
/// # Ok::<(), evenfall_scenario::Problems>(())
/// ```
///
/// # Errors
/// Every problem of the text at once.
pub fn resolve(text: &str, load: Load<'_>) -> Result<Resolved, Problems> {
    let mut notes = Notes::new(load);
    let root = document::parse(text, &mut notes.issues);
    let resolved = root.as_ref().and_then(|root| {
        notes.issues.readings.bushel = crop_names::bushel(root);
        let file = ScenarioFile::read(root, &mut notes.issues)?;
        let (scenario, worth, maintenance) = whole(root, &file, &mut notes)?;
        let economics = worth.as_ref().map(|(_, economics)| economics);
        // Kept apart: only a search rests on them.
        let season = std::mem::take(&mut notes.assumptions);
        let search = search::options(&file, &scenario, economics, &mut notes);
        let of_search = std::mem::replace(&mut notes.assumptions, season);
        questions::tell(&mut notes);
        if let Some(listed) = optional(&file.starting_values) {
            whose::check(root, &listed.items, &mut notes.issues);
        }
        Some((scenario, worth, maintenance, (search, of_search), file))
    });
    match (resolved, root) {
        (Some((scenario, worth, maintenance, (search, search_assumptions), file)), Some(root))
            if notes.issues.is_empty() =>
        {
            Ok(Resolved {
                scenario,
                worth,
                maintenance,
                sheet: sheet::wishes(&file),
                search,
                search_assumptions,
                question: optional(&file.question).map_or_else(String::new, |q| q.value.clone()),
                invented: optional(&file.invented).copied().unwrap_or(false),
                units: ScenarioFile::units.or_start(Some(&file.units), "", &mut notes),
                digest: digest(&root, &notes.files),
                inputs: whose::inputs(&root, &notes.assumptions),
                assumptions: notes.assumptions,
                warnings: notes.warnings,
                for_planning: notes.for_planning,
                sources: notes.sources,
                files: notes.files,
            })
        }
        _ => Err(notes.issues.into_problems(text)),
    }
}

/// The parts of a scenario: the season, what its worth hangs on, the machine.
type Whole = (Scenario, Option<(Agronomy, Economics)>, Maintenance);

/// What days are drawn with, for checks of the crop before the scenario stands: whatever the seed and
/// the air, the same days are there or missing.
fn drawn<'a>(
    weather: Option<&'a WeatherSource>,
    calendar: Option<&Calendar>,
) -> Option<DrawnWeather<'a>> {
    let air = AssumedAir { temperature_c: 25.0, relative_humidity: 0.5 };
    Some(DrawnWeather { source: weather?, seed: 0, midnight: calendar?.midnight(), air })
}

/// Resolves every section, whatever is wrong with the others.
fn whole(root: &Node, file: &ScenarioFile, notes: &mut Notes<'_>) -> Option<Whole> {
    notes.clock = sheet::clock(file);
    let alternatives = alternatives::resolve(root, file, notes);
    let field = field::resolve(file, alternatives.as_deref(), notes);
    let calendar = file.season.0.as_ref().map(|season| season::calendar(season, notes));
    let weather = file.wind.0.as_ref().map(|wind| wind::source(wind, notes));
    // Called passes can be planned only with crop and soil, below.
    let called = file.season.0.as_ref().and_then(|season| season.irrigate_at_depletion.as_ref());
    let plans = match (&file.season.0, &calendar, &alternatives) {
        _ if called.is_some() => None,
        (Some(given), Some(calendar), Some(alternatives)) => {
            season::check_plans(given, calendar, alternatives, notes)
        }
        _ => None,
    };
    let agronomy = worth::agronomy(root, file, weather.as_ref().and_then(Option::as_ref), notes);
    if let (Some(crop), Some(season), Some(agronomy), Some(plans)) =
        (optional(&file.crop), &file.season.0, &agronomy, &plans)
    {
        let drawn = drawn(weather.as_ref().and_then(Option::as_ref), calendar.as_ref());
        crop_calendar::check(crop, season, (agronomy, drawn), plans, notes);
    }
    let maintenance = maintenance::resolve(file, agronomy.as_ref(), notes);
    let canopy_height_m = match (&agronomy, &alternatives) {
        (Some(agronomy), Some(alternatives)) => {
            canopy::height_m(file, agronomy, maintenance.stand.as_ref(), alternatives, notes)
        }
        _ => None,
    };
    let mut worth =
        agronomy.map(|agronomy| (agronomy, worth::economics(file, alternatives.as_deref(), notes)));
    let (mut alternatives, calendar, weather) = (alternatives?, calendar?, weather??);
    let calibration = calibration::resolve(file, &mut alternatives, notes);
    wind::check_cover(file, &weather, &calendar, notes);
    let losses = losses(file, &alternatives, notes)?;
    let assumed_air = season::air(optional(&file.air), notes);
    if let Some((_, economics)) = &mut worth {
        maintenance::labor(&maintenance, assumed_air.temperature_c, economics, notes);
    }
    let scenario = Scenario {
        title: file.title.0.as_ref()?.value.clone(),
        field: field?,
        calendar,
        weather,
        assumed_air,
        losses,
        alternatives,
        canopy_height_m,
        interior_margin_given_m: field::interior_margin_m(file),
        smoothing_m: smoothing(optional(&file.soil), notes),
        seed: ScenarioFile::seed.or_start(Some(&file.seed), "", notes),
        called: None,
        calibration,
    };
    let scenario = called::resolve(file, scenario, worth.as_ref().map(|worth| &worth.0), notes)?;
    let worth = worth.map(|(agronomy, mut economics)| {
        years::check(file, &scenario, &agronomy, &mut economics, notes);
        (agronomy, economics)
    });
    Some((scenario, worth, maintenance))
}

/// How far roots and soil spread the water, m.
fn smoothing(soil: Option<&SoilFile>, notes: &mut Notes<'_>) -> f64 {
    soil.map_or(0.0, |soil| {
        SoilFile::smoothing.or_start(Some(&soil.smoothing), &soil.at.pointer, notes)
    })
}

/// The losses; the formulas that need a pressure take the first alternative's.
fn losses(
    file: &ScenarioFile,
    alternatives: &[evenfall_core::model::Alternative],
    notes: &mut Notes<'_>,
) -> Option<evenfall_core::sprinkler::losses::Losses> {
    let Tolerant(losses) = &file.losses;
    let given: Option<&LossesFile> = losses.as_ref()?.as_ref();
    let jet = alternatives.first()?.sprinkler.jets.first()?;
    season::losses(given, jet.launch.pressure_kpa, notes)
}

fn digest(root: &Node, files: &[(String, Vec<u8>)]) -> String {
    let mut canonical = String::new();
    root.canonical(&mut canonical);
    let mut hash = Sha256::new();
    hash.update((canonical.len() as u64).to_le_bytes());
    hash.update(canonical.as_bytes());
    for (name, bytes) in files {
        // Lengths go in so that no two different lists of files run together to the same bytes.
        for part in [name.as_bytes(), bytes.as_slice()] {
            hash.update((part.len() as u64).to_le_bytes());
            hash.update(part);
        }
    }
    hash.finalize().iter().fold(String::new(), |mut text, byte| {
        // Writing to a String cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}
