//! How far a wheel rolls: as measured, else by the trade's name for it, else by its diameter.

use crate::file::{MaintenanceFile, PartTurnsName, WheelFile};
use crate::issue::Issue;
use crate::notes::{Notes, length};
use crate::quantity::{self, Dimension};
use evenfall_core::lateral::wheel::travel_per_turn_m;
use evenfall_core::lateral::{PartTurns, TurnRule, Wheel, WheelSize};

/// A measured travel that misses that of the size's name by more than this share is questioned:
/// more than ruts and slip take, less than the next size. Judgment.
const LIKELY_MISS: f64 = 0.1;

/// Less than the wheels of any wheel line roll in a turn, m; judgment.
const LEAST_TRAVEL_M: f64 = 3.3;
/// A travel is what a trade size is across within this share of it: whole inches.
const ACROSS: f64 = 0.01;

/// The wheels as given; the reader has seen to it that one of size, travel and diameter is there.
pub(crate) fn rolling(
    wheel: &WheelFile,
    maintenance: Option<&MaintenanceFile>,
    notes: &mut Notes<'_>,
) -> Wheel {
    let at = &wheel.at.pointer;
    let leveler_range_deg =
        WheelFile::leveler_range.or_start(Some(&wheel.leveler_range), at, notes);
    let size = wheel.size.map(WheelSize::from);
    let travel_per_turn_m = match (&wheel.travel_per_turn, size) {
        (Some(travel), size) => {
            if let Some(question) = travel_question(&travel.text, travel.value) {
                let ways = "write it as `outside_diameter`, or give the wheel’s `size`";
                notes.warn(format!("{question}; if so, {ways}"));
            }
            let problem = "a measured travel per turn already includes slip and sinkage";
            refuse_slip(wheel, problem, notes);
            if let Some(size) = size {
                note_measured(travel.value, size, at, notes);
            }
            travel.value
        }
        (None, Some(size)) => {
            refuse_slip(wheel, "slip and sinkage go only with a diameter", notes);
            let travel_m = size.travel_per_turn_m();
            let why = format!(
                "by the trade’s name, {} wheel; common practice, no source; measure it",
                size.name()
            );
            notes.assume(&format!("{at}/travel_per_turn"), length(travel_m), why);
            travel_m
        }
        (None, None) => by_diameter(wheel, notes),
    };
    // Told with what whole turns miss, where they miss anything.
    let turn_rule = wheel.added_turn.map_or(TurnRule::AtReach, TurnRule::from);
    let part_turns = part_turns(wheel, leveler_range_deg, maintenance, notes);
    Wheel { turn_rule, part_turns, ..Wheel::new(travel_per_turn_m, leveler_range_deg) }
}

/// What stands on the pipe of a line that also stops at part of a turn.
fn part_turns(
    wheel: &WheelFile,
    leveler_range_deg: f64,
    maintenance: Option<&MaintenanceFile>,
    notes: &mut Notes<'_>,
) -> Option<PartTurns> {
    if wheel.part_turns != Some(PartTurnsName::OnLevelers) {
        if let Some(riser) = &wheel.riser {
            let problem = "the height of the nozzle above the pipe matters only at part of a turn";
            let hint = "Add \"part_turns\": \"on levelers\", or remove `riser`.";
            notes.issues.push(Issue::new(&riser.at, problem).hint(hint));
        }
        return None;
    }
    if leveler_range_deg <= 0.0 {
        let place = wheel.leveler_range.as_ref().map_or(&wheel.at, |range| &range.at);
        let problem = "levelers that do not swing hold no sprinkler level at part of a turn";
        let hint = "Give the range over which they swing either way, or remove `part_turns`.";
        notes.issues.push(Issue::new(place, problem).hint(hint));
    }
    let given = maintenance.map(|given| &given.pipe_diameter);
    Some(PartTurns {
        pipe_diameter_m: MaintenanceFile::pipe_diameter.or_start(given, "/maintenance", notes),
        riser_m: WheelFile::riser.or_start(Some(&wheel.riser), &wheel.at.pointer, notes),
    })
}

fn refuse_slip(wheel: &WheelFile, problem: &str, notes: &mut Notes<'_>) {
    if let Some(allowance) = &wheel.slip_and_sinkage {
        let hint = "Remove `slip_and_sinkage`, or give `outside_diameter` instead.";
        notes.issues.push(Issue::new(&allowance.at, problem).hint(hint));
    }
}

/// A measured travel goes before what the size rolls by its name.
fn note_measured(travel_m: f64, size: WheelSize, at: &str, notes: &mut Notes<'_>) {
    let (name, usual_m) = (size.name(), size.travel_per_turn_m());
    let why = format!("measured; a {name} wheel rolls {} by its name", length(usual_m));
    notes.assume(&format!("{at}/size"), format!("{} a turn", length(travel_m)), why);
    if (travel_m - usual_m).abs() > LIKELY_MISS * usual_m {
        notes.warn(format!(
            "The wheel is called {name}, which rolls {} a turn, but its measured travel is {}: check \
             which of them is right. The measured travel is taken",
            length(usual_m),
            length(travel_m)
        ));
    }
}

/// What to ask where a travel in one turn is probably what the wheel is across, or its trade name.
pub(crate) fn travel_question(travel: &str, travel_m: f64) -> Option<String> {
    if travel_m >= LEAST_TRAVEL_M {
        return None;
    }
    let name = WheelSize::named_by_diameter(travel_m);
    let is_across = |size: &WheelSize| (size.outside_diameter_m() / travel_m - 1.0).abs() <= ACROSS;
    let size = WheelSize::ALL.into_iter().find(is_across).or(name);
    let rolls_m = size.map_or(travel_per_turn_m(travel_m, 0.0), WheelSize::travel_per_turn_m);
    let travel = travel.trim();
    let wheels = match name {
        Some(size) => format!("the {} wheel", size.name()),
        None => format!("wheels {travel} across"),
    };
    Some(format!(
        "Travel per turn is given as {travel}, less than any wheel line’s wheels roll. Do you mean \
         {wheels}? They roll {} a turn. Taken as written",
        length(rolls_m)
    ))
}

fn by_diameter(wheel: &WheelFile, notes: &mut Notes<'_>) -> f64 {
    let Some(diameter) = &wheel.outside_diameter else { return f64::NAN };
    let at = &wheel.at.pointer;
    let lost = WheelFile::slip_and_sinkage.or_start(Some(&wheel.slip_and_sinkage), at, notes);
    let travel_m = travel_per_turn_m(diameter.value, lost);
    let why = "π times the outside diameter, less slip and sinkage; not measured";
    notes.assume(&format!("{at}/travel_per_turn"), length(travel_m), why);
    if let Some(size) = named_instead(&diameter.text) {
        let ways = format!(
            "write \"size\": \"{}\" for that wheel, or the diameter in inches or millimeters if you \
             measured it; a measured `travel_per_turn` beats both",
            size.name()
        );
        notes.warn(question(&diameter.text, size, travel_m, &ways));
    }
    travel_m
}

/// The trade size that a diameter is probably the name of: whole feet, or meters. In inches,
/// centimeters or millimeters it was read off a tape.
pub(crate) fn named_instead(diameter: &str) -> Option<WheelSize> {
    let parsed = quantity::parse(diameter).ok().filter(|q| q.dimension == Dimension::Length)?;
    let is_name = ["ft", "yd", "m"].contains(&quantity::unit_of(diameter)?);
    WheelSize::named_by_diameter(parsed.value).filter(|_| is_name)
}

/// The question whether a wheel's diameter is the trade's name for another one: what is taken
/// meanwhile, and in which ways it can be settled.
pub(crate) fn question(diameter: &str, size: WheelSize, travel_m: f64, ways: &str) -> String {
    format!(
        "The wheel’s outside diameter is given as {}. {} Taken as measured, {} a turn. To settle it, \
         {ways}",
        diameter.trim(),
        size.question(),
        length(travel_m)
    )
}
