//! Passes that wait until the crop calls for water.
//!
//! The calls of a season are made once, on the mean root zone of the baseline alternative: water
//! taken as uniform, the set's net depth (after that season's own losses) spread over the
//! rectangle that the lateral waters, none lost past its edge. Every alternative then runs on the same days, so that all keep
//! the same dates and the same weather. Seasons call on different days.
//!
//! A pass is called on the first morning on which depletion would pass the stated share of RAW by
//! evening (see [`crate::root_zone::calling`]), not before the longest pass of any alternative is
//! over and the lateral is back, nor before the least interval; not before the season's start nor
//! after harvest.

use super::error::SeasonError;
use super::hours::SeasonHours;
use super::pressures::discharge_m3_h;
use crate::model::{Called, Scenario};
use crate::root_zone::RootZone;
use crate::root_zone::calling::{CallRule, CalledPass};
use crate::root_zone::ground::Ground;
use crate::schedule::called_spans;

/// Days (0 is that of the season's start) on which passes begin in season number `season`.
///
/// `ground` stands in for the one that `called` names, where there is one.
pub(super) fn days(
    scenario: &Scenario,
    called: &Called,
    ground: Option<&Ground>,
    season: u32,
) -> Result<Vec<i64>, SeasonError> {
    let ground = ground.unwrap_or(&called.ground);
    let baseline = scenario.alternatives.first().ok_or(SeasonError::NoAlternatives)?;
    let calendar = scenario.calendar_of(baseline);
    let stops = baseline.stops();
    let days = ground.days_of(season as usize);
    let apart_h = apart_h(scenario, called);
    let horizon_h = 24.0 * (ground.first_day + days.len() as i64 + 2).max(1) as f64 + apart_h;
    let unneeded = vec![false; horizon_h.ceil() as usize];
    let hours = SeasonHours::from(scenario, calendar.midnight(), unneeded, season)?;
    // The lateral waters the whole rectangle, whatever of it is the field: over the area inside a
    // boundary its water would look deeper than it lies.
    let grid = &scenario.field.grid;
    let watered_m2 = grid.cell_area_m2() * (grid.cells_along * grid.cells_across) as f64;
    let mm_h = 1000.0 * discharge_m3_h(baseline)? / watered_m2;
    let net_mm = |span_h: (f64, f64)| {
        mm_h * hours.slices_within(span_h).iter().map(|slice| slice.hours * slice.net).sum::<f64>()
    };
    let (most, end_h) = (calendar.most_passes(), calendar.season_end_h());
    // From days of the season (0 on) to days of the crop (1 on) and back.
    let crop_day = |day: i64| usize::try_from(day - ground.first_day + 1).unwrap_or(0);
    let mut days_called: Vec<i64> = Vec::new();
    let rule = CallRule { share_of_raw: called.share_of_raw };
    let zone = RootZone { depletion_mm: ground.depletion_mm };
    rule.calls(days, zone, crop_day(0).max(1), |number| {
        let day = number as i64 - 1 + ground.first_day;
        let sets = called_spans(calendar, &stops, days_called.len(), day);
        if days_called.len() == most || sets.iter().any(|span_h| span_h.1 > end_h) {
            return None;
        }
        days_called.push(day);
        let depths_mm =
            sets.iter().map(|span_h| (crop_day((span_h.0 / 24.0).floor() as i64), net_mm(*span_h)));
        let free_from = number + (apart_h / 24.0).ceil() as usize;
        Some(CalledPass { depths_mm: depths_mm.collect(), free_from })
    });
    Ok(days_called)
}

/// From the start of one pass to the next at the least, h: the least interval, or the longest
/// pass of any alternative and shift with the way back.
fn apart_h(scenario: &Scenario, called: &Called) -> f64 {
    let passes = scenario.alternatives.iter().flat_map(|alternative| {
        let calendar = scenario.calendar_of(alternative);
        let cycle = alternative.rotation.cycle() * calendar.order.cycle();
        (0..cycle).map(move |pass| {
            let stops = alternative.stops();
            let sets = called_spans(calendar, &stops, pass, 0);
            let start_h = sets.iter().map(|span_h| span_h.0).reduce(f64::min).unwrap_or(0.0);
            let end_h = sets.iter().map(|span_h| span_h.1).fold(start_h, f64::max);
            calendar.back_h(pass, &stops, end_h) - start_h
        })
    });
    passes.fold(called.least_every_h, f64::max)
}

#[cfg(test)]
#[path = "called_tests.rs"]
mod tests;
