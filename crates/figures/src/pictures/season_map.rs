//! Maps of the whole season side by side: depth on one scale, and deviation from each own mean.
//! Each alternative has its whole field and, because that hides the pattern between sprinklers, an
//! enlarged detail from the middle.

use super::Picture;
use crate::axis::{SMALL, round_range};
use crate::canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use crate::colours::{BLACK, ColourScale, QUIET, ScaleKind, WHITE};
use crate::error::DrawError;
use crate::furniture::{
    MARGIN, NAME_LINE, WIDTH, colour_bar, compass, length_label, name, name_lines, title,
};
use crate::map::{BELOW, LABEL_ROOM, LETTER_ROOM, Panel, detail_window, draw_map, fitted};
use crate::raster_field::LARGEST_SIDE;
use crate::scene::{Entry, Scene};
use crate::spread::Spread;
use crate::units::Quantity;
use evenfall_core::grid::Window;

/// Highest a map may be, pixels.
const TALLEST: f64 = 380.0;
/// Room left beside a name, pixels.
const NAME_SPARE: f64 = 20.0;

/// What is mapped.
struct Subject {
    title: String,
    bar_label: String,
    scale: ColourScale,
    /// Factor on the depth, per alternative.
    factors: Vec<f64>,
}

/// Net depth over the season.
pub(super) fn depth(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let unit = scene.units.symbol(Quantity::Depth);
    let factor = scene.units.shown(Quantity::Depth, 1.0);
    let cells = scene.entries.iter().flat_map(|e| e.season_depth_mm().iter().map(|v| v * factor));
    let (lo, hi) = Spread::of(cells).map_or((0.0, 1.0), |s| {
        let (lo, hi, mid) = (s.quantile(0.01), s.quantile(0.99), s.quantile(0.5));
        // Never stretch less than a tenth of the depth over all colours: that would be noise.
        let spare = (0.1 * mid - (hi - lo)).max(0.0) / 2.0;
        round_range((lo - spare).max(0.0), hi + spare, 6)
    });
    let subject = Subject {
        title: format!("Net depth on the ground, {}", after(scene)),
        bar_label: format!("Depth ({unit}); lower and higher cells take the end colours"),
        scale: ColourScale { lo, hi, kind: ScaleKind::Depth },
        factors: vec![factor; scene.entries.len()],
    };
    let caption = "All alternatives on one scale: the darker, the more water. Upper maps: the \
        whole field; lower ones: the outlined detail, enlarged, with a dot at each sprinkler. \
        White wedges at the left edge are the outlets, letters (or coloured ticks) at the right \
        edge the stops where the lateral stood.";
    draw(scene, &subject, "season-depth", caption)
}

/// Deviation from each alternative's own mean.
pub(super) fn deviation(scene: &Scene<'_>) -> Result<Picture, DrawError> {
    let last = |e: &Entry<'_>| e.mean_depth_mm(e.passes()).map_or(f64::NAN, |mean| 100.0 / mean);
    let factors: Vec<f64> = scene.entries.iter().map(last).collect();
    let interior = scene.interior();
    let pairs = scene.entries.iter().zip(&factors);
    let parts = pairs.flat_map(|(e, factor)| {
        interior.of(e.season_depth_mm()).into_iter().map(move |v| (v * factor - 100.0).abs())
    });
    let scale = deviation_scale(Spread::of(parts).map(|s| s.quantile(0.98)));
    let subject = Subject {
        title: format!("Deviation from each alternative’s own mean, {}", after(scene)),
        bar_label: format!(
            "Depth, % of the own mean of the {} (100 = mean)",
            scene.interior_name()
        ),
        scale,
        factors,
    };
    let caption = "Brown is drier than the alternative’s own mean depth, teal is wetter, pale is \
        close to it; one scale for all. Stripes that run with the outlets are what a rotation can \
        remove. Marks as in the map of depth. In black and white both ends look dark: there, read \
        the map of depth.";
    draw(scene, &subject, "season-deviation", caption)
}

/// A scale about 100 % that reaches a round value beyond `reach` points, 10 to 60.
pub(super) fn deviation_scale(reach: Option<f64>) -> ColourScale {
    let reach = (reach.unwrap_or(10.0) / 10.0).ceil().clamp(1.0, 6.0) * 10.0;
    ColourScale { lo: 100.0 - reach, hi: 100.0 + reach, kind: ScaleKind::Deviation }
}

/// "after 12 passes", or "at the end of the season" where alternatives differ.
pub(super) fn after(scene: &Scene<'_>) -> String {
    let most = scene.most_passes();
    if scene.entries.iter().any(|e| e.passes() != most) {
        return "at the end of the season".to_owned();
    }
    if most == 1 { "after 1 pass".to_owned() } else { format!("after {most} passes") }
}

/// Sizes of the panels.
struct Layout {
    columns: usize,
    column: f64,
    whole: Frame,
    detail: Frame,
    row: f64,
}

fn layout(scene: &Scene<'_>, windows: (&Window, &Window)) -> Layout {
    let count = scene.entries.len();
    let columns = count.min(3);
    let column = (WIDTH - 2.0 * MARGIN) / columns as f64;
    let top = 8.0 + NAME_LINE * name_lines(scene, column - NAME_SPARE) as f64;
    if count == 1 {
        let half = column / 2.0;
        let room = half - LABEL_ROOM - LETTER_ROOM;
        let whole = fitted(windows.0, LABEL_ROOM, top, room, 1.2 * TALLEST);
        let detail = fitted(windows.1, half + LABEL_ROOM, top, room, 1.2 * TALLEST);
        let row = whole.bottom().max(detail.bottom()) + BELOW + 10.0;
        return Layout { columns, column, whole, detail, row };
    }
    let room = column - LABEL_ROOM - LETTER_ROOM - 6.0;
    let whole = fitted(windows.0, LABEL_ROOM, top, room, TALLEST);
    let below = whole.bottom() + BELOW;
    let detail = fitted(windows.1, LABEL_ROOM, below + 8.0, room, TALLEST);
    Layout { columns, column, whole, detail, row: detail.bottom() + BELOW + 14.0 }
}

fn draw(
    scene: &Scene<'_>,
    subject: &Subject,
    stem: &'static str,
    caption: &str,
) -> Result<Picture, DrawError> {
    let windows = (scene.outcome.grid.whole(), detail_window(scene));
    let plan = layout(scene, (&windows.0, &windows.1));
    let rows = scene.entries.len().div_ceil(plan.columns) as f64;
    let head = 134.0;
    let mut block = 1;
    let svg = sheet((WIDTH, head + rows * plan.row), &subject.title, |canvas| {
        let top = title(canvas, &subject.title)?;
        colour_bar(canvas, (MARGIN, top), 540.0, &subject.scale, &subject.bar_label)?;
        compass(canvas, (WIDTH - MARGIN - 310.0, top), scene)?;
        for (index, entry) in scene.entries.iter().enumerate() {
            let left = MARGIN + plan.column * (index % plan.columns) as f64;
            let top = head + plan.row * (index / plan.columns) as f64;
            let factor = subject.factors[index];
            let cell = Cell { scene, entry, factor, scale: &subject.scale, left, top };
            block = cell.draw(canvas, &plan, &windows)?.max(block);
        }
        Ok(())
    })?;
    let note = format!(" Each dot of the whole-field maps is the mean of {block} × {block} cells.");
    let caption = caption.to_owned() + if block > 1 { &note } else { "" };
    Ok(Picture { name: stem, title: subject.title.clone(), caption, svg })
}

/// The two maps of one alternative.
struct Cell<'a> {
    scene: &'a Scene<'a>,
    entry: &'a Entry<'a>,
    factor: f64,
    scale: &'a ColourScale,
    left: f64,
    top: f64,
}

impl Cell<'_> {
    fn draw(
        &self,
        canvas: &mut Canvas<'_>,
        plan: &Layout,
        (whole, detail): &(Window, Window),
    ) -> Result<usize, DrawError> {
        let placed = |f: Frame| Frame { left: f.left + self.left, top: f.top + self.top, ..f };
        name(
            canvas,
            (self.left + 4.0, self.top),
            plan.column - NAME_SPARE,
            &self.entry.asked.name,
        )?;
        let mut panel = Panel {
            depth_mm: self.entry.season_depth_mm(),
            factor: self.factor,
            scale: self.scale,
            window: whole,
            passes: self.entry.passes(),
            sprinklers: false,
            labels: true,
            largest_side: LARGEST_SIDE,
        };
        let frame = placed(plan.whole);
        let block = draw_map(canvas, frame, self.scene, self.entry, &panel)?;
        self.outline_detail(canvas, frame, detail)?;
        self.axis_titles(canvas, frame, "Along the pipe")?;
        (panel.window, panel.sprinklers) = (detail, true);
        let frame = placed(plan.detail);
        draw_map(canvas, frame, self.scene, self.entry, &panel)?;
        self.axis_titles(canvas, frame, "Detail, along the pipe")?;
        Ok(block)
    }

    fn axis_titles(&self, canvas: &Canvas<'_>, frame: Frame, what: &str) -> Result<(), DrawError> {
        let look = Lettering::new(SMALL, Side::Centre).colour(QUIET);
        let place = (frame.middle().0, frame.bottom() + 33.0);
        canvas.text(place, &length_label(self.scene, what), look)?;
        let place = (frame.left - 52.0, frame.middle().1);
        canvas.text(place, &length_label(self.scene, "Across"), look.upright())
    }

    /// Where the detail lies in the whole field.
    fn outline_detail(
        &self,
        canvas: &Canvas<'_>,
        frame: Frame,
        detail: &Window,
    ) -> Result<(), DrawError> {
        let grid = &self.scene.outcome.grid;
        let (x, y) =
            (frame.width / grid.cells_along as f64, frame.height / grid.cells_across as f64);
        let inner = Frame {
            left: frame.left + detail.columns.start as f64 * x,
            top: frame.bottom() - detail.rows.end as f64 * y,
            width: detail.columns.len() as f64 * x,
            height: detail.rows.len() as f64 * y,
        };
        canvas.outline(inner, Ink::new(WHITE, 3.0))?;
        canvas.outline(inner, Ink::new(BLACK, 1.4))
    }
}
