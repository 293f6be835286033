//! `evenfall fit`: the ways out where whole turns of the wheels do not end at the outlets, compared.

use crate::arguments::FitArguments;
use crate::edges::{labor_per_move_h, named};
use crate::failure::Failure;
use crate::notes::study_notes;
use crate::report::{display_units, write_study};
use crate::season::{begin, say_where};
use crate::stopping;
use crate::terminal::{PASSES, Voice};
use evenfall_core::fit_trial::{self, WayOut, ways_out};
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::lateral::{Machine, TurnRule, Wheel};
use evenfall_core::model::Alternative;
use evenfall_core::season::RunControl;
use evenfall_figures::{FitStudy, fit_study};
use evenfall_view::UnitSystem;
use evenfall_view::units::Quantity;

pub(crate) fn run(options: &FitArguments, voice: Voice) -> Result<(), Failure> {
    let stop = stopping::flag()?;
    options.on_pipe.check()?;
    let (loaded, mut draft) = begin(&options.page, "evenfall-fit", None, voice)?;
    let scenario = &loaded.resolved.scenario;
    let units = display_units(loaded.resolved.units);
    let (index, wheel) = chosen(&scenario.alternatives, options.alternative.as_deref(), units)?;
    let asked = &scenario.alternatives[index];
    let (on_pipe, on_pipe_words) = options.on_pipe.of(&loaded.resolved, asked)?;
    let ways: Vec<(WayOut, String)> =
        ways_out(asked).into_iter().map(|way| (way, name(way, units))).collect();
    let seasons = if scenario.weather.is_drawn() { usize::from(options.seasons) } else { 1 };
    let trial = voice.watched(PASSES, &stop, |go_on| {
        fit_trial::run(scenario, index, &ways, (seasons, on_pipe), &RunControl::new(go_on))
    })?;
    let length = |m: f64| units.text(Quantity::Length, m, 1);
    let fit = wheel_reach(&Wheel { part_turns: None, ..wheel }, &asked.outlets).fit_words(length);
    let refused = trial.refused.iter().map(|(way, _)| name(*way, units)).collect::<Vec<_>>();
    let study = FitStudy {
        trial: &trial,
        alternative: &asked.name,
        fit: fit.first().map_or("", String::as_str),
        refused: &refused,
        reach_m: asked.outlets.reach_m,
        labor_per_move_h: labor_per_move_h(&loaded.resolved),
    };
    let command = format!(
        "fit --alternative \"{}\" --seasons {}{on_pipe_words}",
        asked.name, options.seasons
    );
    let page = fit_study(&study, &study_notes(&loaded, &command), units)?;
    write_study(&mut draft, "fit.html", &page, &stop)?;
    say_where(&loaded, &page.text, &draft.finish()?.join("fit.html"), voice)
}

/// The alternative that was asked for, or the first whose whole turns do not end at its outlets.
fn chosen(
    all: &[Alternative],
    name: Option<&str>,
    units: UnitSystem,
) -> Result<(usize, Wheel), Failure> {
    let index = match name {
        Some(name) => named(all, name)?,
        None => all.iter().position(|one| !ways_out(one).is_empty()).unwrap_or_default(),
    };
    let Some(asked) = all.get(index) else {
        return Err(Failure::Usage("the scenario has no alternative".to_owned()));
    };
    let Machine::WheelLine(wheel) = asked.lateral.machine else {
        let name = &asked.name;
        let why = "is moved by hand and stands where it is put, so there is nothing to compare";
        return Err(Failure::Usage(format!("\"{name}\" {why}")));
    };
    if ways_out(asked).is_empty() {
        let length = |m: f64| units.text(Quantity::Length, m, 1);
        let fit = wheel_reach(&wheel, &asked.outlets).fit_words(length).join(" ");
        let fit = fit.replace('\u{a0}', " ");
        return Err(Failure::Usage(format!("{fit} There is nothing to compare")));
    }
    Ok((index, wheel))
}

fn name(way: WayOut, units: UnitSystem) -> String {
    match way {
        WayOut::Turns(TurnRule::AtReach) => "A turn more only where the hose ends".to_owned(),
        WayOut::Turns(TurnRule::Nearest) => {
            "A turn more as soon as it brings the line nearer".to_owned()
        }
        WayOut::OutletsApart(spacing_m) => {
            format!("Outlets {} apart", units.text(Quantity::Length, spacing_m, 1))
        }
        WayOut::PartTurns => "Stops at part of a turn, full-swing levelers".to_owned(),
    }
}
