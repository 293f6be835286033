//! `evenfall search`: which rotations are worth considering on a machine.

mod best;

use crate::arguments::{AimWord, SearchArguments};
use crate::failure::Failure;
use crate::folder::{Draft, MARK};
use crate::inputs::{Loaded, option, shown};
use crate::notes::search_assumptions;
use crate::report::display_units;
use crate::season::{begin, say_where};
use crate::size::{self, Work};
use crate::stopping;
use crate::terminal::Voice;
use crate::wheels::Wheels;
use evenfall_core::lateral::{Machine, SetOrder};
use evenfall_core::search::{
    self, Aim, Candidates, Found, SearchControl, SearchError, SearchOptions,
};
use evenfall_core::worth::Economics;
use evenfall_figures::{
    SearchNotes, SearchScene, picture_files, search_alternatives, search_csv, search_html,
    search_json, search_pictures, search_so_far, search_table,
};
use evenfall_scenario::options as keys;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

/// A search that may take longer than this is announced, s.
const LONG_S: f64 = 60.0;
/// Candidate-seasons a second on 2 cores, per million cells and passes: measured on the demo, 2026.
const WATER_RATE: f64 = 450.0;
/// The same through soil and crop.
const CROP_RATE: f64 = 90.0;

pub(crate) fn run(options: &SearchArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stopping::flag()?;
    let wheels = Wheels::given(&options.wheels)?;
    let (mut loaded, mut draft) = begin(&options.page, "evenfall-report", options.seed, voice)?;
    let wanted = wanted(options, &wheels, &loaded)?;
    loaded.resolved.warnings.extend(wheels.questions);
    let scenario = &loaded.resolved.scenario;
    size::check(scenario, Work::Seasons)?;
    announce_duration(&loaded, &wanted, voice)?;
    stopping::patient();
    let found = search_all(&loaded, &wanted, &stop, voice)?;
    stop.store(false, Ordering::SeqCst);
    let resolved = &loaded.resolved;
    let notes = SearchNotes {
        invented: resolved.invented,
        version: env!("CARGO_PKG_VERSION").to_owned(),
        digest: resolved.digest.clone(),
        command: command_line(options, &loaded.argument),
        next: next_command(options.page.folder.into.as_deref()),
        warnings: resolved.warnings.clone(),
        assumptions: search_assumptions(
            resolved,
            &replaced(options, resolved.search.first_seasons),
        ),
    };
    write(&mut draft, &loaded, &found, usize::from(options.best), &notes)?;
    let units = display_units(resolved.units);
    let scene = SearchScene::new(scenario, &found, economics(&loaded), units)?;
    let table = search_table(&scene)?;
    let folder = draft.finish()?;
    let next = format!("Next: {}", next_command(Some(&folder)));
    say_where(
        &loaded,
        &format!("{}\n\n{}\n{next}", scenario.title, table.trim_end()),
        &folder,
        voice,
    )
}

fn economics(loaded: &Loaded) -> Option<&Economics> {
    loaded.resolved.worth.as_ref().map(|(_, economics)| economics)
}

/// The scenario's search, changed by the options.
fn wanted(
    options: &SearchArguments,
    wheels: &Wheels,
    loaded: &Loaded,
) -> Result<SearchOptions, Failure> {
    let mut wanted = loaded.resolved.search.clone();
    if let Some(aim) = options.aim {
        wanted.aim = match aim {
            AimWord::Dulq => Aim::DuLqInterior,
            AimWord::WholeDulq => Aim::DuLqWhole,
            AimWord::WorstTenth => Aim::WorstTenth,
            AimWord::Net => Aim::NetReturn,
        };
    }
    if let Some(gain) = &options.worthwhile_gain {
        set_worthwhile_gain(&mut wanted, gain)?;
    }
    if let Some(seasons) = options.seasons {
        wanted.seasons = usize::from(seasons);
        wanted.first_seasons = wanted.first_seasons.min(wanted.seasons);
    }
    if let Some(longest) = options.longest_cycle {
        wanted.space.rotations.longest = usize::from(longest);
    }
    wanted.space.rotations.every_order |= options.every_order;
    if options.every_set_order {
        wanted.space.orders = SetOrder::RULES.to_vec();
    }
    let mut spacings_m = Vec::new();
    for spacing in &options.outlet_spacing {
        spacings_m.push(option("outlet-spacing", spacing, keys::outlet_spacing)?);
    }
    let machine = loaded.resolved.scenario.alternatives.first().map(|a| a.lateral.machine);
    if !wheels.is_empty() {
        if machine == Some(Machine::HandMove) {
            let problem = "--wheel, --wheel-sizes, --travel-per-turn and --outside-diameter are for wheel \
                           lines; this lateral is moved by hand";
            return Err(Failure::Usage(problem.to_owned()));
        }
        wanted.space.sizes.clone_from(&wheels.sizes);
        wanted.space.travels_m = wheels.rolling.iter().map(|(_, travel_m)| *travel_m).collect();
    }
    if !spacings_m.is_empty() {
        wanted.space.spacings_m = spacings_m;
    }
    Ok(wanted)
}

/// Keys of the scenario's search whose place an option takes.
fn replaced(options: &SearchArguments, screening: usize) -> Vec<&'static str> {
    let gain = options.worthwhile_gain.is_some();
    let keys = [
        ("seasons", options.seasons.is_some()),
        (
            "screening_seasons",
            options.seasons.is_some_and(|seasons| usize::from(seasons) < screening),
        ),
        ("longest_cycle", options.longest_cycle.is_some()),
        ("worthwhile_gain_du_lq", gain),
        ("worthwhile_gain_worst_tenth", gain),
    ];
    keys.into_iter().filter_map(|(key, is_given)| is_given.then_some(key)).collect()
}

/// The worthwhile gain, of the kind that the aim has.
fn set_worthwhile_gain(wanted: &mut SearchOptions, text: &str) -> Result<(), Failure> {
    if wanted.aim == Aim::NetReturn {
        let least = option("worthwhile-gain", text, keys::worthwhile_gain)?;
        wanted.worthwhile.net_per_ha = Some(least);
    } else {
        let least = option("worthwhile-gain", text, keys::worthwhile_share)?;
        wanted.worthwhile.du_lq = least;
        wanted.worthwhile.worst_tenth = least;
    }
    Ok(())
}

/// Says how long it may take where that is long; the rate is that of one machine.
fn announce_duration(loaded: &Loaded, wanted: &SearchOptions, voice: Voice) -> Result<(), Failure> {
    let scenario = &loaded.resolved.scenario;
    let candidates = Candidates::of(scenario, &wanted.space, &wanted.equipment).map_err(refusal)?;
    let passes = candidates.all[0].plan.passes.len();
    let grid = scenario.field.grid;
    let size = (grid.cells_along * grid.cells_across * passes) as f64 / 1e6;
    let rate = if wanted.aim.is_water() { WATER_RATE } else { CROP_RATE };
    let seconds = |seasons: usize| (candidates.all.len() * seasons) as f64 * size / rate;
    let (least_s, most_s) = (seconds(wanted.first_seasons), seconds(wanted.seasons));
    if most_s < LONG_S {
        return Ok(());
    }
    let minutes = |seconds: f64| format!("{:.0}", (seconds / 60.0).ceil());
    let span = |least: String, most: String| {
        if least == most { most } else { format!("{least} to {most}") }
    };
    let said = format!(
        "{} candidates, {} seasons each: about {} min on two cores. Ctrl-C stops and keeps what is finished.",
        candidates.all.len(),
        span(wanted.first_seasons.to_string(), wanted.seasons.to_string()),
        span(minutes(least_s), minutes(most_s))
    );
    voice.say(&said).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

fn search_all(
    loaded: &Loaded,
    wanted: &SearchOptions,
    stop: &AtomicBool,
    voice: Voice,
) -> Result<Found, Failure> {
    let worth = loaded.resolved.worth.as_ref().map(|(agronomy, economics)| (agronomy, economics));
    let bar = ("Searching rotations", "seasons of candidates at most");
    let scenario = &loaded.resolved.scenario;
    let units = display_units(loaded.resolved.units);
    voice
        .told(bar, stop, |go_on, tell| {
            let mut so_far = |found: &Found| {
                let scene = SearchScene::new(scenario, found, economics(loaded), units);
                // A look without a ranking says nothing; the end does.
                if let Ok(scene) = scene {
                    tell(&search_so_far(&scene));
                }
            };
            let control = SearchControl::new(go_on).with_viewer(&mut so_far);
            search::run(scenario, wanted, worth, control)
        })
        .map_err(refusal)
}

fn refusal(error: SearchError) -> Failure {
    match error {
        SearchError::Stopped => Failure::Interrupted(format!("{error}. Nothing was written")),
        SearchError::Season(error) => error.into(),
        other => Failure::Season(other.to_string()),
    }
}

/// Writes everything into the report's folder; the best `best` go into the scenario.
fn write(
    draft: &mut Draft,
    loaded: &Loaded,
    found: &Found,
    best: usize,
    notes: &SearchNotes,
) -> Result<(), Failure> {
    let scenario = &loaded.resolved.scenario;
    let units = display_units(loaded.resolved.units);
    let scene = SearchScene::new(scenario, found, economics(loaded), units)?;
    let drawn = search_pictures(&scene)?;
    let page = search_html(&scene, notes, &drawn)?;
    draft.write("report.html", page.as_bytes())?;
    draft.write(MARK, search_json(scenario, found)?.as_bytes())?;
    draft.write("search.csv", search_csv(scenario, found)?.as_bytes())?;
    draft.write("scenario.json", loaded.text.as_bytes())?;
    let alternatives = search_alternatives(scenario, found, best, units)?;
    for (name, bytes) in best::files(loaded, alternatives)? {
        draft.write(&name, &bytes)?;
    }
    for (name, bytes) in picture_files(&drawn)? {
        draft.write(&name, &bytes)?;
    }
    Ok(())
}

fn next_command(folder: Option<&Path>) -> String {
    let folder = folder.unwrap_or(Path::new("FOLDER"));
    format!("evenfall worth {}", folder.join(best::SCENARIO).display())
}

fn command_line(options: &SearchArguments, argument: &str) -> String {
    let mut words = vec!["evenfall search".to_owned()];
    words.extend((!argument.is_empty()).then(|| shown(Path::new(argument))));
    let mut add = |name: &str, value: Option<String>| {
        words.extend(value.map(|value| format!("--{name} {value}")));
    };
    let aim = options.aim.and_then(|aim| {
        clap::ValueEnum::to_possible_value(&aim).map(|value| value.get_name().to_owned())
    });
    add("aim", aim);
    add("worthwhile-gain", options.worthwhile_gain.as_ref().map(|gain| format!("\"{gain}\"")));
    add("seasons", options.seasons.map(|n| n.to_string()));
    add("longest-cycle", options.longest_cycle.map(|n| n.to_string()));
    add("seed", options.seed.map(|n| n.to_string()));
    let wheels = &options.wheels;
    for name in &wheels.wheel {
        add("wheel", Some(name.clone()));
    }
    for (name, given) in [
        ("travel-per-turn", &wheels.travel_per_turn),
        ("outside-diameter", &wheels.outside_diameter),
        ("outlet-spacing", &options.outlet_spacing),
    ] {
        for value in given {
            add(name, Some(format!("\"{value}\"")));
        }
    }
    if !wheels.outside_diameter.is_empty() {
        words.push(format!("--slip-and-sinkage \"{}\"", wheels.slip_and_sinkage));
    }
    words.extend(wheels.wheel_sizes.then(|| "--wheel-sizes".to_owned()));
    words.extend(options.every_order.then(|| "--every-order".to_owned()));
    words.extend(options.every_set_order.then(|| "--every-set-order".to_owned()));
    words.join(" ")
}
