//! How the lines of alternatives look, told apart by color, dash and marker.

use evenfall_canvas::DrawError;
use evenfall_canvas::{Canvas, Ink, Point, Rgb};

/// How the line of one alternative looks: color, dash (ink and gap, pixels) and marker.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LineStyle {
    pub(crate) color: Rgb,
    pub(crate) dash: Option<(f64, f64)>,
    pub(crate) marker: Marker,
}

/// Shape that marks a point.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Marker {
    Disc,
    Square,
    Triangle,
    Diamond,
    Cross,
    Ring,
}

const STYLES: [LineStyle; 8] = [
    LineStyle { color: (0, 0, 0), dash: None, marker: Marker::Disc },
    LineStyle { color: (213, 94, 0), dash: Some((9.0, 4.0)), marker: Marker::Square },
    LineStyle { color: (0, 114, 178), dash: None, marker: Marker::Triangle },
    LineStyle { color: (0, 158, 115), dash: Some((3.0, 3.0)), marker: Marker::Diamond },
    LineStyle { color: (204, 121, 167), dash: Some((14.0, 4.0)), marker: Marker::Cross },
    LineStyle { color: (230, 159, 0), dash: None, marker: Marker::Ring },
    LineStyle { color: (86, 180, 233), dash: Some((6.0, 6.0)), marker: Marker::Square },
    LineStyle { color: (110, 110, 110), dash: Some((2.0, 5.0)), marker: Marker::Triangle },
];

/// Style of the `index`-th alternative; after eight they start again.
pub(crate) fn line_style(index: usize) -> LineStyle {
    STYLES[index % STYLES.len()]
}

impl Marker {
    /// Draws the marker, `r` pixels from its middle to its edge.
    pub(crate) fn draw(
        self,
        canvas: &Canvas<'_>,
        (x, y): Point,
        r: f64,
        ink: Ink,
    ) -> Result<(), DrawError> {
        let Ink { color, opacity, .. } = ink;
        let around = |offsets: &[Point]| -> Vec<Point> {
            offsets.iter().map(|(dx, dy)| (x + r * dx, y + r * dy)).collect()
        };
        match self {
            Self::Disc => canvas.disc((x, y), r, color, opacity),
            Self::Ring => canvas.ring((x, y), r, Ink { width: 1.6, ..ink }),
            Self::Square => {
                let corners = [(-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)];
                canvas.polygon(&around(&corners), color, opacity)
            }
            Self::Triangle => {
                let corners = [(0.0, -1.2), (1.1, 0.8), (-1.1, 0.8)];
                canvas.polygon(&around(&corners), color, opacity)
            }
            Self::Diamond => {
                let corners = [(0.0, -1.25), (1.25, 0.0), (0.0, 1.25), (-1.25, 0.0)];
                canvas.polygon(&around(&corners), color, opacity)
            }
            Self::Cross => {
                let stroke = Ink { width: 1.8, ..ink };
                canvas.line(&around(&[(-1.0, -1.0), (1.0, 1.0)]), stroke)?;
                canvas.line(&around(&[(-1.0, 1.0), (1.0, -1.0)]), stroke)
            }
        }
    }
}
