//! A row of the table of keys: all that is said of one key of the scenario file, in one place.
//!
//! The rows stand in `crate::file`, one for each key of each section, and read like this:
//!
//! ```text
//! /// Help: what the key means, as the page shows it under the entry.
//! leveler_range: Option<Quantity<limits::LevelerRange>>,
//!     "Label" in "group of the page", else "15 deg" because "judgment, no source";
//! ```
//!
//! The type says how the value is written and names its limits with their example (a row of
//! `crate::limits`); a key with `Option` may be left out, and `else` says what holds then: a
//! starting value with its reason, or in words what it follows from. The group is said once, in the
//! sections of the file; keys below stand in their section's group. Reader, schema, notes of starting
//! values, options of commands ([`crate::options`]), the page's entries and the reference
//! `shared/scenario-keys.md` all follow from the row.

use crate::document::Node;
use crate::issue::Issues;
use crate::notes::Notes;
use crate::read::{Plain, Read};
use std::marker::PhantomData;

/// What holds where a key is left out.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Else {
    /// Nothing: the key is needed.
    Needed,
    /// A starting value, and why that one.
    Value(&'static str, &'static str),
    /// What it follows from, in words.
    Text(&'static str),
}

/// A row; `T` is the type that reads the key.
pub(crate) struct Row<T> {
    pub(crate) key: &'static str,
    pub(crate) label: &'static str,
    pub(crate) otherwise: Else,
    pub(crate) of: PhantomData<fn() -> T>,
}

impl<T: Read> Row<T> {
    /// Reads the key's value in the object `section`, or what it is when absent.
    pub(crate) fn read(&self, section: &Node, issues: &mut Issues) -> Option<T> {
        match section.get(self.key) {
            Some(value) => issues.about(self.label, |issues| T::read(value, issues)),
            None => T::absent(self.key, &section.at, issues),
        }
    }

    /// Notes what holds in place of the key, which is left out, for the reason in the row.
    pub(crate) fn assume(&self, section: &str, value: impl Into<String>, notes: &mut Notes<'_>) {
        let (Else::Value(_, why) | Else::Text(why)) = self.otherwise else { return };
        notes.assume(&format!("{section}/{}", self.key), value, why);
    }
}

impl<T> Row<T> {
    /// The row of an option that is no key of a file.
    pub(crate) const fn option(label: &'static str) -> Self {
        Self { key: "", label, otherwise: Else::Needed, of: PhantomData }
    }

    /// The starting value as it would be written; empty where there is none.
    pub(crate) const fn text(&self) -> &'static str {
        match self.otherwise {
            Else::Value(text, _) => text,
            Else::Needed | Else::Text(_) => "",
        }
    }
}

impl<T: Plain> Row<T> {
    /// The value as given, or else the row's starting value, which is noted.
    pub(crate) fn or_start(
        &self,
        given: Option<&T>,
        section: &str,
        notes: &mut Notes<'_>,
    ) -> T::Value {
        if let (None, Else::Value(text, _)) = (given.and_then(T::plain), self.otherwise) {
            self.assume(section, text, notes);
        }
        self.or(given)
    }

    /// The value as given, or else the row's starting value.
    pub(crate) fn or(&self, given: Option<&T>) -> T::Value {
        given.and_then(T::plain).unwrap_or_else(|| self.start())
    }

    /// The row's starting value.
    pub(crate) fn start(&self) -> T::Value {
        let Else::Value(text, _) = self.otherwise else { return T::NONE };
        let node = Node::of(text);
        T::read(&node, &mut Issues::default()).as_ref().and_then(T::plain).unwrap_or(T::NONE)
    }

    /// Reads `text` as the value of the key; what is wrong comes as one sentence after another.
    ///
    /// # Errors
    /// Texts that the key's reader refuses.
    pub(crate) fn parse(&self, text: &str) -> Result<T::Value, String> {
        let mut issues = Issues::default();
        issues.readings.is_strict = true;
        let read = issues.about(self.label, |issues| T::read(&Node::of(text), issues));
        read.as_ref().and_then(T::plain).ok_or_else(|| issues.sentences())
    }
}
