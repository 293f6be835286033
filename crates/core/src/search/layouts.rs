//! Layouts: outlets moved, added or left out, and other wheels at other spacings.
//!
//! Each combination of wheel and outlet spacing is resolved to its outlets (as many as the field
//! holds, the first half a spacing from the edge; the scenario's own where the spacing is the
//! scenario's) and to the stops its wheel can reach. Where whole turns miss the outlet spacing, the
//! line stands where they bring it, as in every season; how far it drifts is part of the combination
//! and told with it.

use super::rotations::stops_of;
use super::space::{Refused, SearchSpace};
use crate::lateral::stops::{WheelReach, wheel_reach};
use crate::lateral::{Lateral, Machine, Outlets, Wheel};
use crate::model::{Alternative, Scenario};
use crate::rotation::Shift;

/// A wheel (or a hand-moved lateral) at an outlet spacing.
#[derive(Clone, Debug, PartialEq)]
pub struct Combo {
    /// How the lateral moves.
    pub machine: Machine,
    /// Its outlets.
    pub outlets: Outlets,
    /// Where it can stand beside one.
    pub stops: Vec<Shift>,
    /// What its wheel can do; `None` for a hand-move.
    pub reach: Option<WheelReach>,
}

/// One layout of outlets.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    pub(super) combo: usize,
    pub(super) lateral: Lateral,
    pub(super) outlets: Outlets,
    pub(super) inset_m: f64,
}

/// All layouts of a space.
#[derive(Clone, Debug)]
pub(super) struct Layouts {
    pub(super) combos: Vec<Combo>,
    pub(super) all: Vec<Layout>,
    pub(super) refused: Vec<Refused>,
}

/// Slack on places at the field's edge, m.
const EDGE_SLACK_M: f64 = 1e-6;

impl Layouts {
    pub(super) fn of(scenario: &Scenario, fixed: &Alternative, space: &SearchSpace) -> Self {
        let width_m = scenario.field.grid.width_across_m();
        let mut layouts = Self { combos: Vec::new(), all: Vec::new(), refused: Vec::new() };
        for machine in machines(fixed.lateral.machine, space) {
            for outlets in outlets_at(&fixed.outlets, &space.spacings_m, width_m) {
                let lateral = Lateral { machine, ..fixed.lateral };
                let spacing_m = lateral.sprinkler_spacing_m;
                let reach = match &machine {
                    Machine::WheelLine(wheel) => Some(wheel_reach(wheel, &outlets)),
                    Machine::HandMove => None,
                };
                let stops = stops_of(&machine, &outlets, spacing_m, space.hand);
                layouts.combos.push(Combo { machine, outlets, stops, reach });
                layouts.lay_out(lateral, &outlets, space, width_m);
            }
        }
        layouts
    }

    /// The layouts of the last combination: its outlets as they are, moved, more or fewer.
    fn lay_out(&mut self, lateral: Lateral, outlets: &Outlets, space: &SearchSpace, width_m: f64) {
        let combo = self.combos.len() - 1;
        let own = std::iter::once(outlets.count);
        for count in own.chain(space.outlet_counts.iter().copied()) {
            for inset_m in std::iter::once(0.0).chain(space.insets_m.iter().copied()) {
                let first_m = outlets.first_m + inset_m;
                let fit = fitting(first_m, outlets.spacing_m, width_m);
                // Moved in, the last outlet may leave the field: then there is one fewer.
                let kept =
                    if inset_m > 0.0 && count == outlets.count { count.min(fit) } else { count };
                if first_m < -EDGE_SLACK_M || kept > fit || kept == 0 {
                    let why = format!(
                        "{count} outlets, the first {first_m:.2} m from the edge, do not lie in the \
                         field"
                    );
                    self.refused.push(Refused { count: 1, why });
                    continue;
                }
                let outlets = Outlets { first_m, count: kept, ..*outlets };
                self.all.push(Layout { combo, lateral, outlets, inset_m });
            }
        }
    }
}

/// The wheels to try; a hand-moved lateral has none.
fn machines(own: Machine, space: &SearchSpace) -> Vec<Machine> {
    let Machine::WheelLine(wheel) = own else { return vec![own] };
    let rolling = |travel_per_turn_m| Machine::WheelLine(Wheel { travel_per_turn_m, ..wheel });
    let compared: Vec<Machine> = space.wheel_travels_m().map(rolling).collect();
    if compared.is_empty() { vec![own] } else { compared }
}

fn outlets_at(own: &Outlets, spacings_m: &[f64], width_m: f64) -> Vec<Outlets> {
    let at = |spacing_m: &f64| {
        if (spacing_m - own.spacing_m).abs() < EDGE_SLACK_M {
            return *own;
        }
        let first_m = 0.5 * spacing_m;
        let count = fitting(first_m, *spacing_m, width_m).max(1);
        Outlets { spacing_m: *spacing_m, first_m, count, ..*own }
    };
    if spacings_m.is_empty() { vec![*own] } else { spacings_m.iter().map(at).collect() }
}

/// How many outlets fit on a field.
fn fitting(first_m: f64, spacing_m: f64, width_m: f64) -> usize {
    if first_m > width_m + EDGE_SLACK_M {
        return 0;
    }
    ((width_m - first_m + EDGE_SLACK_M) / spacing_m).floor() as usize + 1
}
