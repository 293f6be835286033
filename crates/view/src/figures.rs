//! The figures of uniformity: one table, one row a figure. Columns of tables and CSV, keys of JSON
//! and of the explorer's API, and what the page shows follow from it; a new figure is a field of
//! [`Uniformity`] and a row here.

use crate::units::{Quantity, UnitSystem};
use crate::value::Amount;
use evenfall_core::uniformity::Uniformity;
use serde::{Serialize, Serializer};
use utoipa::ToSchema;

/// What a figure measures; its unit and its decimals follow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A fraction, shown as percent.
    Share,
    /// A depth of water.
    Depth,
    /// A length on the ground.
    Length,
    /// A number of things.
    Count,
}

impl Measure {
    /// A number of this kind (fraction, mm, m, count) as a value.
    pub fn value(self, number: f64, units: UnitSystem) -> Amount {
        match self {
            Self::Share => Amount::percent(number, 1),
            Self::Depth => Amount::quantity(units, Quantity::Depth, number, units.depth_decimals()),
            Self::Length => Amount::quantity(units, Quantity::Length, number, 1),
            Self::Count => Amount::plain(number, 0),
        }
    }

    /// Head of a column: label, and the unit that its cells leave out.
    pub fn head(self, label: &str, units: UnitSystem) -> String {
        match self {
            Self::Depth => format!("{label} ({})", units.symbol(Quantity::Depth)),
            Self::Length => format!("{label} ({})", units.symbol(Quantity::Length)),
            Self::Share | Self::Count => label.to_owned(),
        }
    }

    /// The cell under that head.
    pub fn cell(self, value: &Amount) -> &str {
        match self {
            Self::Depth | Self::Length => value.digits(),
            Self::Share | Self::Count => &value.text,
        }
    }

    /// A key in files for other programs, with the unit last.
    pub fn file_key(self, key: &str) -> String {
        let unit = match self {
            Self::Share => "_percent",
            Self::Depth => "_mm",
            Self::Length => "_m",
            Self::Count => "",
        };
        format!("{key}{unit}")
    }
}

/// Where people read a figure; files for other programs hold every one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shown {
    /// In files only.
    Nowhere,
    /// In the table of the whole season.
    Season,
    /// In that table and pass by pass.
    Passes,
}

/// One figure: a row of [`FIGURES`].
#[derive(Clone, Copy, Debug)]
pub struct Figure {
    /// Key, the same in all outputs; files add the unit.
    pub key: &'static str,
    /// Its full name.
    pub label: &'static str,
    /// Its name in the head of a column.
    pub short_label: &'static str,
    /// What it measures.
    pub measure: Measure,
    /// Where people read it.
    pub shown: Shown,
    of: fn(&Uniformity) -> f64,
}

/// Every figure, in the order of columns.
pub static FIGURES: &[Figure] = &[
    Figure {
        key: "cu",
        label: "Christiansen’s uniformity coefficient",
        short_label: "CU",
        measure: Measure::Share,
        shown: Shown::Passes,
        of: |f| f.cu,
    },
    Figure {
        key: "du_lq",
        label: "Distribution uniformity of the low quarter",
        short_label: "DUlq",
        measure: Measure::Share,
        shown: Shown::Passes,
        of: |f| f.du_lq,
    },
    Figure {
        key: "cv",
        label: "Coefficient of variation",
        short_label: "CV",
        measure: Measure::Share,
        shown: Shown::Season,
        of: |f| f.cv,
    },
    Figure {
        key: "mean_depth",
        label: "Mean depth",
        short_label: "Mean",
        measure: Measure::Depth,
        shown: Shown::Passes,
        of: |f| f.mean_depth_mm,
    },
    Figure {
        key: "lowest_depth",
        label: "Lowest depth",
        short_label: "Lowest",
        measure: Measure::Depth,
        shown: Shown::Season,
        of: |f| f.lowest_depth_mm,
    },
    Figure {
        key: "highest_depth",
        label: "Highest depth",
        short_label: "Highest",
        measure: Measure::Depth,
        shown: Shown::Season,
        of: |f| f.highest_depth_mm,
    },
    Figure {
        key: "area_under_75",
        label: "Share of the area under 75\u{a0}% of the mean depth",
        short_label: "Area under 75\u{a0}% of mean",
        measure: Measure::Share,
        shown: Shown::Season,
        of: |f| f.share_under_75,
    },
    Figure {
        key: "area_over_125",
        label: "Share of the area over 125\u{a0}% of the mean depth",
        short_label: "Area over 125\u{a0}% of mean",
        measure: Measure::Share,
        shown: Shown::Season,
        of: |f| f.share_over_125,
    },
    Figure {
        key: "cells",
        label: "Cells of the grid",
        short_label: "Cells",
        measure: Measure::Count,
        shown: Shown::Nowhere,
        of: |f| f.cells as f64,
    },
];

impl Figure {
    /// The figures that people read at least there.
    pub fn shown_in(place: Shown) -> impl Iterator<Item = &'static Self> {
        FIGURES.iter().filter(move |figure| figure.shown >= place)
    }

    /// Its value for `found`.
    pub fn value(&self, found: &Uniformity, units: UnitSystem) -> Amount {
        self.measure.value((self.of)(found), units)
    }

    /// Head of its column.
    pub fn head(&self, units: UnitSystem) -> String {
        self.measure.head(self.short_label, units)
    }

    /// Its number in files of lines: four decimals, and none for what is counted.
    pub fn file_number(&self, value: &Amount) -> String {
        let decimals = if self.measure == Measure::Count { 0 } else { 4 };
        value.number.map_or_else(String::new, |number| format!("{number:.decimals$}"))
    }

    /// Key in files for other programs, with the unit last.
    pub fn file_key(&self) -> String {
        self.measure.file_key(self.key)
    }
}

/// Every figure of a part of the field, in the order of [`FIGURES`]; by key when serialized.
#[derive(Clone, Debug, PartialEq, ToSchema)]
#[schema(value_type = BTreeMap<String, Amount>)]
pub struct Figures(Vec<Amount>);

impl Figures {
    /// The figures of `found`, shown in `units`.
    pub fn new(found: &Uniformity, units: UnitSystem) -> Self {
        Self(FIGURES.iter().map(|figure| figure.value(found, units)).collect())
    }

    /// Each figure with its value.
    pub fn iter(&self) -> impl Iterator<Item = (&'static Figure, &Amount)> {
        FIGURES.iter().zip(&self.0)
    }

    /// The value of the figure with this key.
    pub fn get(&self, key: &str) -> Option<&Amount> {
        self.iter().find(|(figure, _)| figure.key == key).map(|(_, value)| value)
    }

    /// Cells of the figures that people read at least in `place`, in order.
    pub fn cells(&self, place: Shown) -> Vec<String> {
        let shown = self.iter().filter(|(figure, _)| figure.shown >= place);
        shown.map(|(figure, value)| figure.measure.cell(value).to_owned()).collect()
    }
}

impl Serialize for Figures {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.iter().map(|(figure, value)| (figure.key, value)))
    }
}

/// What stands over a column of figures, for surfaces that lay them out themselves.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, ToSchema)]
pub struct FigureHead {
    /// Key of the figure.
    pub key: &'static str,
    /// Its full name.
    pub label: &'static str,
    /// Its name in the head of a column.
    pub short_label: &'static str,
    /// Whether it is shown pass by pass.
    pub by_pass: bool,
}

impl FigureHead {
    /// Heads of the figures that people read.
    pub fn all() -> Vec<Self> {
        let shown = Figure::shown_in(Shown::Season);
        let head = |figure: &'static Figure| Self {
            key: figure.key,
            label: figure.label,
            short_label: figure.short_label,
            by_pass: figure.shown >= Shown::Passes,
        };
        shown.map(head).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found() -> Uniformity {
        Uniformity {
            cu: 0.84251,
            du_lq: 0.7649,
            cv: 0.2,
            mean_depth_mm: 25.4,
            lowest_depth_mm: 12.7,
            highest_depth_mm: 50.8,
            share_under_75: 0.1,
            share_over_125: 0.0549,
            cells: 9,
        }
    }

    #[test]
    fn closed_figures_carry_the_digits_of_the_tables() {
        let us = Figures::new(&found(), UnitSystem::Us).cells(Shown::Season);
        let expected = [
            "84.3\u{a0}%",
            "76.5\u{a0}%",
            "20.0\u{a0}%",
            "1.00",
            "0.50",
            "2.00",
            "10.0\u{a0}%",
            "5.5\u{a0}%",
        ];
        assert_eq!(us, expected);
        let si = Figures::new(&found(), UnitSystem::Si).cells(Shown::Passes);
        assert_eq!(si, ["84.3\u{a0}%", "76.5\u{a0}%", "25.4"]);
    }

    #[test]
    fn closed_keys_are_those_of_a_name_and_differ() {
        let mut keys: Vec<&str> = FIGURES.iter().map(|figure| figure.key).collect();
        let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        assert!(keys.iter().all(|key| key.chars().all(is_plain)), "{keys:?}");
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), FIGURES.len());
    }
}
