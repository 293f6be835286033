//! The scenario's text as a tree that knows where each value stands.
//!
//! Strict JSON (RFC 8259): no comments, no trailing commas, no NaN. A key given twice is a problem
//! (most parsers silently take the last one).

use crate::issue::{Issue, Issues, is_hidden};
use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::ops::Range;

pub(crate) use crate::place::At;

/// A value and its place.
#[derive(Clone, Debug)]
pub(crate) struct Node {
    pub(crate) at: At,
    pub(crate) json: Json,
}

/// A JSON value; numbers as written.
#[derive(Clone, Debug)]
pub(crate) enum Json {
    Null,
    Bool(bool),
    Number(String),
    Text(String),
    List(Vec<Node>),
    Object(Vec<Entry>),
}

/// A key with its value.
#[derive(Clone, Debug)]
pub(crate) struct Entry {
    pub(crate) key: String,
    pub(crate) key_span: Range<usize>,
    pub(crate) value: Node,
}

impl Node {
    /// The value of `key` if this is an object that has it.
    pub(crate) fn get(&self, key: &str) -> Option<&Node> {
        match &self.json {
            Json::Object(entries) => entries.iter().find(|e| e.key == key).map(|e| &e.value),
            _ => None,
        }
    }

    /// The value that `text` stands for where it is written without a file: a number, yes or no, or
    /// a text.
    pub(crate) fn of(text: &str) -> Self {
        let json = match text.trim() {
            "true" => Json::Bool(true),
            "false" => Json::Bool(false),
            number if number.parse::<f64>().is_ok_and(f64::is_finite) => {
                Json::Number(number.to_owned())
            }
            _ => Json::Text(text.to_owned()),
        };
        Self { at: At::default(), json }
    }

    /// The value in a sentence: a text without its quotes.
    pub(crate) fn said(&self) -> String {
        match &self.json {
            Json::Text(text) if text.starts_with(|c: char| c.is_ascii_digit() || c == '-') => {
                text.clone()
            }
            _ => self.shown(),
        }
    }

    /// Short text of the value for messages.
    pub(crate) fn shown(&self) -> String {
        match &self.json {
            Json::List(items) => format!("a list of {}", items.len()),
            Json::Object(_) => "{ … }".to_owned(),
            _ => {
                let mut text = String::new();
                self.canonical(&mut text);
                text
            }
        }
    }

    /// Appends the value as compact JSON with sorted keys: the same for every layout of a text.
    pub(crate) fn canonical(&self, out: &mut String) {
        match &self.json {
            Json::Null => out.push_str("null"),
            Json::Bool(value) => out.push_str(if *value { "true" } else { "false" }),
            Json::Number(text) => out.push_str(text),
            Json::Text(text) => push_text(text, out),
            Json::List(items) => {
                out.push('[');
                for (i, item) in items.iter().enumerate() {
                    if i > 0 {
                        out.push(',');
                    }
                    item.canonical(out);
                }
                out.push(']');
            }
            Json::Object(entries) => {
                let mut sorted: Vec<&Entry> = entries.iter().collect();
                sorted.sort_by(|a, b| a.key.cmp(&b.key));
                out.push('{');
                for (i, entry) in sorted.iter().enumerate() {
                    if i > 0 {
                        out.push(',');
                    }
                    push_text(&entry.key, out);
                    out.push(':');
                    entry.value.canonical(out);
                }
                out.push('}');
            }
        }
    }
}

/// Appends `text` as a JSON string.
fn push_text(text: &str, out: &mut String) {
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c < ' ' => {
                // Writing to a String cannot fail.
                let _ = write!(out, "\\u{:04x}", c as u32);
            }
            c => out.push(c),
        }
    }
    out.push('"');
}

/// Parses `text`; syntax errors and keys given twice go to `issues`.
pub(crate) fn parse(text: &str, issues: &mut Issues) -> Option<Node> {
    let start = At { span: 0..0, pointer: String::new() };
    if text.len() > crate::limits::MOST_BYTES {
        issues.push(Issue::new(&start, "the scenario is too large").allowed("at most 4 MB"));
        return None;
    }
    if let Some(place) = too_deep(text.as_bytes()) {
        let at = At { span: place..place + 1, pointer: String::new() };
        let problem = format!("brackets stand inside one another more than {DEEPEST} deep");
        issues.push(Issue::new(&at, problem).hint(FIRST_STEP));
        return None;
    }
    match parse_to_ast(text, &CollectOptions::default(), &strict()) {
        Ok(parsed) => {
            let value = parsed.value;
            if value.is_none() {
                issues.push(Issue::new(&start, "the scenario is empty").hint(FIRST_STEP));
            }
            value.map(|value| node(&value, String::new(), issues))
        }
        Err(error) => {
            let range = error.range();
            let span = range.start.min(text.len())..range.end.min(text.len());
            let at = At { span, pointer: String::new() };
            let problem = format!("this is not JSON: {}", in_words(error.kind()));
            issues.push(Issue::new(&at, problem).hint(
                "Look here and just before for a bracket, quote or comma that is missing or one \
                 too many. A file that was cut off at the end looks like this too. The rest is \
                 checked once this is mended.",
            ));
            None
        }
    }
}

/// Brackets that stand inside one another at the most; a scenario needs eight or so.
const DEEPEST: usize = 64;

/// Where brackets of a text go too deep for any scenario, before a parser goes after them.
fn too_deep(text: &[u8]) -> Option<usize> {
    let (mut depth, mut in_text, mut escaped) = (0_usize, false, false);
    for (place, byte) in text.iter().enumerate() {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if in_text => escaped = true,
            b'"' => in_text = !in_text,
            b'[' | b'{' if !in_text => depth += 1,
            b']' | b'}' if !in_text => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > DEEPEST {
            return Some(place);
        }
    }
    None
}

const FIRST_STEP: &str = "Start from the demo scenario and change it.";

fn in_words(kind: &jsonc_parser::errors::ParseErrorKind) -> String {
    let text = kind.to_string();
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect())
}

fn strict() -> ParseOptions {
    ParseOptions {
        allow_comments: false,
        allow_loose_object_property_names: false,
        allow_trailing_commas: false,
        allow_missing_commas: false,
        allow_single_quoted_strings: false,
        allow_hexadecimal_numbers: false,
        allow_unary_plus_numbers: false,
        allow_bare_decimal_point_numbers: false,
        allow_non_finite_numbers: false,
        allow_extended_string_escapes: false,
    }
}

fn node(value: &Value<'_>, pointer: String, issues: &mut Issues) -> Node {
    let range = value.range();
    if let Value::StringLit(literal) = value
        && let Some(hidden) = literal.value.chars().find(|letter| is_hidden(*letter))
    {
        let at = At { span: range.start..range.end, pointer: pointer.clone() };
        let problem = format!("the text holds the invisible character U+{:04X}", u32::from(hidden));
        issues.push(
            Issue::new(&at, problem)
                .allowed("one line of letters, digits, signs and spaces")
                .hint("Type the text again instead of pasting it."),
        );
    }
    let json = match value {
        Value::NullKeyword(_) => Json::Null,
        Value::BooleanLit(literal) => Json::Bool(literal.value),
        Value::NumberLit(literal) => Json::Number(literal.value.to_owned()),
        Value::StringLit(literal) => Json::Text(literal.value.clone().into_owned()),
        Value::Array(array) => {
            let items = array.elements.iter().enumerate();
            Json::List(items.map(|(i, v)| node(v, format!("{pointer}/{i}"), issues)).collect())
        }
        Value::Object(object) => Json::Object(entries(object, &pointer, issues)),
    };
    Node { at: At { span: range.start..range.end, pointer }, json }
}

fn entries(
    object: &jsonc_parser::ast::Object<'_>,
    pointer: &str,
    issues: &mut Issues,
) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    let mut known = BTreeSet::new();
    for property in &object.properties {
        let key = property.name.as_str().to_owned();
        let range = property.name.range();
        let pointer = format!("{pointer}/{}", key.replace('~', "~0").replace('/', "~1"));
        let value = node(&property.value, pointer.clone(), issues);
        let key_span = range.start..range.end;
        if let Some(hidden) = key.chars().find(|letter| is_hidden(*letter)) {
            let at = At { span: key_span, pointer };
            let what = u32::from(hidden);
            let problem = format!("a key holds the invisible character U+{what:04X}");
            issues.push(Issue::new(&at, problem).hint("Type the key again."));
            continue;
        }
        if known.insert(key.clone()) {
            entries.push(Entry { key, key_span, value });
        } else {
            let at = At { span: key_span, pointer };
            issues.push(
                Issue::new(&at, format!("the key `{key}` is given twice"))
                    .hint("Keep one of the two."),
            );
        }
    }
    entries
}
