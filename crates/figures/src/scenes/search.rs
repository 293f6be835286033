//! A search as pictures and tables read it.

use evenfall_canvas::DrawError;
use evenfall_core::model::Scenario;
use evenfall_core::paired::Paired;
use evenfall_core::search::{Aim, Entry, Found};
use evenfall_core::verdict::Ranked;
use evenfall_core::worth::Economics;
use evenfall_view::units::{UnitSystem, number, points};

/// Rows of tables and bars of charts at most: the rest is in the CSV.
pub(crate) const SHOWN: usize = 20;

/// A search as pictures and tables read it.
#[derive(Clone, Copy, Debug)]
pub struct SearchScene<'a> {
    pub(crate) scenario: &'a Scenario,
    pub(crate) found: &'a Found,
    pub(crate) economics: Option<&'a Economics>,
    pub(crate) units: UnitSystem,
}

/// One shown row: a candidate with its rank.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Line<'a> {
    pub(crate) at: usize,
    pub(crate) entry: &'a Entry,
    /// Its rank; `None` if it was dropped on the way.
    pub(crate) ranked: Option<Ranked>,
}

impl Line<'_> {
    /// "3" or, where others share it, "3="; "out 8" for one dropped after 8 seasons.
    pub(crate) fn rank(&self) -> String {
        match self.ranked {
            Some(ranked) => format!("{}{}", ranked.rank, if ranked.is_tied { "=" } else { "" }),
            None => format!("out\u{a0}{}", self.entry.values.len()),
        }
    }
}

impl<'a> SearchScene<'a> {
    /// Puts search and scenario together.
    ///
    /// # Errors
    /// If nothing was ranked.
    pub fn new(
        scenario: &'a Scenario,
        found: &'a Found,
        economics: Option<&'a Economics>,
        units: UnitSystem,
    ) -> Result<Self, DrawError> {
        if found.ranking.is_empty() {
            return Err(DrawError::Mismatch("the search ranked nothing".to_owned()));
        }
        Ok(Self { scenario, found, economics, units })
    }

    /// The candidates that ran to the end, in order of rank.
    pub(crate) fn lines(&self) -> Vec<Line<'a>> {
        let line = |ranked: &Ranked| {
            let at = ranked.alternative;
            Line { at, entry: &self.found.entries[at], ranked: Some(*ranked) }
        };
        self.found.ranking.iter().map(line).collect()
    }

    /// Those that were dropped: the last dropped first, then by how little their leader led.
    pub(crate) fn dropped(&self) -> Vec<Line<'a>> {
        let mut all = Vec::new();
        for stage in self.found.stages.iter().rev() {
            let mut dropped: Vec<_> = stage.dropped.iter().collect();
            dropped.sort_by(|a, b| a.mean_lead.total_cmp(&b.mean_lead));
            all.extend(dropped.into_iter().map(|dropped| {
                let at = dropped.candidate;
                Line { at, entry: &self.found.entries[at], ranked: None }
            }));
        }
        all
    }

    /// The first `most` in order, dropped ones after the ranked; and wherever they stand the fixed
    /// pattern, the one with the best mean, and those that stand for a kind of clock and edges.
    pub(crate) fn shown(&self, most: usize) -> Vec<Line<'a>> {
        let all = self.lines().into_iter().chain(self.dropped());
        let kinds = self.found.kinds.iter().flat_map(|kind| [kind.best, kind.simplest]);
        let leader = self.found.leader().map(|leader| leader.alternative);
        let always: Vec<usize> = kinds.chain(leader).chain([0]).collect();
        let is_shown =
            |(place, line): &(usize, Line<'a>)| *place < most || always.contains(&line.at);
        all.enumerate().filter(is_shown).map(|(_, line)| line).collect()
    }

    /// The aim in words.
    pub(crate) fn aim(&self) -> &'static str {
        match self.found.aim {
            Aim::DuLqInterior => "DUlq of the season’s water in the interior",
            Aim::DuLqWhole => "DUlq of the season’s water over the whole field",
            Aim::WorstTenth => "yield of the field’s worst tenth",
            Aim::NetReturn => "net return",
        }
    }

    /// The aim with its unit, for heads and axes.
    pub(crate) fn aim_label(&self) -> String {
        match self.found.aim {
            Aim::DuLqInterior => "DUlq, interior (%)".to_owned(),
            Aim::DuLqWhole => "DUlq, whole field (%)".to_owned(),
            Aim::WorstTenth => "Yield of the worst tenth (% of full yield)".to_owned(),
            Aim::NetReturn => format!("Net return per {} per year", self.units.area_word()),
        }
    }

    /// A value of the aim in its shown unit.
    pub(crate) fn aim_shown(&self, value: f64) -> f64 {
        match self.found.aim {
            Aim::NetReturn => self.units.per_area(value),
            _ => 100.0 * value,
        }
    }

    /// A difference of the aim as files give it: points, or money a hectare.
    pub(crate) fn aim_plain(&self, value: f64) -> f64 {
        if self.found.aim == Aim::NetReturn { value } else { 100.0 * value }
    }

    /// A difference of the aim with its sign and unit.
    pub(crate) fn gain_text(&self, value: f64) -> String {
        match self.found.aim {
            Aim::NetReturn => {
                let text = number(self.units.per_area(value), 2);
                let plus = if value > 0.0 && !text.starts_with('\u{2212}') { "+" } else { "" };
                format!("{plus}{text} per {} per year", self.units.area_word())
            }
            _ => format!("{} points", points(value, 1)),
        }
    }

    /// A difference of the aim without its unit.
    pub(crate) fn plain_text(&self, value: f64) -> String {
        match self.found.aim {
            Aim::NetReturn => number(self.units.per_area(value), 2),
            _ => number(100.0 * value, 1),
        }
    }

    /// The unit of differences of the aim.
    pub(crate) fn unit_of_gain(&self) -> String {
        match self.found.aim {
            Aim::NetReturn => format!("money per {} per year", self.units.area_word()),
            Aim::WorstTenth => "points of full yield".to_owned(),
            Aim::DuLqInterior | Aim::DuLqWhole => "points of DUlq".to_owned(),
        }
    }

    /// An amount of the aim with its unit and without a sign.
    pub(crate) fn amount_text(&self, value: f64) -> String {
        let amount = self.plain_text(value);
        match self.found.aim {
            Aim::NetReturn => format!("{amount} per {} per year", self.units.area_word()),
            _ => format!("{amount} points"),
        }
    }

    /// The worthwhile difference, with its unit.
    pub(crate) fn least_text(&self) -> String {
        self.amount_text(self.found.least)
    }

    /// What a shared rank means, as a clause after "because" or a colon.
    pub(crate) fn ties(&self) -> String {
        if self.found.least == 0.0 {
            return "we can’t tell them apart in the seasons run".to_owned();
        }
        format!(
            "they differ by less than {}, too close to matter, or we can’t tell in the seasons run \
             whether they differ by more",
            self.least_text()
        )
    }

    /// Net return of the entry in shown units; `None` where it is not known.
    pub(crate) fn net(&self, at: usize) -> Option<Paired> {
        self.found.net_per_ha(at)
    }
}
