//! The options of a search.

use super::equipment::EquipmentRule;
use super::space::SearchSpace;
use crate::worth::Economics;

/// What candidates are ranked by, higher being better.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// DUlq of the season's depth in the interior.
    DuLqInterior,
    /// DUlq of the season's depth over the whole field.
    DuLqWhole,
    /// Yield of the field's worst tenth.
    WorstTenth,
    /// Net return against the fixed pattern.
    NetReturn,
}

impl Aim {
    /// Whether water on the ground is enough to tell it.
    pub fn is_water(self) -> bool {
        matches!(self, Self::DuLqInterior | Self::DuLqWhole)
    }
}

/// The smallest difference worth the effort, for each aim: candidates that are closer are ties.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorthwhileDifference {
    /// Of DUlq, fraction.
    pub du_lq: f64,
    /// Of the yield of the worst tenth, fraction of full yield.
    pub worst_tenth: f64,
    /// Of the net return, currency per hectare per year; `None` for that of the economics.
    pub net_per_ha: Option<f64>,
}

impl WorthwhileDifference {
    pub(super) fn of(&self, aim: Aim, economics: Option<&Economics>) -> f64 {
        match aim {
            Aim::DuLqInterior | Aim::DuLqWhole => self.du_lq,
            Aim::WorstTenth => self.worst_tenth,
            Aim::NetReturn => {
                let own = economics.map_or(0.0, |economics| economics.worthwhile_gain.per_ha());
                self.net_per_ha.unwrap_or(own)
            }
        }
    }
}

/// The options of a search.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchOptions {
    /// The candidates.
    pub space: SearchSpace,
    /// The equipment that shifted rotations need.
    pub equipment: EquipmentRule,
    /// What candidates are ranked by.
    pub aim: Aim,
    /// Differences too small to matter.
    pub worthwhile: WorthwhileDifference,
    /// Seasons for those that stay in the race.
    pub seasons: usize,
    /// Seasons before the first look; as many as `seasons` for no race at all.
    pub first_seasons: usize,
    /// Level of intervals and of the ranking as a whole, fraction.
    pub confidence_level: f64,
    /// For aims of water: of so many of the best, yield and money are told too.
    pub weigh_best: usize,
}
