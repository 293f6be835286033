//! The reference as one page: everything at once, searched as one types by a few lines of script; without
//! them it is read like any other page.

use super::text::left_out;
use askama::Template;
use evenfall_canvas::DrawError;
use evenfall_view::{Reference, ReferenceSection};
use pulldown_cmark::{Options, Parser, html};

/// The page's script, which whoever serves the page may have to allow.
pub const REFERENCE_SCRIPT: &str = include_str!("../../../templates/reference.js");

#[derive(Template)]
#[template(path = "reference.html")]
struct Page {
    chapters: Vec<ShownChapter>,
    keys_about: String,
    lists: [(&'static str, &'static str, Vec<ShownSection>); 2],
    script: &'static str,
}

struct ShownChapter {
    id: String,
    title: String,
    /// Titles and texts, the latter as HTML.
    parts: Vec<(String, String)>,
}

struct ShownSection {
    id: String,
    name: String,
    label: String,
    about: String,
    rows: Vec<ShownRow>,
}

struct ShownRow {
    id: String,
    name: String,
    label: String,
    meaning: String,
    left_out: String,
}

/// The page.
///
/// # Errors
/// If the page's template fails.
pub fn reference_page(all: &Reference) -> Result<String, DrawError> {
    let chapters = all.chapters.iter().map(|chapter| ShownChapter {
        id: id_of("chapter", &chapter.title),
        title: chapter.title.clone(),
        parts: chapter.parts.iter().map(|(t, text)| (t.clone(), html_of(text))).collect(),
    });
    let page = Page {
        chapters: chapters.collect(),
        keys_about: html_of(&all.keys_about),
        lists: [
            ("keys", "Entries and keys of a scenario", shown_all(&all.keys)),
            ("commands", "Commands", shown_all(&all.commands)),
        ],
        script: REFERENCE_SCRIPT,
    };
    page.render().map_err(DrawError::library)
}

/// Sections; those of one name (a value that may be written in two forms) get addresses of their own.
fn shown_all(all: &[ReferenceSection]) -> Vec<ShownSection> {
    let before = |at: usize| all[..at].iter().filter(|other| other.name == all[at].name).count();
    let each = (0..all.len()).map(|at| match before(at) {
        0 => shown(&all[at], &all[at].name),
        again => shown(&all[at], &format!("{} {}", all[at].name, again + 1)),
    });
    each.collect()
}

fn shown(section: &ReferenceSection, address: &str) -> ShownSection {
    let row = |row: &evenfall_view::ReferenceRow| ShownRow {
        id: id_of(address, &row.name),
        name: row.name.clone(),
        label: row.label.clone(),
        meaning: html_of(&row.meaning),
        left_out: if row.left_out.is_empty() {
            String::new()
        } else {
            html_of(&left_out(&row.left_out))
        },
    };
    ShownSection {
        id: id_of("of", address),
        name: section.name.clone(),
        label: section.label.clone(),
        about: html_of(&section.about),
        rows: section.rows.iter().map(row).collect(),
    }
}

/// A name that an address can lead to.
fn id_of(of: &str, name: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' };
    format!("{of}-{name}").chars().map(plain).collect::<String>().to_lowercase()
}

/// Our own texts as HTML; what they hold of HTML is shown, not taken as such.
fn html_of(markdown: &str) -> String {
    let events = Parser::new_ext(markdown, Options::ENABLE_TABLES).map(|event| match event {
        pulldown_cmark::Event::Html(text) | pulldown_cmark::Event::InlineHtml(text) => {
            pulldown_cmark::Event::Text(text)
        }
        other => other,
    });
    let mut out = String::new();
    html::push_html(&mut out, events);
    // Tables are wider than a phone.
    out.replace("<table>", "<div class=\"wide\" tabindex=\"0\"><table class=\"words\">")
        .replace("</table>", "</table></div>")
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_view::{Chapter, ReferenceRow};

    #[test]
    fn closed_the_page_has_every_row_and_takes_no_text_for_html() {
        let row = ReferenceRow {
            name: "reach".to_owned(),
            label: "Reach <of> the hose".to_owned(),
            meaning: "How far `it` <b>goes</b>.".to_owned(),
            left_out: "needed".to_owned(),
        };
        let [name, label, about] = ["outlets", "Outlets", "The outlets."].map(str::to_owned);
        let all = Reference {
            chapters: vec![Chapter::of("# Limits\n\n| a | b |\n| --- | --- |\n| 1 | 2 |")],
            keys_about: "As **you** write them.".to_owned(),
            keys: vec![ReferenceSection { name, label, about, rows: vec![row] }],
            commands: Vec::new(),
        };
        let page = reference_page(&all).unwrap();
        for part in [
            "id=\"outlets-reach\"",
            "How far <code>it</code> &lt;b&gt;goes&lt;/b&gt;.",
            "Needed.",
            "<strong>you</strong>",
            "<td>2</td>",
            "type=\"search\"",
        ] {
            assert!(page.contains(part), "{part}:\n{page}");
        }
        assert!(!page.contains("<of>") && !page.contains("http"), "{page}");
    }
}
