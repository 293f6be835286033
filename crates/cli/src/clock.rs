//! `evenfall clock`: when and where each set runs.

use crate::arguments::ClockArguments;
use crate::failure::Failure;
use crate::inputs;
use crate::notes::clock_notices;
use crate::report::display_units;
use crate::size;
use crate::terminal::Voice;
use evenfall_core::clock::FieldClock;
use evenfall_core::lateral::{Lines, Side};
use evenfall_core::schedule::{Calendar, PassPlan, Plan, SetPlan};
use evenfall_figures::clock_json;
use evenfall_view::UnitSystem;
use evenfall_view::units::Quantity;
use std::fmt::Write as _;

pub(crate) fn table(options: &ClockArguments, voice: Voice) -> Result<String, Failure> {
    let loaded = inputs::load(options.scenario.as_deref(), voice)?;
    let scenario = &loaded.resolved.scenario;
    let units = display_units(loaded.resolved.units);
    let plans = size::plans(scenario)?;
    if options.json {
        return Ok(clock_json(scenario, &loaded.resolved.digest, &plans)?);
    }
    let mut text = String::new();
    for (alternative, plan) in scenario.alternatives.iter().zip(&plans) {
        let calendar = scenario.calendar_of(alternative);
        // Writing to a String cannot fail, here and below.
        let _ = writeln!(
            text,
            "{}: {} passes, {:.0} % of the hours by day",
            alternative.name,
            plan.passes.len(),
            100.0 * plan.day_night.day_share
        );
        for (number, pass) in plan.passes.iter().enumerate() {
            write_pass(&mut text, plan, number, pass, units);
            if options.sets {
                let lines = &alternative.lateral.lines;
                write_sets(&mut text, (plan, calendar, lines), pass, units);
            }
        }
        text.push('\n');
    }
    let _ = writeln!(text, "{}\n", clock_words(&scenario.calendar.clock));
    for notice in clock_notices(scenario)? {
        let _ = writeln!(text, "Note: {notice}");
    }
    Ok(text)
}

fn write_pass(text: &mut String, plan: &Plan, number: usize, pass: &PassPlan, units: UnitSystem) {
    let (start_h, end_h) = pass.span_h();
    let _ = writeln!(
        text,
        "  pass {:>3}  stop {} at {:>9} from the outlet{}  {} to {}  {} sets",
        number + 1,
        pass.letter,
        units.text(Quantity::Length, pass.shift.across_m, 1),
        along(pass, units),
        when(plan, start_h),
        when(plan, end_h),
        pass.sets.len()
    );
}

/// Which clock the times are of.
fn clock_words(clock: &FieldClock) -> String {
    match clock.zone_name() {
        Some(zone) => format!("Times are as the clock shows them in {zone}."),
        None => "Times are standard time, without daylight saving. With `time_zone` in the \
                 field's section they are as your clock shows them."
            .to_owned(),
    }
}

/// The shift along the pipe in words, if there is one.
fn along(pass: &PassPlan, units: UnitSystem) -> String {
    let along_m = pass.shift.along_m;
    let way = if along_m < 0.0 { "back along" } else { "along" };
    let far = units.text(Quantity::Length, along_m.abs(), 1);
    if along_m == 0.0 { String::new() } else { format!(", {far} {way} the pipe") }
}

fn write_sets(
    text: &mut String,
    (plan, calendar, lines): (&Plan, &Calendar, &Lines),
    pass: &PassPlan,
    units: UnitSystem,
) {
    let mut before_h: Option<f64> = None;
    for set in &pass.sets {
        let reasons =
            before_h.map_or_else(Vec::new, |end_h| plan.waited(calendar, end_h, set.start_h));
        before_h = Some(set.end_h);
        if !reasons.is_empty() {
            let _ = writeln!(text, "      no water: {}", reasons.join(", "));
        }
        let _ = writeln!(
            text,
            "      {}outlet {:>3}  line at {:>10} across  {} to {}{}",
            who(lines, set),
            set.outlet + 1,
            units.text(Quantity::Length, set.place_across_m, 1),
            when(plan, set.start_h),
            when(plan, set.end_h),
            off_mark(set, units)
        );
    }
}

/// Which line a set is of and on which side of the mainline, where there are several.
fn who(lines: &Lines, set: &SetPlan) -> String {
    let line = if lines.count > 1 { format!("line {:>2}  ", set.line + 1) } else { String::new() };
    let side = match (lines.left_first_m, set.side) {
        (None, _) => "",
        (Some(_), Side::Right) => "right  ",
        (Some(_), Side::Left) => "left   ",
    };
    line + side
}

/// How far whole turns leave the line off its mark, in words, if they do.
fn off_mark(set: &SetPlan, units: UnitSystem) -> String {
    let side = if set.drift_m < 0.0 { "before" } else { "past" };
    let far = units.text(Quantity::Length, set.drift_m.abs(), 1);
    if set.drift_m == 0.0 { String::new() } else { format!("  {far} {side} its mark") }
}

fn when(plan: &Plan, hour_h: f64) -> String {
    let shown = plan.shown(hour_h);
    let at = shown.at.strftime("%Y-%m-%d %H:%M");
    // A time that the clock shows twice has its zone beside it.
    if shown.is_twice { format!("{at} {}", shown.abbreviation) } else { at.to_string() }
}
