//! Tables of a search, shared by page and terminal.

use crate::scenes::{Line, SHOWN, SearchScene};
use crate::table::{Row, Table};
use evenfall_canvas::DrawError;
use evenfall_core::ensemble::Interval;
use evenfall_core::search::{Aim, ComboFound, KindFound, Water};
use evenfall_view::units::{Quantity, number, percent, points};

/// DUlq that the search goes by: of the whole field where that is the aim.
fn du_lq(scene: &SearchScene<'_>) -> fn(&Water) -> f64 {
    match scene.found.aim {
        Aim::DuLqWhole => |water| water.du_lq_whole.unwrap_or(f64::NAN),
        _ => |water| water.du_lq,
    }
}

/// Heads of the ranking's columns after rank and candidate.
pub(super) fn heads(scene: &SearchScene<'_>) -> Vec<String> {
    let whole = scene.found.aim == Aim::DuLqWhole;
    let region = if whole { "whole field" } else { "interior" };
    let mut heads = {
        let level = percent(scene.found.options.confidence_level, 0);
        vec![format!("DUlq {region}"), format!("{level} interval"), "DUlq gain".to_owned()]
    };
    if scene.found.entries.iter().any(|entry| !entry.crop.is_empty()) {
        heads.push("worst tenth".to_owned());
    }
    if scene.found.entries.iter().any(|entry| !entry.nets_per_ha.is_empty()) {
        heads.push(format!("net per {}", scene.units.area_word()));
    }
    heads.extend(["pass every", "season ends", "day/night"].map(str::to_owned));
    heads
}

/// The cells under [`heads`].
pub(super) fn cells(scene: &SearchScene<'_>, line: &Line<'_>) -> Result<Vec<String>, DrawError> {
    let (found, at) = (scene.found, line.at);
    let of = du_lq(scene);
    let figures = found.water(at, of).map_err(DrawError::mismatch)?;
    let gain = found.gain(at, of).map_err(DrawError::mismatch)?;
    let gain = if at == 0 { "baseline".to_owned() } else { points(gain.figures.mean, 1) };
    let mut cells = vec![percent(figures.mean, 1), span(figures.interval), gain];
    let heads = heads(scene);
    if heads.iter().any(|head| head == "worst tenth") {
        let worst = found.crop(at, |season| season.yield_worst_tenth);
        cells.push(worst.map_or_else(|| "–".to_owned(), |worst| percent(worst.mean, 1)));
    }
    if heads.iter().any(|head| head.starts_with("net")) {
        let net = scene.net(at).map(|net| scene.units.per_area(net.figures.mean));
        cells.push(net.map_or_else(|| "–".to_owned(), |net| number(net, 2)));
    }
    let cost = &line.entry.candidate.cost;
    cells.push(
        cost.pass_every_h.map_or_else(
            || "–".to_owned(),
            |hours| format!("{}\u{a0}days", number(hours / 24.0, 1)),
        ),
    );
    cells.push(ends(cost.days_longer));
    cells.push(if cost.is_locked { "same" } else { "changes" }.to_owned());
    Ok(cells)
}

fn ends(days: f64) -> String {
    if days.abs() < 0.05 {
        return "same\u{a0}day".to_owned();
    }
    let sign = if days > 0.0 { "+" } else { "" };
    format!("{sign}{}\u{a0}days", number(days, 1))
}

fn span(interval: Interval) -> String {
    format!("{}\u{a0}to\u{a0}{}", number(100.0 * interval.low, 1), number(100.0 * interval.high, 1))
}

/// The ranking for the page.
pub(super) fn ranking(scene: &SearchScene<'_>) -> Result<Table, DrawError> {
    let heads = heads(scene);
    let mut head = vec!["", "Rank"];
    head.extend(heads.iter().map(String::as_str));
    let shown = scene.shown(SHOWN);
    let rows = shown.iter().map(|line| {
        let mut all = vec![line.rank()];
        all.extend(cells(scene, line)?);
        Ok(Row::new(scene.short(&line.entry.candidate), all))
    });
    let rows: Vec<Row> = rows.collect::<Result<_, DrawError>>()?;
    let left = scene.found.entries.len().saturating_sub(rows.len());
    let level = percent(scene.found.options.confidence_level, 0);
    let note = format!(
        "A rank with = is shared: {}. Within a tie the simplest comes first (no parts to buy, the same \
         starting hours, fewer sets, fewer stops). The {level} confidence intervals are for each mean \
         by itself; ranks are from paired seasons. DUlq gain: points over the fixed pattern in the same \
         seasons. Season ends: compared with the fixed pattern. Day/night: whether each place is \
         watered in the same half of the day every time. {}",
        scene.ties(),
        if left > 0 { format!("{left} more: see search.csv.") } else { String::new() }
    );
    Ok(Table::new("The best, in order", &head).with_rows(rows).with_note(&note))
}

/// The shown candidates in plain words.
pub(super) fn in_words(scene: &SearchScene<'_>, most: usize) -> Table {
    let shown = scene.shown(most);
    let rows = shown.iter().map(|line| {
        let candidate = &line.entry.candidate;
        let mut words = vec![
            scene.rotation(candidate),
            candidate.alternative.edges.words().to_owned(),
            candidate.schedule_words(),
        ];
        words.push(scene.layout(candidate).unwrap_or_else(|| "as in the scenario".to_owned()));
        Row::new(line.rank(), words)
    });
    let head = ["Rank", "Rotation", "Edges", "Clock", "Outlets and wheel"];
    Table::new("In words", &head).with_rows(rows.collect())
}

/// The best of each kind of clock and edges.
pub(super) fn kinds(scene: &SearchScene<'_>) -> Result<Table, DrawError> {
    let row = |found: &KindFound| -> Result<Row, DrawError> {
        let at = found.simplest;
        let gain = scene.found.gain_of_aim(at).map_err(DrawError::mismatch)?;
        let lead = scene.found.lead_over(at).map_err(DrawError::mismatch)?;
        let interval = lead.figures.interval;
        let is_best = scene.found.leader().is_some_and(|leader| leader.alternative == at);
        let behind = if is_best {
            "the best".to_owned()
        } else {
            format!(
                "{} ({} to {})",
                scene.plain_text(lead.figures.mean),
                scene.plain_text(interval.low),
                scene.plain_text(interval.high)
            )
        };
        let line = scene.lines().into_iter().find(|line| line.at == at);
        let rank = line.map_or_else(String::new, |line| line.rank());
        let name = scene.short(&scene.found.entries[at].candidate);
        let gain =
            if at == 0 { "baseline".to_owned() } else { scene.plain_text(gain.figures.mean) };
        Ok(Row::new(found.kind.words(), vec![name, gain, behind, rank]))
    };
    let rows: Vec<Row> = scene.found.kinds.iter().map(row).collect::<Result<_, _>>()?;
    let head = ["If you keep to", "Rotation", "Gain", "Behind the best", "Rank"];
    let note = format!(
        "For those who cannot water at other hours or add a set. Of those too close to the best of \
         their kind to matter, the simplest is shown. Gain over the fixed pattern and distance \
         behind the best (with its own {} confidence interval) in {}.",
        percent(scene.found.options.confidence_level, 0),
        scene.unit_of_gain()
    );
    Ok(Table::new("The best under each limit", &head).with_rows(rows).with_note(&note))
}

/// Wheels and spacings, each with its best rotation.
pub(super) fn combos(scene: &SearchScene<'_>) -> Result<Table, DrawError> {
    let row = |found: &ComboFound| -> Result<Row, DrawError> {
        let length = |m: f64| scene.units.text(Quantity::Length, m, 2);
        let name = combo_name(scene, found);
        let (drift, tilt) = match &found.combo.reach {
            Some(reach) => {
                (length(reach.drift_per_move_m), format!("{}°", number(reach.tilt_per_move_deg, 1)))
            }
            None => ("–".to_owned(), "–".to_owned()),
        };
        let mut cells = vec![found.combo.stops.len().to_string(), drift, tilt];
        let Some(best) = found.best else {
            cells.extend(["none could be scheduled".to_owned()]);
            return Ok(Row::new(name, cells));
        };
        let water = |of: fn(&Water) -> f64| {
            let figures = scene.found.water(best, of).map_err(DrawError::mismatch)?;
            Ok::<String, DrawError>(percent(figures.mean, 1))
        };
        let rank = found.rank.map_or_else(String::new, |rank| rank.to_string());
        cells.extend([
            scene.bare(&scene.found.entries[best].candidate),
            water(|w| w.cu)?,
            water(du_lq(scene))?,
            format!("{rank}{}", if found.is_tied { "=" } else { "" }),
            found.tied.to_string(),
        ]);
        Ok(Row::new(name, cells))
    };
    let rows: Vec<Row> = scene.found.combos.iter().map(row).collect::<Result<_, _>>()?;
    let head = [
        "",
        "Stops",
        "Drift per move",
        "Tilt",
        "Best rotation",
        "CU",
        "DUlq",
        "Rank",
        "Tied with it",
    ];
    let note = format!(
        "Drift per move: how far the nearest whole turns end from the next outlet. Tilt: that of the \
         sprinklers if you roll the line to the outlet anyway. The drift is simulated as it \
         adds up. Ranked by {}; a rank with = is shared. Tied: other rotations of the same \
         wheel and spacing that we can’t tell from its best.",
        scene.aim()
    );
    Ok(Table::new("Wheels and outlet spacings", &head).with_rows(rows).with_note(&note))
}

/// "20.0 ft per turn, outlet spacing 60.0 ft".
pub(crate) fn combo_name(scene: &SearchScene<'_>, found: &ComboFound) -> String {
    use evenfall_core::lateral::Machine;
    let length = |m: f64| scene.units.text(Quantity::Length, m, 1);
    let outlets = format!("outlet spacing {}", length(found.combo.outlets.spacing_m));
    match &found.combo.machine {
        Machine::WheelLine(wheel) => {
            format!("{}, {outlets}", scene.wheel(wheel))
        }
        Machine::HandMove => outlets,
    }
}

/// What was tried, stage by stage.
pub(super) fn stages(scene: &SearchScene<'_>) -> Table {
    let rows = scene.found.stages.iter().enumerate().map(|(stage, seen)| {
        let closest = seen.dropped.iter().map(|d| d.lead.low).fold(f64::INFINITY, f64::min);
        let closest = if closest.is_finite() {
            format!("at least {}", scene.gain_text(closest))
        } else {
            "–".to_owned()
        };
        let cells = vec![
            seen.seasons.to_string(),
            seen.ran.to_string(),
            seen.dropped.len().to_string(),
            closest,
        ];
        Row::new((stage + 1).to_string(), cells)
    });
    let head = ["Round", "Seasons", "Candidates", "Dropped", "All behind by"];
    Table::new("Rounds of the search", &head).with_rows(rows.collect())
}
