//! Energy that pumping takes, by volume of water, from lift and pressure.
//!
//! A cubic meter of water raised by `lift` and brought under `pressure` is given the work
//! ρ g · lift + pressure (J/m³); the pump takes that over its efficiency and its motor's:
//!
//! ```text
//! energy (kWh/m³) = (ρ g · lift + pressure) / (efficiency · 3.6 MJ/kWh)
//! ```
//!
//! Hydraulics of any textbook; ρ is 1000 kg/m³ by convention, g standard gravity. Neglected: the speed
//! of the water, an efficiency that changes with flow and head, demand charges.

use crate::units::GRAVITY_M_S2;

/// Kilojoules in a kilowatt-hour.
const KJ_PER_KWH: f64 = 3600.0;

/// What a pump has to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pumping {
    /// From the water's level to the outlet of the pump, or to the place of the pressure, m.
    pub lift_m: f64,
    /// Pressure there, kPa.
    pub pressure_kpa: f64,
    /// Of pump and motor together, fraction above 0.
    pub efficiency: f64,
}

impl Pumping {
    /// Energy that a cubic meter takes, kWh.
    pub fn kwh_per_m3(&self) -> f64 {
        // With 1000 kg/m³, a meter of water is g kPa, and 1 kPa through 1 m³ is 1 kJ.
        (GRAVITY_M_S2 * self.lift_m + self.pressure_kpa) / (self.efficiency * KJ_PER_KWH)
    }
}
