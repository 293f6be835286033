//! A line stopped between whole turns: words, table, pictures.

use super::page::{Parts, Study};
use crate::picture::Picture;
use crate::scenes::{HalfSpacing, TiltStudy};
use crate::table::{Row, Table};
use evenfall_canvas::DrawError;
use evenfall_core::tilt_trial::Case;
use evenfall_view::ReportNotes;
use evenfall_view::units::{Quantity, UnitSystem, number, percent, points};
use serde_json::{Map, Value, json};

/// The page of a trial of tilts, with its pictures.
///
/// # Errors
/// If a library refuses.
pub(crate) fn study(
    study: &TiltStudy<'_>,
    notes: &ReportNotes,
    pictures: Vec<Picture>,
    units: UnitSystem,
) -> Result<Study, DrawError> {
    let text = Text { study, units };
    let parts = Parts {
        title: format!("Stopped off the whole turn: “{}”", study.alternative),
        answer: text.answer(),
        tables: vec![text.table()],
        pictures,
        method: text.method(),
        json: text.json(notes),
    };
    parts.finish(notes)
}

struct Text<'a> {
    study: &'a TiltStudy<'a>,
    units: UnitSystem,
}

impl Text<'_> {
    /// "CU 80.1 %, DUlq 70.2 %".
    fn words(&self, case: usize) -> String {
        let [cu, du] = self.study.season(case);
        format!("CU {}, DUlq {}", percent(cu, 1), percent(du, 1))
    }

    fn answer(&self) -> Vec<String> {
        let study = self.study;
        let (Some(&upright), Some(&half)) = (study.rolls.first(), study.rolls.last()) else {
            return Vec::new();
        };
        let passes = |case: usize| percent(self.study.found(case).pass_cu, 1);
        let du = |case: usize| percent(self.study.season(case)[1], 1);
        let verdict = if self.study.season(half)[1] < self.study.season(0)[1] - 0.01 {
            "would water less evenly than no rotation at all"
        } else {
            "would be less uniform"
        };
        let mut out = vec![
            format!(
                "With its shifted passes stopped half a turn off, “{}” {verdict}: DUlq of the season \
                 {}, compared with {} at whole turns and {} fixed.",
                study.alternative,
                du(half),
                du(upright),
                du(0),
            ),
            format!(
                "CU of the season falls from {} to {}. Each pass with hanging sprinklers has a CU of {} \
                 by itself, instead of {}.",
                percent(self.study.season(upright)[0], 1),
                percent(self.study.season(half)[0], 1),
                passes(half),
                passes(upright),
            ),
        ];
        let levelers = number(study.leveler_range_deg, 0);
        let steps =
            study.rolls.iter().filter(|case| self.study.roll_deg(**case) > study.leveler_range_deg);
        let losses = steps.take(3).map(|case| {
            let loss = self.study.season(*case)[1] - self.study.season(upright)[1];
            format!("{1} points at {0}°", number(self.study.roll_deg(*case), 0), points(loss, 1))
        });
        let losses = losses.collect::<Vec<_>>().join(", ");
        out.push(format!(
            "Within the levelers’ range of {levelers}° sprinklers stay upright and nothing is lost. \
             Beyond it the season’s DUlq changes: {losses}."
        ));
        let blocked = percent(self.study.found(study.free).blocked_share, 1);
        out.push(format!(
            "With levelers that swing all the way around, a sprinkler under the pipe stands upright, \
             but the pipe blocks {blocked} of its water: {} over the season.",
            self.words(study.free)
        ));
        out.extend(study.half_spacing.map(|half| self.half_spacing(half, upright)));
        out
    }

    fn half_spacing(&self, half: HalfSpacing, upright: usize) -> String {
        let length = self.units.text(Quantity::Length, half.shift_m, 1);
        let against = if self.study.season(half.stood)[1] < self.study.season(0)[1] {
            "less uniform than the fixed pattern"
        } else {
            "no gain over whole turns"
        };
        let reach = if half.beyond_reach { " And the hose does not reach that far." } else { "" };
        format!(
            "Half an outlet spacing ahead ({length}) is {} turns of this wheel. Upright there, the \
             season would have {}; tilted as it really stands, {}: {against}. Whole turns \
             give {}.{reach}",
            number(half.turns, 2),
            self.words(half.upright),
            self.words(half.stood),
            self.words(upright),
        )
    }

    /// The fractions of a case, with their keys, in the order of columns.
    fn shares(&self, case: usize) -> [(&'static str, f64); 5] {
        let found = self.study.found(case);
        let [cu, du_lq] = self.study.season(case);
        [
            ("blocked_percent", found.blocked_share),
            ("pass_cu_percent", found.pass_cu),
            ("pass_du_lq_percent", found.pass_du_lq),
            ("season_cu_percent", cu),
            ("season_du_lq_percent", du_lq),
        ]
    }

    fn table(&self) -> Table {
        let head = [
            "",
            "Off the whole turn",
            "Remaining tilt",
            "Blocked",
            "CU, pass",
            "DUlq, pass",
            "CU, season",
            "DUlq, season",
        ];
        let row = |(case, asked): (usize, &Case)| {
            let degrees = |of: f64| format!("{}°", number(of, 0));
            let stood = asked.attitude;
            let cells = vec![
                degrees(stood.map_or(0.0, |a| a.roll_deg.abs())),
                degrees(stood.map_or(0.0, |a| a.tilt_deg().abs())),
            ];
            let shares = self.shares(case).map(|(_, share)| percent(share, 1));
            Row::new(&asked.name, [cells, shares.to_vec()].concat())
        };
        let rows = self.study.cases.iter().enumerate().map(row).collect();
        let note = "Interior of the field. Pass: mean over the passes that stop away from the outlet, each \
            by itself (for the fixed pattern, all passes). Blocked: share of the water that hits the \
            pipe.";
        Table::new("What stopping part of a turn off costs", &head).with_rows(rows).with_note(note)
    }

    fn method(&self) -> Vec<String> {
        let stood = self.study.cases.iter().find_map(|case| case.attitude);
        let sizes = stood.map_or_else(String::new, |a| {
            let size = |m: f64| self.units.text(Quantity::Length, m, 2);
            format!(
                "The pipe is {} in outside diameter, the nozzle {} above its top.",
                size(a.pipe_diameter_m),
                size(a.riser_m)
            )
        });
        vec![
            "Our own model, not published: the geometry of pipe, riser and jet. The riser turns with \
             the pipe and the leveler takes up its range. The remaining tilt leans the sprinkler \
             across the pipe, so that its jet swings between low and high. A jet that hits the pipe \
             within 3 m is blocked entirely, and its water falls from the pipe there."
                .to_owned(),
            "The pipe blocks a jet only if the leveler has turned the sprinkler toward it, as one that \
             swings all the way around does. With levelers of a few degrees the sprinkler faces \
             away from the pipe and throws into the ground instead."
                .to_owned(),
            sizes,
            "Left out: splash from the pipe, sprinklers that turn unevenly or stop when tilted, pipe \
             that twists along its length, jets that hit wheels and crop. All of these make it worse."
                .to_owned(),
            "Shifted passes stop at the same places in every case, so only the tilt differs. All cases \
             run in the same weather."
                .to_owned(),
        ]
    }

    fn json(&self, notes: &ReportNotes) -> Value {
        let case = |(at, asked): (usize, &Case)| {
            let mut all = Map::new();
            all.insert("name".to_owned(), json!(asked.name));
            all.insert("roll_deg".to_owned(), json!(asked.attitude.map_or(0.0, |a| a.roll_deg)));
            all.insert("tilt_deg".to_owned(), json!(asked.attitude.map_or(0.0, |a| a.tilt_deg())));
            let shares = self.shares(at).map(|(key, share)| (key.to_owned(), json!(100.0 * share)));
            all.extend(shares);
            Value::Object(all)
        };
        json!({
            "title": self.study.trial.scenario.title,
            "alternative": self.study.alternative,
            "version": notes.version,
            "command": notes.command,
            "scenario_sha256": notes.digest,
            "cases": self.study.cases.iter().enumerate().map(case).collect::<Vec<_>>(),
        })
    }
}
