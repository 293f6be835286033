//! The page of catch tests.

use super::book::CatchBook;
use super::{details, judged, tables};
use crate::picture::{Figure, Picture};
use crate::table::Table;
use askama::Template;
use evenfall_canvas::DrawError;

#[derive(Template)]
#[template(path = "catch.html")]
struct Page<'a> {
    book: &'a CatchBook,
    tables: Vec<Table>,
    tests: Vec<TestPart<'a>>,
}

/// What the page shows of one test.
struct TestPart<'a> {
    title: &'a str,
    file: &'a str,
    judged: Option<String>,
    notes: &'a [String],
    figures: Vec<Figure>,
    tables: Vec<Table>,
}

/// The tests as one HTML page: no script, no request, pictures inline, made to print.
///
/// # Errors
/// If the library refuses.
pub fn catch_page(book: &CatchBook, pictures: &[(usize, Picture)]) -> Result<String, DrawError> {
    let figures_of = |index: usize| {
        let own = pictures.iter().filter(|(of, _)| *of == index);
        own.map(|(_, picture)| Figure {
            name: format!("{}-{}", picture.name, index + 1),
            caption: picture.caption.clone(),
            svg: picture.inline(),
        })
        .collect()
    };
    let tests = book.entries.iter().enumerate().map(|(index, entry)| TestPart {
        title: &entry.test.title,
        file: &entry.file,
        judged: judged::sentence(entry, book.units),
        notes: &entry.notes,
        figures: figures_of(index),
        tables: details::of_test(book, entry, true),
    });
    let page = Page { book, tables: tables::of_tests(book), tests: tests.collect() };
    page.render().map_err(DrawError::library)
}
