//! Reading values out of the tree: each reader also says what it expects, for the schema and for
//! messages, so that the three cannot disagree.
//!
//! A reader never stops at the first problem: it notes it and gives `None`.

use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{Counted, Numbered};
use schemars::{Schema, SchemaGenerator, json_schema};
use std::marker::PhantomData;

/// A value that can be read from a scenario.
pub(crate) trait Read: Sized {
    /// Reads it; problems go to `issues`.
    fn read(node: &Node, issues: &mut Issues) -> Option<Self>;

    /// What is expected, in words.
    fn expects() -> String;

    /// Its JSON Schema.
    fn schema(generator: &mut SchemaGenerator) -> Schema;

    /// What it is when its key is not there.
    fn absent(key: &str, section: &At, issues: &mut Issues) -> Option<Self> {
        let problem = format!("the key `{key}` is missing");
        issues.push(
            Issue::new(&section.opening(), problem)
                .hint(format!("Add \"{key}\": {}. It has no starting value.", Self::expects())),
        );
        None
    }
}

/// A value that is one number, one word, or yes or no.
pub(crate) trait Plain: Read {
    /// The value itself.
    type Value: Copy;
    /// Stands where nothing could be read; never the value of a key that was.
    const NONE: Self::Value;

    /// The value, if one was given.
    fn plain(&self) -> Option<Self::Value>;
}

impl<T: Plain> Plain for Option<T> {
    type Value = T::Value;
    const NONE: T::Value = T::NONE;
    fn plain(&self) -> Option<T::Value> {
        self.as_ref().and_then(T::plain)
    }
}

impl<T: Plain> Plain for Tolerant<T> {
    type Value = T::Value;
    const NONE: T::Value = T::NONE;
    fn plain(&self) -> Option<T::Value> {
        self.0.plain()
    }
}

impl<L: Counted> Plain for Count<L> {
    type Value = u64;
    const NONE: u64 = 0;
    fn plain(&self) -> Option<u64> {
        Some(self.value)
    }
}

impl<L: Numbered> Plain for Number<L> {
    type Value = f64;
    const NONE: f64 = f64::NAN;
    fn plain(&self) -> Option<f64> {
        Some(self.value)
    }
}

/// Notes that `node` is not what was expected.
pub(crate) fn unexpected<T: Read>(node: &Node, issues: &mut Issues) {
    refuse(node, T::expects(), issues);
}

/// The same where what was expected is told in words.
pub(crate) fn refuse(node: &Node, expected: String, issues: &mut Issues) {
    let problem = format!("{} is {}", issues.subject(), node.said());
    issues.push(Issue::new(&node.at, problem).allowed(expected));
}

impl<T: Read> Read for Option<T> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        T::read(node, issues).map(Some)
    }
    fn expects() -> String {
        T::expects()
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        T::schema(generator)
    }
    fn absent(_: &str, _: &At, _: &mut Issues) -> Option<Self> {
        Some(None)
    }
}

/// A value whose own problems do not hide its neighbors: `None` where it was bad.
#[derive(Clone, Debug)]
pub(crate) struct Tolerant<T>(pub(crate) Option<T>);

impl<T: Read> Read for Tolerant<T> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        Some(Self(T::read(node, issues)))
    }
    fn expects() -> String {
        T::expects()
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        T::schema(generator)
    }
    fn absent(key: &str, section: &At, issues: &mut Issues) -> Option<Self> {
        Some(Self(T::absent(key, section, issues)))
    }
}

/// An optional value that was given and was good.
pub(crate) fn optional<T>(value: &Tolerant<Option<T>>) -> Option<&T> {
    value.0.as_ref().and_then(Option::as_ref)
}

/// A whole number within its row of the table of limits.
#[derive(Clone, Debug)]
pub(crate) struct Count<L> {
    pub(crate) value: u64,
    pub(crate) at: At,
    row: PhantomData<L>,
}

impl<L: Counted> Read for Count<L> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let value = match &node.json {
            Json::Number(text) => text.parse::<u64>().ok(),
            _ => None,
        };
        let value = value.filter(|value| (L::LIMIT.least..=L::LIMIT.most).contains(value));
        if value.is_none() {
            unexpected::<Self>(node, issues);
        }
        Some(Self { value: value?, at: node.at.clone(), row: PhantomData })
    }

    fn expects() -> String {
        if L::LIMIT.least == L::LIMIT.most {
            format!("the whole number {}", L::LIMIT.least)
        } else {
            format!("a whole number from {} to {}", L::LIMIT.least, L::LIMIT.most)
        }
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "integer", "minimum": L::LIMIT.least, "maximum": L::LIMIT.most })
    }
}

/// A plain number within its row of the table of limits.
#[derive(Clone, Debug)]
pub(crate) struct Number<L> {
    pub(crate) value: f64,
    row: PhantomData<L>,
}

impl<L: Numbered> Read for Number<L> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let value = match &node.json {
            Json::Number(text) => text.parse::<f64>().ok(),
            _ => None,
        };
        let value = value.filter(|value| (L::LIMIT.least..=L::LIMIT.most).contains(value));
        if value.is_none() {
            unexpected::<Self>(node, issues);
        }
        Some(Self { value: value?, row: PhantomData })
    }

    fn expects() -> String {
        format!("a plain number from {} to {}", L::LIMIT.least, L::LIMIT.most)
    }

    fn schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "number", "minimum": L::LIMIT.least, "maximum": L::LIMIT.most })
    }
}
