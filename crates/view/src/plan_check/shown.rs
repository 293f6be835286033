//! Numbers of a plan in the shown units; a number and its limit never read the same unless they are.

use crate::units::{Quantity, UnitSystem, number, percent};
use crate::value::Amount;
use evenfall_core::plan_check::{Side, Yardstick};
use evenfall_core::units::{L_S_PER_GPM, M2_PER_ACRE};

/// What a number of a plan measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Depth, inside mm.
    Depth,
    /// Depth by time, inside mm/h.
    Rate,
    /// Depth by day, inside mm a day.
    Daily,
    /// Days.
    Days,
    /// Flow by area, inside L/s per hectare.
    Flow,
    /// A fraction, shown as percent.
    Share,
}

/// More decimals than the least that are tried to tell two numbers apart.
const MORE_DECIMALS: usize = 4;

/// Shows numbers in one system of units.
#[derive(Clone, Copy, Debug)]
pub(super) struct Show(pub(super) UnitSystem);

impl Show {
    /// A number by itself.
    pub(super) fn amount(self, kind: Kind, inside: f64) -> Amount {
        self.with(kind, inside, self.least(kind))
    }

    /// Its text.
    pub(super) fn text(self, kind: Kind, inside: f64) -> String {
        self.amount(kind, inside).text
    }

    /// A number and its limit, with decimals enough to tell them apart.
    pub(super) fn both(self, kind: Kind, found: &Yardstick) -> (Amount, Amount) {
        let least = self.least(kind);
        let told =
            |more| [found.value, found.limit].map(|inside| self.with(kind, inside, least + more));
        let is_apart = |both: &[Amount; 2]| both[0].text != both[1].text;
        let [value, limit] =
            (0..=MORE_DECIMALS).map(told).find(is_apart).unwrap_or_else(|| told(0));
        (value, limit)
    }

    /// A set time, "23.5-hour".
    pub(super) fn set(hours: f64) -> String {
        format!("{}-hour", hours_text(hours))
    }

    /// A length.
    pub(super) fn length(self, meters: f64) -> String {
        Amount::length(self.0, meters).text
    }

    /// A wind speed.
    pub(super) fn wind(self, m_s: f64) -> String {
        self.0.text(Quantity::Speed, m_s, 1)
    }

    /// A flow.
    pub(super) fn flow(self, l_s: f64, decimals: usize) -> String {
        self.0.text(Quantity::Discharge, l_s, decimals)
    }

    /// A volume of water.
    pub(super) fn volume(self, m3: f64) -> String {
        self.0.text(Quantity::Volume, m3, usize::from(self.0 == UnitSystem::Us))
    }

    /// A pressure.
    pub(super) fn pressure(self, kpa: f64) -> String {
        self.0.text(Quantity::Pressure, kpa, 0)
    }

    fn least(self, kind: Kind) -> usize {
        match kind {
            Kind::Depth | Kind::Rate | Kind::Daily => self.0.depth_decimals(),
            Kind::Days => 1,
            Kind::Flow => {
                if self.0 == UnitSystem::Us {
                    1
                } else {
                    2
                }
            }
            Kind::Share => 0,
        }
    }

    fn with(self, kind: Kind, inside: f64, decimals: usize) -> Amount {
        let plain = |shown: f64, unit: String| {
            let text = format!("{}\u{a0}{unit}", number(shown, decimals));
            Amount::new(shown, unit, text)
        };
        let depth = self.0.symbol(Quantity::Depth);
        let mm = |unit: &str| plain(self.0.shown(Quantity::Depth, inside), unit.to_owned());
        match kind {
            Kind::Depth => mm(depth),
            Kind::Rate => mm(&format!("{depth}/h")),
            Kind::Daily => mm(&format!("{depth}/day")),
            Kind::Days => {
                // Whole days need no decimals.
                let text = number(inside, decimals);
                let text = text.strip_suffix(".0").unwrap_or(&text);
                let word = if text == "1" { "day" } else { "days" };
                Amount::new(inside, "days", format!("{text}\u{a0}{word}"))
            }
            Kind::Flow => match self.0 {
                UnitSystem::Us => {
                    let gpm_per_acre = inside / L_S_PER_GPM * M2_PER_ACRE / 10_000.0;
                    plain(gpm_per_acre, "gpm/acre".to_owned())
                }
                UnitSystem::Si => plain(inside, "L/s/ha".to_owned()),
            },
            Kind::Share => Amount::new(100.0 * inside, "%", percent(inside, decimals)),
        }
    }
}

/// Hours with a decimal where they need one.
pub(super) fn hours_text(hours: f64) -> String {
    number(hours, usize::from((hours - hours.round()).abs() > 0.05))
}

/// Rounded down to a tenth: what is told as the longest must not pass the limit.
pub(super) fn at_most_tenth(value: f64) -> f64 {
    (10.0 * value + 1e-6).floor() / 10.0
}

/// "at most" or "at least".
pub(super) fn side(found: &Yardstick) -> &'static str {
    match found.side {
        Side::AtMost => "at most",
        Side::AtLeast => "at least",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_a_number_and_its_threshold_never_read_the_same() {
        let show = Show(UnitSystem::Us);
        let both = |value: f64, limit: f64| {
            let (value, limit) =
                show.both(Kind::Depth, &Yardstick::at_most(value * 25.4, limit * 25.4));
            format!("{} | {}", value.text.replace('\u{a0}', " "), limit.text.replace('\u{a0}', " "))
        };
        assert_eq!(both(1.97, 2.0), "1.97 in | 2.00 in");
        assert_eq!(both(1.998, 2.0), "1.998 in | 2.000 in");
        assert_eq!(both(2.0, 2.0), "2.00 in | 2.00 in");
        let days = show.both(Kind::Days, &Yardstick::at_most(9.02, 8.98));
        assert_eq!(
            (days.0.text.as_str(), days.1.text.as_str()),
            ("9.02\u{a0}days", "8.98\u{a0}days")
        );
    }

    #[test]
    fn closed_flow_by_area_in_both_systems() {
        // 1 L/s on a hectare: 15.85 gpm on 2.471 acres are 6.41 gpm an acre.
        assert_eq!(Show(UnitSystem::Us).text(Kind::Flow, 1.0), "6.4\u{a0}gpm/acre");
        assert_eq!(Show(UnitSystem::Si).text(Kind::Flow, 1.0), "1.00\u{a0}L/s/ha");
        assert_eq!((hours_text(23.5), hours_text(8.0)), ("23.5".to_owned(), "8".to_owned()));
        assert!(
            (at_most_tenth(6.19) - 6.1).abs() < 1e-12 && (at_most_tenth(6.0) - 6.0).abs() < 1e-12
        );
    }
}
