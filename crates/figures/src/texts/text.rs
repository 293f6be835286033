//! What a row of the table of texts is, and how rows are declared.

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
        $(pub(crate) const $key: $crate::texts::text::Text = $crate::texts::text::Text {
            key: stringify!($key),
            words: [$english, $spanish],
        };)+

        /// All rows of this part.
        pub(crate) const ROWS: &[$crate::texts::text::Text] = &[$($key),+];
    };
}

pub(crate) use texts;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_values_go_where_their_names_stand() {
        let row = Text { key: "X", words: ["{far} {side} outlet {n}", "{far} {side} la toma {n}"] };
        let values: [(&str, &dyn Display); 3] = [("far", &"20 ft"), ("side", &"past"), ("n", &7)];
        assert_eq!(row.with(Language::English, &values), "20 ft past outlet 7");
        assert_eq!(row.with(Language::Spanish, &values), "20 ft past la toma 7");
    }
}
