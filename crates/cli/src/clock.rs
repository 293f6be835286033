//! `evenfall clock`: when and where each set runs.

use crate::failure::Failure;
use crate::inputs;
use crate::notes::clock_notices;
use crate::season::display_units;
use crate::terminal::Voice;
use evenfall_core::season;
use evenfall_figures::units::Quantity;
use std::fmt::Write as _;
use std::path::Path;

pub(crate) fn table(path: Option<&Path>, voice: Voice) -> Result<String, Failure> {
    let loaded = inputs::load(path, voice)?;
    let scenario = &loaded.resolved.scenario;
    let units = display_units(loaded.resolved.units);
    let plans = season::plans(scenario).map_err(|error| Failure::Season(error.to_string()))?;
    let mut text = String::new();
    // Writing to a String cannot fail.
    for (alternative, plan) in scenario.alternatives.iter().zip(&plans) {
        let _ = writeln!(
            text,
            "{}: {} passes, {:.0} % of the water by day",
            alternative.name,
            plan.passes.len(),
            100.0 * plan.day_night.day_share
        );
        for (number, pass) in plan.passes.iter().enumerate() {
            let (start_h, end_h) = pass.span_h();
            let when = |hour_h| plan.date_time(hour_h).strftime("%Y-%m-%d %H:%M");
            let _ = writeln!(
                text,
                "  pass {:>3}  stop {} at {:>9} from the outlet  {} to {}  {} sets",
                number + 1,
                pass.letter,
                units.text(Quantity::Length, pass.shift.across_m, 1),
                when(start_h),
                when(end_h),
                pass.sets.len()
            );
        }
        text.push('\n');
    }
    for notice in clock_notices(scenario)? {
        let _ = writeln!(text, "Mind: {notice}");
    }
    Ok(text)
}
