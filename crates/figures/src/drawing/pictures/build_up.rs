//! Small multiples: how the pattern builds up after pass 1, 2, 3 and the last, one row per
//! alternative, each panel relative to its own mean so that patterns compare.

use super::season_map::deviation_scale;
use crate::drawing::axis::{BODY, SMALL};
use crate::drawing::fit::shortened;
use crate::drawing::furniture::{MARGIN, WIDTH, color_bar, compass, name, title};
use crate::drawing::map::{LABEL_ROOM, LETTER_ROOM, Panel, detail_window, draw_map, fitted};
use crate::drawing::spread::Spread;
use crate::picture::Picture;
use crate::scenes::{Entry, Scene, inside};
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{ColorScale, QUIET};
use evenfall_canvas::{Canvas, Frame, Lettering, Side, sheet};
use evenfall_core::grid::{DepthGrid, Window};
use evenfall_core::statistics::distances;
use evenfall_view::units::percent;

/// Height of head, name and figures, pixels.
const HEAD: f64 = 134.0;
const NAME: f64 = 26.0;
const PANEL_TITLE: f64 = 30.0;
const FOOT: f64 = 50.0;
/// Most pixels a side of a panel's image: panels are small.
const SIDE: usize = 240;

/// The detail from the middle of the field.
pub(super) fn detail(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let caption = "A detail from the middle of the field, depth as % of the mean of the interior \
        at that time. Read from left to right how passes at other stops fill the dry bands; a \
        fixed pattern keeps its bands. Dots are the sprinklers of the passes so far.";
    draw(
        scene,
        "build-up-detail",
        "How the pattern builds up: detail",
        &detail_window(&scene.site, scene.entries[0].asked),
        caption,
    )
}

/// The whole field.
pub(super) fn field(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let caption = "The same for the whole field, cells averaged to the size of the panel. Broad \
        bands across the field come from the wind of single sets, edges from missing neighbors.";
    let whole = scene.outcome.grid.whole();
    draw(scene, "build-up-field", "How the pattern builds up: whole field", &whole, caption)
}

fn draw(
    scene: &Scene<'_>,
    stem: &'static str,
    heading: &str,
    window: &Window,
    caption: &str,
) -> Result<Picture, DrawError> {
    let columns = scene.entries.iter().map(|e| e.found.snapshots.len() + 1).max().unwrap_or(1);
    let tallest = if scene.entries.len() > 3 { 180.0 } else { 230.0 };
    let column = ((WIDTH - 2.0 * MARGIN - LABEL_ROOM) / columns as f64).min(320.0);
    let frame = fitted(window, 0.0, NAME + PANEL_TITLE, column - LETTER_ROOM - 8.0, tallest);
    let row = frame.bottom() + FOOT + 10.0;
    let scale = common_scale(scene);
    let height = HEAD + row * scene.entries.len() as f64 + 18.0;
    let drawing = sheet((WIDTH, height), heading, |canvas| {
        let top = title(canvas, heading)?;
        let label = format!("Cumulative depth, % of the mean of the {}", scene.interior_name());
        color_bar(canvas, (MARGIN, top), 540.0, &scale, &label)?;
        compass(canvas, (WIDTH - MARGIN - 310.0, top), &scene.site)?;
        for (index, entry) in scene.entries.iter().enumerate() {
            let top = HEAD + row * index as f64;
            name(canvas, (MARGIN, top), WIDTH - 2.0 * MARGIN, &entry.asked.name)?;
            for (place, (passes, depth_mm)) in entry.built_up().enumerate() {
                let left = MARGIN + LABEL_ROOM + column * place as f64;
                let frame = Frame { left, top: top + frame.top, ..frame };
                let panel =
                    Multiple { scene, entry, passes, depth_mm: &depth_mm, scale: &scale, window };
                panel.draw(canvas, frame, column, place == 0)?;
            }
        }
        let look = Lettering::new(SMALL, Side::Left).color(QUIET);
        let label =
            scene.site.length_label("Both axes: distance along the pipe and across the field");
        canvas.text((MARGIN + LABEL_ROOM, height - 14.0), &label, look)
    })?;
    Ok(Picture { name: stem, title: heading.to_owned(), caption: caption.to_owned(), drawing })
}

/// One scale for all panels, wide enough for the interior after the first pass.
fn common_scale(scene: &Scene<'_>) -> ColorScale {
    let interior = scene.interior();
    // One at a time: a depth in full precision is twice as large as what is kept of it.
    let distances = scene.entries.iter().filter_map(|e| {
        let (passes, depth_mm) = e.built_up().next()?;
        let factor = 100.0 / e.mean_depth_mm(passes)?;
        Some(distances(&interior.runs_of(&depth_mm), factor, 100.0))
    });
    deviation_scale(Spread::of_distances(&distances.collect::<Vec<_>>()).map(|s| s.quantile(0.98)))
}

/// One panel.
struct Multiple<'a> {
    scene: &'a Scene<'a>,
    entry: &'a Entry<'a>,
    /// After so many passes.
    passes: usize,
    depth_mm: &'a DepthGrid,
    scale: &'a ColorScale,
    window: &'a Window,
}

impl Multiple<'_> {
    fn draw(
        &self,
        canvas: &mut Canvas<'_>,
        frame: Frame,
        room: f64,
        labels: bool,
    ) -> Result<(), DrawError> {
        let passes = self.passes;
        let factor = self.entry.mean_depth_mm(passes).map_or(f64::NAN, |mean| 100.0 / mean);
        let panel = Panel {
            depth_mm: self.depth_mm,
            factor,
            scale: self.scale,
            window: self.window,
            stops: &self.entry.stops_until(passes),
            sprinklers: self.window.rows.len() < self.scene.outcome.grid.cells_across,
            labels,
            largest_side: SIDE,
        };
        draw_map(canvas, frame, &self.scene.site, self.entry.asked, &panel)?;
        let letters: String =
            self.entry.found.plan.passes.iter().take(passes.min(8)).map(|p| p.letter).collect();
        let more = if passes > 8 { "…" } else { "" };
        let heading = if passes == 1 { "pass" } else { "passes" };
        let text = format!("{passes} {heading}: {letters}{more}");
        let text = shortened(&text, room - 6.0, BODY, false);
        canvas.text((frame.left, frame.top - 17.0), &text, Lettering::new(BODY, Side::Left))?;
        let pass = self.entry.found.passes.get(passes - 1);
        if let Some(figures) = pass.and_then(|p| inside(&p.cumulative)) {
            let text = format!("CU {}, DUlq {}", percent(figures.cu, 1), percent(figures.du_lq, 1));
            let place = (frame.left, frame.bottom() + 34.0);
            canvas.text(place, &text, Lettering::new(SMALL, Side::Left))?;
        }
        Ok(())
    }
}
