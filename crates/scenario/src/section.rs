//! Sections and choices of the scenario file: types that are declared once and from which the
//! reader, the known keys and the schema all follow.

use crate::document::{At, Entry, Json, Node};
use crate::issue::{Issue, Issues};
use crate::read::Read;
use crate::suggest;
use schemars::{Schema, SchemaGenerator};
use serde_json::{Map, Value, json};
use std::marker::PhantomData;

/// An object with known keys.
pub(crate) trait Section: Read {
    /// Known keys, in order.
    const KEYS: &'static [&'static str];
    /// Groups of keys of which exactly one is given.
    const GROUPS: &'static [&'static [&'static str]];
}

/// One key of a section, for the schema.
pub(crate) struct Key {
    pub(crate) name: &'static str,
    pub(crate) doc: &'static str,
    pub(crate) required: bool,
    pub(crate) schema: Schema,
}

/// Checks that `node` is an object with known keys and one of each group.
pub(crate) fn check<T: Section>(node: &Node, issues: &mut Issues) -> Option<()> {
    let Json::Object(entries) = &node.json else {
        crate::read::unexpected::<T>(node, issues);
        return None;
    };
    for entry in entries {
        if !T::KEYS.contains(&entry.key.as_str()) {
            unknown::<T>(node, entry, issues);
        }
    }
    let groups: Vec<Option<()>> =
        T::GROUPS.iter().map(|group| one_of(node, entries, group, issues)).collect();
    groups.into_iter().collect()
}

fn unknown<T: Section>(node: &Node, entry: &Entry, issues: &mut Issues) {
    let at = At { span: entry.key_span.clone(), pointer: entry.value.at.pointer.clone() };
    let hint = match suggest::nearest(&entry.key, T::KEYS.iter().copied()) {
        Some(near) if node.get(near).is_none() => format!("Did you mean `{near}`?"),
        _ => "Remove it, or see the schema for what each section may hold.".to_owned(),
    };
    issues.push(
        Issue::new(&at, format!("the key `{}` is not known here", entry.key))
            .allowed(T::KEYS.join(", "))
            .hint(hint),
    );
}

fn one_of(node: &Node, entries: &[Entry], group: &[&str], issues: &mut Issues) -> Option<()> {
    let given: Vec<&Entry> = entries.iter().filter(|e| group.contains(&e.key.as_str())).collect();
    let names = group.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(", ");
    match given.as_slice() {
        [_] => Some(()),
        [] => {
            let problem = format!("one of {names} is missing");
            issues.push(Issue::new(&node.at.opening(), problem).hint("Give exactly one of them."));
            None
        }
        [_, second, ..] => {
            let at = At { span: second.key_span.clone(), pointer: second.value.at.pointer.clone() };
            let problem = format!("only one of {names} may be given");
            issues.push(Issue::new(&at, problem).hint("Remove all of them but one."));
            None
        }
    }
}

/// Reads the value of `key`, or what it is when absent.
pub(crate) fn read_key<T: Read>(node: &Node, key: &str, issues: &mut Issues) -> Option<T> {
    match node.get(key) {
        Some(value) => T::read(value, issues),
        None => T::absent(key, &node.at, issues),
    }
}

/// The schema of a section.
pub(crate) fn schema(doc: &str, keys: Vec<Key>, groups: &[&[&str]]) -> Schema {
    let mut properties = Map::new();
    let mut required = Vec::new();
    for mut key in keys {
        let doc = key.doc.trim();
        // The range of a quantity follows the meaning of its key.
        let described = match key.schema.get("description").and_then(Value::as_str) {
            Some(range) => format!("{doc} ({range})"),
            None => doc.to_owned(),
        };
        key.schema.insert("description".to_owned(), Value::String(described));
        properties.insert(key.name.to_owned(), key.schema.to_value());
        if key.required {
            required.push(key.name);
        }
    }
    let mut object = json!({
        "type": "object",
        "description": doc.trim(),
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    });
    if !groups.is_empty() {
        let one = |group: &&[&str]| json!({ "oneOf": group.iter().map(|key| json!({ "required": [key] })).collect::<Vec<_>>() });
        object["allOf"] = Value::Array(groups.iter().map(one).collect());
    }
    Schema::try_from(object).unwrap_or_default()
}

/// Some keys of a section, to be laid over a common one.
#[derive(Clone, Debug)]
pub(crate) struct Part<T> {
    pub(crate) node: Node,
    section: PhantomData<T>,
}

impl<T: Section> Part<T> {
    /// The common section with this part's keys laid over it; one of a group of keys takes the
    /// place of the whole group.
    pub(crate) fn over(&self, common: &Node) -> Node {
        let (Json::Object(own), Json::Object(base)) = (&self.node.json, &common.json) else {
            return self.node.clone();
        };
        let replaced = |key: &str| {
            own.iter().any(|entry| {
                let same_group =
                    |group: &&[&str]| group.contains(&entry.key.as_str()) && group.contains(&key);
                entry.key == key || T::GROUPS.iter().any(same_group)
            })
        };
        let kept = base.iter().filter(|entry| !replaced(&entry.key));
        let entries = own.iter().chain(kept).cloned().collect();
        // What is missing is missing in the common section; what is assumed is assumed here.
        let at = At { span: common.at.span.clone(), pointer: self.node.at.pointer.clone() };
        Node { at, json: Json::Object(entries) }
    }
}

impl<T: Section> Read for Part<T> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        if !matches!(node.json, Json::Object(_)) {
            crate::read::unexpected::<T>(node, issues);
            return None;
        }
        // Its keys are read once they are laid over the common section.
        Some(Self { node: node.clone(), section: PhantomData })
    }
    fn expects() -> String {
        T::expects()
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let name = T::schema(generator);
        let reference = name.get("$ref").and_then(Value::as_str).unwrap_or_default();
        let definition = reference.rsplit('/').next().unwrap_or_default().to_owned();
        let mut part = generator.definitions().get(&definition).cloned().unwrap_or_default();
        if let Value::Object(object) = &mut part {
            object.shift_remove("required");
            object.shift_remove("allOf");
        }
        Schema::try_from(part).unwrap_or_default()
    }
}

/// Declares a section: a struct with its reader and schema.
macro_rules! section {
    (
        $(#[doc = $doc:literal])+
        $name:ident $(, one of $($group:ident)|+)* {
            $( $(#[doc = $key_doc:literal])+ $key:ident: $type:ty, )+
        }
    ) => {
        $(#[doc = $doc])+
        #[derive(Clone, Debug)]
        #[allow(dead_code, reason = "of some keys only the presence counts")]
        pub(crate) struct $name {
            /// Where it stands.
            pub(crate) at: $crate::document::At,
            $( $(#[doc = $key_doc])+ pub(crate) $key: $type, )+
        }

        impl $crate::read::Read for $name {
            fn read(
                node: &$crate::document::Node,
                issues: &mut $crate::issue::Issues,
            ) -> Option<Self> {
                let sound = $crate::section::check::<Self>(node, issues);
                if !matches!(node.json, $crate::document::Json::Object(_)) {
                    return None;
                }
                // Every key is read before any is given up, so that all problems are told.
                $( let $key = $crate::section::read_key::<$type>(node, stringify!($key), issues); )+
                sound?;
                Some(Self { at: node.at.clone(), $( $key: $key?, )+ })
            }
            fn expects() -> String {
                concat!("an object { ", $( stringify!($key), " ", )+ "}").to_owned()
            }
            fn schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                generator.subschema_for::<Self>()
            }
        }

        impl $crate::section::Section for $name {
            const KEYS: &'static [&'static str] = &[$( stringify!($key) ),+];
            const GROUPS: &'static [&'static [&'static str]] =
                &[$( &[$( stringify!($group) ),+] ),*];
        }

        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).trim_end_matches("File").to_lowercase().into()
            }
            fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                use $crate::read::Read;
                let keys = vec![$( $crate::section::Key {
                    name: stringify!($key),
                    doc: concat!($( $key_doc ),+),
                    required: <$type>::REQUIRED,
                    schema: <$type>::schema(generator),
                } ),+];
                let groups = <Self as $crate::section::Section>::GROUPS;
                $crate::section::schema(concat!($( $doc ),+), keys, groups)
            }
        }
    };
}

/// Declares a choice of texts: an enum with its reader and schema.
macro_rules! choice {
    (
        $(#[doc = $doc:literal])+
        $visible:vis $name:ident { $( $(#[doc = $item_doc:literal])+ $item:ident = $text:literal, )+ }
    ) => {
        $(#[doc = $doc])+
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        $visible enum $name { $( $(#[doc = $item_doc])+ $item, )+ }

        impl $crate::read::Read for $name {
            fn read(
                node: &$crate::document::Node,
                issues: &mut $crate::issue::Issues,
            ) -> Option<Self> {
                match &node.json {
                    $( $crate::document::Json::Text(text) if text == $text => Some(Self::$item), )+
                    _ => {
                        $crate::section::not_a_choice(node, &[$( $text ),+], issues);
                        None
                    }
                }
            }
            fn expects() -> String {
                [$( concat!("\"", $text, "\"") ),+].join(" or ")
            }
            fn schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "enum": [$( $text ),+] })
            }
        }
    };
}

/// Notes that `node` is none of the texts to choose from.
pub(crate) fn not_a_choice(node: &Node, texts: &[&str], issues: &mut Issues) {
    let allowed = texts.iter().map(|text| format!("\"{text}\"")).collect::<Vec<_>>().join(", ");
    let near = match &node.json {
        Json::Text(text) => suggest::nearest(text, texts.iter().copied()),
        _ => None,
    };
    let mut issue =
        Issue::new(&node.at, format!("{} is not a choice here", node.shown())).allowed(allowed);
    if let Some(near) = near {
        issue = issue.hint(format!("Did you mean \"{near}\"?"));
    }
    issues.push(issue);
}

pub(crate) use {choice, section};
