//! Kinds of candidates of which the best is kept to the end, however far behind it is.
//!
//! A grower who cannot water at other hours, or cannot take a set more, needs the best without it,
//! and a ranking led by broken clocks would not tell. So the race drops a candidate only if it is
//! beaten in every kind it belongs to (see `course`), and each kind's best is shown.
//!
//! *Clock changed* means another calendar than the scenario's. Whether the half of the day really
//! changes from pass to pass is the schedule's affair (a set more does that too) and told with each
//! candidate.

use super::candidates::Candidate;
use super::clocks::ClockChange;
use crate::lateral::EdgeTreatment;

/// A kind of candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The calendar as the scenario has it and no change at the edges.
    Plain,
    /// The calendar as the scenario has it.
    ClockAsGiven,
    /// Another calendar.
    ClockChanged,
    /// One treatment of the edges; fixed patterns have no opened edge and count as shifted.
    Edges(EdgeTreatment),
}

/// The best of a kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KindFound {
    /// The kind.
    pub kind: Kind,
    /// Its candidate with the best mean.
    pub best: usize,
    /// The simplest of those that are too close to it to matter.
    pub simplest: usize,
}

impl Kind {
    /// All kinds that hold some of `candidates` but not all, which tell something.
    pub(super) fn of_all(candidates: &[Candidate]) -> Vec<Self> {
        let edges = EdgeTreatment::ALL.map(Self::Edges);
        let kinds = [Self::Plain, Self::ClockAsGiven, Self::ClockChanged].into_iter().chain(edges);
        let tells = |kind: &Self| {
            let held = candidates.iter().filter(|candidate| kind.holds(candidate)).count();
            held > 0 && held < candidates.len()
        };
        kinds.filter(tells).collect()
    }

    /// Whether `candidate` is of this kind.
    pub fn holds(self, candidate: &Candidate) -> bool {
        let (clock, edges) = (candidate.clock, candidate.alternative.edges);
        match self {
            Self::Plain => clock == ClockChange::AsGiven && edges == EdgeTreatment::Shift,
            Self::ClockAsGiven => clock == ClockChange::AsGiven,
            Self::ClockChanged => clock != ClockChange::AsGiven,
            Self::Edges(treatment) => edges == treatment,
        }
    }

    /// In the words of reports.
    pub fn words(self) -> String {
        match self {
            Self::Plain => "same starting hours, nothing done at the edges".to_owned(),
            Self::ClockAsGiven => "same starting hours".to_owned(),
            Self::ClockChanged => "other starting hours".to_owned(),
            Self::Edges(treatment) => treatment.words().to_owned(),
        }
    }
}

/// How much a candidate asks for, less being simpler: parts to buy, another clock, sets, stops beside
/// the outlet, stops, passes in a cycle, anything done at the edges; compared in this order.
pub(super) fn effort(candidate: &Candidate) -> [usize; 7] {
    let (alternative, equipment) = (&candidate.alternative, &candidate.equipment);
    let stops = alternative.rotation.distinct();
    let clock = match candidate.clock {
        ClockChange::AsGiven => 0,
        ClockChange::IdleHalfDay | ClockChange::OtherHalf => 1,
        ClockChange::IdleAndOtherHalf => 2,
    };
    let clock = clock + usize::from(candidate.order.is_some());
    [
        (equipment.joints + equipment.outlets + equipment.purchases.iter().sum::<u32>()) as usize,
        clock,
        candidate.plan.passes.iter().map(|pass| pass.sets.len()).sum(),
        stops.iter().filter(|stop| stop.across_m != 0.0 || stop.along_m != 0.0).count(),
        stops.len(),
        alternative.rotation.cycle(),
        usize::from(alternative.edges != EdgeTreatment::Shift),
    ]
}
