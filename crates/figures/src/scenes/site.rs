//! The field with its alternatives, as maps and keys read it.

use evenfall_core::grid::Grid;
use evenfall_core::model::Scenario;
use evenfall_view::units::{Quantity, UnitSystem};

/// What stays the same whatever is mapped.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Site<'a> {
    pub(crate) scenario: &'a Scenario,
    /// The grid of all maps.
    pub(crate) grid: Grid,
    pub(crate) units: UnitSystem,
    /// Shares of the watered hours by where the wind came from; `None` for many seasons.
    pub(crate) rose: Option<&'a [f64; 16]>,
}

impl<'a> Site<'a> {
    /// The alternatives' names with their places in the scenario.
    pub(crate) fn names(&self) -> Vec<(usize, &'a str)> {
        self.scenario.alternatives.iter().map(|a| a.name.as_str()).enumerate().collect()
    }

    /// "Distance along the pipe (ft)" and the like.
    pub(crate) fn length_label(&self, what: &str) -> String {
        format!("{what} ({})", self.units.symbol(Quantity::Length))
    }
}
