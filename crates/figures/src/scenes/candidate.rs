//! A candidate in words, long and short.

use super::search::SearchScene;
use evenfall_core::lateral::{EdgeTreatment, Machine, Wheel};
use evenfall_core::rotation::{Rotation, Shift, letter};
use evenfall_core::search::{Candidate, ClockChange};
use evenfall_view::units::{Quantity, UnitSystem, number};

impl SearchScene<'_> {
    /// "A at the outlet, B one turn ahead (20.0 ft)", and the order where a stop comes twice.
    pub(crate) fn rotation(&self, candidate: &Candidate) -> String {
        let rotation = &candidate.alternative.rotation;
        let machine = &candidate.alternative.lateral.machine;
        let stops = rotation.distinct();
        let named = stops.iter().enumerate().map(|(index, shift)| {
            format!("{} {}", letter(index), stop_words(*shift, machine, self.units))
        });
        let named = named.collect::<Vec<_>>().join(", ");
        if rotation.cycle() == stops.len() {
            return named;
        }
        let order: Vec<String> =
            (0..rotation.cycle()).map(|pass| rotation.letter(pass).to_string()).collect();
        format!("{named}; in the order {}", order.join(" "))
    }

    /// "0, +20, −20 ft" and what else differs, for tables and charts.
    pub(crate) fn short(&self, candidate: &Candidate) -> String {
        let way = self.way(candidate);
        match self.layout(candidate) {
            Some(layout) => format!("{way}; {layout}"),
            None => way,
        }
    }

    /// The same without wheel and outlets.
    pub(crate) fn way(&self, candidate: &Candidate) -> String {
        let mut parts = vec![self.shifts(&candidate.alternative.rotation)];
        parts.extend(match candidate.alternative.edges {
            EdgeTreatment::Shift => None,
            EdgeTreatment::Hold => Some("edges held".to_owned()),
            EdgeTreatment::ExtraSet => Some("extra set".to_owned()),
        });
        parts.extend(match candidate.clock {
            ClockChange::AsGiven => None,
            ClockChange::IdleHalfDay => Some("½ day idle".to_owned()),
            ClockChange::OtherHalf => starts(candidate),
            ClockChange::IdleAndOtherHalf => {
                starts(candidate).map(|starts| format!("½ day idle, {starts}"))
            }
        });
        parts.join("; ")
    }

    /// The same without wheel and spacing, for tables that name these themselves.
    pub(crate) fn bare(&self, candidate: &Candidate) -> String {
        let mut bare = candidate.clone();
        if let Some(own) = self.scenario.alternatives.first() {
            bare.alternative.outlets = own.outlets;
            bare.alternative.lateral = own.lateral;
        }
        self.short(&bare)
    }

    /// How its outlets differ from the scenario's, if they do.
    pub(crate) fn layout(&self, candidate: &Candidate) -> Option<String> {
        let own = self.scenario.alternatives.first()?;
        let (outlets, usual) = (&candidate.alternative.outlets, &own.outlets);
        let length = |m: f64| self.units.text(Quantity::Length, m, 1);
        let mut parts = Vec::new();
        if let (Machine::WheelLine(wheel), Machine::WheelLine(usual)) =
            (&candidate.alternative.lateral.machine, &own.lateral.machine)
            && wheel.travel_per_turn_m != usual.travel_per_turn_m
        {
            parts.push(self.wheel(wheel));
        }
        if outlets.spacing_m != usual.spacing_m {
            parts.push(format!("outlet spacing {}", length(outlets.spacing_m)));
        } else if outlets.count != usual.count {
            parts.push(format!("{} outlets", outlets.count));
        }
        if candidate.inset_m != 0.0 {
            parts.push(format!("first outlet moved by {}", length(candidate.inset_m)));
        }
        (!parts.is_empty()).then(|| parts.join(", "))
    }

    /// "20.0 ft per turn", with the trade's name where the search compares it by that: "7-foot wheels,
    /// 20.0 ft per turn".
    pub(crate) fn wheel(&self, wheel: &Wheel) -> String {
        let travel = self.units.text(Quantity::Length, wheel.travel_per_turn_m, 1);
        match self.found.options.space.size_of(wheel) {
            Some(size) => format!("{} wheels, {travel} per turn", size.name()),
            None => format!("{travel} per turn"),
        }
    }

    fn shifts(&self, rotation: &Rotation) -> String {
        if *rotation == Rotation::fixed() {
            return "fixed at the outlets".to_owned();
        }
        let one = |shift: &Shift| {
            let across = signed(self.units.shown(Quantity::Length, shift.across_m));
            if shift.along_m == 0.0 {
                return across;
            }
            let along = signed(self.units.shown(Quantity::Length, shift.along_m));
            format!("{across} & {along} along")
        };
        let shifts: Vec<String> = rotation.shifts().iter().map(one).collect();
        format!("{} {}", shifts.join(", "), self.units.symbol(Quantity::Length))
    }
}

/// "starts 18:00".
fn starts(candidate: &Candidate) -> Option<String> {
    let calendar = candidate.alternative.calendar.as_ref()?;
    Some(format!("starts {}", calendar.start.strftime("%H:%M")))
}

/// "+20", "−7.5", "0".
fn signed(value: f64) -> String {
    let text = number(value, 1);
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if value > 0.0 { format!("+{text}") } else { text.to_owned() }
}

fn stop_words(shift: Shift, machine: &Machine, units: UnitSystem) -> String {
    let length = |m: f64| units.text(Quantity::Length, m, 1);
    let across = if shift.across_m == 0.0 {
        "at the outlet".to_owned()
    } else {
        let way = if shift.across_m > 0.0 { "ahead" } else { "back" };
        match machine {
            Machine::WheelLine(wheel) => {
                let turns = (shift.across_m / wheel.travel_per_turn_m).round().abs();
                let turns = match turns as u32 {
                    1 => "one turn".to_owned(),
                    2 => "two turns".to_owned(),
                    3 => "three turns".to_owned(),
                    more => format!("{more} turns"),
                };
                format!("{turns} {way} ({})", length(shift.across_m))
            }
            Machine::HandMove => format!("{} {way}", length(shift.across_m.abs())),
        }
    };
    if shift.along_m == 0.0 {
        across
    } else {
        format!("{across}, {} along the pipe", length(shift.along_m))
    }
}

/// A number to the millionth without trailing zeros, with a plain minus: for files.
pub(crate) fn plain(value: f64) -> String {
    let text = format!("{value:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
