//! A search as JSON for other programs: SI units, percent, keys with their unit.

use crate::scenes::SearchScene;
use evenfall_canvas::DrawError;
use evenfall_core::ensemble::{Interval, SeasonsFigures};
use evenfall_core::lateral::Machine;
use evenfall_core::model::Scenario;
use evenfall_core::search::{ComboFound, Found, KindFound, Stage};
use evenfall_view::units::UnitSystem;
use serde_json::{Value, json};

/// What was tried, and all candidates with their figures.
///
/// # Errors
/// If nothing was ranked.
pub fn search_json(scenario: &Scenario, found: &Found) -> Result<String, DrawError> {
    let scene = SearchScene::new(scenario, found, None, UnitSystem::Si)?;
    let leading = |rank: usize| {
        let leader = found.ranking.iter().find(|ranked| ranked.rank == rank && ranked.is_leader);
        leader.map_or(f64::NAN, |leader| leader.mean)
    };
    let ranks: Vec<Value> = found
        .ranking
        .iter()
        .map(|ranked| {
            json!({
                "candidate": ranked.alternative,
                "rank": ranked.rank,
                "tied": ranked.is_tied,
                "leads_its_rank": ranked.is_leader,
                "too_close_to_matter": found.is_too_close(leading(ranked.rank), ranked.mean),
            })
        })
        .collect();
    let all = json!({
        "title": scenario.title,
        "seed": scenario.seed,
        "aim": scene.aim(),
        "partial": found.is_partial(),
        "seasons_wanted": found.options.seasons,
        "seasons_finished": found.finished,
        "level_percent": 100.0 * found.options.confidence_level,
        "level_of_the_ranking_percent": 100.0 * found.ranking_level,
        "level_of_each_interval_of_the_race_percent": 100.0 * found.race_level,
        "least_difference": scene.aim_plain(found.least),
        "best": found.leader().map(|leader| leader.alternative),
        "described": found.described,
        "distinct": found.entries.len(),
        "not_schedulable": found.refused.iter().map(|r| json!({ "count": r.count, "why": r.why })).collect::<Vec<_>>(),
        "interior_margin_m": found.interior_margin_m,
        "stages": found.stages.iter().map(stage).collect::<Vec<_>>(),
        "ranking": ranks,
        "wheels_and_spacings": found.combos.iter().map(combo).collect::<Vec<_>>(),
        "kinds": found.kinds.iter().map(kind).collect::<Vec<_>>(),
        "candidates": (0..found.entries.len()).map(|at| candidate(&scene, at)).collect::<Vec<_>>(),
    });
    let mut text = serde_json::to_string_pretty(&all).map_err(DrawError::library)?;
    text.push('\n');
    Ok(text)
}

fn stage(stage: &Stage) -> Value {
    let dropped = stage.dropped.iter().map(|d| {
        json!({
            "candidate": d.candidate,
            "leader": d.leader,
            "mean_lead": d.mean_lead,
            "lead": interval(&d.lead, 1.0),
        })
    });
    json!({
        "seasons": stage.seasons,
        "candidates": stage.ran,
        "dropped": dropped.collect::<Vec<_>>(),
    })
}

fn kind(found: &KindFound) -> Value {
    json!({ "kind": found.kind.words(), "best": found.best, "simplest": found.simplest })
}

fn interval(interval: &Interval, factor: f64) -> Value {
    json!([factor * interval.low, factor * interval.high])
}

fn combo(found: &ComboFound) -> Value {
    let travel_m = match &found.combo.machine {
        Machine::WheelLine(wheel) => Some(wheel.travel_per_turn_m),
        Machine::HandMove => None,
    };
    let reach = found.combo.reach.as_ref();
    json!({
        "travel_per_turn_m": travel_m,
        "outlet_spacing_m": found.combo.outlets.spacing_m,
        "outlets": found.combo.outlets.count,
        "stops": found.combo.stops.len(),
        "drift_per_move_m": reach.map(|reach| reach.drift_per_move_m),
        "tilt_per_move_deg": reach.map(|reach| reach.tilt_per_move_deg),
        "moves_within_levelers": reach.and_then(|reach| reach.moves_within_levelers),
        "best": found.best,
        "rank": found.rank,
        "tied": found.is_tied,
        "rotations_tied_with_best": found.tied,
    })
}

fn candidate(scene: &SearchScene<'_>, at: usize) -> Value {
    let found = scene.found;
    let entry = &found.entries[at];
    let (own, cost) = (&entry.candidate, &entry.candidate.cost);
    let shown = |figures: Option<SeasonsFigures>| {
        figures.map(|f| json!({ "mean": 100.0 * f.mean, "interval": interval(&f.interval, 100.0) }))
    };
    json!({
        "candidate": at,
        "rotation": scene.rotation(own),
        "shifts_m": own.alternative.rotation.shifts().iter().map(|s| [s.across_m, s.along_m]).collect::<Vec<_>>(),
        "edges": own.alternative.edges.words(),
        "clock": own.schedule_words(),
        "layout": scene.layout(own),
        "descriptions": own.descriptions,
        "seasons": entry.values.len(),
        "pass_every_h": cost.pass_every_h,
        "days_longer": cost.days_longer,
        "passes_late": cost.passes_late,
        "clock_locked": cost.is_locked,
        "joints": own.equipment.joints,
        "outlets_added": own.equipment.outlets,
        "cu_percent": shown(found.water(at, |w| w.cu).ok()),
        "du_lq_percent": shown(found.water(at, |w| w.du_lq).ok()),
        "du_lq_whole_percent": shown(found.water(at, |w| w.du_lq_whole.unwrap_or(f64::NAN)).ok()),
        "du_lq_gain_points": shown(found.gain(at, |w| w.du_lq).ok().map(|gain| gain.figures)),
        "yield_worst_tenth_percent": shown(found.crop(at, |c| c.yield_worst_tenth)),
        "net_per_ha": found.net_per_ha(at).map(|net| {
            json!({ "mean": net.figures.mean, "interval": interval(&net.figures.interval, 1.0) })
        }),
    })
}
