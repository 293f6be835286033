//! A line stopped off the whole turn: how a sprinkler stands and what it lays, and evenness
//! against the roll.

use super::depth_maps::depth_maps;
use crate::drawing::axis::{Axis, BODY, Chart, SMALL, bottom_ticks, left_ticks, round_range};
use crate::drawing::furniture::{
    MARGIN, WIDTH, color_bar, key, key_height, name, styled_line, title, toward,
};
use crate::drawing::line_style::line_style;
use crate::drawing::raster_field::field_image;
use crate::picture::Picture;
use crate::scenes::{AtRoll, Standing, TiltStudy};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{ColorScale, QUIET, RULE, ScaleKind, TEXT};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_core::model::Scenario;
use evenfall_core::sprinkler::attitude::JetDirection;
use evenfall_core::sprinkler::footprint::Footprint;
use evenfall_view::units::{Quantity, UnitSystem, number};
use ndarray::Array2;
use std::f64::consts::PI;

/// The pictures of a trial: how sprinklers stand, uniformity against the roll, depths.
///
/// # Errors
/// If the trial does not fit together, or a library refuses.
pub(crate) fn draw(study: &TiltStudy<'_>, units: UnitSystem) -> Result<Vec<Picture>, DrawError> {
    Ok(vec![
        sprinklers(&study.standing, study.standing_cell_m, units)?,
        course(&study.course(), study.leveler_range_deg)?,
        maps(study, units)?,
    ])
}

/// Depth maps of the telling cases: fixed, upright, half a turn and half a spacing.
fn maps(study: &TiltStudy<'_>, units: UnitSystem) -> Result<Picture, DrawError> {
    let mut shown = vec![0];
    shown.extend(study.rolls.first());
    let middle = study.rolls.iter().find(|case| study.roll_deg(**case) >= 60.0);
    shown.extend(middle);
    shown.extend(study.rolls.last());
    shown.extend(study.half_spacing.iter().flat_map(|half| [half.upright, half.stood]));
    shown.dedup();
    let alternatives =
        shown.iter().map(|case| study.trial.scenario.alternatives[*case].clone()).collect();
    let scenario = Scenario { alternatives, ..study.trial.scenario.clone() };
    let grids: Vec<_> = shown.iter().map(|case| &study.found(*case).season_mm).collect();
    // On a scale for heaps of water everything else would look alike.
    let heading = ("tilt-depth", "Net depth over the season");
    depth_maps(&scenario, &grids, units, 2, heading)
}

/// Cross-sections above, rates on the ground below.
fn sprinklers(all: &[Standing], cell_m: f64, units: UnitSystem) -> Result<Picture, DrawError> {
    let heading = "One sprinkler in still air, by how it stands";
    let reach = all.iter().map(|s| half_side(&s.rate)).max().unwrap_or(1);
    let scale = rate_scale(all, units);
    let columns = all.len().clamp(1, 3);
    let column = (WIDTH - 2.0 * MARGIN) / columns as f64;
    let side = (column - 84.0).min(250.0);
    let (sketch, row) = (136.0, 26.0 + 136.0 + side + 66.0);
    let rows = all.len().div_ceil(columns) as f64;
    let head = 124.0;
    let drawing = sheet((WIDTH, head + rows * row + 6.0), heading, |canvas| {
        let top = title(canvas, heading)?;
        let label =
            format!("Rate ({}/h); higher cells take the end color", units.symbol(Quantity::Depth));
        color_bar(canvas, (MARGIN, top), 540.0, &scale, &label)?;
        for (at, stood) in all.iter().enumerate() {
            let left = MARGIN + (at % columns) as f64 * column;
            let top = head + (at / columns) as f64 * row;
            name(canvas, (left, top), column - 20.0, &stood.name)?;
            let middle = left + 62.0 + side / 2.0;
            section(canvas, (middle, top + 26.0 + 0.5 * sketch), stood)?;
            let frame =
                Frame { left: left + 62.0, top: top + 26.0 + sketch, width: side, height: side };
            ground(canvas, frame, stood, reach, &scale, cell_m, units)?;
        }
        Ok(())
    })?;
    let caption = "Sketches: the pipe end on, riser, nozzle and the jets straight across the pipe, \
        seen along it; not to scale. Maps: what one sprinkler lays in still air; the level line is \
        the pipe. Water of blocked jets falls from the pipe where they meet it.";
    Ok(Picture { name: "tilt-sprinkler", title: heading.into(), caption: caption.into(), drawing })
}

fn half_side(rate: &Footprint) -> usize {
    let ends = [
        rate.first_row.unsigned_abs(),
        rate.first_column.unsigned_abs(),
        (rate.first_row + rate.values.nrows() as isize).unsigned_abs(),
        (rate.first_column + rate.values.ncols() as isize).unsigned_abs(),
    ];
    ends.into_iter().max().unwrap_or(1)
}

/// Up to twice what the first one lays at most of its wet ground.
fn rate_scale(all: &[Standing], units: UnitSystem) -> ColorScale {
    let wet = all.first().map(|s| s.rate.values.iter().copied().filter(|v| *v > 0.0));
    let mut wet: Vec<f64> = wet.into_iter().flatten().collect();
    wet.sort_by(f64::total_cmp);
    let high = wet.get(wet.len() * 98 / 100).copied().unwrap_or(1.0);
    let (_, hi) = round_range(0.0, units.shown(Quantity::Depth, 1.5 * high), 6);
    ColorScale { lo: 0.0, hi, kind: ScaleKind::Depth }
}

/// The pipe end on, with the riser and the jets across it.
fn section(canvas: &Canvas<'_>, (x, y): (f64, f64), stood: &Standing) -> Result<(), DrawError> {
    let attitude = &stood.attitude;
    let pipe = 13.0;
    let roll = attitude.roll_deg;
    // Screen: across to the right, up upward; a roll ahead turns clockwise.
    let nozzle = toward((x, y), roll, 30.0);
    canvas.line(&[toward((x, y), roll, pipe), nozzle], Ink::new(TEXT, 3.0))?;
    canvas.disc((x, y), pipe, RULE, 1.0)?;
    canvas.ring((x, y), pipe, Ink::new(TEXT, 1.6))?;
    for turn in [0.5 * PI, 1.5 * PI] {
        if let JetDirection::Free { azimuth_rad, elevation_rad } =
            attitude.direction(stood.trajectory_angle_deg, turn)
        {
            let ahead = if azimuth_rad.sin() >= 0.0 { 1.0 } else { -1.0 };
            let from_up = ahead * (90.0 - elevation_rad.to_degrees());
            let ink = Ink::new(line_style(2).color, 2.0);
            canvas.line(&[nozzle, toward(nozzle, from_up, 36.0)], ink)?;
        }
    }
    canvas.disc(nozzle, 4.5, TEXT, 1.0)
}

/// The rate on the ground around the pipe.
fn ground(
    canvas: &mut Canvas<'_>,
    frame: Frame,
    stood: &Standing,
    reach: usize,
    scale: &ColorScale,
    cell_m: f64,
    units: UnitSystem,
) -> Result<(), DrawError> {
    let side = 2 * reach;
    let mut shown = Array2::zeros((side, side));
    for ((row, column), value) in stood.rate.values.indexed_iter() {
        let at = |first: isize, index: usize| first + (index + reach) as isize;
        let (row, column) = (at(stood.rate.first_row, row), at(stood.rate.first_column, column));
        if let (Ok(row), Ok(column)) = (usize::try_from(row), usize::try_from(column))
            && let Some(cell) = shown.get_mut((row, column))
        {
            *cell = *value;
        }
    }
    let factor = units.shown(Quantity::Depth, 1.0);
    canvas.image(frame, field_image(&shown.view(), factor, scale, 400, frame.width).image)?;
    canvas.outline(frame, Ink::new(TEXT, 1.0))?;
    let (_, y) = frame.middle();
    canvas.line(&[(frame.left, y), (frame.right(), y)], Ink::new(TEXT, 1.0))?;
    let far = units.shown(Quantity::Length, reach as f64 * cell_m);
    let x_axis = Axis { lo: -far, hi: far, from: frame.left, to: frame.right() };
    let y_axis = Axis { lo: -far, hi: far, from: frame.bottom(), to: frame.top };
    let (ticks, decimals) = x_axis.ticks(6);
    bottom_ticks(canvas, frame, &x_axis, &ticks, decimals)?;
    left_ticks(canvas, frame, &y_axis, &ticks, decimals)?;
    let unit = units.symbol(Quantity::Length);
    let look = Lettering::new(SMALL, Side::Center).color(QUIET);
    canvas.text(
        (frame.middle().0, frame.bottom() + 33.0),
        &format!("Along the pipe ({unit})"),
        look,
    )?;
    canvas.text((frame.left - 46.0, y), &format!("Across ({unit})"), look.upright())
}

/// CU and `DUlq` against the roll; the levelers' range is shaded.
fn course(all: &[AtRoll], leveler_range_deg: f64) -> Result<Picture, DrawError> {
    let heading = "Evenness against the part of a turn";
    let names = [(0, "CU"), (1, "DUlq")];
    let (head, high) = (50.0, 270.0);
    let foot = key_height(&names);
    let drawing = sheet((WIDTH, head + high + 64.0 + foot), heading, |canvas| {
        title(canvas, heading)?;
        let half = (WIDTH - 2.0 * MARGIN) / 2.0;
        for (side, label) in ["Tilted passes, each alone (%)", "Season (%)"].into_iter().enumerate()
        {
            let left = MARGIN + half * side as f64 + 60.0;
            let frame = Frame { left, top: head + 6.0, width: half - 74.0, height: high };
            let chart = Chart::new(frame, (0.0, 180.0), (0.0, 100.0));
            let end = chart.x.place(leveler_range_deg.min(180.0));
            canvas.fill(Frame { width: end - frame.left, ..frame }, RULE, 0.5)?;
            let ticks: Vec<f64> = (0..=6).map(|i| 30.0 * f64::from(i)).collect();
            chart.draw(canvas, ("Off the whole turn (degrees)", label), &ticks)?;
            for index in [0, 1] {
                let style = line_style(index);
                let value =
                    |at: &AtRoll| if side == 0 { at.passes[index] } else { at.season[index] };
                let points: Vec<_> = all
                    .iter()
                    .map(|at| chart.place(at.roll_deg, (100.0 * value(at)).clamp(0.0, 100.0)))
                    .collect();
                styled_line(canvas, &points, style)?;
                for point in &points {
                    style.marker.draw(canvas, *point, 4.0, Ink::new(style.color, 1.6))?;
                }
            }
            let look = Lettering::new(BODY, Side::Right).color(QUIET);
            let words = format!("shaded: levelers, {}°", number(leveler_range_deg, 0));
            canvas.text((frame.right() - 8.0, frame.top + 14.0), &words, look)?;
        }
        key(canvas, head + high + 62.0, &names)
    })?;
    let caption = "Shifted passes stopped so far off the whole turn, everything else alike. Within \
        the levelers’ range (shaded) sprinklers stay upright. CU under nothing is drawn at 0: the \
        mean deviation is then more than the mean.";
    Ok(Picture { name: "tilt-course", title: heading.into(), caption: caption.into(), drawing })
}
