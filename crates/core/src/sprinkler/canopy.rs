//! Water that lands on a crop: the sprinkler as it stands above the crop's top.
//!
//! Seen from the top of the canopy the nozzle stands lower by the crop's height, and what lands there
//! has not fallen the rest of the way to the ground: the leg, stated for the ground, is drawn in by as
//! much as the drop of its radius flies less far, and keeps its water. The wind over the crop is
//! `LogProfile::over_crop`. Neglected: that drops nearer by, which fall more steeply, are drawn in a
//! little less; water that runs down leaves and stems or drips aside; jets that strike plants.

use super::classes::DropClasses;
use super::flight::fly;
use super::jet::{Jet, Sprinkler};
use super::launch::Launch;
use super::problem::SprinklerProblem;

impl Sprinkler {
    /// The sprinkler over a crop so high; as it stands where there is none.
    ///
    /// # Errors
    /// Those of [`Self::above_canopy`].
    pub(crate) fn above(&self, canopy_m: Option<f64>) -> Result<Self, SprinklerProblem> {
        canopy_m.map_or_else(|| Ok(self.clone()), |canopy_m| self.above_canopy(canopy_m))
    }

    /// The sprinkler over a crop so high: heights are counted from the crop's top.
    ///
    /// # Errors
    /// A nozzle that does not stand at least 5 cm above the crop; anything else out of range.
    pub fn above_canopy(&self, canopy_m: f64) -> Result<Self, SprinklerProblem> {
        let still = self.drag.in_still_air();
        let above = |jet: &Jet| -> Result<Jet, SprinklerProblem> {
            let ground = jet.launch;
            let above = Launch { nozzle_height_m: ground.nozzle_height_m - canopy_m, ..ground };
            above.check()?;
            let classes = DropClasses::of(jet.leg().radius_m(), &ground, &self.drag, 2)?;
            let farthest_mm = classes.diameters_mm.last().copied().unwrap_or(f64::NAN);
            let range_m = |launch: &Launch| {
                Ok::<f64, SprinklerProblem>(
                    fly(farthest_mm, 0.0, launch, &still, &|_| 0.0)?.along_m,
                )
            };
            let mut jet = jet.altered(range_m(&above)? / range_m(&ground)?, 1.0)?;
            jet.launch = above;
            Ok(jet)
        };
        let jets = self.jets.iter().map(above).collect::<Result<_, _>>()?;
        Ok(Self { jets, ..self.clone() })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sprinkler::{DragCorrection, Leg};

    fn sprinkler() -> Sprinkler {
        let launch =
            Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.2 };
        let leg = Leg::new(vec![0.0, 13.4], vec![6.0, 0.0]).unwrap();
        Sprinkler {
            jets: vec![Jet::new(leg, launch)],
            drag: DragCorrection::NONE,
            flow_control: None,
        }
    }

    #[test]
    fn closed_over_a_crop_the_pattern_is_narrower_and_holds_the_same_water() {
        let (ground, above) = (sprinkler(), sprinkler().above_canopy(0.6).unwrap());
        assert!((above.jets[0].launch.nozzle_height_m - 0.6).abs() < 1e-12);
        assert!((above.discharge_l_s() / ground.discharge_l_s() - 1.0).abs() < 1e-12);
        // The farthest drop comes down at some 45 to 60 degrees: 0.6 m less of fall is 0.35 to 0.6 m
        // less of throw.
        let drawn_in_m = ground.radius_m() - above.radius_m();
        assert!((0.3..0.6).contains(&drawn_in_m), "{drawn_in_m}");
    }

    #[test]
    fn invariant_a_nozzle_in_the_crop_is_refused() {
        assert!(sprinkler().above_canopy(1.2).is_err() && sprinkler().above_canopy(3.0).is_err());
    }
}
