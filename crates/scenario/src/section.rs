//! What sections (objects with known keys) and choices (one of a few texts) have in common: their
//! checks and their schema. They are declared in [`crate::declare`].

use crate::document::{At, Entry, Json, Node};
use crate::issue::{Issue, Issues};
use crate::read::Read;
use crate::row::Else;
use crate::{renamed, suggest};
use schemars::Schema;
use serde_json::{Map, Value, json};

/// An object with known keys.
pub(crate) trait Section: Read {
    /// Known keys, in order.
    const KEYS: &'static [&'static str];
    /// Groups of keys of which one is given.
    const GROUPS: &'static [Group];
}

/// A group of keys of which one is given; those of one choice may stand together.
pub(crate) type Group = &'static [&'static [&'static str]];

/// One key of a section, for the schema.
pub(crate) struct Key {
    pub(crate) name: &'static str,
    pub(crate) label: &'static str,
    pub(crate) help: &'static str,
    /// Group of the page; empty where it is the section's.
    pub(crate) group: &'static str,
    pub(crate) otherwise: Else,
    pub(crate) schema: Schema,
}

/// Checks that `node` is an object with known keys and one of each group.
pub(crate) fn check<T: Section>(node: &Node, issues: &mut Issues) -> Option<()> {
    let Json::Object(entries) = &node.json else {
        crate::read::unexpected::<T>(node, issues);
        return None;
    };
    check_keys((T::KEYS, T::GROUPS), node, entries, issues)
}

fn check_keys(
    (keys, groups): (&[&'static str], &[Group]),
    node: &Node,
    entries: &[Entry],
    issues: &mut Issues,
) -> Option<()> {
    for entry in entries {
        if !keys.contains(&entry.key.as_str()) {
            unknown(keys, node, entry, issues);
        }
    }
    let groups: Vec<Option<()>> =
        groups.iter().map(|group| one_of(node, entries, group, issues)).collect();
    groups.into_iter().collect()
}

fn unknown(keys: &[&'static str], node: &Node, entry: &Entry, issues: &mut Issues) {
    if issues.is_full() {
        return issues.count_on();
    }
    let at = At { span: entry.key_span.clone(), pointer: entry.value.at.pointer.clone() };
    let near = suggest::nearest(&entry.key, keys.iter().copied());
    let hint = if let Some(moved) = renamed::moved(&entry.key) {
        moved.to_owned()
    } else if let Some(new) = renamed::key(&entry.key, keys) {
        format!("It is now called `{new}`.")
    } else if let Some(near) = near.filter(|near| node.get(near).is_none()) {
        format!("Did you mean `{near}`?")
    } else {
        "Remove it, or see the schema for what each section may hold.".to_owned()
    };
    issues.push(
        Issue::new(&at, format!("there is no key `{}` here", entry.key))
            .allowed(format!("one of {}", keys.join(", ")))
            .hint(hint),
    );
}

fn one_of(node: &Node, entries: &[Entry], group: Group, issues: &mut Issues) -> Option<()> {
    let choice = |entry: &Entry| group.iter().position(|keys| keys.contains(&entry.key.as_str()));
    let given: Vec<&Entry> = entries.iter().filter(|entry| choice(entry).is_some()).collect();
    let quoted = |keys: &[&str]| keys.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>();
    let names = quoted(&group.concat()).join(", ");
    // The first that may not stand beside the one before it.
    let other = given.windows(2).find(|pair| choice(pair[0]) != choice(pair[1]));
    if given.is_empty() {
        let problem = format!("one of {names} is missing");
        issues.push(Issue::new(&node.at.opening(), problem).hint("Give exactly one of them."));
        return None;
    }
    let Some(&[_, second]) = other else { return Some(()) };
    let at = At { span: second.key_span.clone(), pointer: second.value.at.pointer.clone() };
    let problem = format!("only one of {names} may be given");
    let joined = group.iter().filter(|keys| keys.len() > 1);
    let joined = joined.map(|keys| format!(" {} may stand together.", quoted(keys).join(" and ")));
    let hint = format!("Remove all of them but one.{}", joined.collect::<String>());
    issues.push(Issue::new(&at, problem).hint(hint));
    None
}

/// The schema of a section.
pub(crate) fn schema(doc: &str, keys: Vec<Key>, groups: &[Group]) -> Schema {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for key in keys {
        if matches!(key.otherwise, Else::Needed) {
            required.push(key.name);
        }
        properties.insert(key.name.to_owned(), property(key).to_value());
    }
    let mut object = json!({
        "type": "object",
        "description": doc.trim(),
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    });
    if !groups.is_empty() {
        let key = |key: &&str| json!({ "required": [key] });
        let choice = |keys: &&[&str]| match keys {
            [one] => key(one),
            all => json!({ "anyOf": all.iter().map(key).collect::<Vec<_>>() }),
        };
        let one = |group: &Group| json!({ "oneOf": group.iter().map(choice).collect::<Vec<_>>() });
        object["allOf"] = Value::Array(groups.iter().map(one).collect());
    }
    Schema::try_from(object).unwrap_or_default()
}

/// The schema of a key with all that its row says.
fn property(key: Key) -> Schema {
    let Key { label, help, group, otherwise, mut schema, .. } = key;
    let help = help.trim();
    // The range of a quantity follows the meaning of its key.
    let described = match schema.get("description").and_then(Value::as_str) {
        Some(range) => format!("{}: {range}", help.trim_end_matches('.')),
        None => help.to_owned(),
    };
    let mut say = |name: &str, value: Value| schema.insert(name.to_owned(), value);
    say("title", label.into());
    say("description", described.into());
    if !group.is_empty() {
        say("group", group.into());
    }
    match otherwise {
        Else::Needed => {}
        Else::Text(words) => {
            say("otherwise", words.into());
        }
        Else::Value(text, why) => {
            let plain = serde_json::from_str::<Value>(text).ok().filter(|value| !value.is_object());
            say("default", plain.unwrap_or_else(|| text.into()));
            say("because", why.into());
        }
    }
    schema
}

/// Notes that `node` is none of the texts to choose from.
pub(crate) fn not_a_choice(node: &Node, texts: &[&'static str], issues: &mut Issues) {
    let allowed = texts.iter().map(|text| format!("\"{text}\"")).collect::<Vec<_>>().join(", ");
    let problem = format!("{} is {}", issues.subject(), node.shown());
    let issue = Issue::new(&node.at, problem).allowed(allowed);
    let Json::Text(text) = &node.json else { return issues.push(issue) };
    let hint = renamed::word(text, texts).map(|new| format!("It is now called \"{new}\"."));
    let near = || suggest::nearest(text, texts.iter().copied());
    issues.push(match hint.or_else(|| near().map(|near| format!("Did you mean \"{near}\"?"))) {
        Some(hint) => issue.hint(hint),
        None => issue,
    });
}
