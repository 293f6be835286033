//! Candidates that water when the weather record knows nothing: told, and left out by themselves.
//!
//! A clock with idle half-days or sets more ends later than the fixed pattern. Where a record ends
//! before that, only what needs the missing hours goes; the fixed pattern needs its own in any case.

use super::candidates::Candidates;
use super::space::Refused;
use crate::model::Scenario;
use crate::schedule::Plan;
use crate::season::hours::needed_hours;
use crate::weather::{WeatherError, WeatherSource};
use std::collections::BTreeMap;

/// Leaves out candidates for which one of `seasons` seasons has no weather.
pub(super) fn leave_out_unknown(scenario: &Scenario, seasons: usize, candidates: &mut Candidates) {
    if !matches!(scenario.weather, WeatherSource::Record { .. }) {
        return;
    }
    // Many candidates water in the same hours.
    let mut known: BTreeMap<Vec<bool>, Option<String>> = BTreeMap::new();
    let (mut kept, mut refused) = (Vec::with_capacity(candidates.all.len()), BTreeMap::new());
    for (at, candidate) in candidates.all.drain(..).enumerate() {
        let needed = needed_hours(std::slice::from_ref(&candidate.plan));
        let why = known
            .entry(needed)
            .or_insert_with_key(|needed| missing(scenario, seasons, &candidate.plan, needed));
        match why {
            Some(why) if at > 0 => *refused.entry(why.clone()).or_insert(0) += 1,
            _ => kept.push(candidate),
        }
    }
    candidates.all = kept;
    let told = refused.into_iter().map(|(why, count)| Refused { count, why });
    candidates.refused.extend(told);
}

/// Why the weather does not do for `plan`, if it does not.
fn missing(scenario: &Scenario, seasons: usize, plan: &Plan, needed: &[bool]) -> Option<String> {
    let problem = |season: usize| {
        scenario.weather.season(plan.midnight, needed, scenario.seed, season as u32).err()
    };
    (0..seasons).find_map(problem).map(|error| match error {
        WeatherError::OutsideRecord { covers, .. } => {
            format!("waters at hours outside the weather record ({covers})")
        }
        WeatherError::Gaps { .. } => "waters in gaps of the weather record".to_owned(),
    })
}
