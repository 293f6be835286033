//! What people do where whole turns of the wheels do not end at the outlets, tried against each other.
//!
//! Each way out is run as an alternative of its own, over one season or several, in the same weather:
//! a turn more or less only where the hose would not reach; one as soon as it brings the line nearer;
//! outlets as far apart as whole turns roll (the next spacing below and above); stops at part of a
//! turn, the levelers swinging all the way. Judged by the water (CU and `DUlq`) and the work (sets, turns
//! rolled, how far the hose must reach).
//!
//! Common practice, no source. Neglected: what moved outlets and levelers cost (name them as purchases
//! of an alternative and ask for its worth), and pipe that twists.

use crate::lateral::part_turns::attitude;
use crate::lateral::stops::wheel_reach;
use crate::lateral::{Machine, Outlets, PartTurns, TurnRule, Wheel};
use crate::model::{Alternative, Scenario};
use crate::schedule::moves::moves;
use crate::season::{AlternativeOutcome, Outcome, RunControl, SeasonError};
use crate::trial::{self, Tried};

/// A way out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum WayOut {
    /// A turn more or less by this rule.
    Turns(TurnRule),
    /// Outlets so far apart, m.
    OutletsApart(f64),
    /// Stops at part of a turn, on levelers that swing all the way.
    PartTurns,
}

/// Levelers that swing all the way, degrees.
const ALL_THE_WAY_DEG: f64 = 180.0;

/// What one way out did in one season; fractions, depths over the whole field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitFigures {
    /// CU of the interior.
    pub cu: f64,
    /// `DUlq` of the interior.
    pub du_lq: f64,
    /// `DUlq` of the whole field.
    pub whole_du_lq: f64,
    /// Left the nozzles, mm over the field.
    pub gross_mm: f64,
    /// Sets laid.
    pub sets: usize,
    /// Outlets.
    pub outlets: usize,
    /// Turns rolled in the season, ahead and back.
    pub turns: f64,
    /// Farthest that the line stood from its outlet, m: what the hose must reach.
    pub hose_m: f64,
    /// Sets at part of a turn.
    pub part_turn_sets: usize,
}

/// Ways out tried against each other; the first is the alternative's own rule of turns.
pub type FitTrial = Tried<WayOut, FitFigures>;

/// The ways out for an alternative; none for a hand-move and where whole turns end at the outlets.
/// `on_pipe` says what stands on the pipe at part of a turn.
pub fn ways_out(alternative: &Alternative) -> Vec<WayOut> {
    let Machine::WheelLine(wheel) = &alternative.lateral.machine else { return Vec::new() };
    let reach = wheel_reach(wheel, &alternative.outlets);
    if reach.added_turn_every.is_none() {
        return Vec::new();
    }
    let other = match wheel.turn_rule {
        TurnRule::AtReach => TurnRule::Nearest,
        TurnRule::Nearest => TurnRule::AtReach,
    };
    let apart = reach.fitting_spacings_m.into_iter().filter(|spacing_m| *spacing_m > 0.0);
    [WayOut::Turns(wheel.turn_rule), WayOut::Turns(other)]
        .into_iter()
        .chain(apart.map(WayOut::OutletsApart))
        .chain([WayOut::PartTurns])
        .collect()
}

/// The alternative on that way out.
fn taken(asked: &Alternative, wheel: &Wheel, way: WayOut, on_pipe: PartTurns) -> Alternative {
    let mut taken = asked.clone();
    let rolling = |turn_rule| Wheel { turn_rule, part_turns: None, ..*wheel };
    match way {
        WayOut::Turns(rule) => taken.lateral.machine = Machine::WheelLine(rolling(rule)),
        WayOut::OutletsApart(spacing_m) => {
            let Outlets { first_m, field_width_m, .. } = asked.outlets;
            // Half a spacing from the edge stays half a spacing.
            let is_half = (first_m - 0.5 * asked.outlets.spacing_m).abs() < 1e-6;
            let first_m = if is_half { 0.5 * spacing_m } else { first_m };
            let room_m = (field_width_m - first_m + 1e-6).max(0.0);
            let count = (room_m / spacing_m).floor() as usize + 1;
            taken.outlets = Outlets { spacing_m, first_m, count, ..asked.outlets };
            taken.lateral.machine = Machine::WheelLine(rolling(wheel.turn_rule));
        }
        WayOut::PartTurns => {
            let leveler_range_deg = ALL_THE_WAY_DEG;
            let part_turns = Some(wheel.part_turns.unwrap_or(on_pipe));
            let wheel = Wheel { leveler_range_deg, part_turns, ..*wheel };
            taken.lateral.machine = Machine::WheelLine(wheel);
        }
    }
    taken
}

/// Tries `ways` for alternative `index` of `scenario`, each with its name, over so many `seasons`;
/// `on_pipe` is what stands on the pipe at part of a turn.
///
/// # Errors
/// If a season cannot be simulated. A way out without a schedule is no error but refused.
pub fn run(
    scenario: &Scenario,
    index: usize,
    ways: &[(WayOut, String)],
    (seasons, on_pipe): (usize, PartTurns),
    control: &RunControl<'_>,
) -> Result<FitTrial, SeasonError> {
    let asked = scenario.alternatives.get(index).ok_or(SeasonError::NoAlternatives)?;
    let Machine::WheelLine(wheel) = asked.lateral.machine else {
        return Err(SeasonError::NoAlternatives);
    };
    let variants = ways.iter().map(|(way, name)| {
        (*way, Alternative { name: name.clone(), ..taken(asked, &wheel, *way, on_pipe) })
    });
    trial::run(scenario, variants.collect(), seasons, control, figures)
}

fn figures(scenario: &Scenario, outcome: &Outcome) -> Vec<FitFigures> {
    let pairs = scenario.alternatives.iter().zip(&outcome.alternatives);
    pairs.map(|(asked, found)| of_one(scenario, asked, found)).collect()
}

fn of_one(scenario: &Scenario, asked: &Alternative, found: &AlternativeOutcome) -> FitFigures {
    let per_field = 1000.0 / scenario.field.area().m2();
    let regions = found.season_figures();
    let inside = regions.interior.or(regions.whole);
    let sets = || found.plan.passes.iter().flat_map(|pass| &pass.sets);
    let passes = moves(&found.plan, &asked.stops());
    let ways = passes.iter().flat_map(|pass| &pass.moves).filter_map(|one| one.from_last);
    // The way back of any other pass is the way to the first set of the next.
    let last_back = passes.last().into_iter().flat_map(|pass| &pass.ways_back);
    let rolled_m: f64 =
        ways.chain(last_back.map(|back| back.travel)).map(|way| way.across_m.abs()).sum();
    let (turn_m, stands_at) = match &asked.lateral.machine {
        Machine::WheelLine(wheel) => (wheel.travel_per_turn_m, Some(*wheel)),
        Machine::HandMove => (f64::INFINITY, None),
    };
    let at_part = |place_m: f64| {
        stands_at.is_some_and(|wheel| attitude(&wheel, &asked.outlets, place_m).is_some())
    };
    let off = sets().map(|set| (set.place_across_m - asked.outlets.place_m(set.outlet)).abs());
    FitFigures {
        cu: inside.map_or(f64::NAN, |f| f.cu),
        du_lq: inside.map_or(f64::NAN, |f| f.du_lq),
        whole_du_lq: regions.whole.map_or(f64::NAN, |f| f.du_lq),
        gross_mm: found.water.gross_m3 * per_field,
        sets: sets().count(),
        outlets: asked.outlets.count,
        turns: rolled_m / turn_m,
        hose_m: off.fold(0.0, f64::max),
        part_turn_sets: sets().filter(|set| at_part(set.place_across_m)).count(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::season::tests::{FT, alternative, scenario, sprinkler, windy};
    use crate::sprinkler::shape::Shape;

    const ON_PIPE: PartTurns = PartTurns { pipe_diameter_m: 0.1016, riser_m: 0.2032 };

    /// Wheels of 15.7 ft a turn, six outlets 50 ft apart on 300 ft.
    fn drifting() -> Scenario {
        let mut fixed = alternative("fixed", &[0.0], sprinkler(Shape::Triangular, 90.0));
        fixed.lateral.machine = Machine::WheelLine(Wheel::new(15.7 * FT, 15.0));
        fixed.outlets = Outlets {
            spacing_m: 50.0 * FT,
            first_m: 25.0 * FT,
            field_width_m: 300.0 * FT,
            ..fixed.outlets
        };
        let mut scenario = scenario(4.0, 2, vec![fixed]);
        scenario.field.grid = crate::grid::Grid::over(240.0 * FT, 300.0 * FT, 4.0 * FT);
        scenario.weather = windy(3.0);
        scenario
    }

    fn tried(scenario: &Scenario) -> FitTrial {
        let ways: Vec<(WayOut, String)> = ways_out(&scenario.alternatives[0])
            .into_iter()
            .map(|way| (way, format!("{way:?}")))
            .collect();
        run(scenario, 0, &ways, (1, ON_PIPE), &RunControl::default()).unwrap()
    }

    #[test]
    fn closed_work_of_each_way_out() {
        let trial = tried(&drifting());
        assert_eq!((trial.options.len(), trial.refused.len()), (5, 0));
        let found = &trial.figures[0];
        // Three turns a move, 2.9 ft short each: 14.5 ft at the sixth outlet.
        let hose_ft: Vec<f64> =
            found.iter().map(|f| (f.hose_m / FT * 10.0).round() / 10.0).collect();
        assert_eq!(hose_ft, [14.5, 7.0, 0.0, 0.0, 0.0]);
        // Outlets 47.1 ft apart from 23.55 ft on: 276.45 / 47.1 = 5.87, so six; 62.8 ft: five.
        let outlets: Vec<usize> = found.iter().map(|f| f.outlets).collect();
        assert_eq!(outlets, [6, 6, 6, 5, 6]);
        assert_eq!(found.iter().map(|f| f.sets).collect::<Vec<_>>(), [12, 12, 12, 10, 12]);
        // Two passes out and two ways back of 15 turns; rolled to the outlets it is 250 ft four times.
        assert_eq!(found[0].turns.round(), 60.0);
        assert!((found[4].turns - 1000.0 / 15.7).abs() < 1e-9, "{}", found[4].turns);
        // Of six outlets all but the first are at part of a turn.
        assert_eq!(found.iter().map(|f| f.part_turn_sets).collect::<Vec<_>>(), [0, 0, 0, 0, 10]);
    }

    #[test]
    fn invariant_the_first_way_out_is_the_alternative_as_it_is() {
        let scenario = drifting();
        let own = crate::season::run(&scenario, RunControl::default()).unwrap();
        let interior = own.alternatives[0].season_figures().interior.unwrap();
        // The margin of the interior is that of the widest spacing tried, 62.8 ft.
        let mut alone = scenario.clone();
        alone.alternatives.push(alone.alternatives[0].clone());
        alone.alternatives[1].outlets.spacing_m = 62.8 * FT;
        alone.alternatives[1].outlets.count = 5;
        let with_margin = crate::season::run(&alone, RunControl::default()).unwrap();
        let wanted = with_margin.alternatives[0].season_figures().interior.unwrap();
        let trial = tried(&scenario);
        assert_eq!(trial.figures[0][0].cu, wanted.cu);
        assert!((wanted.cu - interior.cu).abs() < 0.1);
    }

    #[test]
    fn closed_where_whole_turns_fit_there_is_nothing_to_mend() {
        let mut scenario = drifting();
        scenario.alternatives[0].lateral.machine = Machine::WheelLine(Wheel::new(25.0 * FT, 15.0));
        assert_eq!(ways_out(&scenario.alternatives[0]), []);
        scenario.alternatives[0].lateral.machine = Machine::HandMove;
        assert_eq!(ways_out(&scenario.alternatives[0]), []);
    }
}
