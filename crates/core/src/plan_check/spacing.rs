//! Outlet and sprinkler spacing as shares of the wetted diameter, beside published limits by wind.
//!
//! Across: NRCS practice code 442, an older text: 65 % in calm air, 60 % at 1–5 mph, 50 % at 6–10 mph,
//! 45 % above; 50 % along the lateral (from memory, medium). The FAO handbook on pressurized irrigation
//! has 65, 60 (to 6.5 km/h), 50 (to 13 km/h) and 30 % (above; from memory, medium) and is shown beside.
//! Winds between two rows take the row of the stronger wind (ours). The limits are made for a fixed
//! pattern, pass upon pass: where a rotation puts stops between the outlets, the widest gap between
//! neighboring stops of a whole cycle is told too.
//!
//! The wetted diameter is twice the still-air radius at the sprinkler's stated pressure.

use super::yardstick::Yardstick;
use crate::model::Alternative;
use crate::units::{M_PER_FT, M_S_PER_MPH};

/// A row of a table of spacing: up to this wind, so much of the wetted diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpacingLimit {
    /// Strongest wind of the row, m/s.
    pub up_to_m_s: f64,
    /// Widest spacing as a share of the wetted diameter.
    pub share: f64,
}

const fn up_to(up_to_m_s: f64, share: f64) -> SpacingLimit {
    SpacingLimit { up_to_m_s, share }
}

/// NRCS practice code 442, across the lateral; calm is under 1 mph.
const NRCS: [SpacingLimit; 4] = [
    up_to(M_S_PER_MPH, 0.65),
    up_to(5.0 * M_S_PER_MPH, 0.60),
    up_to(10.0 * M_S_PER_MPH, 0.50),
    up_to(f64::INFINITY, 0.45),
];
/// FAO handbook; calm is taken as for NRCS.
const FAO: [SpacingLimit; 4] = [
    up_to(M_S_PER_MPH, 0.65),
    up_to(6.5 / 3.6, 0.60),
    up_to(13.0 / 3.6, 0.50),
    up_to(f64::INFINITY, 0.30),
];
/// NRCS practice code 442, along the lateral in any wind.
pub const ALONG_LIMIT: f64 = 0.50;

/// Spacing beside its limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spacing {
    /// Wetted diameter in still air, m.
    pub wetted_diameter_m: f64,
    /// Outlet spacing as a share of it, against NRCS.
    pub across: Yardstick,
    /// What the FAO handbook allows, as a share.
    pub fao_across: f64,
    /// Sprinkler spacing as a share of it, against NRCS.
    pub along: Yardstick,
    /// Widest gap across between neighboring stops of a whole cycle, m: the outlet spacing where all
    /// stops are alike.
    pub cycle_gap_m: f64,
}

impl Spacing {
    pub(super) fn of(alternative: &Alternative, wind_2_m_s: f64) -> Self {
        let wetted_diameter_m = 2.0 * alternative.sprinkler.radius_m();
        let share = |length_m: f64| length_m / wetted_diameter_m;
        let shifts = alternative.rotation.distinct();
        let across_m: Vec<f64> = shifts.iter().map(|shift| shift.across_m).collect();
        let spacing_m = alternative.outlets.spacing_m;
        let across = Yardstick::at_most(share(spacing_m), limit(&NRCS, wind_2_m_s));
        let along = share(alternative.lateral.sprinkler_spacing_m);
        Self {
            wetted_diameter_m,
            across,
            fao_across: limit(&FAO, wind_2_m_s),
            along: Yardstick::at_most(along, ALONG_LIMIT),
            cycle_gap_m: widest_gap_m(&across_m, spacing_m),
        }
    }

    /// That gap as a share of the wetted diameter.
    pub fn cycle_share(&self) -> f64 {
        self.cycle_gap_m / self.wetted_diameter_m
    }

    /// The widest outlet spacing that keeps to NRCS, m.
    pub fn widest_across_m(&self) -> f64 {
        self.across.limit * self.wetted_diameter_m
    }
}

/// The share that a table allows in such a wind.
fn limit(table: &[SpacingLimit], wind_m_s: f64) -> f64 {
    let row = table.iter().find(|row| wind_m_s <= row.up_to_m_s);
    row.map_or(f64::NAN, |row| row.share)
}

/// Stops nearer than this are one, m.
const SAME_PLACE_M: f64 = 0.01 * M_PER_FT;

/// The widest gap between neighbors of stops that come again at every outlet.
fn widest_gap_m(across_m: &[f64], spacing_m: f64) -> f64 {
    let mut places: Vec<f64> =
        across_m.iter().map(|shift_m| shift_m.rem_euclid(spacing_m)).collect();
    places.sort_by(f64::total_cmp);
    let Some(first) = places.first().copied() else { return spacing_m };
    places.push(first + spacing_m);
    let gaps = places.windows(2).map(|two| two[1] - two[0]);
    let widest = gaps.fold(0.0, f64::max);
    if spacing_m - widest < SAME_PLACE_M { spacing_m } else { widest }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_limits_of_spacing_by_wind() {
        // NRCS practice code 442, older text, and the FAO handbook on pressurized irrigation, both from
        // memory (medium).
        let mph = |mph: f64| mph * M_S_PER_MPH;
        let nrcs = [0.0, 3.0, 5.0, 6.0, 10.0, 12.0].map(|wind| limit(&NRCS, mph(wind)));
        assert_eq!(nrcs, [0.65, 0.60, 0.60, 0.50, 0.50, 0.45]);
        let fao = [0.0, 6.5, 10.0, 13.0, 14.0].map(|wind| limit(&FAO, wind / 3.6));
        assert_eq!(fao, [0.65, 0.60, 0.50, 0.50, 0.30]);
        assert!(limit(&NRCS, f64::NAN).is_nan());
    }

    #[test]
    fn closed_the_widest_gap_of_a_cycle() {
        let gap = |shifts: &[f64]| widest_gap_m(shifts, 60.0);
        assert!((gap(&[0.0]) - 60.0).abs() < 1e-12);
        assert!((gap(&[0.0, 20.0]) - 40.0).abs() < 1e-12);
        assert!((gap(&[0.0, 20.0, -20.0]) - 20.0).abs() < 1e-12);
        // A shift of a whole outlet spacing is no other place.
        assert!((gap(&[0.0, 60.0]) - 60.0).abs() < 1e-12);
        assert!((gap(&[]) - 60.0).abs() < 1e-12);
    }
}
