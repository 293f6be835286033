//! Nozzles that hold their discharge over a range of pressure.
//!
//! A plain nozzle delivers q = q₀ √(P / P₀). A flow-control nozzle has a flexible ring that closes as
//! pressure rises: from its lowest pressure P₁ to its highest P₂ it delivers what it is stated to.
//! Below, q = q₀ √(P / P₁); above, q = q₀ √(P / P₂), which is an extrapolation: no maker states it.
//! The ring takes up what pressure there is beyond the stated one, so within the range the jet leaves
//! as at the stated pressure. Common practice, no source; neglected: that real nozzles hold their
//! discharge within some 5 % only, and wear.

use super::problem::SprinklerProblem;
use crate::range::within;

/// The pressures between which discharge stays as stated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlowControl {
    /// Lowest, kPa.
    pub from_kpa: f64,
    /// Highest, kPa; `None` holds at any higher pressure.
    pub to_kpa: Option<f64>,
}

impl FlowControl {
    /// Whether the numbers make a range that holds the pressure for which the sprinkler is stated.
    ///
    /// # Errors
    /// A pressure out of range, a range that is none, a stated pressure outside of it.
    pub fn check(&self, stated_kpa: f64) -> Result<(), SprinklerProblem> {
        within("flow control from (kPa)", self.from_kpa, 1.0, 5000.0)?;
        let to_kpa = self.to_kpa.unwrap_or(f64::INFINITY);
        within("flow control to (kPa)", self.to_kpa.unwrap_or(5000.0), self.from_kpa, 5000.0)?;
        Ok(within("stated pressure (kPa)", stated_kpa, self.from_kpa, to_kpa)?)
    }

    /// Pressure over that end of the range beyond which it lies; 1 within.
    fn beyond(&self, nozzle_kpa: f64) -> f64 {
        match self.to_kpa {
            _ if nozzle_kpa < self.from_kpa => nozzle_kpa / self.from_kpa,
            Some(to_kpa) if nozzle_kpa > to_kpa => nozzle_kpa / to_kpa,
            _ => 1.0,
        }
    }
}

/// Pressure that makes the jet, of `stated_kpa`, at a pressure at the nozzle.
pub(crate) fn jet_kpa(control: Option<FlowControl>, stated_kpa: f64, nozzle_kpa: f64) -> f64 {
    control.map_or(nozzle_kpa, |control| stated_kpa * control.beyond(nozzle_kpa))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::tests::sprinkler;
    use crate::sprinkler::Sprinkler;
    use crate::sprinkler::shape::Shape;

    /// Stated at 345 kPa.
    fn made(control: Option<FlowControl>) -> Sprinkler {
        let plain = sprinkler(Shape::Triangular, 90.0);
        assert!((plain.stated_kpa() - 345.0).abs() < 1e-9);
        Sprinkler { flow_control: control, ..plain }
    }

    #[test]
    fn closed_discharge_against_pressure_by_hand() {
        let control = FlowControl { from_kpa: 200.0, to_kpa: Some(450.0) };
        let held = made(Some(control));
        // A quarter of the lowest pressure: half the discharge. Held from 200 to 450 kPa. 1.21 times
        // the highest: 1.1 times the discharge.
        for (kpa, share) in
            [(50.0, 0.5), (200.0, 1.0), (345.0, 1.0), (450.0, 1.0), (544.5, 1.1), (-3.0, 0.0)]
        {
            assert!((held.share_at(kpa) - share).abs() < 1e-12, "{kpa}");
        }
        let open = made(Some(FlowControl { to_kpa: None, ..control }));
        assert!((open.share_at(900.0) - 1.0).abs() < 1e-12);
        // A plain nozzle: four times the pressure, twice the discharge.
        assert!((made(None).share_at(4.0 * 345.0) - 2.0).abs() < 1e-12);
    }

    #[test]
    fn invariant_the_stated_pressure_lies_in_the_range() {
        let control = FlowControl { from_kpa: 200.0, to_kpa: Some(450.0) };
        assert!(control.check(345.0).is_ok());
        assert!(control.check(180.0).is_err() && control.check(500.0).is_err());
        assert!(FlowControl { to_kpa: Some(150.0), ..control }.check(200.0).is_err());
        assert!(FlowControl { from_kpa: f64::NAN, ..control }.check(345.0).is_err());
    }
}
