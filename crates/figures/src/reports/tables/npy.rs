//! Grids in the open `.npy` array format (version 1 or 2 of the format's published description).

use crate::error::DrawError;
use evenfall_core::grid::DepthGrid;
use ndarray_npy::WriteNpyExt;

/// A depth grid as the bytes of an `.npy` file: little-endian float64, C order, shape
/// `[cells across, cells along]`, row 0 at y = 0, mm of net depth.
///
/// # Errors
/// If the encoder refuses.
pub fn grid_npy(depth_mm: &DepthGrid) -> Result<Vec<u8>, DrawError> {
    let mut bytes = Vec::with_capacity(depth_mm.len() * size_of::<f64>() + 256);
    // A transposed array would be written in Fortran order: lay it out row by row first.
    depth_mm.as_standard_layout().write_npy(&mut bytes).map_err(DrawError::library)?;
    Ok(bytes)
}
