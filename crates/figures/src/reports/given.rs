//! A page for somebody else: the report where there is one, what was entered, and the scenario itself
//! in a block of data. It opens from a disk, without the program and without a network, and holds no
//! script that runs.

use crate::reports::cautions::CAUTIONS;
use askama::Template;
use evenfall_canvas::DrawError;

/// What the page forbids itself: everything but its own style and pictures.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; \
                      font-src data:; base-uri 'none'; form-action 'none'";

/// What a page for somebody else is made from.
#[derive(Clone, Copy, Debug)]
pub struct GivenPage<'a> {
    /// The scenario's title.
    pub title: &'a str,
    /// Version of the program.
    pub version: &'a str,
    /// Names of the files that it carries.
    pub files: &'a [&'a str],
    /// Sections of what was entered: title, then labels with values.
    pub entered: &'a [GivenSection<'a>],
    /// Name of the block of data.
    pub block_id: &'a str,
    /// What stands in it: no letter of it means anything to HTML.
    pub block: &'a str,
    /// The whole page of the report; empty where there is none.
    pub report: &'a str,
}

/// A section of what was entered.
#[derive(Clone, Copy, Debug)]
pub struct GivenSection<'a> {
    /// Its name.
    pub title: &'a str,
    /// Labels and values.
    pub rows: &'a [(String, String)],
}

#[derive(Template)]
#[template(path = "given.html")]
struct Page<'a> {
    policy: &'static str,
    title: &'a str,
    version: &'a str,
    files: String,
    entered: &'a [GivenSection<'a>],
    block_id: &'a str,
    block: &'a str,
    report: &'a str,
    cautions: &'static [(&'static str, &'static str)],
}

/// The page as HTML.
///
/// # Errors
/// If the block holds letters that mean something to HTML, or the template's library refuses.
pub fn given_html(given: &GivenPage<'_>) -> Result<String, DrawError> {
    if given.block.contains(['<', '>', '&']) {
        return Err(DrawError::library("the block of data is not escaped"));
    }
    let page = Page {
        policy: POLICY,
        title: given.title,
        version: given.version,
        files: given.files.join(", "),
        entered: given.entered,
        block_id: given.block_id,
        block: given.block,
        report: body(given.report),
        cautions: &CAUTIONS,
    };
    page.render().map_err(DrawError::library)
}

/// What stands in the body of a page of ours, which has one and no attribute on it.
fn body(page: &str) -> &str {
    let inner = page.split_once("<body>").and_then(|(_, rest)| rest.rsplit_once("</body>"));
    inner.map_or(page, |(body, _)| body)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given<'a>(report: &'a str, block: &'a str, rows: &'a [GivenSection<'a>]) -> GivenPage<'a> {
        GivenPage {
            title: "<script>alert(1)</script>",
            version: "0.0.0",
            files: &["</title><b>wind.csv"],
            entered: rows,
            block_id: "block",
            block,
            report,
        }
    }

    #[test]
    fn closed_no_name_that_a_user_wrote_becomes_markup() {
        let row = [("<img src=x onerror=alert(1)>".to_owned(), "\"'><script>".to_owned())];
        let sections = [GivenSection { title: "<h1>", rows: &row }];
        let page = given_html(&given("", "{\"a\":\"\\u003cb\"}", &sections)).unwrap();
        assert_eq!(page.matches("<script").count(), 1, "{page}");
        assert!(!page.contains("<img") && !page.contains("<b>") && !page.contains("<h1>\n<"));
        assert!(page.contains("No season was calculated"));
        assert!(given_html(&given("", "</script>", &sections)).is_err());
    }

    #[test]
    fn closed_of_a_report_its_body_is_taken() {
        let page = given_html(&given("<html><body>\n<p>it</p></body></html>", "{}", &[])).unwrap();
        assert!(page.contains("<p>it</p>"));
        assert_eq!((page.matches("<body>").count(), page.matches("</html>").count()), (1, 1));
    }
}
