//! A drawn value of every doubt put into the scenario of one season.

use super::draws::{COUNT, Drawn, Ranges};
use super::table::Doubt;
use super::tested::Tested;
use crate::lateral::Discharges;
use crate::model::{Alternative, Scenario};
use crate::root_zone::ground::Ground;
use crate::sprinkler::{DragCorrection, Sprinkler, SprinklerProblem};

/// Sprinklers after which those of a drawn pipe come again, so that the field folds: unfolded, soil
/// and crop would take five times as long on a quarter-mile pipe. What the repeat does to the figures
/// is within 15 % of what single sprinklers do (`season::scatter_tests`).
const DRAWN_REPEAT: Option<usize> = Some(8);

/// Ranges around what the baseline uses. An alternative with a sprinkler of its own is drawn around
/// that, as far up or down its range as the baseline: what is doubtful about one is so about both,
/// and what sets them apart stays.
pub(crate) fn ranges_of(scenario: &Scenario) -> Ranges {
    let first = scenario.alternatives.first();
    first.map_or_else(|| Ranges::around([1.0; COUNT]), |first| ranges_around(first, scenario))
}

/// Ranges around what an alternative of a scenario uses; those of the sprinkler as tests leave them,
/// where there are any.
fn ranges_around(alternative: &Alternative, scenario: &Scenario) -> Ranges {
    let drag = &alternative.sprinkler.drag;
    let mut used = used_of(drag);
    used[Doubt::DischargeScatter as usize] = alternative.discharges.scatter;
    used[Doubt::Smoothing as usize] = scenario.smoothing_m;
    let ranges = Ranges::around(used);
    match &scenario.calibration {
        Some(points) => ranges.with_tests(Tested::of(points, drag)),
        None => ranges,
    }
}

/// Ranges around a drag alone, before any test.
pub(crate) fn ranges_of_drag(drag: &DragCorrection) -> Ranges {
    Ranges::around(used_of(drag))
}

fn used_of(drag: &DragCorrection) -> [f64; COUNT] {
    let mut used = [1.0; COUNT];
    used[Doubt::DragK1 as usize] = drag.k1;
    used[Doubt::DragK2 as usize] = drag.k2;
    used[Doubt::Turbulence as usize] = drag.turbulence;
    used[Doubt::JetLength as usize] = drag.jet_length_m;
    used[Doubt::DischargeScatter as usize] = 0.0;
    used[Doubt::Smoothing as usize] = 0.0;
    used
}

/// The sprinkler of a point: `drag` in place of its own, `radius` times its throw.
///
/// # Errors
/// A sprinkler of which no such radius can be made.
pub fn at_point(
    stated: &Sprinkler,
    drag: DragCorrection,
    radius: f64,
) -> Result<Sprinkler, SprinklerProblem> {
    Ok(Sprinkler { drag, ..stated.altered(radius, 1.0)? })
}

/// The scenario as it is drawn for season `season`; losses are drawn hour by hour, where the weather
/// is known, and passes are called on the ground as the irrigator takes it to be.
///
/// # Errors
/// A sprinkler of which no such radius can be made.
pub(crate) fn drawn_scenario(used: &Scenario, season: usize) -> Result<Scenario, SprinklerProblem> {
    let mut drawn = used.clone();
    for alternative in &mut drawn.alternatives {
        let own = ranges_around(alternative, used).drawn(season);
        alternative.sprinkler = own.sprinkler(&alternative.sprinkler)?;
        alternative.discharges = own.discharges(&alternative.discharges, season);
    }
    drawn.smoothing_m = ranges_of(used).drawn(season).of(Doubt::Smoothing);
    Ok(drawn)
}

impl Drawn {
    /// The value of one doubt.
    pub(crate) fn of(&self, doubt: Doubt) -> f64 {
        self.0[doubt as usize]
    }

    /// The sprinkler as it is drawn.
    pub(crate) fn sprinkler(&self, used: &Sprinkler) -> Result<Sprinkler, SprinklerProblem> {
        let drag = DragCorrection {
            k1: self.of(Doubt::DragK1),
            k2: self.of(Doubt::DragK2),
            turbulence: self.of(Doubt::Turbulence),
            jet_length_m: self.of(Doubt::JetLength),
            ..used.drag
        };
        at_point(used, drag, self.of(Doubt::Radius))
    }

    /// The pipe as it is drawn: another one for every two seasons.
    fn discharges(&self, used: &Discharges, season: usize) -> Discharges {
        Discharges {
            scatter: self.of(Doubt::DischargeScatter),
            single: used.single.clone(),
            means: used.means.clone(),
            draw: 1 + (season / 2) as u32,
            repeat: DRAWN_REPEAT,
        }
    }

    /// The ground of season `season` as it is drawn.
    pub(crate) fn ground(&self, used: &Ground, season: usize) -> Ground {
        used.with_storage(season, self.of(Doubt::SoilStorage), self.of(Doubt::YieldResponse))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_what_sets_two_sprinklers_apart_stays_and_a_draw_is_the_same_for_both() {
        let ranges = |k1| ranges_of_drag(&DragCorrection { k1, ..DragCorrection::NONE });
        for season in [0, 2, 14] {
            let drawn = |k1| ranges(k1).drawn(season).of(Doubt::DragK1);
            assert!(drawn(0.1) < drawn(0.6), "{season}");
            assert_eq!(drawn(0.3).to_bits(), drawn(0.3).to_bits());
        }
        // The season after shares the draw; the one after that does not.
        let at = |season| ranges(0.3).drawn(season);
        assert!(at(0) == at(1) && at(1) != at(2));
    }
}
