//! Grids in the open `.npy` array format: its published description, version 1. The head is the magic
//! word, the version, the length of what follows and a Python dictionary, padded with spaces so that
//! the numbers start at a multiple of 64 bytes.

use evenfall_canvas::DrawError;
use evenfall_core::boundary::Boundary;
use evenfall_core::grid::DepthGrid;
use evenfall_core::shown::{self, append_doubles};
use ndarray::ArrayViewMut2;

const MAGIC: &[u8; 8] = b"\x93NUMPY\x01\x00";
/// The numbers start at a multiple of this, bytes.
const ALIGNMENT: usize = 64;

/// A depth grid as the bytes of an `.npy` file: little-endian float64, C order, shape
/// `[cells across, cells along]`, row 0 at y = 0, mm of net depth; NaN outside the boundary.
///
/// # Errors
/// If the head is longer than the format's version 1 allows, which no grid's is.
pub fn grid_npy(depth_mm: &DepthGrid, boundary: Option<&Boundary>) -> Result<Vec<u8>, DrawError> {
    if boundary.is_some() {
        let mut inside_mm = depth_mm.clone();
        no_number_outside(inside_mm.view_mut(), boundary);
        return grid_npy(&inside_mm, None);
    }
    let (rows, columns) = depth_mm.dim();
    let words = format!("{{'descr': '<f8', 'fortran_order': False, 'shape': ({rows}, {columns})}}");
    let length_at = MAGIC.len();
    // The length itself takes two bytes, the line's end one.
    let start = (length_at + 2 + words.len() + 1).next_multiple_of(ALIGNMENT);
    let length = u16::try_from(start - length_at - 2).map_err(DrawError::library)?;
    let mut bytes = Vec::with_capacity(start + 8 * depth_mm.len());
    bytes.extend_from_slice(MAGIC);
    bytes.extend_from_slice(&length.to_le_bytes());
    bytes.extend_from_slice(words.as_bytes());
    bytes.resize(start - 1, b' ');
    bytes.push(b'\n');
    // Row by row, however the array lies in memory.
    append_doubles(depth_mm.as_standard_layout().as_slice().unwrap_or_default(), &mut bytes);
    Ok(bytes)
}

/// What lands outside the boundary is not on the field: whoever takes a mean of a grid shall not count it.
pub fn no_number_outside(grid: ArrayViewMut2<'_, f64>, boundary: Option<&Boundary>) {
    let Some(boundary) = boundary else { return };
    shown::no_number_outside(grid, &boundary.inside().view());
}
