//! The maintenance list: what to look after, and when. Common practice, no source; the maker's manual
//! comes before all of it.

use crate::texts::{Language, Text, upkeep};
use evenfall_core::lateral::Machine;

/// Whom an item is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum For {
    All,
    Wheels,
    Carried,
}

/// When, and what is to be done then.
type Group = (Text, &'static [(For, Text, Text)]);

const BEFORE: &[(For, Text, Text)] = &[
    (For::All, upkeep::NOZZLES, upkeep::NOZZLES_WORDS),
    (For::All, upkeep::GASKETS, upkeep::GASKETS_WORDS),
    (For::Wheels, upkeep::LEVELERS, upkeep::LEVELERS_WORDS),
    (For::Wheels, upkeep::DRIVE_OIL, upkeep::DRIVE_OIL_WORDS),
    (For::Wheels, upkeep::CHAIN, upkeep::CHAIN_WORDS),
    (For::All, upkeep::JOINTS, upkeep::JOINTS_WORDS),
    (For::Wheels, upkeep::WHEELS, upkeep::WHEELS_WORDS),
    (For::Wheels, upkeep::ANCHORS, upkeep::ANCHORS_WORDS),
    (For::Wheels, upkeep::TIMED_MOVES, upkeep::TIMED_MOVES_WORDS),
    (For::Carried, upkeep::LATCHES, upkeep::LATCHES_WORDS),
];

const EVERY_MOVE: &[(For, Text, Text)] = &[
    (For::All, upkeep::SHUT_OFF, upkeep::SHUT_OFF_WORDS),
    (For::All, upkeep::LOOK_UP, upkeep::LOOK_UP_WORDS),
    (For::Wheels, upkeep::COUNT_TURNS, upkeep::COUNT_TURNS_WORDS),
    (For::Carried, upkeep::CARRY_LEVEL, upkeep::CARRY_LEVEL_WORDS),
    (For::All, upkeep::CONNECTING, upkeep::CONNECTING_WORDS),
    (For::All, upkeep::WALK, upkeep::WALK_WORDS),
    (For::Wheels, upkeep::ANCHOR, upkeep::ANCHOR_WORDS),
    (For::All, upkeep::NOTE, upkeep::NOTE_WORDS),
];

const EVERY_WEEK: &[(For, Text, Text)] = &[
    (For::Wheels, upkeep::OIL, upkeep::OIL_WORDS),
    (For::Wheels, upkeep::OIL_FILTER, upkeep::OIL_FILTER_WORDS),
    (For::Wheels, upkeep::CHAIN, upkeep::CHAIN_WEEKLY_WORDS),
    (For::All, upkeep::SCREENS, upkeep::SCREENS_WORDS),
    (For::All, upkeep::GAUGE, upkeep::GAUGE_WORDS),
    (For::Wheels, upkeep::ALIGNMENT, upkeep::ALIGNMENT_WORDS),
    (For::All, upkeep::HOSES, upkeep::HOSES_WORDS),
];

const END: &[(For, Text, Text)] = &[
    (For::All, upkeep::FLUSH, upkeep::FLUSH_WORDS),
    (For::Wheels, upkeep::OIL_AND_FILTER, upkeep::OIL_AND_FILTER_WORDS),
    (For::Wheels, upkeep::ENGINE, upkeep::ENGINE_WORDS),
    (For::All, upkeep::REPAIRS, upkeep::REPAIRS_WORDS),
    (For::All, upkeep::PARK, upkeep::PARK_WORDS),
];

const WINTER: &[(For, Text, Text)] = &[
    (For::Wheels, upkeep::ANCHORS, upkeep::STAKES_WORDS),
    (For::All, upkeep::HOSES, upkeep::STORED_WORDS),
    (For::All, upkeep::OPENINGS, upkeep::OPENINGS_WORDS),
];

const LIST: [Group; 5] = [
    (upkeep::BEFORE_SEASON, BEFORE),
    (upkeep::EVERY_MOVE, EVERY_MOVE),
    (upkeep::EVERY_WEEK, EVERY_WEEK),
    (upkeep::END_OF_SEASON, END),
    (upkeep::IN_WINTER, WINTER),
];

/// A group of the list for one kind of machine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct MaintenanceGroup {
    /// When.
    pub(crate) when: &'static str,
    /// What, then the words.
    pub(crate) items: Vec<(&'static str, &'static str)>,
}

/// The list for `machine`.
pub(crate) fn list(machine: &Machine, language: Language) -> Vec<MaintenanceGroup> {
    let own = match machine {
        Machine::WheelLine(_) => For::Wheels,
        Machine::HandMove => For::Carried,
    };
    let group = |(when, items): Group| MaintenanceGroup {
        when: when.of(language),
        items: items
            .iter()
            .filter(|(whom, ..)| *whom == For::All || *whom == own)
            .map(|(_, what, words)| (what.of(language), words.of(language)))
            .collect(),
    };
    LIST.into_iter().map(group).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use evenfall_core::lateral::Wheel;

    #[test]
    fn closed_a_carried_line_has_no_wheels_chain_or_oil_to_look_after() {
        let carried = list(&Machine::HandMove, Language::English);
        let names: Vec<&str> =
            carried.iter().flat_map(|group| &group.items).map(|(what, _)| *what).collect();
        assert!(!names.iter().any(|name| name.contains("Chain") || name.contains("Oil")));
        assert!(names.contains(&"Carry level"));
        let wheel = Wheel::new(6.0, 15.0);
        let rolled = list(&Machine::WheelLine(wheel), Language::English);
        let words = |group: &MaintenanceGroup| {
            group.items.iter().map(|(what, _)| *what).collect::<Vec<_>>()
        };
        assert!(rolled.iter().all(|group| !group.items.is_empty()));
        assert!(words(&rolled[0]).contains(&"Levelers") && words(&rolled[1]).contains(&"Anchor"));
    }
}
