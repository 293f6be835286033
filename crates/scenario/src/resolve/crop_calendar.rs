//! The crop's season against the days on which water runs and rain falls.

use super::climate;
use crate::file::{CropFile, SeasonFile};
use crate::issue::Issue;
use crate::notes::{Notes, decimals};
use evenfall_core::clock::hours_between;
use evenfall_core::schedule::Plan;
use evenfall_core::weather::DrawnWeather;
use evenfall_core::worth::{Agronomy, Rain, WorthError};
use jiff::ToSpan;
use jiff::civil::{Date, DateTime, Time};

/// A crop that stands longer than this without irrigation before the first or after the last set
/// is told, days; judgment.
const LONG_WAIT_DAYS: f64 = 30.0;

/// The crop's first instant and the one after its last day.
struct CropSeason {
    start: DateTime,
    end: DateTime,
}

/// Refuses cuttings of a crop that is not planted yet.
fn check_cuttings(season: &SeasonFile, crop: &CropSeason, notes: &mut Notes<'_>) {
    let closed = season.closed.as_ref().map_or(&[][..], |list| &list.items);
    for item in closed {
        let is_cutting = item.reason.value.to_lowercase().contains("cut");
        if is_cutting && item.from.value < crop.start {
            let problem = format!(
                "\"{}\" comes before the crop is planted, on {}",
                item.reason.value,
                crop.start.date()
            );
            notes.issues.push(
                Issue::new(&item.from.at, problem)
                    .allowed(format!("a day from {} to {}", crop.start.date(), last_day(crop)))
                    .hint("Check the year and the day of the cutting, or `planted` of the crop."),
            );
        }
    }
}

/// Tells whatever is amiss between the crop and the named plans.
pub(crate) fn check(
    given: &CropFile,
    season: &SeasonFile,
    (agronomy, drawn): (&Agronomy, Option<DrawnWeather<'_>>),
    plans: &[(String, Plan)],
    notes: &mut Notes<'_>,
) {
    let days = agronomy.crop.season_days() as i64;
    let midnight = |date: Date| date.to_datetime(Time::midnight());
    let crop = CropSeason {
        start: midnight(agronomy.planted),
        end: midnight(agronomy.planted.saturating_add(days.days())),
    };
    let apart = plans.iter().any(|(_, plan)| {
        let (first, last) = span(plan);
        last <= crop.start || first >= crop.end
    });
    if apart {
        let problem = format!(
            "the crop grows from {} to {}, and no water runs in that time",
            crop.start.date(),
            last_day(&crop)
        );
        notes.issues.push(
            Issue::new(&given.planted.at, problem)
                .allowed(format!("a crop that grows in the season from {}", season.start.value))
                .hint("Check the year of `planted`, and the stages of the crop."),
        );
        return;
    }
    check_cuttings(season, &crop, notes);
    warn_of_passes(&crop, plans, notes);
    warn_of_waits(&crop, plans, notes);
    warn_of_rain(&crop, agronomy, notes);
    check_ground(given, (agronomy, drawn), plans, notes);
}

/// Start of the first and end of the last set.
fn span(plan: &Plan) -> (DateTime, DateTime) {
    let start_h = plan.passes.first().map_or(0.0, |pass| pass.span_h().0);
    (plan.date_time(start_h), plan.date_time(plan.end_h()))
}

fn last_day(crop: &CropSeason) -> Date {
    crop.end.date().saturating_sub(1.days())
}

/// Passes of which some water falls before planting or after harvest.
fn warn_of_passes(crop: &CropSeason, plans: &[(String, Plan)], notes: &mut Notes<'_>) {
    let outside = |plan: &Plan| {
        let spans = plan.passes.iter().map(|pass| {
            let (start_h, end_h) = pass.span_h();
            (plan.date_time(start_h), plan.date_time(end_h))
        });
        let early = spans.clone().filter(|(start, _)| *start < crop.start).count();
        let late = spans.filter(|(_, end)| *end > crop.end).count();
        (early, late)
    };
    let counts: Vec<(usize, usize)> = plans.iter().map(|(_, plan)| outside(plan)).collect();
    let alike = counts.windows(2).all(|pair| pair[0] == pair[1]);
    for ((name, plan), (early, late)) in plans.iter().zip(counts) {
        // What holds for all alternatives is told once, without a name.
        let name = if alike { String::new() } else { format!("{name}: ") };
        let all = plan.passes.len();
        if early > 0 {
            notes.warn(format!(
                "{name}{early} of {all} passes water before the crop is planted on {}; that water \
                 does nothing for it",
                crop.start.date()
            ));
        }
        if late > 0 {
            notes.warn(format!(
                "{name}{late} of {all} passes water after harvest, when the crop's season has \
                 ended on {}; that water does nothing for it",
                last_day(crop)
            ));
        }
    }
}

fn warn_of_waits(crop: &CropSeason, plans: &[(String, Plan)], notes: &mut Notes<'_>) {
    let waits = |plan: &Plan| {
        let (first, last) = span(plan);
        let days = |hours: f64| (hours / 24.0 > LONG_WAIT_DAYS).then(|| decimals(hours / 24.0, 0));
        [
            ("before the first set", days(hours_between(crop.start, first))),
            ("after the last set", days(hours_between(last, crop.end))),
        ]
    };
    let all: Vec<_> = plans.iter().map(|(_, plan)| waits(plan)).collect();
    let alike = all.windows(2).all(|pair| pair[0] == pair[1]);
    for ((name, _), waits) in plans.iter().zip(all) {
        let name = if alike { String::new() } else { format!("{name}: ") };
        for (when, days) in waits {
            if let Some(days) = days {
                notes.warn(format!(
                    "{name}the crop grows for {days} days {when} without irrigation"
                ));
            }
        }
    }
}

fn warn_of_rain(crop: &CropSeason, agronomy: &Agronomy, notes: &mut Notes<'_>) {
    let grows_on = |date: Date| (crop.start.date()..crop.end.date()).contains(&date);
    let Rain::Listed(rain) = &agronomy.rain else { return };
    let outside = rain.iter().filter(|rain| !grows_on(rain.date)).count();
    if outside > 0 {
        notes.warn(format!(
            "{outside} of {} days of rain lie outside the crop's season ({} to {}) and have no effect",
            rain.len(),
            crop.start.date(),
            last_day(crop)
        ));
    }
}

/// What only the core's own preparation finds.
fn check_ground(
    given: &CropFile,
    (agronomy, drawn): (&Agronomy, Option<DrawnWeather<'_>>),
    plans: &[(String, Plan)],
    notes: &mut Notes<'_>,
) {
    let Some((_, plan)) = plans.first() else { return };
    let at = given.at.opening();
    match agronomy.ground(plan.midnight.date(), 1, drawn) {
        Ok(ground) if ground.need_mm(0) > 0.0 => {}
        Ok(_) => {
            let problem = "the crop needs no water in its whole season";
            let hint = "Check the crop coefficients and the reference evapotranspiration.";
            notes.issues.push(Issue::new(&at, problem).hint(hint));
        }
        Err(WorthError::Water(problems)) => {
            for problem in problems {
                notes.issues.push(Issue::new(&at, problem.to_string()));
            }
        }
        Err(WorthError::Climate(gaps)) => climate::tell_gaps(&at, &gaps, notes),
        Err(error) => notes.issues.push(Issue::new(&at, error.to_string())),
    }
}
