//! A window of a depth grid as an image, and images as 8-bit indexed PNGs: one pixel a cell, the palette is
//! the color scale. Larger than [`LARGEST_SIDE`] cells a side, whole blocks of cells are averaged first.

use crate::drawing::colors::ColorScale;
use crate::drawing::sheet::Image;
use crate::error::DrawError;
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
    let indices =
        depth.rows().into_iter().rev().flatten().map(|v| scale.index(v * factor)).collect();
    let (rows, columns) = depth.dim();
    let blocky = (columns as f64) < frame_width;
    let image = Image { indices, columns, rows, palette: scale.palette(), blocky };
    FieldImage { image, block }
}

/// Encodes an image.
pub(crate) fn indexed_png(image: &Image) -> Result<Vec<u8>, DrawError> {
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, image.columns as u32, image.rows as u32);
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_palette(&image.palette);
    encoder.set_compression(png::Compression::Balanced);
    let mut writer = encoder.write_header().map_err(DrawError::library)?;
    writer.write_image_data(&image.indices).map_err(DrawError::library)?;
    writer.finish().map_err(DrawError::library)?;
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::colors::ScaleKind;
    use ndarray::array;

    #[test]
    fn closed_first_row_lies_at_the_bottom() {
        let scale = ColorScale { lo: 0.0, hi: 1.0, kind: ScaleKind::Depth };
        let field = field_image(&array![[0.0], [1.0]].view(), 1.0, &scale, 700, 1.0);
        assert_eq!(field.image.indices, [254, 0]);
        let encoded = indexed_png(&field.image).unwrap();
        let mut decoder = png::Decoder::new(std::io::Cursor::new(encoded));
        decoder.set_transformations(png::Transformations::IDENTITY);
        let mut reader = decoder.read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut pixels).unwrap();
        assert_eq!(pixels, [254, 0]);
    }
}
