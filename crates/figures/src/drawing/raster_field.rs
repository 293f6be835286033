//! A window of a depth grid as an image: one pixel a cell. Larger than [`LARGEST_SIDE`] cells a side, whole blocks
//! of cells are averaged first.

use evenfall_canvas::Image;
use evenfall_canvas::colors::ColorScale;
use evenfall_core::grid::block_means;
use ndarray::ArrayView2;

/// Most pixels a side of an embedded map.
pub(crate) const LARGEST_SIDE: usize = 700;

/// A field in colors.
pub(crate) struct FieldImage {
    pub(crate) image: Image,
    /// Cells averaged into one pixel, each way.
    pub(crate) block: usize,
}

/// `factor · depth` on the scale in a frame so many page pixels wide; row 0 (y = 0) comes to lie at the
/// bottom.
pub(crate) fn field_image(
    depth: &ArrayView2<'_, f64>,
    factor: f64,
    scale: &ColorScale,
    largest_side: usize,
    frame_width: f64,
) -> FieldImage {
    let (rows, columns) = depth.dim();
    let block = rows.max(columns).div_ceil(largest_side.max(1)).max(1);
    let reduced;
    let depth = if block > 1 {
        reduced = block_means(depth, block);
        &reduced.view()
    } else {
        depth
    };
    let (rows, columns) = depth.dim();
    let mut indices = Vec::with_capacity(rows * columns);
    for row in depth.rows().into_iter().rev() {
        scale.index_all(
            row.as_standard_layout().as_slice().unwrap_or_default(),
            factor,
            &mut indices,
        );
    }
    let blocky = (columns as f64) < frame_width;
    let image = Image { indices, columns, rows, palette: scale.palette(), blocky };
    FieldImage { image, block }
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_canvas::colors::ScaleKind;
    use ndarray::array;

    #[test]
    fn closed_first_row_lies_at_the_bottom() {
        let scale = ColorScale { lo: 0.0, hi: 1.0, kind: ScaleKind::Depth };
        let field = field_image(&array![[0.0], [1.0]].view(), 1.0, &scale, 700, 1.0);
        assert_eq!(field.image.indices, [254, 0]);
    }
}
