//! The page of a study, and what stands on it.

use super::text::{folded, plain};
use crate::picture::{Figure, Picture};
use crate::reports::cautions::CAUTIONS;
use crate::table::Table;
use askama::Template;
use evenfall_canvas::DrawError;
use evenfall_view::ReportNotes;

/// A finished page with what it was made from.
#[derive(Clone, Debug, PartialEq)]
pub struct Study {
    /// The page: no script, no request, pictures inline, made to print.
    pub html: String,
    /// Answer and main table for a terminal.
    pub text: String,
    /// All results for other programs, SI units and percent.
    pub json: String,
    /// The pictures.
    pub pictures: Vec<Picture>,
}

/// What stands on a page.
#[derive(Template)]
#[template(path = "study.html")]
struct Page<'a> {
    title: &'a str,
    notes: &'a ReportNotes,
    answer: &'a [String],
    tables: &'a [Table],
    pictures: Vec<Figure>,
    /// How it was computed.
    method: &'a [String],
    cautions: [(&'static str, &'static str); 7],
}

/// The parts of a page.
pub(crate) struct Parts {
    pub(crate) title: String,
    pub(crate) answer: Vec<String>,
    pub(crate) tables: Vec<Table>,
    pub(crate) pictures: Vec<Picture>,
    pub(crate) method: Vec<String>,
    pub(crate) json: serde_json::Value,
}

impl Parts {
    pub(crate) fn finish(self, notes: &ReportNotes) -> Result<Study, DrawError> {
        let page = Page {
            title: &self.title,
            notes,
            answer: &self.answer,
            tables: &self.tables,
            pictures: Figure::all(&self.pictures),
            method: &self.method,
            cautions: CAUTIONS,
        };
        let html = page.render().map_err(DrawError::library)?;
        let table = self.tables.first().map(plain).unwrap_or_default();
        let words: Vec<String> = self.answer.iter().map(|line| folded(line)).collect();
        let mut json = serde_json::to_string_pretty(&self.json).map_err(DrawError::library)?;
        json.push('\n');
        Ok(Study {
            html,
            text: format!("{}\n\n{table}\n{}\n", self.title, words.join("\n")),
            json,
            pictures: self.pictures,
        })
    }
}
