//! The ways out where whole turns do not end at the outlets, tried against each other: words, table.

use super::columns::{self, Column, column};
use super::page::{Parts, Study};
use crate::picture::Picture;
use crate::scenes::Scene;
use evenfall_canvas::DrawError;
use evenfall_core::fit_trial::{FitFigures, FitTrial, WayOut};
use evenfall_view::units::{Quantity, number, percent, points};
use evenfall_view::{Measure, ReportNotes};
use serde_json::{Value, json};

/// A trial and what is said beside it.
#[derive(Clone, Copy, Debug)]
pub struct FitStudy<'a> {
    /// The trial; the names of its alternatives are those of the ways out.
    pub trial: &'a FitTrial,
    /// Name of the alternative that was tried.
    pub alternative: &'a str,
    /// How wheels and outlets go together, as a sentence.
    pub fit: &'a str,
    /// Names of the ways out that were refused, in order.
    pub refused: &'a [String],
    /// How far the hose reaches today, m.
    pub reach_m: f64,
    /// Labor for one move, h, where it is known, and whether it is a placeholder.
    pub labor_per_move_h: Option<(f64, bool)>,
}

const COLUMNS: [Column<FitFigures>; 9] = [
    column("cu", "CU, interior", Measure::Share, |f| f.cu),
    column("du_lq", "DUlq, interior", Measure::Share, |f| f.du_lq),
    column("whole_du_lq", "DUlq, field", Measure::Share, |f| f.whole_du_lq),
    column("gross", "Gross", Measure::Depth, |f| f.gross_mm),
    column("outlets", "Outlets", Measure::Count, |f| f.outlets as f64),
    column("sets", "Sets", Measure::Count, |f| f.sets as f64),
    column("part_turn_sets", "Sets at part of a turn", Measure::Count, |f| f.part_turn_sets as f64),
    column("turns", "Turns rolled", Measure::Count, |f| f.turns),
    column("hose", "Hose must reach", Measure::Length, |f| f.hose_m),
];

/// Means of `DUlq` closer than this (fraction) are a tie: judgment, no source.
const TIE: f64 = 0.01;

/// The page of a trial of ways out, with its pictures.
///
/// # Errors
/// If a library refuses.
pub(crate) fn study(
    study: &FitStudy<'_>,
    scene: &Scene<'_>,
    notes: &ReportNotes,
    pictures: Vec<Picture>,
) -> Result<Study, DrawError> {
    let note = format!(
        "Means of {} of the same weather. Turns are all that the wheels roll in a season, ahead and back. \
         The interior leaves out the widest spacing tried at each edge. Gross water is a depth over the \
         field.",
        columns::seasons_words(study.trial)
    );
    let words = ("What each way out does to water and work", note.as_str());
    let parts = Parts {
        title: format!("Where whole turns do not end at the outlets: “{}”", study.alternative),
        answer: answer(study, scene),
        tables: vec![columns::table(study.trial, &COLUMNS, scene.units, words)],
        pictures,
        method: METHOD.map(str::to_owned).to_vec(),
        json: json(study, notes),
    };
    parts.finish(notes)
}

fn answer(study: &FitStudy<'_>, scene: &Scene<'_>) -> Vec<String> {
    let mut out = vec![best(study), study.fit.to_owned()];
    out.extend((0..study.trial.options.len()).map(|way| work(study, scene, way)));
    for (name, (_, why)) in study.refused.iter().zip(&study.trial.refused) {
        out.push(format!("“{name}” could not be run: {why}."));
    }
    out
}

/// Which way out waters best, and which come within a point of it.
fn best(study: &FitStudy<'_>) -> String {
    let trial = study.trial;
    let du_lq = |way: usize| trial.mean(way, |f| f.du_lq);
    let ways = 0..trial.options.len();
    let best = ways.clone().max_by(|one, other| du_lq(*one).total_cmp(&du_lq(*other)));
    let best = best.unwrap_or_default();
    let quoted =
        |way: usize| format!("“{}” ({})", columns::name(trial, way), percent(du_lq(way), 1));
    let tied: Vec<String> =
        ways.filter(|way| *way != best && du_lq(*way) >= du_lq(best) - TIE).map(quoted).collect();
    let gain = points(du_lq(best) - du_lq(0), 1);
    let first = format!("Best watered, by DUlq of the interior: {}", quoted(best));
    let against =
        if best == 0 { String::new() } else { format!(", {gain} points above {}", quoted(0)) };
    let ties = if tied.is_empty() {
        String::new()
    } else {
        format!(". Within a point, so a tie: {}", tied.join(", "))
    };
    format!("{first}{against}{ties}.")
}

/// What a way out asks of whoever works the line.
fn work(study: &FitStudy<'_>, scene: &Scene<'_>, way: usize) -> String {
    let trial = study.trial;
    let own = |of: fn(&FitFigures) -> f64| trial.mean(way, of);
    let more = |of: fn(&FitFigures) -> f64| trial.mean(way, of) - trial.mean(0, of);
    let length = |m: f64| scene.units.text(Quantity::Length, m, 1);
    let name = columns::name(trial, way);
    let needs = match trial.options[way] {
        WayOut::Turns(_) => {
            let hose_m = own(|f| f.hose_m);
            format!(
                "the hose must reach {} (it reaches {}); nothing to buy, and whoever rolls the line counts \
                 turns by the sheet",
                length(hose_m),
                length(study.reach_m)
            )
        }
        WayOut::OutletsApart(_) => format!(
            "{} outlets on the mainline at other places: a choice for a mainline you have yet to lay",
            number(own(|f| f.outlets as f64), 0)
        ),
        WayOut::PartTurns => format!(
            "levelers that swing all the way on every sprinkler; {} of {} sets stand at part of a turn, where \
             jets strike the pipe. SCS NEH 15-11 (1983) wants such levelers on every side-roll; practitioners \
             stop with the sprinklers on top all the same",
            number(own(|f| f.part_turn_sets as f64), 0),
            number(own(|f| f.sets as f64), 0)
        ),
    };
    let sets = more(|f| f.sets as f64);
    let labor = match study.labor_per_move_h {
        Some((hours, is_placeholder)) if sets != 0.0 => {
            let mark = if is_placeholder { ", a placeholder" } else { "" };
            format!(
                "; {} sets a season against the first, {} h of labor ({} min per move{mark})",
                signed(sets),
                signed(sets * hours),
                number(60.0 * hours, 0)
            )
        }
        _ if sets != 0.0 => format!("; {} sets a season against the first", signed(sets)),
        _ => String::new(),
    };
    format!("“{name}”: {needs}{labor}.")
}

fn signed(value: f64) -> String {
    let sign = if value > 0.0 { "+" } else { "" };
    format!("{sign}{}", number(value, usize::from(value.fract() != 0.0)))
}

const METHOD: [&str; 3] = [
    "Every way out runs the same rotation in the same weather, hour by hour. Sets, turns and water are \
     counted from the sets that were simulated; the line is simulated where it really stands.",
    "At part of a turn the levelers hold the sprinklers level; the nozzle stands beside or under the pipe, and \
     the jets that meet the pipe drip from it (this program’s own geometry, no source).",
    "Yield and money are not included: give an alternative its own `wheel`, `outlets` and `equipment` in \
     the scenario and run `evenfall worth` for those.",
];

fn json(study: &FitStudy<'_>, notes: &ReportNotes) -> Value {
    let refused = study.refused.iter().zip(&study.trial.refused);
    json!({
        "title": study.trial.scenario.title,
        "alternative": study.alternative,
        "version": notes.version,
        "command": notes.command,
        "scenario_sha256": notes.digest,
        "seasons": study.trial.figures.len(),
        "ways_out": columns::json(study.trial, &COLUMNS),
        "refused": refused.map(|(name, (_, why))| json!({ "name": name, "why": why })).collect::<Vec<_>>(),
    })
}
