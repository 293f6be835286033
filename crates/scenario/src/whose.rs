//! Whose the numbers are that the answer rests on: the user's, a starting value, or from a test.
//!
//! A number is the user's where the scenario states it and does not list it in `starting_values`; a
//! price also where it is not marked a placeholder. What the scenario leaves out is a starting value,
//! and so is everything of an invented field. What catch tests or a survey of the line have measured
//! is from a test. Which numbers matter is one table, [`INPUTS`]; it is judgment, led by what the
//! doubts of the demo and of three further invented fields turn on.

use crate::document::{Json, Node};
use crate::issue::{Issue, Issues};
use crate::notes::Assumption;
use crate::read_plain::Text;

/// Whose a number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The user stated it.
    Yours,
    /// It was put there to start from, and nobody has confirmed it.
    Starting,
    /// Measured, by catch tests or at the sprinklers.
    Test,
    /// Needed, and not said.
    Missing,
}

impl Whose {
    /// As users read it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Yours => "yours",
            Self::Starting => "starting value",
            Self::Test => "from a test",
            Self::Missing => "not given",
        }
    }

    /// Whether somebody stated or measured it for this field.
    pub const fn is_known(self) -> bool {
        matches!(self, Self::Yours | Self::Test)
    }
}

/// A number, or another input, that the answer rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Input {
    /// Where it stands in the scenario, as a JSON pointer.
    pub what: String,
    /// What it is.
    pub label: &'static str,
    /// Its value, as it is written.
    pub value: String,
    /// Whose it is.
    pub whose: Whose,
}

/// When a row of the table counts.
#[derive(Clone, Copy, Debug)]
enum Counts {
    Always,
    /// Only where the scenario has this section.
    With(&'static str),
    /// Only where crop and prices are asked about; without it money is inconclusive.
    Needed,
    /// As `Needed`, where an alternative buys something.
    Bought,
}

/// A row: what it is, when it counts, and the keys that say it, the first that is there.
struct Row {
    label: &'static str,
    counts: Counts,
    keys: &'static [&'static str],
    /// A section that holds measurements of it.
    test: &'static str,
}

const fn row(label: &'static str, counts: Counts, keys: &'static [&'static str]) -> Row {
    Row { label, counts, keys, test: "" }
}

/// The inputs that matter, in the order in which a field is told.
const INPUTS: &[Row] = &[
    row("Size of the field", Counts::Always, &["/field/width_across"]),
    row("Number of sprinklers", Counts::Always, &["/lateral/sprinklers"]),
    row("Sprinkler spacing", Counts::Always, &["/lateral/sprinkler_spacing"]),
    row("Outlet spacing", Counts::Always, &["/outlets/spacing"]),
    row(
        "Roll of one turn",
        Counts::With("/wheel"),
        &["/wheel/travel_per_turn", "/wheel/size", "/wheel/outside_diameter"],
    ),
    row("Reach of hose or joint", Counts::Always, &["/outlets/reach"]),
    row("Nozzle and pattern", Counts::Always, &["/sprinkler/jets"]),
    Row {
        test: "/lateral/survey",
        ..row("Pressure", Counts::Always, &["/lateral/pipe/inlet", "/sprinkler/pressure"])
    },
    Row { test: "/calibration", ..row("Pattern in wind", Counts::Always, &["/sprinkler/drag"]) },
    row("Set time", Counts::Always, &["/season/set_time"]),
    row(
        "How often a place is watered",
        Counts::Always,
        &[
            "/season/irrigate_at_depletion",
            "/season/pass_interval",
            "/season/sets_per_day",
            "/season/move_time",
        ],
    ),
    row("Wind", Counts::Always, &["/wind"]),
    row("Crop", Counts::With("/crop"), &["/crop/name"]),
    row("Soil", Counts::With("/crop"), &["/soil/field_capacity", "/soil/texture"]),
    row("Water the crop uses", Counts::With("/crop"), &["/climate/et0"]),
    row("Price of the crop", Counts::Needed, &["/worth/prices/crop"]),
    row("Full yield", Counts::Needed, &["/worth/prices/potential_yield"]),
    row("Price of water", Counts::Needed, &["/worth/prices/water"]),
    row(
        "Price of energy",
        Counts::Needed,
        &["/worth/pumping/energy_price", "/worth/prices/energy"],
    ),
    row("Price of labor", Counts::Needed, &["/worth/prices/labor"]),
    row("Price of a joint", Counts::Bought, &["/worth/prices/joint_each"]),
    row("Life of a joint", Counts::Bought, &["/worth/prices/joint_life"]),
];

/// The inputs that matter of a scenario, with whose each is.
pub(crate) fn inputs(root: &Node, assumed: &[Assumption]) -> Vec<Input> {
    let invented = matches!(at(root, "/invented").map(|node| &node.json), Some(Json::Bool(true)));
    let starting = Starting::of(root);
    let told = INPUTS.iter().filter(|row| counts(root, row.counts));
    told.map(|row| {
        let tested = !row.test.is_empty() && at(root, row.test).is_some();
        let there = row.keys.iter().find_map(|key| Some((*key, at(root, key)?)));
        let (what, node) = there.map_or((row.keys[0], None), |(key, node)| (key, Some(node)));
        let whose = match node {
            _ if tested => Whose::Test,
            Some(node) if invented || starting.holds(what) || is_placeholder(node) => {
                Whose::Starting
            }
            Some(_) => Whose::Yours,
            None if matches!(row.counts, Counts::Needed | Counts::Bought) => Whose::Missing,
            None => Whose::Starting,
        };
        let assumed = || assumed.iter().find(|one| one.what == what);
        let value = match node {
            Some(node) => short(node),
            None => assumed().map(|one| one.value.clone()).unwrap_or_default(),
        };
        Input { what: what.to_owned(), label: row.label, value, whose }
    })
    .collect()
}

fn counts(root: &Node, counts: Counts) -> bool {
    match counts {
        Counts::Always => true,
        Counts::With(section) => at(root, section).is_some(),
        Counts::Needed => at(root, "/crop").is_some(),
        Counts::Bought => at(root, "/crop").is_some() && buys_joints(root),
    }
}

fn buys_joints(root: &Node) -> bool {
    let Some(Json::List(alternatives)) = at(root, "/alternatives").map(|node| &node.json) else {
        return false;
    };
    let joints = alternatives.iter().filter_map(|own| own.get("equipment")?.get("joints"));
    joints.into_iter().any(|count| !matches!(&count.json, Json::Number(text) if text == "0"))
}

fn is_placeholder(node: &Node) -> bool {
    matches!(node.get("placeholder").map(|mark| &mark.json), Some(Json::Bool(true)))
}

/// A value in a few words: itself, a price's value, or what a section says first.
fn short(node: &Node) -> String {
    match &node.json {
        Json::Object(entries) => {
            let value = node.get("value").or_else(|| node.get("nozzle"));
            match (value, entries.first()) {
                (Some(value), _) => short(value),
                (None, Some(first)) => match &first.value.json {
                    Json::Object(_) | Json::List(_) => first.key.replace('_', " "),
                    _ => short(&first.value),
                },
                (None, None) => String::new(),
            }
        }
        Json::List(items) => {
            let each: Vec<String> = items.iter().take(2).map(short).collect();
            each.join(", ")
        }
        Json::Text(text) => text.clone(),
        _ => node.shown(),
    }
}

/// The value at a JSON pointer (RFC 6901).
fn at<'a>(root: &'a Node, pointer: &str) -> Option<&'a Node> {
    let steps = pointer.strip_prefix('/')?.split('/');
    let steps = steps.map(|step| step.replace("~1", "/").replace("~0", "~"));
    steps.into_iter().try_fold(root, |node, step| match &node.json {
        Json::List(items) => items.get(step.parse::<usize>().ok()?),
        _ => node.get(&step),
    })
}

/// What the scenario lists as its starting values.
struct Starting<'a>(Vec<&'a str>);

impl<'a> Starting<'a> {
    fn of(root: &'a Node) -> Self {
        let Some(Json::List(items)) = root.get("starting_values").map(|list| &list.json) else {
            return Self(Vec::new());
        };
        let text = |item: &'a Node| match &item.json {
            Json::Text(text) => Some(text.trim()),
            _ => None,
        };
        Self(items.iter().filter_map(text).collect())
    }

    /// Whether the value at `pointer`, what holds it, or something in it is listed.
    fn holds(&self, pointer: &str) -> bool {
        let begins = |long: &str, short: &str| {
            long.strip_prefix(short).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
        };
        self.0.iter().any(|listed| begins(pointer, listed) || begins(listed, pointer))
    }
}

/// Notes listed starting values that are not in the scenario: a slip there would pass a starting value
/// off as the user's.
pub(crate) fn check(root: &Node, listed: &[Text], issues: &mut Issues) {
    for one in listed.iter().filter(|one| at(root, &one.value).is_none()) {
        let problem = format!("\"{}\" points at nothing in this scenario", one.value);
        issues.push(
            Issue::new(&one.at, problem)
                .allowed("the place of a value, such as \"/soil/texture\" or \"/sprinkler/jets/0\"")
                .hint("Correct it, or take it off the list."),
        );
    }
}

/// How many of the inputs are known, in a sentence; empty without inputs.
pub fn known_words(inputs: &[Input]) -> String {
    let of = |whose: Whose| inputs.iter().filter(|input| input.whose == whose).count();
    let (yours, tests, all) = (of(Whose::Yours), of(Whose::Test), inputs.len());
    if all == 0 {
        return String::new();
    }
    let tests = if tests == 0 { String::new() } else { format!(", {tests} from a test") };
    let verb = if yours == 1 { "is" } else { "are" };
    format!("{yours} of the {all} numbers that matter {verb} yours{tests}.")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(text: &str) -> Vec<Input> {
        let root = crate::document::parse(text, &mut Issues::default()).unwrap();
        inputs(&root, &[])
    }

    fn whose(inputs: &[Input], label: &str) -> Option<Whose> {
        inputs.iter().find(|input| input.label == label).map(|input| input.whose)
    }

    #[test]
    fn closed_a_stated_value_is_the_users_unless_it_is_listed_or_a_placeholder() {
        let found = of(r#"{
            "starting_values": ["/outlets", "/sprinkler/jets/0/nozzle"],
            "field": { "width_across": "990 ft" }, "lateral": { "sprinklers": 32 },
            "outlets": { "spacing": "60 ft" },
            "sprinkler": { "jets": [{ "nozzle": "11/64 in", "radius": "44 ft" }] },
            "crop": { "name": "alfalfa" },
            "worth": { "prices": { "crop": { "value": "180 per ton", "placeholder": true } } }
        }"#);
        assert_eq!(whose(&found, "Size of the field"), Some(Whose::Yours));
        assert_eq!(whose(&found, "Outlet spacing"), Some(Whose::Starting));
        assert_eq!(whose(&found, "Nozzle and pattern"), Some(Whose::Starting));
        assert_eq!(whose(&found, "Price of the crop"), Some(Whose::Starting));
        assert_eq!(whose(&found, "Price of water"), Some(Whose::Missing));
        assert_eq!(whose(&found, "Set time"), Some(Whose::Starting));
        // No wheel, no joints to buy: nothing is asked of them.
        assert_eq!(whose(&found, "Roll of one turn"), None);
        assert_eq!(whose(&found, "Price of a joint"), None);
        let nozzle = found.iter().find(|input| input.label == "Nozzle and pattern").unwrap();
        assert_eq!(nozzle.value, "11/64 in");
    }

    #[test]
    fn closed_nothing_of_an_invented_field_is_yours_and_tests_count_by_themselves() {
        let found = of(r#"{ "invented": true, "lateral": { "sprinklers": 32, "survey": {} } }"#);
        assert_eq!(whose(&found, "Number of sprinklers"), Some(Whose::Starting));
        assert_eq!(whose(&found, "Pressure"), Some(Whose::Test));
        let words = known_words(&found);
        assert_eq!(words, "0 of the 11 numbers that matter are yours, 1 from a test.");
    }
}
