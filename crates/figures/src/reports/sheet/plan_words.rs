//! The plan in sentences: machine, clock, pressure, how a pass is called, what whole turns leave.

use super::input::Sheet;
use super::words;
use crate::texts::{Text, moves as texts, page};
use evenfall_core::clock::WallTime;
use evenfall_core::lateral::part_turns::attitude;
use evenfall_core::lateral::stops::wheel_reach;
use evenfall_core::lateral::{Machine, SetOrder, Sharing};
use evenfall_core::season::DepthRange;
use evenfall_view::units::{Quantity, number};
use jiff::ToSpan as _;

impl Sheet<'_> {
    fn text(&self, text: Text) -> &'static str {
        text.of(self.language)
    }

    /// A range of depths with its unit, and whether it is net.
    pub(super) fn depth_with_unit(&self, depth: DepthRange) -> String {
        let text = if self.is_gross() { page::DEPTH_IS_GROSS } else { page::DEPTH_IS_NET };
        let shown = self.depth(depth, page::RANGE);
        text.with(
            self.language,
            &[("depth", &shown), ("unit", &self.units.symbol(Quantity::Depth))],
        )
    }

    /// Which clock all times are of.
    pub(super) fn clock_words(&self) -> String {
        let calendar = &self.scenario.calendar;
        let a_year_on = calendar.start.saturating_add(1.year());
        let is_changed = !calendar.clock.changes(calendar.start, a_year_on).is_empty();
        let zoned = if is_changed { page::ZONE_TIME } else { page::ZONE_ALL_YEAR };
        self.clock_as(zoned, page::STANDARD_TIME)
    }

    /// The same in few words.
    pub(super) fn short_clock_words(&self) -> String {
        self.clock_as(page::SHORT_ZONE, page::SHORT_STANDARD)
    }

    fn clock_as(&self, zoned: Text, standard: Text) -> String {
        match self.scenario.calendar.clock.zone_name() {
            Some(zone) => zoned.with(self.language, &[("zone", &zone.replace('_', " "))]),
            None => self.text(standard).to_owned(),
        }
    }

    /// The changes of the clocks while the season lasts, or from `from_h` to `to_h` of it.
    pub(super) fn clock_changes(&self, (from_h, to_h): (f64, f64)) -> Vec<String> {
        let plan = &self.worked.course.plan;
        let clock = &self.scenario.calendar.clock;
        let (from, to) = (plan.date_time(from_h), plan.date_time(to_h));
        let told = |change: &WallTime| {
            let ahead_h = clock.ahead_h(clock.standard(change.at, change.offset));
            let text = if ahead_h > 0.0 { page::CHANGE_FORWARD } else { page::CHANGE_BACK };
            text.with(self.language, &[("day", &self.times().day(change.at.date()))])
        };
        clock.changes(from, to).iter().map(told).collect()
    }

    /// What a pitot gauge should read, and why that.
    pub(super) fn pressure_words(&self) -> String {
        let found = &self.worked.pressure;
        let shown = |kpa: f64| number(self.units.shown(Quantity::Pressure, kpa), 0);
        let range = |kpa: f64| {
            let (low, high) = (kpa * (1.0 - found.within), kpa * (1.0 + found.within));
            page::RANGE.with(self.language, &[("low", &shown(low)), ("high", &shown(high))])
        };
        let [first, middle, last] = found.at_kpa.map(range);
        let unit = self.units.symbol(Quantity::Pressure);
        let expected = if first == middle && middle == last {
            page::PRESSURE_ALIKE.with(self.language, &[("range", &first), ("unit", &unit)])
        } else {
            page::PRESSURE.with(
                self.language,
                &[("first", &first), ("middle", &middle), ("last", &last), ("unit", &unit)],
            )
        };
        let why = if found.is_solved { page::PRESSURE_SOLVED } else { page::PRESSURE_STATED };
        let share = number(100.0 * found.within, 0);
        format!("{expected} {}", why.with(self.language, &[("share", &share)]))
    }

    /// How a pass is started where the crop calls for it; `None` where the calendar does.
    pub(super) fn call_rule(&self) -> Option<String> {
        let called = self.scenario.called.as_ref()?;
        let share = number(100.0 * called.share_of_raw, 0);
        Some(page::CALLED_RULE.with(self.language, &[("share", &share)]))
    }

    /// The machine in one line.
    pub(super) fn machine_words(&self) -> String {
        let (lateral, outlets) = (&self.alternative.lateral, &self.alternative.outlets);
        let (words, lines) = (self.words(), &lateral.lines);
        let kind = match &lateral.machine {
            Machine::WheelLine(wheel) => {
                let far = words.length(wheel.travel_per_turn_m);
                texts::WHEEL_LINE.with(self.language, &[("far", &far)])
            }
            Machine::HandMove => self.text(texts::HAND_MOVE).to_owned(),
        };
        let several = match lines.sharing {
            _ if lines.count == 1 => String::new(),
            Sharing::AtOnce => texts::LINES_AT_ONCE.with(self.language, &[("n", &lines.count)]),
            Sharing::ByTurns => texts::LINES_BY_TURNS.with(self.language, &[("n", &lines.count)]),
        };
        let sides = if lines.sides().len() == 1 { "" } else { self.text(texts::BOTH_SIDES) };
        texts::MACHINE.with(
            self.language,
            &[
                ("kind", &kind),
                ("several", &several),
                ("sides", &sides),
                ("n", &outlets.count),
                ("apart", &words.length(outlets.spacing_m)),
                ("reach", &words.length(outlets.reach_m)),
                ("order", &self.order_words()),
            ],
        )
    }

    /// The order of sets.
    fn order_words(&self) -> String {
        let order = &self.scenario.calendar_of(self.alternative).order;
        let lines = &self.alternative.lateral.lines;
        let plain = self.text(match order {
            SetOrder::DryReturn => texts::DRY_RETURN,
            SetOrder::BothWays => texts::BOTH_WAYS,
            SetOrder::EverySecond => texts::EVERY_SECOND,
            SetOrder::EverySecondNextStop => texts::EVERY_SECOND_NEXT,
            SetOrder::Listed(_) => texts::LISTED,
        });
        let there_and_back = matches!(order, SetOrder::DryReturn | SetOrder::BothWays);
        let with = |text: Text| text.with(self.language, &[("order", &plain)]);
        match (lines.sides().len(), lines.count) {
            (2, 1) if there_and_back => self.text(texts::DOWN_RIGHT_UP_LEFT).to_owned(),
            (2, 1) => with(texts::SIDE_BY_ITSELF),
            (_, 1) => plain.to_owned(),
            _ => with(texts::EACH_LINE),
        }
    }

    /// What to do where whole turns do not add up to the outlet spacing; `None` where they do.
    pub(super) fn drift_words(&self) -> Option<String> {
        let Machine::WheelLine(wheel) = &self.alternative.lateral.machine else { return None };
        let outlets = &self.alternative.outlets;
        let sets = || self.worked.course.plan.passes.iter().flat_map(|pass| &pass.sets);
        if sets().any(|set| attitude(wheel, outlets, set.place_across_m).is_some()) {
            return Some(self.text(texts::PART_TURNS).to_owned());
        }
        let reach = wheel_reach(wheel, outlets);
        let drift_m = reach.drift_per_move_m;
        if sets().map(|set| set.drift_m.abs()).fold(0.0, f64::max) < words::NOTHING_M {
            return None;
        }
        let text = if drift_m < 0.0 { texts::DRIFT_SHORT } else { texts::DRIFT_PAST };
        let far = self.words().length(drift_m);
        Some(text.with(self.language, &[("n", &reach.turns_per_move), ("far", &far)]))
    }
}
