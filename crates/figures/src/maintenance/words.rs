//! The maintenance list: what to look after, and when. Common practice, no source; the maker's manual goes
//! before all of it.

use evenfall_core::lateral::Machine;

/// Where the list stands.
pub(crate) const FIRST: &str = "Common practice, gathered here as a reminder. The maker’s manual \
    goes first: follow it wherever it says more, less or otherwise.";

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
        "The same size in every sprinkler; try each with the shank of a drill of that size and replace worn ones.",
    ),
    (
        For::All,
        "Drains and gaskets",
        "Open and clean every drain, try that it shuts under pressure; renew gaskets that leak or stick.",
    ),
    (
        For::Wheels,
        "Levelers",
        "Swing every leveler by hand: it must move freely and bring the sprinkler upright.",
    ),
    (
        For::Wheels,
        "Drive oil and filter",
        "Check the level cold. Milky oil holds water, grit means dirt: change oil and filter, with the grade that the manual names.",
    ),
    (For::Wheels, "Chain", "Tension, wear of chain and sprockets, oil."),
    (
        For::All,
        "Hoses and joints",
        "Look for cracks, kinks and worn couplers; try the longest reach of the rotation without pressure.",
    ),
    (
        For::Wheels,
        "Wheels and alignment",
        "Tighten hubs and pipe couplings; set the line straight before the first move.",
    ),
    (For::Wheels, "Anchors", "Count wind braces and stakes and see that they bite."),
    (
        For::Wheels,
        "Timed moves",
        "Time one move on a cool and one on a warm hour and note the temperatures: the sheet then tells when the gap is too short.",
    ),
    (For::Carried, "Latches and risers", "Straighten latches and risers, replace bent pipe."),
];

const EVERY_MOVE: &[(For, &str, &str)] = &[
    (
        For::All,
        "Shut off and drain",
        "Shut the outlet, let the pressure off, wait until the pipe has drained: water left in it bends and breaks it.",
    ),
    (For::All, "Look up and around", "Power lines, people, stock, ditches, stones; then move."),
    (
        For::Wheels,
        "Count the turns",
        "Whole turns by a mark on the wheel; sprinklers end on top of the pipe, the line straight.",
    ),
    (For::Carried, "Carry level", "Never raise a pipe on end; carry it level and empty."),
    (For::All, "Connect", "Hose or swing joint without strain or kink; open the outlet slowly."),
    (
        For::All,
        "Walk the line",
        "Every sprinkler turns, none is plugged or leaks, drains are shut.",
    ),
    (For::Wheels, "Anchor", "Brace or stake the line against wind, also while it waters."),
    (For::All, "Note", "Tick the set; write down wind, late starts and whatever went wrong."),
];

const EVERY_WEEK: &[(For, &str, &str)] = &[
    (
        For::Wheels,
        "Oil",
        "Level, leaks, milky color or grit: days that are hot and nights that are cold draw water into the oil.",
    ),
    (For::Wheels, "Oil filter", "Look at its gauge or case; change it when dirty, not when due."),
    (For::Wheels, "Chain", "Tension and oil."),
    (For::All, "Screens", "Flush screens at pump and outlet."),
    (
        For::All,
        "Pressure",
        "Measure at the first and the last sprinkler with a pitot gauge; write it on the sheet.",
    ),
    (For::Wheels, "Alignment", "Sight along the line; straighten it before the bend grows."),
    (For::All, "Hoses", "Look where they rub and where they bend most."),
];

const END: &[(For, &str, &str)] = &[
    (
        For::All,
        "Flush and drain",
        "Flush the pipe from the far end, drain it whole, leave drains and ends free.",
    ),
    (
        For::Wheels,
        "Oil and filter",
        "Change both while warm, so that no water stands in the drive over winter.",
    ),
    (For::Wheels, "Engine", "Fuel, battery and air filter as the manual says for storing."),
    (For::All, "List of repairs", "Write down what is worn while you still know it, and order it."),
    (For::All, "Park", "At least 100 ft (30 m) from power lines, off the way of floods and stock."),
];

const WINTER: &[(For, &str, &str)] = &[
    (
        For::Wheels,
        "Anchors",
        "Stake the line at both ends and on each side of the drive; look again after every storm.",
    ),
    (For::All, "Hoses", "Indoors, empty, out of the sun, not folded."),
    (
        For::All,
        "Openings",
        "Close outlets and pipe ends against mice and wasps; leave drains able to drain.",
    ),
];

const LIST: [Group; 5] = [
    ("Before the season", BEFORE),
    ("At every move", EVERY_MOVE),
    ("Every week", EVERY_WEEK),
    ("At the season’s end", END),
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
        let wheel = Wheel { travel_per_turn_m: 6.0, leveler_range_deg: 15.0 };
        let rolled = list(&Machine::WheelLine(wheel));
        let words = |group: &MaintenanceGroup| {
            group.items.iter().map(|(what, _)| *what).collect::<Vec<_>>()
        };
        assert!(rolled.iter().all(|group| !group.items.is_empty()));
        assert!(words(&rolled[0]).contains(&"Levelers") && words(&rolled[1]).contains(&"Anchor"));
    }
}
