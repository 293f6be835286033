//! Every candidate of a search as CSV, for other programs: SI units, fractions as percent.

use crate::scenes::SearchScene;
use evenfall_canvas::DrawError;
use evenfall_core::lateral::Machine;
use evenfall_core::model::Scenario;
use evenfall_core::search::{Found, Water};

/// Columns of the CSV.
const SEARCH_CSV_COLUMNS: [&str; 27] = [
    "rank",
    "tied",
    "dropped_after_seasons",
    "seasons",
    "shifts_across_m",
    "shifts_along_m",
    "edges",
    "clock",
    "travel_per_turn_m",
    "outlet_spacing_m",
    "first_outlet_m",
    "outlets",
    "pass_every_h",
    "days_longer",
    "passes_late",
    "clock_locked",
    "joints",
    "cu_percent",
    "du_lq_percent",
    "du_lq_low_percent",
    "du_lq_high_percent",
    "du_lq_gain_points",
    "du_lq_whole_percent",
    "yield_worst_tenth_percent",
    "net_per_ha",
    "net_low_per_ha",
    "net_high_per_ha",
];

/// All candidates: those that ran to the end in order of rank, then the dropped ones, the last
/// dropped first.
///
/// # Errors
/// If nothing was ranked, or a library refuses.
pub fn search_csv(scenario: &Scenario, found: &Found) -> Result<String, DrawError> {
    let scene = SearchScene::new(scenario, found, None, evenfall_view::UnitSystem::Si)?;
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(SEARCH_CSV_COLUMNS).map_err(DrawError::library)?;
    for line in scene.lines().into_iter().chain(scene.dropped()) {
        let rank = match line.ranked {
            Some(ranked) => [ranked.rank.to_string(), ranked.is_tied.to_string(), String::new()],
            None => [String::new(), String::new(), line.entry.values.len().to_string()],
        };
        writer.write_record(record(found, line.at, &rank)).map_err(DrawError::library)?;
    }
    let bytes = writer.into_inner().map_err(DrawError::library)?;
    String::from_utf8(bytes).map_err(DrawError::library)
}

fn record(found: &Found, at: usize, rank: &[String; 3]) -> Vec<String> {
    let entry = &found.entries[at];
    let candidate = &entry.candidate;
    let alternative = &candidate.alternative;
    let shifts = alternative.rotation.shifts();
    let joined = |of: fn(&evenfall_core::rotation::Shift) -> f64| {
        shifts.iter().map(|shift| format!("{:.4}", of(shift))).collect::<Vec<_>>().join(" ")
    };
    let travel = match &alternative.lateral.machine {
        Machine::WheelLine(wheel) => format!("{:.4}", wheel.travel_per_turn_m),
        Machine::HandMove => String::new(),
    };
    let cost = &candidate.cost;
    let mut out = rank.to_vec();
    out.extend([
        entry.values.len().to_string(),
        joined(|shift| shift.across_m),
        joined(|shift| shift.along_m),
        alternative.edges.words().to_owned(),
        candidate.schedule_words(),
        travel,
        format!("{:.4}", alternative.outlets.spacing_m),
        format!("{:.4}", alternative.outlets.first_m),
        alternative.outlets.count.to_string(),
        cost.pass_every_h.map_or_else(String::new, |hours| format!("{hours:.2}")),
        format!("{:.3}", cost.days_longer),
        cost.passes_late.to_string(),
        cost.is_locked.to_string(),
        candidate.equipment.joints.to_string(),
    ]);
    out.extend(water(found, at));
    let crop = found.crop(at, |season| season.yield_worst_tenth);
    out.push(crop.map_or_else(String::new, |worst| percent(worst.mean)));
    out.extend(match found.net_per_ha(at) {
        Some(net) => {
            let (figures, interval) = (&net.figures, net.figures.interval);
            [figures.mean, interval.low, interval.high].map(|money| format!("{money:.4}"))
        }
        None => [const { String::new() }; 3],
    });
    out
}

fn water(found: &Found, at: usize) -> [String; 6] {
    let figures = |of: fn(&Water) -> f64| found.water(at, of).ok();
    let mean = |of: fn(&Water) -> f64| figures(of).map_or_else(String::new, |f| percent(f.mean));
    let du = figures(|w| w.du_lq);
    let end = |of: fn(&evenfall_core::ensemble::Interval) -> f64| {
        du.map_or_else(String::new, |figures| percent(of(&figures.interval)))
    };
    let gain = found.gain(at, |w| w.du_lq).ok();
    [
        mean(|w| w.cu),
        mean(|w| w.du_lq),
        end(|interval| interval.low),
        end(|interval| interval.high),
        gain.map_or_else(String::new, |gain| percent(gain.figures.mean)),
        mean(|w| w.du_lq_whole.unwrap_or(f64::NAN)),
    ]
}

fn percent(fraction: f64) -> String {
    format!("{:.4}", 100.0 * fraction)
}
