//! What gathers while a scenario is resolved: problems, starting values, warnings, files read.

use crate::document::At;
use crate::issue::{Issue, Issues, harmless};
use evenfall_core::clock::FieldClock;
use sha2::{Digest as _, Sha256};
use std::fmt::Write as _;

/// A value that the scenario left to us.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// Which value, as a JSON pointer.
    pub what: String,
    /// Its value with unit.
    pub value: String,
    /// Why that value.
    pub why: String,
}

/// How files named in a scenario are got; the error is shown to the user.
pub type Load<'a> = &'a dyn Fn(&str) -> Result<Vec<u8>, String>;

/// What gathers while a scenario is resolved.
pub(crate) struct Notes<'a> {
    pub(crate) issues: Issues,
    pub(crate) assumptions: Vec<Assumption>,
    pub(crate) warnings: Vec<String>,
    /// Those of them that are for whoever plans, not for whoever moves the line.
    pub(crate) for_planning: Vec<String>,
    pub(crate) sources: Vec<String>,
    /// The clock that the scenario's times are written in.
    pub(crate) clock: FieldClock,
    /// Name and content of every file that was loaded.
    pub(crate) files: Vec<(String, Vec<u8>)>,
    load: Load<'a>,
}

impl<'a> Notes<'a> {
    /// Nothing yet; files come through `load`.
    pub(crate) fn new(load: Load<'a>) -> Self {
        Self {
            issues: Issues::default(),
            assumptions: Vec::new(),
            warnings: Vec::new(),
            for_planning: Vec::new(),
            sources: Vec::new(),
            clock: FieldClock::default(),
            files: Vec::new(),
            load,
        }
    }

    /// Notes a value that the scenario left to us; once for each place and value.
    pub(crate) fn assume(&mut self, what: &str, value: impl Into<String>, why: impl Into<String>) {
        let assumption = Assumption { what: what.to_owned(), value: value.into(), why: why.into() };
        if !self.assumptions.contains(&assumption) {
            self.assumptions.push(assumption);
        }
    }

    /// Notes a warning, once.
    pub(crate) fn warn(&mut self, warning: String) {
        let warning = harmless(warning);
        if !self.warnings.contains(&warning) {
            self.warnings.push(warning);
        }
    }

    /// Warns whoever plans; the move sheet says the same in its own way.
    pub(crate) fn warn_planner(&mut self, warning: String) {
        self.for_planning.push(warning.clone());
        self.warn(warning);
    }

    /// Loads a file of a section that each alternative reads again; it counts once.
    pub(crate) fn file_once(&mut self, name: &str, at: &At) -> Option<Vec<u8>> {
        let known = self.files.iter().find(|(known, _)| known == name);
        known.map(|(_, bytes)| bytes.clone()).or_else(|| self.file(name, at))
    }

    /// Loads a file that nothing names and that need not be there.
    pub(crate) fn file_if_there(&mut self, name: &str) -> Option<Vec<u8>> {
        let bytes = (self.load)(name).ok()?;
        self.files.push((name.to_owned(), bytes.clone()));
        Some(bytes)
    }

    /// Loads a file named at `at`.
    pub(crate) fn file(&mut self, name: &str, at: &At) -> Option<Vec<u8>> {
        match (self.load)(name) {
            Ok(bytes) => {
                self.files.push((name.to_owned(), bytes.clone()));
                Some(bytes)
            }
            Err(error) => {
                let problem = format!("the file \"{name}\" cannot be read: {error}");
                let hint = "Put it in the scenario's folder, or correct its name.";
                self.issues.push(Issue::new(at, problem).hint(hint));
                None
            }
        }
    }
}

/// SHA-256, hexadecimal.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().fold(String::new(), |mut hex, byte| {
        // Writing to a String cannot fail.
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}

/// A number of the file's text for messages: at most `digits` decimals, no trailing zeros.
pub(crate) fn decimals(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A length in feet and meters.
pub(crate) fn length(meters: f64) -> String {
    let feet = meters / evenfall_core::units::M_PER_FT;
    format!("{} ft ({} m)", decimals(feet, 3), decimals(meters, 3))
}

/// An area in acres and hectares.
pub(crate) fn area(square_meters: f64) -> String {
    let acres = square_meters / evenfall_core::units::M2_PER_ACRE;
    format!("{} ac ({} ha)", decimals(acres, 2), decimals(square_meters / 1e4, 2))
}
