//! What a farm holds: the scenario's text and the files that it names.

use super::names;
use serde_json::Value;
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// A scenario's text with the bytes of its files, by the names it uses.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct State {
    pub(super) text: String,
    pub(super) files: BTreeMap<String, Vec<u8>>,
}

impl State {
    /// The state that a scenario's text and the sent files make; files that it does not name are
    /// left out.
    pub(super) fn of(text: &str, files: &BTreeMap<String, String>) -> Self {
        let names = named(text);
        let of = |name: &String| Some((name.clone(), files.get(name)?.clone().into_bytes()));
        Self { text: text.to_owned(), files: names.iter().filter_map(of).collect() }
    }

    /// The same with every file beside the scenario, which names it so.
    pub(super) fn beside(self) -> Self {
        let found = names::beside(&named(&self.text));
        if found.iter().all(|(name, plain)| name == plain) {
            return self;
        }
        let Ok(mut scenario) = serde_json::from_str::<Value>(&self.text) else { return self };
        each_name(&mut scenario, &mut |name| {
            if let Some(plain) = found.get(name) {
                name.clone_from(plain);
            }
        });
        let plain = |name: &String| found.get(name).unwrap_or(name).clone();
        let files = self.files.iter().map(|(name, bytes)| (plain(name), bytes.clone()));
        Self { text: format!("{scenario:#}\n"), files: files.collect() }
    }

    /// Whether another state differs at most in how its scenario is laid out.
    pub(super) fn says_the_same(&self, other: &Self) -> bool {
        let value = |text: &str| serde_json::from_str::<Value>(text).ok();
        let (one, two) = (value(&self.text), value(&other.text));
        self.files == other.files && one.is_some() && one == two
    }

    /// Files that the scenario names and that are not here.
    pub(super) fn missing(&self) -> Vec<String> {
        let mut names = named(&self.text);
        names.retain(|name| !self.files.contains_key(name));
        names
    }

    /// A digest of all of it.
    pub(super) fn digest(&self) -> String {
        let mut hash = Sha256::new();
        let mut take = |bytes: &[u8]| {
            hash.update((bytes.len() as u64).to_le_bytes());
            hash.update(bytes);
        };
        take(self.text.as_bytes());
        for (name, bytes) in &self.files {
            take(name.as_bytes());
            take(bytes);
        }
        hash.finalize().iter().take(16).fold(String::new(), |mut text, byte| {
            // Writing to a text does not fail.
            let _ = write!(text, "{byte:02x}");
            text
        })
    }
}

/// Names of all files that a scenario's text names, in its order.
pub(super) fn named(text: &str) -> Vec<String> {
    let mut names = Vec::new();
    if let Ok(mut scenario) = serde_json::from_str::<Value>(text) {
        each_name(&mut scenario, &mut |name| {
            if !name.is_empty() && !names.contains(name) {
                names.push(name.clone());
            }
        });
    }
    names
}

/// Shows every name of a file to `act`.
fn each_name(value: &mut Value, act: &mut dyn FnMut(&mut String)) {
    match value {
        Value::Object(entries) => {
            for (key, inner) in entries.iter_mut() {
                match inner {
                    Value::String(name) if key == "file" => act(name),
                    other => each_name(other, act),
                }
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| each_name(item, act)),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str =
        r#"{ "wind": { "record": { "file": "../wind.csv" } }, "x": [{ "file": "a" }] }"#;

    fn files() -> BTreeMap<String, String> {
        let texts = [("../wind.csv", "1"), ("not named", "2")];
        texts.map(|(name, text)| (name.to_owned(), text.to_owned())).into()
    }

    #[test]
    fn closed_files_come_beside_the_scenario_and_what_it_does_not_name_stays_out() {
        let state = State::of(TEXT, &files());
        assert_eq!(
            (named(TEXT), state.missing()),
            (vec!["../wind.csv".into(), "a".into()], vec!["a".into()])
        );
        let beside = state.clone().beside();
        assert_eq!(beside.files, BTreeMap::from([("wind.csv".to_owned(), b"1".to_vec())]));
        assert_eq!(named(&beside.text), ["wind.csv", "a"]);
        assert_eq!(beside.clone().beside(), beside);
        assert_ne!(beside.digest(), state.digest());
    }

    #[test]
    fn invariant_a_digest_tells_every_byte_and_where_it_lies() {
        let of = |text: &str, name: &str, body: &str| {
            let files = BTreeMap::from([(name.to_owned(), body.as_bytes().to_vec())]);
            State { text: text.to_owned(), files }.digest()
        };
        let all = [of("a", "b", "c"), of("ab", "", "c"), of("a", "bc", ""), of("a", "b", "d")];
        for (index, one) in all.iter().enumerate() {
            assert_eq!(one.len(), 32);
            assert!(!all[..index].contains(one));
        }
    }
}
