//! What the papers are made from, and the two systems that they speak of.

use crate::picture::Figure;
use crate::scenes::{Entry, Scene};
use evenfall_core::worth::Economics;
use evenfall_view::worth::{Against, AlternativeWorth, Worth as WorthView};
use evenfall_view::{PlanRow, ReportNotes, Season};

/// What papers are made from.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Papers<'a> {
    pub(crate) scene: &'a Scene<'a>,
    pub(crate) season: &'a Season,
    pub(crate) worth: &'a WorthView,
    pub(crate) economics: &'a Economics,
    pub(crate) notes: &'a ReportNotes,
    /// Depth maps of the existing and the planned system, side by side.
    pub(crate) maps: &'a Figure,
}

/// The planned system: the best-ranked alternative beside the baseline.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Planned<'a> {
    pub(crate) index: usize,
    pub(crate) worth: &'a AlternativeWorth,
    pub(crate) against: &'a Against,
}

/// The best-ranked alternative beside the baseline; `None` where there is nothing to compare.
pub(crate) fn planned(worth: &WorthView) -> Option<Planned<'_>> {
    let (index, worth, against) = worth.rivals().next()?;
    Some(Planned { index, worth, against })
}

impl<'a> Papers<'a> {
    pub(super) fn planned(&self) -> Option<Planned<'a>> {
        planned(self.worth)
    }

    /// Scenario and outcome of the existing and of the planned system.
    pub(super) fn entries(&self) -> Option<[Entry<'a>; 2]> {
        let planned = self.planned()?;
        Some([*self.scene.entries.first()?, *self.scene.entries.get(planned.index)?])
    }

    /// The plan check's rows of one alternative.
    pub(super) fn plan_rows(&self, index: usize) -> &'a [PlanRow] {
        let found = self.season.plan.as_ref().and_then(|plan| plan.alternatives.get(index));
        found.map_or(&[], |plan| &plan.rows)
    }

    /// The currency by its name, or that nobody has named it.
    pub(super) fn currency_words(&self) -> String {
        match &self.worth.currency {
            Some(name) => format!("Money is in {name}."),
            None => {
                "Money is in the currency of the prices entered; nobody has named it.".to_owned()
            }
        }
    }
}

/// What is cut from a list of so many, in words; empty where nothing is.
pub(super) fn cut_words(all: usize, shown: usize, what: &str) -> String {
    let left = all.saturating_sub(shown);
    if left == 0 { String::new() } else { format!("{left} more {what} in the full report.") }
}
