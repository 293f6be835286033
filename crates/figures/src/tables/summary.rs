//! The season's results as JSON for other programs: SI units and percent, keys with their unit.

use super::passes::by_region;
use crate::error::DrawError;
use crate::report::ReportNotes;
use crate::scene::{Entry, Scene};
use crate::units::UnitSystem;
use evenfall_core::model::Scenario;
use evenfall_core::season::{Outcome, RegionFigures};
use evenfall_core::uniformity::Uniformity;
use serde_json::{Map, Value, json};

/// All results of a season but the grids, as indented JSON; `null` where no water fell or a value
/// is not finite.
///
/// # Errors
/// If scenario and outcome do not belong together.
pub fn summary_json(
    scenario: &Scenario,
    outcome: &Outcome,
    notes: &ReportNotes,
) -> Result<String, DrawError> {
    let scene = Scene::new(scenario, outcome, UnitSystem::Si)?;
    let wind = &outcome.wind;
    let summary = json!({
        "title": scenario.title,
        "question": notes.question,
        "invented": notes.invented,
        "version": notes.version,
        "seed": scenario.seed,
        "scenario_sha256": notes.digest,
        "command": notes.command,
        "grid": {
            "cells_along": outcome.grid.cells_along,
            "cells_across": outcome.grid.cells_across,
            "cell_m": outcome.grid.cell_m,
            "interior_margin_m": outcome.interior_margin_m,
            "edge_strip_m": outcome.edge_strip_m,
            "travel_bearing_deg": scenario.field.travel_bearing_deg,
            "field_m2": scenario.field.area().m2(),
            "boundary_m": scenario.field.boundary.as_ref().map(|b| b.rings().to_vec()),
        },
        "wind": {
            "day_mean_m_s": wind.day_mean_m_s,
            "night_mean_m_s": wind.night_mean_m_s,
            "highest_m_s": wind.highest_m_s,
            "measured_at_m": wind.measured_at_m,
            "calm_percent": 100.0 * wind.calm_share,
            "rose_percent": wind.rose.map(|share| 100.0 * share),
        },
        "alternatives": scene.entries.iter().map(|e| alternative(e, notes)).collect::<Vec<_>>(),
        "notices": outcome.notices,
        "warnings": notes.warnings,
    });
    let mut text = serde_json::to_string_pretty(&summary).map_err(DrawError::library)?;
    text.push('\n');
    Ok(text)
}

fn alternative(entry: &Entry<'_>, notes: &ReportNotes) -> Value {
    let (plan, water) = (&entry.found.plan, &entry.found.water);
    let stops = entry.stops().into_iter().map(|s| {
        json!({
            "letter": s.letter,
            "shift_across_m": s.shift.across_m,
            "shift_along_m": s.shift.along_m,
        })
    });
    let passes = entry.found.passes.iter().zip(&plan.passes).enumerate();
    let passes = passes.map(|(index, (found, planned))| {
        json!({
            "pass": index + 1,
            "stop": planned.letter,
            "alone": regions(&found.alone),
            "cumulative": regions(&found.cumulative),
        })
    });
    json!({
        "name": entry.asked.name,
        "stops": stops.collect::<Vec<_>>(),
        "cycle_passes": plan.cycle,
        "passes_into_cycle": plan.passes_into_cycle,
        "day_percent": 100.0 * plan.day_night.day_share,
        "locked_places": plan.day_night.locked_places,
        "places": plan.day_night.places,
        "clock_locked": plan.day_night.is_locked(),
        "season": regions(entry.found.season_figures()),
        "split": entry.found.split.map(|s| json!({
            "systematic_points": 100.0 * s.systematic,
            "random_points": 100.0 * s.random,
            "miss_points": 100.0 * s.miss,
            "cycles": s.cycles,
        })),
        "water": {
            "gross_m3": water.gross_m3,
            "on_field_m3": water.on_field_m3,
            "off_field_m3": water.off_field_m3,
            "losses_m3": water.losses_m3,
        },
        "rules_of_thumb": rules(entry, notes),
        "pressure": entry.found.pressures.as_ref().map(crate::pressure::json),
        "passes": passes.collect::<Vec<_>>(),
    })
}

fn rules(entry: &Entry<'_>, notes: &ReportNotes) -> Vec<Value> {
    let mine = notes.rules.iter().filter(|of| of.alternative == entry.asked.name);
    let mine = mine.flat_map(|of| &of.rules).map(|rule| {
        json!({
            "rule": rule.rule,
            "source": rule.source,
            "predicted_percent": 100.0 * rule.predicted,
            "simulated_percent": 100.0 * rule.simulated,
        })
    });
    mine.collect()
}

fn regions(of: &RegionFigures) -> Value {
    let named = by_region(of).into_iter();
    let pairs = named.map(|(name, figures)| (name.to_owned(), figures.map_or(Value::Null, values)));
    Value::Object(pairs.collect::<Map<_, _>>())
}

fn values(f: Uniformity) -> Value {
    json!({
        "cu_percent": 100.0 * f.cu,
        "du_lq_percent": 100.0 * f.du_lq,
        "cv_percent": 100.0 * f.cv,
        "mean_depth_mm": f.mean_depth_mm,
        "lowest_depth_mm": f.lowest_depth_mm,
        "highest_depth_mm": f.highest_depth_mm,
        "area_under_75_percent": 100.0 * f.share_under_75,
        "area_over_125_percent": 100.0 * f.share_over_125,
        "cells": f.cells,
    })
}
