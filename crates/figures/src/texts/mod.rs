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
pub(crate) mod upkeep;

use std::borrow::Borrow;
use std::fmt::Display;

/// A language of the move sheet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// English.
    #[default]
    English,
    /// Spanish.
    Spanish,
}

impl Language {
    /// Its code (ISO 639-1).
    pub fn code(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::Spanish => "es",
        }
    }
}

/// A row: one text in every language.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Text {
    /// Its name.
    pub key: &'static str,
    /// By language, in the order of [`Language`].
    pub words: [&'static str; 2],
}

impl Text {
    /// The text in one language, for those without a value in them.
    pub(crate) fn of(&self, language: impl Borrow<Language>) -> &'static str {
        self.words[*language.borrow() as usize]
    }

    /// The English text.
    pub(crate) const fn english(&self) -> &'static str {
        self.words[0]
    }

    /// The text with values put in for their names in braces.
    pub(crate) fn with(&self, language: Language, values: &[(&str, &dyn Display)]) -> String {
        let put = |text: String, (name, value): &(&str, &dyn Display)| {
            text.replace(&format!("{{{name}}}"), &value.to_string())
        };
        values.iter().fold(self.of(language).to_owned(), put)
    }
}

/// Declares rows, and all of them as `ROWS`.
macro_rules! texts {
    ($($key:ident: $english:literal, $spanish:literal;)+) => {
        $(pub(crate) const $key: $crate::texts::Text = $crate::texts::Text {
            key: stringify!($key),
            words: [$english, $spanish],
        };)+

        /// All rows of this part.
        pub(crate) const ROWS: &[$crate::texts::Text] = &[$($key),+];
    };
}

pub(crate) use texts;

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

    #[test]
    fn closed_values_go_where_their_names_stand() {
        let row = Text { key: "X", words: ["{far} {side} outlet {n}", "{far} {side} la toma {n}"] };
        let values: [(&str, &dyn Display); 3] = [("far", &"20 ft"), ("side", &"past"), ("n", &7)];
        assert_eq!(row.with(Language::English, &values), "20 ft past outlet 7");
        assert_eq!(row.with(Language::Spanish, &values), "20 ft past la toma 7");
    }
}
