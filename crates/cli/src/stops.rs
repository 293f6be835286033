//! `evenfall stops`: where a lateral can stop, before anything is simulated.

use crate::arguments::StopsArguments;
use crate::failure::Failure;
use crate::inputs::{self, option};
use crate::report::display_units;
use crate::terminal::Voice;
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::lateral::wheel::travel_per_turn_m;
use evenfall_core::lateral::{Machine, Outlets, Wheel};
use evenfall_core::model::Alternative;
use evenfall_core::rotation::letter;
use evenfall_figures::stops_table;
use evenfall_scenario::options as keys;
use evenfall_view::UnitSystem;
use evenfall_view::units::Quantity;
use std::fmt::Write as _;

pub(crate) fn table(options: &StopsArguments, voice: Voice) -> Result<String, Failure> {
    match (
        &options.outlet_spacing,
        &options.reach,
        options.travel_per_turn.is_some() || options.outside_diameter.is_some(),
    ) {
        (Some(spacing), Some(reach), true) => of_options(options, spacing, reach),
        (None, None, false) => of_scenario(options, voice),
        _ => Err(Failure::Usage(
            "give one whole wheel (--outlet-spacing and --reach with --travel-per-turn or \
             --outside-diameter), or a scenario"
                .to_owned(),
        )),
    }
}

fn of_options(options: &StopsArguments, spacing: &str, reach: &str) -> Result<String, Failure> {
    let travel_m = match (&options.travel_per_turn, &options.outside_diameter) {
        (Some(travel), _) => option("travel-per-turn", travel, keys::travel_per_turn)?,
        (None, Some(diameter)) => {
            let slip =
                option("slip-and-sinkage", &options.slip_and_sinkage, keys::slip_and_sinkage)?;
            travel_per_turn_m(option("outside-diameter", diameter, keys::outside_diameter)?, slip)
        }
        (None, None) => {
            return Err(Failure::Usage("give --travel-per-turn or --outside-diameter".to_owned()));
        }
    };
    let levelers = option("leveler-range", &options.leveler_range, keys::leveler_range)?;
    let wheel = Wheel::new(travel_m, levelers);
    let outlets = Outlets {
        spacing_m: option("outlet-spacing", spacing, keys::outlet_spacing)?,
        first_m: 0.0,
        count: usize::from(options.outlets),
        reach_m: option("reach", reach, keys::reach)?,
    };
    // The answer comes in the units of the question.
    let units = if spacing.trim_end().ends_with('m') { UnitSystem::Si } else { UnitSystem::Us };
    Ok(wheel_table(&wheel, &outlets, units))
}

fn of_scenario(options: &StopsArguments, voice: Voice) -> Result<String, Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let units = display_units(loaded.resolved.units);
    // Alternatives that stand on the same wheels at the same outlets share one table.
    let mut tables: Vec<(Vec<&str>, String)> = Vec::new();
    for alternative in &loaded.resolved.scenario.alternatives {
        let table = match &alternative.lateral.machine {
            Machine::WheelLine(wheel) => wheel_table(wheel, &alternative.outlets, units),
            Machine::HandMove => hand_moved(alternative, units),
        };
        match tables.iter_mut().find(|(_, known)| *known == table) {
            Some((names, _)) => names.push(&alternative.name),
            None => tables.push((vec![&alternative.name], table)),
        }
    }
    let text = tables.iter().map(|(names, table)| format!("{}\n{table}", names.join(", ")));
    Ok(text.collect::<Vec<_>>().join("\n"))
}

/// Where a hand-moved lateral can stand, and where its rotation puts it.
fn hand_moved(alternative: &Alternative, units: UnitSystem) -> String {
    let length = |length_m: f64| units.text(Quantity::Length, length_m, 1);
    let mut text = format!(
        "Moved by hand: it can stop anywhere within {} of the outlet across the field, and up to {} \
         along the pipe.\nstop       across       along\n",
        length(alternative.outlets.reach_m),
        length(alternative.lateral.sprinkler_spacing_m)
    );
    for (index, shift) in alternative.rotation.distinct().iter().enumerate() {
        let (across, along) = (length(shift.across_m), length(shift.along_m));
        // Writing to a String cannot fail.
        let _ = writeln!(text, "{:<4}  {across:>10}  {along:>10}", letter(index));
    }
    text
}

/// What a wheel was asked about, then what it can do.
fn wheel_table(wheel: &Wheel, outlets: &Outlets, units: UnitSystem) -> String {
    let length = |length_m: f64| units.text(Quantity::Length, length_m, 2);
    format!(
        "The wheels roll {} a turn. Outlet spacing is {}. The hose or swing joint reaches {}.\n\n{}",
        length(wheel.travel_per_turn_m),
        length(outlets.spacing_m),
        length(outlets.reach_m),
        stops_table(&wheel_reach(wheel, outlets), units)
    )
}
