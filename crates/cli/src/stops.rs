//! `evenfall stops`: where a lateral can stop, before anything is simulated.

use crate::arguments::StopsArguments;
use crate::failure::Failure;
use crate::inputs::{self, option};
use crate::report::display_units;
use crate::terminal::Voice;
use crate::wheels::Wheels;
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::lateral::wheel::HOW_TO_MEASURE;
use evenfall_core::lateral::{Machine, Outlets, Wheel, WheelSize};
use evenfall_core::model::Alternative;
use evenfall_core::rotation::letter;
use evenfall_figures::{stops_json, stops_table, wheels_json, wheels_table};
use evenfall_scenario::options as keys;
use evenfall_view::UnitSystem;
use evenfall_view::units::Quantity;
use std::fmt::Write as _;

pub(crate) fn table(options: &StopsArguments, voice: Voice) -> Result<String, Failure> {
    let wheels = Wheels::given(&options.wheels)?;
    match (&options.outlet_spacing, &options.reach, &options.scenario) {
        (Some(spacing), Some(reach), None) if !wheels.is_empty() => {
            of_options(options, &wheels, spacing, reach)
        }
        (None, None, Some(_)) if !wheels.is_empty() => at_its_outlets(options, &wheels, voice),
        (None, None, _) if wheels.is_empty() => of_scenario(options, voice),
        _ => Err(Failure::Usage(
            "give wheels (--wheel, --wheel-sizes, --travel-per-turn or --outside-diameter) with \
             --outlet-spacing and --reach, or with a scenario whose outlets they are to stand at; or a \
             scenario alone"
                .to_owned(),
        )),
    }
}

/// The wheels given, at the outlets given.
fn of_options(
    options: &StopsArguments,
    wheels: &Wheels,
    spacing: &str,
    reach: &str,
) -> Result<String, Failure> {
    let leveler_range_deg = option("leveler-range", &options.leveler_range, keys::leveler_range)?;
    let outlets = Outlets {
        spacing_m: option("outlet-spacing", spacing, keys::outlet_spacing)?,
        first_m: 0.0,
        count: usize::from(options.outlets),
        reach_m: option("reach", reach, keys::reach)?,
        field_width_m: f64::INFINITY,
    };
    // The answer comes in the units of the question.
    let units = if spacing.trim_end().ends_with('m') { UnitSystem::Si } else { UnitSystem::Us };
    if options.json {
        return of_wheels_json(wheels, leveler_range_deg, &outlets);
    }
    Ok(of_wheels(wheels, leveler_range_deg, &outlets, units))
}

/// The wheels given, at the outlets of the scenario's first alternative.
fn at_its_outlets(
    options: &StopsArguments,
    wheels: &Wheels,
    voice: Voice,
) -> Result<String, Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let first = loaded.resolved.scenario.alternatives.first();
    let Some((Machine::WheelLine(wheel), outlets)) = first.map(|a| (a.lateral.machine, a.outlets))
    else {
        return Err(Failure::Usage("this lateral is moved by hand and has no wheels".to_owned()));
    };
    if options.json {
        return of_wheels_json(wheels, wheel.leveler_range_deg, &outlets);
    }
    let units = display_units(loaded.resolved.units);
    Ok(of_wheels(wheels, wheel.leveler_range_deg, &outlets, units))
}

/// The wheels given as JSON, each with its name.
fn of_wheels_json(
    wheels: &Wheels,
    leveler_range_deg: f64,
    outlets: &Outlets,
) -> Result<String, Failure> {
    let rolling = |(name, travel_m)| (name, Wheel::new(travel_m, leveler_range_deg));
    let all: Vec<(String, Wheel)> = wheels.all().into_iter().map(rolling).collect();
    Ok(wheels_json(&all, outlets, &wheels.questions)?)
}

/// One wheel with every place beside the outlet, several side by side; then what to ask and how to
/// measure.
fn of_wheels(
    wheels: &Wheels,
    leveler_range_deg: f64,
    outlets: &Outlets,
    units: UnitSystem,
) -> String {
    let rolling = |travel_per_turn_m| Wheel::new(travel_per_turn_m, leveler_range_deg);
    let all = wheels.all();
    let mut text = if let [(_, travel_m)] = all.as_slice() {
        wheel_table(&rolling(*travel_m), wheels.sizes.first().copied(), outlets, units)
    } else {
        let rows = all.into_iter().map(|(name, travel_m)| {
            let wheel = rolling(travel_m);
            (name, wheel, wheel_reach(&wheel, outlets))
        });
        let by_name = if wheels.sizes.is_empty() { "" } else { BY_NAME };
        format!(
            "{}{by_name}\n\n{}",
            outlet_words(outlets, units),
            wheels_table(&rows.collect::<Vec<_>>(), units)
        )
    };
    for question in &wheels.questions {
        // Writing to a String cannot fail.
        let _ = writeln!(text, "\nNote: {question}");
    }
    text + &how_to_measure()
}

/// Said where wheels are named.
const BY_NAME: &str =
    "\nWhat a size rolls goes by the trade’s name for it: common practice, no source.";

fn how_to_measure() -> String {
    format!(
        "\n{HOW_TO_MEASURE}\nGive it as --travel-per-turn, or write it as `travel_per_turn` in a scenario: \
         a measured roll goes before a name and before a diameter.\n"
    )
}

fn of_scenario(options: &StopsArguments, voice: Voice) -> Result<String, Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    if options.json {
        return Ok(stops_json(&loaded.resolved.scenario, &loaded.resolved.digest)?);
    }
    let units = display_units(loaded.resolved.units);
    // Alternatives that stand on the same wheels at the same outlets share one table.
    let mut tables: Vec<(Vec<&str>, String)> = Vec::new();
    for alternative in &loaded.resolved.scenario.alternatives {
        let table = match &alternative.lateral.machine {
            Machine::WheelLine(wheel) => {
                wheel_table(wheel, None, &alternative.line_outlets(), units)
            }
            Machine::HandMove => hand_moved(alternative, units),
        };
        match tables.iter_mut().find(|(_, known)| *known == table) {
            Some((names, _)) => names.push(&alternative.name),
            None => tables.push((vec![&alternative.name], table)),
        }
    }
    let text = tables.iter().map(|(names, table)| format!("{}\n{table}", names.join(", ")));
    let mut text = text.collect::<Vec<_>>().join("\n");
    for note in &loaded.resolved.warnings {
        // Writing to a String cannot fail.
        let _ = writeln!(text, "\nNote: {note}");
    }
    let rolls = |one: &Alternative| matches!(one.lateral.machine, Machine::WheelLine(_));
    let has_wheels = loaded.resolved.scenario.alternatives.iter().any(rolls);
    Ok(if has_wheels { text + &how_to_measure() } else { text })
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

/// What a wheel was asked about, then what it can do; with its size where it was named.
fn wheel_table(
    wheel: &Wheel,
    size: Option<WheelSize>,
    outlets: &Outlets,
    units: UnitSystem,
) -> String {
    let (name, by_name) = match size {
        Some(size) => (format!("{} ", size.name()), BY_NAME),
        None => (String::new(), ""),
    };
    format!(
        "The {name}wheels roll {} a turn. {}{by_name}\n\n{}",
        units.text(Quantity::Length, wheel.travel_per_turn_m, 2),
        outlet_words(outlets, units),
        stops_table(&wheel_reach(wheel, outlets), units)
    )
}

fn outlet_words(outlets: &Outlets, units: UnitSystem) -> String {
    let length = |length_m: f64| units.text(Quantity::Length, length_m, 2);
    format!(
        "Outlet spacing is {}. The hose or swing joint reaches {}.",
        length(outlets.spacing_m),
        length(outlets.reach_m)
    )
}
