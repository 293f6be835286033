//! From SVG to PNG, with the embedded fonts only: nothing is read from the machine.

use crate::drawing::canvas::FONTS;
use crate::error::DrawError;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb::Database};
use std::sync::{Arc, OnceLock};

/// Largest side of a raster, pixels: keeps a wrong scale from asking for all memory.
const LARGEST_SIDE: u32 = 16_384;

/// Rasters an SVG drawn by this crate, `scale` pixels to one page pixel.
///
/// # Errors
/// If the SVG cannot be read or the scale gives a raster of no size or more than 16,384 pixels a
/// side.
pub fn png(svg: &str, scale: f32) -> Result<Vec<u8>, DrawError> {
    let options =
        Options { fontdb: fonts(), font_family: "DejaVu Sans".to_owned(), ..Options::default() };
    let tree = Tree::from_str(svg, &options).map_err(DrawError::library)?;
    let size = tree.size().to_int_size().scale_by(scale);
    let size = size.filter(|s| s.width() <= LARGEST_SIDE && s.height() <= LARGEST_SIDE);
    let size = size.ok_or_else(|| DrawError::Library(format!("no raster at scale {scale}")))?;
    let mut pixels = Pixmap::new(size.width(), size.height())
        .ok_or_else(|| DrawError::Library("no memory for the raster".to_owned()))?;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    opaque_png(&pixels)
}

/// Encodes without the alpha channel: every sheet has a white ground.
fn opaque_png(pixels: &Pixmap) -> Result<Vec<u8>, DrawError> {
    let (pixels_rgba, _) = pixels.data().as_chunks::<4>();
    let mut rgb = vec![0; 3 * pixels_rgba.len()];
    for (to, [red, green, blue, _]) in rgb.as_chunks_mut::<3>().0.iter_mut().zip(pixels_rgba) {
        *to = [*red, *green, *blue];
    }
    let mut out = Vec::new();
    let mut encoder = png::Encoder::new(&mut out, pixels.width(), pixels.height());
    encoder.set_color(png::ColorType::Rgb);
    // `Fastest` takes one filter for all lines: files 40 % larger.
    encoder.set_compression(png::Compression::Fast);
    let mut writer = encoder.write_header().map_err(DrawError::library)?;
    writer.write_image_data(&rgb).map_err(DrawError::library)?;
    writer.finish().map_err(DrawError::library)?;
    Ok(out)
}

/// The embedded fonts, loaded once.
fn fonts() -> Arc<Database> {
    static LOADED: OnceLock<Arc<Database>> = OnceLock::new();
    let load = || {
        let mut fonts = Database::new();
        for font in FONTS {
            fonts.load_font_data(font.to_vec());
        }
        for set in [Database::set_sans_serif_family, Database::set_serif_family] {
            set(&mut fonts, "DejaVu Sans");
        }
        Arc::new(fonts)
    };
    Arc::clone(LOADED.get_or_init(load))
}
