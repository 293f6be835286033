//! The air at each move: what a cold drive has to work in.

use super::error::SeasonError;
use super::hours::SeasonHours;
use crate::model::{Alternative, Scenario};
use crate::schedule::Plan;

/// The air temperature at the end of every set but the last, when the lateral is moved, °C: the
/// weather's where it knows it, else the scenario's assumed one.
///
/// # Errors
/// As [`super::run()`].
pub fn air_at_moves(
    scenario: &Scenario,
    alternative: &Alternative,
    plan: &Plan,
) -> Result<Vec<f64>, SeasonError> {
    let alone = Scenario { alternatives: vec![alternative.clone()], ..scenario.clone() };
    let hours = SeasonHours::of(&alone, std::slice::from_ref(plan), 0)?;
    // No move follows the set that ends last, which may be one made up.
    let end_h = plan.end_h();
    let air = plan
        .passes
        .iter()
        .flat_map(|pass| &pass.sets)
        .filter(|set| set.end_h < end_h)
        // The last hour with water, because the weather is known to cover it.
        .map(|set| hours.air_temperature_c((set.end_h.ceil() as usize).saturating_sub(1)))
        .map(|known| known.unwrap_or(scenario.assumed_air.temperature_c))
        .collect();
    Ok(air)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season;
    use crate::season::tests::{alternative, scenario, sprinkler};
    use crate::sprinkler::shape::Shape;

    #[test]
    fn closed_weather_without_temperatures_gives_the_assumed_air_at_every_move() {
        let fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 90.0));
        let asked = scenario(2.0, 2, vec![fixed]);
        let plan = season::plans(&asked).unwrap().remove(0);
        let air = air_at_moves(&asked, &asked.alternatives[0], &plan).unwrap();
        assert_eq!(air, vec![20.0; 11]);
    }
}
