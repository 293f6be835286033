//! Cautions, in one place for report, move sheet and maintenance list; their words are rows of
//! [`crate::texts::cautions`].

use crate::texts::Language;
use crate::texts::cautions::ALL;

/// What, then the words, in English.
pub const CAUTIONS: [(&str, &str); ALL.len()] = {
    let mut all = [("", ""); ALL.len()];
    let mut at = 0;
    while at < ALL.len() {
        all[at] = (ALL[at].0.english(), ALL[at].1.english());
        at += 1;
    }
    all
};

/// The same in a language.
pub(crate) fn cautions_in(language: Language) -> [(&'static str, &'static str); ALL.len()] {
    ALL.map(|(what, words)| (what.of(language), words.of(language)))
}
