//! `evenfall give`: one page for somebody else, with the report, the scenario and its files in it.

use crate::arguments::GiveArguments;
use crate::failure::Failure;
use crate::inputs;
use crate::notes;
use crate::reading;
use crate::report::display_units;
use crate::season::{simulate, simulate_even};
use crate::size::{self, Work};
use crate::stopping;
use crate::terminal::Voice;
use crate::whole;
use evenfall_explorer::given_page;
use evenfall_figures::{Report, report_page};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

pub(crate) fn run(options: &GiveArguments, voice: Voice) -> Result<(), Failure> {
    let target = target(options)?;
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let stop = stopping::flag()?;
    let scenario = &loaded.resolved.scenario;
    size::check(scenario, Work::Season)?;
    let plans = size::plans(scenario)?;
    let even = simulate_even(scenario, &plans, &stop, voice)?;
    let outcome = simulate(scenario, plans, &stop, voice)?;
    let notes = notes::report_notes(&loaded, &outcome, even.as_ref(), "season", None)?;
    let report = report_page(&Report {
        scenario,
        scenario_text: &loaded.text,
        named_files: &loaded.resolved.files,
        outcome: &outcome,
        notes: &notes,
        worth: None,
        units: display_units(loaded.resolved.units),
    })?;
    let page = given_page(&loaded.text, &texts(&loaded)?, &report)?;
    whole::write(&target, page.as_bytes()).map_err(|error| {
        let shown = target.display();
        Failure::Files(format!("cannot write `{shown}`: {error}. Nothing is left behind"))
    })?;
    let place = target.canonicalize().unwrap_or(target);
    let said = format!(
        "{}: one page with the report, the scenario and its files, for somebody else.\nPage: {}",
        scenario.title,
        place.display()
    );
    voice.say(&said).map_err(|error| Failure::Files(format!("cannot print: {error}")))
}

/// Where the page goes; what is there is replaced only when asked.
fn target(options: &GiveArguments) -> Result<PathBuf, Failure> {
    let target = options.into.clone();
    let shown = target.display();
    let is_html = target.extension().is_some_and(|e| e.eq_ignore_ascii_case("html"));
    if !is_html {
        return Err(Failure::Usage(format!(
            "--into: `{shown}` does not end in .html, by which browsers know a page"
        )));
    }
    // A link that leads nowhere is somebody's too.
    let is_there = target.symlink_metadata().is_ok();
    if target.is_dir() || (is_there && !options.replace) {
        return Err(Failure::Files(format!(
            "`{shown}` exists already. Name another file with --into, or add --replace"
        )));
    }
    let is_ours = |path: &Path| {
        reading::text(path).is_ok_and(|text| matches!(inputs::carried(path, &text), Ok(Some(_))))
    };
    if is_there && !is_ours(&target) {
        return Err(Failure::Files(format!(
            "`{shown}` is no page that `evenfall give` wrote, so it is left alone. Name another file \
             with --into"
        )));
    }
    let parent = target.parent().filter(|parent| !parent.as_os_str().is_empty());
    if !parent.unwrap_or(Path::new(".")).is_dir() {
        return Err(Failure::Files(format!(
            "cannot write `{shown}`: its folder is not there. Make it first"
        )));
    }
    Ok(target)
}

/// Texts of the files that the scenario names.
fn texts(loaded: &inputs::Loaded) -> Result<BTreeMap<String, String>, Failure> {
    let text_of = |(name, bytes): &(String, Vec<u8>)| {
        let text = String::from_utf8(bytes.clone());
        let text = text.map_err(|_| Failure::Files(format!("`{name}` is not UTF-8 text")))?;
        Ok((name.clone(), text))
    };
    loaded.resolved.files.iter().map(text_of).collect()
}
