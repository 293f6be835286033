//! A scenario that passed every check.

use crate::failure;
use crate::rows::rows;
use crate::season::Season;
use crate::watch::watched;
use crate::worth::Worth;
use evenfall_core::model::Scenario as Model;
use evenfall_core::plan_check::PlanCheck;
use evenfall_core::schedule::Plan;
use evenfall_core::search::{self, SearchError};
use evenfall_core::season::{self, HoursLaid, Outcome, RunControl, SeasonControl};
use evenfall_core::worth::{Agronomy, Economics, WorthError, check_plan, run_seasons};
use evenfall_figures::{checked_json, clock_json, methods_json, search_json, stops_json};
use evenfall_scenario::{Resolved, resolve};
use evenfall_view::{Assumption, Input, ReportNotes};
use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use std::sync::Arc;

/// A checked scenario. `text` is a scenario file's; `load` gets the bytes of a file that it names.
#[pyclass(frozen, module = "evenfall._evenfall")]
#[derive(Debug)]
pub(crate) struct Scenario {
    resolved: Arc<Resolved>,
    #[pyo3(get)]
    text: String,
}

#[pymethods]
impl Scenario {
    #[new]
    #[pyo3(signature = (text, load, name = "scenario"))]
    fn new(py: Python<'_>, text: String, load: Py<PyAny>, name: &str) -> PyResult<Self> {
        let bytes = |file: &str| {
            let found = load.call1(py, (file,)).and_then(|found| found.extract::<Vec<u8>>(py));
            found.map_err(|error| error.value(py).to_string())
        };
        let resolved = resolve(&text, &bytes).map_err(|found| failure::problems(&found, name))?;
        Ok(Self { resolved: Arc::new(resolved), text })
    }

    /// SHA-256 of the scenario, however laid out, and of the files it names.
    #[getter]
    fn digest(&self) -> &str {
        &self.resolved.digest
    }

    /// Seed of its weather.
    #[getter]
    fn seed(&self) -> u64 {
        self.resolved.scenario.seed
    }

    /// Names of its alternatives, the baseline first.
    #[getter]
    fn alternatives(&self) -> Vec<String> {
        self.resolved.scenario.alternatives.iter().map(|one| one.name.clone()).collect()
    }

    /// What to look at in it.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.resolved.warnings.clone()
    }

    /// Starting values that it rests on: (key, value, reason).
    #[getter]
    fn starting_values(&self) -> Vec<(String, String, String)> {
        let row =
            |a: &evenfall_scenario::Assumption| (a.what.clone(), a.value.clone(), a.why.clone());
        self.resolved.assumptions.iter().map(row).collect()
    }

    /// Whether it has crop, soil and climate, and so a worth.
    #[getter]
    fn has_worth(&self) -> bool {
        self.resolved.worth.is_some()
    }

    /// The plans beside their yardsticks, as JSON.
    fn check_json(&self) -> PyResult<String> {
        let model = &self.resolved.scenario;
        let plans = season::plans(model).map_err(|error| failure::season(&error))?;
        let notes = ReportNotes { plan: Some(self.plan_check(plans)?), ..self.checked_notes() };
        checked_json(model, &notes).map_err(|error| failure::written(&error))
    }

    /// Every set of every alternative, as JSON.
    fn clock_json(&self) -> PyResult<String> {
        let model = &self.resolved.scenario;
        let plans = season::plans(model).map_err(|error| failure::season(&error))?;
        let found = clock_json(model, self.digest(), &plans);
        found.map_err(|error| failure::written(&error))
    }

    /// Where each alternative can stand beside its outlets, as JSON.
    fn stops_json(&self) -> PyResult<String> {
        let found = stops_json(&self.resolved.scenario, self.digest());
        found.map_err(|error| failure::written(&error))
    }

    /// Every equation with symbols, values and source, as JSON.
    fn methods_json(&self) -> PyResult<String> {
        let origin = (self.digest(), env!("CARGO_PKG_VERSION"));
        let found = methods_json(&self.resolved.scenario, origin);
        found.map_err(|error| failure::written(&error))
    }

    /// One season of every alternative; with `passes`, the depths of every pass are kept.
    #[pyo3(signature = (passes = false, progress = None))]
    fn season(
        &self,
        py: Python<'_>,
        passes: bool,
        progress: Option<Py<PyAny>>,
    ) -> PyResult<Season> {
        let model = &self.resolved.scenario;
        let plans = season::plans(model).map_err(|error| failure::season(&error))?;
        let mut kept = passes.then(|| Season::room(model, &plans));
        let found = watched(py, progress.as_ref(), |go_on| {
            let even = model.at_stated_pressure();
            let even =
                even.map(|even| season::run_plans(&even, plans.clone(), RunControl::new(go_on)));
            let mut keep = |laid: season::Laid<'_>| {
                if let Some(kept) = &mut kept {
                    kept.keep(laid);
                }
            };
            let control: SeasonControl<'_> = RunControl::new(go_on).with_end_only();
            let control = control.with_viewer(&mut keep);
            Ok((season::run_plans(model, plans, control)?, even.transpose()?))
        })?;
        let (outcome, even) = found.map_err(|error| failure::season(&error))?;
        let notes = self.notes(&outcome, even.as_ref(), "season")?;
        Season::of(py, model, outcome, kept, &notes)
    }

    /// Many seasons through soil, crop and money, the first being number `first`, from 1.
    #[pyo3(signature = (seasons = None, first = 1, own_wind = false, progress = None))]
    fn worth(
        &self,
        py: Python<'_>,
        seasons: Option<usize>,
        first: usize,
        own_wind: bool,
        progress: Option<Py<PyAny>>,
    ) -> PyResult<Worth> {
        let (agronomy, economics) = self.asked(seasons, first, own_wind)?;
        if economics.seasons < 2 && economics.precision.is_none() {
            let problem = format!("seasons is {}. Expected 2 or more", economics.seasons);
            return Err(PyValueError::new_err(problem));
        }
        let model = &self.resolved.scenario;
        let found = watched(py, progress.as_ref(), |go_on| {
            evenfall_core::worth::run(model, agronomy, &economics, RunControl::new(go_on))
        })?;
        let found = found.map_err(|error| failure::worth(&error))?;
        Worth::of(py, model, found, &economics)
    }

    /// The seasons alone, one row each and alternative, as columns.
    #[pyo3(signature = (seasons, first = 1, own_wind = false, progress = None))]
    fn seasons<'py>(
        &self,
        py: Python<'py>,
        seasons: usize,
        first: usize,
        own_wind: bool,
        progress: Option<Py<PyAny>>,
    ) -> PyResult<Bound<'py, PyDict>> {
        let (agronomy, economics) = self.asked(Some(seasons), first, own_wind)?;
        let model = &self.resolved.scenario;
        let found = watched(py, progress.as_ref(), |go_on| {
            run_seasons(model, agronomy, &economics, &RunControl::new(go_on))
        })?;
        rows(py, model, &found.map_err(|error| failure::worth(&error))?)
    }

    /// Rotations worth considering, as JSON.
    #[pyo3(signature = (seasons = None, progress = None))]
    fn search_json(
        &self,
        py: Python<'_>,
        seasons: Option<usize>,
        progress: Option<Py<PyAny>>,
    ) -> PyResult<String> {
        let mut wanted = self.resolved.search.clone();
        if let Some(seasons) = seasons {
            wanted.seasons = seasons;
            wanted.first_seasons = wanted.first_seasons.min(seasons);
        }
        let model = &self.resolved.scenario;
        let worth = self.resolved.worth.as_ref().map(|(agronomy, economics)| (agronomy, economics));
        let found = watched(py, progress.as_ref(), |go_on| {
            search::run(model, &wanted, worth, RunControl::new(go_on))
        })?;
        let found = found.map_err(|error: SearchError| PyValueError::new_err(error.to_string()))?;
        search_json(model, &found).map_err(|error| failure::written(&error))
    }

    fn __repr__(&self) -> String {
        let Model { title, alternatives, .. } = &self.resolved.scenario;
        format!("<evenfall.Scenario {title:?}, {} alternatives>", alternatives.len())
    }
}

impl Scenario {
    /// What many seasons rest on, the economics as asked.
    fn asked(
        &self,
        seasons: Option<usize>,
        first: usize,
        own_wind: bool,
    ) -> PyResult<(&Agronomy, Economics)> {
        let Some((agronomy, economics)) = &self.resolved.worth else {
            return Err(PyValueError::new_err(
                "the scenario has no crop, soil and climate, so there is no yield to compare. Give \
                 `crop`, `soil` and `climate`, as the demo does",
            ));
        };
        let Some(first_season) = first.checked_sub(1) else {
            return Err(PyValueError::new_err("first is 0. Seasons are numbered from 1"));
        };
        let mut economics = Economics { first_season, ..economics.clone() };
        if let Some(seasons) = seasons {
            if seasons == 0 {
                return Err(PyValueError::new_err("seasons is 0. Expected 1 or more"));
            }
            economics.seasons = seasons;
            economics.precision = None;
        }
        if own_wind {
            economics.hours_laid = HoursLaid::OwnWind;
        }
        Ok((agronomy, economics))
    }

    fn plan_check(&self, plans: Vec<Plan>) -> PyResult<PlanCheck> {
        let agronomy = self.resolved.worth.as_ref().map(|(agronomy, _)| agronomy);
        check_plan(&self.resolved.scenario, plans, agronomy)
            .map_err(|error: WorthError| failure::worth(&error))
    }

    /// What stands beside a result.
    fn notes(
        &self,
        outcome: &Outcome,
        even: Option<&Outcome>,
        command: &str,
    ) -> PyResult<ReportNotes> {
        let resolved = &self.resolved;
        let plans = outcome.alternatives.iter().map(|found| found.plan.clone()).collect();
        let ReportNotes { warnings, version, digest, .. } = self.checked_notes();
        Ok(ReportNotes {
            question: resolved.question.clone(),
            invented: resolved.invented,
            warnings,
            version,
            digest,
            command: format!("evenfall {command}"),
            plan: Some(self.plan_check(plans)?),
            ..ReportNotes::of(&resolved.scenario, outcome, even)
        })
    }

    /// What is to be said of the scenario itself.
    fn checked_notes(&self) -> ReportNotes {
        let resolved = &self.resolved;
        let assumption = |a: &evenfall_scenario::Assumption| Assumption {
            what: a.what.clone(),
            value: a.value.clone(),
            why: a.why.clone(),
        };
        let input = |input: &evenfall_scenario::Input| Input {
            what: input.what.clone(),
            label: input.label,
            value: input.value.clone(),
            whose: input.whose.word(),
            is_known: input.whose.is_known(),
        };
        ReportNotes {
            assumptions: resolved.assumptions.iter().map(assumption).collect(),
            inputs: resolved.inputs.iter().map(input).collect(),
            warnings: resolved.warnings.clone(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
            digest: resolved.digest.clone(),
            ..ReportNotes::default()
        }
    }
}
