//! Reading a boundary from a file: polygons in, rings of plain numbers out, or all that is wrong.
//!
//! `GeoJSON` (RFC 7946, module `geojson`) or a shapefile, alone or packed (module `shapefile`); which
//! of them it is shows in the first bytes, whatever its name. What the file says of its coordinates is
//! read in module `system`. Rings that cross themselves or each other, that are open, or holes outside
//! their polygon are refused, not mended (module `rings`).

mod found;
mod geojson;
mod parts;
mod rings;
mod shapefile;
mod system;

pub(crate) use found::Found;
pub(crate) use parts::{Problem, Shape};
pub(crate) use system::{Kind, System};

use evenfall_core::boundary::Corner;
use parts::Given;

/// Reads a boundary. A shapefile's coordinates are told by a file beside it, which is asked for with
/// `beside`.
pub(crate) fn read(
    bytes: &[u8],
    beside: &mut dyn FnMut() -> Option<Vec<u8>>,
) -> Result<Found, Vec<Problem>> {
    if shapefile::is_packed(bytes) {
        shapefile::unpack(bytes)
    } else if shapefile::is_it(bytes) {
        shapefile::read(bytes, beside().as_deref())
    } else {
        geojson::read(bytes)
    }
}

/// Corners typed in turn as a boundary; the first need not come again.
pub(crate) fn typed(corners: &[Corner]) -> Result<Shape, Vec<Problem>> {
    let mut ring: Vec<Given> = corners.iter().copied().map(Some).collect();
    if ring.len() < 2 || ring.first() != ring.last() {
        ring.extend(ring.first().copied());
    }
    rings::checked(&[vec![ring]])
}

/// A boundary as the text of a `GeoJSON` file, for programs that keep texts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoundaryText {
    /// The file's text.
    pub text: String,
    /// What the file says of its coordinates; empty if it says nothing.
    pub system: String,
    /// Whether that is enough to know what the numbers are.
    pub is_known: bool,
    /// How many polygons it holds.
    pub polygons: usize,
}

/// Reads a shapefile (`.shp`, or a `.zip` with it) with the `.prj` beside it, or `GeoJSON`, and writes
/// it as `GeoJSON`.
///
/// # Errors
/// All that is wrong with the file, in sentences.
pub fn boundary_text(bytes: &[u8], prj: Option<&[u8]>) -> Result<BoundaryText, Vec<String>> {
    let said = |problems: Vec<Problem>| -> Vec<String> {
        problems.into_iter().map(|problem| format!("{}. {}", problem.what, problem.hint)).collect()
    };
    let found = read(bytes, &mut || prj.map(<[u8]>::to_vec)).map_err(said)?;
    let system = found.system.as_ref();
    Ok(BoundaryText {
        text: found.geojson(),
        system: system.map_or_else(String::new, |system| system.name.clone()),
        is_known: system.is_some_and(|system| system.kind.is_some()),
        polygons: found.count(),
    })
}

#[cfg(test)]
pub(crate) mod tests;
