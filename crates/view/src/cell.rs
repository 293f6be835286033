//! Texts of a user's in cells of tables.

/// What a spreadsheet takes for the beginning of a formula (from memory; common practice, no source).
const BEGINS_FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

/// `text` as the cell of a table for spreadsheets: what would be computed as a formula has an apostrophe
/// before it, by which spreadsheets know a text.
pub fn cell_text(text: &str) -> String {
    if text.starts_with(BEGINS_FORMULA) { format!("'{text}") } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_no_text_begins_a_formula() {
        for text in ["=1+1", "+1", "-2+3", "@SUM(A1)", "\t=1"] {
            assert_eq!(cell_text(text), format!("'{text}"));
        }
        for text in ["", "North", "1 = 1", "'=1"] {
            assert_eq!(cell_text(text), text);
        }
    }
}
