//! Season, air and losses with their defaults, and the clock's cross-checks.

use super::{closed, drift};
use crate::file::{AirFile, LossFormula, LossesFile, SeasonFile};
use crate::issue::Issue;
use crate::notes::Notes;
use evenfall_core::clock::hours_between;
use evenfall_core::lateral::{EdgeTreatment, OrderProblem, SetOrder};
use evenfall_core::model::Alternative;
use evenfall_core::schedule::{self, Calendar, Plan, ScheduleError, SeasonLength};
use evenfall_core::sprinkler::losses::Losses;
use evenfall_core::weather::AssumedAir;

/// A season longer than this is told, h.
const LONG_SEASON_H: f64 = 366.0 * 24.0;
/// A season longer than this is refused, h: ten years, surely a slip.
const LONGEST_SEASON_H: f64 = 10.0 * LONG_SEASON_H;

/// The calendar.
pub(crate) fn calendar(given: &SeasonFile, notes: &mut Notes<'_>) -> Calendar {
    let length = match (&given.until, &given.passes) {
        (Some(until), _) => {
            if until.value <= given.start.value {
                let problem = "the season ends before it starts";
                notes.issues.push(
                    Issue::new(&until.at, problem)
                        .allowed(format!("later than the start, {}", given.start.value)),
                );
            }
            if hours_between(given.start.value, until.value) > LONGEST_SEASON_H {
                let problem = "the season lasts more than ten years";
                notes.issues.push(Issue::new(&until.at, problem).allowed("at most ten years"));
            }
            SeasonLength::Until(notes.clock.standard(until.value, None))
        }
        // The reader has seen to it that one of the two is there.
        (None, passes) => SeasonLength::Passes(passes.as_ref().map_or(0, |p| p.value as usize)),
    };
    if let (Some(idle), Some(_)) = (&given.idle_between_passes, &given.pass_interval) {
        let problem =
            "`idle_between_passes` and `pass_interval` both say when the next pass begins";
        notes.issues.push(Issue::new(&idle.at, problem).hint("Remove one of the two."));
    }
    check_calls(given, notes);
    let at = &given.at.pointer;
    let move_gap_h = SeasonFile::move_time.or_start(Some(&given.move_time), at, notes);
    let return_time_h = SeasonFile::return_time.or_start(Some(&given.return_time), at, notes);
    let idle_h = match (&given.pass_interval, &given.idle_between_passes) {
        (Some(_), _) => 0.0,
        _ if given.irrigate_at_depletion.is_some() => 0.0,
        (None, idle) => SeasonFile::idle_between_passes.or_start(Some(idle), at, notes),
    };
    let set_time_h = given.set_time.value;
    let order = order(given, notes);
    if let Some(sets) = given.sets_per_day.as_ref().map(|sets| sets.value as u32) {
        // The plan would tell this too, but only once everything else is right.
        if f64::from(sets) * (set_time_h + move_gap_h) > 24.0 + 1e-6 {
            let overlap = ScheduleError::SetsOverlap { sets, set_time_h, move_gap_h };
            notes.issues.push(clash(given, &overlap));
        }
    } else {
        SeasonFile::sets_per_day.assume(at, "not fixed", notes);
    }
    Calendar {
        start: notes.clock.standard(given.start.value, None),
        length,
        set_time_h,
        move_gap_h,
        sets_a_day: given.sets_per_day.as_ref().map(|sets| sets.value as u32),
        return_time_h,
        idle_h,
        pass_every_h: given.pass_interval.as_ref().map(|every| every.value),
        order,
        openings: closed::openings(given, notes),
        clock: notes.clock.clone(),
    }
}

/// The order of sets. What is usual is not told.
fn order(given: &SeasonFile, notes: &mut Notes<'_>) -> SetOrder {
    let Some(list) = &given.outlet_order else {
        return given.set_order.map_or(SetOrder::DryReturn, SetOrder::from);
    };
    if given.set_order.is_some() {
        let problem = "`set_order` and `outlet_order` both say which outlet comes next";
        notes.issues.push(Issue::new(&list.at, problem).hint("Remove one of the two."));
    }
    SetOrder::Listed(list.items.iter().map(|number| number.value as usize - 1).collect())
}

/// Tells what is wrong with the order of sets at these outlets.
fn check_order(
    given: &SeasonFile,
    alternative: &Alternative,
    calendar: &Calendar,
    notes: &mut Notes<'_>,
) -> bool {
    let count = alternative.outlets.count;
    let problems = calendar.order.problems(count);
    let numbers = |list: &[usize]| {
        let list: Vec<String> = list.iter().map(|outlet| (outlet + 1).to_string()).collect();
        list.join(", ")
    };
    for problem in &problems {
        let what = match problem {
            OrderProblem::Missing(list) => format!("leaves out {}", numbers(list)),
            OrderProblem::Twice(outlet) => format!("names {} more than once", outlet + 1),
            OrderProblem::NoSuch(outlet) => format!("names {}, which is not there", outlet + 1),
        };
        // The common list is told once, for all alternatives.
        let whose = alternative.calendar.as_ref().map(|_| format!("\"{}\": ", alternative.name));
        let problem = format!("{}the list of outlets {what}", whose.unwrap_or_default());
        let at = given.outlet_order.as_ref().map_or_else(|| given.at.opening(), |o| o.at.clone());
        notes.issues.push(
            Issue::new(&at, problem)
                .allowed(format!("each outlet from 1 to {count} once"))
                .hint("Name the outlets in the order in which a pass waters them."),
        );
    }
    problems.is_empty()
}

/// Keys that make no sense beside or without `irrigate_at_depletion`.
fn check_calls(given: &SeasonFile, notes: &mut Notes<'_>) {
    let Some(depletion) = &given.irrigate_at_depletion else {
        if let Some(every) = &given.min_pass_interval {
            let problem = "`min_pass_interval` without `irrigate_at_depletion`";
            let hint = "Add `irrigate_at_depletion`, or take `pass_interval` for a fixed interval.";
            notes.issues.push(Issue::new(&every.at, problem).hint(hint));
        }
        return;
    };
    if given.pass_interval.is_some() || given.idle_between_passes.is_some() {
        let problem = "`irrigate_at_depletion` and `pass_interval` (or `idle_between_passes`) both say when the next pass begins";
        notes.issues.push(Issue::new(&depletion.at, problem).hint("Remove one of the two."));
    }
    if given.min_pass_interval.is_none() {
        SeasonFile::min_pass_interval.assume(&given.at.pointer, "none", notes);
    }
}

/// Every alternative's plan with its name; what overlaps or does not fit is told, and then there
/// are none.
pub(crate) fn check_plans(
    given: &SeasonFile,
    calendar: &Calendar,
    alternatives: &[Alternative],
    notes: &mut Notes<'_>,
) -> Option<Vec<(String, Plan)>> {
    // An end that is out of place has been told already; a plan up to it might never end.
    let own = alternatives.iter().filter_map(|alternative| alternative.calendar.as_ref());
    if own.chain([calendar]).any(ends_out_of_place) {
        return None;
    }
    let plan = |alternative: &Alternative| {
        let calendar = alternative.calendar.as_ref().unwrap_or(calendar);
        if !check_order(given, alternative, calendar, notes) {
            return None;
        }
        match schedule::plan(calendar, &alternative.stops()) {
            Ok(plan) => {
                tell_extra_sets(alternative, &plan, notes);
                check_span(given, &alternative.name, calendar, &plan, notes)
                    .then(|| (alternative.name.clone(), plan))
            }
            Err(ScheduleError::OutOfReach(why)) => {
                notes.issues.push(drift::out_of_reach(given, alternative, &why));
                None
            }
            Err(error) => {
                notes.issues.push(clash(given, &error));
                None
            }
        }
    };
    let plans: Vec<Option<(String, Plan)>> = alternatives.iter().map(plan).collect();
    let plans: Vec<(String, Plan)> = plans.into_iter().collect::<Option<_>>()?;
    drift::tell(alternatives, &plans, notes);
    Some(plans)
}

/// Says how many sets the edges add.
fn tell_extra_sets(alternative: &Alternative, plan: &Plan, notes: &mut Notes<'_>) {
    let sets: usize = plan.passes.iter().map(|pass| pass.sets.len()).sum();
    let places = alternative.outlets.count * alternative.lateral.lines.sides().len();
    let extra = sets.saturating_sub(plan.passes.len() * places);
    if alternative.edges == EdgeTreatment::ExtraSet {
        let why = "counted from the schedule; their water and labor count wherever these are \
                   calculated";
        let what = format!("extra sets of \"{}\" in the season", alternative.name);
        notes.assume(&what, extra.to_string(), why);
    }
}

fn ends_out_of_place(calendar: &Calendar) -> bool {
    match calendar.length {
        SeasonLength::Passes(_) => false,
        SeasonLength::Until(end) => {
            !(0.0..=LONGEST_SEASON_H).contains(&hours_between(calendar.start, end))
        }
    }
}

/// An alternative's own clock; it must start on the day of the common one.
pub(crate) fn own_calendar(
    given: &SeasonFile,
    common: &SeasonFile,
    notes: &mut Notes<'_>,
) -> Calendar {
    let day = |season: &SeasonFile| notes.clock.standard(season.start.value, None).date();
    if day(given) != day(common) {
        let problem = "an alternative starts on another day than the scenario";
        notes.issues.push(
            Issue::new(&given.start.at, problem)
                .allowed(format!("any hour of {}", common.start.value.date()))
                .hint("All alternatives start on the same day, under the same weather."),
        );
    }
    let called =
        |season: &SeasonFile| season.irrigate_at_depletion.as_ref().map(|share| share.value);
    if called(given) != called(common) {
        let at = given
            .irrigate_at_depletion
            .as_ref()
            .map_or_else(|| given.at.opening(), |c| c.at.clone());
        let problem = "an alternative has an `irrigate_at_depletion` of its own";
        let hint = "All alternatives irrigate when the baseline's root zone calls for water.";
        notes.issues.push(Issue::new(&at, problem).hint(hint));
    }
    calendar(given, notes)
}

/// Whether the plan ends in good time.
fn check_span(
    given: &SeasonFile,
    name: &str,
    calendar: &Calendar,
    plan: &Plan,
    notes: &mut Notes<'_>,
) -> bool {
    let span_h = plan.end_h() - hours_between(plan.midnight, calendar.start);
    let days = span_h / 24.0;
    if span_h > LONGEST_SEASON_H {
        let at = given.passes.as_ref().map_or_else(|| given.at.opening(), |p| p.at.clone());
        let problem = format!("the season lasts {days:.0} days with so many passes");
        notes.issues.push(Issue::new(&at, problem).allowed("at most ten years"));
    } else if span_h > LONG_SEASON_H {
        notes.warn(format!("{name}: the season lasts {days:.0} days"));
    }
    span_h <= LONGEST_SEASON_H
}

/// The problem that a clash of times is to the user.
pub(crate) fn clash(given: &SeasonFile, error: &ScheduleError) -> Issue {
    let (at, hint) = match error {
        ScheduleError::SetsOverlap { .. } => (
            given.sets_per_day.as_ref().map(|sets| &sets.at),
            "Sets overlap: run fewer sets per day, shorter sets, or allow less time to move.",
        ),
        ScheduleError::PassesOverlap { .. } => (
            given.pass_interval.as_ref().map(|every| &every.at),
            "Passes overlap: start them less often, or shorten the sets.",
        ),
        ScheduleError::NoCall => (
            given.irrigate_at_depletion.as_ref().map(|share| &share.at),
            "Lower the depletion, start earlier, or check crop, rain and soil.",
        ),
        ScheduleError::Order { .. } => {
            (given.outlet_order.as_ref().map(|list| &list.at), "Name each outlet once.")
        }
        ScheduleError::Lines { .. } => (None, "Change `lines` of the lateral, or the outlets."),
        ScheduleError::NeverOpen => (
            given.labor_from.as_ref().or(given.labor_until.as_ref()).map(|hour| &hour.at),
            "Widen the hours, start the first set within them, or leave `sets_per_day` out.",
        ),
        // Told with its outlet where plans are made.
        ScheduleError::OutOfReach(_) => {
            (None, "Lengthen the hose, or place outlets at whole turns.")
        }
        ScheduleError::NoPass { .. } => {
            (given.until.as_ref().map(|until| &until.at), "End the season later, or shorten sets.")
        }
    };
    Issue::new(at.unwrap_or(&given.at.opening()), error.to_string()).hint(hint)
}

/// The air where the weather does not say.
pub(crate) fn air(given: Option<&AirFile>, notes: &mut Notes<'_>) -> AssumedAir {
    let Some(air) = given else {
        let why = "mild air, where the weather record does not say; only the losses depend on it";
        notes.assume("/air/temperature", "20 C", why);
        notes.assume("/air/humidity", "50 %", why);
        return AssumedAir { temperature_c: 20.0, relative_humidity: 0.5 };
    };
    AssumedAir { temperature_c: air.temperature.value, relative_humidity: air.humidity.value }
}

/// The losses, by fraction or by formula.
pub(crate) fn losses(
    given: Option<&LossesFile>,
    pressure_kpa: f64,
    notes: &mut Notes<'_>,
) -> Option<Losses> {
    let Some(given) = given else {
        let why = "solid-set regressions, the nearest published case to a set-move lateral; \
                   sources differ threefold";
        notes.assume("/losses/formula", "Playan 2005 day and night", why);
        return Some(Losses::PlayanDayNight);
    };
    if let Some(fraction) = &given.fraction {
        return Some(Losses::Fraction(fraction.value));
    }
    let nozzle_mm = given.nozzle_diameter.as_ref().map(|diameter| diameter.value * 1000.0);
    match given.formula? {
        LossFormula::PlayanDayNight => Some(Losses::PlayanDayNight),
        LossFormula::PlayanAll => Some(Losses::PlayanAll),
        LossFormula::Trimmer => Some(Losses::Trimmer {
            nozzle_mm: needed(nozzle_mm, given, "nozzle_diameter", notes)?,
            pressure_kpa,
        }),
        LossFormula::KellerBliesner => {
            let nozzle_mm = needed(nozzle_mm, given, "nozzle_diameter", notes);
            let et0_mm_h = given.reference_et.as_ref().map(|et| et.value);
            let et0_mm_d = needed(et0_mm_h, given, "reference_et", notes)? * 24.0;
            Some(Losses::KellerBliesner { nozzle_mm: nozzle_mm?, pressure_kpa, et0_mm_d })
        }
    }
}

fn needed(value: Option<f64>, given: &LossesFile, key: &str, notes: &mut Notes<'_>) -> Option<f64> {
    if value.is_none() {
        let problem = format!("this formula needs the key `{key}`");
        notes.issues.push(Issue::new(&given.at.opening(), problem));
    }
    value
}
