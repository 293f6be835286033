//! `evenfall worth`: many seasons, crop, soil and money, and a verdict in the report.

use crate::arguments::WorthArguments;
use crate::failure::Failure;
use crate::inputs::option;
use crate::notes;
use crate::report::{self, Results, display_units};
use crate::season::{begin, say_where, simulate, simulate_even, with_faults};
use crate::size::{self, Work};
use crate::stopping;
use crate::terminal::Voice;
use evenfall_core::ensemble::StatisticsError;
use evenfall_core::model::Scenario;
use evenfall_core::money::PerArea;
use evenfall_core::season::{HoursLaid, RunControl, SeasonError};
use evenfall_core::worth::{
    self, Agronomy, Economics, HalfWidth, Precision, ShortestSet, Worth, WorthError,
};
use evenfall_figures::{season_headline, worth_table};
use evenfall_scenario::options as keys;
use std::fmt::Write as _;
use std::sync::atomic::{AtomicBool, Ordering};

pub(crate) fn run(options: &WorthArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stopping::flag()?;
    let (loaded, mut draft) = begin(&options.page, "evenfall-report", options.seed, voice)?;
    let scenario = &loaded.resolved.scenario;
    let Some((agronomy, mut economics)) = loaded.resolved.worth.clone() else {
        return Err(Failure::Season(
            "the scenario has no crop, soil and climate, so there is no yield to compare. `evenfall \
             demo` prints a scenario that has them"
                .to_owned(),
        ));
    };
    if let Some(seasons) = options.seasons {
        economics.seasons = usize::from(seasons);
    }
    economics.first_season = options.first_season as usize - 1;
    if options.own_wind {
        economics.hours_laid = HoursLaid::OwnWind;
    }
    if let Some(asked) = &options.target_precision {
        economics.precision = Some(asked_precision(asked, &economics)?);
    }
    if let (Some(most), Some(precision)) = (options.max_seasons, economics.precision.as_mut()) {
        precision.most = usize::from(most);
    }
    if let Some(most) = economics.max_seasons {
        let most = most.saturating_sub(economics.first_season);
        economics.seasons = economics.seasons.min(most);
        economics.precision =
            economics.precision.map(|p| Precision { most: p.most.min(most), ..p });
    }
    size::check(scenario, Work::Seasons)?;
    let plans = size::plans(scenario)?;
    let even = simulate_even(scenario, &plans, &stop, voice)?;
    let outcome = simulate(scenario, plans, &stop, voice)?;
    stopping::patient();
    let mut worth = weigh(scenario, &agronomy, &economics, &stop, voice)?;
    if options.shortest_set && !stop.load(Ordering::SeqCst) {
        worth.shortest_sets = shortest(scenario, &agronomy, &stop, voice)?;
    }
    // A stopped run keeps its finished seasons and says that it is partial; what follows is short.
    let is_partial = stop.swap(false, Ordering::SeqCst);
    let command = command_of(options, &economics, is_partial.then(|| worth.seasons.finished()));
    let report_notes =
        notes::report_notes(&loaded, &outcome, even.as_ref(), &command, options.seed)?;
    let results =
        Results { outcome: &outcome, notes: &report_notes, worth: Some((&worth, &economics)) };
    // Who stops from here on has been told that what is finished is kept, and all seasons are: the report
    // is written to its end.
    report::write(&mut draft, &loaded, &results, &AtomicBool::new(false))?;
    let units = display_units(loaded.resolved.units);
    let table = worth_table(scenario, &worth, &economics, units)?;
    let found = format!("{}\n\n{}", season_headline(scenario, &outcome), table.trim_end());
    let found = with_faults(&notes::plan_faults(&loaded, &report_notes), &found);
    say_where(&loaded, &found, &draft.finish()?.join("report.html"), voice)
}

/// The precision of the command line; the scenario's limit of seasons, if it has one, holds on.
fn asked_precision(text: &str, economics: &Economics) -> Result<Precision, Failure> {
    let half_width = if text.trim_end().ends_with('%') {
        HalfWidth::Yield(option("target-precision", text, keys::yield_precision)?)
    } else if economics.prices.missing_value().is_empty() {
        HalfWidth::Net(PerArea::of_ha(option("target-precision", text, keys::net_precision)?))
    } else {
        return Err(Failure::Usage(
            "--target-precision: the scenario gives no crop price. Ask for a share of the yield, such \
             as \"0.2 %\""
                .to_owned(),
        ));
    };
    let most =
        economics.precision.map_or_else(keys::starting_max_seasons, |precision| precision.most);
    Ok(Precision { half_width, most })
}

/// The command that gives the same report again; of a stopped run, that of the seasons it rests on.
fn command_of(options: &WorthArguments, economics: &Economics, kept: Option<usize>) -> String {
    let mut command = format!("worth --seasons {}", kept.unwrap_or(economics.seasons));
    if options.first_season > 1 {
        let _ = write!(command, " --first-season {}", options.first_season);
    }
    if kept.is_some() {
        return command + if options.own_wind { " --own-wind" } else { "" };
    }
    if let Some(precision) = &options.target_precision {
        let _ = write!(command, " --target-precision \"{precision}\"");
    }
    if let Some(most) = options.max_seasons {
        let _ = write!(command, " --max-seasons {most}");
    }
    if options.own_wind {
        command += " --own-wind";
    }
    if options.shortest_set {
        command += " --shortest-set";
    }
    command
}

/// The shortest sets; none where that is stopped.
fn shortest(
    scenario: &Scenario,
    agronomy: &Agronomy,
    stop: &AtomicBool,
    voice: Voice,
) -> Result<Vec<ShortestSet>, Failure> {
    let found = voice.watched(("Shortening sets", "seasons of a step"), stop, |go_on| {
        worth::shortest_sets(scenario, agronomy, &RunControl::new(go_on))
    });
    match found {
        Ok(found) => Ok(found),
        Err(WorthError::Season(SeasonError::Stopped { .. })) => Ok(Vec::new()),
        Err(WorthError::Season(error)) => Err(error.into()),
        Err(other) => Err(Failure::Season(other.to_string())),
    }
}

fn weigh(
    scenario: &Scenario,
    agronomy: &Agronomy,
    economics: &Economics,
    stop: &AtomicBool,
    voice: Voice,
) -> Result<Worth, Failure> {
    let worth = voice.watched(("Running seasons", "seasons"), stop, |go_on| {
        worth::run(scenario, agronomy, economics, RunControl::new(go_on))
    });
    worth.map_err(|error| match error {
        WorthError::Season(SeasonError::Stopped { done, total }) => {
            Failure::Interrupted(format!("after {done} of {total} seasons. Nothing was written"))
        }
        WorthError::Season(error) => error.into(),
        WorthError::Statistics(StatisticsError::TooFewSeasons { .. })
            if stop.load(Ordering::SeqCst) =>
        {
            Failure::Interrupted("before two seasons were done. Nothing was written".to_owned())
        }
        other => Failure::Season(other.to_string()),
    })
}
