//! A trial of tilts as pictures and tables read it.

use evenfall_core::sprinkler::attitude::Attitude;
use evenfall_core::sprinkler::footprint::Footprint;
use evenfall_core::tilt_trial::{Case, CaseOutcome, TiltTrial};

/// One way of standing with what it lays.
#[derive(Clone, Debug)]
pub struct Standing {
    /// In a few words.
    pub name: String,
    /// How it stands.
    pub attitude: Attitude,
    /// Trajectory of the main jet, degrees.
    pub trajectory_angle_deg: f64,
    /// Rate in still air, mm/h.
    pub rate: Footprint,
}

/// A trial of tilts and what is said beside it. The first case is the fixed pattern, the second
/// the alternative upright, then the same at rising rolls.
#[derive(Clone, Debug)]
pub struct TiltStudy<'a> {
    /// The trial.
    pub trial: &'a TiltTrial,
    /// Its cases.
    pub cases: &'a [Case],
    /// Name of the alternative.
    pub alternative: &'a str,
    /// Cases at rising rolls with the wheel's own levelers, upright first, by place.
    pub rolls: Vec<usize>,
    /// The same rotation hanging upright, by levelers that swing all the way.
    pub free: usize,
    /// Half an outlet spacing ahead: upright as no such wheel could, and as the wheel stands;
    /// `None` where whole turns lead there.
    pub half_spacing: Option<HalfSpacing>,
    /// Leveler range of the wheel, degrees.
    pub leveler_range_deg: f64,
    /// One sprinkler, by how it stands.
    pub standing: Vec<Standing>,
    /// Cell of those, m.
    pub standing_cell_m: f64,
}

/// The two cases half an outlet spacing ahead.
#[derive(Clone, Copy, Debug)]
pub struct HalfSpacing {
    /// Shift, m.
    pub shift_m: f64,
    /// Turns of the wheel to there.
    pub turns: f64,
    /// Case with upright sprinklers.
    pub upright: usize,
    /// Case as the sprinklers stand.
    pub stood: usize,
    /// The hose does not reach there anyway.
    pub beyond_reach: bool,
}

/// Evenness at one roll: CU and `DUlq` of the tilted passes alone and of the season, fractions.
#[derive(Clone, Copy, Debug)]
pub(crate) struct AtRoll {
    pub(crate) roll_deg: f64,
    pub(crate) passes: [f64; 2],
    pub(crate) season: [f64; 2],
}

impl TiltStudy<'_> {
    pub(crate) fn found(&self, case: usize) -> &CaseOutcome {
        &self.trial.outcomes[case]
    }

    pub(crate) fn season(&self, case: usize) -> [f64; 2] {
        self.found(case).season.map_or([f64::NAN; 2], |f| [f.cu, f.du_lq])
    }

    pub(crate) fn roll_deg(&self, case: usize) -> f64 {
        self.cases[case].attitude.map_or(0.0, |attitude| attitude.roll_deg)
    }

    /// Uniformity at rising rolls.
    pub(crate) fn course(&self) -> Vec<AtRoll> {
        let at = |case: &usize| AtRoll {
            roll_deg: self.roll_deg(*case),
            passes: [self.found(*case).pass_cu, self.found(*case).pass_du_lq],
            season: self.season(*case),
        };
        self.rolls.iter().map(at).collect()
    }
}
