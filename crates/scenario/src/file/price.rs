//! Prices as written: each a quantity, or a quantity with its plausible range and a mark. Which
//! prices there are is the core's table; here each unit of it has its limits.

use crate::document::{At, Json, Node};
use crate::issue::{Issue, Issues};
use crate::limits::{self, Limit, Limited};
use crate::quantity::H_PER_YR;
use crate::read::Read;
use crate::read_quantity::Quantity;
use crate::row::Else;
use crate::section::{self, Key, Section};
use evenfall_core::money::{Price, PriceUnit};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use std::borrow::Cow;
use std::marker::PhantomData;

/// Prices in one currency, whichever; each may be a value with its range and a mark.
#[derive(Clone, Debug)]
pub(crate) struct PricesFile {
    pub(crate) at: At,
    given: Vec<(Price, PriceFile)>,
}

/// A price, or another number that is known no better than a price.
#[derive(Clone, Debug)]
pub(crate) struct PriceFile {
    pub(crate) at: At,
    /// In the core's unit.
    pub(crate) value: f64,
    /// As written.
    pub(crate) text: String,
    /// Lowest and highest plausible value, in the core's unit.
    pub(crate) range: Option<(f64, f64)>,
    /// The value is a placeholder until the grower enters theirs.
    pub(crate) is_placeholder: bool,
}

/// How prices of one unit are read.
pub(crate) struct Kind {
    limit: Limit,
    /// Size of the core's unit in that in which quantities are read.
    unit: f64,
    read: fn(&Node, &mut Issues) -> Option<PriceFile>,
    schema: fn(&mut SchemaGenerator) -> Schema,
}

impl Kind {
    /// That of `unit`.
    pub(crate) fn of(unit: PriceUnit) -> Self {
        match unit {
            PriceUnit::PerTonne => Self::within::<limits::CropPrice>(),
            PriceUnit::TonnesPerHa => Self::within::<limits::PotentialYield>(),
            PriceUnit::PerCubicMeter => Self::within::<limits::WaterPrice>(),
            PriceUnit::PerHour => Self::within::<limits::LaborPrice>(),
            PriceUnit::Hours => Self::within::<limits::LaborPerMove>(),
            PriceUnit::Each => Self::within::<limits::PiecePrice>(),
            PriceUnit::Years => Self { unit: H_PER_YR, ..Self::within::<limits::Life>() },
            PriceUnit::FractionPerYear => Self::within::<limits::DiscountRate>(),
        }
    }

    fn within<L: Limited>() -> Self {
        Self {
            limit: L::LIMIT,
            unit: 1.0,
            read: |node, issues| Written::<L>::read(node, issues).map(|written| written.price),
            schema: Written::<L>::schema,
        }
    }

    /// A price as it was read, in the core's unit.
    pub(crate) fn in_core(&self, given: PriceFile) -> PriceFile {
        let in_core = |value: f64| value / self.unit;
        let range = given.range.map(|(low, high)| (in_core(low), in_core(high)));
        PriceFile { value: in_core(given.value), range, ..given }
    }

    /// Least and greatest value, in the core's unit.
    pub(crate) fn ends(&self) -> (f64, f64) {
        let (least, most) = self.limit.ends();
        (least / self.unit, most / self.unit)
    }
}

impl PricesFile {
    /// The price, where it is given.
    pub(crate) fn get(&self, price: Price) -> Option<&PriceFile> {
        self.given.iter().find_map(|(own, given)| (*own == price).then_some(given))
    }
}

impl Section for PricesFile {
    const KEYS: &'static [&'static str] = Price::KEYS;
    const GROUPS: &'static [section::Group] = &[];
}

impl Read for PricesFile {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let sound = section::check::<Self>(node, issues);
        // Every key is read before any is given up, so that all problems are told.
        let read = |price: &Price| {
            let node = node.get(price.row().key)?;
            let kind = Kind::of(price.row().unit);
            let read = issues.about(price.row().entry, |issues| (kind.read)(node, issues));
            let given = read.map(|given| kind.in_core(given));
            Some(given.map(|given| (*price, given)))
        };
        let given: Vec<Option<(Price, PriceFile)>> = Price::ALL.iter().filter_map(read).collect();
        sound?;
        Some(Self { at: node.at.clone(), given: given.into_iter().collect::<Option<_>>()? })
    }

    fn expects() -> String {
        format!("an object {{ {} }}", Price::KEYS.join(" "))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        generator.subschema_for::<Self>()
    }
}

/// What holds where a price is left out.
pub(crate) const NOT_KNOWN: &str =
    "not known: asked for where the alternatives differ in it; 0 if it costs nothing";

impl JsonSchema for PricesFile {
    fn schema_name() -> Cow<'static, str> {
        "prices".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let key = |price: &Price| {
            let row = price.row();
            Key {
                name: row.key,
                label: row.entry,
                help: row.help,
                group: "",
                otherwise: Else::Text(NOT_KNOWN),
                schema: (Kind::of(row.unit).schema)(generator),
            }
        };
        let keys = Price::ALL.iter().map(key).collect();
        let doc =
            "Prices in one currency, whichever; each may be a value with its range and a mark.";
        section::schema(doc, keys, Self::GROUPS)
    }
}

/// A price within the limits of `L`, in the unit in which quantities are read.
#[derive(Clone, Debug)]
pub(crate) struct Written<L> {
    pub(crate) price: PriceFile,
    row: PhantomData<L>,
}

impl<L> Written<L> {
    fn new(price: PriceFile) -> Self {
        Self { price, row: PhantomData }
    }
}

impl<L: Limited> Section for Written<L> {
    const KEYS: &'static [&'static str] = &["value", "low", "high", "placeholder"];
    const GROUPS: &'static [section::Group] = &[];
}

impl<L: Limited> Read for Written<L> {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        let price = |value: Quantity<L>, range, is_placeholder| {
            let (at, Quantity { value, text, .. }) = (node.at.clone(), value);
            Self::new(PriceFile { at, value, text, range, is_placeholder })
        };
        if !matches!(node.json, Json::Object(_)) {
            return Some(price(Quantity::read(node, issues)?, None, false));
        }
        let sound = section::check::<Self>(node, issues);
        let value = read_key::<Quantity<L>>(node, "value", issues);
        let low = read_key::<Option<Quantity<L>>>(node, "low", issues);
        let high = read_key::<Option<Quantity<L>>>(node, "high", issues);
        let placeholder = read_key::<Option<bool>>(node, "placeholder", issues);
        sound?;
        let (value, placeholder) = (value?, placeholder?);
        let range = range(node, &value, low?, high?, issues)?;
        Some(price(value, range, placeholder.unwrap_or(false)))
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
        let usual = Else::Text("the usual range of prices");
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
