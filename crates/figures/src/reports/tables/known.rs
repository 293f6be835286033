//! How well each part is known, and what is published beside what the program computes.

use crate::table::{Row, Table};
use evenfall_view::known::{PARTS, compared};

/// The tables of the page's part on how well this is known.
pub(crate) fn tables() -> Vec<Table> {
    let plain = |text: &str| text.replace(['`', '*'], "");
    let parts = PARTS.iter().map(|p| Row::new(p.part, vec![plain(p.law), plain(p.status)]));
    let signs =
        compared().into_iter().map(|c| Row::new(c.published, vec![c.here, c.verdict.to_owned()]));
    vec![
        Table::new("Laws and their status", &["", "Law and source", "Status"])
            .with_rows(parts.collect()),
        Table::new(
            "Published signs of uniformity in wind, in points of CU",
            &["Published", "This program", "Agreement"],
        )
        .with_rows(signs.collect())
        .with_note(
            "Computed with the drag that a scenario starts from, not with this report’s. None of the \
             published cases names all its inputs, so signs and sizes are compared, not digits.",
        ),
    ]
}
