//! Wheels: how far a wheel line travels in one turn.
//!
//! travel = π · outside diameter · (1 − allowance), the allowance covering sinkage and slip; a
//! travel measured in the field always goes before one worked out from a diameter or from the
//! trade's name for the wheel. Geometry only; what soil and lugs do is in the allowance.
//!
//! Trade sizes are names, not diameters: a "7-foot" wheel rolls 20 ft a turn, not 22, and is 76 in
//! across. What each rolls is common practice, no source; what it is across follows from that.

use crate::units::{M_PER_FT, M_PER_IN};
use std::f64::consts::PI;

/// When a turn more or less than usual is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum TurnRule {
    /// Only where the hose would not reach.
    #[default]
    AtReach,
    /// As soon as it brings the line nearer to its mark.
    Nearest,
}

impl TurnRule {
    /// In the words of reports.
    pub fn words(self) -> &'static str {
        match self {
            Self::AtReach => "a turn more or less only where the hose would not reach",
            Self::Nearest => "a turn more or less as soon as it brings the line nearer to its mark",
        }
    }
}

/// The wheels of a wheel line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wheel {
    /// Distance rolled in one whole turn, m.
    pub travel_per_turn_m: f64,
    /// Tilt from upright that the sprinklers' levelers still take up, degrees.
    pub leveler_range_deg: f64,
    /// When a turn more or less than usual is made.
    pub turn_rule: TurnRule,
    /// Where the line also stops at part of a turn, as far as the levelers swing: what stands on the
    /// pipe. `None` for whole turns only.
    pub part_turns: Option<PartTurns>,
}

/// What decides which jets meet the pipe of a line that stops at part of a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PartTurns {
    /// Outside diameter of the pipe, m.
    pub pipe_diameter_m: f64,
    /// Nozzle above the top of the pipe, when upright, m.
    pub riser_m: f64,
}

impl Wheel {
    /// Wheels that make a turn more or less only where the hose would not reach.
    pub fn new(travel_per_turn_m: f64, leveler_range_deg: f64) -> Self {
        let turn_rule = TurnRule::default();
        Self { travel_per_turn_m, leveler_range_deg, turn_rule, part_turns: None }
    }

    /// Largest part of a turn at which the line may stop.
    pub(super) fn largest_part(&self) -> f64 {
        self.part_turns.map_or(0.0, |_| self.leveler_range_deg / 360.0)
    }
}

/// Distance rolled in one turn of a wheel, m.
///
/// `outside_diameter_m` over the lugs, `slip_and_sinkage` as a fraction of the circumference that
/// is lost (0 for a hard surface).
pub fn travel_per_turn_m(outside_diameter_m: f64, slip_and_sinkage: f64) -> f64 {
    PI * outside_diameter_m * (1.0 - slip_and_sinkage)
}

/// A wheel by the trade's name for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WheelSize {
    /// The "5-foot" wheel.
    Five,
    /// The "7-foot" wheel, the most common.
    Seven,
    /// The "9-foot" wheel, for crops that grow tall.
    Nine,
}

/// A row of the table of trade sizes.
struct Named {
    name: &'static str,
    nominal_ft: f64,
    travel_per_turn_ft: f64,
}

/// A diameter counts as a trade's name within this share of it: 2.1 m is a 7-foot wheel in meters.
/// The sizes' own diameters lie further off.
const NAME_TOLERANCE: f64 = 0.02;

impl WheelSize {
    /// Every trade size, the smallest first.
    pub const ALL: [Self; 3] = [Self::Five, Self::Seven, Self::Nine];

    /// The one table of trade sizes: common practice, no source.
    const fn row(self) -> Named {
        match self {
            Self::Five => Named { name: "5-foot", nominal_ft: 5.0, travel_per_turn_ft: 15.0 },
            Self::Seven => Named { name: "7-foot", nominal_ft: 7.0, travel_per_turn_ft: 20.0 },
            Self::Nine => Named { name: "9-foot", nominal_ft: 9.0, travel_per_turn_ft: 30.0 },
        }
    }

    /// What the trade calls it.
    pub const fn name(self) -> &'static str {
        self.row().name
    }

    /// Distance rolled in one whole turn, m.
    pub const fn travel_per_turn_m(self) -> f64 {
        self.row().travel_per_turn_ft * M_PER_FT
    }

    /// Diameter over the lugs that rolls so far on a hard surface, m.
    pub fn outside_diameter_m(self) -> f64 {
        self.travel_per_turn_m() / PI
    }

    /// The size whose name stands for a diameter: that of 7 ft is the "7-foot" wheel.
    pub fn named_by_diameter(diameter_m: f64) -> Option<Self> {
        Self::ALL.into_iter().find(|size| {
            let nominal_m = size.row().nominal_ft * M_PER_FT;
            (diameter_m - nominal_m).abs() <= NAME_TOLERANCE * nominal_m
        })
    }

    /// What to ask of who gives that name as the diameter of a wheel.
    pub fn question(self) -> String {
        let Named { name, nominal_ft, travel_per_turn_ft } = self.row();
        let across_in = self.outside_diameter_m() / M_PER_IN;
        format!(
            "Do you mean the {name} wheel, {across_in:.0} in across, {travel_per_turn_ft:.0} ft a \
             turn, or did you measure {:.0} in?",
            12.0 * nominal_ft
        )
    }
}

/// How to measure what a wheel rolls.
pub const HOW_TO_MEASURE: &str = "Measure what your wheels roll: mark the pipe, roll ten whole turns along a tape, divide by ten.";

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lateral::Outlets;
    use crate::lateral::stops::wheel_reach;

    #[test]
    fn closed_trade_sizes_roll_15_20_and_30_feet() {
        let rolls = WheelSize::ALL.map(|size| (size.name(), size.travel_per_turn_m() / M_PER_FT));
        assert_eq!(rolls, [("5-foot", 15.0), ("7-foot", 20.0), ("9-foot", 30.0)]);
        // 60 ft to the next outlet are four, three and two whole turns.
        let turns = WheelSize::ALL.map(|size| 60.0 * M_PER_FT / size.travel_per_turn_m());
        assert!(
            turns.iter().zip([4.0, 3.0, 2.0]).all(|(turns, whole)| (turns - whole).abs() < 1e-12)
        );
        // 20 ft are exactly 6.096 m, and 240 in around are 76.4 in across.
        assert_eq!(WheelSize::Seven.travel_per_turn_m(), 6.096);
        let across_in = WheelSize::ALL.map(|size| size.outside_diameter_m() / M_PER_IN);
        let expected = [180.0 / PI, 240.0 / PI, 360.0 / PI];
        assert!(across_in.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{across_in:?}");
        for size in WheelSize::ALL {
            let rolled_m = travel_per_turn_m(size.outside_diameter_m(), 0.0);
            assert!((rolled_m - size.travel_per_turn_m()).abs() < 1e-12);
        }
    }

    #[test]
    fn closed_a_trades_name_is_known_from_a_diameter_and_a_real_diameter_is_none() {
        let named = |diameter_m: f64| WheelSize::named_by_diameter(diameter_m);
        assert_eq!(named(5.0 * M_PER_FT), Some(WheelSize::Five));
        assert_eq!(named(7.0 * M_PER_FT), Some(WheelSize::Seven));
        assert_eq!(named(9.0 * M_PER_FT), Some(WheelSize::Nine));
        let in_meters = [1.5, 2.1, 2.7].map(named);
        assert_eq!(in_meters, WheelSize::ALL.map(Some));
        for inches in [57.0, 64.0, 76.0, 80.0, 87.0, 114.0] {
            assert_eq!(named(inches * M_PER_IN), None, "{inches} in");
        }
        for size in WheelSize::ALL {
            assert_eq!(named(size.outside_diameter_m()), None);
        }
    }

    #[test]
    fn closed_trade_sizes_stand_where_the_trade_says() {
        // Outlets 60 ft apart, hose of 30 ft.
        let feet = |feet: f64| feet * M_PER_FT;
        let outlets = Outlets {
            spacing_m: feet(60.0),
            first_m: 0.0,
            count: 22,
            reach_m: feet(30.0),
            field_width_m: f64::INFINITY,
        };
        let stands = WheelSize::ALL.map(|size| {
            let travel_per_turn_m = size.travel_per_turn_m();
            let reach = wheel_reach(&Wheel::new(travel_per_turn_m, 15.0), &outlets);
            assert!(reach.drift_per_move_m.abs() < 1e-9);
            let at = |shift_ft: f64| {
                let is_there = |shift_m: f64| (shift_m - feet(shift_ft)).abs() < 1e-9;
                reach.reachable().any(|stop| is_there(stop.shift.across_m))
            };
            [20.0, -20.0, 30.0, -30.0].map(at)
        });
        let thirty = [false, false, true, true];
        assert_eq!(stands, [thirty, [true, true, false, false], thirty]);
    }

    #[test]
    fn closed_the_question_names_both_wheels() {
        assert_eq!(
            WheelSize::Seven.question(),
            "Do you mean the 7-foot wheel, 76 in across, 20 ft a turn, or did you measure 84 in?"
        );
        assert!(WheelSize::Five.question().contains("57 in across, 15 ft a turn"));
        assert!(WheelSize::Nine.question().contains("115 in across, 30 ft a turn"));
    }
}
