//! A price as written: a quantity, or a quantity with its plausible range and a mark.

use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::Limited;
use crate::read::Read;
use crate::read_quantity::Quantity;
use crate::row::Else;
use crate::section::{self, Key, Section};
use schemars::{Schema, SchemaGenerator, json_schema};

/// A price, or another number that is known no better than a price.
#[derive(Clone, Debug)]
pub(crate) struct Price<L> {
    pub(crate) at: At,
    pub(crate) value: Quantity<L>,
    /// Lowest and highest plausible value.
    pub(crate) range: Option<(f64, f64)>,
    /// Nobody stands for the value.
    pub(crate) is_placeholder: bool,
}

impl<L: Limited> Section for Price<L> {
    const KEYS: &'static [&'static str] = &["value", "low", "high", "placeholder"];
    const GROUPS: &'static [&'static [&'static str]] = &[];
}

impl<L: Limited> Read for Price<L> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let at = node.at.clone();
        if !matches!(node.json, Json::Object(_)) {
            let value = Quantity::read(node, issues)?;
            return Some(Self { at, value, range: None, is_placeholder: false });
        }
        let sound = section::check::<Self>(node, issues);
        let value = read_key::<Quantity<L>>(node, "value", issues);
        let low = read_key::<Option<Quantity<L>>>(node, "low", issues);
        let high = read_key::<Option<Quantity<L>>>(node, "high", issues);
        let placeholder = read_key::<Option<bool>>(node, "placeholder", issues);
        sound?;
        let (value, placeholder) = (value?, placeholder?);
        let range = range(node, &value, low?, high?, issues)?;
        Some(Self { at, value, range, is_placeholder: placeholder.unwrap_or(false) })
    }

    fn expects() -> String {
        format!("{}, or {{ value, low, high, placeholder }}", L::LIMIT.words())
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let quantity = Quantity::<L>::schema(generator);
        let key = |name, (label, help), otherwise, schema| Key {
            name,
            label,
            help,
            group: "",
            otherwise,
            schema,
        };
        let usual = Else::Words("the usual range of prices");
        let placeholder = Else::Value("false", "the value is yours");
        let keys = vec![
            key("value", ("Value", "The value."), Else::Needed, quantity.clone()),
            key("low", ("At least", "Lowest plausible value."), usual, quantity.clone()),
            key("high", ("At most", "Highest plausible value."), usual, quantity.clone()),
            key("placeholder", ("A placeholder", MARK), placeholder, bool::schema(generator)),
        ];
        let object = section::schema(DOC, keys, Self::GROUPS);
        json_schema!({ "anyOf": [quantity, object] })
    }
}

/// A part of a price; messages call it by the label of the price.
fn read_key<T: Read>(node: &Node, key: &str, issues: &mut Issues) -> Option<T> {
    match node.get(key) {
        Some(value) => T::read(value, issues),
        None => T::absent(key, &node.at, issues),
    }
}

const DOC: &str = "A value with its plausible range, low and high both or neither.";
const MARK: &str = "A placeholder until you enter your own; results that depend on it say so.";

/// The range, if one is given; `None` if it is none.
#[allow(clippy::option_option, reason = "the inner is absence, the outer a problem")]
fn range<L>(
    node: &Node,
    value: &Quantity<L>,
    low: Option<Quantity<L>>,
    high: Option<Quantity<L>>,
    issues: &mut Issues,
) -> Option<Option<(f64, f64)>> {
    let (low, high) = match (low, high) {
        (None, None) => return Some(None),
        (Some(low), Some(high)) => (low, high),
        (low, _) => {
            let missing = if low.is_some() { "high" } else { "low" };
            let problem = format!("a range needs both ends: the key `{missing}` is missing");
            issues.push(Issue::new(&node.at.opening(), problem));
            return None;
        }
    };
    if low.value <= value.value && value.value <= high.value {
        return Some(Some((low.value, high.value)));
    }
    let problem = format!(
        "the value \"{}\" does not lie in its range, \"{}\" to \"{}\"",
        value.text, low.text, high.text
    );
    issues.push(Issue::new(&value.at, problem).allowed("low, value and high in rising order"));
    None
}
