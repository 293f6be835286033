//! The columns of a catch-can file: their names carry the units.

use super::notes::issue;
use super::text::{Cell, Row};
use crate::issue::Issues;
use crate::suggest;
use evenfall_core::units::{M_PER_FT, M_PER_IN, MM_PER_IN};

/// Millilitres in one US fluid ounce (exact: gallon / 128; from memory, high).
const ML_PER_FLOZ: f64 = 3785.411784 / 128.0;

/// What a can's number is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Reading {
    /// A depth; factor to mm.
    Depth(f64),
    /// A volume; factor to mL.
    Volume(f64),
}

/// Names of reading columns.
const READINGS: [(&str, Reading); 7] = [
    ("depth_mm", Reading::Depth(1.0)),
    ("depth_cm", Reading::Depth(10.0)),
    ("depth_in", Reading::Depth(MM_PER_IN)),
    ("volume_ml", Reading::Volume(1.0)),
    ("volume_cm3", Reading::Volume(1.0)),
    ("volume_l", Reading::Volume(1000.0)),
    ("volume_floz", Reading::Volume(ML_PER_FLOZ)),
];

/// Units of places, meters in one.
const PLACE_UNITS: [(&str, f64); 3] = [("_m", 1.0), ("_ft", M_PER_FT), ("_in", M_PER_IN)];

/// Every column name, for messages.
pub(super) const ALL_NAMES: &str = "x_ft or x_m, y_ft or y_m, depth_in, depth_mm, depth_cm, \
     volume_ml, volume_cm3, volume_l or volume_floz; for a leg distance_ft or distance_m and \
     azimuth_deg; for a matrix the first cell y_ft/x_ft or y_m/x_m";

/// A column of places and the factor to m.
pub(super) type Place = (usize, f64);

/// How the table is laid out.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Layout {
    /// One can a row, at x and y.
    Long {
        /// Column of x.
        x: Option<Place>,
        /// Column of y.
        y: Option<Place>,
        /// Column of readings.
        reading: (usize, Reading),
    },
    /// One can a row, at a distance from the sprinkler.
    Leg {
        /// Column of distances.
        distance: Place,
        /// Column of azimuths, degrees.
        azimuth: Option<usize>,
        /// Column of readings.
        reading: (usize, Reading),
    },
    /// Rows of y, columns of x.
    Matrix {
        /// Meters in one of the header's units.
        unit_m: f64,
    },
}

impl Layout {
    /// Whether places are in feet or inches.
    pub(super) fn is_us(&self) -> bool {
        let unit_m = match self {
            Self::Long { x, y, .. } => x.or(*y).map_or(1.0, |place| place.1),
            Self::Leg { distance, .. } => distance.1,
            Self::Matrix { unit_m } => *unit_m,
        };
        unit_m != 1.0
    }

    /// The layout that a header names; problems are noted. Columns without meaning are returned.
    pub(super) fn of<'a>(header: &Row<'a>, issues: &mut Issues) -> (Option<Self>, Vec<&'a str>) {
        if let Some(unit_m) = header.cells.first().and_then(|cell| matrix_unit(cell.text)) {
            return (Some(Self::Matrix { unit_m }), Vec::new());
        }
        let mut found = Found::default();
        for (index, cell) in header.cells.iter().enumerate() {
            found.take(index, cell, issues);
        }
        let others = found.others.clone();
        (found.layout(header, issues), others)
    }
}

/// Reading by name, as in a matrix' note.
pub(super) fn reading_named(name: &str) -> Option<Reading> {
    READINGS.iter().find(|(known, _)| known.eq_ignore_ascii_case(name)).map(|(_, r)| *r)
}

/// Names of readings, for messages.
pub(super) fn reading_names() -> String {
    READINGS.map(|(name, _)| name).join(", ")
}

fn matrix_unit(text: &str) -> Option<f64> {
    let text = text.to_lowercase().replace(['\\', ' '], "/");
    PLACE_UNITS.iter().find(|(unit, _)| text == format!("y{unit}/x{unit}")).map(|(_, m)| *m)
}

#[derive(Default)]
struct Found<'a> {
    x: Option<Place>,
    y: Option<Place>,
    distance: Option<Place>,
    azimuth: Option<usize>,
    reading: Option<(usize, Reading)>,
    others: Vec<&'a str>,
}

impl<'a> Found<'a> {
    fn take(&mut self, index: usize, cell: &Cell<'a>, issues: &mut Issues) {
        let name = cell.text.to_lowercase();
        let place = |stem: &str| {
            PLACE_UNITS.iter().find(|(unit, _)| name == format!("{stem}{unit}")).map(|(_, m)| *m)
        };
        let mut twice = |is: bool| {
            if is {
                let problem = format!("`{}` is a second column of its kind", cell.text);
                issues.push(issue(cell, problem).hint("keep one; units may not be mixed"));
            }
        };
        if let Some(reading) = reading_named(&name) {
            twice(self.reading.is_some());
            self.reading = self.reading.or(Some((index, reading)));
        } else if let Some(unit_m) = place("x") {
            twice(self.x.is_some());
            self.x = self.x.or(Some((index, unit_m)));
        } else if let Some(unit_m) = place("y") {
            twice(self.y.is_some());
            self.y = self.y.or(Some((index, unit_m)));
        } else if let Some(unit_m) = place("distance") {
            twice(self.distance.is_some());
            self.distance = self.distance.or(Some((index, unit_m)));
        } else if name == "azimuth_deg" {
            twice(self.azimuth.is_some());
            self.azimuth = self.azimuth.or(Some(index));
        } else {
            self.unknown(cell, &name, issues);
        }
    }

    /// A name that looks like one of ours is a problem; any other column is passed over and told.
    fn unknown(&mut self, cell: &Cell<'a>, name: &str, issues: &mut Issues) {
        let stem = name.split(['_', ' ', '(']).next().unwrap_or_default();
        let ours = ["x", "y", "distance", "depth", "volume", "azimuth"];
        if ours.contains(&stem) {
            let all = "x_ft x_m y_ft y_m distance_ft distance_m azimuth_deg depth_mm depth_cm \
                       depth_in volume_ml volume_cm3 volume_l volume_floz";
            let near = suggest::nearest(name, all.split_whitespace());
            let hint = near.map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            let problem = format!("the column `{}` does not name a unit that is known", cell.text);
            let hint = format!("{hint}the unit stands in the column's name");
            issues.push(issue(cell, problem).allowed(ALL_NAMES).hint(hint));
        } else if !name.is_empty() {
            self.others.push(cell.text);
        }
    }

    fn layout(self, header: &Row<'a>, issues: &mut Issues) -> Option<Layout> {
        let whole = Cell { text: "", span: header.span.clone() };
        let mut wrong = |problem: &str, hint: &str| {
            issues.push(issue(&whole, problem).allowed(ALL_NAMES).hint(hint));
        };
        if self.reading.is_none() {
            wrong("no column holds readings", "name one such as `depth_in` or `volume_ml`");
        }
        if self.distance.is_some() && (self.x.is_some() || self.y.is_some()) {
            // Read on as one of the two, so that the rest is checked as well; so below.
            wrong("places are given both as x, y and as distances", "keep one of the two");
        }
        if let (Some((_, x)), Some((_, y))) = (self.x, self.y)
            && x != y
        {
            wrong(
                "units are mixed: x and y are not in the same unit",
                "give both in feet or meters",
            );
        }
        let reading = self.reading;
        match (self.distance, self.x.or(self.y)) {
            (Some(distance), _) => {
                Some(Layout::Leg { distance, azimuth: self.azimuth, reading: reading? })
            }
            (None, Some(_)) => Some(Layout::Long { x: self.x, y: self.y, reading: reading? }),
            (None, None) => {
                wrong("no column holds places", "name them such as `x_ft` and `y_ft`");
                None
            }
        }
    }
}
