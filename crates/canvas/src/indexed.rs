//! Cells in colors as an 8-bit indexed PNG.

use crate::error::DrawError;
use crate::sheet::Image;

/// Encodes cells in colors: one pixel a cell, 8 bits each, the palette beside them.
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

    #[test]
    fn closed_cells_come_back_from_an_indexed_image() {
        let palette = vec![0; 3 * 255];
        let image = Image { indices: vec![254, 0], columns: 1, rows: 2, palette, blocky: true };
        let encoded = indexed_png(&image).unwrap();
        let mut decoder = png::Decoder::new(std::io::Cursor::new(encoded));
        decoder.set_transformations(png::Transformations::IDENTITY);
        let mut reader = decoder.read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut pixels).unwrap();
        assert_eq!(pixels, [254, 0]);
    }
}
