//! Part of a section: an alternative's own keys, laid over the common ones.

use crate::document::{At, Json, Node};
use crate::issue::Issues;
use crate::read::Read;
use crate::section::{Group, Section};
use schemars::{Schema, SchemaGenerator};
use serde_json::Value;
use std::marker::PhantomData;

/// Keys that a common section loses, beside the rest of its group, where an alternative has the key
/// before them: they say something of the value that is no longer there, or say the same otherwise.
const DISPLACED: [(&str, &str); 7] = [
    ("size", "slip_and_sinkage"),
    ("travel_per_turn", "slip_and_sinkage"),
    ("pass_interval", "idle_between_passes"),
    ("idle_between_passes", "pass_interval"),
    ("set_order", "outlet_order"),
    ("outlet_order", "set_order"),
    ("nozzle_wear", "survey"),
];

/// Some keys of a section, to be laid over a common one.
#[derive(Clone, Debug)]
pub(crate) struct Part<T> {
    pub(crate) node: Node,
    section: PhantomData<T>,
}

impl<T: Section> Part<T> {
    /// The common section with this part's keys laid over it; one of a group of keys takes the
    /// place of the whole group, and of what went with it.
    pub(crate) fn over(&self, common: &Node) -> Node {
        let (Json::Object(own), Json::Object(base)) = (&self.node.json, &common.json) else {
            return self.node.clone();
        };
        let replaced = |key: &str| {
            own.iter().any(|entry| {
                let same_group = |group: &Group| {
                    let has = |key: &str| group.iter().any(|keys| keys.contains(&key));
                    has(&entry.key) && has(key)
                };
                entry.key == key
                    || T::GROUPS.iter().any(same_group)
                    || DISPLACED.contains(&(entry.key.as_str(), key))
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
            // What holds without the key is the common section's, not the row's.
            let keys = object.get_mut("properties").and_then(Value::as_object_mut);
            for key in keys.into_iter().flat_map(|keys| keys.values_mut()) {
                for word in ["default", "because", "otherwise"] {
                    key.as_object_mut().and_then(|key| key.shift_remove(word));
                }
            }
        }
        Schema::try_from(part).unwrap_or_default()
    }
}
