//! A season as it was beside its plan: words, tables, and one thing to do next year.

use super::page::{Parts, Study};
use crate::reports::file_json::file_value;
use crate::table::{Row, Table};
use evenfall_canvas::DrawError;
use evenfall_core::schedule::Calendar;
use evenfall_core::schedule::replan::{Beside, Lesson, lesson};
use evenfall_view::units::{number, percent};
use evenfall_view::{
    AsItWas, AsItWasParts, CropAsItWas, FIGURES, ReportNotes, Shown, UnitSystem, duration,
};
use jiff::civil::DateTime;
use serde_json::json;

/// A season as it was, and the calendar that it was planned by.
#[derive(Clone, Copy, Debug)]
pub struct AsItWasStudy<'a> {
    /// What it is made from.
    pub parts: AsItWasParts<'a>,
    /// The calendar of the plan.
    pub calendar: &'a Calendar,
}

impl AsItWasStudy<'_> {
    /// What to do next year, in a sentence.
    pub fn advice(&self) -> String {
        let Calendar { set_time_h, move_gap_h, sets_a_day, .. } = *self.calendar;
        let found = self.parts.found;
        match lesson(found, set_time_h, move_gap_h) {
            Lesson::Unknown => {
                "The log holds no set with its times, so it says nothing about next year."
                    .to_owned()
            }
            Lesson::Kept => {
                let sets = of_sets(found.counts.recorded);
                let counts = found.counts;
                if counts.left + counts.to_catch_up + counts.moved_in_time > 0 {
                    return format!(
                        "What went otherwise in your log ({} at another time, {} missed, of {sets} done) \
                         comes to too little to change next year’s plan.",
                        counts.moved_in_time,
                        counts.left + counts.to_catch_up
                    );
                }
                format!(
                    "You kept to the plan in the {sets} of your log: plan next year the same way."
                )
            }
            Lesson::Moves { found, move_time_h } => {
                let hours = number(move_time_h, 1);
                let room = room(set_time_h, move_time_h, sets_a_day);
                format!(
                    "Moves {} on average: allow move_time {hours} h next year{room}.",
                    than(&found)
                )
            }
            Lesson::Left { sets, of } => format!(
                "{sets} of the {of} sets planned stayed without water ({}): leave a spare day in each \
                 pass next year (idle between passes), so that a missed set can be caught up.",
                plain(&percent(sets as f64 / of as f64, 0))
            ),
            Lesson::SetTimes(found) => format!(
                "Sets {} on average: plan set_time {} h next year if that is what your days allow.",
                than(&found),
                number(found.real_h, 1)
            ),
        }
    }
}

/// "took 40 min longer than planned".
fn than(found: &Beside) -> String {
    let longer_h = found.longer_h();
    let by = plain(&duration(longer_h.abs()).unwrap_or_default());
    let word = if longer_h > 0.0 { "longer" } else { "shorter" };
    format!("took {by} {word} than planned")
}

/// What else must change where that many sets no longer fit into a day.
fn room(set_time_h: f64, move_time_h: f64, sets_a_day: Option<u32>) -> String {
    let Some(sets) = sets_a_day.map(f64::from) else { return String::new() };
    let fits_h = 24.0 / sets - move_time_h;
    if fits_h >= set_time_h - 1e-9 {
        return String::new();
    }
    // Down, so that they fit.
    let fits = number((10.0 * fits_h + 1e-6).floor() / 10.0, 1);
    format!(", and set_time {fits} h, so that {sets} sets a day still fit")
}

fn of_sets(count: usize) -> String {
    if count == 1 { "1 set".to_owned() } else { format!("{count} sets") }
}

fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

/// The page of a season as it was.
///
/// # Errors
/// If a library refuses.
pub(crate) fn study(
    study: &AsItWasStudy<'_>,
    notes: &ReportNotes,
    units: UnitSystem,
) -> Result<Study, DrawError> {
    let view = AsItWas::new(&study.parts, units);
    let advice = study.advice();
    let mut json = file_value(&AsItWas::new(&study.parts, UnitSystem::Si))?;
    if let Some(map) = json.as_object_mut() {
        map.insert("next_year".to_owned(), json!(advice));
    }
    let parts = Parts {
        title: format!("The season as it was: “{}”", view.alternative),
        answer: answer(&view, advice),
        tables: vec![figures(&view), sets(&view), passes(&view)],
        pictures: Vec::new(),
        method: method(),
        json,
    };
    parts.finish(notes)
}

fn answer(view: &AsItWas, advice: String) -> Vec<String> {
    let sets = &view.sets;
    let not_told = match sets.counted_as_done {
        0 => String::new(),
        count => format!(", and {count} are not in the log and count as done as planned"),
    };
    let mut words = vec![
        advice,
        format!(
            "The log goes up to {}. Of {} planned, {} {} in it as done{not_told}; {} left without \
             water, {} still to come.",
            view.logged_up_to.text(),
            of_sets(sets.planned),
            sets.recorded,
            if sets.recorded == 1 { "is" } else { "are" },
            sets.left,
            sets.to_come + sets.to_catch_up,
        ),
    ];
    if let Some(starts) = &view.starts {
        words.push(format!(
            "Sets in the log started {} on average; the one farthest from its plan was {}.",
            starts.mean_late.text, starts.worst_late.text
        ));
    }
    words.extend(view.crop.as_ref().map(crop_words));
    if sets.to_come + sets.to_catch_up > 0 {
        words.push(
            "Water and uniformity below are those of the whole season: what happened, and the rest as \
             it is planned anew."
                .to_owned(),
        );
    }
    words
}

/// What it did to yield and money, in a sentence or two.
fn crop_words(crop: &CropAsItWas) -> String {
    let both = &crop.yield_share;
    let yields = format!(
        "Yield: {} of full yield as planned, {} as it was.",
        both.planned.text, both.real.text
    );
    let money = match &crop.money {
        None => " We can’t tell what that is worth: a price is missing.".to_owned(),
        Some(money) if money.number.is_some_and(|gain| gain.abs() < 0.5) => {
            " In money the two come to the same.".to_owned()
        }
        Some(money) => {
            let word = if money.number.is_some_and(|gain| gain > 0.0) { "more" } else { "less" };
            let amount = money.text.replace('\u{2212}', "");
            format!(" That is about {amount} {word} for the field, at the scenario’s prices.")
        }
    };
    yields + &money
}

/// Water and uniformity, planned and as it was.
fn figures(view: &AsItWas) -> Table {
    let row = |name: &str, planned: &str, real: &str| {
        Row::new(name, vec![planned.to_owned(), real.to_owned()])
    };
    let mut rows = vec![
        row("Water, gross", &view.gross.planned.text, &view.gross.real.text),
        row("Water on the field, net", &view.net.planned.text, &view.net.real.text),
    ];
    if let (Some(planned), Some(real)) = (view.planned.inside(), view.real.inside()) {
        let shown = FIGURES.iter().zip(planned.iter()).zip(real.iter());
        rows.extend(shown.filter(|((figure, _), _)| figure.shown == Shown::Passes).map(
            |((figure, (_, planned)), (_, real))| {
                row(figure.short_label, &planned.text, &real.text)
            },
        ));
    }
    if let Some(crop) = &view.crop {
        let crop = [
            ("Yield, of full yield", &crop.yield_share),
            ("Yield of the worst tenth", &crop.yield_worst_tenth),
            ("Water lost below the roots", &crop.percolation),
        ];
        rows.extend(crop.map(|(name, both)| row(name, &both.planned.text, &both.real.text)));
    }
    for (name, times) in [("Move, mean", &view.moves), ("Set time, mean", &view.set_times)] {
        if let Some(times) = times {
            rows.push(row(name, &times.planned.text, &times.real.text));
        }
    }
    Table::new("Plan against actual", &["", "Planned", "As it was"]).with_rows(rows).with_note(
        "Both in the same weather. Uniformity is that of the interior (the field less one outlet \
         spacing at each edge) at the season’s end. Moves and set times are of sets in the log alone.",
    )
}

fn sets(view: &AsItWas) -> Table {
    let sets = &view.sets;
    let rows = [
        ("Planned", sets.planned),
        ("In the log as done", sets.recorded),
        ("of these, started at another time", sets.moved_in_time),
        ("Not in the log, counted as done", sets.counted_as_done),
        ("Missed, left without water", sets.left),
        ("Missed, to be caught up", sets.to_catch_up),
        ("Still to come", sets.to_come),
        ("In passes that no longer fit", sets.dropped),
    ];
    let rows = rows.into_iter().map(|(name, count)| Row::new(name, vec![count.to_string()]));
    Table::new("Sets", &["", "Sets"]).with_rows(rows.collect())
}

fn passes(view: &AsItWas) -> Table {
    let day = |at: DateTime| at.strftime("%d\u{a0}%b\u{a0}%H:%M").to_string();
    let rows = view.passes.iter().map(|pass| {
        let real =
            |at: Option<evenfall_view::Time>| at.map_or_else(|| "–".to_owned(), |at| day(at.0));
        Row::new(
            pass.pass.to_string(),
            vec![
                day(pass.planned_start.0),
                day(pass.planned_end.0),
                real(pass.real_start),
                real(pass.real_end),
                pass.sets_planned.to_string(),
                pass.sets.to_string(),
            ],
        )
    });
    let head =
        ["Pass", "Planned from", "to", "As it was from", "to", "Sets planned", "Sets watered"];
    Table::new("Passes", &head).with_rows(rows.collect())
}

fn method() -> Vec<String> {
    [
        "Each set is held against the planned set of its pass and outlet. A move is the time between \
         two sets in the log that follow one another in a pass, with no breakdown between; its plan is \
         the time between the two planned sets.",
        "What to do next year is the one thing that came to most hours: moves, set times, or sets \
         left without water, each counted with its set time.",
        "Sets of passes that are to come count as watered at their new times. Yield and money are those \
         of the scenario’s own season, everything taken as it stands, with no range: `evenfall worth` \
         compares alternatives over many seasons.",
    ]
    .map(str::to_owned)
    .to_vec()
}
