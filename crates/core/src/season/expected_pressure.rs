//! What a pitot gauge should read at the first, the middle and the last sprinkler of a line.
//!
//! Where the pipe is described, the solution along it (`crate::lateral::hydraulics`), give or take
//! [`GAUGE_SHARE`] for gauge and pump. Else the stated pressure, give or take half of the 20 % by which
//! pressures along a lateral may differ (SCS NEH 15-11 1983). First and last are counted from the inlet.

use super::error::SeasonError;
use super::pressures::pressures_of;
use crate::lateral::hydraulics::{PRESSURE_RULE, PressureLine};
use crate::model::Alternative;

/// By how much gauge and pump may be off, as a share of the pressure; judgment, no source.
pub const GAUGE_SHARE: f64 = 0.05;

/// Expected pressures at the nozzle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExpectedPressure {
    /// At the first, the middle and the last sprinkler from the inlet, kPa.
    pub at_kpa: [f64; 3],
    /// Give or take, as a share.
    pub within: f64,
    /// Whether they are solved along the pipe; else the stated pressure stands for all.
    pub is_solved: bool,
}

impl ExpectedPressure {
    /// That of a line.
    ///
    /// # Errors
    /// If the pressures along the pipe cannot be found.
    pub(super) fn of(alternative: &Alternative) -> Result<Self, SeasonError> {
        if let Some(line) = pressures_of(alternative)? {
            return Ok(Self { at_kpa: along(&line), within: GAUGE_SHARE, is_solved: true });
        }
        let jet = alternative.sprinkler.jets.first();
        let stated_kpa = jet.map_or(0.0, |jet| jet.launch.pressure_kpa);
        Ok(Self { at_kpa: [stated_kpa; 3], within: PRESSURE_RULE / 2.0, is_solved: false })
    }
}

/// The nozzles' pressures by their distance from the inlet: nearest, middle one, farthest.
fn along(line: &PressureLine) -> [f64; 3] {
    let away_m = |place_m: f64| (place_m - line.feed.inlet_m).abs();
    let mut outlets: Vec<_> = line.outlets.iter().collect();
    outlets.sort_by(|one, other| away_m(one.place_m).total_cmp(&away_m(other.place_m)));
    let last = outlets.len().saturating_sub(1);
    [0, last / 2, last].map(|at| outlets.get(at).map_or(line.nominal_kpa, |one| one.nozzle_kpa))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::tests::{alternative, sprinkler};
    use crate::sprinkler::shape::Shape;

    #[test]
    fn closed_without_a_pipe_the_stated_pressure_stands_give_or_take_a_tenth() {
        let fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 90.0));
        let found = ExpectedPressure::of(&fixed).unwrap();
        let stated_kpa = fixed.sprinkler.jets[0].launch.pressure_kpa;
        assert_eq!(
            found,
            ExpectedPressure { at_kpa: [stated_kpa; 3], within: 0.1, is_solved: false }
        );
    }
}
