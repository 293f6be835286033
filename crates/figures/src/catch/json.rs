//! Catch tests for other programs: SI units, percent for ratios, keys with their unit.

use super::book::{CatchBook, CatchCalibration, CatchEntry, kind_word};
use crate::reports::file_json::file_value;
use evenfall_canvas::DrawError;
use evenfall_core::catch::compare::Comparison;
use evenfall_core::catch::fit::{Fit, K1Found};
use evenfall_core::catch::judge::{Against, Judgment, Pass};
use evenfall_core::catch::procedure::State;
use evenfall_core::ensemble::Interval;
use evenfall_core::uniformity::Uniformity;
use evenfall_view::{Figures, UnitSystem};
use serde_json::{Value, json};

/// Everything that was found, as indented JSON; `null` where there is none.
///
/// # Errors
/// If the library refuses.
pub fn catch_json(book: &CatchBook) -> Result<String, DrawError> {
    let all = json!({
        "what": "catch tests",
        "version": book.version,
        "command": book.command,
        "level_percent": 100.0 * book.level,
        "calibration": book.calibration.as_ref().map(calibration),
        "tests": book.entries.iter().map(test).collect::<Vec<_>>(),
    });
    let mut text = serde_json::to_string_pretty(&all).map_err(DrawError::library)?;
    text.push('\n');
    Ok(text)
}

fn test(entry: &CatchEntry) -> Value {
    let test = &entry.test;
    let wind = test.mean_wind();
    let limits = entry.limits.as_ref().map(|l| {
        json!({
            "figures": figures(&l.figures),
            "cu_limits_percent": percent_limits(l.cu),
            "du_lq_limits_percent": percent_limits(l.du_lq),
        })
    });
    json!({
        "file": entry.file,
        "title": test.title,
        "kind": kind_word(&test.kind),
        "cans": test.depths_mm().len(),
        "missing": test.missing(),
        "blanks_as_dry": test.blanks_as_dry,
        "duration_h": test.duration_h,
        "wind_speed_m_s": wind.map(|w| w.0),
        "wind_from_deg": wind.map(|w| w.1),
        "uniformity": limits,
        "caught_l": entry.volume.map(|v| v.caught_l),
        "delivered_l": entry.volume.map(|v| v.delivered_l),
        "to_look_at": entry.outliers.iter().map(|o| json!({
            "line": test.cans.get(o.can).map(|can| can.line),
            "depth_mm": o.depth_mm,
            "neighbors_mm": o.neighbors_mm,
            "score": o.score,
        })).collect::<Vec<_>>(),
        "rules": entry.requirements.iter().map(|rule| json!({
            "what": rule.what,
            "state": match rule.state {
                State::Met => "met",
                State::NotMet => "not met",
                State::Unknown => "not known",
            },
            "source": rule.source,
        })).collect::<Vec<_>>(),
        "overlaps": entry.overlaps.iter().map(|o| json!({
            "what": o.words,
            "exact": o.overlapped.exact,
            "figures": figures(&o.overlapped.figures),
        })).collect::<Vec<_>>(),
        "fit": entry.fit.as_ref().map(fit),
        "against_simulated": entry.comparison.as_ref().map(comparison),
        "model_passes": entry.judgment.map(|j| j.passes()),
        "pass_against_simulated": entry.judgment.as_ref().map(judged),
        "notes": entry.notes,
    })
}

/// Every figure under its key; a view of plain numbers always becomes JSON.
fn figures(found: &Uniformity) -> Value {
    file_value(&Figures::new(found, UnitSystem::Si)).unwrap_or(Value::Null)
}

fn percent_limits(interval: Option<Interval>) -> Value {
    json!(interval.map(|i| [100.0 * i.low, 100.0 * i.high]))
}

fn plain_limits(interval: Option<Interval>) -> Value {
    json!(interval.map(|i| [i.low, i.high]))
}

fn fit(fit: &Fit) -> Value {
    let limits = |knot: usize| plain_limits(fit.rate_intervals.get(knot).copied().flatten());
    let knots = fit.leg.distance_m.iter().zip(&fit.leg.rate_mm_h).enumerate();
    json!({
        "leg": knots.map(|(knot, (distance_m, rate_mm_h))| json!({
            "distance_m": distance_m,
            "rate_mm_h": rate_mm_h,
            "rate_limits_mm_h": limits(knot),
        })).collect::<Vec<_>>(),
        "k1": fit.k1.as_ref().map(|k1| json!({
            "k1": k1.k1,
            "limits": plain_limits(k1.interval),
            "is_determined": k1.found == K1Found::Determined,
            "profile": k1.profile.iter().map(|(k1, rms_mm_h)| json!({
                "k1": k1, "rms_mm_h": rms_mm_h,
            })).collect::<Vec<_>>(),
        })),
        "residual_rms_mm_h": fit.rms_mm_h,
        "residual_rms_percent_of_mean": 100.0 * fit.rms_of_mean,
        "r_squared": fit.r_squared,
        "values_fitted": fit.parameters,
        "caught_l": fit.volume.map(|v| v.caught_l),
        "caught_limits_l": [fit.caught_l.low, fit.caught_l.high],
        "delivered_l": fit.volume.map(|v| v.delivered_l),
    })
}

fn calibration(of: &CatchCalibration) -> Value {
    let found = &of.found;
    json!({
        "alternative": of.alternative,
        "saved": of.saved,
        "effective_sample_size": found.effective,
        "draws": found.draws,
        "points": found.points.len(),
        "doubts": found.doubts.iter().map(|doubt| json!({
            "doubt": doubt.doubt.row().key,
            "prior_5_50_95": doubt.prior,
            "with_tests_5_50_95": doubt.posterior,
            "kept_percent": 100.0 * doubt.kept(),
            "is_narrowed": doubt.is_narrowed(),
        })).collect::<Vec<_>>(),
        "tests": found.tests.iter().zip(&of.judged).map(|(test, judged)| json!({
            "cans": test.cans,
            "left_out": test.left_out.len(),
            "can_error_percent": 100.0 * test.can_error,
            "surface_error_percent": 100.0 * test.surface_error,
            "model_passes": judged.map(|judged| judged.passes()),
        })).collect::<Vec<_>>(),
    })
}

fn judged(judgment: &Judgment) -> Value {
    let (across_m, mirrored) = match judgment.pass {
        Pass::AsCaught => (None, false),
        Pass::Overlapped { across_m, mirrored, .. } => (Some(across_m), mirrored),
    };
    let against = |of: &Against| {
        json!({
            "measured_percent": 100.0 * of.measured,
            "simulated_percent": 100.0 * of.simulated,
            "allowed_difference_points": 100.0 * of.allowed,
        })
    };
    json!({
        "overlapped_at_m": across_m,
        "mirrored": mirrored,
        "cu": against(&judgment.cu),
        "du_lq": against(&judgment.du_lq),
    })
}

fn comparison(c: &Comparison) -> Value {
    json!({
        "measured": figures(&c.measured.figures),
        "simulated": figures(&c.simulated),
        "correlation": c.correlation,
        "rms_mm": c.rms_mm,
        "mean_difference_mm": c.mean_difference_mm,
        "pattern_rms_percent": 100.0 * c.pattern_rms,
        "cans": c.pairs.iter().map(|p| json!({
            "x_m": p.x_m, "y_m": p.y_m,
            "measured_mm": p.measured_mm, "simulated_mm": p.simulated_mm,
        })).collect::<Vec<_>>(),
    })
}
