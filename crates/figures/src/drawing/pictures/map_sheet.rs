//! One sheet of maps, an alternative each, all on one scale. Each alternative has its whole field
//! and, because that hides the pattern between sprinklers, an enlarged detail from the middle.

use crate::drawing::axis::{SMALL, round_range};
use crate::drawing::furniture::{
    MARGIN, NAME_LINE, WIDTH, color_bar, compass, name, name_lines, title,
};
use crate::drawing::map::{BELOW, LABEL_ROOM, LETTER_ROOM, Panel, detail_window, draw_map, fitted};
use crate::drawing::raster_field::LARGEST_SIDE;
use crate::drawing::spread::Spread;
use crate::picture::Picture;
use crate::scenes::Site;
use crate::scenes::StopMark;
use evenfall_canvas::DrawError;
use evenfall_canvas::colors::{BLACK, ColorScale, QUIET, ScaleKind, WHITE};
use evenfall_canvas::{Canvas, Frame, Ink, Lettering, Side, sheet};
use evenfall_core::grid::{DepthGrid, Window};
use evenfall_core::statistics::Numbers;

/// Highest a map may be, pixels.
const TALLEST: f64 = 380.0;
/// Room left beside a name, pixels.
const NAME_SPARE: f64 = 20.0;

/// What is mapped, for all alternatives.
pub(super) struct MapSheet<'a> {
    pub(super) site: &'a Site<'a>,
    /// Stem of the picture's name.
    pub(super) stem: &'static str,
    pub(super) title: String,
    pub(super) bar_label: String,
    pub(super) scale: ColorScale,
    /// In the scenario's order.
    pub(super) maps: Vec<Mapped<'a>>,
}

/// The map of one alternative.
pub(super) struct Mapped<'a> {
    pub(super) values: &'a DepthGrid,
    /// Factor on the values.
    pub(super) factor: f64,
    /// Stops to mark.
    pub(super) stops: Vec<StopMark>,
}

/// A round scale over all but the outermost hundredths of `cells`, each times `factor`.
pub(super) fn depth_scale<'a>(
    cells: impl IntoIterator<Item = &'a [f64]>,
    factor: f64,
) -> ColorScale {
    let cells: Vec<_> = cells.into_iter().map(Numbers::Double).collect();
    scale_of(Spread::of(&cells, factor))
}

/// A round scale over all but the outermost hundredths of depths that are spread so.
pub(crate) fn scale_of(depths: Option<Spread>) -> ColorScale {
    let (lo, hi) = depths.map_or((0.0, 1.0), |s| {
        let (lo, hi, mid) = (s.quantile(0.01), s.quantile(0.99), s.quantile(0.5));
        // Never stretch less than a tenth of the depth over all colors: that would be noise.
        let spare = (0.1 * mid - (hi - lo)).max(0.0) / 2.0;
        round_range((lo - spare).max(0.0), hi + spare, 6)
    });
    ColorScale { lo, hi, kind: ScaleKind::Depth }
}

/// Sizes of the panels.
struct Layout {
    columns: usize,
    column: f64,
    whole: Frame,
    detail: Frame,
    row: f64,
}

fn layout(site: &Site<'_>, windows: (&Window, &Window)) -> Layout {
    let names = site.names();
    let count = names.len();
    let columns = count.min(3);
    let column = (WIDTH - 2.0 * MARGIN) / columns as f64;
    let top = 8.0 + NAME_LINE * name_lines(&names, column - NAME_SPARE) as f64;
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

impl MapSheet<'_> {
    /// Draws the picture.
    pub(super) fn draw(self, caption: &str) -> Result<Picture, DrawError> {
        let site = self.site;
        let first = site.scenario.alternatives.first();
        let first = first.ok_or_else(|| DrawError::Mismatch("nothing to map".to_owned()))?;
        let windows = (site.grid.whole(), detail_window(site, first));
        let plan = layout(site, (&windows.0, &windows.1));
        let rows = self.maps.len().div_ceil(plan.columns) as f64;
        let head = 134.0;
        let mut block = 1;
        let drawing = sheet((WIDTH, head + rows * plan.row), &self.title, |canvas| {
            let top = title(canvas, &self.title)?;
            color_bar(canvas, (MARGIN, top), 540.0, &self.scale, &self.bar_label)?;
            compass(canvas, (WIDTH - MARGIN - 310.0, top), site)?;
            for (index, mapped) in self.maps.iter().enumerate() {
                let left = MARGIN + plan.column * (index % plan.columns) as f64;
                let top = head + plan.row * (index / plan.columns) as f64;
                let cell = Cell { sheet: &self, mapped, index, left, top };
                block = cell.draw(canvas, &plan, &windows)?.max(block);
            }
            Ok(())
        })?;
        let note =
            format!(" Each dot of the whole-field maps is the mean of {block} × {block} cells.");
        let caption = caption.to_owned() + if block > 1 { &note } else { "" };
        Ok(Picture { name: self.stem, title: self.title.clone(), caption, drawing })
    }
}

/// The two maps of one alternative.
struct Cell<'a> {
    sheet: &'a MapSheet<'a>,
    mapped: &'a Mapped<'a>,
    /// Place of the alternative in the scenario.
    index: usize,
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
        let site = self.sheet.site;
        let asked = &site.scenario.alternatives[self.index];
        name(canvas, (self.left + 4.0, self.top), plan.column - NAME_SPARE, &asked.name)?;
        let mut panel = Panel {
            depth_mm: self.mapped.values,
            factor: self.mapped.factor,
            scale: &self.sheet.scale,
            window: whole,
            stops: &self.mapped.stops,
            sprinklers: false,
            labels: true,
            largest_side: LARGEST_SIDE,
        };
        let frame = placed(plan.whole);
        let block = draw_map(canvas, frame, site, asked, &panel)?;
        self.outline_detail(canvas, frame, detail)?;
        self.axis_titles(canvas, frame, "Along the pipe")?;
        (panel.window, panel.sprinklers) = (detail, true);
        let frame = placed(plan.detail);
        draw_map(canvas, frame, site, asked, &panel)?;
        self.axis_titles(canvas, frame, "Detail, along the pipe")?;
        Ok(block)
    }

    fn axis_titles(&self, canvas: &Canvas<'_>, frame: Frame, what: &str) -> Result<(), DrawError> {
        let look = Lettering::new(SMALL, Side::Center).color(QUIET);
        let place = (frame.middle().0, frame.bottom() + 33.0);
        canvas.text(place, &self.sheet.site.length_label(what), look)?;
        let place = (frame.left - 52.0, frame.middle().1);
        canvas.text(place, &self.sheet.site.length_label("Across"), look.upright())
    }

    /// Where the detail lies in the whole field.
    fn outline_detail(
        &self,
        canvas: &Canvas<'_>,
        frame: Frame,
        detail: &Window,
    ) -> Result<(), DrawError> {
        let grid = &self.sheet.site.grid;
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
