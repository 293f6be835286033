//! The pictures of all tests.

use super::book::CatchBook;
use super::{cans, leg, scatter};
use crate::picture::Picture;
use evenfall_canvas::DrawError;
use evenfall_core::catch::Kind;

/// The pictures of all tests, each with the place of its test.
///
/// # Errors
/// If a library refuses.
pub fn catch_pictures(book: &CatchBook) -> Result<Vec<(usize, Picture)>, DrawError> {
    let mut all = Vec::new();
    for (index, entry) in book.entries.iter().enumerate() {
        if !matches!(entry.test.kind, Kind::Leg) {
            all.push((index, cans::depths(entry, book.units)?));
        }
        if let Some(fit) = &entry.fit {
            all.push((index, leg::draw(entry, fit, book.units)?));
            all.push((index, scatter::fitted(entry, fit, book.units)?));
        }
        if let Some(comparison) = &entry.comparison {
            all.push((index, scatter::simulated(entry, comparison, book.units)?));
            all.push((index, cans::differences(entry, comparison, book.units)?));
        }
    }
    Ok(all)
}
