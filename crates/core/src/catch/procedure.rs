//! Which requirements of published test procedures a test meets.
//!
//! **All of these are from memory of the standards, none was read for this**; the confidence is given with
//! each. ISO 15886-3:2012 (sprinklers, distribution), ISO 7749-2:1990 (rotating sprinklers, uniformity),
//! ASAE S398.1 (single sprinklers), ASAE S436.1 (cans under moving systems, here by analogy), Merriam &
//! Keller 1978 (field evaluation). Who has to answer to a standard must read it.

use super::{CatchTest, Kind};
use crate::units::{M_PER_FT, M_S_PER_MPH};

/// How a requirement stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Met.
    Met,
    /// Not met.
    NotMet,
    /// The file does not say.
    Unknown,
}

/// What a requirement is about; numbers in SI, for the caller to show in its units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// A length, m.
    Length(f64),
    /// A speed, m/s.
    Speed(f64),
    /// A time, h.
    Time(f64),
    /// A count.
    Count(usize),
    /// A ratio.
    Ratio(f64),
}

/// One requirement against a test.
#[derive(Clone, Debug, PartialEq)]
pub struct Requirement {
    /// What must be.
    pub what: &'static str,
    /// The limit, where it is a number.
    pub limit: Option<Measure>,
    /// What the test has, where that is a number.
    pub found: Option<Measure>,
    /// How it stands.
    pub state: State,
    /// Whose requirement it is, with the confidence of the memory.
    pub source: &'static str,
}

/// All requirements that go with the kind of test, in a fixed order.
pub fn requirements(test: &CatchTest) -> Vec<Requirement> {
    let mut all = cans(test);
    all.extend(layout(test));
    all.extend(wind(test));
    all.extend(running(test));
    all
}

fn cans(test: &CatchTest) -> Vec<Requirement> {
    let size = &test.can_size;
    let shape = match (size.diameter_m, size.height_m) {
        (Some(diameter), Some(height)) if height > 0.0 => Some(diameter / height),
        _ => None,
    };
    vec![
        at_least(
            "opening of the cans at least",
            size.diameter_m.map(Measure::Length),
            Measure::Length(0.085),
            "ISO 7749-2, ISO 15886-3 (from memory, medium)",
        ),
        at_least(
            "height of the cans at least",
            size.height_m.map(Measure::Length),
            Measure::Length(0.15),
            "ISO 15886-3 (from memory, low)",
        ),
        at_most(
            "opening of a can at most its height: times",
            shape.map(Measure::Ratio),
            Measure::Ratio(1.0),
            "ISO 15886-3 (from memory, low)",
        ),
        Requirement {
            what: "all cans alike, upright, rims level and clear of plants",
            limit: None,
            found: None,
            state: State::Unknown,
            source: "ISO 15886-3, ASAE S436.1 (from memory, high)",
        },
        Requirement {
            what: "evaporation from a control can noted",
            limit: None,
            found: None,
            state: if test.evaporation_added_mm > 0.0 { State::Met } else { State::Unknown },
            source: "ASAE S436.1, ISO 7749-2 (from memory, medium)",
        },
    ]
}

fn layout(test: &CatchTest) -> Vec<Requirement> {
    let spacing = test.can_spacing_m().map(Measure::Length);
    let count = Some(Measure::Count(test.depths_mm().len()));
    match test.kind {
        Kind::Lines(_) => vec![
            at_least(
                "cans with a reading at least",
                count,
                Measure::Count(24),
                "Merriam & Keller 1978 (from memory, low)",
            ),
            at_most(
                "cans apart at most",
                spacing,
                Measure::Length(10.0 * M_PER_FT),
                "Merriam & Keller 1978: 10 ft or less (from memory, medium)",
            ),
        ],
        Kind::Single { .. } => vec![at_most(
            "cans apart at most",
            spacing,
            Measure::Length(2.0),
            "ISO 7749-2 (from memory, low)",
        )],
        Kind::Leg => {
            let radius_m = test
                .readings()
                .iter()
                .filter(|(_, _, depth)| *depth > 0.0)
                .filter_map(|(x, y, _)| test.from_sprinkler_m(*x, *y))
                .fold(0.0, f64::max);
            let most_m = match radius_m {
                r if r <= 3.0 => 0.3,
                r if r <= 6.0 => 0.6,
                r if r <= 12.0 => 0.75,
                _ => 1.5,
            };
            vec![at_most(
                "cans apart at most (by radius)",
                spacing,
                Measure::Length(most_m),
                "ASAE S398.1 (from memory, low)",
            )]
        }
    }
}

fn wind(test: &CatchTest) -> Vec<Requirement> {
    let fastest = test.wind.iter().map(|wind| wind.speed_m_s).reduce(f64::max);
    let longest = test.wind.iter().map(|wind| wind.hours).reduce(f64::max);
    let noted = !test.wind.is_empty();
    let mut all = Vec::new();
    match test.kind {
        Kind::Leg => all.push(at_most(
            "wind for a still-air leg at most",
            fastest.map(Measure::Speed),
            Measure::Speed(3.0 * M_S_PER_MPH),
            "ASAE S398.1: 3 mph (from memory, low)",
        )),
        Kind::Lines(_) => all.push(at_most(
            "wind at most",
            fastest.map(Measure::Speed),
            Measure::Speed(5.0),
            "ASAE S436.1, for moving systems, by analogy (from memory, medium)",
        )),
        // A grid in wind is made to see the wind.
        Kind::Single { .. } => {}
    }
    all.push(at_most(
        "wind noted at least every",
        longest.map(Measure::Time),
        Measure::Time(0.25),
        "ISO 15886-3, ASAE S436.1: 15 min (from memory, medium)",
    ));
    all.push(at_least(
        "wind measured above ground at least",
        noted.then_some(Measure::Length(test.wind_measured_at_m)),
        Measure::Length(2.0),
        "ASAE S436.1; ISO 7749-2 asks for more (from memory, medium)",
    ));
    all
}

fn running(test: &CatchTest) -> Vec<Requirement> {
    let least_h = if matches!(test.kind, Kind::Leg) { 0.5 } else { 1.0 };
    let noted = |is: bool| if is { State::Met } else { State::Unknown };
    vec![
        at_least(
            "water ran at least",
            Some(Measure::Time(test.duration_h)),
            Measure::Time(least_h),
            "ISO 7749-2, ISO 15886-3, ASAE S398.1 (from memory, medium)",
        ),
        Requirement {
            what: "pressure at the nozzle noted",
            limit: None,
            found: None,
            state: noted(test.nozzle.pressure_kpa.is_some()),
            source: "all of them (from memory, high)",
        },
        Requirement {
            what: "discharge of a sprinkler noted",
            limit: None,
            found: None,
            state: noted(test.nozzle.discharge_l_s.is_some()),
            source: "all of them (from memory, high)",
        },
    ]
}

fn at_least(
    what: &'static str,
    found: Option<Measure>,
    limit: Measure,
    source: &'static str,
) -> Requirement {
    let state = judged(found, |value| value >= number(limit) * (1.0 - 1e-9));
    Requirement { what, limit: Some(limit), found, state, source }
}

fn at_most(
    what: &'static str,
    found: Option<Measure>,
    limit: Measure,
    source: &'static str,
) -> Requirement {
    let state = judged(found, |value| value <= number(limit) * (1.0 + 1e-9));
    Requirement { what, limit: Some(limit), found, state, source }
}

fn judged(found: Option<Measure>, is_met: impl Fn(f64) -> bool) -> State {
    match found {
        None => State::Unknown,
        Some(found) if is_met(number(found)) => State::Met,
        Some(_) => State::NotMet,
    }
}

fn number(measure: Measure) -> f64 {
    match measure {
        Measure::Length(value)
        | Measure::Speed(value)
        | Measure::Time(value)
        | Measure::Ratio(value) => value,
        Measure::Count(count) => count as f64,
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::single_grid;
    use super::*;

    fn state(test: &CatchTest, what: &str) -> State {
        requirements(test).iter().find(|r| r.what.starts_with(what)).unwrap().state
    }

    #[test]
    fn closed_met_not_met_and_cannot_tell() {
        let mut test = single_grid(6.0, 2.0, 3.0);
        assert_eq!(state(&test, "opening of the cans"), State::Unknown);
        assert_eq!(state(&test, "cans apart"), State::Met);
        assert_eq!(state(&test, "wind noted"), State::NotMet);
        assert_eq!(state(&test, "water ran"), State::Met);
        test.can_size.diameter_m = Some(0.08);
        test.duration_h = 0.75;
        assert_eq!(state(&test, "opening of the cans"), State::NotMet);
        assert_eq!(state(&test, "water ran"), State::NotMet);
        test.kind = Kind::Leg;
        assert_eq!(state(&test, "water ran"), State::Met);
        assert_eq!(state(&test, "wind for a still-air leg"), State::NotMet);
        test.wind.clear();
        assert_eq!(state(&test, "wind measured"), State::Unknown);
    }

    #[test]
    fn closed_cans_ten_feet_apart_and_a_wind_of_three_miles_an_hour_are_allowed() {
        let mut test = single_grid(30.0 * M_PER_FT, 10.0 * M_PER_FT, 3.0 * M_S_PER_MPH);
        test.kind = Kind::Leg;
        assert_eq!(state(&test, "wind for a still-air leg"), State::Met);
        let lines = crate::catch::Lines {
            at_m: vec![0.0],
            sprinkler_x_m: 0.0,
            sprinkler_spacing_m: None,
            outlet_spacing_m: None,
        };
        test.kind = Kind::Lines(lines);
        assert_eq!(state(&test, "cans apart"), State::Met);
        test.cans.iter_mut().for_each(|can| can.x_m *= 1.01);
        test.cans.iter_mut().for_each(|can| can.y_m *= 1.01);
        assert_eq!(state(&test, "cans apart"), State::NotMet);
    }
}
