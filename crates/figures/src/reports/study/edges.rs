//! The treatments of the edges tried against each other: words, table, pictures.

use super::columns::{self, Column, column};
use super::page::{Parts, Study};
use crate::picture::Picture;
use crate::reports::tables::edges;
use crate::scenes::Scene;
use crate::table::Table;
use evenfall_canvas::DrawError;
use evenfall_core::edge_trial::{EdgeFigures, EdgeOption, Favor, TIE, Trial};
use evenfall_view::units::{Quantity, number, percent, points};
use evenfall_view::{Measure, ReportNotes};
use serde_json::{Value, json};

/// A trial and what is said beside it.
#[derive(Clone, Copy, Debug)]
pub struct EdgeStudy<'a> {
    /// The trial; the names of its alternatives are those of the options.
    pub trial: &'a Trial,
    /// Name of the alternative whose rotation was tried.
    pub alternative: &'a str,
    /// Names of the options that were refused, in order.
    pub refused: &'a [String],
    /// Labor for one move, h, where it is known, and whether it is a placeholder.
    pub labor_per_move_h: Option<(f64, bool)>,
}

/// The page of a trial of edges, with its pictures.
///
/// # Errors
/// If a library refuses.
pub(crate) fn study(
    study: &EdgeStudy<'_>,
    scene: &Scene<'_>,
    notes: &ReportNotes,
    pictures: Vec<Picture>,
) -> Result<Study, DrawError> {
    let text = Text { study, scene };
    let parts = Parts {
        title: format!("At the field’s edges: “{}”", study.alternative),
        answer: text.answer(),
        tables: vec![text.table(), edges::strips(scene)],
        pictures,
        method: Text::method(),
        json: text.json(notes),
    };
    parts.finish(notes)
}

type Figure = fn(&EdgeFigures) -> f64;

const COLUMNS: [Column<EdgeFigures>; 9] = [
    column("edge_low_quarter", "Driest quarter of the edges", Measure::Share, |f| {
        f.edge_low_quarter
    }),
    column("first_strip", "First strip", Measure::Share, |f| f.first_strip),
    column("last_strip", "Last strip", Measure::Share, |f| f.last_strip),
    column("whole_du_lq", "DUlq, field", Measure::Share, |f| f.whole_du_lq),
    column("whole_cu", "CU, field", Measure::Share, |f| f.whole_cu),
    column("interior_du_lq", "DUlq, interior", Measure::Share, |f| f.interior_du_lq),
    column("sets", "Sets", Measure::Count, |f| f.sets as f64),
    column("gross", "Gross", Measure::Depth, |f| f.gross_mm),
    column("off_field", "Off field", Measure::Depth, |f| f.off_field_mm),
];

struct Text<'a> {
    study: &'a EdgeStudy<'a>,
    scene: &'a Scene<'a>,
}

impl Text<'_> {
    fn trial(&self) -> &Trial {
        self.study.trial
    }

    fn name(&self, option: usize) -> &str {
        columns::name(self.trial(), option)
    }

    fn quoted(&self, option: usize) -> String {
        format!("“{}”", self.name(option))
    }

    fn depth(&self, mm: f64) -> String {
        self.scene.units.text(Quantity::Depth, mm, self.scene.units.depth_decimals())
    }

    fn answer(&self) -> Vec<String> {
        let edge = self.trial().favored(|f| f.edge_low_quarter);
        let overall = self.trial().favored(|f| f.whole_du_lq);
        let mut out = vec![
            self.favor(
                "At the edges",
                "the driest quarter of the two edge strips gets",
                "of the interior’s mean depth",
                &edge,
                |f| f.edge_low_quarter,
            ),
            self.favor("Over the whole field", "DUlq is", "", &overall, |f| f.whole_du_lq),
        ];
        if edge.best != overall.best {
            let words = format!(
                "The two do not agree: {} is better for the edges, {} for the field as a whole.",
                self.quoted(edge.best),
                self.quoted(overall.best)
            );
            out.push(words);
        }
        let mut favored = vec![edge.best, overall.best];
        favored.dedup();
        out.extend(favored.into_iter().map(|option| self.costs(option)));
        out.extend(self.starved());
        if self.trial().options.iter().any(|option| matches!(option, EdgeOption::FirstOutletAt(_)))
        {
            out.push(
                "Moving the first outlet moves every outlet on the mainline. That is a choice for a \
                 mainline you have yet to lay, not for one that is there."
                    .to_owned(),
            );
        }
        for (name, (_, why)) in self.study.refused.iter().zip(&self.trial().refused) {
            out.push(format!("“{name}” could not be run: {why}."));
        }
        out
    }

    /// Which option is favored, and by how much.
    fn favor(&self, at: &str, what: &str, of: &str, favor: &Favor, figure: Figure) -> String {
        let of = if of.is_empty() { String::new() } else { format!(" {of}") };
        let (best, means) = (favor.best, &favor.means);
        let value = |option: usize| percent(means[option], 1);
        let seasons = self.trial().figures.len();
        let mut words = if favor.tied.contains(&0) && best == 0 {
            let rivals = favor.tied.iter().any(|option| *option != 0);
            let none = if rivals { ", and nothing beats it by a point" } else { "" };
            format!("{at}, {} is favored: {what} {}{of}{none}", self.quoted(best), value(best))
        } else {
            let (low, high) = self.trial().range_of_gain(best, figure);
            let over = if seasons > 1 {
                format!(" ({} to {} in {seasons} seasons)", points(low, 1), points(high, 1))
            } else {
                String::new()
            };
            format!(
                "{at}, {} is favored: {what} {}{of}. With every stop shifted it is {}; the gain is {} \
                 points{over}",
                self.quoted(best),
                value(best),
                value(0),
                points(means[best] - means[0], 1)
            )
        };
        let others: Vec<String> = favor
            .tied
            .iter()
            .filter(|option| **option != best)
            .map(|option| format!("{} ({})", self.quoted(*option), value(*option)))
            .collect();
        if !others.is_empty() {
            let point = number(100.0 * TIE, 0);
            words = format!(
                "{words}. Within {point} point of the best: {}. Of these it takes the fewest sets and moves \
                 no outlets",
                others.join(", ")
            );
        }
        words + "."
    }

    /// What an option costs against every stop shifted.
    fn costs(&self, option: usize) -> String {
        let own = |of: Figure| self.trial().mean(option, of);
        let base = |of: Figure| self.trial().mean(0, of);
        let sets = own(|f| f.sets as f64) - base(|f| f.sets as f64);
        let water_mm = own(|f| f.gross_mm) - base(|f| f.gross_mm);
        let name = self.quoted(option);
        if option == 0 {
            let (gross, sets) =
                (self.depth(own(|f| f.gross_mm)), number(own(|f| f.sets as f64), 0));
            return format!("{name} takes {sets} sets and {gross} of water over the field.");
        }
        if sets == 0.0 && water_mm.abs() < 1e-9 * base(|f| f.gross_mm) {
            return format!(
                "{name} takes no more sets and no more water than shifting every stop."
            );
        }
        let share = points(water_mm / base(|f| f.gross_mm), 1);
        let days = (own(|f| f.end_h) - base(|f| f.end_h)) / 24.0;
        let labor = self.study.labor_per_move_h.map_or_else(String::new, |(hours, placeholder)| {
            let mark = if placeholder { ", a placeholder" } else { "" };
            let (all, each) = (number(sets * hours, 1), number(60.0 * hours, 0));
            format!(", {all} h of labor ({each} min per move{mark})")
        });
        format!(
            "{name} takes {} more set{} in the season and {} more water over the field ({share} % of \
             gross){labor}, and ends {} days later.",
            number(sets, 0),
            if number(sets, 0) == "1" { "" } else { "s" },
            self.depth(water_mm),
            number(days, 1)
        )
    }

    /// How much the drier strip gets with every stop shifted, and with the best option for it.
    fn starved(&self) -> Option<String> {
        let drier = |option: usize| self.trial().mean(option, |f| f.first_strip.min(f.last_strip));
        let options = 0..self.trial().options.len();
        let best = options.max_by(|a, b| drier(*a).total_cmp(&drier(*b)))?;
        let strip = self.scene.length(self.scene.outcome.edge_strip_m);
        (drier(best) > drier(0) + TIE).then(|| {
            format!(
                "The drier of the two {strip} edge strips gets {} of the interior’s mean with every \
                 stop shifted, and {} at best, with {}.",
                percent(drier(0), 0),
                percent(drier(best), 0),
                self.quoted(best)
            )
        })
    }

    fn table(&self) -> Table {
        let strip = self.scene.length(self.scene.outcome.edge_strip_m);
        let note = format!(
            "Means of {} of the same weather. Edges and {strip} strips in % of the interior’s mean depth. \
             The driest quarter is that of both strips together, without the ends of the pipe. \
             Gross and off-field water are depths over the field.",
            columns::seasons_words(self.trial())
        );
        let words = ("What each treatment gains and costs", note.as_str());
        columns::table(self.trial(), &COLUMNS, self.scene.units, words)
    }

    fn method() -> Vec<String> {
        vec![
            "Every treatment runs the same rotation in the same weather, hour by hour. Sets and water \
             are counted from the sets that were simulated."
                .to_owned(),
            "The pictures and the pass-by-pass table show the first season.".to_owned(),
            "An extra set moves every later set to other hours. Where passes filled whole days before, \
             this also breaks the clock lock, and that is part of what the table shows."
                .to_owned(),
            "Treatments within a point are a tie (our judgment, no source). Yield and money are not \
             included: set `edges` in the scenario and run `evenfall worth` for those."
                .to_owned(),
        ]
    }

    fn json(&self, notes: &ReportNotes) -> Value {
        let refused = self.study.refused.iter().zip(&self.trial().refused);
        json!({
            "title": self.trial().scenario.title,
            "alternative": self.study.alternative,
            "version": notes.version,
            "command": notes.command,
            "scenario_sha256": notes.digest,
            "seasons": self.trial().figures.len(),
            "options": columns::json(self.trial(), &COLUMNS),
            "refused": refused.map(|(name, (_, why))| json!({ "name": name, "why": why })).collect::<Vec<_>>(),
            "favored_at_the_edges": self.name(self.trial().favored(|f| f.edge_low_quarter).best),
            "favored_overall": self.name(self.trial().favored(|f| f.whole_du_lq).best),
        })
    }
}
