//! Laterals under pressure: those that come out the same are shown once, under the names of all
//! alternatives that have them.

use super::season::Scene;
use evenfall_core::lateral::hydraulics::PressureLine;

/// A lateral under pressure with the alternatives that have it.
#[derive(Clone, Debug)]
pub(crate) struct Shared<'a> {
    /// Names of the alternatives.
    pub(crate) names: Vec<&'a str>,
    pub(crate) line: &'a PressureLine,
}

impl Shared<'_> {
    /// "Fixed; Two stops".
    pub(crate) fn name(&self) -> String {
        self.names.join("; ")
    }
}

/// The distinct laterals of a list, in order.
pub(crate) fn distinct<'a>(
    all: impl Iterator<Item = (&'a str, Option<&'a PressureLine>)>,
) -> Vec<Shared<'a>> {
    let mut found: Vec<Shared<'a>> = Vec::new();
    for (name, line) in all {
        let Some(line) = line else { continue };
        match found.iter_mut().find(|shared| shared.line == line) {
            Some(shared) => shared.names.push(name),
            None => found.push(Shared { names: vec![name], line }),
        }
    }
    found
}

/// The distinct laterals of a season.
pub(crate) fn of_scene<'a>(scene: &'a Scene<'_>) -> Vec<Shared<'a>> {
    let each = scene.entries.iter();
    distinct(each.map(|e| (e.asked.name.as_str(), e.found.pressures.as_ref())))
}
