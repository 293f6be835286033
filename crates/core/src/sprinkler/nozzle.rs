//! A nozzle under pressure: discharge, drop sizes, and a leg worked out from them.
//!
//! Discharge is Torricelli's with a coefficient, q = Cd · π d²/4 · √(2P/ρ). Drop sizes follow Kincaid,
//! Solomon & Oliphant 1996, Trans. ASAE 39(3), in the form of Li, Kawano & Yu 1994: the share of
//! volume in drops up to d is 1 − exp(−0.693 (d/d50)^n), with d50 = 0.31 + 11900 R mm,
//! n = 2.04 − 1500 R and R = nozzle diameter / pressure head, for small round nozzles of impact
//! sprinklers, 3 to 6 mm (coefficients **from memory, confidence medium**).
//!
//! A leg from drop sizes and ballistics alone gets the pressure trend of the radius wrong: more
//! pressure makes finer drops, which fly less far, while real jets hold together. So a radius must
//! be stated (a catalog's or a measured one) and the leg is drawn out to it; drop sizes give
//! its shape only.

use super::classes::{LARGEST_DROP_MM, SMALLEST_DROP_MM};
use super::drag;
use super::flight::fly;
use super::launch::{DragCorrection, Launch};
use super::leg::Leg;
use super::pattern::Pattern;
use super::problem::SprinklerProblem;
use crate::range::within;
use crate::units::GRAVITY_M_S2;
use libm::{exp, log, pow};
use std::f64::consts::PI;

/// Usual discharge coefficient of a clean straight-bore nozzle: the middle of what the published
/// table in the tests implies (0.963–0.975).
pub const DISCHARGE_COEFFICIENT: f64 = 0.966;
/// Share of the volume in drops up to the one that marks the leg's end.
const VOLUME_AT_RADIUS: f64 = 0.99;
/// Rings into which the drops are sorted.
const RINGS: usize = 60;

/// A round nozzle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nozzle {
    /// Bore, mm.
    pub diameter_mm: f64,
    /// Discharge coefficient; see [`DISCHARGE_COEFFICIENT`].
    pub coefficient: f64,
}

/// Sizes of the drops of a spray, by volume.
#[derive(Clone, Copy, Debug, PartialEq)]
struct DropSizes {
    /// Half of the volume is in drops up to this, mm.
    median_mm: f64,
    /// Exponent n: the larger, the more alike the drops.
    exponent: f64,
}

impl Nozzle {
    /// Whether the numbers make a nozzle.
    ///
    /// # Errors
    /// Bore outside 0.5–50 mm, coefficient outside 0.3–1.
    fn check(&self) -> Result<(), SprinklerProblem> {
        within("diameter_mm", self.diameter_mm, 0.5, 50.0)?;
        Ok(within("discharge coefficient", self.coefficient, 0.3, 1.0)?)
    }

    /// Discharge at a pressure, L/s.
    fn discharge_l_s(&self, pressure_kpa: f64) -> f64 {
        let bore_m = self.diameter_mm * 1e-3;
        let speed_m_s = (2000.0 * pressure_kpa / drag::WATER_DENSITY_KG_M3).sqrt();
        1000.0 * self.coefficient * PI / 4.0 * bore_m * bore_m * speed_m_s
    }

    /// Drop sizes at a pressure (Kincaid et al. 1996).
    ///
    /// # Errors
    /// A bore outside 2–8 mm (the fit is for 3–6), a pressure outside 100–700 kPa, or the two
    /// together outside what the fit was made for (n under 1).
    fn drop_sizes(&self, pressure_kpa: f64) -> Result<DropSizes, SprinklerProblem> {
        self.check()?;
        within("diameter_mm (drop sizes)", self.diameter_mm, 2.0, 8.0)?;
        within("pressure_kpa (drop sizes)", pressure_kpa, 100.0, 700.0)?;
        let head_m = pressure_kpa * 1000.0 / (drag::WATER_DENSITY_KG_M3 * GRAVITY_M_S2);
        let ratio = self.diameter_mm * 1e-3 / head_m;
        let sizes =
            DropSizes { median_mm: 0.31 + 11900.0 * ratio, exponent: 2.04 - 1500.0 * ratio };
        within("exponent of the drop sizes", sizes.exponent, 1.0, 2.04)?;
        Ok(sizes)
    }
}

/// What a nozzle lays down: its leg from drop sizes and flight, drawn out to a stated radius.
#[derive(Clone, Debug, PartialEq)]
pub struct NozzlePattern {
    nozzle: Nozzle,
    leg: Leg,
}

impl NozzlePattern {
    /// Shape from drop sizes and flight, radius as stated, discharge the nozzle's own.
    ///
    /// # Errors
    /// Bore outside 2–8 mm, pressure outside 100–700 kPa or the two outside the fit of drop sizes
    /// (see `drop_sizes`), the launch, a radius outside 0.1–200 m.
    pub fn new(nozzle: Nozzle, launch: &Launch, radius_m: f64) -> Result<Self, SprinklerProblem> {
        let sizes = nozzle.drop_sizes(launch.pressure_kpa)?;
        let leg = ballistic_leg(sizes, launch)?
            .with_radius(radius_m)?
            .with_discharge(nozzle.discharge_l_s(launch.pressure_kpa))?;
        Ok(Self { nozzle, leg })
    }

    /// The same with a discharge that was measured.
    ///
    /// # Errors
    /// A discharge outside 1e-6–1000 L/s.
    pub fn with_discharge(&self, discharge_l_s: f64) -> Result<Self, SprinklerProblem> {
        Ok(Self { leg: self.leg.with_discharge(discharge_l_s)?, ..self.clone() })
    }
}

impl Pattern for NozzlePattern {
    fn leg(&self) -> &Leg {
        &self.leg
    }
}

impl DropSizes {
    /// Share of the volume in drops up to `diameter_mm`.
    fn volume_up_to(&self, diameter_mm: f64) -> f64 {
        1.0 - exp(-0.693 * pow(diameter_mm.max(0.0) / self.median_mm, self.exponent))
    }

    /// Diameter up to which drops hold `share` (0 to under 1) of the volume, mm.
    fn diameter_at(&self, share: f64) -> f64 {
        self.median_mm * pow(-log(1.0 - share) / 0.693, 1.0 / self.exponent)
    }
}

/// Leg of a spray as sphere ballistics alone would have it, in still air, of any discharge.
///
/// Ends where the drop lands that 99 % of the volume does not exceed; drops under 0.3 mm fall within
/// the range of that size.
fn ballistic_leg(sizes: DropSizes, launch: &Launch) -> Result<Leg, SprinklerProblem> {
    let largest_mm = sizes.diameter_at(VOLUME_AT_RADIUS).min(LARGEST_DROP_MM);
    let edge_mm =
        |k: usize| SMALLEST_DROP_MM * pow(largest_mm / SMALLEST_DROP_MM, k as f64 / RINGS as f64);
    let (mut distance_m, mut rate_mm_h) = (Vec::new(), Vec::new());
    let (mut near_m, mut inside) = (0.0, 0.0);
    for k in 0..=RINGS {
        let diameter_mm = edge_mm(k);
        let far_m = fly(diameter_mm, 0.0, launch, &DragCorrection::NONE, &|_| 0.0)?.along_m;
        let within_far = sizes.volume_up_to(diameter_mm);
        distance_m.push(0.5 * (near_m + far_m));
        rate_mm_h.push((within_far - inside) / (PI * (far_m * far_m - near_m * near_m)));
        (near_m, inside) = (far_m, within_far);
    }
    distance_m.push(near_m);
    rate_mm_h.push(0.0);
    Leg::new(distance_m, rate_mm_h)
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "these values are exact by construction")]
mod tests {
    use super::*;
    use crate::units::{KPA_PER_PSI, L_S_PER_GPM, MM_PER_IN};

    const LAUNCH: Launch =
        Launch { pressure_kpa: 345.0, trajectory_angle_deg: 25.0, nozzle_height_m: 1.0 };

    fn nozzle(diameter_mm: f64) -> Nozzle {
        Nozzle { diameter_mm, coefficient: DISCHARGE_COEFFICIENT }
    }

    #[test]
    fn published_discharges_of_a_nozzle_table() {
        // Extension water-measurement sheet "scr23", Table 3 (title page not seen): gpm at psi for
        // bores of 9/64, 5/32, 11/64 and 3/16 in. Within 2 %.
        let table = [
            (40.0, [3.63, 4.45, 5.37, 6.41]),
            (45.0, [3.84, 4.72, 5.70, 6.81]),
            (50.0, [4.04, 4.98, 6.01, 7.18]),
        ];
        for (psi, gpm) in table {
            for (sixty_fourths, gpm) in [9.0, 10.0, 11.0, 12.0].into_iter().zip(gpm) {
                let bore = nozzle(sixty_fourths / 64.0 * MM_PER_IN);
                let found = bore.discharge_l_s(psi * KPA_PER_PSI) / L_S_PER_GPM;
                assert!((found / gpm - 1.0).abs() < 0.02, "{sixty_fourths}/64 at {psi}: {found}");
            }
        }
    }

    #[test]
    fn published_drop_sizes_of_a_4_mm_nozzle() {
        // Kincaid et al. 1996, coefficients from memory: 4 mm at 35.7 m head: 1.64 mm, n 1.87.
        let pressure_kpa = 35.7 * drag::WATER_DENSITY_KG_M3 * GRAVITY_M_S2 / 1000.0;
        let sizes = nozzle(4.0).drop_sizes(pressure_kpa).unwrap();
        assert!((sizes.median_mm - 1.64).abs() <= 0.005, "{sizes:?}");
        assert!((sizes.exponent - 1.87).abs() <= 0.005, "{sizes:?}");
    }

    #[test]
    fn closed_drop_sizes_turn_back() {
        let sizes = DropSizes { median_mm: 1.5, exponent: 1.9 };
        assert!((sizes.volume_up_to(1.5) - 0.5).abs() < 1e-4);
        for share in [0.01, 0.3, 0.99] {
            assert!((sizes.volume_up_to(sizes.diameter_at(share)) - share).abs() < 1e-12);
        }
        assert_eq!(sizes.volume_up_to(0.0), 0.0);
    }

    #[test]
    fn invariant_leg_has_the_stated_radius_and_discharge() {
        let pattern = NozzlePattern::new(nozzle(3.969), &LAUNCH, 13.5).unwrap();
        let leg = pattern.leg();
        assert_eq!(leg.radius_m(), 13.5);
        assert!((leg.discharge_l_s() / nozzle(3.969).discharge_l_s(345.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn regress_ballistics_alone_get_the_pressure_trend_wrong() {
        // The reason why a radius must be stated: from 200 to 400 kPa a real radius grows.
        let radius_m = |pressure_kpa: f64| {
            let launch = Launch { pressure_kpa, ..LAUNCH };
            let sizes = nozzle(4.0).drop_sizes(pressure_kpa).unwrap();
            ballistic_leg(sizes, &launch).unwrap().radius_m()
        };
        assert!(radius_m(400.0) < radius_m(200.0));
    }

    #[test]
    fn invariant_bad_nozzles_are_refused() {
        assert!(nozzle(0.0).check().is_err());
        assert!(nozzle(4.0).drop_sizes(f64::NAN).is_err());
        assert!(nozzle(7.9).drop_sizes(100.0).is_err());
        assert!(NozzlePattern::new(nozzle(4.0), &LAUNCH, -1.0).is_err());
    }
}
