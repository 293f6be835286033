//! `evenfall edges`: the treatments of the field's edges compared.

use crate::arguments::EdgesArguments;
use crate::failure::Failure;
use crate::inputs::option;
use crate::notes::study_notes;
use crate::report::{display_units, write_study};
use crate::season::{begin, say_where};
use crate::stopping;
use crate::terminal::{PASSES, Voice};
use evenfall_core::edge_trial::{self, EdgeOption};
use evenfall_core::model::{Alternative, Scenario};
use evenfall_core::money::Price;
use evenfall_core::season::RunControl;
use evenfall_figures::{EdgeStudy, edges_study};
use evenfall_scenario::{Resolved, options as keys};
use evenfall_view::UnitSystem;
use evenfall_view::units::Quantity;

pub(crate) fn run(options: &EdgesArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stopping::flag()?;
    let (loaded, mut draft) = begin(&options.page, "evenfall-edges", None, voice)?;
    let scenario = &loaded.resolved.scenario;
    let index = chosen(scenario, options.alternative.as_deref())?;
    let asked = &scenario.alternatives[index];
    let units = display_units(loaded.resolved.units);
    let first_m: Vec<f64> = options
        .first_outlet
        .iter()
        .map(|text| option("first-outlet", text, keys::first_outlet))
        .collect::<Result<_, _>>()?;
    let width_m = scenario.field.grid.width_across_m();
    if let Some(far) = first_m.iter().position(|first_m| *first_m > width_m) {
        let what = &options.first_outlet[far];
        return Err(Failure::Usage(format!("--first-outlet \"{what}\": that is off the field")));
    }
    let tried: Vec<(EdgeOption, String)> = edge_trial::options(asked, &first_m)
        .into_iter()
        .map(|option| (option, name(option, units)))
        .collect();
    let seasons = if scenario.weather.is_drawn() { usize::from(options.seasons) } else { 1 };
    let trial = voice.watched(PASSES, &stop, |go_on| {
        edge_trial::run(scenario, index, &tried, seasons, &RunControl::new(go_on))
    })?;
    let refused = trial.refused.iter().map(|(option, _)| name(*option, units)).collect::<Vec<_>>();
    let study = EdgeStudy {
        trial: &trial,
        alternative: &asked.name,
        refused: &refused,
        labor_per_move_h: labor_per_move_h(&loaded.resolved),
    };
    let command = command(options, asked);
    let page = edges_study(&study, &study_notes(&loaded, &command), units)?;
    write_study(&mut draft, "edges.html", &page, &stop)?;
    say_where(&loaded, &page.text, &draft.finish()?.join("edges.html"), voice)
}

/// Labor for one move, h, where it is known, and whether it is a placeholder.
pub(crate) fn labor_per_move_h(resolved: &Resolved) -> Option<(f64, bool)> {
    let (_, economics) = resolved.worth.as_ref()?;
    let labor = economics.prices.of(Price::LaborPerMove)?;
    Some((labor.value, labor.is_placeholder))
}

/// The alternative that was asked for; without a name, the first that shifts across the field.
pub(crate) fn chosen(scenario: &Scenario, name: Option<&str>) -> Result<usize, Failure> {
    let all = &scenario.alternatives;
    let Some(name) = name else {
        let shifts = |a: &Alternative| a.rotation.shifts().iter().any(|s| s.across_m != 0.0);
        return all.iter().position(shifts).ok_or_else(|| {
            Failure::Usage(
                "no alternative is shifted across the field, so there is nothing to compare. Name one \
                 with --alternative to run it anyway"
                    .to_owned(),
            )
        });
    };
    named(all, name)
}

/// The alternative of this name.
pub(crate) fn named(all: &[Alternative], name: &str) -> Result<usize, Failure> {
    all.iter().position(|a| a.name.eq_ignore_ascii_case(name)).ok_or_else(|| {
        let names = all.iter().map(|a| format!("\"{}\"", a.name)).collect::<Vec<_>>().join(", ");
        Failure::Usage(format!("--alternative \"{name}\": the scenario has {names}"))
    })
}

fn name(option: EdgeOption, units: UnitSystem) -> String {
    match option {
        EdgeOption::Treated(edges) => {
            let words = edges.words();
            words[..1].to_uppercase() + &words[1..]
        }
        EdgeOption::FirstOutletAt(first_m) => {
            format!("First outlet at {} from the edge", units.text(Quantity::Length, first_m, 1))
        }
    }
}

fn command(options: &EdgesArguments, asked: &Alternative) -> String {
    let first = options.first_outlet.iter().map(|first| format!(" --first-outlet \"{first}\""));
    format!(
        "edges --alternative \"{}\" --seasons {}{}",
        asked.name,
        options.seasons,
        first.collect::<String>()
    )
}
