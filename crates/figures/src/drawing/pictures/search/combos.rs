//! Wheels against outlet spacings: the best rotation of each, its figure as number and color.

use crate::drawing::axis::{BODY, SMALL};
use crate::drawing::fit::{shortened, wrapped};
use crate::drawing::furniture::{MARGIN, WIDTH, title};
use crate::picture::Picture;
use crate::scenes::SearchScene;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{BLANK, ColorScale, QUIET, ScaleKind, TEXT, on};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_core::lateral::Machine;
use evenfall_core::search::ComboFound;
use evenfall_view::units::{Quantity, number};

const HEAD: f64 = 84.0;
const ROW: f64 = 108.0;
const FOOT: f64 = 20.0;
/// Worthwhile differences that the colors span at least.
const LEAST_SPAN: f64 = 10.0;
/// Drifts from here on are told, m: what shows in the first decimal of feet.
const SHOWN_DRIFT_M: f64 = 0.02;
/// Room for the wheels' names, pixels.
const NAMES: f64 = 150.0;

pub(super) fn draw(scene: &SearchScene<'_>) -> Result<Picture, DrawError> {
    let heading = format!("Best rotation by wheel and outlet spacing: {}", scene.aim_label());
    let all = &scene.found.combos;
    let columns = all
        .iter()
        .position(|combo| combo.combo.machine != all[0].combo.machine)
        .unwrap_or(all.len());
    // Two identical wheels in a row are rows of their own.
    let columns = columns_of(all).unwrap_or(columns).max(1);
    let rows = all.len().div_ceil(columns);
    let values = values(scene)?;
    let scale = scale_of(scene, &values);
    let height = HEAD + ROW * rows as f64 + FOOT;
    let drawing = sheet((WIDTH, height), &heading, |canvas| {
        title(canvas, &heading)?;
        let width = (WIDTH - 2.0 * MARGIN - NAMES) / columns as f64;
        for (index, found) in all.iter().enumerate() {
            let (row, column) = (index / columns, index % columns);
            let cell = Frame {
                left: MARGIN + NAMES + width * column as f64,
                top: HEAD + ROW * row as f64,
                width: width - 4.0,
                height: ROW - 4.0,
            };
            if row == 0 {
                let spacing = length(scene, found.combo.outlets.spacing_m);
                let look = Lettering::new(BODY, Side::Center).bold();
                let text = shortened(&format!("outlet spacing {spacing}"), width, BODY, true);
                canvas.text((cell.middle().0, HEAD - 18.0), &text, look)?;
            }
            if column == 0 {
                name(canvas, scene, cell.middle().1, found)?;
            }
            fill(canvas, scene, cell, found, values[index], &scale)?;
        }
        Ok(())
    })?;
    let caption = format!(
        "Each field: the best rotation of that wheel at that outlet spacing, by {}; darker is more. \
         A rank with = is shared. Where whole turns miss the next outlet, by so much at each move, \
         the line is taken as corrected there; the table gives the tilt if it is not.",
        scene.aim()
    );
    Ok(Picture { name: "search-wheels", title: heading, caption, drawing })
}

/// Colors over the values found, but over no less than some worthwhile differences: ties shall
/// not look like day and night.
fn scale_of(scene: &SearchScene<'_>, values: &[Option<f64>]) -> ColorScale {
    let known = || values.iter().flatten().copied();
    let hi = known().fold(f64::NEG_INFINITY, f64::max);
    let lo = known().fold(f64::INFINITY, f64::min);
    let least = LEAST_SPAN * scene.aim_shown(scene.found.least);
    ColorScale { lo: lo.min(hi - least), hi, kind: ScaleKind::Depth }
}

/// How often the first spacing pattern repeats: combinations run spacing by spacing, wheel by wheel.
fn columns_of(all: &[ComboFound]) -> Option<usize> {
    let first = all.first()?.combo.outlets.spacing_m;
    let again = all.iter().skip(1).position(|combo| combo.combo.outlets.spacing_m == first)?;
    Some(again + 1)
}

fn values(scene: &SearchScene<'_>) -> Result<Vec<Option<f64>>, DrawError> {
    let value = |found: &ComboFound| {
        let Some(best) = found.best else { return Ok(None) };
        let values = &scene.found.entries[best].values;
        let figures =
            evenfall_core::ensemble::seasons_figures(values, scene.found.options.confidence_level);
        Ok(Some(scene.aim_shown(figures.map_err(DrawError::mismatch)?.mean)))
    };
    scene.found.combos.iter().map(value).collect()
}

fn fill(
    canvas: &Canvas<'_>,
    scene: &SearchScene<'_>,
    cell: Frame,
    found: &ComboFound,
    value: Option<f64>,
    scale: &ColorScale,
) -> Result<(), DrawError> {
    let palette = scale.palette();
    let ground = value.map_or(BLANK, |value| {
        let at = usize::from(scale.index(value)) * 3;
        (palette[at], palette[at + 1], palette[at + 2])
    });
    canvas.fill(cell, ground, 1.0)?;
    canvas.outline(cell, Ink::new(QUIET, 0.6))?;
    let ink = on(ground);
    let center = cell.middle().0;
    let small = Lettering::new(SMALL, Side::Center).color(ink);
    let Some((value, best)) = value.zip(found.best) else {
        return canvas.text(cell.middle(), "none can be scheduled", small.color(TEXT));
    };
    let rank = found.rank.unwrap_or(0);
    let tie = if found.is_tied { "=" } else { "" };
    let big = Lettering::new(20.0, Side::Center).bold().color(ink);
    canvas.text((center, cell.top + 18.0), &number(value, 1), big)?;
    canvas.text((center, cell.top + 37.0), &format!("rank {rank}{tie}"), small)?;
    let rotation = &scene.found.entries[best].candidate;
    let words = scene.bare(rotation);
    for (line, text) in wrapped(&words, cell.width - 8.0, SMALL, false, 2).iter().enumerate() {
        canvas.text((center, cell.top + 54.0 + 14.0 * line as f64), text, small)?;
    }
    let drift_m = found.combo.reach.as_ref().map_or(0.0, |reach| reach.drift_per_move_m.abs());
    if drift_m >= SHOWN_DRIFT_M {
        let text = format!("whole turns miss by {}", length(scene, drift_m));
        let text = shortened(&text, cell.width - 8.0, SMALL, false);
        canvas.text((center, cell.bottom() - 12.0), &text, small)?;
    }
    Ok(())
}

fn length(scene: &SearchScene<'_>, meters: f64) -> String {
    scene.units.text(Quantity::Length, meters, 1)
}

/// The wheel of a row, at the height of its middle: above what it rolls the trade's name, where it is
/// compared by that.
fn name(
    canvas: &Canvas<'_>,
    scene: &SearchScene<'_>,
    middle: f64,
    found: &ComboFound,
) -> Result<(), DrawError> {
    let look = Lettering::new(BODY, Side::Left);
    let Machine::WheelLine(wheel) = &found.combo.machine else {
        return canvas.text((MARGIN, middle), "hand-moved", look.bold());
    };
    let rolls = format!("{} a turn", length(scene, wheel.travel_per_turn_m));
    let Some(size) = scene.found.options.space.size_of(wheel) else {
        return canvas.text((MARGIN, middle), &rolls, look.bold());
    };
    canvas.text((MARGIN, middle - 10.0), &format!("{} wheels", size.name()), look.bold())?;
    canvas.text((MARGIN, middle + 10.0), &rolls, look)
}
