//! Scenario and outcome, paired and checked once, as every picture and table reads them.

use super::site::Site;
use evenfall_canvas::DrawError;
use evenfall_core::grid::DepthGrid;
use evenfall_core::model::{Alternative, Region, Scenario};
use evenfall_core::rotation::Shift;
use evenfall_core::schedule::PassPlan;
use evenfall_core::season::{AlternativeOutcome, Outcome, RegionFigures, Snapshot};
use evenfall_core::uniformity::Uniformity;
use evenfall_view::units::{Quantity, UnitSystem, number};
use std::borrow::Cow;

/// One alternative: what was asked and what came out.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Entry<'a> {
    pub(crate) asked: &'a Alternative,
    pub(crate) found: &'a AlternativeOutcome,
}

/// A distinct stop of a rotation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct StopMark {
    pub(crate) letter: char,
    pub(crate) shift: Shift,
}

impl StopMark {
    /// The distinct stops of `passes`, in order of first use.
    pub(crate) fn of(passes: &[PassPlan]) -> Vec<Self> {
        let mut seen: Vec<Self> = Vec::new();
        for pass in passes {
            let stop = Self { letter: pass.letter, shift: pass.shift };
            if !seen.contains(&stop) {
                seen.push(stop);
            }
        }
        seen
    }
}

/// Everything the pictures are drawn from.
#[derive(Debug)]
pub(crate) struct Scene<'a> {
    pub(crate) scenario: &'a Scenario,
    pub(crate) outcome: &'a Outcome,
    pub(crate) units: UnitSystem,
    pub(crate) entries: Vec<Entry<'a>>,
    pub(crate) site: Site<'a>,
}

impl<'a> Scene<'a> {
    /// Pairs and checks; what passes here can be drawn without looking again.
    pub(crate) fn new(
        scenario: &'a Scenario,
        outcome: &'a Outcome,
        units: UnitSystem,
    ) -> Result<Self, DrawError> {
        let wrong = |what: String| Err(DrawError::Mismatch(what));
        let (asked, found) = (&scenario.alternatives, &outcome.alternatives);
        if asked.is_empty() || asked.len() != found.len() {
            return wrong(format!("{} alternatives, {} results", asked.len(), found.len()));
        }
        let shape = (outcome.grid.cells_across, outcome.grid.cells_along);
        if shape.0 == 0 || shape.1 == 0 || !positive(outcome.grid.cell_m) {
            return wrong("a grid without cells".to_owned());
        }
        let entries: Vec<_> =
            asked.iter().zip(found).map(|(asked, found)| Entry { asked, found }).collect();
        for entry in &entries {
            entry.check(shape)?;
        }
        let site = Site { scenario, grid: outcome.grid, units, rose: Some(&outcome.wind.rose) };
        Ok(Self { scenario, outcome, units, entries, site })
    }

    /// The interior; the whole field where the margins meet.
    pub(crate) fn interior(&self) -> Region {
        self.scenario.field.interior_or_whole(self.outcome.interior_margin_m)
    }

    /// "the interior", or "the whole field" where there is no interior.
    pub(crate) fn interior_name(&self) -> &'static str {
        let cells = self.scenario.field.interior(self.outcome.interior_margin_m).cells();
        if cells > 0 { "interior" } else { "whole field" }
    }

    /// What the figures are taken over, in a sentence.
    pub(crate) fn interior_words(&self) -> String {
        if self.interior_name() == "interior" {
            let margin = self.length(self.outcome.interior_margin_m);
            format!(
                "Interior: the field without a strip of {margin} along every edge, where the water \
                 of neighboring sprinklers or sets is missing."
            )
        } else {
            "There is no interior on so narrow a field: figures are those of all of it.".to_owned()
        }
    }

    /// Most passes of any alternative.
    pub(crate) fn most_passes(&self) -> usize {
        self.entries.iter().map(|e| e.found.passes.len()).max().unwrap_or(1)
    }

    /// A length with its unit, as few decimals as it needs.
    pub(crate) fn length(&self, meters: f64) -> String {
        let shown = self.units.shown(Quantity::Length, meters);
        let decimals = usize::from((shown - shown.round()).abs() > 0.05);
        format!("{}\u{a0}{}", number(shown, decimals), self.units.symbol(Quantity::Length))
    }

    /// A shift in words: "20 ft ahead", "at the outlet", "10 ft back, 20 ft along the pipe"; along
    /// the pipe is away from the mainline, back along it toward the mainline.
    pub(crate) fn shift_words(&self, shift: Shift) -> String {
        let across = match shift.across_m {
            y if y.abs() < 5e-3 => String::new(),
            y if y > 0.0 => format!("{} ahead", self.length(y)),
            y => format!("{} back", self.length(-y)),
        };
        let along = match shift.along_m {
            x if x.abs() < 5e-3 => String::new(),
            x if x > 0.0 => format!("{} along the pipe", self.length(x)),
            x => format!("{} back along the pipe", self.length(-x)),
        };
        match (across.is_empty(), along.is_empty()) {
            (true, true) => "at the outlet".to_owned(),
            (false, true) => across,
            (true, false) => along,
            (false, false) => format!("{across}, {along}"),
        }
    }
}

impl<'a> Entry<'a> {
    fn check(&self, shape: (usize, usize)) -> Result<(), DrawError> {
        let name = &self.asked.name;
        let wrong = |what: &str| Err(DrawError::Mismatch(format!("“{name}”: {what}")));
        let passes = self.found.passes.len();
        if passes == 0 || passes != self.found.plan.passes.len() {
            return wrong("the passes run are not the passes planned, or there are none");
        }
        let mut shapes = self.found.snapshots.iter().map(Snapshot::dim);
        if self.found.season_mm.dim() != shape || shapes.any(|one| one != shape) {
            return wrong("a depth grid has the wrong number of cells");
        }
        if self.found.snapshots.iter().any(|s| s.after_pass == 0 || s.after_pass >= passes) {
            return wrong("a depth grid belongs to no pass");
        }
        Ok(())
    }

    /// Cumulative depth after the first passes and the last, mm, each after so many passes.
    pub(crate) fn built_up(&self) -> impl Iterator<Item = (usize, Cow<'a, DepthGrid>)> {
        let first = self.found.snapshots.iter();
        let first = first.map(|one| (one.after_pass, Cow::Owned(one.depth_mm())));
        first.chain([(self.passes(), Cow::Borrowed(self.found.season_depth_mm()))])
    }

    /// The stops used, in order of first use.
    pub(crate) fn stops(&self) -> Vec<StopMark> {
        StopMark::of(&self.found.plan.passes)
    }

    /// The stops used in the first `passes` passes.
    pub(crate) fn stops_until(&self, passes: usize) -> Vec<StopMark> {
        StopMark::of(&self.found.plan.passes[..passes.min(self.passes())])
    }

    /// Depth at the end of the season, mm.
    pub(crate) fn season_depth_mm(&self) -> &'a DepthGrid {
        self.found.season_depth_mm()
    }

    /// Mean cumulative depth of the interior (whole field where there is none) after a pass, mm.
    pub(crate) fn mean_depth_mm(&self, after_pass: usize) -> Option<f64> {
        let figures = inside(&self.found.passes.get(after_pass.checked_sub(1)?)?.cumulative)?;
        (figures.mean_depth_mm > 0.0).then_some(figures.mean_depth_mm)
    }

    /// Whether pass `pass` (from 0) is the last of a cycle of the rotation.
    pub(crate) fn ends_a_cycle(&self, pass: usize) -> bool {
        (pass + 1).is_multiple_of(self.found.plan.cycle.max(1))
    }

    /// Number of passes.
    pub(crate) fn passes(&self) -> usize {
        self.found.passes.len()
    }
}

/// Figures of the interior, or of the whole field where there is no interior.
pub(crate) fn inside(figures: &RegionFigures) -> Option<Uniformity> {
    figures.interior.or(figures.whole)
}

/// More than nothing, and a number.
pub(crate) fn positive(value: f64) -> bool {
    value > 0.0
}
