//! The log as written: what really happened in a season.

use crate::declare::{choice, section};
use crate::document::{At, Json, Node};
use crate::file::Across;
use crate::issue::Issues;
use crate::limits;
use crate::read::{Count, Read, Tolerant, unexpected};
use crate::read_plain::Text;
use crate::read_time::Stamp;
use evenfall_core::schedule::replan::MissedRule;
use schemars::{Schema, SchemaGenerator, json_schema};

section! {
    /// What really happened in a season.
    LogFile {
        /// Version of this file format: 1.
        evenfall_log: Tolerant<Count<limits::Version>>, "Version of the format";
        /// Title of the scenario that the log belongs to.
        scenario: Tolerant<Text>, "Title of the scenario";
        /// Name of the alternative that is run.
        alternative: Tolerant<Text>, "Alternative";
        /// The clock of its times: a time zone, or standard time; that of the scenario.
        clock: Tolerant<Option<Text>>, "Clock", else "taken as the scenario’s";
        /// Up to when the log goes, as the field's clock shows it.
        now: Tolerant<Stamp>, "Logged up to";
        /// What becomes of missed sets.
        missed: Tolerant<Option<MissedName>>, "Missed sets", else "catch up next";
        /// What happened.
        events: Tolerant<Events>, "Events";
    }
}

choice! {
    /// What becomes of missed sets.
    pub(crate) MissedName {
        /// They come next, before the pass goes on.
        CatchUp = "catch up next",
        /// Their places wait for the next pass.
        Leave = "leave until the next pass",
    }
}

impl From<MissedName> for MissedRule {
    fn from(name: MissedName) -> Self {
        match name {
            MissedName::CatchUp => Self::CatchUp,
            MissedName::Leave => Self::Leave,
        }
    }
}

choice! {
    /// A kind of event.
    pub(crate) What {
        /// A set was done at its stop.
        Done = "done",
        /// A set was not done.
        Missed = "missed",
        /// Nothing could run.
        Breakdown = "breakdown",
        /// A set was done where the line had been pulled to by hand.
        MovedByHand = "moved by hand",
        /// A set was done at another stop than planned.
        WrongStop = "wrong stop",
    }
}

section! {
    /// One event.
    EventFile {
        /// What happened.
        what: What, "Kind of event";
        /// Number of the pass, as on the sheet.
        pass: Option<Count<limits::PassNumber>>, "Number of the pass", else "only for a breakdown";
        /// Number of the outlet, as on the sheet.
        outlet: Option<Count<limits::OutletNumber>>,
            "Number of the outlet", else "only for a breakdown";
        /// Whether it is the extra set at an edge.
        extra: Option<bool>, "Extra set", else "false";
        /// When it began, as the field's clock shows it.
        from: Option<Stamp>, "Began", else "as planned";
        /// When it ended.
        to: Option<Stamp>, "Ended", else "as planned";
        /// How far from its outlet the line really stood, + in the direction of travel.
        stood: Option<Across>, "Stood at", else "at its stop";
        /// Anything else worth keeping.
        note: Option<Text>, "Note", else "none";
    }
}

/// Events in any order; none on the first day.
#[derive(Clone, Debug)]
pub(crate) struct Events {
    pub(crate) items: Vec<(At, Option<EventFile>)>,
}

impl Read for Events {
    fn read(node: &Node, issues: &mut Issues) -> Option<Self> {
        match &node.json {
            Json::List(nodes) if nodes.len() <= limits::MOST_EVENTS => {
                let read = |item: &Node| (item.at.clone(), EventFile::read(item, issues));
                Some(Self { items: nodes.iter().map(read).collect() })
            }
            _ => {
                unexpected::<Self>(node, issues);
                None
            }
        }
    }
    fn expects() -> String {
        format!("a list of at most {} events, each {}", limits::MOST_EVENTS, EventFile::expects())
    }
    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let item = EventFile::schema(generator);
        json_schema!({ "type": "array", "items": item, "maxItems": limits::MOST_EVENTS })
    }
}
