//! The texts of the move sheet in every language that it speaks: one table, a row a text.
//!
//! A row is `KEY: "English", "Spanish";` and `{name}` in it is where a value goes; a further language is
//! a variant of [`Language`] and one more text in each row. Numbers are written alike in both, with
//! a decimal point, as in the western United States and Mexico. Column names of tables stay English:
//! programs read them.
//!
//! The Spanish is from memory and not reviewed by a native speaker. Its terms are those of irrigators
//! in the western United States and Mexico: línea, toma, aspersor, vuelta, manguera, lámina.

pub(crate) mod cautions;
pub(crate) mod dates;
pub(crate) mod drive;
pub(crate) mod moves;
pub(crate) mod page;
mod text;
pub(crate) mod upkeep;

pub use text::{Language, Text};

/// Every row of the table.
pub fn sheet_texts() -> Vec<Text> {
    let parts = [page::ROWS, moves::ROWS, dates::ROWS, drive::ROWS, upkeep::ROWS, cautions::ROWS];
    parts.concat()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// The names in braces.
    fn names(text: &str) -> BTreeSet<&str> {
        text.split('{')
            .skip(1)
            .filter_map(|rest| rest.split_once('}'))
            .map(|(name, _)| name)
            .collect()
    }

    #[test]
    fn invariant_every_row_says_the_same_in_every_language() {
        let rows = sheet_texts();
        assert!(rows.len() > 150, "{}", rows.len());
        for row in &rows {
            let [english, spanish] = row.words;
            assert!(!english.trim().is_empty() && !spanish.trim().is_empty(), "{}", row.key);
            assert_eq!(names(english), names(spanish), "{}", row.key);
            for name in names(english) {
                let count = |text: &str| text.matches(&format!("{{{name}}}")).count();
                assert_eq!(count(english), count(spanish), "{}: {name}", row.key);
            }
            // "a.m." ends with a point too, and is no sentence.
            let ends = |text: &str| text.ends_with('.') && text.split(' ').count() > 3;
            assert_eq!(ends(english), ends(spanish), "{}", row.key);
        }
        let keys: BTreeSet<&str> = rows.iter().map(|row| row.key).collect();
        assert_eq!(keys.len(), rows.len(), "a key is there twice");
    }
}
