//! The season of one alternative as whoever moves the lateral works it: the sets in order, what
//! has happened to them, the water that each puts on its ground, the pressures to expect and the air
//! at each move.
//!
//! A season that moved on may leave its weather record; it is to be worked all the same, so depths
//! are gross then and say so.

use super::air::air_at_moves;
use super::error::SeasonError;
use super::expected_pressure::ExpectedPressure;
use super::plans::plans;
use super::set_depths::{DepthRange, gross_depths, net_depths};
use crate::model::Scenario;
use crate::schedule::Plan;
use crate::schedule::replan::Replanned;
use crate::weather::WeatherError;

/// A season as it is worked.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// The plan that the season began with.
    pub first: Plan,
    /// The sets as they were and will be.
    pub course: Replanned,
    /// Per pass of the course, per set, what it puts on the ground that it serves.
    pub depths: Vec<Vec<DepthRange>>,
    /// What a gauge should read along the line.
    pub pressure: ExpectedPressure,
    /// The air at each move, °C; none where the weather is not known.
    pub air_c: Vec<f64>,
    /// Why those depths are gross, where they are.
    pub why_gross: Option<WeatherError>,
}

impl Worked {
    /// What the reader must be told of the depths.
    pub fn notice(&self) -> Option<String> {
        self.why_gross.as_ref().map(|error| format!("depths are gross, because {error}"))
    }
}

/// How the alternative at `index` is worked: as planned, or as `replanned` where a record of the
/// season so far has changed the plan.
///
/// # Errors
/// As [`super::run()`], but for weather that is not known; [`SeasonError::NoAlternatives`] where none
/// is at `index`.
pub fn worked(
    scenario: &Scenario,
    index: usize,
    replanned: Option<&Replanned>,
) -> Result<Worked, SeasonError> {
    let (Some(first), Some(alternative)) =
        (plans(scenario)?.into_iter().nth(index), scenario.alternatives.get(index))
    else {
        return Err(SeasonError::NoAlternatives);
    };
    let course = replanned.cloned().unwrap_or_else(|| Replanned::as_planned(&first));
    let plan = &course.plan;
    let (depths, air_c, why_gross) = match net_depths(scenario, alternative, plan) {
        Ok(depths) => (depths, air_at_moves(scenario, alternative, plan)?, None),
        Err(SeasonError::Weather(error)) => {
            (gross_depths(alternative, plan)?, Vec::new(), Some(error))
        }
        Err(error) => return Err(error),
    };
    let pressure = ExpectedPressure::of(alternative)?;
    Ok(Worked { first, course, depths, pressure, air_c, why_gross })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schedule::replan::{Happened, Record, SetName, replan};
    use crate::season;
    use crate::season::RunControl;
    use crate::season::tests::{alternative, scenario, sprinkler};
    use crate::sprinkler::shape::Shape;

    fn asked() -> Scenario {
        let triangle = || sprinkler(Shape::Triangular, 90.0);
        let alternatives = vec![
            alternative("fixed", &[0.0], triangle()),
            alternative("moved", &[0.0, 20.0], triangle()),
        ];
        scenario(2.0, 2, alternatives)
    }

    #[test]
    fn closed_without_a_record_every_set_is_worked_as_planned() {
        let asked = asked();
        let worked = worked(&asked, 1, None).unwrap();
        assert_eq!(worked.first, plans(&asked).unwrap()[1]);
        assert_eq!((&worked.course.plan, &worked.course.numbers[..]), (&worked.first, &[0, 1][..]));
        assert!(worked.course.standing.is_empty() && worked.notice().is_none());
        assert_eq!(worked.depths.len(), 2);
        assert_eq!(worked.air_c.len(), 11);
    }

    #[test]
    fn closed_with_a_record_what_it_changed_is_worked_and_the_first_plan_is_kept() {
        let asked = asked();
        let moved = &asked.alternatives[1];
        let first = plans(&asked).unwrap().remove(1);
        let missed = Happened::Missed(SetName { pass: 0, outlet: 2, is_extra: false });
        let record = Record { now_h: 48.0, events: vec![missed], ..Record::default() };
        let course = replan(&first, asked.calendar_of(moved), &moved.stops(), &record).unwrap();
        let worked = worked(&asked, 1, Some(&course)).unwrap();
        assert_eq!((&worked.first, &worked.course), (&first, &course));
        assert_ne!(worked.course.plan, first);
        for (depths, pass) in worked.depths.iter().zip(&course.plan.passes) {
            assert_eq!(depths.len(), pass.sets.len());
        }
    }

    #[test]
    fn closed_a_set_made_up_after_the_last_pass_is_worked_and_simulated() {
        let mut asked = asked();
        asked.alternatives.remove(0);
        let moved = &asked.alternatives[0];
        let first = plans(&asked).unwrap().remove(0);
        let (set, from_h) = (SetName { pass: 0, outlet: 2, is_extra: false }, first.end_h() + 60.0);
        let events =
            vec![Happened::Done { set, span_h: Some((from_h, from_h + 11.5)), at_m: None }];
        let record = Record { now_h: from_h + 24.0, events, ..Record::default() };
        let course = replan(&first, asked.calendar_of(moved), &moved.stops(), &record).unwrap();
        let worked = worked(&asked, 0, Some(&course)).unwrap();
        assert_eq!(worked.depths.iter().map(Vec::len).sum::<usize>(), 12);
        // Eleven moves: none follows the set made up, though its pass is not the last.
        assert_eq!(worked.air_c.len(), 11);
        let outcome = season::run_plans(&asked, vec![course.plan], RunControl::default()).unwrap();
        let water = outcome.alternatives[0].water;
        assert!(water.imbalance().abs() < 1e-9 && water.on_field_m3 > 0.0, "{water:?}");
    }

    #[test]
    fn closed_an_alternative_that_is_not_there_is_refused() {
        let found = worked(&asked(), 2, None);
        assert_eq!(found, Err(SeasonError::NoAlternatives));
    }
}
