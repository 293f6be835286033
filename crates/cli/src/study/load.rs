//! Reading a plan with all that it names.

use crate::failure::Failure;
use crate::inputs::{carried, of_carried, unreadable};
use crate::reading;
use evenfall_scenario::{Carried, showable};
use evenfall_study::{PlanFile, Study};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// A study and the files of its scenarios.
pub(super) struct Loaded {
    pub(super) study: Study,
    pub(super) files: Files,
}

/// The files that scenarios name, each read once.
pub(super) struct Files {
    folder: PathBuf,
    carried: Option<Carried>,
    known: Mutex<BTreeMap<String, Result<Vec<u8>, String>>>,
}

impl Files {
    pub(super) fn get(&self, name: &str) -> Result<Vec<u8>, String> {
        // A panic elsewhere leaves the list whole: it is only ever changed by one call.
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let read = || match &self.carried {
            Some(carried) => of_carried(carried, name),
            None => reading::bytes(&self.folder.join(name)).map_err(|error| error.to_string()),
        };
        known.entry(name.to_owned()).or_insert_with(read).clone()
    }
}

/// Reads the plan at `path`, its scenario, its list of points.
pub(super) fn load(path: &Path) -> Result<Loaded, Failure> {
    let text = reading::text(path).map_err(|error| {
        Failure::Files(format!("cannot read the plan `{}`: {error}", path.display()))
    })?;
    let in_plan = |problems: evenfall_study::Problems| {
        let shown = showable(path.display().to_string());
        Failure::Scenario(format!("{problems} `{shown}`"))
    };
    let plan = PlanFile::read(&text).map_err(in_plan)?;
    let beside = path.parent().unwrap_or(Path::new("."));
    let base = beside.join(&plan.base);
    let text = reading::text(&base).map_err(|error| unreadable(&base, &error))?;
    let carried = carried(&base, &text)?;
    let text = carried.as_ref().map_or(text, |carried| carried.scenario.clone());
    let list = plan.list().map(|name| {
        let list = beside.join(name);
        reading::text(&list).map_err(|error| {
            Failure::Files(format!("cannot read the list of points `{}`: {error}", list.display()))
        })
    });
    let folder = base.parent().unwrap_or(Path::new(".")).to_owned();
    let files = Files { folder, carried, known: Mutex::default() };
    let get = |name: &str| files.get(name);
    let study =
        Study::new(plan, &text, list.transpose()?.as_deref(), &get, env!("CARGO_PKG_VERSION"))
            .map_err(in_plan)?;
    Ok(Loaded { study, files })
}
