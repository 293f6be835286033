//! A drawn value of every doubt put into the scenario of one season.

use super::draws::{COUNT, Drawn, Ranges};
use super::table::Doubt;
use crate::model::Scenario;
use crate::root_zone::ground::Ground;
use crate::sprinkler::{DragCorrection, Jet, Leg, Pattern, Sprinkler, SprinklerProblem};

/// Ranges around what the baseline uses. An alternative with a sprinkler of its own is drawn around
/// that, as far up or down its range as the baseline: what is doubtful about one is so about both,
/// and what sets them apart stays.
pub(crate) fn ranges_of(scenario: &Scenario) -> Ranges {
    let first = scenario.alternatives.first();
    first.map_or_else(|| Ranges::around([1.0; COUNT]), |first| ranges_around(&first.sprinkler.drag))
}

fn ranges_around(drag: &DragCorrection) -> Ranges {
    let mut used = [1.0; COUNT];
    used[Doubt::DragK1 as usize] = drag.k1;
    used[Doubt::DragK2 as usize] = drag.k2;
    used[Doubt::Turbulence as usize] = drag.turbulence;
    used[Doubt::JetLength as usize] = drag.jet_length_m;
    Ranges::around(used)
}

/// The scenario as it is drawn for season `season`; losses are drawn hour by hour, where the weather
/// is known, and passes are called on the ground as the irrigator takes it to be.
///
/// # Errors
/// A sprinkler of which no such radius can be made.
pub(crate) fn drawn_scenario(used: &Scenario, season: usize) -> Result<Scenario, SprinklerProblem> {
    let mut drawn = used.clone();
    for alternative in &mut drawn.alternatives {
        let own = ranges_around(&alternative.sprinkler.drag).drawn(season);
        alternative.sprinkler = own.sprinkler(&alternative.sprinkler)?;
    }
    Ok(drawn)
}

/// A pattern whose throw is longer or shorter than stated; its discharge stays.
#[derive(Debug, PartialEq)]
struct Reaching {
    stated: Jet,
    factor: f64,
    leg: Leg,
}

impl Reaching {
    fn new(stated: &Jet, factor: f64) -> Result<Self, SprinklerProblem> {
        let leg = stated.leg().with_radius(stated.leg().radius_m() * factor)?;
        Ok(Self { stated: stated.clone(), factor, leg })
    }
}

impl Pattern for Reaching {
    fn leg(&self) -> &Leg {
        &self.leg
    }

    fn leg_at(&self, pressure_ratio: f64, radius_exponent: f64) -> Result<Leg, SprinklerProblem> {
        let stated = self.stated.at(pressure_ratio, radius_exponent)?;
        stated.leg().with_radius(stated.leg().radius_m() * self.factor)
    }
}

impl Drawn {
    /// The value of one doubt.
    pub(crate) fn of(&self, doubt: Doubt) -> f64 {
        self.0[doubt as usize]
    }

    /// The sprinkler as it is drawn.
    fn sprinkler(&self, used: &Sprinkler) -> Result<Sprinkler, SprinklerProblem> {
        let drag = DragCorrection {
            k1: self.of(Doubt::DragK1),
            k2: self.of(Doubt::DragK2),
            turbulence: self.of(Doubt::Turbulence),
            jet_length_m: self.of(Doubt::JetLength),
            ..used.drag
        };
        let factor = self.of(Doubt::Radius);
        let jet = |jet: &Jet| Ok(Jet::new(Reaching::new(jet, factor)?, jet.launch));
        let jets = used.jets.iter().map(jet).collect::<Result<_, SprinklerProblem>>()?;
        Ok(Sprinkler { jets, drag })
    }

    /// The ground of season `season` as it is drawn.
    pub(crate) fn ground(&self, used: &Ground, season: usize) -> Ground {
        used.with_storage(season, self.of(Doubt::SoilStorage), self.of(Doubt::YieldResponse))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sprinkler::Launch;

    #[test]
    fn closed_what_sets_two_sprinklers_apart_stays_and_a_draw_is_the_same_for_both() {
        let drag = |k1| DragCorrection { k1, ..DragCorrection::NONE };
        for season in [0, 2, 14] {
            let drawn = |k1| ranges_around(&drag(k1)).drawn(season).of(Doubt::DragK1);
            assert!(drawn(0.1) < drawn(0.6), "{season}");
            assert_eq!(drawn(0.3).to_bits(), drawn(0.3).to_bits());
        }
        // The season after shares the draw; the one after that does not.
        let at = |season| ranges_around(&drag(0.3)).drawn(season);
        assert!(at(0) == at(1) && at(1) != at(2));
    }

    #[test]
    fn closed_a_longer_throw_keeps_the_discharge_at_any_pressure() {
        let launch =
            Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };
        let stated = Jet::new(Leg::new(vec![0.0, 10.0], vec![6.0, 0.0]).unwrap(), launch);
        let drawn = Jet::new(Reaching::new(&stated, 1.1).unwrap(), launch);
        for pressure_ratio in [0.8, 1.0] {
            let (a, b) = (stated.at(pressure_ratio, 0.2), drawn.at(pressure_ratio, 0.2));
            let (a, b) = (a.unwrap(), b.unwrap());
            assert!((b.leg().radius_m() / a.leg().radius_m() - 1.1).abs() < 1e-12);
            assert!((b.leg().discharge_l_s() / a.leg().discharge_l_s() - 1.0).abs() < 1e-12);
        }
    }
}
