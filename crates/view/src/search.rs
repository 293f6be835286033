//! A search as it is shown: answer, ranking, and how to read it.

use serde::Serialize;
use utoipa::ToSchema;

/// A table of texts: the first column names the rows.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, ToSchema)]
pub struct TextTable {
    /// Heads of the columns.
    pub head: Vec<String>,
    /// The cells under the heads, row by row.
    pub rows: Vec<Vec<String>>,
}

/// What a search found, in words and texts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, ToSchema)]
pub struct SearchSummary {
    /// All paragraphs of the answer, the most important first.
    pub answer: Vec<String>,
    /// What was tried and what not.
    pub tried: Vec<String>,
    /// The ranking that the command prints, in order of rank.
    pub table: TextTable,
    /// Wheels and outlet spacings, each with its best rotation; none where one alone was searched.
    pub wheels: Option<TextTable>,
    /// The row of the fixed pattern, which all are compared with.
    pub fixed: Option<usize>,
    /// Candidates that are not shown.
    pub left: usize,
    /// How ranks, ties and drops are to be read.
    pub foot: String,
    /// Seasons that were run by those that ran to the end.
    pub seasons: usize,
}
