//! Edges: what a shifted pass does with the first and the last strip of the field.
//!
//! A pass that is shifted away from an edge leaves a strip there that gets water from one side
//! only. Three treatments: shift every stop and accept it; hold the first and the last stop at
//! their outlets, so that the edges get the fixed pattern's water; or give the opened side one set
//! more, from its outermost outlet, at the stop farthest out that its hose reaches and its wheels
//! allow, in the field and not farther than one outlet spacing from the shifted stop. A fourth, to set the
//! first outlet farther in, is a place of the outlets and not a treatment of a pass.
//!
//! Geometry only; what the treatments do to the water is the season's business. Trade: common
//! practice, no source.

use super::parts::{Machine, Outlets, REACH_SLACK_M};
use crate::rotation::Shift;

/// What shifted passes do at the first and the last stop.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EdgeTreatment {
    /// Every stop is shifted.
    #[default]
    Shift,
    /// First and last stop stay at their outlets.
    Hold,
    /// One set more on the side that the shift opens.
    ExtraSet,
}

/// A place where the lateral stands in a pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Outlet (from 0).
    pub outlet: usize,
    /// How far its mark lies from the outlet, m.
    pub shift_m: f64,
}

impl Place {
    /// y of the mark, m.
    #[cfg(test)]
    fn across_m(&self, outlets: &Outlets) -> f64 {
        outlets.place_m(self.outlet) + self.shift_m
    }
}

impl EdgeTreatment {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Shift, Self::Hold, Self::ExtraSet];

    /// In the words of reports.
    pub fn words(self) -> &'static str {
        match self {
            Self::Shift => "every stop shifted",
            Self::Hold => "first and last stop held at their outlets",
            Self::ExtraSet => "extra set on the opened side",
        }
    }

    /// The marks of a line's pass shifted by `shift` that takes the outlets in this `order`. A set more is
    /// watered with the outermost outlet: before it on the way out of that edge, after it on the way to it.
    pub fn places(
        self,
        machine: &Machine,
        outlets: &Outlets,
        shift: Shift,
        order: &[usize],
    ) -> Vec<Place> {
        let last = outlets.count.saturating_sub(1);
        let held = |outlet: usize| self == Self::Hold && (outlet == 0 || outlet == last);
        let stop = |outlet: usize| {
            let shift_m = if held(outlet) { 0.0 } else { shift.across_m };
            Place { outlet, shift_m }
        };
        let mut places: Vec<Place> = order.iter().copied().map(stop).collect();
        if self == Self::ExtraSet
            && let Some(extra_m) = extra_shift_m(machine, outlets, shift.across_m)
        {
            // A shift in the direction of travel opens the first edge, one against it the last.
            let outlet = if shift.across_m > 0.0 { 0 } else { last };
            let Some(at) = order.iter().position(|one| *one == outlet) else { return places };
            let starts_here = at == 0 && (order.len() > 1 || shift.across_m > 0.0);
            let extra = Place { outlet, shift_m: extra_m };
            places.insert(if starts_here { at } else { at + 1 }, extra);
        }
        places
    }
}

/// How far from the outermost outlet the extra set of a pass shifted by `shift_m` stands, m;
/// `None` if the pass opens no edge or no other stop is within reach.
pub(crate) fn extra_shift_m(machine: &Machine, outlets: &Outlets, shift_m: f64) -> Option<f64> {
    if shift_m == 0.0 {
        return None;
    }
    let outward = -shift_m.signum();
    // A set more stands in the field.
    let last_m = outlets.place_m(outlets.count.saturating_sub(1));
    let room_m = if outward < 0.0 { outlets.first_m } else { outlets.field_width_m - last_m };
    let reach_m = outlets.reach_m.min(room_m.max(0.0));
    let found_m = match machine {
        Machine::HandMove => {
            let away_m = (outlets.spacing_m - shift_m.abs()).min(reach_m);
            outward * away_m.max(0.0)
        }
        Machine::WheelLine(wheel) => {
            let travel_m = wheel.travel_per_turn_m;
            let reachable = ((reach_m + REACH_SLACK_M) / travel_m).floor();
            let wanted =
                (outlets.spacing_m / travel_m).round() - (shift_m.abs() / travel_m).round();
            outward * wanted.clamp(0.0, reachable) * travel_m
        }
    };
    (found_m != shift_m).then_some(found_m)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lateral::Wheel;
    use crate::units::M_PER_FT as FT;

    fn outlets(reach_ft: f64) -> Outlets {
        Outlets {
            spacing_m: 60.0 * FT,
            first_m: 30.0 * FT,
            count: 4,
            reach_m: reach_ft * FT,
            field_width_m: f64::INFINITY,
        }
    }

    fn wheels() -> Machine {
        Machine::WheelLine(Wheel::new(20.0 * FT, 15.0))
    }

    fn places_ft(edges: EdgeTreatment, machine: Machine, reach_ft: f64, shift_ft: f64) -> Vec<f64> {
        let shift = Shift { across_m: shift_ft * FT, along_m: 0.0 };
        let outlets = outlets(reach_ft);
        let places = edges.places(&machine, &outlets, shift, &[0, 1, 2, 3]);
        places.iter().map(|place| (place.across_m(&outlets) / FT).round()).collect()
    }

    #[test]
    fn closed_places_of_each_treatment() {
        let by = |edges, shift_ft| places_ft(edges, wheels(), 25.0, shift_ft);
        assert_eq!(by(EdgeTreatment::Shift, 20.0), [50.0, 110.0, 170.0, 230.0]);
        assert_eq!(by(EdgeTreatment::Hold, 20.0), [30.0, 110.0, 170.0, 210.0]);
        // Two turns back would be a whole spacing from the shifted stop, but the hose reaches one.
        assert_eq!(by(EdgeTreatment::ExtraSet, 20.0), [10.0, 50.0, 110.0, 170.0, 230.0]);
        assert_eq!(by(EdgeTreatment::ExtraSet, -20.0), [10.0, 70.0, 130.0, 190.0, 230.0]);
        assert_eq!(by(EdgeTreatment::ExtraSet, 0.0), [30.0, 90.0, 150.0, 210.0]);
    }

    #[test]
    fn closed_an_extra_set_stands_a_spacing_from_the_shifted_one_where_the_hose_reaches() {
        let hand = |reach_ft, shift_ft| {
            places_ft(EdgeTreatment::ExtraSet, Machine::HandMove, reach_ft, shift_ft)[0]
        };
        assert_eq!(hand(30.0, 30.0), 0.0);
        assert_eq!(hand(45.0, 30.0), 0.0);
        assert_eq!(hand(10.0, 10.0), 20.0);
        // Two turns would be 10 ft outside the field.
        assert_eq!(places_ft(EdgeTreatment::ExtraSet, wheels(), 45.0, 20.0)[0], 10.0);
    }
}
