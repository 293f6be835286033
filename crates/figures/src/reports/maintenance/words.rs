//! The maintenance list: what to look after, and when. Common practice, no source; the maker's manual
//! comes before all of it.

use evenfall_core::lateral::Machine;

/// What comes before the list.
pub(crate) const FIRST: &str = "Common practice, as a reminder. The maker’s manual comes first: follow \
    it wherever it differs.";

/// Whom an item is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum For {
    All,
    Wheels,
    Carried,
}

/// When, and what is to be done then.
type Group = (&'static str, &'static [(For, &'static str, &'static str)]);

const BEFORE: &[(For, &str, &str)] = &[
    (
        For::All,
        "Nozzles",
        "Same size in every sprinkler. Check each with the shank of a drill bit of that size and replace worn ones.",
    ),
    (
        For::All,
        "Drains and gaskets",
        "Open and clean every drain and check that it shuts under pressure. Replace gaskets that leak or stick.",
    ),
    (
        For::Wheels,
        "Levelers",
        "Swing every leveler by hand. It must move freely and bring the sprinkler upright.",
    ),
    (
        For::Wheels,
        "Drive oil and filter",
        "Check the level cold. Milky oil has water in it; grit means dirt. Change oil and filter, using the grade in the manual.",
    ),
    (For::Wheels, "Chain", "Check tension and wear of chain and sprockets, and oil them."),
    (
        For::All,
        "Hoses and joints",
        "Look for cracks, kinks and worn couplers. Try the longest reach of the rotation without pressure.",
    ),
    (
        For::Wheels,
        "Wheels and alignment",
        "Tighten hubs and pipe couplings. Straighten the line before the first move.",
    ),
    (For::Wheels, "Anchors", "Count wind braces and stakes and check that they hold."),
    (
        For::Wheels,
        "Timed moves",
        "Time one move in a cool hour and one in a warm hour and note the temperatures. The move sheet then shows when the gap between sets is too short.",
    ),
    (For::Carried, "Latches and risers", "Straighten latches and risers. Replace bent pipe."),
];

const EVERY_MOVE: &[(For, &str, &str)] = &[
    (
        For::All,
        "Shut off and drain",
        "Shut the outlet, bleed off the pressure and wait until the pipe has drained. Moving pipe with water in it bends and breaks it.",
    ),
    (For::All, "Look up and around", "Power lines, people, livestock, ditches, stones. Then move."),
    (
        For::Wheels,
        "Count the turns",
        "Whole turns, by a mark on the wheel. Sprinklers end straight up, the line straight.",
    ),
    (For::Carried, "Carry level", "Never stand a pipe on end. Carry it level and empty."),
    (For::All, "Connect", "No strain or kink in the hose or swing joint. Open the outlet slowly."),
    (
        For::All,
        "Walk the line",
        "Every sprinkler turns, none is plugged or leaking, all drains are shut.",
    ),
    (For::Wheels, "Anchor", "Brace or stake the line against wind, even while it waters."),
    (
        For::All,
        "Note",
        "Tick off the set. Write down wind, late starts and anything that went wrong.",
    ),
];

const EVERY_WEEK: &[(For, &str, &str)] = &[
    (
        For::Wheels,
        "Oil",
        "Check level, leaks, milky color and grit. Hot days and cold nights draw water into the oil.",
    ),
    (
        For::Wheels,
        "Oil filter",
        "Look at its gauge or case. Change it when it is dirty, not when it is due.",
    ),
    (For::Wheels, "Chain", "Check tension and oil."),
    (For::All, "Screens", "Flush the screens at the pump and the outlets."),
    (
        For::All,
        "Pressure",
        "Measure it at the first and last sprinkler with a pitot gauge. Write it on the sheet.",
    ),
    (For::Wheels, "Alignment", "Sight along the line. Straighten it before the bend grows."),
    (For::All, "Hoses", "Check where they rub and where they bend most."),
];

const END: &[(For, &str, &str)] = &[
    (
        For::All,
        "Flush and drain",
        "Flush the pipe out the far end, drain it completely, and leave drains and ends open.",
    ),
    (
        For::Wheels,
        "Oil and filter",
        "Change both while warm, so that no water sits in the drive over winter.",
    ),
    (For::Wheels, "Engine", "Fuel, battery and air filter, as the manual says for storage."),
    (For::All, "Repair list", "Write down what is worn while you still remember, and order parts."),
    (
        For::All,
        "Park",
        "At least 100 ft (30 m) from power lines, out of the way of floods and livestock.",
    ),
];

const WINTER: &[(For, &str, &str)] = &[
    (
        For::Wheels,
        "Anchors",
        "Stake the line at both ends and on each side of the drive. Check again after every storm.",
    ),
    (For::All, "Hoses", "Store indoors, empty, out of the sun, not folded."),
    (
        For::All,
        "Openings",
        "Close outlets and pipe ends against mice and wasps, but let the drains drain.",
    ),
];

const LIST: [Group; 5] = [
    ("Before the season", BEFORE),
    ("At every move", EVERY_MOVE),
    ("Every week", EVERY_WEEK),
    ("End of season", END),
    ("In winter", WINTER),
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
pub(crate) fn list(machine: &Machine) -> Vec<MaintenanceGroup> {
    let own = match machine {
        Machine::WheelLine(_) => For::Wheels,
        Machine::HandMove => For::Carried,
    };
    let group = |(when, items): Group| MaintenanceGroup {
        when,
        items: items
            .iter()
            .filter(|(whom, ..)| *whom == For::All || *whom == own)
            .map(|(_, what, words)| (*what, *words))
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
        let carried = list(&Machine::HandMove);
        let names: Vec<&str> =
            carried.iter().flat_map(|group| &group.items).map(|(what, _)| *what).collect();
        assert!(!names.iter().any(|name| name.contains("Chain") || name.contains("Oil")));
        assert!(names.contains(&"Carry level"));
        let wheel = Wheel::new(6.0, 15.0);
        let rolled = list(&Machine::WheelLine(wheel));
        let words = |group: &MaintenanceGroup| {
            group.items.iter().map(|(what, _)| *what).collect::<Vec<_>>()
        };
        assert!(rolled.iter().all(|group| !group.items.is_empty()));
        assert!(words(&rolled[0]).contains(&"Levelers") && words(&rolled[1]).contains(&"Anchor"));
    }
}
